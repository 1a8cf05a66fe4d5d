"""A told cure that moves or raises stands, judged over all steps: it holds for every step in which they stand.

A distance or a height is solved for the step that needs it. So once somebody reads it, the whole job is judged with it,
and the cure names the steps that would come out worse. Stands that are moved are there from the beginning, and what is
brought up to touch later then touches a unit that stands otherwise: a distance that no longer does is not told.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import TypeAlias

from loadplan.checks.check_table import CHECK_OF
from loadplan.checks.phrases import names, several
from loadplan.errors import InputError
from loadplan.model.job import Job, State, Support
from loadplan.model.plan_cure import PlanCure, StandsMoved, StandsRaised, StandUnder
from loadplan.model.verdict import (
    Assessment,
    CheckName,
    Finding,
    FindingPlace,
    FoundCure,
    Measure,
    Sentence,
    SolvedCure,
    StageAssessment,
    Verdict,
)
from loadplan.statics.unsolved import UNSOLVED

Worst: TypeAlias = tuple[tuple[CheckName, Verdict], ...]
"""The worst verdict of each check that found something in a step."""

Judge: TypeAlias = Callable[[Job], Assessment]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a job comes to with some stands changed.

    Attributes:
        says: Which steps come out worse, a sentence of its own, beginning with a blank; empty where none does.
        findings: Each finding, by its place; None where the job could not be judged.
    """

    says: str = ""
    findings: Mapping[FindingPlace, Finding] | None = None

    def ends(self, place: FindingPlace, cure: FoundCure, measure: Measure) -> bool:
        """Tell whether what a cure promises is so.

        Args:
            place: Where the finding stands that it cures.
            cure: The cure.
            measure: By what that finding is judged.

        Returns:
            Whether the finding is gone, or where the cure promises only as much, is now judged by something else.
        """
        if self.findings is None:
            return True
        left = self.findings.get(place)
        if left is None:
            return False
        return left.verdict < Verdict.CAUTION or (cure.leaves_other and left.measure is not measure)


@dataclass(frozen=True, slots=True)
class AllSteps:
    """A job as it was judged, to compare with.

    Attributes:
        job: The job.
        worst: Of each step what each check came to.
        judge: Judges a job.
        seen: Jobs that were judged already, by what was changed, and what they came to.
    """

    job: Job
    worst: tuple[Worst, ...]
    judge: Judge
    seen: dict[tuple[Support, ...], Outcome] = field(default_factory=dict, compare=False)

    def with_that(self, changed: tuple[Support, ...]) -> Outcome:
        """Judge the job with some stands changed, once for all who ask.

        Args:
            changed: The stands as they would be from the beginning.

        Returns:
            What it comes to.
        """
        if changed not in self.seen:
            self.seen[changed] = _outcome(self, changed)
        return self.seen[changed]


def judged_in_all_steps(job: Job, stages: Sequence[StageAssessment], judge: Judge) -> tuple[StageAssessment, ...]:
    """Have each cure that moves or raises stands judged over all steps once it is read.

    Args:
        job: The job.
        stages: Its steps, judged.
        judge: Judges a job as these were.

    Returns:
        The same, with cures that tell which steps come out worse with them.
    """
    if not any(each.cure or each.cures for stage in stages for each in stage.findings):
        return tuple(stages)
    every = AllSteps(job, tuple(_worst_of(each) for each in stages), judge)
    return tuple(replace(each, findings=tuple(_judged(every, each, of) for of in each.findings)) for each in stages)


def _judged(every: AllSteps, stage: StageAssessment, finding: Finding) -> Finding:
    """Return a finding whose cure is judged over all steps."""
    if finding.cure is not None:
        place = FindingPlace(stage.state.index, finding.check, finding.subject)
        return replace(finding, cure=SolvedCure(partial(_found, every, finding, place)))
    raised = _raised(every.job, stage.state, finding.cures) if CHECK_OF[finding.check].raised_for_good else ()
    return replace(finding, cure=SolvedCure(partial(_what_else, every, raised))) if raised else finding


