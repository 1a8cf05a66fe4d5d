"""The one door by which every file is written: whole or not at all, and never over what is somebody's own.

What is there is written over only where it is the command's own to write over: the job that `--write` names, whose old
text is kept beside; a file that this program wrote and nobody has changed since (`file_mark.py`); or where somebody
said so by `--force`. A file that the command itself has read is written over by none of its other files, not even then.
"""

import errno
import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from enum import Enum
from itertools import count
from pathlib import Path

from loadplan.errors import Fault, InputError
from loadplan.files.file_mark import is_ours, marked, unmarked
from loadplan.files.job_file import open_job
from loadplan.files.write_journal import Put, alone_in, put_all, put_folder, recover

LARGEST_KNOWN = 200_000_000
"""Largest file that is looked into for a mark [bytes]."""

BEFORE = ".before"
"""What the old text of a job that is written back is called by, behind the name of its file."""

LEFT_ALONE = "is there already and is not written over"


class Over(Enum):
    """What may be written over."""

    OWN = "what this program wrote and nobody has changed since"
    ANYTHING = "whatever is there, as --force asks for; but what the command read is not"


@dataclass(frozen=True, slots=True)
class SafeWriter:
    """Writes the files of one command.

    Attributes:
        read: Names the files that the command has read; asked only where something is there.
        over: What may be written over.
    """

    read: Callable[[], Iterable[Path]]
    over: Over

    def write(self, path: Path, content: bytes) -> None:
        """Write a file, with the mark by which it is known again.

        Args:
            path: The file; its folder must be there.
            content: What goes into it.

        Raises:
            InputError: If what is there is not written over; then nothing is.
            OSError: If it cannot be written; then what was there is there, and nothing is left behind.
        """
        with alone_in(path.parent):
            recover(path.parent)
            self._ask_for([path])
            put_all([_put(path, marked(content, path.suffix))])

    def write_into(self, folder: Path, contents: Mapping[str, bytes]) -> list[Path]:
        """Write files that belong together into a folder, made where it is missing: all of them, or none.

        Args:
            folder: Where they go.
            contents: What goes into each, by file name.

        Returns:
            The files, in order.

        Raises:
            InputError: If one that is there is not written over; then nothing is.
            OSError: If one cannot be written; then none is.
        """
        known = {name: marked(content, Path(name).suffix) for name, content in contents.items()}
        return self._into(folder, known)

    def copy_into(self, folder: Path, contents: Mapping[str, bytes]) -> list[Path]:
        """Write files to begin with into a folder, as `write_into` but without a mark: they become the user's own.

        Args:
            folder: Where they go.
            contents: What goes into each, by file name.

        Returns:
            The files, in order.

        Raises:
            InputError: If one is there already and says something else; then nothing is written.
            OSError: If one cannot be written; then none is.
        """
        return self._into(folder, contents)

    def write_back(self, path: Path, content: bytes, own: Path) -> Path | None:
        """Write a job, or a vehicle, with what was found; over the one it was found for, its old text is kept beside.

        Args:
            path: The file; its folder must be there.
            content: What goes into it.
            own: The file that it was found for.

        Returns:
            Where its old text is, None where it had none to keep.

        Raises:
            InputError: If what is there is not written over; then nothing is.
            OSError: If it cannot be written; then what was there is there.
        """
        if not _same(path, own):
            self.write(path, content)
            return None
        with alone_in(path.parent):
            recover(path.parent)
            before = _free(path.name + BEFORE, path.parent)
            place = _put(path, unmarked(content, path.suffix))  # somebody's own: with a mark it could be written over
            # One after the other, each in one go: a set would be finished by a later run, perhaps unexpected by then.
            put_all([_put(before, path.read_bytes())])
            try:
                put_all([place])
            except OSError:
                before.unlink(missing_ok=True)
                raise
            return before

    def _into(self, folder: Path, contents: Mapping[str, bytes]) -> list[Path]:
        paths = [folder / name for name in contents]
        _write_set(folder, contents, lambda: self._ask_for(paths, dict(zip(paths, contents.values(), strict=True))))
        return paths

    def _ask_for(self, paths: Iterable[Path], contents: Mapping[Path, bytes] | None = None) -> None:
        """Look whether all may be written over; one that says already what it is to say may.

        Raises:
            InputError: If one may not.
        """
        there = [path for path in paths if os.path.lexists(path)]
        read = tuple(self.read()) if there else ()
        faults = [fault for path in there if (fault := self._fault(path, read, (contents or {}).get(path)))]
        if faults:
            raise InputError(*faults)

    def _fault(self, path: Path, read: tuple[Path, ...], wanted: bytes | None) -> Fault | None:
        """Return why a file may not be written over."""
        if any(_same(path, each) for each in read):
            return Fault(str(path), "", "", "is read by this command and is not written over: name another file")
        place = _place(path)
        if self.over is Over.ANYTHING or not place.exists():
            return None
        if place.stat().st_size <= LARGEST_KNOWN:
            content = place.read_bytes()
            if content == wanted or is_ours(content, path.suffix):
                return None
        message = f"{LEFT_ALONE}: name another file, or give --force if nobody needs what is there"
        return Fault(str(path), "", "", message)


