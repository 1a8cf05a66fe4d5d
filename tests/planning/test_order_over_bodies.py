"""The order of a step over several bodies: one of them left out, or emptied on the way."""

from pathlib import Path

import numpy as np

import loadplan
from loadplan.planning.settings.removal_order import plan_order
from loadplan.planning.settings.removal_states import course, part_way
from tests.checks.small_jobs import Raw, part, stands, unit_job
from tests.reference.random_jobs import write_job

PLACES = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}


def job() -> Raw:
    made = unit_job(PLACES)
    ends = [part("front", "unit", 60, [400, 0, 500]), part("rear", "unit", 50, [-400, 0, 500])]
    return made | {
        "bodies": ["unit"],
        "body": [{"name": "unit"}, {"name": "shell"}],
        "part": [*made["part"], *ends, part("door", "shell", 30, [-1500, 800, 700])],
        "stage": [*made["stage"], {"name": "ends off", "off": ["door", "front", "rear"]}],
    }


def test_only_what_is_there_comes_off(tmp_path: Path) -> None:
    plan = plan_order(loadplan.read_job(write_job(job(), tmp_path)), 1)
    assert sorted(step.part for step in plan.steps) == ["front", "rear"]
    assert plan.proven


def test_half_way_the_rest_is_still_on(tmp_path: Path) -> None:
    state = part_way(loadplan.read_job(write_job(job(), tmp_path)), 1, frozenset({"rear"}))
    assert state.on == {"block", "front"}


def test_a_body_goes_with_the_last_of_its_own_parts(tmp_path: Path) -> None:
    """The pack of two halves stands beside the unit; the step empties it and takes one end off the unit."""
    made = job()
    beside = {"E": [-200, 2000, 200], "F": [200, 2000, 200], "G": [0, 2300, 200]}
    halves = [part(name, "pack", 20, [0, 2100, 400]) for name in ("upper half", "lower half")]
    off = ["upper half", "front", "lower half"]
    made |= {
        "bodies": ["unit", "pack"],
        "body": [*made["body"], {"name": "pack"}],
        "part": [*made["part"], *halves],
        "support": [*made["support"], *stands(beside, "pack")],
        "stage": [
            {"name": "set down", "in_place": [*PLACES, *beside]},
            {"name": "pack apart", "off": off, "cleared": list(beside)},
        ],
    }
    parts = course(loadplan.read_job(write_job(made, tmp_path)), 1)
    assert parts.emptied == ((0, 2),)
    gone = parts.margins(np.array([[True, False, True], [True, True, True]]))
    there = parts.margins(np.array([[True, False, False]]))
    assert gone[0] > 0.35
    assert gone[1] > 0.35
    assert 0 < there[0] < 0.2
