"""Readings of a step, judged: each against the plan, and the whole job by the weights that the scales tell."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from loadplan.checks import reading
from loadplan.checks.case import Case, Told
from loadplan.errors import InputError
from loadplan.model.job import Job
from loadplan.model.verdict import Finding, StageAssessment
from loadplan.statics.unsolved import UNSOLVED, fault_of

if TYPE_CHECKING:
    from loadplan.planning.weight_learning import WeightLearning


OTHERWISE = "By itself it could be so; with all else that is known it does not fit."
"""What is said of a reading that is likely by itself, and fits worst of those that contradict the plan."""


@dataclass(frozen=True, slots=True)
class JudgedReadings:
    """What the readings of a step come to.

    Attributes:
        told: What each of them comes to against the plan, or why nothing can be said of it.
        learnt: The weights that the scales tell, and the verdict on all steps with them; None where they tell none.
        not_learnt: Why they tell none; "" where they do, or where no scale was read.
        fault: Why nothing can be held against the plan, which leaves nobody knowing what stands there; "" where it can.
    """

    told: tuple[Told, ...] = ()
    learnt: "WeightLearning | None" = None
    not_learnt: str = ""
    fault: str = ""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What each reading comes to, of which something can be said; never that it fits where the rest says no."""
        update = self.learnt.update if self.learnt else None
        doubted = update.suspects if update and not update.consistent else ()
        found = (each for each in self.told if isinstance(each, Finding))
        return tuple(_doubtful(each) if each.subject in doubted else each for each in found)


def judge_stage_readings(job: Job, stage: StageAssessment) -> JudgedReadings:
    """Hold the readings of a step against the plan, and judge the plan by the weights that the scales tell.

    Args:
        job: The job, with the readings in its steps.
        stage: The step as it is planned, judged, with the readings in it: they change nothing of what was computed.

    Returns:
        What they come to; nothing where the step has none.
    """
    state = stage.state
    if not state.stage.readings:
        return JudgedReadings()
    try:
        told = tuple(reading.check(Case(job, state, stage.statics, None)))
    except InputError as error:
        return JudgedReadings(fault=str(error))
    except UNSOLVED as error:
        return JudgedReadings(fault=str(fault_of(job, state, error)))
    if all(each.load is None for each in state.stage.readings):
        return JudgedReadings(told)
    return replace(_learnt(job, stage), told=told)


def _learnt(job: Job, stage: StageAssessment) -> JudgedReadings:
    """Return the weights that the scales of a step tell, or why they tell none."""
    # Learning needs scipy, for which nobody waits until a scale was read.
    from loadplan.planning.weight_learning import learn_weights  # noqa: PLC0415

    try:
        return JudgedReadings(learnt=learn_weights(job, stage.state.index, stage.statics))
    except InputError as error:
        return JudgedReadings(not_learnt=error.message)
    except UNSOLVED as error:
        return JudgedReadings(not_learnt=str(fault_of(job, stage.state, error)))


def _doubtful(finding: Finding) -> Finding:
    """Return a finding that does not say of its reading that it fits."""
    says = (each.replace(reading.FITS, OTHERWISE) if isinstance(each, str) else each for each in finding.says)
    return replace(finding, says=tuple(says))
