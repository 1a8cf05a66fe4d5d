"""A journal of the changes to a job that are not saved: whole lines, on the disk before the change counts as made.

The first line holds the job's text as it was read, each further one what became of it: which letters went, and which
came in their place. A line carries a sum of what it leads to. So after a kill, or a power cut, all lines are whole but
perhaps the last, and reading ends at the first that is not. The journal lies beside the job under a name that begins
with a dot; where that cannot be, in the user's own folder for such things. Who writes one holds it locked: what is
locked belongs to a program that runs, and is nobody's to take up.
"""

import json
import os
import stat
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from secrets import token_hex
from typing import Any

from loadplan.files.append_only import append_whole, flush_names, lock_alone

ENDING = ".changes"
FORM = "loadplan-changes-1"

LARGEST_JOURNAL = 200_000_000
"""Largest journal that is read [bytes]: 5,000 changes have some 2 MB."""


@dataclass(frozen=True, slots=True)
class Left:
    """What a journal holds that somebody left.

    Attributes:
        path: The journal.
        lineage: By which program it was written.
        base: The job's text as it had been read.
        text: What became of it.
        tried: What was tried out besides, as it was given.
        at: When the last line was written [s since 1970].
    """

    path: Path
    lineage: str
    base: str
    text: str
    tried: str
    at: float


class ChangeJournal:
    """Keeps what a job becomes, change by change, until it is saved."""

    def __init__(self, job: Path, tell: Callable[[str], None]) -> None:
        """Begin with nothing: the file is made when there is something to keep.

        Args:
            job: The job file.
            tell: Tells where the journal is, where it cannot be beside the job.
        """
        self._job, self._tell = job, tell
        self._lineage = token_hex(8)
        self._path: Path | None = None
        self._file = -1
        self._size = 0
        self._text = ""
        self._given_up: list[Path] = []

    @property
    def path(self) -> Path | None:
        """Where the disk has what was noted; None where nothing is noted."""
        return self._path

    def note(self, base: str, text: str, tried: str) -> None:
        """Put down what the job becomes; when this returns it is on the disk.

        Args:
            base: The job's text as it was read.
            text: What it is to be.
            tried: What is tried out besides, in one line.

        Raises:
            OSError: If it can be put down neither beside the job nor in the user's own folder.
        """
        if self._file < 0:
            self._begin(base)
        line = _line(_spliced(self._text, text), text, tried)
        try:
            self._append(line)
        except OSError:
            # Half a line may stand there now, and nothing can come after it: begin anew elsewhere.
            self._given_up += [self._path] if self._path else []
            self._leave()
            self._begin(base, beside=False)
            self._append(_line(_spliced(base, text), text, tried))
        self._text = text

    def clear(self) -> None:
        """Take the journal away: all that is in it is saved, or taken back."""
        paths = [*self._given_up, *([self._path] if self._path else [])]
        self._leave()
        self._given_up = []
        for path in paths:
            with suppress(OSError):
                path.unlink()

    def _begin(self, base: str, *, beside: bool = True) -> None:
        """Make the file, with the text from which changes count.

        Raises:
            OSError: If it can be made nowhere.
        """
        head = {"form": FORM, "job": _known_as(self._job), "lineage": self._lineage, "base": base}
        if beside:
            with suppress(OSError):
                self._make(self._job.parent / f".{self._job.name}.{token_hex(4)}{ENDING}", head)
                return
        folder = state_folder()
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        self._make(folder / f"{_sum(_known_as(self._job))}.{token_hex(4)}{ENDING}", head)
        self._tell(
            f"Changes to {self._job.name} that are not saved are kept in {folder}: beside it nothing is written.\n"
        )

    def _make(self, path: Path, head: dict[str, str]) -> None:
        """Make the file whole, or not at all.

        Raises:
            OSError: If it cannot be made.
        """
        # Windows would put a sign before each end of a line: then a torn line could not be cut off where it began.
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_APPEND | getattr(os, "O_BINARY", 0)
        self._path, self._file = path, os.open(path, flags, 0o600)
        self._size, self._text = 0, head["base"]
        try:
            lock_alone(self._file, waits=False)
            self._append(json.dumps(head).encode() + b"\n")
            flush_names(path.parent)
        except OSError:
            self._leave()
            path.unlink(missing_ok=True)
            raise

    def _append(self, line: bytes) -> None:
        """Write a whole line and wait until the disk has it.

        Raises:
            OSError: If that fails; then what came of the line is cut off again, where that is possible.
        """
        append_whole(self._file, line, self._size)
        self._size += len(line)

    def _leave(self) -> None:
        if self._file >= 0:
            os.close(self._file)
        self._path, self._file = None, -1


