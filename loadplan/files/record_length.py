"""How long a record is, beside it: `JOB-record.count`, by which entries taken away whole from its end show.

The chain of sums in a record shows what was changed in it, not that it once went on. So after each entry is on the disk
this file is told how many there are, and the sum of the last. It is written after the record, so it is never ahead of
it; whoever reads both reads it first. Where it cannot be written, or is not whole, it says nothing.
"""

import os
import re
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

LENGTH_ENDING = ".count"
"""In the place of a record's ending: the name of what tells how long it is."""

MOST_READ = 500
"""Most that is read of such a file [B]: one of ours has some 200."""

TEXT = """# How many entries the record beside had, and the sum of the last. The program writes this: leave it beside.
entries = {entries}
sum = "{sum}"
at = {at}
"""

WHOLE = re.compile(r'entries = (\d{1,6})\nsum = "([0-9a-f]{16})"\nat = (\S{10,40})\n\Z')


@dataclass(frozen=True, slots=True)
class RecordLength:
    """How long a record was when it was added to last.

    Attributes:
        entries: How many entries it had.
        sum: Sum of the last one.
        at: When that was made.
    """

    entries: int
    sum: str
    at: datetime


def length_path(record: Path) -> Path:
    """Return where it is told how long a record is.

    Args:
        record: The record.

    Returns:
        A file beside it; it need not be there.

    Example:
        >>> length_path(Path("jobs/front-unit-record.toml")).name
        'front-unit-record.count'
    """
    return record.with_suffix(LENGTH_ENDING)


def read_length(record: Path) -> RecordLength | None:
    """Read how long a record was when it was added to last.

    Args:
        record: The record.

    Returns:
        It; None where nothing tells.
    """
    with suppress(OSError, ValueError):
        with length_path(record).open("rb") as stream:
            found = WHOLE.search(stream.read(MOST_READ).decode())
        if found:
            return RecordLength(int(found[1]), found[2], datetime.fromisoformat(found[3]))
    return None


def note_length(record: Path, length: RecordLength) -> None:
    """Write down how long a record is now; where that cannot be done it stays as it was.

    Args:
        record: The record, which has it on the disk.
        length: How long it is.
    """
    text = TEXT.format(entries=length.entries, sum=length.sum, at=length.at.isoformat())
    flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    # What the record holds is kept whatever becomes of this.
    with suppress(OSError):
        file = os.open(length_path(record), flags, 0o644)
        try:
            os.write(file, text.encode())
        finally:
            os.close(file)
