"""Readings in a step of a job file."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.files.edit_stands import removed
from loadplan.files.job_file import open_job
from loadplan.files.toml_edit import edited
from loadplan.files.write_changed_stands import with_changed_stands
from loadplan.files.write_layout import with_layout
from loadplan.limits import GRAVITY
from loadplan.planning.placement.layout_space import laid_out, space
from tests.files.builders import Raw, faults, read, small, write


def told(folder: Path, *readings: Raw, **stage: object) -> list[str]:
    named = {"name": "Set down", "in_place": ["A"], "readings": list(readings)} | stage
    return [f"{each.key}: {each.message}" for each in faults(folder, small(stage=[named]))]


def test_scales_and_hands_are_read(tmp_path: Path) -> None:
    rows = [
        {"support": "A", "load": 190, "pm": 2},
        {"support": "A", "turns": True},
        {"support": "bay", "load": "1000 kg", "pm": "1 %"},
        {"support": "sill left", "load": 400, "lowered": 8},
    ]
    job = read(tmp_path, small(stage=[{"name": "Set down", "in_place": ["A"], "readings": rows}]))
    scale, hand, gauge, bare = job.stages[0].readings
    assert scale.load == pytest.approx(190 * GRAVITY)
    assert scale.pm == pytest.approx(2 * GRAVITY)
    assert (hand.load, hand.turns) == (None, True)
    assert gauge.pm == pytest.approx(10 * GRAVITY)
    assert bare.pm == pytest.approx(4 * GRAVITY)
    assert bare.lowered == pytest.approx(0.008)
    (assumed,) = [each for each in job.assumed if "reading" in each]
    assert assumed == "Set down: plus or minus of a reading not given, 1 % of it taken, at least 0.5 kg: sill left."


@pytest.mark.parametrize(
    ("reading", "fault"),
    [
        ({"support": "A"}, "readings.1.load: is missing: give what the scale reads, or turns"),
        ({"support": "A", "load": 1, "turns": True}, "readings.1.turns: must not stand beside load"),
        ({"support": "A", "turns": True, "pm": 1}, "readings.1.pm: is for what a scale reads"),
        ({"support": "B", "load": 1}, 'readings.1.support: there is no support, lift pad or lift "B"'),
        ({"support": "A", "load": -1}, "readings.1.load: must be a mass"),
        ({"support": "A", "lode": 1}, 'readings.1.lode: is not a key here; did you mean "load"'),
        ({"load": 1}, "readings.1.support: is missing"),
    ],
)
def test_what_is_wrong_is_told(tmp_path: Path, reading: Raw, fault: str) -> None:
    messages = told(tmp_path, reading)
    assert any(fault in each for each in messages), messages


def test_what_is_not_in_place_cannot_be_read(tmp_path: Path) -> None:
    (message,) = told(tmp_path, {"support": "A", "load": 1}, in_place=[])
    assert message == 'readings.1.support: names "A", which is not in place in this stage'
    gone = told(tmp_path, {"support": "sill left", "load": 1}, {"support": "bay", "load": 1}, cleared=["bay"])
    assert len(gone) == 2
    (lowered,) = told(tmp_path, {"support": "A", "load": 1, "lowered": 3}, cleared=["bay"])
    assert lowered == "readings.1.lowered: is about the lift, which does not hold anything in this stage"


def test_one_place_is_read_once_a_lowering(tmp_path: Path) -> None:
    twice = told(tmp_path, {"support": "A", "load": 1}, {"support": "A", "load": 2})
    assert [each.split(":")[0] for each in twice] == ["readings.2.support"]
    apart = told(tmp_path, {"support": "A", "load": 1, "lowered": 5}, {"support": "A", "load": 2, "lowered": 8})
    assert apart == []


def test_readings_are_a_list_of_tables(tmp_path: Path) -> None:
    (message,) = told(tmp_path, readings=3)
    assert message.startswith("readings: must be a list of tables")


READ = [
    {"support": "A", "load": 190, "pm": "2 %"},
    {"support": "B", "load": 100, "pm": 3},
    {"support": "A", "turns": True},
    {"support": "B", "turns": False},
]


def read_twice(folder: Path) -> Path:
    supports = [{"name": name, "use": "stand", "under": "front"} for name in "AB"]
    stage = [{"name": "Set down", "in_place": ["A", "B"], "readings": READ}, {"name": "Next"}]
    return write(folder, small(support=supports, stage=stage))


def test_what_was_read_under_a_stand_goes_with_it(tmp_path: Path) -> None:
    path = read_twice(tmp_path)
    path.write_bytes(edited(path, removed(open_job(path), 0)))
    again = read_job(path).stages[0].readings
    assert [(each.support, each.turns) for each in again] == [("B", None), ("B", False)]
    assert again[0].load == pytest.approx(100 * GRAVITY)
    assert again[0].pm == pytest.approx(3 * GRAVITY)


def test_a_changed_step_is_written_with_what_is_left_of_its_readings(tmp_path: Path) -> None:
    path = read_twice(tmp_path)
    job = read_job(path)
    changed = replace(job, stages=(job.stages[0].read_without(("B",)), *job.stages[1:]))
    path.write_bytes(with_changed_stands(path, path, job, changed))
    again = read_job(path).stages[0].readings
    assert [each.support for each in again] == ["A", "A"]
    assert again[0].pm == pytest.approx(0.02 * 190 * GRAVITY)
    none = replace(job, stages=(job.stages[0].read_without(("A", "B")), *job.stages[1:]))
    path = read_twice(tmp_path)
    path.write_bytes(with_changed_stands(path, path, job, none))
    assert "readings" not in path.read_text("utf-8")


def test_a_layout_keeps_nothing_that_was_read_under_other_stands(tmp_path: Path) -> None:
    path = read_twice(tmp_path)
    job = read_job(path)
    planned = laid_out(space(job), ((job.vehicle.points[0], job.shop.equipment[0]),))
    assert all(not stage.readings for stage in planned.stages)
    path.write_bytes(with_layout(path, path, planned))
    assert "readings" not in path.read_text("utf-8")
