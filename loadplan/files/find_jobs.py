"""Finding job files: those that are named, and all that lie in a folder; and what else lies there."""

import os
import re
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from pathlib import Path

from loadplan.errors import Fault
from loadplan.files.job_shape import JOB_SCHEMA
from loadplan.files.missing_ending import ENDING
from loadplan.files.record_length import length_path
from loadplan.files.toml_source import LARGEST
from loadplan.files.work_record_file import RECORD_ENDING, record_path

_IS_JOB = re.compile(
    rb"""^[ \t]*["']?schema["']?[ \t]*=[ \t]*["']""" + JOB_SCHEMA.encode() + rb"""["']""", re.MULTILINE
)


PHOTOGRAPH = re.compile(r"(.+)-photo-\d{8}-\d{6}(?:-\d+)?\.jpg")
"""How `keep_photograph` names what was sent from the bay: behind the job's name, by day and time."""

WRONG_ENDINGS = ("", ".txt")
"""What editors leave behind a name instead of its ending, or behind it."""

EARLIEST, LATEST = 0.0, datetime(9998, 12, 31, tzinfo=UTC).timestamp()
"""Times between which a file is said to have been changed [s since 1970]: a day from the ends in every time zone."""

HEAD = 4096
"""How much of such a file is looked into [bytes]: its schema stands in the first lines."""

_HAS_SCHEMA = re.compile(rb"""^[ \t]*["']?schema["']?[ \t]*=""", re.MULTILINE)
_OTHER = re.compile(
    rb"""^[ \t]*["']?schema["']?[ \t]*=[ \t]*["']loadplan-(shop|vehicle|readings|answers|record|changes)-""",
    re.MULTILINE,
)
_HAS_STEPS = re.compile(rb"^[ \t]*\[\[[ \t]*(stage|support)[ \t]*\]\]", re.MULTILINE)


def changed_at(stamp: float) -> datetime:
    """Return when a file was last changed; a time that no calendar has is told as the farthest that this one has.

    Args:
        stamp: What the disk says [s since 1970]: a camera, a broken clock or another system may have put anything.

    Returns:
        It, in the time zone of this machine.

    Example:
        >>> changed_at(4e11).year
        9998
    """
    return datetime.fromtimestamp(min(max(stamp, EARLIEST), LATEST), UTC).astimezone()


def find_jobs(paths: Iterable[Path]) -> tuple[Path, ...]:
    """Find the job files among some paths, each once.

    A file that is named is taken as it is. Of a folder, and of the folders in it, every `.toml` file is taken that
    calls itself a job, even where the rest of it is no TOML, or that has a job's tables and calls itself nothing, so
    that it is told; hidden folders and links to folders are passed over, and so is what by its name is the record of a
    job beside it: whatever stands there is told at that job.

    Args:
        paths: Files and folders.

    Returns:
        Files in the order of the paths, those of a folder by name; they need not exist.
    """
    found = (file for path in paths for file in (_in_folder(path) if path.is_dir() else (path,)))
    return tuple({os.path.realpath(file): file for file in reversed(tuple(found))}.values())[::-1]


def strays(paths: Iterable[Path]) -> tuple[Fault, ...]:
    """Find the files of some folders that look like a job, but by their ending or their schema are not taken for one.

    Args:
        paths: Files and folders; files that are named are taken as they are.

    Returns:
        What to do about each.
    """
    named = (each for folder in paths if folder.is_dir() for each in _files(folder) if not each.name.startswith("."))
    found = (
        each for each in named if each.suffix.lower() in WRONG_ENDINGS and each.is_file() and _calls_itself_job(each)
    )
    ending = "calls itself a job, but its name does not end in"
    misnamed = [Fault(str(each), "", "", f"{ending} {ENDING}: rename it {_name(each)}") for each in found]
    every = (each for folder in paths if folder.is_dir() for each in _files(folder))
    schema = f'has the tables of a job, but is none by what stands there: "{JOB_SCHEMA}" would be right'
    return (*misnamed, *(Fault(str(each), "", "schema", schema) for each in every if _is_almost_job(each)))


def find_others(folder: Path) -> tuple[Path, ...]:
    """Find the files in a folder, and in the folders in it, that are no jobs.

    Args:
        folder: The folder.

    Returns:
        Files by name; hidden ones, hidden folders and links to folders are passed over, and so is what the program
        keeps of a job beside it: its record, how long that is, and the photographs that were sent.
    """
    files = [path for path in _files(folder) if not path.name.startswith(".")]
    jobs = {path for path in files if _is_job(path)}
    records = {record_path(job) for job in jobs}
    kept = records | {length_path(record) for record in records}
    return tuple(path for path in files if path not in jobs | kept and _photographed(path) not in jobs)


def _photographed(path: Path) -> Path | None:
    """Return the job that a photograph was kept beside, by its name; None for another name."""
    found = PHOTOGRAPH.fullmatch(path.name)
    return path.with_name(found[1] + ENDING) if found else None


def _in_folder(folder: Path) -> Iterator[Path]:
    """Yield the jobs in a folder and below, hidden folders left out."""
    yield from (path for path in _files(folder) if _is_job(path))


def _files(folder: Path) -> Iterator[Path]:
    """Yield the files in a folder and below, hidden folders left out."""
    for place, folders, files in os.walk(folder):
        folders[:] = sorted(each for each in folders if not each.startswith("."))
        yield from (Path(place, name) for name in sorted(files))


def _is_job(path: Path) -> bool:
    """Return whether a file calls itself a job, or looks like one; one that cannot be looked into may be one."""
    if path.suffix.lower() != ENDING or _is_record_of_job(path):
        return False
    # By its name a record, and of no job that is here.
    may_be = not path.name.endswith(RECORD_ENDING)
    if not path.is_file():
        return path.is_symlink() and may_be
    try:
        with path.open("rb") as stream:
            text = stream.read(LARGEST)
    except OSError:
        return may_be
    return bool(_IS_JOB.search(text) or (_HAS_STEPS.search(text) and not _HAS_SCHEMA.search(text)))


def _is_record_of_job(path: Path) -> bool:
    """Return whether by its name a file is the record of a job beside it, whatever stands in it."""
    job = path.with_name(path.name.removesuffix(RECORD_ENDING) + ENDING)
    return path.name.endswith(RECORD_ENDING) and _is_job(job)


def _is_almost_job(path: Path) -> bool:
    """Return whether a file has a job's steps or stands, and a schema that is none of ours."""
    if path.suffix.lower() != ENDING or path.name.startswith(".") or not path.is_file():
        return False
    try:
        with path.open("rb") as stream:
            text = stream.read(LARGEST)
    except OSError:
        return False
    named = _HAS_STEPS.search(text) and _HAS_SCHEMA.search(text)
    return bool(named and not _IS_JOB.search(text) and not _OTHER.search(text))


def _calls_itself_job(path: Path) -> bool:
    try:
        with path.open("rb") as stream:
            return _IS_JOB.search(stream.read(HEAD)) is not None
    except OSError:
        return False


def _name(path: Path) -> str:
    """Return the name that a file should have: with its ending, and nothing behind it."""
    stem = path.name.removesuffix(".txt")
    return stem if stem.endswith(ENDING) else stem + ENDING
