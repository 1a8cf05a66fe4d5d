"""A job being planned: its text as it would be saved, what is tried out besides, and which lines that changes."""

from datetime import date, datetime
from difflib import SequenceMatcher
from functools import cached_property
from pathlib import Path

from loadplan.board.changed_files import Contents, read_contents
from loadplan.board.early_judging import judged
from loadplan.board.tried_masses import WhatIf
from loadplan.board.worker_process import Doing, here
from loadplan.files.job_file import JobFile, open_job
from loadplan.files.job_reader import job_of
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment

MOST_COMPARED = 2000
"""Most lines that are compared one by one; of more all go and all come. Comparing takes their number squared."""


class Draft:
    """One state of a plan. What it comes to is computed when it is first asked for."""

    def __init__(self, path: Path, text: str, what_if: WhatIf, do: Doing = here) -> None:
        """Keep a state.

        Args:
            path: The job file.
            text: What would be saved in it.
            what_if: What is tried out besides.
            do: Does what takes long: judging.
        """
        self.path, self.text, self.what_if, self._do = path, text, what_if, do
        self.done = ""
        """What was done last to come here, in a sentence; "" for nothing."""

    @cached_property
    def file(self) -> JobFile:
        """The job file, table by table."""
        return open_job(self.path, self.text)

    @cached_property
    def given(self) -> Job:
        """The job as the files give it."""
        return job_of(self.file, self.day)

    @cached_property
    def day(self) -> date:
        """The day on which the job was read: it counts where the file gives none."""
        return today()

    @cached_property
    def rests_on(self) -> Contents:
        """What stands in the vehicle's and the shop's file."""
        return read_contents(self.file)

    @cached_property
    def job(self) -> Job:
        """The job with what is tried out."""
        return self.what_if.applied(self.given)

    @cached_property
    def assessment(self) -> Assessment:
        """The job, judged; cures are judged over all steps when the page offers them, or a sheet is printed."""
        return self._do(judged, self.job)

    def forget(self) -> None:
        """Let go of what was computed: of many states back only the text is kept."""
        for name in ("file", "rests_on", "day", "given", "job", "assessment"):
            self.__dict__.pop(name, None)


def today() -> date:
    """Return the clock's day."""
    return datetime.now().astimezone().date()


def changed_lines(before: str, after: str) -> list[str]:
    r"""List the lines in which two texts differ.

    Args:
        before: The one.
        after: The other.

    Returns:
        Lines that go, with "- " before them, and lines that come, with "+ ".

    Example:
        >>> changed_lines("a = 1\nb = 2\n", "a = 1\nb = 3\n")
        ['- b = 2', '+ b = 3']
    """
    old, new = before.splitlines(), after.splitlines()
    head = _alike(old, new)
    old, new = old[head:], new[head:]
    tail = _alike(old[::-1], new[::-1])
    old, new = old[: len(old) - tail], new[: len(new) - tail]
    if max(len(old), len(new)) > MOST_COMPARED:
        return [*_marked("-", old), *_marked("+", new)]
    pieces = SequenceMatcher(None, old, new).get_opcodes()
    changed = ((old[gone:left], new[come:there]) for kind, gone, left, come, there in pieces if kind != "equal")
    return [line for gone, come in changed for line in (*_marked("-", gone), *_marked("+", come))]


def _alike(one: list[str], other: list[str]) -> int:
    """Return how many lines two texts begin with alike."""
    pairs = enumerate(zip(one, other, strict=False))
    return next((number for number, (mine, yours) in pairs if mine != yours), min(len(one), len(other)))


def _marked(sign: str, lines: list[str]) -> list[str]:
    return [f"{sign} {line}" for line in lines]
