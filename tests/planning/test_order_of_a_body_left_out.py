"""The order of a step that also names a part of a body left out: that part is not there to come off."""

from pathlib import Path

import loadplan
from loadplan.planning.course import part_way
from loadplan.planning.order import plan_order
from tests.checks.small_jobs import Raw, part, unit_job
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
