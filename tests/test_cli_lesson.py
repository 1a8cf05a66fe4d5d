"""`loadplan lesson` on the command line: where the set goes, and what is never written over."""

import sys
from pathlib import Path

import pytest

import loadplan.report.lesson.trainer_set
from loadplan import cli
from loadplan.files import shipped_folder
from loadplan.report.lesson.lesson_plan import Lesson

ROCKING = shipped_folder("demo") / "rocking-on-two-stands.toml"


def ran(monkeypatch: pytest.MonkeyPatch, *arguments: str | Path) -> int:
    monkeypatch.setattr(sys, "argv", ["loadplan", "lesson", *map(str, arguments)])
    with pytest.raises(SystemExit) as ended:
        cli.main()
    return int(ended.value.code or 0)


@pytest.fixture
def titles(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Titles of the jobs of which a set was made; nothing is drawn."""
    made: list[str] = []

    def undrawn(lesson: Lesson, *_: object) -> dict[str, bytes]:
        made.append(lesson.assessment.job.title)
        return {"lesson.pdf": b"pages", "run-sheet.txt": b"minutes"}

    monkeypatch.setattr(loadplan.report.lesson.trainer_set, "lesson_files", undrawn)
    return made


@pytest.mark.slow
def test_without_a_job_it_is_the_demos_front_unit(
    titles: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ran(monkeypatch, "-o", tmp_path / "set") == 0
    assert titles == ["Rear crankshaft seal and oil pump: front unit out from below"]
    assert capsys.readouterr().out.split() == [str(tmp_path / "set" / name) for name in ("lesson.pdf", "run-sheet.txt")]


@pytest.mark.slow
def test_a_set_is_replaced_and_a_file_of_another_is_not(
    titles: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert [ran(monkeypatch, ROCKING, "-o", tmp_path) for _ in range(2)] == [0, 0]
    (tmp_path / "run-sheet.txt").unlink()
    (tmp_path / "lesson.pdf").write_bytes(b"mine")
    assert ran(monkeypatch, ROCKING, "-o", tmp_path) == 2
    assert "lesson.pdf: is there already and is not written over" in capsys.readouterr().err
    assert [each.read_bytes() for each in tmp_path.iterdir()] == [b"mine"]
    assert ran(monkeypatch, ROCKING, "-o", tmp_path, "--force") == 0
    assert len(list(tmp_path.iterdir())) == 2
    assert len(titles) == 4


@pytest.mark.slow
def test_a_folder_that_cannot_be_made_gives_a_message(
    titles: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_text("not a folder")
    assert ran(monkeypatch, ROCKING, "-o", tmp_path / "file") == 2
    assert str(tmp_path / "file") in capsys.readouterr().err
    assert titles
