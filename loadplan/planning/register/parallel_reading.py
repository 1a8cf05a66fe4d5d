"""Reading and judging many job files, side by side where that is faster."""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from datetime import date
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from typing import TypeVar

from loadplan.errors import InputError
from loadplan.files import read_job
from loadplan.files.work_record_file import record_or_why
from loadplan.model.shop import Shop
from loadplan.planning.register.bookings import Register, Unread, register
from loadplan.planning.register.job_entry import Entry, enter

Judged = TypeVar("Judged")
"""What comes of a file."""

WORTH_IT = 64
"""Jobs from which further processes save more time than they take to start."""

MOST_PROCESSES = 16

AT_ONCE = 4
"""Jobs that a process takes at a time."""


def gather(shop: Shop, paths: Sequence[Path], today: date, processes: int | None = None) -> Register:
    """Read and judge all jobs of a shop.

    Args:
        shop: The shop.
        paths: Job files.
        today: Day taken where a job gives no date.
        processes: How many processes share the work; None for as many as it is worth. The result is the same.

    Returns:
        The register; a job that cannot be used is told in it.
    """
    found = side_by_side(partial(judge_file, shop, today), paths, processes)
    entries = [each for each in found if isinstance(each, Entry)]
    return register(shop, entries, [each for each in found if isinstance(each, Unread)])


def judge_file(shop: Shop, today: date, path: Path) -> Entry | Unread:
    """Read and judge one job.

    Args:
        shop: The shop.
        today: Day taken where the job gives no date.
        path: Its file.

    Returns:
        Its entry, or what is wrong with it.
    """
    try:
        # One whose record cannot be read takes its stands all the same.
        return enter(read_job(path, today=today), shop, record_or_why(path))
    except InputError as error:
        return Unread(str(path), tuple(str(fault) for fault in error.faults))


def side_by_side(judge: Callable[[Path], Judged], paths: Sequence[Path], processes: int | None = None) -> list[Judged]:
    """Do something with each of many files, by as many processes as are worth it and allowed.

    Args:
        judge: What is done with a file; a further process has to be able to import it.
        paths: The files.
        processes: How many processes share the work; None for as many as it is worth. The result is the same.

    Returns:
        What comes of each file, in their order.
    """
    # A few jobs are read before a further process has even started.
    worth = min(os.cpu_count() or 1, MOST_PROCESSES, len(paths) // AT_ONCE) if len(paths) >= WORTH_IT else 1
    many = processes or worth
    if many > 1:
        try:
            # Started afresh: a copy of a process with threads may hang.
            with ProcessPoolExecutor(many, mp_context=get_context("spawn")) as pool:
                return list(pool.map(judge, paths, chunksize=AT_ONCE))
        except (BrokenProcessPool, OSError):
            # No room for processes, or none allowed: one does it too.
            pass
    return [judge(path) for path in paths]
