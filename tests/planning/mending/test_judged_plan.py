"""Which steps of a plan are judged, and which findings trouble it."""

from dataclasses import replace
from math import inf

import pytest

from loadplan.model.job import Job, Stage
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.mending.added_stand import StepsLeft, additions
from loadplan.planning.mending.equipment_shortage import equipment_shortage
from loadplan.planning.mending.judged_plan import UNSOLVABLE, JudgedPlan, PlanGlance, judged, on_paper
from tests.planning.mending.bad_plans import bad_plans
from tests.planning.mending.plans import plan
from tests.statics.builders import lift_use


def glanced(job: Job) -> JudgedPlan:
    """Look at a plan in passing."""
    return PlanGlance(JudgedPlan(job, Verdict.HOLDS, frozenset(), inf), 0, Verdict.STOP).start


OUT_OF_USE = bad_plans()["a piece that is out of use"]


def test_on_paper_only_steps_that_are_not_done_and_in_which_nothing_is_rolled_count() -> None:
    def steps(first: int) -> set[int]:
        return {each.stage for each in on_paper(OUT_OF_USE, first, Verdict.STOP)}

    assert (steps(0), steps(1), steps(3)) == ({0, 1, 2}, {1, 2}, set())
    first, second, third = OUT_OF_USE.stages
    rolled = replace(OUT_OF_USE, stages=(first, replace(second, moved=True), third))
    assert {each.stage for each in on_paper(rolled, 0, Verdict.STOP)} == {0, 2}


def test_on_paper_nothing_is_looked_at_once_it_is_hopeless() -> None:
    seen: list[int] = []
    found = on_paper(OUT_OF_USE, 0, Verdict.STOP, lambda troubles: seen.append(len(troubles)) or len(troubles) == 2)
    assert seen == [1, 2]
    assert {each.stage for each in found} == {0, 1}


def test_no_margin_counts_of_a_step_in_which_the_unit_is_rolled() -> None:
    """With A gone it tips: on the way that is looked at by its own check, and not by how far it is from tipping."""
    job = plan()
    away = Stage("Rolled", cleared=("A",), moved=True)
    rolled = replace(job, stages=(*job.stages, away))
    assert judged(rolled, 0, Verdict.STOP).margin == pytest.approx(judged(job, 0, Verdict.STOP).margin)
    assert glanced(rolled).margin == pytest.approx(glanced(job).margin)
    standing = replace(job, stages=(*job.stages, replace(away, moved=False)))
    assert judged(standing, 0, Verdict.STOP).margin < 0


def test_a_plan_that_cannot_be_computed_stops_with_a_trouble_of_no_step() -> None:
    """A part of which the mass is no number."""
    job = plan()
    body = job.vehicle.bodies[0]
    nothing = replace(
        job, vehicle=replace(job.vehicle, parts=(replace(job.vehicle.parts[0], mass=float("nan")),), bodies=(body,))
    )
    for found in (judged(nothing, 0, Verdict.STOP), glanced(nothing)):
        assert (found.verdict, found.margin, found.troubles) == (Verdict.STOP, -inf, {UNSOLVABLE})
    assert UNSOLVABLE.stage < 0
    assert UNSOLVABLE.check is CheckName.BALANCE


def test_of_a_plan_of_which_all_is_done_nothing_is_short() -> None:
    short = bad_plans()["more pieces than the shop has"]
    assert equipment_shortage(short, len(short.stages)) == 0


@pytest.mark.parametrize(("troubled", "comes", "goes"), [((1, 1), {1}, {2}), ((0, 1), {0}, {2}), ((1, 2), {1}, set())])
def test_a_prop_under_what_hangs_on_the_lift_stands_by_only_while_there_is_trouble(
    troubled: tuple[int, int], comes: set[int], goes: set[int]
) -> None:
    job = plan()
    job = replace(
        job, lift=replace(lift_use([(0.6, 0.4), (0.6, -0.4), (-0.6, 0.4), (-0.6, -0.4)]), body="unit"), supports=()
    )
    job = replace(job, stages=tuple(replace(each, in_place=()) for each in job.stages))
    change = next(iter(additions(job, "unit", (), StepsLeft(0, troubled))))
    made = change.make(job)
    assert made is not None
    stand = made.job.supports[-1]
    assert stand.standby
    assert {number for number, each in enumerate(made.job.stages) if stand.name in each.in_place} == comes
    assert {number for number, each in enumerate(made.job.stages) if stand.name in each.cleared} == goes
