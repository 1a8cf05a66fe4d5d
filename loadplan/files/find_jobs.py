"""Finding job files: those that are named, and all that lie in a folder; and what else lies there."""

import os
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from loadplan.files.job_shape import JOB_SCHEMA
from loadplan.files.toml_source import LARGEST

_IS_JOB = re.compile(
    rb"""^[ \t]*["']?schema["']?[ \t]*=[ \t]*["']""" + JOB_SCHEMA.encode() + rb"""["']""", re.MULTILINE
)


def find_jobs(paths: Iterable[Path]) -> tuple[Path, ...]:
    """Find the job files among some paths, each once.

    A file that is named is taken as it is. Of a folder, and of the folders in it, every `.toml` file is taken that
    calls itself a job, even where the rest of it is no TOML; hidden folders and links to folders are passed over.

    Args:
        paths: Files and folders.

    Returns:
        Files in the order of the paths, those of a folder by name; they need not exist.
    """
    found = (file for path in paths for file in (_in_folder(path) if path.is_dir() else (path,)))
    return tuple({os.path.realpath(file): file for file in reversed(tuple(found))}.values())[::-1]


def find_others(folder: Path) -> tuple[Path, ...]:
    """Find the files in a folder, and in the folders in it, that are no jobs.

    Args:
        folder: The folder.

    Returns:
        Files by name; hidden ones, hidden folders and links to folders are passed over.
    """
    return tuple(path for path in _files(folder) if not path.name.startswith(".") and not _is_job(path))


def _in_folder(folder: Path) -> Iterator[Path]:
    """Yield the jobs in a folder and below, hidden folders left out."""
    yield from (path for path in _files(folder) if _is_job(path))


def _files(folder: Path) -> Iterator[Path]:
    """Yield the files in a folder and below, hidden folders left out."""
    for place, folders, files in os.walk(folder):
        folders[:] = sorted(each for each in folders if not each.startswith("."))
        yield from (Path(place, name) for name in sorted(files))


def _is_job(path: Path) -> bool:
    """Return whether a file calls itself a job; one that cannot be looked into may be one."""
    if path.suffix.lower() != ".toml":
        return False
    if not path.is_file():
        return path.is_symlink()
    try:
        with path.open("rb") as stream:
            return _IS_JOB.search(stream.read(LARGEST)) is not None
    except OSError:
        return True
