"""What was read at the bay, held against the plan, and the plan judged again with it."""

from dataclasses import dataclass, replace

from loadplan.checks.reading import read_at
from loadplan.model.job import Job, StageReading
from loadplan.model.verdict import StageAssessment, Verdict
from loadplan.model.work_record import MAY_GO_ON
from loadplan.planning.judged_readings import JudgedReadings, judge_stage_readings
from loadplan.report.words.vocabulary import Reader, basis_words, shown_verdict
from loadplan.statics.expected_reading import lift_names


@dataclass(frozen=True, slots=True)
class ReadPlace:
    """What was read at one stand, hook or gauge, judged.

    Attributes:
        support: The stand, the hoist, or the lift for its own gauge.
        verdict: Whether it fits the plan.
        words: What was read, what the plan says, and what a difference may mean.
    """

    support: str
    verdict: Verdict
    words: str


@dataclass(frozen=True, slots=True)
class ReadStep:
    """What was read in a step, judged.

    Attributes:
        places: Each stand, hook and gauge at which something was read.
        verdict: What the whole job comes to with the weights that the scales tell; None where they tell none.
        words: That verdict, or why there is none; "" where nothing was read by a scale.
        contradicts: Whether the scales contradict the plan, or each other.
        beyond: Whether no weights inside the plus or minus of the files fit, though chance may have done that.
        by_step: The verdict of each step of the job with the weights that the scales tell; empty where they tell none.
    """

    places: tuple[ReadPlace, ...] = ()
    verdict: Verdict | None = None
    words: str = ""
    contradicts: bool = False
    beyond: bool = False
    by_step: tuple[Verdict, ...] = ()

    @property
    def to_answer_for(self) -> tuple[str, ...]:
        """What was read otherwise than planned, a line each, for somebody to answer for before work goes on."""
        otherwise = [each.words.partition("; ")[0] for each in self.places if each.verdict is Verdict.CAUTION]
        told = otherwise or ([self.words.partition(". ")[0].rstrip(".")] if self.contradicts else [])
        return tuple(f"looked at, and {MAY_GO_ON}: {each}" for each in told)

    @property
    def stops(self) -> bool:
        """Whether work must not go on as planned: no weights inside the tolerances explain it, or by them it stops."""
        return self.verdict is Verdict.STOP or any(each.verdict is Verdict.STOP for each in self.places)


def judge_readings(job: Job, stage: StageAssessment, readings: tuple[StageReading, ...], reader: Reader) -> ReadStep:
    """Hold what was read in a step against the plan, and judge the plan with it.

    Args:
        job: The job as it is saved.
        stage: The step as it is planned, judged.
        readings: What was read there.
        reader: Who reads it.

    Returns:
        It, in words.
    """
    state = stage.state
    here = {each.name for each in state.supports} | lift_names(job, state)
    told = tuple(each for each in readings if each.support in here)
    if not told:
        return ReadStep()
    again = {each.support for each in told}
    # What stands in the file was found, too, and may be what the others contradict.
    told = (*(each for each in state.stage.readings if each.support not in again), *told)
    read = replace(state.stage, readings=told)
    stages = tuple(read if place == state.index else each for place, each in enumerate(job.stages))
    judged = judge_stage_readings(replace(job, stages=stages), replace(stage, state=replace(state, stage=read)))
    if judged.fault:
        fault = f"What was read cannot be held against the plan: {judged.fault}. Stop, and look."
        return ReadStep((), Verdict.STOP, fault)
    places = tuple(
        ReadPlace(place, each.verdict, reader.finding(each))
        for each in judged.findings
        for place in read_at(each, here)
    )
    return _judged_again(judged, places, reader)


def _judged_again(judged: JudgedReadings, places: tuple[ReadPlace, ...], reader: Reader) -> ReadStep:
    """Return the verdict with the weights that the scales tell, which the files' figures bear on as prior knowledge."""
    learnt = judged.learnt
    if learnt is None:
        told = judged.not_learnt
        return ReadStep(places, None, reader.words(f"Nothing is learnt of the weights: {told}.") if told else "")
    if not learnt.update.consistent:
        doubted = ", ".join(learnt.update.suspects)
        words = reader.words(f"The readings contradict the plan; what fits worst: {doubted}. Take it again first.")
        return ReadStep(places, None, words, contradicts=True)
    assessment = learnt.assessment
    shown = shown_verdict(learnt.verdict, assessment.basis)
    worst = next((each for each in assessment.stages if each.verdict is assessment.verdict), None)
    where = f", because of step {worst.state.index + 1}" if worst and assessment.verdict >= Verdict.CAUTION else ""
    if learnt.stops and learnt.verdict > assessment.verdict:
        where = ", because of what was read"
    words = f"With what the scales read, all steps: {shown}{where}. Weights: {basis_words(assessment.basis)}."
    by_step = tuple(each.verdict for each in assessment.stages)
    return ReadStep(places, learnt.verdict, reader.words(words), beyond=learnt.beyond, by_step=by_step)
