"""The record of a job, `JOB-record.toml` beside it: it only grows, and holds whole what was told to be kept.

Each entry is one table `[[done]]`, written behind the others in one go and sent to the disk before anybody is told that
it is kept. Its last key is a sum (`record_chain.py`): so a last one that is not whole, of which nobody was told that it
is kept, is left out, and it shows where somebody has edited the file. That entries were taken away whole from its end
shows by what is written beside it (`record_length.py`).
"""

import os
import time
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Annotated

import tomlkit

from loadplan.errors import Fault, InputError, printable
from loadplan.files.append_only import append_whole, flush_names_surely, lock_alone, must_be_there
from loadplan.files.file_head import read_head
from loadplan.files.record_chain import (
    BEGINS,
    HEAD,
    RECORD_SCHEMA,
    SUM,
    RecordChain,
    entry_sum,
    in_doubt,
    record_chain,
)
from loadplan.files.record_length import RecordLength, note_length, read_length
from loadplan.files.rules import Choice, DateAndTime, Words
from loadplan.files.shape import Shape, read_rows
from loadplan.files.toml_source import LARGEST, open_source, text_of
from loadplan.files.values import Force, Length, Name, Text, UpTo, YesNo
from loadplan.files.vehicle_shape import TieAs
from loadplan.model.forgotten_tie import TiePlace
from loadplan.model.work_record import BrokenOff, Deed, FoundAtStand, RecordEntry, WorkRecord

RECORD_ENDING = "-record.toml"
"""Behind a job's name: the name of its record."""

MOST_ENTRIES = 5_000
"""Most entries of a record: a long job has some hundred."""

LONGEST = 1_500
"""Longest words that are kept [characters]: a line to tick may hold several names and a text of 300, and has to come
back whole, else its tick would not be known again and its step could never be done."""

LONGEST_NAME = 300
"""Longest name that is kept [characters]."""


A_MOMENT = 0.02
"""Seconds between two looks at a record that another program has just made."""

LOOKS = 100
"""How often is looked before an empty record counts as one that was emptied: two seconds in all."""


class DoneTable(Shape):
    """One `[[done]]`: what was done, when and by whom."""

    at: Annotated[datetime, DateAndTime()]
    who: Text | None = None
    sheet: Name
    step: Name | None = None
    what: Annotated[Deed, Choice(tuple((each.value, each) for each in Deed))]
    words: Annotated[str, Words(longest=LONGEST)] | None = None
    support: Name | None = None
    load: Force | None = None
    turns: YesNo | None = None
    planned: Force | None = None
    most: Force | None = None
    lowered: UpTo | None = None
    picture: Name | None = None
    body: Name | None = None
    front: Length | None = None
    left: Length | None = None
    up: Length | None = None
    tie: TieAs | None = None
    sum: Name | None = None


class RecordHead(Shape):
    """What stands in a record outside its entries."""


def record_path(job: Path) -> Path:
    """Return where the record of a job lies.

    Args:
        job: The job file.

    Returns:
        The record, beside it; it need not be there.

    Example:
        >>> record_path(Path("jobs/front-unit.toml")).name
        'front-unit-record.toml'
    """
    return job.with_name(job.stem + RECORD_ENDING)


def read_record(job: Path) -> WorkRecord:
    """Read what was done of a job.

    Args:
        job: The job file.

    Returns:
        Its record; without an entry where there is none.

    Raises:
        InputError: If the record cannot be read, with every fault found.
    """
    told = _read(record_path(job))
    # What another program is at just now looks damaged for a moment.
    return _read(record_path(job)) if told.is_untold else told


