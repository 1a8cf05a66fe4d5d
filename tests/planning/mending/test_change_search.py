"""What orders plans, what a look costs, and which sets of changes are looked at."""

from dataclasses import replace
from itertools import pairwise
from math import inf

import pytest

from loadplan.model.job import Job
from loadplan.model.verdict import CheckName, Measure, Quantity, Verdict
from loadplan.planning.mending.candidate_changes import candidates
from loadplan.planning.mending.change_search import (
    FULL_LOOKS,
    LEAST_LOOKS,
    MOST_LOOKS,
    MOST_WORK,
    ON_PAPER,
    TIE,
    ChangeSearch,
    LooksTaken,
    TriedChanges,
    apart,
    made,
    plan_rank,
)
from loadplan.planning.mending.judged_plan import JudgedPlan, PlanTrouble, judged
from loadplan.planning.mending.plan_change import ChangeKind, MadeChange, PlanChange, place_words
from tests.planning.mending.plans import RATCHET, SCREW, but, plan, stand

JOB = replace(plan(*but(stand("A", "front left", height=0.47)), shop=(RATCHET, SCREW)), stages=plan().stages[:1])
STAGES = judged(JOB, 0, Verdict.STOP).stages


def _change(about: str, kind: ChangeKind = ChangeKind.HEIGHT, *, at_cell: bool = False) -> PlanChange:
    return PlanChange(kind, about, lambda job: MadeChange(job, about, (f"Do {about}.",)), at_cell)


def _tried(verdict: Verdict, troubles: int = 0, margin: float = 0.1, *, cells: int = 0) -> TriedChanges:
    found = frozenset(PlanTrouble(number, CheckName.BALANCE, "unit") for number in range(troubles))
    changes = tuple(_change(f"{number}", at_cell=True) for number in range(cells))
    return TriedChanges(changes, JudgedPlan(JOB, verdict, found, margin, STAGES), ())


def _ledger(share: float = 1.0) -> LooksTaken:
    return LooksTaken(lambda *_: None, share=share)


def test_a_milder_verdict_ranks_first_then_fewer_troubles_then_points_then_more_margin() -> None:
    ranked = [
        plan_rank(Verdict.HOLDS, 1, 0, 0.0),
        plan_rank(Verdict.NOTE, 0, 0, 0.3),
        plan_rank(Verdict.CAUTION, 0, 0, 0.1),
        plan_rank(Verdict.CAUTION, 0, 1, inf),
        plan_rank(Verdict.HOLDS, 0, 2, 0.1),
        plan_rank(Verdict.CAUTION, 1, 0, 0.9),
        plan_rank(Verdict.STOP, 0, 1, 0.2),
        plan_rank(Verdict.STOP, 0, 1, 0.1),
        plan_rank(Verdict.STOP, 0, 1, -inf),
    ]
    assert all(one < other for one, other in pairwise(ranked))


def test_margins_that_are_told_alike_count_as_equal() -> None:
    assert plan_rank(Verdict.HOLDS, 0, 0, 0.1) == plan_rank(Verdict.HOLDS, 0, 0, 0.1 + 0.4 * TIE)
    assert plan_rank(Verdict.HOLDS, 0, 0, 0.1) > plan_rank(Verdict.HOLDS, 0, 0, 0.1 + TIE)


def test_a_stand_at_no_point_ranks_its_plan_with_those_that_caution() -> None:
    assert _tried(Verdict.HOLDS, cells=1).rank == plan_rank(Verdict.CAUTION, 0, 1, 0.1)
    assert _tried(Verdict.STOP, 2, cells=2).rank == plan_rank(Verdict.STOP, 2, 2, 0.1)


def test_of_those_that_reach_the_goal_the_first_in_rank_is_the_answer() -> None:
    search = ChangeSearch(judged(JOB, 0, Verdict.STOP), 0, Verdict.STOP, _ledger())
    good, more = _tried(Verdict.NOTE), _tried(Verdict.NOTE, margin=0.2)
    unjudged = replace(more, plan=replace(more.plan, margin=0.9, stages=()))
    assert search.best_of([_tried(Verdict.STOP, 1), good, unjudged, more]) is more
    assert search.best_of([_tried(Verdict.STOP, 1), unjudged]) is None
    cell = _tried(Verdict.HOLDS, cells=1)
    assert search.best_of([cell]) is cell
    calm = ChangeSearch(judged(JOB, 0, Verdict.CAUTION), 0, Verdict.CAUTION, _ledger())
    assert calm.best_of([cell]) is None


