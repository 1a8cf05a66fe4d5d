"""A change that a later one has made idle is not told, also where some cautions cannot be taken away."""

from dataclasses import replace

from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from loadplan.planning.mending.candidate_changes import candidates
from loadplan.planning.mending.change_search import TriedChanges, made
from loadplan.planning.mending.fewest_changes import without_idle
from loadplan.planning.mending.judged_plan import judged
from loadplan.planning.mending.plan_change import ChangeKind, PlanChange
from tests.planning.mending.plans import CORNERS, plan, stand


def test_of_two_places_for_one_stand_the_last_is_told_though_a_caution_is_left() -> None:
    """Half a metre to tipping is more than these corners leave, so a caution stays whatever a stand does."""
    job = plan(*CORNERS[:3], stand("E", "middle left"))
    job = replace(job, stages=job.stages[:1], limits=replace(job.limits, margin=0.5))
    start = judged(job, 0, Verdict.CAUTION)
    assert start.verdict is Verdict.STOP
    moves = [each for each in candidates(start, 0) if each.kind is ChangeKind.PLACE and each.about == "E"]
    holds = next(each for each in moves if _judged(job, (each,)).plan.verdict < Verdict.STOP)
    idle = next(each for each in moves if each is not holds)
    answer = _judged(job, (idle, holds))
    assert answer.plan.troubles
    assert without_idle(answer, job, 0).changes == (holds,)


def _judged(job: Job, changes: tuple[PlanChange, ...]) -> TriedChanges:
    found = made(job, changes)
    assert found is not None
    return TriedChanges(changes, judged(found[0], 0, Verdict.CAUTION), found[1])
