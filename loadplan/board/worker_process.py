"""Judging and drawing in a process of its own, which is ended where that takes too long.

A thread cannot be ended from outside, a process can. So a job that would compute for an hour costs its asker some
seconds and nobody else anything: the process is killed, the plan stays as it was, and the next question gets a new one.
What goes there and back is a job, and what it comes to: frozen records of some hundred kilobytes.
"""

import signal
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection, wait
from multiprocessing.context import ForkContext, ForkServerContext, SpawnContext
from multiprocessing.process import BaseProcess
from os import _exit
from time import monotonic
from typing import Protocol, TypeAlias, TypeVar, TypeVarTuple

from loadplan.errors import Fault, InputError

SECONDS = 25.0
"""Longest time for one answer [s], waiting for its turn included: less than the page waits (`worker.py`)."""

MOST_WAITING = 6
"""How many may wait for a process at once, the one that is served among them: each holds a thread of the server."""

BUSY = "Not done: too much is being computed at once. Nothing was changed; try again in a moment."

GIVEN_UP = (
    "Not finished within {seconds:.0f} s, so it was given up, and nothing was changed. "
    "`loadplan check` has no such limit."
)

BROKE_OFF = "The computation broke off: the machine may be out of memory. Nothing was changed; try again."

LOADED_FIRST = ["__main__", "loadplan.assess", "loadplan.report.pictures.render", "loadplan.report.sheet.floor_sheet"]
"""What each process needs, loaded once for all that come after."""

Starting: TypeAlias = ForkContext | ForkServerContext | SpawnContext
"""How a process is started."""

Told = TypeVar("Told")
Given = TypeVarTuple("Given")


class Doing(Protocol):
    """Something that does what it is given."""

    def __call__(self, does: Callable[[*Given], Told], *given: *Given) -> Told:
        """Do something, and return what comes of it."""


def here(does: Callable[[*Given], Told], *given: *Given) -> Told:
    """Do something at once, in this process.

    Args:
        does: What is done.
        given: What it is given.

    Returns:
        What comes of it.
    """
    return does(*given)


class WorkerProcess:
    """One process that does one thing at a time."""

    def __init__(self, seconds: float = SECONDS) -> None:
        """Begin with none: it is started when it is first needed, or before.

        Args:
            seconds: Longest time for one answer [s].
        """
        self._seconds = seconds
        self._turn = threading.Lock()
        self._places = threading.Semaphore(MOST_WAITING)
        self._process: BaseProcess | None = None
        self._talk: Connection | None = None
        self._begun = 0

    def start(self) -> None:
        """Start the process before it is needed; where none can be started there is none.

        To be called before this program starts threads, and before it listens: on Linux the process is then a copy of
        this program with all that is loaded, which takes some milliseconds and no memory of its own at first.
        """
        with self._turn:
            self._started(get_context("fork") if sys.platform == "linux" else _afresh())

    def begin(self, does: Callable[[*Given], object], *given: *Given) -> None:
        """Let the process begin something of which nobody waits for an answer; what is asked next waits its turn.

        Args:
            does: A function that a process can import.
            given: What it is given.
        """
        with self._turn, suppress(OSError):
            if self._talk is not None:
                self._talk.send((does, given))
                self._begun += 1

    def do(self, does: Callable[[*Given], Told], *given: *Given) -> Told:
        """Do something in the process.

        Args:
            does: A function that a process can import.
            given: What it is given.

        Returns:
            What comes of it.

        Raises:
            InputError: If that is what comes of it, if it takes too long, if too many wait, or if the process breaks
                off.
        """
        until = monotonic() + self._seconds
        if not self._places.acquire(blocking=False):
            raise InputError(Fault("", "", "", BUSY))
        try:
            if not self._turn.acquire(timeout=self._seconds):
                raise self._late()
            try:
                talk = self._started(_afresh())
                # No process to be had (none allowed, no memory): it is done all the same.
                return here(does, *given) if talk is None else self._asked(talk, until, (does, given))
            finally:
                self._turn.release()
        finally:
            self._places.release()

    def end(self) -> None:
        """End the process, whatever it does."""
        if self._talk is not None:
            self._talk.close()
        if self._process is not None:
            self._process.kill()
            self._process.join(1.0)
        self._process = self._talk = None
        self._begun = 0

    def _asked(self, talk: Connection, until: float, asked: tuple[Callable[[*Given], Told], tuple[*Given]]) -> Told:
        """Return what the process answers.

        Raises:
            InputError: If it answers with one, too late, or not at all.
        """
        try:
            talk.send(asked)
            # What was begun before is answered before.
            for _ in range(self._begun + 1):
                if not talk.poll(max(0.0, until - monotonic())):
                    self.end()
                    raise self._late()
                told: Told | InputError = talk.recv()
            self._begun = 0
        except (EOFError, OSError):
            self.end()
            raise InputError(Fault("", "", "", BROKE_OFF)) from None
        if isinstance(told, InputError):
            raise told
        return told

    def _started(self, context: Starting) -> Connection | None:
        """Return the way to the process, which is started where there is none; None where none can be."""
        if self._process is not None and not self._process.is_alive():
            self.end()  # while nothing was asked of it: nobody is the worse for it
        if self._talk is None:
            ours, theirs = context.Pipe()
            # It ends with this program: nothing in it is worth waiting for.
            process = context.Process(target=_work, args=(theirs,), daemon=True)
            try:
                process.start()
            except OSError:
                ours.close()
                return None
            finally:
                theirs.close()
            self._talk, self._process = ours, process
        return self._talk

    def _late(self) -> InputError:
        return InputError(Fault("", "", "", GIVEN_UP.format(seconds=self._seconds)))


def _afresh() -> Starting:
    """Return how processes are started beside threads: afresh, since a copy of a process with threads may hang."""
    if sys.platform != "linux":
        return get_context("spawn")
    # One process loads what is needed and is copied: the first takes a second, each further one some milliseconds.
    context = get_context("forkserver")
    context.set_forkserver_preload(LOADED_FIRST)
    return context


def _work(talk: Connection) -> None:
    """Answer until nobody asks any more."""
    # Ctrl+C goes to all processes of a terminal; the one that serves decides what becomes of it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    with suppress(EOFError, OSError):
        while True:
            does, given = talk.recv()
            try:
                told = does(*given)
            except InputError as error:
                told = error
            talk.send(told)


def _end_with_parent() -> None:
    """End as soon as the program that asks is gone, also in the middle of something."""
    parent = parent_process()
    if parent is not None:
        wait([parent.sentinel])
        _exit(1)
