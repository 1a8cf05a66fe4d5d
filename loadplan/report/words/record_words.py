"""What was done at the bay, in words: each entry of a record, where the job stands, and whether the plan is another."""

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from loadplan.checks.phrases import names
from loadplan.model.forgotten_tie import TiePlace
from loadplan.model.job import Job
from loadplan.model.vehicle import TieState
from loadplan.model.work_record import (
    BrokenOff,
    CountBeside,
    Deed,
    FoundAtStand,
    JobStanding,
    RecordEntry,
    WorkRecord,
)
from loadplan.planning.record_doubt import moved_words, open_strays, record_doubt, stray_names
from loadplan.planning.record_readings import read_before_moved, read_of_no_plan, readings_at_each_height
from loadplan.report.words.cautions import moment_words, tie_moment, tie_words
from loadplan.report.words.stage_tables import from_chalk
from loadplan.report.words.top_findings import steps_words
from loadplan.report.words.vocabulary import Reader

DEEDS = {
    Deed.BEGUN: "Work began",
    Deed.TICKED: "Ticked",
    Deed.TAKEN_BACK: "Tick taken back",
    Deed.READ: "Read",
    Deed.NOTED: "Note",
    Deed.FORGOTTEN: "Was still on",
    Deed.PLACED: "Place of what was still on",
    Deed.LISTED: "Listed in the vehicle's file",
    Deed.PHOTOGRAPHED: "Photograph",
    Deed.MOVED: "Something moved",
    Deed.STEP_DONE: "Step done",
    Deed.PLAN_CHANGED: "The plan was changed",
    Deed.FINISHED: "Finished",
    Deed.SHORT: "Entries before this one are missing",
    Deed.UNTOLD: "Entries before this one may be missing",
}
"""What each deed is called."""


TO_LIST = ". `loadplan forgotten JOB` lists it in the vehicle's file: then the next job asks for it"
"""Behind what was forgotten."""


def moment(at: datetime) -> str:
    """Return a date and a time of day, as it was where it was written.

    Args:
        at: When.

    Returns:
        Day, hour and minute.

    Example:
        >>> moment(datetime.fromisoformat("2026-11-20T14:05:09+01:00"))
        '2026-11-20 14:05'
    """
    return at.strftime("%Y-%m-%d %H:%M")


def entry_words(entry: RecordEntry, reader: Reader) -> str:
    """Say what was done, without when and by whom.

    Args:
        entry: The entry.
        reader: Who reads it.

    Returns:
        One line.
    """
    said = found_words(entry.found, reader) if entry.found else reader.words(entry.words)
    if entry.deed is Deed.FORGOTTEN:
        said += TO_LIST
    if entry.place is not None:
        said += f"; {tie_place_words(entry.place, reader)}"
    return f"{DEEDS[entry.deed]}: {said}" if said else DEEDS[entry.deed]


def found_words(found: FoundAtStand, reader: Reader) -> str:
    """Say what was found at a stand, a hook or the lift's gauge, beside what the plan had told.

    Args:
        found: What was found.
        reader: Who reads it.

    Returns:
        One line.
    """
    name = reader.words(found.support)
    planned = "" if found.planned is None else f"planned {reader.load(found.planned)}"
    planned += "" if found.most is None else f", at most {reader.load(found.most)} on this floor"
    if found.load is None:
        said = f"{name} turns by hand" if found.turns else f"{name} does not turn by hand"
        return f"{said} ({planned})" if planned else said
    said = f"{name} carries {reader.read(found.load)}"
    said += "" if found.lowered is None else f" with the lift {reader.length(found.lowered)} down past first touch"
    return f"{said} ({planned}: {_difference(found, reader)})" if found.planned is not None else said


def _difference(found: FoundAtStand, reader: Reader) -> str:
    """Return how much more or less a scale read than was planned, and whether that is beyond any floor's share."""
    load, planned = found.load or 0.0, found.planned or 0.0
    more = "more" if load >= planned else "less"
    said = f"{reader.load(abs(load - planned))} {more}"
    beyond = found.most is not None and load > found.most
    return f"{said}, above what any floor gives it" if beyond else said


def tie_place_words(place: TiePlace, reader: Reader) -> str:
    """Say where something is that was still on, and what has to be done with it.

    Args:
        place: Where it is.
        reader: Who reads it.

    Returns:
        A clause.
    """
    up = "" if place.up is None else f", {reader.length(place.up)} up"
    done = "has to be off" if place.what is TieState.OFF else "has to be tied up"
    return f"at the {reader.words(place.body)}, {from_chalk(*place.at, reader)}{up}; it {done}"


