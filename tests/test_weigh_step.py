"""The command that weighs by the loads of a step: what it prints, what it writes, and how it ends."""

import json
import os
import subprocess
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
from tests.planning.test_learnt_bodies import three_parts
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


def many_parts(folder: Path, *loads: float, off: float = 200) -> Path:
    """A unit of three parts, each known to a tenth and 200 mm, with a scale under each of its three stands."""
    raw = three_parts(off)
    raw["stage"][0]["readings"] = [
        {"support": name, "load": load, "pm": 2} for name, load in zip("ABC", loads, strict=True)
    ]
    return write_job(raw, folder)


def test_what_scales_tell_of_the_whole_is_written_with_its_centre(run: Run, tmp_path: Path) -> None:
    """Part by part it may tip; three scales tell where all three together are: 357 kg, 0.4 (180 − 177) / 357 = 3 mm."""
    path = many_parts(tmp_path, 93, 87, 177)
    assert run("check", path)[0] == 1
    code, out, _ = run("weigh", path, "--stage", "1", "--write", path)
    assert code == 0
    assert "written as weighed whole" in " ".join(out.split())
    (unit,) = loadplan.read_job(path).vehicle.bodies
    assert unit.weighed is not None
    assert unit.weighed.mass == pytest.approx(357, abs=0.1)
    assert unit.weighed.cg[0] == pytest.approx(0.4 * 3 / 357, abs=2e-3)
    assert unit.weighed.cg_pm[0] < 0.01
    # No load tells the height: the file's, with the file's plus or minus.
    assert unit.weighed.cg[2] == pytest.approx((200 * 0.5 + 60 * 0.7 + 90 * 0.45) / 350, abs=2e-3)
    assert unit.weighed.cg_pm[2] > 0.19
    assert unit.basis.words == "weighed"
    assert run("check", path)[0] == code, "check says what weigh said"


def test_a_centre_that_no_reading_shows_stays_as_it_is_written(run: Run, tmp_path: Path) -> None:
    path = many_parts(tmp_path, 93, 87, 177, off=30)
    before = loadplan.read_job(path).vehicle.parts
    run("weigh", path, "--stage", "1", "--write", path)
    after = loadplan.read_job(path).vehicle.parts
    changed = [each.name for each, was in zip(after, before, strict=True) if each.mass != was.mass]
    assert changed
    assert [(each.at, each.at_pm) for each in after] == [(each.at, each.at_pm) for each in before]
    assert path.read_text("utf-8").count("at_pm") == 3


def test_a_known_part_does_not_become_weighed_by_its_centre(run: Run, tmp_path: Path) -> None:
    """Given as 400 ± 1 kg by a data sheet, read as that: its centre is known better, its mass is not."""
    path = job(tmp_path, 100, 100, 200, mass_pm=1, known="data sheet")
    run("weigh", path, "--stage", "1", "--write", path)
    (part,) = loadplan.read_job(path).vehicle.parts
    assert part.at_pm[0] < 0.06
    assert (part.mass, part.mass_pm, part.basis.words) == (400, 1, "data sheet")


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
@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_where_it_is_to_be_written_no_pipe_is_waited_for(tmp_path: Path) -> None:
    path, pipe = job(tmp_path, 110, 90, 220), tmp_path / "vehicle.toml"
    os.mkfifo(pipe)
    asked = [sys.executable, "-m", "loadplan", "weigh", path, "--stage", "1", "--write", pipe]
    done = subprocess.run(asked, capture_output=True, text=True, timeout=60, check=False)
    assert (done.returncode, "vehicle.toml: is not a file" in done.stderr) == (2, True)


def test_a_stop_ends_with_one(run: Run, tmp_path: Path) -> None:
    """Weighed, it is known to stand on the brink: the code is the verdict's, not that of the weighing."""
    code, out, _ = run("weigh", job(tmp_path, 199, 200, 1, at=[370, 0, 500], at_pm=[60, 60, 25]), "--stage", "1")
    assert (code, "STOP" in out) == (1, True)
