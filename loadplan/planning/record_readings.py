"""Readings out of a record: what was read at the bay in a step, as readings of the job."""

from dataclasses import replace

from loadplan.files.readings_reader import LOAD_LEAST, LOAD_SHARE
from loadplan.limits import GRAVITY
from loadplan.model.job import Job, StageReading
from loadplan.model.work_record import Deed, FoundAtStand, WorkRecord


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
    found = [each.found for each in record.entries if each.step == step and each.found is not None]
    return tuple({(each.support, each.lowered): _reading(each) for each in found}.values())


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
    """
    return replace(
        job, stages=tuple(replace(each, readings=_joined(each.readings, each.name, record)) for each in job.stages)
    )


def _joined(written: tuple[StageReading, ...], step: str, record: WorkRecord) -> tuple[StageReading, ...]:
    read = readings_at_each_height(record, step)
    again = {(each.support, each.lowered) for each in read}
    return (*(each for each in written if (each.support, each.lowered) not in again), *read)


def _reading(found: FoundAtStand) -> StageReading:
    """Return what was found as a reading of a step."""
    if found.load is None:
        return StageReading(found.support, None, turns=found.turns)
    pm = max(LOAD_SHARE * found.load, LOAD_LEAST * GRAVITY)
    return StageReading(found.support, found.load, pm, lowered=found.lowered)
