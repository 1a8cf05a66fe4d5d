"""How far the text of a record holds together: each entry ends with a sum over itself and the sum before it.

So after a kill, or a power cut, all entries are whole but perhaps the last, which lacks its sum and is left out. Where
another one does not fit its sum somebody has edited the file. Beside what is told of its length (`record_length.py`) it
shows what is missing at its end, and what is in doubt: once somebody goes on with such a record an entry says so.
"""

import re
from dataclasses import dataclass, replace
from hashlib import sha256

from loadplan.files.record_length import LengthRead, RecordLength
from loadplan.model.work_record import LEFT_UNTOLD, BrokenOff, CountBeside, Deed, RecordEntry

RECORD_SCHEMA = "loadplan-record-1"
HEAD = f'# What was done. The program adds to it, line by line.\nschema = "{RECORD_SCHEMA}"\nunits = "metric"\n'
BEGINS = "\n[[done]]\n"
"""What each entry begins with."""

FIRST_KEY = "at = "
"""What each entry goes on with."""

SUM = "\nsum = "
"""What stands before the sum: the last line of an entry."""

DIGITS = 16
"""Hexadecimal digits of a sum."""

WENT_ON = {
    BrokenOff.UNTOLD: "this record broke off, and nothing told whether what is left out was kept",
    BrokenOff.BY_HAND: "somebody had written by hand behind the last one, and that is left out",
    BrokenOff.EMPTY: "this record was empty, and nothing told whether one was kept",
}
"""What is said of a record that goes on after something was left out of it."""


@dataclass(frozen=True, slots=True)
class RecordChain:
    """How far a record's text holds together.

    Attributes:
        whole: Its text without a last entry that is not whole.
        sums: Sum of each whole entry.
        edited: Whether an entry before does not fit its sum.
        tail: What stands there of a last entry that is not whole, "" where all are.
    """

    whole: str
    sums: tuple[str, ...]
    edited: bool
    tail: str

    @property
    def last(self) -> str:
        """Sum of the last whole entry, "" before the first."""
        return self.sums[-1] if self.sums else ""

    def bytes_kept(self, content: str) -> int:
        """Return how many bytes the whole entries take of what stands in the file, whose lines may end otherwise."""
        ends = re.escape(self.tail).replace("\\\n", "\r?\n")
        tail = re.search(rf"{ends}\Z", content) if self.tail else None
        return len(content[: tail.start() if tail else len(content)].encode()) if self.whole or not tail else 0

    def lacks(self, length: RecordLength | None) -> int:
        """Return how many entries are missing of those that it had once."""
        return max(length.entries - len(self.sums), 0) if length else 0

    def broken_off(self, length: RecordLength | None) -> BrokenOff:
        """Return what the last entry that is not whole is, as far as it was written down how long the record was."""
        if not self.tail.strip():
            return BrokenOff.NOTHING if length or self.sums else BrokenOff.EMPTY
        begun = self.tail.partition(BEGINS)[2][: len(FIRST_KEY)]
        if not FIRST_KEY.startswith(begun):
            return BrokenOff.BY_HAND
        if length is None:
            return BrokenOff.UNTOLD
        if not self.lacks(length):
            return BrokenOff.STOPPED
        # Of a record cut in its head nothing is there of any entry.
        return BrokenOff.CUT if self.whole else BrokenOff.NOTHING

    def is_other(self, length: RecordLength | None) -> bool:
        """Return whether it is another one than it was, as far as it was written down how long that was."""
        return (
            length is not None and 0 < length.entries <= len(self.sums) and self.sums[length.entries - 1] != length.sum
        )


def record_chain(text: str) -> RecordChain:
    """Look how far a record holds together, from sum to sum.

    Args:
        text: What stands in it, with lines that end as the program ends them.

    Returns:
        How far.
    """
    for length in range(len(BEGINS) - 1, 0, -1):
        if text.endswith("\n" + BEGINS[:length]):
            before = record_chain(text[:-length])
            return replace(before, tail=before.tail + BEGINS[:length])
    head, *pieces = text.split(BEGINS)
    if not pieces and (HEAD.startswith(text) or not text.strip()):
        # Nobody could read an entry behind it, as long as its head is not whole.
        return RecordChain("", (), edited=False, tail=text)
    whole, sums, edited = head, list[str](), False
    for place, piece in enumerate(pieces):
        body, found, told = (BEGINS + piece).rpartition(SUM)
        line, _, comments = told.partition("\n")
        if place == len(pieces) - 1 and not (found and told.endswith("\n")):
            return RecordChain(whole, tuple(sums), edited, tail=BEGINS + piece)
        should = entry_sum(sums[-1] if sums else "", body)
        edited |= line != f'"{should}"' or any(not each.startswith("#") for each in comments.splitlines())
        whole += BEGINS + piece
        sums.append(line.strip('"') if found else should)
    return RecordChain(whole, tuple(sums), edited, tail="")


def in_doubt(before: RecordEntry, chain: RecordChain, beside: LengthRead, *, is_new: bool) -> tuple[RecordEntry, ...]:
    """Say what has to show for good of a record, before it goes on.

    Args:
        before: The entry with which it goes on.
        chain: What stands in it.
        beside: What is told of its length.
        is_new: Whether there was no record until now.

    Returns:
        That it once went on, or was another one, or that nothing tells whether it was; nothing where all is there.
    """
    broken_off = BrokenOff.NOTHING if is_new else chain.broken_off(beside.length)
    if lacking := chain.lacks(beside.length):
        deed, words = Deed.SHORT, f"{lacking}, which were kept and are not there any more"
    elif chain.is_other(beside.length):
        deed, words = Deed.SHORT, "some of those that were kept last, for another record lies here now"
    elif broken_off in LEFT_UNTOLD:
        deed, words = Deed.UNTOLD, WENT_ON[broken_off]
    elif beside.beside is CountBeside.DAMAGED and beside.is_kept_on:
        deed, words = Deed.UNTOLD, "JOB-record.count, which says how long this record was, was damaged"
    else:
        return ()
    return (RecordEntry(before.at, "", before.sheet, "", deed, words),)


def entry_sum(last: str, written: str) -> str:
    """Sum up an entry.

    Args:
        last: Sum of the entry before, "" before the first.
        written: The entry, as it stands in the file.

    Returns:
        Its sum.
    """
    return sha256((last + written).encode("utf-8", "surrogatepass")).hexdigest()[:DIGITS]
