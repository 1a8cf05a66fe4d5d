"""Files written whole or not at all: beside their place first, then put there in one go."""

import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from secrets import token_hex

from loadplan.errors import Fault, InputError


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that it is there whole, or as it was before.

    Where a link stands, what it leads to is written; who may read and write a file stays as it was.

    Args:
        path: The file; its folder must be there.
        content: What goes into it.

    Raises:
        InputError: If something is there that is no file, or a file that may not be written over.
        OSError: If it cannot be written; then nothing is left behind.
    """
    _write_all({path: content})


def write_new(folder: Path, contents: Mapping[str, bytes]) -> None:
    """Write new files into a folder, which is made where it is missing; none is written over.

    Args:
        folder: Where they go.
        contents: What goes into each, by file name.

    Raises:
        InputError: If one of them is there already; then nothing is written.
        OSError: If one cannot be written; then none is.
    """
    there = [name for name in contents if os.path.lexists(folder / name)]
    if there:
        message = "is there already and is not written over: name a folder without it"
        raise InputError(*(Fault(str(folder / name), "", "", message) for name in there))
    with _made(folder):
        _write_all({folder / name: content for name, content in contents.items()})


def write_sheet(path: Path, content: bytes) -> None:
    """Write a PDF, over an earlier one if there is one, never over anything else.

    Args:
        path: The file; its folder must be there.
        content: What goes into it.

    Raises:
        InputError: If something else than a PDF is there.
        OSError: If it cannot be written; then nothing is left behind.
    """
    if os.path.lexists(path) and not _is_pdf(path):
        message = "is there already, is no PDF, and is not written over: name another file"
        raise InputError(Fault(str(path), "", "", message))
    write_whole(path, content)


def _is_pdf(path: Path) -> bool:
    if not path.is_file():
        return False
    with path.open("rb") as stream:
        return stream.read(5) == b"%PDF-"


def write_drawings(folder: Path, contents: Mapping[str, bytes], *, keep: Path) -> list[Path]:
    """Write drawings into a folder, which is made where it is missing; earlier drawings are replaced.

    Args:
        folder: Where they go.
        contents: What goes into each, by file name.
        keep: The input, which is never written over.

    Returns:
        The files, in order.

    Raises:
        InputError: If one of them is the input; then nothing is written.
        OSError: If one cannot be written; then none is.
    """
    paths = [folder / name for name in contents]
    _spare(paths, keep)
    with _made(folder):
        _write_all(dict(zip(paths, contents.values(), strict=True)))
    return paths


def write_set(folder: Path, contents: Mapping[str, bytes], *, keep: Path) -> list[Path]:
    """Write files that belong together into a folder: all of them, or none.

    Args:
        folder: Where they go; made where it is missing.
        contents: What goes into each, by file name.
        keep: The input, which is never written over.

    Returns:
        The files, in order.

    Raises:
        InputError: If some of them are there already and others are not, so that what is there is no earlier set of
            these; or if one of them is the input. Then nothing is written.
        OSError: If one cannot be written; then none is.
    """
    paths = [folder / name for name in contents]
    there = [path for path in paths if os.path.lexists(path)]
    if there and len(there) < len(paths):
        message = "is there already and is not part of the same set: name a folder without it"
        raise InputError(*(Fault(str(path), "", "", message) for path in there))
    _spare(there, keep)
    with _made(folder):
        _write_all(dict(zip(paths, contents.values(), strict=True)))
    return paths


def _spare(paths: list[Path], keep: Path) -> None:
    for path in paths:
        if path.exists() and path.samefile(keep):
            raise InputError(Fault(str(path), "", "", "is the job itself and is not written over: name another folder"))


@contextmanager
def _made(folder: Path) -> Iterator[None]:
    """Make a folder, and take away again what was made of it where nothing could be written into it.

    Raises:
        InputError: If something that is no folder is in the way.
    """
    missing = [each for each in (folder, *folder.parents) if not os.path.lexists(each)]
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (FileExistsError, NotADirectoryError):
        raise InputError(Fault(str(folder), "", "", "is no folder, or in none: name another")) from None
    try:
        yield
    finally:
        # Nothing happens to a folder in which something was written.
        for each in missing:
            with suppress(OSError):
                each.rmdir()


def _write_all(contents: Mapping[Path, bytes]) -> None:
    """Write all files beside their places first, so that a full disk is met before anything is replaced."""
    places = {path: _place(path) for path in contents}
    beside = {path: place.with_name(f".{place.name[:20]}.{token_hex(8)}.part") for path, place in places.items()}
    try:
        for path, content in contents.items():
            with _named(path):
                _fill(beside[path], content, places[path])
        for path, place in places.items():
            with _named(path):
                beside[path].replace(place)
    finally:
        for part in beside.values():
            with suppress(OSError):
                part.unlink(missing_ok=True)


def _place(path: Path) -> Path:
    """Return where a file is written: where a link leads to.

    Raises:
        InputError: If what is there cannot be written over.
    """
    place = Path(os.path.realpath(path))
    if os.path.lexists(place) and not place.is_file():
        raise InputError(Fault(str(path), "", "", "is there already and is no file: name a file"))
    if place.exists() and not os.access(place, os.W_OK):
        raise InputError(Fault(str(path), "", "", "may not be written over: check its permissions, or name another"))
    return place


def _fill(part: Path, content: bytes, place: Path) -> None:
    with part.open("xb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())
    if place.exists():
        shutil.copymode(place, part)


@contextmanager
def _named(path: Path) -> Iterator[None]:
    """Let an error name the file that was asked for, not the one beside it.

    Raises:
        OSError: With that name.
    """
    try:
        yield
    except OSError as error:
        raise OSError(error.errno, error.strerror or str(error), str(path)) from error
