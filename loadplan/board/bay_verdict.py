"""The verdict of each step with what is known of the work at the bay: what the bay's and the plan's pages show.

It is what `check` tells: no milder than the plan, no milder than what was read, and a caution as long as what moved was
not looked at, or what was read cannot be told.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple
from weakref import WeakKeyDictionary

from loadplan.assess import worst_of
from loadplan.board.bay_readings import ReadStep, judge_readings
from loadplan.board.undo_history import Plan
from loadplan.board.worker_process import Doing
from loadplan.errors import InputError
from loadplan.model.job import StageReading
from loadplan.model.verdict import Assessment, CheckName, Finding, Measure, StageAssessment, Verdict
from loadplan.model.work_record import WorkRecord
from loadplan.planning.record_doubt import record_findings
from loadplan.planning.record_readings import readings_of
from loadplan.planning.record_verdict import with_found
from loadplan.report.words.number_format import units_of
from loadplan.report.words.vocabulary import reader_of


class AtTheBay(NamedTuple):
    """What was known last of the work at the bay.

    Attributes:
        state: A sum of the record.
        found: What it adds to each step; empty where nothing was done.
    """

    state: str
    found: tuple[tuple[Finding, ...], ...]


class _ReadKey(NamedTuple):
    """What has to stay the same for readings to be judged the same."""

    revision: int
    readings: tuple[StageReading, ...]


_READ: "WeakKeyDictionary[Plan, dict[int, tuple[_ReadKey, ReadStep]]]" = WeakKeyDictionary()
"""What was judged last of each step of each plan: a page is shown again after every tap."""


def judged_step(plan: Plan, do: Doing, record: WorkRecord, stage: StageAssessment) -> ReadStep:
    """Judge what was read in a step, once as long as nothing about it changes.

    Args:
        plan: The plan.
        do: Does what takes long.
        record: What was done.
        stage: The step, judged.

    Returns:
        What was read; a stop where it cannot be judged. While the plan has changes that are not saved, what was judged
        of the same readings last: nobody works by a plan that is not saved.
    """
    place, job = stage.state.index, plan.draft.job
    key = _ReadKey(plan.revision, readings_of(record, stage.state.name))
    if not key.readings:
        return ReadStep()
    of_plan = _READ.setdefault(plan, {})
    known = of_plan.get(place)
    if known is not None and known[0].readings == key.readings and (plan.unsaved or plan.draft.what_if):
        return known[1]
    if known is None or known[0] != key:
        try:
            # In the process beside: what takes too long there keeps nobody else waiting.
            read = do(judge_readings, job, stage, key.readings, reader_of(job, units_of(job)))
        except InputError as error:
            return ReadStep((), Verdict.STOP, f"What was read could not be judged: {error}")
        known = of_plan[place] = (key, read)
    return known[1]


def bay_findings(plan: Plan, do: Doing, record: WorkRecord) -> tuple[tuple[Finding, ...], ...]:
    """Find what the work at the bay adds to each step of a plan.

    Args:
        plan: The plan.
        do: Does what takes long.
        record: What was done.

    Returns:
        For each step what moved and was not looked at, what is in doubt, and what was read otherwise than planned;
        nothing of readings once the job is over.
    """
    stages = plan.draft.assessment.stages
    # Whatever step it was in: nobody knows what it did to the others.
    doubts = tuple(finding for _, finding in record_findings(plan.draft.job, record))
    read = {} if record.is_over else {each.state.index: judged_step(plan, do, record, each) for each in stages}
    return tuple((*doubts, *_of_readings(each, read)) for each in stages)


def with_bay(assessment: Assessment, found: tuple[tuple[Finding, ...], ...]) -> Assessment:
    """Return a judged job with what the work at the bay adds to each of its steps; as it is where it adds nothing."""
    if not any(found):
        return assessment
    stages = tuple(with_found(stage, here) for stage, here in zip(assessment.stages, found, strict=True))
    verdict = max(assessment.verdict, worst_of([each.verdict for each in stages]))
    return replace(assessment, verdict=verdict, stages=stages)


def worst_at_bay(planned: Verdict, found: tuple[Finding, ...]) -> Verdict:
    """Return the worse of what is planned and of what the work at the bay adds."""
    return max(planned, worst_of([each.verdict for each in found]))


def _of_readings(stage: StageAssessment, read: dict[int, ReadStep]) -> Iterator[Finding]:
    """Yield what readings add to a step: its own, and what all of them say of the weights."""
    here = read.get(stage.state.index, ReadStep())
    for place in here.places:
        if place.verdict > Verdict.NOTE:
            yield _finding(place.verdict, place.support, place.words)
    if here.contradicts or (here.stops and not any(each.verdict is Verdict.STOP for each in here.places)):
        yield _finding(Verdict.STOP, stage.state.name, here.words)
    elif here.beyond and not here.stops:
        yield _finding(Verdict.CAUTION, stage.state.name, here.words)
    for index, each in read.items():
        learnt = each.by_step[stage.state.index] if stage.state.index < len(each.by_step) else Verdict.HOLDS
        if learnt > max(stage.verdict, Verdict.NOTE):
            says = f"With the weights that scales at the bay tell in step {index + 1} this step is no better than this."
            yield _finding(learnt, stage.state.name, says)


def _finding(verdict: Verdict, subject: str, says: str) -> Finding:
    return Finding(CheckName.READING, verdict, subject, None, None, Measure.LOAD, (f"Read at the bay: {says}",))