def standing_words(standing: JobStanding, steps: Sequence[str]) -> str:
    """Say where a job stands.

    Args:
        standing: Where it stands.
        steps: Names of the plan's steps, in order.

    Returns:
        A clause without a full stop, with names as the files write them.
    """
    since = moment(standing.since)
    doubts = "; something moved, and no step is done since" if standing.moved else ""
    doubts += "; its record was edited by hand" if standing.edited else ""
    doubts += f"; {standing.missing} entries at the end of its record are missing" if standing.missing else ""
    if standing.finished:
        return f"finished {since}{doubts}"
    if not standing.step and standing.missing:
        return f"its record was last written to {since}{doubts}"
    if not standing.step:
        return f"begun {since}, no step yet{doubts}"
    known = standing.step in steps
    place = f"step {steps.index(standing.step) + 1} of {len(steps)}" if known else "a step that the plan no longer has"
    return f"{place}, {standing.step}: {'done' if standing.done else 'at it since'} {since}{doubts}"


class SheetNumbers(NamedTuple):
    """Numbers of a plan's sheet: as it is, and as it was before its own record listed ties in the vehicle's file."""

    now: str
    before_listing: frozenset[str] = frozenset()


EDITED = "Somebody has edited this record by hand since: its entries may not be as they were made."
MISSING = (
    "Entries that were kept at the end of this record are not there any more ({}): they were taken away, or an older "
    "copy was put in its place."
)
BROKEN_OFF = {
    BrokenOff.NOTHING: "",
    BrokenOff.STOPPED: (
        "A last entry is not whole, and is left out: the program was stopped while it was written, before anybody was "
        "told that it is kept."
    ),
    BrokenOff.CUT: "Of an entry that was kept only a piece is there, and is left out: the file was cut since.",
    BrokenOff.UNTOLD: (
        "This record breaks off, and what is not whole is left out: the program was stopped while it wrote, or the "
        "file was cut since."
    ),
    BrokenOff.BY_HAND: (
        "What stands behind the last entry is not as the program writes it, and is left out: somebody wrote it by hand."
    ),
    BrokenOff.EMPTY: (
        "No entry stands in this record as the program writes it, and nothing tells whether one was kept: the program "
        "was stopped before it wrote, or the record was emptied since."
    ),
}
"""What is said of what stands behind the last whole entry."""
COUNTS = {
    CountBeside.THERE: "",
    CountBeside.DAMAGED: "JOB-record.count beside this record is damaged, or something else",
    CountBeside.ABSENT: "JOB-record.count, which says how long this record was, is not beside it",
}
"""What is said of what stands beside a record about its length."""
UNCOUNTED = ": whether entries are missing at its end cannot be told."


def record_doubts(record: WorkRecord, numbers: SheetNumbers) -> tuple[str, ...]:
    """Say what is to be known before a record is believed.

    Args:
        record: What was done.
        numbers: Numbers of the plan's sheet.

    Returns:
        That work began by another plan, that the record was edited, breaks off, or lacks what was kept at its end, or
        that nothing tells whether it does; what is not so is left out.
    """
    told = (
        changed_words(record, numbers),
        EDITED if record.edited else "",
        missing_words(record),
        BROKEN_OFF[record.broken_off],
        _count_words(record),
    )
    return tuple(each for each in told if each)


def _count_words(record: WorkRecord) -> str:
    """Return that nothing tells how long a record was; "" where it is told, or there neither is nor was a record."""
    if record.count is CountBeside.ABSENT and not record.entries:
        return ""
    return COUNTS[record.count] and COUNTS[record.count] + UNCOUNTED


def missing_words(record: WorkRecord) -> str:
    """Say that entries which were kept once are missing at a record's end.

    Args:
        record: What was done.

    Returns:
        One sentence; "" where none are.
    """
    return MISSING.format(record.missing) if record.missing else ""


def check_words(job: Job, record: WorkRecord, numbers: SheetNumbers) -> tuple[str, ...]:
    """Say how a record bears on the page of a job that was judged with it.

    Args:
        job: The job.
        record: What was done of it.
        numbers: Numbers of the plan's sheet.

    Returns:
        That it cannot be read, what is to be known before it is believed, which steps' readings count, and which
        cannot; names as the files write them, nothing where nothing was done.
    """
    if record.unreadable:
        return (f"The record of this job cannot be read. {record.unreadable}",)
    strays = read_of_no_plan(job, record)
    known = [stage.name for stage in job.stages]
    steps = sorted({known.index(each.step) for each in record.entries if each.found and each not in strays})
    read = f"What was read at the bay in {steps_words(steps)}" if steps else ""
    lost = stray_names(open_strays(job, record))
    counts = f"{read} counts: the verdict is the worse of the plan's and that with it."
    over = f"{read} counts no more, since the job is finished"
    over += ": the verdict is the plan's." if record.is_over_and_whole else "."
    told = (
        *record_doubts(record, numbers),
        (over if record.is_over else counts) if read else "",
        f"What was read at {lost} does not count: this plan has no such place any more. Read again what stands."
        if lost and not record.is_over
        else "",
    )
    return tuple(each for each in told if each)


