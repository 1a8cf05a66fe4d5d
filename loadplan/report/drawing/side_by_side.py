"""Drawing many pictures in several processes at once, where that is faster; one does it where none can be started."""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from functools import partial
from multiprocessing import get_context, parent_process
from typing import TypeVar

Subject = TypeVar("Subject")

WORTH_IT = 24
"""Pictures from which a further process saves more time than it takes to start: it loads all that draws, too."""

MOST_PROCESSES, PARTS = 4, 4
"""Most processes, and how many parts of the work each takes one after the other."""


def untold(_done: int, _whole: int) -> None:
    """Tell nobody how far it is."""


def side_by_side(
    subject: Subject,
    draws: Sequence[Callable[[Subject], bytes]],
    told: Callable[[int, int], None] = untold,
    processes: int | None = None,
) -> list[bytes]:
    """Draw pictures of one subject.

    Args:
        subject: What they show; is sent once to each process.
        draws: What draws each; can be sent, too.
        told: Hears after each how many are drawn, of how many.
        processes: How many processes share the work; None for as many as it is worth.

    Returns:
        The pictures in their order; the same whatever shares the work.
    """
    # A process that was itself started to share work starts no further ones.
    alone = parent_process() is not None or len(draws) < WORTH_IT
    worth = processes or (1 if alone else min(os.cpu_count() or 1, MOST_PROCESSES, len(draws)))
    if worth > 1:
        try:
            return _shared(subject, draws, told, worth)
        except (BrokenProcessPool, OSError):
            # No room for processes, or none allowed: one does it too.
            pass
    drawn = []
    for draw in draws:
        drawn.append(draw(subject))
        told(len(drawn), len(draws))
    return drawn


def _shared(
    subject: Subject, draws: Sequence[Callable[[Subject], bytes]], told: Callable[[int, int], None], processes: int
) -> list[bytes]:
    """Return pictures drawn by several processes, each of which takes some at a time."""
    # Started afresh: a copy of a process with threads may hang, and not every system can copy one.
    size = -(-len(draws) // (processes * PARTS))
    parts = [draws[first : first + size] for first in range(0, len(draws), size)]
    pictures: list[bytes] = []
    with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as pool:
        for found in pool.map(partial(_drawn, subject), parts):
            pictures += found
            told(len(pictures), len(draws))
    return pictures


def _drawn(subject: Subject, draws: Sequence[Callable[[Subject], bytes]]) -> list[bytes]:
    return [draw(subject) for draw in draws]
