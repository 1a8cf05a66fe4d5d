"""What a text may differ in from the one that is kept, and what it may not."""

from pathlib import Path

import pytest

from tests.kept_text import MOST_TIED, assert_kept

KEPT = "holds push, unit, 697/450: 185 N on the back left corner tips it, turning about T1 and T3.\n"


@pytest.mark.parametrize(
    ("old", "new"), [("back left", "front left"), ("T1 and T3", "T2 and T4"), ("185 N", "184 N"), ("697", "697.0")]
)
def test_the_other_of_two_ties_is_the_same_text(old: str, new: str, tmp_path: Path) -> None:
    (tmp_path / "kept.txt").write_text(KEPT, "utf-8")
    assert_kept(tmp_path / "kept.txt", KEPT.replace(old, new))


@pytest.mark.parametrize(
    ("old", "new"), [("holds", "stop"), ("185 N", "155 N"), ("tips", "turns"), ("unit", "units"), ("\n", "\nmore\n")]
)
def test_anything_else_is_another_text(old: str, new: str, tmp_path: Path) -> None:
    (tmp_path / "kept.txt").write_text(KEPT, "utf-8")
    with pytest.raises(AssertionError):
        assert_kept(tmp_path / "kept.txt", KEPT.replace(old, new))


def test_many_ties_in_one_text_are_another_text(tmp_path: Path) -> None:
    (tmp_path / "kept.txt").write_text(KEPT * (MOST_TIED + 1), "utf-8")
    with pytest.raises(AssertionError):
        assert_kept(tmp_path / "kept.txt", KEPT.replace("left", "right") * (MOST_TIED + 1))


def test_a_text_that_is_not_kept_yet_is_written_and_fails_once(tmp_path: Path) -> None:
    with pytest.raises(pytest.fail.Exception, match="written: read it"):
        assert_kept(tmp_path / "new" / "kept.txt", KEPT)
    assert_kept(tmp_path / "new" / "kept.txt", KEPT)
