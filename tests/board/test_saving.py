"""Saving: comments and order kept, whole or not at all, never over what somebody else wrote, only in the folder."""

from pathlib import Path

import pytest

import loadplan
from loadplan.board.draft import MOST_COMPARED, changed_lines
from tests.board.desk import Page, opened


def _moved(page: Page) -> None:
    page.show(2)
    page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)


def test_saving_shows_what_changes_before_it_writes(page: Page) -> None:
    before = page.path.read_bytes()
    _moved(page)
    asked = page.post("save").json()
    assert asked["ask"]
    assert asked["changes"] == [
        '- under  = "cradle front left"',
        '+ body = "cradle"',
        "+ at = [300, 300, 205]",
    ]
    assert page.path.read_bytes() == before


def test_saving_keeps_comments_and_order(page: Page) -> None:
    before = page.path.read_text("utf-8").splitlines()
    _moved(page)
    saved = page.post("save", sure=True).json()
    assert saved["saved"] == "front-unit.toml"
    assert not saved["screen"]["unsaved"]
    after = page.path.read_text("utf-8").splitlines()
    gone = [line for line in before if line not in after]
    assert gone == ['under  = "cradle front left"']
    assert [line for line in after if line.startswith("#")] == [line for line in before if line.startswith("#")]
    assert loadplan.read_job(page.path).supports[0].at[:2] == (0.3, 0.3)


def test_line_ends_and_mark_stay_as_they_are(page: Page, tmp_path: Path) -> None:
    path = tmp_path / "windows.toml"
    path.write_bytes(b"\xef\xbb\xbf" + page.path.read_bytes().replace(b"\n", b"\r\n"))
    other = opened(tmp_path, path)
    _moved(other)
    other.post("save", sure=True)
    content = path.read_bytes()
    assert content.startswith(b"\xef\xbb\xbf")
    assert content.count(b"\n") == content.count(b"\r\n")


def test_a_file_changed_on_the_disk_is_not_written_over(page: Page) -> None:
    _moved(page)
    theirs = page.path.read_text("utf-8").replace("lowered     = 8", "lowered     = 9")
    page.path.write_text(theirs, "utf-8")
    answer = page.post("save", sure=True)
    assert answer.status_code == 409
    told = answer.json()
    assert told["conflict"]
    assert "- lowered     = 8" in told["theirs"]
    assert "+ lowered     = 9" in told["theirs"]
    assert any("300, 300" in line for line in told["yours"])
    assert page.path.read_text("utf-8") == theirs


def test_a_file_that_is_gone_is_not_made_again_unasked(page: Page) -> None:
    _moved(page)
    page.path.unlink()
    answer = page.post("save", sure=True)
    assert answer.status_code == 409
    assert answer.json()["theirs_words"] == ["It is not there any more."]
    assert not page.path.exists()


def test_reading_anew_keeps_the_draft_for_undo(page: Page) -> None:
    _moved(page)
    page.path.write_text(page.path.read_text("utf-8").replace("lowered     = 8", "lowered     = 9"), "utf-8")
    page.seen = page.post("reread").json()
    assert page.stand("A")["point"] is not None
    assert not page.seen["unsaved"]
    page.seen = page.post("undo").json()
    assert page.stand("A")["point"] is None
    assert page.seen["unsaved"]


def test_reading_anew_a_broken_file_changes_nothing(page: Page) -> None:
    _moved(page)
    page.path.write_text("nonsense", "utf-8")
    answer = page.post("reread")
    assert answer.status_code == 422
    page.show(2)
    assert page.stand("A")["point"] is None


def test_another_name_writes_another_file_and_goes_on_with_it(page: Page) -> None:
    before = page.path.read_bytes()
    _moved(page)
    saved = page.post("save", name="other.toml", sure=True).json()
    assert saved["saved"] == "other.toml"
    assert page.path.read_bytes() == before
    assert loadplan.read_job(page.path.with_name("other.toml")).supports[0].at[:2] == (0.3, 0.3)


def test_another_name_is_never_written_over(page: Page) -> None:
    there = page.path.with_name("shop.toml").read_bytes()
    _moved(page)
    answer = page.post("save", name="shop.toml", sure=True)
    assert answer.status_code == 422
    assert "is there already" in answer.json()["refused"]
    assert page.path.with_name("shop.toml").read_bytes() == there


@pytest.mark.slow
@pytest.mark.parametrize(
    "name",
    [
        "../x.toml",
        "/x.toml",
        "a/b.toml",
        "..\\x.toml",
        "C:x.toml",
        ".x.toml",
        "x.txt",
        "x\n.toml",
        "con\x00.toml",
        " x.toml",
        "CON.toml",
        "conin$.toml",
        "a?.toml",
        "com1.x.toml",
        "lpt².toml",
        "nul .toml",
        "a<b.toml",
        "ä" * 110 + ".toml",
    ],
)
def test_only_names_in_the_folder_are_taken(page: Page, name: str) -> None:
    _moved(page)
    answer = page.post("save", name=name, sure=True)
    assert answer.status_code == 422
    assert "name" in answer.json()["refused"]


def test_a_full_disk_loses_nothing(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    _moved(page)
    before = page.path.read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("loadplan.files.safe_write.os.fsync", full)
    answer = page.post("save", sure=True)
    assert answer.status_code == 422
    assert "No space left" in answer.json()["refused"]
    assert page.path.read_bytes() == before
    assert page.show(2)["unsaved"]


def test_of_more_lines_than_are_compared_all_between_the_first_and_the_last_changed_one_are_told() -> None:
    many = [f"x{number} = 1" for number in range(MOST_COMPARED + 1)]
    after = ["same", "new", *many[1:-1], "new", "same"]
    told = changed_lines("\n".join(["same", *many, "same"]), "\n".join(after))
    assert told == [*(f"- {line}" for line in many), *(f"+ {line}" for line in after[1:-1])]


def test_of_fewer_lines_only_those_that_differ_are_told() -> None:
    many = [f"x{number} = 1" for number in range(MOST_COMPARED - 1)]
    after = ["first", *many[1:-1], "last", "more"]
    told = changed_lines("\n".join(many), "\n".join(after))
    assert told == [f"- {many[0]}", "+ first", f"- {many[-1]}", "+ last", "+ more"]


def test_what_is_the_same_changes_nothing() -> None:
    assert changed_lines("a\nb\nb", "a\nb\nb") == []
    assert changed_lines("a\nb\nb", "a\nb") == ["- b"]