def _found(every: AllSteps, finding: Finding, place: FindingPlace) -> FoundCure:
    """Return a finding's cure, solved, and what else comes of it; nothing where it cures nothing over all steps."""
    found = FoundCure() if finding.cure is None else finding.cure.found
    moved = _moved(every.job, found.cures)
    if not moved:
        return found
    outcome = every.with_that(moved)
    further_out = any(isinstance(each, StandsMoved) for each in found.cures)
    if further_out and not outcome.ends(place, found, finding.measure):
        return FoundCure()
    return replace(found, says=(*found.says, *_said(outcome)))


def _what_else(every: AllSteps, changed: tuple[Support, ...]) -> FoundCure:
    """Return what else comes of stands changed as a finding's own words say."""
    return FoundCure(_said(every.with_that(changed)))


def _said(outcome: Outcome) -> Sentence:
    return (outcome.says,) if outcome.says else ()


def _moved(job: Job, cures: tuple[PlanCure, ...]) -> tuple[Support, ...]:
    """Return stands where cures would have them stand from the beginning."""
    to = {each.support: each.to for cure in cures if isinstance(cure, StandsMoved) for each in cure.moves}
    under = {cure.support: cure.point for cure in cures if isinstance(cure, StandUnder)}
    points = {each.name: each for each in job.vehicle.points}
    moved = tuple(replace(each, at=(*to[each.name], each.at[2])) for each in job.supports if each.name in to)
    # At another point a stand is set as high as it has to be there.
    others = (each.under(points[under[each.name]], job.vehicle) for each in job.supports if each.name in under)
    return (*moved, *(replace(each, height=None) for each in others))


def _raised(job: Job, state: State, cures: tuple[PlanCure, ...]) -> tuple[Support, ...]:
    """Return stands as a cure raises them from the beginning; none where a step sets one of them anew."""
    ups = {each.support: each.by for cure in cures if isinstance(cure, StandsRaised) for each in cure.raises}
    here = {each.name: each.height for each in state.supports}
    found = tuple(each for each in job.supports if each.name in ups and each.height is not None)
    if len(found) < len(ups) or any(here.get(each.name) != each.height for each in found):
        return ()
    return tuple(replace(each, height=(each.height or 0.0) + ups[each.name]) for each in found)


def _worst_of(stage: StageAssessment) -> Worst:
    worst: dict[CheckName, Verdict] = {}
    for each in stage.findings:
        worst[each.check] = max(each.verdict, worst.get(each.check, Verdict.HOLDS))
    return tuple(worst.items())


def _outcome(every: AllSteps, changed: tuple[Support, ...]) -> Outcome:
    """Return what the job comes to with stands changed; nothing where it cannot be judged."""
    by_name = {each.name: each for each in changed}
    job = replace(every.job, supports=tuple(by_name.get(each.name, each) for each in every.job.supports))
    try:
        stages = every.judge(job).stages
    except (*UNSOLVED, InputError):
        return Outcome()
    findings = {FindingPlace(each.state.index, of.check, of.subject): of for each in stages for of in each.findings}
    return Outcome(_worse(every, stages), findings)


def _worse(every: AllSteps, stages: Sequence[StageAssessment]) -> str:
    """Return which steps come out worse than before, in words; empty where none does."""
    comes_to = [_comes_to(dict(before), stage) for before, stage in zip(every.worst, stages, strict=True)]
    stops = [stage.state.name for stage, worst in zip(stages, comes_to, strict=True) if worst is Verdict.STOP]
    if stops:
        return f" But {names(stops)} {several(stops, 'stops', 'stop')} with that: mend the plan as a whole."
    cautions = [stage.state.name for stage, worst in zip(stages, comes_to, strict=True) if worst is Verdict.CAUTION]
    return f" Something else in {names(cautions)} then comes to a caution." if cautions else ""


def _comes_to(before: dict[CheckName, Verdict], stage: StageAssessment) -> Verdict:
    """Return the worst of what got worse in a step."""
    now = dict(_worst_of(stage))
    told = [(check, verdict) for check, verdict in now.items() if not CHECK_OF[check].of_settings]
    worse = [verdict for check, verdict in told if verdict > before.get(check, Verdict.HOLDS)]
    return max(worse, default=Verdict.HOLDS)
