"""Putting files in their places: all that belong together, or none, whatever happens in between.

What is possible. A file system puts one file in its place in one go, and one folder: no more than that. So:

- One file is written beside its place, in a folder of its own (`.loadplan-....part`), sent to the disk, and put there
  in one go. Killed at any moment, what was there is there, or what was to come.
- Files for a folder that is not there yet are written into a folder beside it, which then takes its name in one go:
  all are there, or none.
- Files for a folder that is there take their places one after the other. Before the first does, a journal in the
  folder beside tells which they are: up to then all is as it was, from then on all is to be new. Killed in the some
  thousandths of a second between the first and the last, some are old and some new until the next command that writes
  into this folder: that one begins by putting the others in their places, except where somebody has changed what was
  there since. Nothing else can be promised without moving the user's whole folder. Should one place refuse its file
  while the program runs, those before it are put back.
- Files in several folders, as where links lead out, have a journal each.
- Stopped by the keyboard, the program puts back what it has put in its place of a set.

What a kill leaves beside is cleared by the next command that writes there. A folder that a running program works in is
locked, and left alone. Who writes into a folder has it for himself from looking at what is there until the last file is
in its place, so that of two commands at once neither takes a place that the other has just filled.
"""

import json
import os
import re
import shutil
import threading
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from secrets import token_hex

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]

from loadplan.files.append_only import flush_names

JOURNAL = "set.json"
BESIDE = re.compile(r"\.loadplan-[0-9a-f]{16}\.part")
ABANDONED = 3600
"""Age from which a folder beside counts as left behind where folders cannot be locked [s]."""

PATIENCE = 10.0
"""Longest wait for another program that writes into the same folder [s]; then it is not waited for."""

ATTEMPTS = 0.01
"""Time between two attempts to lock a folder [s]."""

_held = threading.local()


@dataclass(frozen=True, slots=True)
class Put:
    """A file that goes to its place.

    Attributes:
        asked: The file as it was asked for: errors name it.
        place: Where it is written: where a link leads to.
        content: What goes into it.
    """

    asked: Path
    place: Path
    content: bytes


@dataclass(frozen=True, slots=True)
class _Beside:
    """A locked folder beside the places, on the same disk.

    Attributes:
        folder: Where the files go.
        path: The folder beside.
        puts: What is in it: the n-th file is called n, what was in its place before n.old.
    """

    folder: Path
    path: Path
    puts: list[Put] = field(default_factory=list)

    def part(self, number: int) -> Path:
        return self.path / str(number)

    def kept(self, number: int) -> Path:
        return self.path / f"{number}.old"


def put_all(puts: Sequence[Put]) -> None:
    """Write all files beside their places first, so that a full disk is met before anything is replaced.

    Args:
        puts: The files; the folders of their places are there.

    Raises:
        OSError: If one cannot be written; then all are as they were, and nothing is left beside.
    """
    with ExitStack() as open_ones:
        besides: dict[Path, _Beside] = {}
        for put in puts:
            with naming(put.asked):
                folder = put.place.parent
                beside = besides.get(folder) or besides.setdefault(folder, open_ones.enter_context(_beside(folder)))
                _fill(beside.part(len(beside.puts)), put.content, put.place)
                beside.puts.append(put)
        if len(puts) > 1:
            for beside in besides.values():
                with naming(beside.puts[0].asked):
                    _write_journal(beside)
        _place_all(list(besides.values()))


def put_folder(folder: Path, contents: Mapping[str, bytes]) -> None:
    """Write files into a folder that is not there yet: it comes with all of them, or not at all.

    Args:
        folder: The folder; the one it is to be in is there.
        contents: What goes into each file, by its name.

    Raises:
        OSError: If one cannot be written; then nothing is left behind.
    """
    with ExitStack() as open_one:
        with naming(folder):
            beside = open_one.enter_context(_beside(folder.parent))
            made = beside.path / "new"
            made.mkdir()
        for name, content in contents.items():
            with naming(folder / name):
                _fill(made / name, content, folder / name)
        with naming(folder):
            made.replace(folder)


def recover(folder: Path) -> None:
    """Finish what a killed program began to put into a folder, and clear what it left beside.

    Args:
        folder: The folder.
    """
    if not _left_in(folder):
        return
    with alone_in(folder):
        _clear(folder)


def _clear(folder: Path) -> None:
    for path in _left_in(folder):
        with suppress(OSError, ValueError, LookupError, TypeError), _lock(path) as held:
            if held and path.is_dir() and not path.is_symlink() and _is_mine(path):
                _finish(folder, path)
                shutil.rmtree(path)


@contextmanager
def alone_in(folder: Path) -> Iterator[None]:
    """Have a folder to oneself among the programs that write through here; one that is not there is nobody's.

    Args:
        folder: The folder. Asking once more for what one has is no obstacle.

    Yields:
        Nothing.
    """
    mine: set[str] = vars(_held).setdefault("folders", set())
    place = os.path.realpath(folder)
    if place in mine:
        yield
        return
    with _lock(folder, waits=True):
        mine.add(place)
        try:
            yield
        finally:
            mine.discard(place)


