"""Files written whole or not at all: beside their place first, then put there in one go."""

import os
from collections.abc import Mapping
from pathlib import Path

from loadplan.errors import Fault, InputError


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that it is there whole, or as it was before.

    Args:
        path: The file; its folder must be there.
        content: What goes into it.

    Raises:
        OSError: If it cannot be written; then nothing is left behind.
    """
    beside = path.with_name(f".{path.name[:60]}.{os.getpid()}.part")
    try:
        with beside.open("xb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def write_new(folder: Path, contents: Mapping[str, bytes]) -> None:
    """Write new files into a folder, which is made where it is missing; none is written over.

    Args:
        folder: Where they go.
        contents: What goes into each, by file name.

    Raises:
        InputError: If one of them is there already; then nothing is written.
        OSError: If one cannot be written.
    """
    there = [name for name in contents if os.path.lexists(folder / name)]
    if there:
        message = "is there already and is not written over: name a folder without it"
        raise InputError(*(Fault(str(folder / name), "", "", message) for name in there))
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in contents.items():
        write_whole(folder / name, content)


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
        OSError: If one cannot be written.
    """
    paths = [folder / name for name in contents]
    _spare(paths, keep)
    folder.mkdir(parents=True, exist_ok=True)
    for path, content in zip(paths, contents.values(), strict=True):
        write_whole(path, content)
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
    folder.mkdir(parents=True, exist_ok=True)
    beside = [path.with_name(f".{path.name[:60]}.{os.getpid()}.{number}.part") for number, path in enumerate(paths)]
    try:
        for place, content in zip(beside, contents.values(), strict=True):
            write_whole(place, content)
        for place, path in zip(beside, paths, strict=True):
            place.replace(path)
    finally:
        for place in beside:
            place.unlink(missing_ok=True)
    return paths


def _spare(paths: list[Path], keep: Path) -> None:
    for path in paths:
        if path.exists() and path.samefile(keep):
            raise InputError(Fault(str(path), "", "", "is the job itself and is not written over: name another folder"))