def files_of(paths: Iterable[Path]) -> tuple[Path, ...]:
    """Name the files that are read with some files: of a job its vehicle and its shop, too.

    Args:
        paths: Files; of those that are no job, or none that can be read, nothing more is known.

    Returns:
        All of them.
    """
    found: list[Path] = []
    for path in paths:
        found.append(path)
        with suppress(InputError):
            job = open_job(path)
            found += [job.vehicle.source.path, job.shop.source.path]
    return tuple(found)


def write_new(folder: Path, contents: Mapping[str, bytes]) -> None:
    """Write new files into a folder, which is made where it is missing; none is ever written over.

    Args:
        folder: Where they go.
        contents: What goes into each, by file name.

    Raises:
        InputError: If one of them is there already; then nothing is written.
        OSError: If one cannot be written; then none is.
    """

    def ask() -> None:
        there = [folder / name for name in contents if os.path.lexists(folder / name)]
        if there:
            message = f"{LEFT_ALONE}: give another name"
            raise InputError(*(Fault(str(path), "", "", message) for path in there))

    _write_set(folder, contents, ask)


def rewrite(path: Path, content: bytes) -> None:
    """Write a file that the command keeps itself, and has read as it is: the draft's job, answers begun.

    Args:
        path: The file; its folder must be there.
        content: What goes into it.

    Raises:
        InputError: If something is there that is no file, or a file that may not be written over.
        OSError: If it cannot be written; then what was there is there, and nothing is left behind.
    """
    put_all([_put(path, content)])


def _write_set(folder: Path, contents: Mapping[str, bytes], ask: Callable[[], None]) -> None:
    """Write files into a folder: one that is missing comes with all of them in one go."""
    with alone_in(folder):
        recover(folder)
        ask()
        if os.path.lexists(folder) or not contents:
            with _made(folder, folder):
                put_all([_put(folder / name, content) for name, content in contents.items()])
            return
    with _made(folder.parent, folder):
        put_folder(folder, contents)


@contextmanager
def _made(folder: Path, asked: Path) -> Iterator[None]:
    """Make a folder, and take away again what was made of it where nothing could be written into it.

    Args:
        folder: The folder.
        asked: The one that was asked for, which is it or in it.

    Yields:
        Nothing.

    Raises:
        InputError: If something that is no folder is in the way.
    """
    missing = [each for each in (folder, *folder.parents) if not os.path.lexists(each)]
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (FileExistsError, NotADirectoryError):
        raise InputError(Fault(str(asked), "", "", "is no folder, or in none: name another")) from None
    try:
        yield
    finally:
        # Nothing happens to a folder in which something was written.
        for each in missing:
            with suppress(OSError):
                each.rmdir()


def _put(path: Path, content: bytes) -> Put:
    return Put(path, _place(path), content)


def _place(path: Path) -> Path:
    """Return where a file is written: where a link leads to.

    Raises:
        InputError: If what is there cannot be written over.
        FileNotFoundError: If its folder is not there: `missing/../name` is no other way to write `name`.
    """
    if not path.parent.exists():
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), str(path))
    place = Path(os.path.realpath(path))
    if os.path.lexists(place) and not place.is_file():
        raise InputError(Fault(str(path), "", "", "is there already and is no file: name a file"))
    if place.exists() and not os.access(place, os.W_OK):
        raise InputError(Fault(str(path), "", "", "may not be written over: check its permissions, or name another"))
    return place


def _same(path: Path, other: Path) -> bool:
    """Return whether two names lead to one file, by name or by link."""
    if os.path.realpath(path) == os.path.realpath(other):
        return True
    try:
        return path.samefile(other)
    except OSError:
        return False


def _free(name: str, folder: Path) -> Path:
    """Return a name that is not taken: NAME, NAME-2, NAME-3 ..."""
    names = (f"{name}-{number}" if number > 1 else name for number in count(1))
    return next(path for each in names if not os.path.lexists(path := folder / each))
