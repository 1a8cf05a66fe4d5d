"""A plan judged from a step on: which findings trouble it, and how far it is from tipping."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import NamedTuple

from loadplan.assess import assess_in_short, worst_of
from loadplan.checks.case import Case
from loadplan.checks.check_table import AT_A_GLANCE, CHECK_OF, CHECKS, judge
from loadplan.errors import InputError
from loadplan.model.answer import Statics
from loadplan.model.job import Job, State
from loadplan.model.verdict import CheckName, Finding, StageAssessment, Verdict
from loadplan.stages import states
from loadplan.statics.group import glance, glance_between, solve
from loadplan.statics.solved_groups import SolvedGroups

_UNSOLVED = Statics((), (), (), (), (), None, None, None)
_ON_PAPER = tuple(each for each in CHECKS if not each.needs_loads)

_GLANCED = tuple(dict.fromkeys((*AT_A_GLANCE, *_ON_PAPER)))


class PlanTrouble(NamedTuple):
    """What a finding is about, so that it is known again in another plan.

    Attributes:
        stage: Number of the stage, from 0.
        check: The check.
        subject: What it is about; of joints that come off, whatever the order in which they do.
    """

    stage: int
    check: CheckName
    subject: str


@dataclass(frozen=True, slots=True)
class JudgedPlan:
    """A plan judged from a step on.

    Attributes:
        job: The plan.
        verdict: Of the steps from there on; a plan that cannot be computed stops.
        troubles: Findings that are as bad as was asked for, or worse.
        margin: Smallest worst margin of the bodies other than the lift's [m]: −inf where one is not balanced, inf where
            nothing can tip.
        stages: The steps from there on, judged; empty at a glance.
    """

    job: Job
    verdict: Verdict
    troubles: frozenset[PlanTrouble]
    margin: float
    stages: tuple[StageAssessment, ...] = ()


UNSOLVABLE = PlanTrouble(-1, CheckName.BALANCE, "")
"""Stands for a plan that cannot be computed."""


def judged(job: Job, first: int, least: Verdict) -> JudgedPlan:
    """Judge a plan by every check.

    Args:
        job: The plan.
        first: Number of the first step that counts, from 0.
        least: Findings as bad as this are troubles.

    Returns:
        The plan judged.
    """
    try:
        stages = assess_in_short(job).stages[first:]
    except InputError:
        return JudgedPlan(job, Verdict.STOP, frozenset({UNSOLVABLE}), -inf)
    return JudgedPlan(
        job=job,
        verdict=worst_of([stage.verdict for stage in stages]),
        troubles=frozenset(each for stage in stages for each in _troubles(stage.state.index, stage.findings, least)),
        margin=min(
            (smallest_margin(job, stage.statics) for stage in stages if not stage.state.stage.moved), default=inf
        ),
        stages=stages,
    )


class PlanGlance:
    """Looks at plans that differ from one by a few stands, in passing, by the checks that need no ranges of loads.

    A glance is never worse than what every check comes to, and has no less margin: it sees no uneven floor. So a plan
    that it finds troubled is troubled. What only every check sees is looked at by itself, in the steps where it was.
    """

    def __init__(self, start: JudgedPlan, first: int, least: Verdict) -> None:
        """Look at the plan from which the others differ.

        Args:
            start: That plan, judged.
            first: Number of the first step that counts, from 0.
            least: Findings as bad as this are troubles.
        """
        self._first, self._least = first, least
        self._groups = SolvedGroups(glance, start.job, states(start.job))
        plan = self.look(start.job, lambda _: False)
        assert plan is not None
        self.start = plan
        self.blind = frozenset(each for each in start.troubles - plan.troubles if each is not UNSOLVABLE)
        deep = glance_between if all(CHECK_OF[each.check].between_steps for each in self.blind) else solve
        self._deep = SolvedGroups(deep, start.job, states(start.job)) if self.blind else self._groups

    def look(self, job: Job, hopeless: Callable[["SeenSoFar"], bool]) -> JudgedPlan | None:
        """Look at a plan.

        Args:
            job: The plan.
            hopeless: Says of what was seen so far whether to look no further.

        Returns:
            The plan, perhaps judged too mildly; None where it was looked at no further.
        """
        seen = SeenSoFar(Verdict.HOLDS, frozenset(), inf)
        followed = states(job)
        try:
            for case in self._cases(job, followed, self._groups):
                findings = judge(case, _GLANCED)[0]
                seen = SeenSoFar(
                    worst_of([seen.verdict, *(each.verdict for each in findings)]),
                    seen.troubles.union(_troubles(case.state.index, findings, self._least)),
                    min(seen.margin, smallest_margin(job, case.statics)),
                )
                if hopeless(seen):
                    return None
        except InputError:
            return JudgedPlan(job, Verdict.STOP, frozenset({UNSOLVABLE}), -inf)
        return JudgedPlan(job, seen.verdict, seen.troubles, seen.margin)

    def blind_left(self, job: Job) -> frozenset[PlanTrouble]:
        """Look for the troubles of the start that no glance sees, in the steps where they were.

        Args:
            job: The plan.

        Returns:
            Those that are left in it; all where it cannot be computed.
        """
        if not self.blind:
            return frozenset()
        last = max(each.stage for each in self.blind)
        checks = tuple(each for each in CHECKS if each.name in {trouble.check for trouble in self.blind})
        left: set[PlanTrouble] = set()
        try:
            for case in self._cases(job, states(job), self._deep):
                if case.state.index in {each.stage for each in self.blind}:
                    left |= self.blind & set(_troubles(case.state.index, judge(case, checks)[0], self._least))
                if case.state.index >= last:
                    break
        except InputError:
            return self.blind
        return frozenset(left)

    def _cases(self, job: Job, followed: tuple[State, ...], groups: SolvedGroups) -> Iterator[Case]:
        """Yield the steps from the first that counts, each solved when it is asked for."""
        for each in zip(followed, groups.stages(job, followed), (None, *followed[:-1]), strict=True):
            if each[0].index >= self._first and not each[0].stage.moved:
                yield Case(job, *each)


class SeenSoFar(NamedTuple):
    """What was seen of a plan, some steps of which were not looked at yet: it can only get worse.

    Attributes:
        verdict: The worst so far.
        troubles: The troubles so far.
        margin: Smallest worst margin so far [m].
    """

    verdict: Verdict
    troubles: frozenset[PlanTrouble]
    margin: float


def on_paper(
    job: Job, first: int, least: Verdict, hopeless: Callable[[frozenset[PlanTrouble]], bool] = lambda _: False
) -> frozenset[PlanTrouble]:
    """Look at a plan by the checks that need no loads.

    Args:
        job: The plan.
        first: Number of the first step that counts, from 0.
        least: Findings as bad as this are troubles.
        hopeless: Says of what was found so far whether to look no further.

    Returns:
        What these checks find: all of it is found by every check, too.
    """
    followed = (None, *states(job))
    found: frozenset[PlanTrouble] = frozenset()
    for before, state in pairwise(followed):
        if state is not None and state.index >= first and not state.stage.moved:
            case = Case(job, state, _UNSOLVED, before)
            found = found.union(_troubles(state.index, judge(case, _ON_PAPER)[0], least))
            if hopeless(found):
                break
    return found


def _troubles(stage: int, findings: tuple[Finding, ...], least: Verdict) -> list[PlanTrouble]:
    """Return the findings of a stage that are as bad as was asked for."""
    return [
        PlanTrouble(stage, each.check, _known_again(each))
        for each in findings
        if each.verdict >= least and (CHECK_OF[each.check].mended_by_stands or each.verdict is Verdict.STOP)
    ]


def _known_again(finding: Finding) -> str:
    """Return what a finding is about in any plan: the order in which joints come off is told of one plan alone."""
    if finding.check is CheckName.UNDOING:
        return ", ".join(sorted(finding.subject.split(", ")))
    return finding.subject


def smallest_margin(job: Job, statics: Statics) -> float:
    """Find the smallest worst margin in one stage over the bodies other than the lift's.

    Args:
        job: The job.
        statics: The stage solved.

    Returns:
        The margin [m]: −inf where a body is not balanced, inf where nothing can tip.
    """
    lifted = job.lift.body if job.lift else ""
    bodies = [each for each in statics.bodies if each.name != lifted]
    if not all(each.balanced for each in bodies):
        return -inf
    return min((each.worst_margin for each in bodies if each.worst_margin is not None), default=inf)
