"""A plan judged from a step on: which findings trouble it, and how far it is from tipping."""

from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import NamedTuple

from loadplan.assess import assess_in_short, worst_of
from loadplan.checks.case import Case
from loadplan.checks.check_table import AT_A_GLANCE, CHECK_OF, CHECKS, judge
from loadplan.errors import InputError
from loadplan.model.answer import Statics
from loadplan.model.job import Job
from loadplan.model.verdict import CheckName, Finding, StageAssessment, Verdict
from loadplan.stages import states
from loadplan.statics.group import glance
from loadplan.statics.stage_sequence import solve_stages_by

_UNSOLVED = Statics((), (), (), (), (), None, None, None)
_ON_PAPER = tuple(each for each in CHECKS if not each.needs_loads)
_GLANCED = tuple(dict.fromkeys((*AT_A_GLANCE, *_ON_PAPER)))


class PlanTrouble(NamedTuple):
    """What a finding is about, so that it is known again in another plan.

    Attributes:
        stage: Number of the stage, from 0.
        check: The check.
        subject: What it is about.
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


def glanced(job: Job, first: int, least: Verdict) -> JudgedPlan:
    """Look at a plan in passing, by the checks that need no ranges of loads.

    A glance is never worse than what every check comes to, and has no less margin: it sees no uneven floor. So a plan
    that it finds troubled is troubled.

    Args:
        job: The plan.
        first: Number of the first step that counts, from 0.
        least: Findings as bad as this are troubles.

    Returns:
        The plan, perhaps judged too mildly.
    """
    followed = states(job)
    try:
        solved = solve_stages_by(glance, job, followed, lambda _: None)
        cases = [Case(job, *each) for each in zip(followed, solved, (None, *followed[:-1]), strict=True)]
        found = [(each, judge(each, _GLANCED)[0]) for each in cases[first:] if not each.state.stage.moved]
    except InputError:
        return JudgedPlan(job, Verdict.STOP, frozenset({UNSOLVABLE}), -inf)
    return JudgedPlan(
        job=job,
        verdict=worst_of([finding.verdict for _, findings in found for finding in findings]),
        troubles=frozenset(each for case, findings in found for each in _troubles(case.state.index, findings, least)),
        margin=min((smallest_margin(job, case.statics) for case, _ in found), default=inf),
    )


def on_paper(job: Job, first: int, least: Verdict) -> frozenset[PlanTrouble]:
    """Look at a plan by the checks that need no loads.

    Args:
        job: The plan.
        first: Number of the first step that counts, from 0.
        least: Findings as bad as this are troubles.

    Returns:
        What these checks find: all of it is found by every check, too.
    """
    followed = (None, *states(job))
    cases = [
        Case(job, state, _UNSOLVED, before)
        for before, state in pairwise(followed)
        if state is not None and state.index >= first and not state.stage.moved
    ]
    return frozenset(each for case in cases for each in _troubles(case.state.index, judge(case, _ON_PAPER)[0], least))


def _troubles(stage: int, findings: tuple[Finding, ...], least: Verdict) -> list[PlanTrouble]:
    """Return the findings of a stage that are as bad as was asked for."""
    return [
        PlanTrouble(stage, each.check, each.subject)
        for each in findings
        if each.verdict >= least and (CHECK_OF[each.check].mended_by_stands or each.verdict is Verdict.STOP)
    ]


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
