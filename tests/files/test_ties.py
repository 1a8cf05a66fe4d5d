"""Hoses, harnesses and fasteners that a vehicle's file lists: read, due before a step, ticked, and on the plan."""

from pathlib import Path

import pytest

import loadplan
from loadplan.assess import assess
from loadplan.model.job import Job
from loadplan.model.tie_due import due_stage, ties_due, ties_left
from loadplan.model.vehicle import TieState
from loadplan.report.pictures.plan_content import unit_scene
from loadplan.report.words.cautions import boxes
from loadplan.report.words.vocabulary import reader_of
from loadplan.report.words.work_list import work_list
from loadplan.units import System
from tests.checks.small_jobs import Raw, lifted_job
from tests.files.builders import faults, small
from tests.reference.random_jobs import write_job

STRAP = {"name": "earth strap", "body": "unit", "at": [100, 200, 500], "what": "off", "say": "nut under the tray"}
LOOM = {"name": "loom", "body": "unit", "at": [-100, 0, 500], "what": "tied"}


def messages(folder: Path, tie: Raw) -> list[str]:
    return [f"{each.key}: {each.message}" for each in faults(folder, small(tie=[tie]))]


def job(folder: Path, *ties: Raw) -> Job:
    raw = lifted_job()
    return loadplan.read_job(write_job(raw | {"tie": list(ties)}, folder))


def test_a_tie_waits_for_what_ties_its_assembly_unless_it_says_more(tmp_path: Path) -> None:
    plain, said = job(tmp_path, STRAP, LOOM | {"before": ["block"]}).vehicle.ties
    assert (plain.what, plain.before, plain.say) == (TieState.OFF, ("bolts",), "nut under the tray")
    assert (said.what, said.before) == (TieState.TIED, ("block",))
    assert plain.at == pytest.approx((0.1, 0.2, 0.5))


def test_it_is_due_before_the_step_that_undoes_the_first_of_them(tmp_path: Path) -> None:
    whole = job(tmp_path, STRAP, LOOM | {"before": ["block"]})
    strap, loom = whole.vehicle.ties
    assert [due_stage(whole, each) for each in (strap, loom)] == [1, None]
    assert [ties_due(whole, number) for number in (0, 1)] == [(), (strap,)]
    assert [ties_left(whole, number) for number in (0, 1)] == [(strap,), (strap,)]


def test_off_is_a_box_before_anything_is_undone_in_that_step_and_tied_one_of_its_50_mm_stop(tmp_path: Path) -> None:
    done = assess(job(tmp_path, STRAP, LOOM))
    before, there = (
        {each.heading: each.items for each in boxes(done.job, stage, System.METRIC)} for stage in done.stages
    )
    assert not any("nut under the tray" in item for items in before.values() for item in items)
    assert next(iter(there)) == "Before"
    assert there["Before"] == ("earth strap off: nut under the tray",)
    assert (there["50 mm up"][0], there["50 mm up"][-1]) == ("stop", "loom tied")
    assert not any("strap" in item for item in there["50 mm up"])


def test_off_comes_behind_what_is_usual_before_the_first_step(tmp_path: Path) -> None:
    raw = lifted_job()
    first, second, *rest = raw["stage"]
    raw["stage"] = [first | {"undone": second["undone"]}, {**second, "undone": []}, *rest]
    done = assess(loadplan.read_job(write_job(raw | {"tie": [STRAP]}, tmp_path)))
    told = {each.heading: each.items for each in boxes(done.job, done.stages[0], System.METRIC)}
    assert told["Before"][0] == "maker's procedure read"
    assert told["Before"][-1] == "earth strap off: nut under the tray"


def test_in_the_list_of_work_off_stands_before_the_bolts_and_stops(tmp_path: Path) -> None:
    done = assess(job(tmp_path, STRAP, LOOM))
    told = work_list(done.job, done.stages[1], reader_of(done.job, System.METRIC))
    assert [part.heading for part in told][:2] == ["Before", "Undo"]
    assert (told[0].lines, told[0].stops) == (("Before: earth strap off: nut under the tray",), True)


def test_it_is_on_the_plan_until_then(tmp_path: Path) -> None:
    done = assess(job(tmp_path, STRAP))
    assert [[each.name for each in unit_scene(done, stage).ties] for stage in done.stages] == [
        ["earth strap"],
        ["earth strap"],
    ]


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"body": "unti"}, "body: there is no body"),
        ({"before": ["bolt"]}, "before: there is no joint or part"),
        ({"what": "gone"}, "what: must be"),
        ({"at": [1, 2]}, "at: must be"),
        ({"where": "left"}, "where: is not a key here"),
    ],
)
def test_what_is_wrong_is_told(tmp_path: Path, change: Raw, fault: str) -> None:
    told = messages(tmp_path, STRAP | change)
    assert any(fault in each for each in told), told


def test_what_nothing_would_remind_of_is_told(tmp_path: Path) -> None:
    raw = small(tie=[STRAP], joint=[])
    raw["stage"] = [{"name": "Set down", "in_place": ["A"]}]
    (fault,) = faults(tmp_path, raw)
    assert fault.key == "before"
    assert 'nothing ties "unit"' in fault.message
