"""How long a record is, beside it: `JOB-record.count`, by which entries taken away whole from its end show.

The chain of sums in a record shows what was changed in it, not that it once went on. So after each entry is on the disk
this file is told how many there are, and the sum of the last. It is written after the record, so it is never ahead of
it; whoever reads both reads it first. Where it is not whole, or something else lies there, it says nothing, and that is
in doubt: something befell it. That it is not there is said and no more: a record that was copied alone has none. What
lies there and is not of this program, or is no file, is neither waited for nor written over.
"""

import codecs
import errno
import os
import re
import stat
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from loadplan.model.work_record import CountBeside

LENGTH_ENDING = ".count"
"""In the place of a record's ending: the name of what tells how long it is."""

MOST_READ = 500
"""Most that is read of such a file [B]: one of ours has some 200."""

TEXT = """# How many entries the record beside had, and the sum of the last. The program writes this: leave it beside.
entries = {entries}
sum = "{sum}"
at = {at}
"""

WHOLE = re.compile(r'entries = ([1-9]\d{0,5})\nsum = "([0-9a-f]{16})"\nat = (\S{10,40})\n\Z')


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


@dataclass(frozen=True, slots=True)
class LengthRead:
    """What was found where it is told how long a record is.

    Attributes:
        beside: Whether it is there, cannot be used, or is not there.
        length: How long the record was; None where nothing tells.
        is_kept_on: Whether it is told there from the next entry on; not where something else lies there.
    """

    beside: CountBeside
    length: RecordLength | None = None
    is_kept_on: bool = True


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


def read_length(record: Path) -> LengthRead:
    """Read how long a record was when it was added to last.

    Args:
        record: The record.

    Returns:
        What was found of that.
    """
    content = b"?"
    try:
        file = _opened(length_path(record), os.O_RDONLY)
        try:
            content = os.read(file, MOST_READ)
        finally:
            os.close(file)
        if found := WHOLE.search(content.decode("utf-8-sig").replace("\r\n", "\n")):
            length = RecordLength(int(found[1]), found[2], datetime.fromisoformat(found[3]))
            return LengthRead(CountBeside.THERE, length, _is_ours(content))
    except FileNotFoundError:
        return LengthRead(CountBeside.ABSENT)
    except (OSError, ValueError):
        pass
    return LengthRead(CountBeside.DAMAGED, is_kept_on=_is_ours(content))


def note_length(record: Path, length: RecordLength) -> None:
    """Write down how long a record is now; where that cannot be done it stays as it was.

    Args:
        record: The record, which has it on the disk.
        length: How long it is.
    """
    text = TEXT.format(entries=length.entries, sum=length.sum, at=length.at.isoformat()).encode()
    # What the record holds is kept whatever becomes of this.
    with suppress(OSError):
        file, before = _opened(length_path(record), os.O_RDWR | os.O_CREAT), b"?"
        try:
            before = os.read(file, MOST_READ)
            if _is_ours(before):
                _write_over(file, before, text)
        except OSError:
            if not before:
                # What is begun and not whole would look damaged, where it is a full disk and no more.
                length_path(record).unlink()
        finally:
            os.close(file)


def _write_over(file: int, before: bytes, text: bytes) -> None:
    """Write over what is there, and cut it to its length afterwards.

    Emptied first, nothing would be told after a kill in between, or where a full disk takes nothing any more.

    Raises:
        OSError: If the disk does not take it.
    """
    os.lseek(file, 0, os.SEEK_SET)
    os.ftruncate(file, os.write(file, text))
    if not before:
        # Of a new file a power cut would leave the name alone: then it would look damaged.
        os.fsync(file)


def _is_ours(content: bytes) -> bool:
    """Return whether a content may be written over: ours, none, or the noughts that a power cut leaves."""
    begins = TEXT[: TEXT.index("the record")].encode()
    return content.removeprefix(codecs.BOM_UTF8).startswith(begins) or not content.strip(b"\0")


def _opened(path: Path, access: int) -> int:
    """Open a file itself: no link is followed, and no pipe waited for.

    Returns:
        Its descriptor.

    Raises:
        OSError: If that cannot be done, or it is no file.
    """
    flags = [getattr(os, name, 0) for name in ("O_NOFOLLOW", "O_NONBLOCK", "O_BINARY")]
    file = os.open(path, access | sum(flags), 0o644)
    if not stat.S_ISREG(os.fstat(file).st_mode):
        os.close(file)
        raise OSError(errno.EINVAL, os.strerror(errno.EINVAL), str(path))
    return file
