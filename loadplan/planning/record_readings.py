"""Readings out of a record: what was read at the bay in a step, as readings of the job."""

from dataclasses import replace

from loadplan.files.readings_reader import LOAD_LEAST, LOAD_SHARE
from loadplan.limits import GRAVITY
from loadplan.model.job import Job, StageReading
from loadplan.model.work_record import Deed, FoundAtStand, RecordEntry, WorkRecord
from loadplan.stages import states
from loadplan.statics.expected_reading import lift_names


def readings_of(record: WorkRecord, step: str) -> tuple[StageReading, ...]:
    """Take what was read last at each stand, hook and gauge of a step.

    What was read before something moved counts until it is read again: a reading that stops the step is not got rid of
    by saying that something moved. The page tells that it is from before (`read_before_moved`).

    Args:
        record: What was done.
        step: Name of the step.

    Returns:
        One reading each; a scale may be off as much as one of a file that does not say.
    """
    found = [each.found for each in record.entries if each.step == step and each.found is not None]
    return tuple({each.support: _reading(each) for each in found}.values())


def readings_at_each_height(record: WorkRecord, step: str) -> tuple[StageReading, ...]:
    """Take what was read last at each stand, hook and gauge of a step with the lift at each height.

    Args:
        record: What was done.
        step: Name of the step.

    Returns:
        One reading for each of them and each height that was written down with it.
    """
    return tuple(_reading(each.found) for each in last_read(record, step) if each.found is not None)


def last_read(record: WorkRecord, step: str) -> tuple[RecordEntry, ...]:
    """Take the entries of what was read last in a step, as `readings_at_each_height` has it.

    Args:
        record: What was done.
        step: Name of the step.

    Returns:
        One entry for each place and each height of the lift.
    """
    last: dict[tuple[str, float | None], RecordEntry] = {}
    for each in record.entries:
        if each.step == step and each.found is not None:
            last[each.found.support, each.found.lowered] = each
    return tuple(last.values())


def read_before_moved(record: WorkRecord, step: str) -> frozenset[str]:
    """Name what was not read again in a step since something moved.

    Args:
        record: What was done.
        step: Name of the step.

    Returns:
        Names of stands, hooks and lift; none where nothing moved.
    """
    before: set[str] = set()
    here: set[str] = set()
    for entry in record.entries:
        if entry.deed is Deed.MOVED:
            before |= here
        elif entry.step == step and entry.found is not None:
            here.add(entry.found.support)
            before.discard(entry.found.support)
    return frozenset(before)


def with_record_readings(job: Job, record: WorkRecord) -> Job:
    """Put what was read at the bay into a job's steps.

    Args:
        job: The job.
        record: What was done of it.

    Returns:
        The job; where its file has a reading of the same place, the lift at the same height, that of the record counts.
        What was read where this plan has nothing any more is left out (`read_of_no_plan`).
    """
    if not any(each.found for each in record.entries):
        return job
    stages = tuple(
        replace(stage, readings=_joined(stage.readings, readings_at_each_height(record, stage.name), here))
        for stage, here in zip(job.stages, _read_places(job), strict=True)
    )
    return replace(job, stages=stages)


def read_of_no_plan(job: Job, record: WorkRecord) -> tuple[RecordEntry, ...]:
    """Find what was read at the bay and cannot count: the plan has no such step now, or nothing of that name in it.

    Args:
        job: The job.
        record: What was done of it.

    Returns:
        The entries, in the order in which they were made.
    """
    here = dict(zip((each.name for each in job.stages), _read_places(job), strict=True))
    read = (each for each in record.entries if each.found is not None)
    return tuple(each for each in read if each.found and each.found.support not in here.get(each.step, frozenset()))


def _read_places(job: Job) -> list[frozenset[str]]:
    """Return for each step where something can be read: its stands, hooks and arms, and the lift's gauge."""
    return [frozenset(each.name for each in state.supports) | lift_names(job, state) for state in states(job)]


def _joined(
    written: tuple[StageReading, ...], read: tuple[StageReading, ...], here: frozenset[str]
) -> tuple[StageReading, ...]:
    told = tuple(each for each in read if each.support in here)
    again = {(each.support, each.lowered) for each in told}
    return (*(each for each in written if (each.support, each.lowered) not in again), *told)


def _reading(found: FoundAtStand) -> StageReading:
    """Return what was found as a reading of a step."""
    if found.load is None:
        return StageReading(found.support, None, turns=found.turns)
    pm = max(LOAD_SHARE * found.load, LOAD_LEAST * GRAVITY)
    return StageReading(found.support, found.load, pm, lowered=found.lowered)
