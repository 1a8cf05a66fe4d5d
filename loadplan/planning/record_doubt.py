"""What of the work at the bay cannot be told, or was not looked at: no reading says so, and nobody may rely on less.

A reading that is a stop may be among what a record does not tell any more. So what is in doubt is a caution, until it
is read again, or the job is over by a record that is whole. That nothing tells how long a record was is no doubt where
nothing befell it: one that was copied alone has no count beside it, and is whole.
"""

from collections.abc import Iterator

from loadplan.checks.phrases import names
from loadplan.model.job import Job
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict
from loadplan.model.work_record import BrokenOff, CountBeside, Deed, RecordEntry, WorkRecord
from loadplan.planning.record_readings import read_of_no_plan

RECORD, MOVED = "the record", "what moved"
"""What the findings are about."""

CANNOT_BE_TOLD = "What was read at the bay cannot be told: {}."
BY_READINGS = "by what was read at the bay"
LOOK_AGAIN = "It may have been a stop. Look at what stands, and read it again."


LEFT_OUT = {
    BrokenOff.UNTOLD: "its record breaks off, and nothing tells whether what is left out was kept",
    BrokenOff.BY_HAND: "somebody has written by hand behind the last entry of its record, and that is left out",
    BrokenOff.EMPTY: "its record is empty, and nothing tells whether anything was kept in it",
}
"""Why it is in doubt whether something was read that is left out of the record."""


def record_doubt(job: Job, record: WorkRecord) -> str:
    """Say why it cannot be told what was read at the bay.

    Args:
        job: The job.
        record: What was done of it.

    Returns:
        One sentence, with names as the files write them; "" where it can be told, or the job is over by a record that
        is whole.
    """
    if record.is_over_and_whole:
        return ""
    reasons = [*_reasons(job, record)]
    return CANNOT_BE_TOLD.format("; ".join(reasons)) if reasons else ""


def moved_words(record: WorkRecord) -> str:
    """Say that something moved, and nobody has looked at it since.

    Args:
        record: What was done.

    Returns:
        One sentence, with names as the files write them; "" where nothing moved, it was looked at as the bay asks for,
        a step was done since, or the job is over by a record that is whole.
    """
    moved = None if record.is_over_and_whole else record.not_looked_at
    if moved is None:
        return ""
    told = "; ".join([*([moved.words] if moved.words else []), *([f"kept by {moved.who}"] if moved.who else [])])
    what = f" ({told})" if told else ""
    return f"Something moved at the bay {moved.at:%Y-%m-%d %H:%M}{what}, and was not looked at since as the bay asks."


def worse_by(job: Job, record: WorkRecord, verdict: Verdict) -> str:
    """Say by what of the work at the bay a verdict is worse than the plan's.

    Args:
        job: The job.
        record: What was done of it.
        verdict: The verdict.

    Returns:
        A clause.
    """
    if verdict is Verdict.STOP:
        # Nothing but readings stops: what is in doubt is a caution.
        return BY_READINGS
    if record_doubt(job, record):
        return "since what was read at the bay cannot be told"
    return "since something moved at the bay" if moved_words(record) else BY_READINGS


def record_findings(job: Job, record: WorkRecord) -> tuple[tuple[int, Finding], ...]:
    """Judge what is in doubt of the work at the bay.

    Args:
        job: The job.
        record: What was done of it.

    Returns:
        Each with the number of its step, from 0: the one in which something moved, else the one at which the job
        stands, the first where nobody knows.
    """
    found: list[tuple[int, Finding]] = []
    stands = _step_of(job, record.standing.step if record.standing else "", 0)
    if says := record_doubt(job, record):
        found.append((stands, _caution(RECORD, (f"{says} {LOOK_AGAIN}",))))
    moved = record.not_looked_at
    if moved is not None and (says := moved_words(record)):
        again = "Stop: look, and read again."
        found.append((_step_of(job, moved.step, stands), _caution(MOVED, (f"{says} {again}",))))
    return tuple(found)


def open_strays(job: Job, record: WorkRecord) -> tuple[RecordEntry, ...]:
    """Find what was read at the bay, has no place in the plan any more, and was not read again since.

    Args:
        job: The job.
        record: What was done of it.

    Returns:
        The entries, in the order in which they were made; a stand, hook or gauge that was read after that in any step
        of the plan is not among them.
    """
    strays = read_of_no_plan(job, record)
    places = {id(each): place for place, each in enumerate(record.entries)}
    again = {each.found.support: places[id(each)] for each in record.entries if each.found and each not in strays}
    return tuple(each for each in strays if each.found and places[id(each)] > again.get(each.found.support, -1))


def stray_names(strays: tuple[RecordEntry, ...]) -> str:
    """Name what was read and has no place in the plan any more, each once however often it was read.

    Args:
        strays: The entries.

    Returns:
        Its names, with the steps in which it was read.
    """
    return names(list(dict.fromkeys(f"{each.found.support} in {each.step}" for each in strays if each.found)))


def _reasons(job: Job, record: WorkRecord) -> Iterator[str]:
    """Yield why it cannot be told what was read."""
    deeds, damaged = {each.deed for each in record.entries}, record.count is CountBeside.DAMAGED
    missing = f"entries that were kept at the end of its record are not there any more ({record.missing})"
    reasons = (
        (record.unreadable, "the record of this job cannot be read"),
        (record.missing, missing),
        (Deed.SHORT in deeds, "entries of its record were missing when work went on"),
        (record.went_on_untold, "entries of its record may have been missing when work went on"),
        (record.edited, "somebody has edited its record by hand"),
        (record.broken_off in LEFT_OUT, LEFT_OUT.get(record.broken_off, "")),
        (damaged, "JOB-record.count, which says how long its record was, is damaged or something else"),
    )
    yield from (says for holds, says in reasons if holds)
    if strays := open_strays(job, record):
        yield f"the plan has no such place any more as {stray_names(strays)}"


def _step_of(job: Job, name: str, otherwise: int) -> int:
    return next((place for place, each in enumerate(job.stages) if each.name == name), otherwise)


def _caution(subject: str, says: Sentence) -> Finding:
    return Finding(CheckName.READING, Verdict.CAUTION, subject, None, None, Measure.LOAD, says)