@contextmanager
def naming(path: Path) -> Iterator[None]:
    """Let an error name the file that was asked for, not the one beside it.

    Args:
        path: The file.

    Yields:
        Nothing.

    Raises:
        OSError: With that name.
    """
    try:
        yield
    except OSError as error:
        if error.filename == str(path):
            raise
        raise OSError(error.errno, error.strerror or str(error), str(path)) from error


@contextmanager
def _beside(folder: Path) -> Iterator[_Beside]:
    """Make a folder beside, locked until it is taken away, so that nobody else clears it.

    Yields:
        The folder beside, empty.
    """
    with ExitStack() as locks:
        with alone_in(folder):
            _clear(folder)
            path = folder / f".loadplan-{token_hex(8)}.part"
            path.mkdir(mode=0o700)
            locks.enter_context(_lock(path))
        try:
            yield _Beside(folder, path)
        finally:
            shutil.rmtree(path, ignore_errors=True)


@contextmanager
def _lock(folder: Path, *, waits: bool = False) -> Iterator[bool]:
    """Lock a folder where the system can.

    Yields:
        Whether it is locked; where the system locks none, whether it was left long ago.
    """
    if fcntl is None:
        yield waits or time.time() - folder.stat().st_mtime > ABANDONED
        return
    try:
        descriptor = os.open(folder, os.O_RDONLY | os.O_NOFOLLOW if not waits else os.O_RDONLY)
    except OSError:
        yield False
        return
    try:
        yield _locked(descriptor, PATIENCE if waits else 0.0)
    finally:
        os.close(descriptor)


def _locked(descriptor: int, patience: float) -> bool:
    """Return whether a lock was had within some seconds."""
    latest = time.monotonic() + patience
    while True:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:  # another program works in it
            if time.monotonic() >= latest:
                return False
            time.sleep(ATTEMPTS)
        except OSError:  # this disk knows no locks
            return False
        else:
            return True


def _fill(part: Path, content: bytes, place: Path) -> None:
    """Write a file beside its place and send it to the disk, with owner and rights of what is there.

    Raises:
        PermissionError: If it would change hands.
    """
    with part.open("xb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())
    if not place.exists():
        return
    there, here = place.stat(), part.stat()
    if (there.st_uid, there.st_gid) != (here.st_uid, here.st_gid):
        os.chown(part, there.st_uid, there.st_gid)
    shutil.copymode(place, part)


def _write_journal(beside: _Beside) -> None:
    """Note which files go where, and keep what they replace: from here on the set counts as written."""
    lines = []
    for number, put in enumerate(beside.puts):
        there = put.place.exists()
        if there:
            _keep(put.place, beside.kept(number))
        lines.append({"name": put.place.name, "before": _sum_of(put.place) if there else None})
    begun = beside.path / f"{JOURNAL}.begun"
    _fill(begun, json.dumps(lines).encode(), begun.with_name(JOURNAL))
    flush_names(beside.path)
    begun.replace(beside.path / JOURNAL)
    flush_names(beside.path)


def _keep(place: Path, kept: Path) -> None:
    try:
        kept.hardlink_to(place)
    except OSError:  # a disk without hard links
        shutil.copy2(place, kept)


def _place_all(besides: list[_Beside]) -> None:
    """Put all files in their places; should one refuse, or somebody stop it, those that were put are taken back.

    Raises:
        OSError: If one cannot be put in its place.
    """
    try:
        for beside in besides:
            for number, put in enumerate(beside.puts):
                with naming(put.asked):
                    beside.part(number).replace(put.place)
            flush_names(beside.folder)
    except BaseException:  # by the keyboard, too: the journal goes with what is beside
        if sum(len(beside.puts) for beside in besides) > 1:
            for beside in besides:
                _take_back(beside)
        raise


def _take_back(beside: _Beside) -> None:
    """Put back what was placed of a set that is given up."""
    (beside.path / JOURNAL).unlink(missing_ok=True)
    for number, put in enumerate(beside.puts):
        if beside.part(number).exists():
            continue
        with suppress(OSError):
            if beside.kept(number).exists():
                beside.kept(number).replace(put.place)
            else:
                put.place.unlink()


def _finish(folder: Path, path: Path) -> None:
    """Put the files of a journal in their places that are not there yet, where nobody has changed what was there."""
    journal = path / JOURNAL
    if not journal.exists():
        return
    for number, line in enumerate(json.loads(journal.read_bytes())):
        part, place = path / str(number), folder / line["name"]
        if line["name"] != Path(line["name"]).name or not part.exists():
            continue
        if os.path.lexists(place) and (place.is_symlink() or not place.is_file()):
            continue  # somebody has put something else there since
        if (_sum_of(place) if os.path.lexists(place) else None) == line["before"]:
            part.replace(place)


def _sum_of(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest()


def _is_mine(path: Path) -> bool:
    """Return whether a folder belongs to who runs this: a journal of somebody else is not followed."""
    return not hasattr(os, "geteuid") or path.stat().st_uid == os.geteuid()


def _left_in(folder: Path) -> list[Path]:
    """Return the folders beside that are in a folder."""
    try:
        return [each for each in folder.iterdir() if BESIDE.fullmatch(each.name)]
    except OSError:
        return []
