"""Work that several processes share: those beside this one are started early, and this one does its part meanwhile."""

import os
import pickle
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from multiprocessing import get_context, parent_process
from typing import Any, Generic, TypeVar

Item = TypeVar("Item")
Made = TypeVar("Made")

MOST_PROCESSES = 4
"""Most processes that share work, this one counted."""


def untold(_done: int, _whole: int) -> None:
    """Tell nobody how far it is."""


@dataclass(frozen=True, slots=True)
class Begun(Generic[Item, Made]):
    """Work that helpers have begun.

    Attributes:
        work: What is done with each item.
        items: The items.
        futures: What helpers make of each, in the order of the items; empty without helpers.
    """

    work: Callable[[Item], Made]
    items: Sequence[Item]
    futures: tuple[Future[Made], ...] = ()

    def finish(self, told: Callable[[int, int], None] = untold) -> list[Made]:
        """Do what no helper has begun, from the last item on, and wait for the others.

        Args:
            told: Hears now and then how many are done, of how many.

        Returns:
            What came of each item, in their order; the same whoever did it.
        """
        made: dict[int, Made] = {}
        for number in reversed(range(len(self.futures))):
            if self.futures[number].cancel():
                made[number] = self.work(self.items[number])
                told(len(made) + sum(each.done() for each in self.futures[:number]), len(self.items))
        for number, item in enumerate(self.items):
            if number not in made:
                made[number] = self._waited(number, item)
                told(len(made), len(self.items))
        return [made[number] for number in range(len(self.items))]

    def _waited(self, number: int, item: Item) -> Made:
        """Return what a helper made of an item; where there is none, or it went, it is made here."""
        if self.futures:
            try:
                return self.futures[number].result()
            except (BrokenProcessPool, OSError):
                # No room for processes, or none allowed: this one does it too.
                pass
        return self.work(item)


@dataclass(frozen=True, slots=True)
class Helpers:
    """Processes beside this one.

    Attributes:
        pool: They, None for none.
    """

    pool: ProcessPoolExecutor | None = None

    def begin(self, work: Callable[[Item], Made], items: Sequence[Item]) -> Begun[Item, Made]:
        """Let helpers begin some work, from the first item on.

        Args:
            work: What is done with each item; it, the items and what is made of them can be sent to a process.
            items: The items.

        Returns:
            The work, which is to be finished.
        """
        try:
            # What all items share is written down once for all of them, not once for each.
            written = pickle.dumps(work) if self.pool else b""
            futures = tuple(self.pool.submit(_done, written, item) for item in items) if self.pool else ()
        except (BrokenProcessPool, OSError):
            futures = ()
        return Begun(work, items, futures)

    def each(
        self, work: Callable[[Item], Made], items: Sequence[Item], told: Callable[[int, int], None] = untold
    ) -> list[Made]:
        """Do something with each item.

        Args:
            work: What; it, the items and what is made of them can be sent to a process.
            items: The items.
            told: Hears now and then how many are done, of how many.

        Returns:
            What came of each, in their order; the same whoever did it.
        """
        return self.begin(work, items).finish(told)


ALONE = Helpers()
"""No helpers: this process does it all."""


@contextmanager
def helpers(ready: Callable[[], object], processes: int | None = None) -> Iterator[Helpers]:
    """Start processes that take a share of the work: only where this program may be started again from its beginning.

    Args:
        ready: What each does first, at once: it loads all that the work needs, while this process goes on.
        processes: How many processes share the work, this one counted; None for as many as it is worth.

    Yields:
        They; none where one process is enough.
    """
    # A process that was itself started to share work starts no further ones.
    worth = 1 if parent_process() is not None else min(os.cpu_count() or 1, MOST_PROCESSES)
    beside = (processes or worth) - 1
    if beside < 1:
        yield ALONE
        return
    # Started afresh: a copy of a process with threads may hang, and not every system can copy one.
    pool = ProcessPoolExecutor(beside, mp_context=get_context("spawn"))
    try:
        started = Helpers(pool)
        started.begin(_called, [ready] * beside)
        yield started
    finally:
        pool.shutdown(cancel_futures=True)


def _done(written: bytes, item: object) -> Any:  # noqa: ANN401 - the work alone knows
    """Return what some work makes of an item."""
    return _read(written)(item)


@lru_cache(maxsize=1)
def _read(written: bytes) -> Callable[[object], object]:
    """Return what is done with each item: a helper reads it once, however many items it takes."""
    work: Callable[[object], object] = pickle.loads(written)
    return work


def _called(ready: Callable[[], object]) -> None:
    ready()
