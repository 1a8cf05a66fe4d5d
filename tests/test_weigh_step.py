"""The command that weighs by the loads of a step: what it prints, what it writes, and how it ends."""

import json
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

import loadplan
from loadplan import cli
from loadplan.files.work_record_file import add_to_record
from loadplan.limits import GRAVITY
from loadplan.model.work_record import Deed, FoundAtStand, RecordEntry
from loadplan.report.sheet.sheet_number import sheet_number
from tests.checks.small_jobs import Raw, unit_job
from tests.reference.random_jobs import write_job

Run = Callable[..., tuple[int, str, str]]

EIGHT = datetime(2026, 11, 20, 8, tzinfo=UTC)
THREE = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run the command line in this process: exit code, output, messages."""

    def call(*arguments: str | Path) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["loadplan", *map(str, arguments)])
        with pytest.raises(SystemExit) as ended:
            cli.main()
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        return int(ended.value.code or 0), out, err

    return call


def job(folder: Path, *loads: float, **part: object) -> Path:
    """400 kg on three stands with a scale under each, vehicle and job in one file with a comment."""
    block: Raw = {"name": "block", "body": "unit", "mass": 400, "mass_pm": 80, "at": [0, 0, 500], "at_pm": 60}
    readings = [{"support": name, "load": load, "pm": 1} for name, load in zip("ABC", loads, strict=False)]
    stage = [{"name": "on stands", "in_place": list(THREE), "readings": readings}]
    path = write_job(unit_job(THREE, part=[block | part], stage=stage), folder)  # type: ignore[arg-type]
    path.write_text(f"# weighed by nobody yet\n{path.read_text('utf-8')}", "utf-8")
    return path


def test_the_page_tells_weights_agreement_and_verdict(run: Run, tmp_path: Path) -> None:
    code, out, _ = run("weigh", job(tmp_path, 110, 90, 220), "--stage", "on stands")
    assert code == 0
    assert "HOLDS ON PAPER" in out or "CAUTION" in out
    assert "block" in out
    assert "420 kg" in out
    assert "-19 mm" in out
    assert "Readings and plan agree" in out
    assert "The 50 mm" in out or "first 50 mm" in out
    assert all(len(line) <= 100 for line in out.splitlines())


def test_json_has_the_parts_and_the_verdict(run: Run, tmp_path: Path) -> None:
    _, out, _ = run("weigh", job(tmp_path, 110, 90, 220), "--stage", "1", "--json")
    told = json.loads(out)
    assert list(told) == ["schema", "parts", "consistent", "suspects", "stiffness", "next", "verdict"]
    assert told["schema"] == "loadplan-update-1"
    (part,) = told["parts"]
    assert (part["part"], part["body"]) == ("block", "unit")
    assert part["mass_kg"]["value"] == pytest.approx(420, abs=0.1)
    assert part["cg_mm"]["x"]["value"] == pytest.approx(-19.05, abs=0.2)
    assert told["consistent"] is True
    assert told["suspects"] == []


def test_it_is_written_as_weighed_and_the_rest_stays(run: Run, tmp_path: Path) -> None:
    path = job(tmp_path, 110, 90, 220)
    before = path.read_bytes()
    code, _, err = run("weigh", path, "--stage", "1", "--write", path)
    assert code == 0
    assert "is written" in err
    assert path.with_name(f"{path.name}.before").read_bytes() == before
    text = path.read_text("utf-8")
    assert text.startswith("# weighed by nobody yet\n")
    (part,) = loadplan.read_job(path).vehicle.parts
    assert part.mass == pytest.approx(420, abs=0.1)
    assert part.mass_pm == pytest.approx(3, abs=0.02)
    assert part.at[2] == pytest.approx(0.5)
    assert part.at_pm[2] == pytest.approx(0.06)
    assert part.basis.words == "weighed"


def test_contradicting_readings_write_nothing_and_are_named(run: Run, tmp_path: Path) -> None:
    path = job(tmp_path, 100, 150, 200, mass_pm=4, at_pm=5)
    code, out, _ = run("weigh", path, "--stage", "1")
    assert (code, out.startswith("STOP")) == (1, True)
    assert "THE READINGS CONTRADICT THE PLAN. What fits worst: B" in out
    assert "Take B again" in out
    assert json.loads(run("weigh", path, "--stage", "1", "--json")[1])["verdict"] == "stop"
    assert "still tied" in out
    before = path.read_bytes()
    code, _, err = run("weigh", path, "--stage", "1", "--write", path)
    assert code == 2
    assert "Nothing was written" in err
    assert path.read_bytes() == before


def test_what_was_read_at_the_bay_counts_before_the_file(run: Run, tmp_path: Path) -> None:
    path = job(tmp_path, 30, 90, 220)
    assert "CONTRADICT" in run("weigh", path, "--stage", "1")[1]
    plan = loadplan.read_job(path)
    for name, load in (("A", 60), ("A", 110)):
        found = FoundAtStand(name, load * GRAVITY)
        entry = RecordEntry(EIGHT, "K", sheet_number(plan), plan.stages[0].name, Deed.READ, "", found)
        add_to_record(path, entry)
    code, out, _ = run("weigh", path, "--stage", "1")
    assert code == 0
    assert "Read at the bay, and kept in the record: A. They count before the file's." in out
    assert "420 kg" in out
    assert "this plan is another" not in out
    add_to_record(path, RecordEntry(EIGHT, "K", "0000", plan.stages[0].name, Deed.MOVED, ""))
    out = " ".join(run("weigh", path, "--stage", "1")[1].split())
    assert "Something moved since A was read: read again." in out
    assert "this plan is another" in out


def test_another_vehicle_gets_nothing(run: Run, tmp_path: Path) -> None:
    path = job(tmp_path, 110, 90, 220)
    other_folder = tmp_path / "other"
    other_folder.mkdir()
    other = job(other_folder, 110, 90, 220, mass=300)
    before = other.read_bytes()
    code, _, err = run("weigh", path, "--stage", "1", "--write", other)
    assert code == 2
    assert "is not the file of this job's vehicle" in err
    assert other.read_bytes() == before


def test_what_cannot_be_asked_is_told(run: Run, tmp_path: Path) -> None:
    path = job(tmp_path)
    code, _, err = run("weigh", path, "--stage", "1")
    assert (code, "has no reading of a scale" in err) == (2, True)
    code, _, err = run("weigh", path, "--stage", "9")
    assert (code, "--stage" in err) == (2, True)
    code, _, err = run("weigh", path, "--stage", "1", "--body", "unit")
    assert (code, "cannot go with --stage" in err) == (2, True)
    code, _, err = run("weigh", path, "--stage", "1", "--write", tmp_path / "nowhere.toml")
    assert code == 2


@pytest.mark.slow
def test_a_stop_ends_with_one(run: Run, tmp_path: Path) -> None:
    """Weighed, it is known to stand on the brink: the code is the verdict's, not that of the weighing."""
    code, out, _ = run("weigh", job(tmp_path, 199, 200, 1, at=[370, 0, 500], at_pm=[60, 60, 25]), "--stage", "1")
    assert (code, "STOP" in out) == (1, True)