@pytest.mark.parametrize(("steps", "looks"), [(1, MOST_LOOKS), (3, MOST_LOOKS), (4, 1687), (12, LEAST_LOOKS)])
def test_the_more_steps_a_plan_has_the_fewer_plans_are_looked_at(steps: int, looks: int) -> None:
    """27,000 plans times the square of their steps, no more than 3000 and no fewer than 200 plans."""
    assert (MOST_LOOKS, MOST_WORK, LEAST_LOOKS, FULL_LOOKS) == (3000, 27_000, 200, 4)
    job = replace(JOB, stages=tuple(replace(JOB.stages[0], name=f"step {number}") for number in range(steps)))
    start = JudgedPlan(job, Verdict.HOLDS, frozenset(), inf)
    search = ChangeSearch(start, steps, Verdict.STOP, _ledger())
    assert search._most == looks
    assert search._full_left == looks // FULL_LOOKS
    assert ChangeSearch(start, steps, Verdict.STOP, _ledger(0.25))._most == looks / 4


def test_a_look_on_paper_costs_an_eighth_and_one_that_solves_a_whole() -> None:
    """Of pairs that the checks on paper find troubled nothing is solved."""
    assert ON_PAPER == 0.125
    start = judged(JOB, 0, Verdict.STOP)
    ledger = _ledger()
    ledger.goal_looks = 99.0
    search = ChangeSearch(start, 0, Verdict.STOP, ledger)
    assert ledger.goal_looks == 0
    moves = [each for each in candidates(start, 0) if each.kind is ChangeKind.PLACE and each.about in "BC"]
    same = [each for each in moves if "under middle left" in str(each.make(JOB))]
    singles = search.singles(same)
    assert (len(singles), ledger.goal_looks, ledger.looks, ledger.planned) == (2, 2.0, 2, 2)
    # Two stands at one place are seen on paper.
    found = search.several([(same[0], same[1])])
    assert len(found) == 1
    assert found[0].plan.troubles
    assert found[0].plan.verdict is Verdict.STOP
    assert ledger.goal_looks == 2.0 + ON_PAPER
    assert (ledger.looks, ledger.planned) == (3, 3)


def test_a_change_that_cannot_be_made_costs_a_look_on_paper() -> None:
    ledger = _ledger()
    search = ChangeSearch(judged(JOB, 0, Verdict.STOP), 0, Verdict.STOP, ledger)
    never = PlanChange(ChangeKind.ADD, "x", lambda _: None)
    assert search.singles([never]) == []
    assert ledger.goal_looks == ON_PAPER


def _of_b_and_c() -> tuple[PlanChange, ...]:
    """A change of B's height and one of C's, after each of which A still stops."""
    heights = [each for each in candidates(judged(JOB, 0, Verdict.STOP), 0) if each.kind is ChangeKind.HEIGHT]
    return tuple(next(each for each in heights if each.about == name) for name in "BC")


@pytest.mark.parametrize(("looks", "seen", "out"), [(1, 1, True), (2, 2, False)])
def test_what_is_left_out_of_singles_might_have_been_fewer(looks: int, seen: int, *, out: bool) -> None:
    ledger = _ledger(looks / MOST_LOOKS)
    search = ChangeSearch(judged(JOB, 0, Verdict.STOP), 0, Verdict.STOP, ledger)
    assert len(search.singles(_of_b_and_c())) == seen
    assert (ledger.ran_out, ledger.cut) == (out, out)


def test_what_is_left_out_of_pairs_might_not() -> None:
    ledger = _ledger(2 / MOST_LOOKS)
    search = ChangeSearch(judged(JOB, 0, Verdict.STOP), 0, Verdict.STOP, ledger)
    both = _of_b_and_c()
    search.singles(both)
    assert search.several([both]) == []
    assert (ledger.ran_out, ledger.cut) == (True, False)


def test_two_changes_of_one_kind_about_the_same_are_never_made_together() -> None:
    up, down, other = _change("A"), _change("A"), _change("B")
    moved = _change("A", ChangeKind.PLACE)
    sets = [(up,), (up, down), (up, other), (other, up), (up, moved), (up, other, down), (up, moved, other)]
    assert list(apart(sets)) == [(up,), (up, other), (up, moved), (up, moved, other)]


def test_changes_are_made_one_after_the_other_or_not_at_all() -> None:
    def named(job: Job) -> MadeChange:
        return MadeChange(replace(job, title=f"{job.title}!"), "A", ("Shout.",))

    shout = PlanChange(ChangeKind.CLEAR, "A", named)
    found = made(JOB, (shout, shout))
    assert found is not None
    assert found[0].title == f"{JOB.title}!!"
    assert [(each.kind, each.support, each.says) for each in found[1]] == [(ChangeKind.CLEAR, "A", ("Shout.",))] * 2
    assert made(JOB, (shout, PlanChange(ChangeKind.ADD, "", lambda _: None))) is None


def test_a_place_is_told_from_the_axle_line_and_the_centre_line() -> None:
    def told(x: float, y: float) -> tuple[object, ...]:
        return place_words((x, y, 0.3))

    along, across = Quantity(0.4, Measure.LENGTH), Quantity(0.2, Measure.LENGTH)
    ahead, behind = " in front of the axle line and ", " behind the axle line and "
    assert told(0.4, 0.2) == (along, ahead, across, " left of the centre line")
    assert told(-0.4, -0.2) == (along, behind, across, " right of the centre line")