def _read(path: Path) -> WorkRecord:
    """Return what stands in a record, and what is told of its length.

    Raises:
        InputError: If the record cannot be read, with every fault found.
    """
    # Before the record: another program may add to both meanwhile, to the record first.
    beside = read_length(path)
    length, is_there = beside.length, os.path.lexists(path)
    chain = record_chain(text_of(path) if is_there else "")
    told = WorkRecord(
        edited=chain.edited or chain.is_other(length),
        broken_off=chain.broken_off(length) if is_there else BrokenOff.NOTHING,
        missing=chain.lacks(length),
        count=beside.beside,
        kept_last=length.at if length else None,
        last_sum=chain.last,
    )
    if not chain.whole.strip():
        return told
    source = open_source(path, RECORD_SCHEMA, chain.whole)
    read_head(source, RecordHead, ("done",))
    rows = read_rows(source, "done", DoneTable, MOST_ENTRIES)
    if source.faults:
        raise InputError(*source.faults)
    # An entry that is not written as the program does it has no sum at all.
    edited = told.edited or len(rows.tables) != len(chain.sums)
    return replace(told, entries=tuple(map(_entry, rows.tables)), edited=edited)


def record_or_why(job: Path) -> WorkRecord:
    """Read what was done of a job, for whoever judges it all the same where the record cannot be read.

    Args:
        job: The job file.

    Returns:
        Its record; one that says why where it cannot be read.
    """
    try:
        return read_record(job)
    except InputError as error:
        return WorkRecord(unreadable=str(error))


def _wait_for_beginner(path: Path) -> None:
    """Give whoever has just made a record, and not written into it, the time to do so: it is no emptied one then."""
    for _ in range(LOOKS):
        if not path.is_file() or path.stat().st_size:
            return
        time.sleep(A_MOMENT)


def add_to_record(job: Path, *entries: RecordEntry) -> None:
    """Add to the record of a job; when this returns it is on the disk.

    Args:
        job: The job file.
        entries: What was done, in order.

    Raises:
        InputError: If what is there is no record, or is full; then nothing is written.
        OSError: If it cannot be written; then nothing is added.
        ValueError: If nobody could read an entry again, such as one whose time has no zone; then nothing is written.
    """
    if not entries:
        return
    path = record_path(job)
    _refuse_unreadable(path, entries)
    new = not os.path.lexists(path)
    _wait_for_beginner(path)
    flags = os.O_RDWR | os.O_CREAT | os.O_APPEND | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    # Anything else than a record is told here, before it is touched.
    known = len(read_record(job).entries)
    file = os.open(path, flags, 0o644)
    try:
        lock_alone(file, waits=True)
        content = _contents(file)
        chain = record_chain(content.removeprefix("\ufeff").replace("\r\n", "\n"))
        # From now on the length is that of what lies here: after that nothing else would tell what was in doubt.
        entries = (*in_doubt(entries[0], chain, read_length(path), is_new=new), *entries)
        # Counted again: another program may have added some since.
        known = max(known, chain.whole.count(BEGINS))
        if known + len(entries) > MOST_ENTRIES:
            told = f"has {known} entries: {MOST_ENTRIES} are the most. Rename it, and a new one is begun"
            raise InputError(Fault(str(path), "", "done", told))
        kept = chain.bytes_kept(content)
        added, last = _added(chain, entries)
        if kept + len(added) > LARGEST:
            # What is larger is read by nobody: it would take what was kept before with it.
            raise InputError(Fault(str(path), "", "done", "is full. Rename it, and a new one is begun"))
        if chain.tail:
            os.ftruncate(file, kept)
        _append(file, path, added, kept, is_new=new)
        # What was taken away meanwhile is read by nobody: then nothing is kept.
        must_be_there(file, path)
        if new:
            _name_on_disk(path)
        # Last of all: it never tells of an entry that is not kept.
        note_length(path, RecordLength(len(chain.sums) + len(entries), last, entries[-1].at))
    finally:
        os.close(file)


def _refuse_unreadable(path: Path, entries: Sequence[RecordEntry]) -> None:
    """Refuse entries that could not be read again: with them nobody could read those that are there already.

    Raises:
        ValueError: If there is one.
    """
    for each in entries:
        if each.at.utcoffset() is None:
            raise ValueError(f"the time of an entry needs a zone, and {each.at} has none: datetime.now().astimezone()")
    text = HEAD + "".join(f"{_written(each)}\n" for each in entries)
    try:
        source = open_source(path, RECORD_SCHEMA, text)
        read_rows(source, "done", DoneTable, MOST_ENTRIES)
        faults = tuple(source.faults)
    except InputError as error:
        faults = error.faults
    if faults:
        raise ValueError(f"an entry could not be read again: {faults[0]}")


