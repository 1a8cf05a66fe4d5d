"""A command that is not told where to write, or by a name of another kind, says what would be right."""

import sys
from pathlib import Path

import pytest

from loadplan import cli

DEMO = Path(__file__).parents[1] / "demo"
JOB = str(DEMO / "front-unit.toml")


def said(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *typed: str) -> str:
    monkeypatch.setattr(sys, "argv", ["loadplan", *typed])
    with pytest.raises(SystemExit) as ended:
        cli.main()
    assert ended.value.code == 2
    told = capsys.readouterr()
    assert told.out == ""
    return " ".join(told.err.split())


@pytest.mark.parametrize(
    ("typed", "right"),
    [(("sheet", JOB), "-o sheet.pdf"), (("draw", JOB), "-o pictures"), (("lesson",), "-o lesson")],
)
def test_without_a_place_to_write_to_one_is_named_that_would_do(
    typed: tuple[str, ...], right: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    told = said(monkeypatch, capsys, *typed)
    assert "is missing" in told
    assert right in told


@pytest.mark.parametrize("name", ["week.txt", "week"])
@pytest.mark.parametrize("typed", [("sheet", JOB), ("shop", str(DEMO / "shop.toml"), str(DEMO))])
def test_what_is_printed_has_the_ending_of_what_is_printed(
    name: str,
    typed: tuple[str, ...],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    told = said(monkeypatch, capsys, *typed, "-o", str(tmp_path / name))
    assert str(tmp_path / "week.pdf") in told
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["\u202efdp.x", "\x1b[31mx", "\x07x.toml.y"])
@pytest.mark.parametrize("typed", [("sheet", JOB, "-o"), ("shop", str(DEMO / "shop.toml"), str(DEMO), "-o"), ("new",)])
def test_a_name_that_turns_the_reading_round_does_not_come_back_in_the_one_that_would_do(
    name: str, typed: tuple[str, ...], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    told = said(monkeypatch, capsys, *typed, name)
    assert "needs the ending" in told
    assert not set(told) & {"\u202e", "\x1b", "\x07"}
