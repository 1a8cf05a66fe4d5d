"""A trouble is known again in another plan, so that no change is taken for one that helps where it does not."""

from pathlib import Path

from loadplan.files import read_job
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.mending.candidate_changes import candidates
from loadplan.planning.mending.judged_plan import JudgedPlan, PlanTrouble, judged
from loadplan.planning.mending.plan_change import ChangeKind

ROCKING = Path(__file__).parents[3] / "demo" / "rocking-on-two-stands.toml"


def order_of(plan: JudgedPlan) -> str:
    found = [each for stage in plan.stages for each in stage.findings]
    return next(each.subject for each in found if each.check is CheckName.UNDOING)


def undoing_of(plan: JudgedPlan) -> set[PlanTrouble]:
    return {each for each in plan.troubles if each.check is CheckName.UNDOING}


def test_joints_that_may_come_off_in_no_order_are_one_trouble_whichever_order_is_told() -> None:
    start = judged(read_job(ROCKING), 0, Verdict.STOP)
    places = [each for each in candidates(start, 0) if (each.kind, each.about) == (ChangeKind.PLACE, "C")]
    made = places[0].make(start.job)
    assert made is not None
    other = judged(made.job, 0, Verdict.STOP)
    assert order_of(other) != order_of(start)
    assert len(undoing_of(start)) == 1
    assert undoing_of(other) == undoing_of(start)