def _append(file: int, path: Path, added: bytes, kept: int, *, is_new: bool) -> None:
    """Write behind what is kept of a record.

    Raises:
        OSError: If that fails; a record that was begun for it is taken away again, else it would be one without an end.
    """
    try:
        append_whole(file, added, kept)
    except OSError:
        if is_new and not kept:
            with suppress(OSError):
                path.unlink()
        raise


def _name_on_disk(path: Path) -> None:
    """Send the name of a new record to the disk.

    Raises:
        OSError: If it does not take it; then the record is taken away again.
    """
    try:
        flush_names_surely(path.parent)
    except OSError:
        path.unlink(missing_ok=True)
        raise


def _added(chain: RecordChain, entries: Sequence[RecordEntry]) -> tuple[bytes, str]:
    """Return what goes behind the whole entries of a record, and the sum of the last."""
    added, last = ("" if chain.whole else HEAD), chain.last
    if chain.tail:
        # Nobody was told that this piece of an entry is kept, and no entry could follow it: it stays as a remark.
        pieces = [line for line in chain.tail.splitlines() if line and chain.whole]
        added += "".join(f"# not whole: {printable(line)}\n" for line in pieces)
    for entry in entries:
        written = _written(entry)
        last = entry_sum(last, written)
        added += f'{written}{SUM}"{last}"\n'
    return added.encode(), last


def _contents(file: int) -> str:
    """Return what stands in an open file.

    Raises:
        OSError: If it is larger than any file that is read.
    """
    if os.fstat(file).st_size > LARGEST:
        raise OSError("the record is too large")
    os.lseek(file, 0, os.SEEK_SET)
    with os.fdopen(os.dup(file), "rb") as stream:
        return stream.read().decode("utf-8", "replace")


def _written(entry: RecordEntry) -> str:
    """Return an entry as its table, without its sum."""
    rows: dict[str, object] = {"at": entry.at, "who": _text(entry.who), "sheet": entry.sheet, "step": _text(entry.step)}
    rows |= {"what": entry.deed.value, "words": _text(entry.words, LONGEST)}
    if (found := entry.found) is not None:
        forces = {"load": found.load, "planned": found.planned, "most": found.most}
        rows |= {"support": _text(found.support)}
        rows |= {key: f"{force:.1f} N" for key, force in forces.items() if force is not None}
        rows |= {} if found.turns is None else {"turns": found.turns}
        rows |= {} if found.lowered is None else {"lowered": f"{1000 * found.lowered:.3f} mm"}
    rows |= {"picture": _text(entry.picture)}
    if (place := entry.place) is not None:
        lengths = {"front": place.at[0], "left": place.at[1], "up": place.up}
        rows |= {"body": _text(place.body), "tie": place.what.value}
        rows |= {key: f"{1000 * length:.1f} mm" for key, length in lengths.items() if length is not None}
    table = tomlkit.table()
    for key, value in rows.items():
        if value != "":
            table.add(key, value)
    return BEGINS + table.as_string().rstrip("\n")


def _text(words: str, longest: int = LONGEST_NAME) -> str:
    """Return words as they may stand on one line."""
    return "".join(each if each.isprintable() else " " for each in words).strip()[:longest].strip()


def _entry(table: DoneTable) -> RecordEntry:
    found = None
    if table.support:
        found = FoundAtStand(table.support, table.load, table.turns, table.planned, table.most, table.lowered)
    place = None
    if table.body and table.tie and table.front is not None and table.left is not None:
        place = TiePlace(table.body, (table.front, table.left), table.up, table.tie)
    words, picture = table.words or "", table.picture or ""
    made = RecordEntry(table.at, table.who or "", table.sheet, table.step or "", table.what, words, found, picture)
    return replace(made, place=place)
