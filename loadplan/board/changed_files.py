"""Which of the files that a plan rests on have changed on the disk since they were read: by what stands in them."""

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TypeAlias

from loadplan.files.job_file import JobFile
from loadplan.files.toml_source import LARGEST, sum_of

Contents: TypeAlias = Mapping[Path, bytes]
"""Files, and a sum of what stands in each; empty where it cannot be read."""


def other_files(file: JobFile) -> tuple[Path, ...]:
    """List the files that a job rests on, its own aside.

    Args:
        file: The job file.

    Returns:
        That of the vehicle, that of the shop, and one beside the job that would be the vehicle's if it came.
    """
    found = {file.vehicle.source.path, file.shop.source.path} - {file.source.path}
    name = file.head.vehicle
    if name and not name.endswith(".toml") and Path(name).name == name:
        found.add(file.source.path.parent / f"{name}.toml")
    return tuple(sorted(found))


def read_contents(file: JobFile) -> Contents:
    """Look what stood in the other files of a job when they were read: a change since then counts as one.

    Args:
        file: The job file.

    Returns:
        A sum of each.
    """
    read = {each.path: each.content for each in (file.vehicle.source, file.shop.source)}
    return {path: read[path] if path in read else _sum(path) for path in other_files(file)}


def contents_of(paths: Iterable[Path]) -> Contents:
    """Look what stands in some files.

    Args:
        paths: The files.

    Returns:
        A sum of each.
    """
    return {path: _sum(path) for path in paths}


def changed(before: Contents) -> Contents:
    """Look in which files something else stands by now.

    Args:
        before: What stood in them.

    Returns:
        Those that changed, came, or went, with what stands in them now.
    """
    return {path: now for path, now in contents_of(before).items() if now != before[path]}


def _sum(path: Path) -> bytes:
    """Return a sum of what stands in a file; of no more than is read of any, and nothing of what is no file."""
    try:
        if not path.is_file():
            return b""
        with path.open("rb") as stream:
            return sum_of(stream.read(LARGEST + 1))
    except OSError:
        return b""
