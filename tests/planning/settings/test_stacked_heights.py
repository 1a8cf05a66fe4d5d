"""Stands on an assembly are set over that."""

from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.planning.settings.set_heights import HeightPlan, plan_heights
from tests.checks.small_jobs import Raw, judged, stands
from tests.files.test_feet import FEET, stacked
from tests.reference.random_jobs import write_job


def planned(raw: Raw, folder: Path) -> HeightPlan:
    return plan_heights(read_job(write_job(raw, folder)))


def heights(plan: HeightPlan, names: str) -> list[float]:
    found = {each.support.name: each.support.height for each in plan.settings}
    return [found[name] or 0.0 for name in names]


def in_steps(*heights: float) -> Raw:
    """The stacked unit with stands that can be set to some heights only [mm]."""
    raw = stacked({})
    raw["equipment"] = [*raw["equipment"], raw["equipment"][0] | {"name": "low stand", "heights": list(heights)}]
    for each in raw["support"][4:]:
        each["use"] = "low stand"
    return raw


def test_they_are_set_over_the_top_of_the_assembly(tmp_path: Path) -> None:
    """By hand: 700 less the cradle's top at 500, whatever the cradle is set to; so set, all gaps are nothing."""
    plan = planned(stacked(dict.fromkeys("EFG", 290.0)), tmp_path)
    assert heights(plan, "EFG") == pytest.approx([0.2] * 3)
    assert [each.support.name for each in plan.settings] == list("ABCDEFG")
    gaps = judged(stacked(dict.fromkeys("EFG", 200.0)), tmp_path).stages[0].statics.gaps
    assert [gaps[name] for name in "EFG"] == pytest.approx([0.0] * 3)


def test_all_a_little_higher_is_more_even_than_each_as_near_as_can_be(tmp_path: Path) -> None:
    """By hand: places at 200, 200 and 204 over the top, steps of 20 from 190.

    All 10 lower, one is off by 4; 8 lower, each by 2.
    """
    raw = in_steps(190, 210, 230)
    raw["support"][6]["at"] = [*FEET["G"][:2], 704]
    plan = planned(raw, tmp_path)
    misfits = {each.support.name: each.misfit for each in plan.settings}
    assert [abs(misfits[name]) for name in "EFG"] == pytest.approx([0.002] * 3)
    assert len(set(heights(plan, "EFG"))) == 1


def test_what_stands_on_the_floor_too_stays_where_the_file_has_it(tmp_path: Path) -> None:
    """By hand: of 190 and 240 the nearer to 200, 10 low; alone on the cradle it would simply stand 10 lower."""
    raw = in_steps(190, 240)
    alone = {each.support.name: each.misfit for each in planned(raw, tmp_path).settings}
    assert alone["E"] == pytest.approx(0.0)
    raw["support"] += stands({"H": [-450, 0, 600]}, "unit")
    raw["stage"][0]["in_place"].append("H")
    mixed = {each.support.name: each.misfit for each in planned(raw, tmp_path).settings}
    assert [mixed[name] for name in "EFG"] == pytest.approx([-0.010] * 3)
