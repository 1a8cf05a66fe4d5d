"""What the last job forgot: shown as lines, written into the vehicle's file, and asked for in the next job."""

import shutil
from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from threading import Thread

import pytest

import loadplan
from loadplan.assess import assess
from loadplan.files import shipped_folder, write_ties
from loadplan.files.toml_edit import Edit
from loadplan.files.work_record_file import add_to_record
from loadplan.model.forgotten_tie import TiePlace
from loadplan.model.vehicle import TieState, TieUp
from loadplan.model.work_record import Deed, RecordEntry, WorkRecord
from loadplan.report.pictures.plan_content import unit_scene
from loadplan.report.sheet.sheet_number import sheet_number, sheet_numbers
from loadplan.report.words.cautions import boxes
from loadplan.units import System
from tests.checks.small_jobs import lifted_job
from tests.command_line import Run
from tests.reference.random_jobs import write_job

EIGHT = datetime(2026, 11, 20, 8, tzinfo=UTC)
HOSE = "heater hose, clip at the bulkhead"


def record(job: Path, *entries: RecordEntry) -> None:
    add_to_record(job, *entries)


def forgot(words: str = HOSE, step: str = "unbolted") -> RecordEntry:
    return RecordEntry(EIGHT, "K", "0a1b2c3d", step, Deed.FORGOTTEN, words)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A unit on the lift, all in one file, with a comment at its end."""
    path = write_job(lifted_job(), tmp_path)
    path.write_text(f"# ours\n{path.read_text('utf-8')}\n# end of the shop's list\n", "utf-8")
    return path


def test_nothing_forgotten_is_nothing_to_add(run: Run, job: Path) -> None:
    code, out, _ = run("forgotten", job, "--write")
    assert (code, out) == (0, "Nothing was still on that the vehicle's file does not list: there is nothing to add.\n")


def test_without_a_place_nothing_is_written(run: Run, job: Path) -> None:
    record(job, forgot())
    before = job.read_bytes()
    code, out, _ = run("forgotten", job)
    assert code == 0
    assert "where it is, nobody said yet" in " ".join(out.split())
    assert "[[tie]]" not in out
    code, _, err = run("forgotten", job, "--write")
    assert (code, "has no place yet" in err) == (2, True)
    assert job.read_bytes() == before


def test_it_is_shown_first_then_written_and_the_next_job_asks_for_it(run: Run, job: Path) -> None:
    record(job, forgot())
    before = job.read_text("utf-8")
    said = ("--place", "1=unit,-1100,250")
    out = run("forgotten", job, *said).out
    assert '[[tie]]\nname = "heater hose"\nbody = "unit"\nat = [-1100, 250, 500]\nwhat = "off"\n' in out
    assert 'before = ["bolts"]\nsay = "clip at the bulkhead"\n' in out
    assert "its height is taken from what it hangs by" in " ".join(out.split())
    assert job.read_text("utf-8") == before
    assert "Nothing is written yet: --write puts them there." in " ".join(out.split())
    written = run("forgotten", job, *said, "--write")
    assert written.code == 0
    assert "Nothing is written yet" not in " ".join(written.out.split())
    after = job.read_text("utf-8")
    assert after.startswith("# ours\n")
    assert "# end of the shop's list" in after
    assert [line for line in before.splitlines() if line not in after.splitlines()] == []
    assert job.with_name(f"{job.name}.before").read_text("utf-8") == before
    done = assess(loadplan.read_job(job))
    assert done.stages[1].statics is not None
    there = {each.heading: each.items for each in boxes(done.job, done.stages[1], System.METRIC)}
    assert "heater hose off: clip at the bulkhead" in there["Before"]
    assert [each.name for each in unit_scene(done, done.stages[1]).ties] == ["heater hose"]


def test_nothing_is_listed_twice(run: Run, job: Path) -> None:
    record(job, forgot(), forgot("Heater hose"), forgot("earth strap"))
    place = TiePlace("unit", (-1.2, 0.1), 0.4, TieState.TIED)
    record(job, RecordEntry(EIGHT, "K", "0a1b2c3d", "unbolted", Deed.PLACED, "earth strap", place=place))
    for _ in range(2):
        run("forgotten", job, "--place", "1=unit,-1100,250", "--write")
    ties = loadplan.read_job(job).vehicle.ties
    assert [(each.name, each.what) for each in ties] == [("heater hose", TieState.OFF), ("earth strap", TieState.TIED)]
    assert ties[1].at == pytest.approx((-1.2, 0.1, 0.4))
    assert "nothing to add" in run("forgotten", job).out


def test_two_things_of_one_name_are_two_and_the_next_job_asks_for_each(run: Run, job: Path) -> None:
    record(job, forgot("hose, left"), forgot("hose, right"))
    code, _, _ = run("forgotten", job, "--place", "1=unit,-1100,250", "--place", "2=unit,-1100,-250", "--write")
    assert code == 0
    assert [each.name for each in loadplan.read_job(job).vehicle.ties] == ["hose, left", "hose, right"]
    assert "nothing to add" in run("forgotten", job).out
    record(job, forgot("hose, at the tank"), forgot("HOSE, right"))
    run("forgotten", job, "--place", "1=unit,-1300,0", "--write")
    assert [each.name for each in loadplan.read_job(job).vehicle.ties][2:] == ["hose, at the tank"]


def test_a_vehicle_that_ships_is_copied_beside_the_job(run: Run, tmp_path: Path) -> None:
    for name in ("front-unit.toml", "shop.toml"):
        shutil.copyfile(shipped_folder("demo") / name, tmp_path / name)
    path = tmp_path / "front-unit.toml"
    plan = loadplan.read_job(path)
    ships = shipped_folder("vehicles") / "van-longitudinal-diesel-rwd.toml"
    before = ships.read_bytes()
    record(path, forgot(step=plan.stages[1].name))
    code, _, err = run("forgotten", path, "--place", "1=powertrain,-200,150,600", "--tied", "1", "--write")
    assert (code, "van-longitudinal-diesel-rwd.toml is written" in err) == (0, True)
    assert ships.read_bytes() == before
    own = tmp_path / "van-longitudinal-diesel-rwd.toml"
    assert own.read_text("utf-8").startswith(before.decode().rstrip())
    tie = loadplan.read_job(path).vehicle.ties[-1]
    assert (tie.name, tie.what) == ("heater hose", TieState.TIED)
    assert tie.at == pytest.approx((-0.2, 0.15, 0.6))


@pytest.mark.parametrize(
    ("said", "says"),
    [
        (["--place", "unit,1,2"], "must be such as 1=powertrain,420,-310"),
        (["--place", "1=unit,1"], "must be such as"),
        (["--place", "1=boat,1,2"], "must name an assembly of the job: shell, unit"),
        (["--place", "1=unit,1,x"], "has a length that"),
        (["--place", "1=unit,1,-100001"], "must lie within 100 m, the most that a vehicle's file takes"),
        (["--place", "7=unit,1,2"], "there is no number 7: there are 1"),
        (["--tied", "1"], "number 1 has no place yet"),
        (["--tied", "-3"], "there is no number -3"),
    ],
)
def test_what_cannot_be_understood_is_told(run: Run, job: Path, said: list[str], says: str) -> None:
    record(job, forgot())
    before = job.read_bytes()
    code, _, err = run("forgotten", job, *said, "--write")
    assert (code, says in " ".join(err.split())) == (2, True), err
    assert job.read_bytes() == before


@pytest.mark.parametrize("words", ["x" * 300, "  , hose", '[[tie]] "a" = \\', "Ölschlauch\u00a0vorn"])
def test_whatever_was_typed_makes_a_file_that_can_be_read(run: Run, job: Path, words: str) -> None:
    record(job, forgot(words))
    assert run("forgotten", job, "--place", "1=unit,-1100,250", "--write").code == 0
    assert len(loadplan.read_job(job).vehicle.ties) == 1


def test_what_another_job_of_the_vehicle_writes_meanwhile_is_not_lost(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    edits = write_ties.edited_text
    hoses = [TieUp(f"hose {number}", "unit", (-1.1, 0.2, 0.5), TieState.OFF, ("bolts",), "") for number in (1, 2)]
    other = Thread(target=write_ties.write_ties, args=(job, hoses[1:]))

    def meanwhile(text: str, tables: Iterable[Edit], path: Path) -> str:
        monkeypatch.undo()
        other.start()
        other.join(1.0)  # it gets its chance: it waits until this one has written
        return edits(text, tables, path)

    monkeypatch.setattr(write_ties, "edited_text", meanwhile)
    assert write_ties.write_ties(job, hoses[:1]) == ("hose 1",)
    other.join()
    assert [each.name for each in loadplan.read_job(job).vehicle.ties] == ["hose 1", "hose 2"]


def test_what_the_program_lists_is_told_as_that_and_not_as_another_plan(run: Run, job: Path) -> None:
    number = sheet_number(loadplan.read_job(job))
    done = RecordEntry(EIGHT, "K", number, "", Deed.FINISHED)
    record(job, replace(forgot(), sheet=number), replace(forgot("earth strap"), sheet=number), done)
    said = ("--place", "1=unit,-1100,250", "--place", "2=unit,-1100,-250")
    assert run("forgotten", job, *said, "--write").code == 0
    listed = loadplan.read_job(job)
    now = sheet_number(listed)
    assert now != number
    told = " ".join(run("check", job).out.split())
    assert "the plan was changed since" not in told
    assert (
        f"Work was done by sheet {number}. What was still on was listed in the vehicle's file since (heater hose and "
        f"earth strap): the plan is sheet {now} now, and nothing else in it was changed."
    ) in told
    job.write_text(job.read_text("utf-8").replace("title =", 'title = "Another"  #', 1), "utf-8")
    assert "the plan was changed since" in " ".join(run("check", job).out.split())


def test_a_sheet_worked_by_between_two_listings_is_known_again(job: Path) -> None:
    plain = loadplan.read_job(job)
    ties = [TieUp(name, "unit", (-1.1, 0.2, 0.5), TieState.OFF, ("bolts",), "") for name in ("one", "two", "own")]
    whole = replace(plain, vehicle=replace(plain.vehicle, ties=(ties[2], *ties[:2])))
    first, both = (replace(plain, vehicle=replace(plain.vehicle, ties=(ties[2], *ties[:many]))) for many in (0, 1))
    entries = tuple(RecordEntry(EIGHT, "K", "", "", Deed.LISTED, name) for name in ("One", "two"))
    told = sheet_numbers(whole, WorkRecord(entries))
    assert told == (sheet_number(whole), frozenset({sheet_number(first), sheet_number(both)}))
    assert sheet_numbers(whole, WorkRecord()) == (sheet_number(whole), frozenset())