def left_behind(job: Path) -> list[Left]:
    """Find what programs that were killed have left of a job.

    Args:
        job: The job file.

    Returns:
        What each left that no running program holds, newest first.
    """
    beside = _named(job.parent, f".{job.name}.")
    own = _named(state_folder(), f"{_sum(_known_as(job))}.")
    found = [left for path in (*beside, *own) if (left := _read(path, _known_as(job))) is not None]
    newest: dict[str, Left] = {}
    for left in sorted(found, key=lambda each: each.at):
        if left.lineage in newest:
            drop(newest[left.lineage])  # the same program went on in the other one
        newest[left.lineage] = left
    return sorted(newest.values(), key=lambda each: -each.at)


def drop(left: Left) -> None:
    """Take a journal away that was taken up.

    Args:
        left: What was in it.
    """
    with suppress(OSError):
        left.path.unlink()


def state_folder() -> Path:
    """Return the user's own folder for what a program keeps between two runs."""
    if found := os.environ.get("XDG_STATE_HOME"):
        return Path(found) / "loadplan"
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", Path.home() / "AppData" / "Local")) / "loadplan"
    return Path.home() / ".local" / "state" / "loadplan"


def _named(folder: Path, begins: str) -> Iterator[Path]:
    with suppress(OSError):
        yield from [each for each in folder.iterdir() if each.name.startswith(begins) and each.name.endswith(ENDING)]


def _read(path: Path, job: str) -> Left | None:
    """Return what a journal holds; None where it is no journal of this job, not ours, or held by another program."""
    try:
        file = os.open(path, os.O_RDWR | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))
    except OSError:
        return None
    with os.fdopen(file, "rb") as stream:
        about = os.fstat(file)
        mine = not hasattr(os, "geteuid") or about.st_uid == os.geteuid()
        if not (
            stat.S_ISREG(about.st_mode) and mine and about.st_size <= LARGEST_JOURNAL and lock_alone(file, waits=False)
        ):
            return None
        head, *lines = stream.read().split(b"\n")
    try:
        told = json.loads(head)
        known = told["form"] == FORM and told["job"] == job
        begun = Left(path, str(told["lineage"]), told["base"], told["base"], "", 0.0)
        return _followed(begun, lines) if known else None
    except (ValueError, LookupError, TypeError, RecursionError):
        return None


def _followed(left: Left, lines: list[bytes]) -> Left | None:
    """Return what the lines of a journal lead to, up to the first that is not whole; None where not one is."""
    text, last = left.base, None
    for line in lines:
        try:
            told: dict[str, Any] = json.loads(line)
            text = text[: told["from"]] + told["put"] + text[told["to"] :]
            if told["sum"] != _sum(text + told["tried"]):
                break
            last = Left(left.path, left.lineage, left.base, text, told["tried"], float(told["at"]))
        except (ValueError, LookupError, TypeError, RecursionError, OverflowError):
            break
    return last


def _spliced(before: str, after: str) -> dict[str, object]:
    """Return which letters of a text go, and what comes in their place."""
    head = _alike(before, after)
    tail = _alike(before[head:][::-1], after[head:][::-1])
    return {"from": head, "to": len(before) - tail, "put": after[head : len(after) - tail]}


def _alike(one: str, other: str) -> int:
    """Return how many letters two texts begin with alike, by halving: comparing piece by piece is what takes time."""
    least, most = 0, min(len(one), len(other))
    while least < most:
        middle = (least + most + 1) // 2
        if one[least:middle] == other[least:middle]:
            least = middle
        else:
            most = middle - 1
    return least


def _line(splice: dict[str, object], text: str, tried: str) -> bytes:
    told = {**splice, "tried": tried, "sum": _sum(text + tried), "at": time.time()}
    return json.dumps(told).encode() + b"\n"


def _known_as(job: Path) -> str:
    return os.path.realpath(job)


def _sum(text: str) -> str:
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:24]