def length_words(record: WorkRecord) -> str:
    """Say how long a record is, so that a later copy can be held against a printed one.

    Args:
        record: What was done.

    Returns:
        One sentence.
    """
    return f"{len(record.entries)} entries; the sum of the last is {record.last_sum}."


def changed_words(record: WorkRecord, numbers: SheetNumbers) -> str:
    """Say that work began by another plan than this one.

    Args:
        record: What was done.
        numbers: Numbers of this plan's sheet.

    Returns:
        Two sentences; that only ties were listed in the vehicle's file, where nothing else changed; "" where it is the
        same plan all along, or nothing was done.
    """
    if not record.changed_to(numbers.now) or record.began is None:
        return ""
    others = list(dict.fromkeys(each.sheet for each in record.entries if each.sheet != numbers.now))
    named = f"sheet {others[0]}" if len(others) == 1 else f"sheets {', '.join(others)}"
    if numbers.before_listing.issuperset(others):
        listed = list(dict.fromkeys(each.words for each in record.entries if each.deed is Deed.LISTED))
        return (
            f"Work was done by {named}. What was still on was listed in the vehicle's file since ({names(listed)}): "
            f"the plan is sheet {numbers.now} now, and nothing else in it was changed."
        )
    if record.is_finished:
        return (
            f"Work was done and finished by {named}: the plan was changed since, and is sheet {numbers.now} now. "
            "Does anything stand yet, it stands as the other one said: look before anything is moved."
        )
    return (
        f"Work began {moment(record.began.at)}, and was done by {named}: this plan is another, sheet {numbers.now}. "
        "What stands may stand as the other one said: look before anything is moved."
    )


def read_at_the_bay(job: Job, record: WorkRecord, step: str, numbers: SheetNumbers) -> tuple[str, ...]:
    """Say which readings of a step come from a job's record, and what is to be known before they are believed.

    Args:
        job: The job.
        record: What was done of it.
        step: Name of the step.
        numbers: Numbers of the plan's sheet.

    Returns:
        Sentences, with names as the files write them; nothing where nothing was read at the bay, or may have been.
    """
    read, doubt = [each.support for each in readings_at_each_height(record, step)], record_doubt(job, record)
    told = [each for each in (doubt, moved_words(record)) if each]
    if read:
        moved = [each for each in dict.fromkeys(read) if each in read_before_moved(record, step)]
        count = f"{names(list(dict.fromkeys(read)))}. They count before the file's."
        told.append(f"Read at the bay, and kept in the record: {count}")
        told += [f"Something moved since {names(moved)} was read: read again."] if moved else []
    return (*told, *record_doubts(record, numbers)) if told else ()


def learnt_lines(job: Job, record: WorkRecord, reader: Reader) -> frozenset[str]:
    """Name the boxes that a job's own record put into its vehicle's file: they are for the next job.

    Args:
        job: The job.
        record: What was done of it.
        reader: Who reads it.

    Returns:
        The lines, as `work_list` has them.
    """
    listed = {each.words.casefold() for each in record.entries if each.deed is Deed.LISTED}
    learnt = (each for each in job.vehicle.ties if each.name.casefold() in listed)
    lines = (f"{moment_words(tie_moment(each), reader.units)}: {tie_words(each)}" for each in learnt)
    return frozenset(map(reader.words, lines))


def ties_go_into(file: str, copied_from: str) -> str:
    """Say where the lines go that what was forgotten makes, and what comes of it.

    Args:
        file: Name of the file.
        copied_from: Name of the vehicle that ships of which that is a copy beside the job; "" where it is none.

    Returns:
        Two sentences; the names are as files have them.
    """
    next_job = "The next job shows them on its plan, and asks for them in the step that would pull at them."
    if copied_from:
        whole = f"These lines go into {file} beside the job, a copy of the vehicle {copied_from} that ships"
        return f"{whole}; it then counts for the jobs in this folder. {next_job}"
    return (
        f"These lines go behind what {file} lists already; all else stays, and its old text is kept beside. {next_job}"
    )
