"""Checking all jobs of a folder: each is read and judged, side by side where there are many."""

from dataclasses import replace
from functools import partial
from pathlib import Path

from loadplan.assess import assess_in_short
from loadplan.errors import Fault, InputError
from loadplan.files import read_job
from loadplan.files.find_jobs import find_jobs, find_others
from loadplan.planning.register.parallel_reading import side_by_side
from loadplan.report.record_beside import record_beside
from loadplan.report.text.folder_page import FolderChecked, JobLine, UnusableJob, job_line
from loadplan.units import System


def check_folder(folder: Path, units: System | None) -> FolderChecked:
    """Judge every job in a folder and in the folders in it.

    Args:
        folder: The folder.
        units: Units of the words, None for each job's own.

    Returns:
        What came of each, and which files are no jobs.

    Raises:
        InputError: If there is no job in it.
    """
    paths = find_jobs([folder])
    if not paths:
        message = 'holds no job: the file of a job ends in .toml and begins with schema = "loadplan-job-1"'
        raise InputError(Fault(str(folder), "", "", message))
    found = side_by_side(partial(check_file, units), paths)
    return FolderChecked(
        folder=folder,
        jobs=tuple(each for each in found if isinstance(each, JobLine)),
        unusable=tuple(each for each in found if isinstance(each, UnusableJob)),
        others=find_others(folder),
    )


def check_file(units: System | None, file: Path) -> JobLine | UnusableJob:
    """Judge one job, with what was read at the bay.

    Args:
        units: Units of the words, None for the job's own.
        file: Its file.

    Returns:
        Its line, or what is wrong with it.
    """
    try:
        job = read_job(file)
        done = record_beside(file, job)
        line = job_line(done.judged(assess_in_short(job)), file, units)
        return replace(line, record=done.says)
    except InputError as error:
        return UnusableJob(file, tuple(str(fault) for fault in error.faults))
