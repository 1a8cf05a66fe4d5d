"""Which tests noticed what close by: that tells which of them to try first."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import NamedTuple

NEAR = 3
AROUND = 12
"""Lines apart."""

WEIGHTS = (1.0, 0.5, 0.1)
"""What a trial counts that was near, around, or elsewhere in the file."""

FIRST = 0.04
NAMESAKE = 0.3
"""The chance that a test notices what it runs, and what is added where it is in the file of the same name."""


class Spot(NamedTuple):
    """Where something is broken.

    Attributes:
        file: Path in the repository.
        line: The first line that is changed.
    """

    file: str
    line: int


class Trials(NamedTuple):
    """How often a test was run on something broken, and how often it noticed, both weighted by how close it was."""

    run: float
    noticed: float


class Tried:
    """What was tried so far."""

    def __init__(self) -> None:
        """Begin with nothing."""
        self._by_file: defaultdict[str, defaultdict[int, dict[str, Trials]]] = defaultdict(lambda: defaultdict(dict))
        self._in_all: defaultdict[str, dict[str, Trials]] = defaultdict(dict)

    def add(self, place: Spot, test: str, *, noticed: bool) -> None:
        """Count that a test was run on what is broken.

        Args:
            place: Where.
            test: Its name.
            noticed: Whether it failed.
        """
        for there in (self._by_file[place.file][place.line], self._in_all[place.file]):
            known = there.get(test, Trials(0.0, 0.0))
            there[test] = Trials(known.run + 1.0, known.noticed + noticed)

    def chances(self, place: Spot, tests: Mapping[str, float]) -> dict[str, float]:
        """Estimate the chance that a test notices what is broken in a place.

        Args:
            place: Where.
            tests: Tests that run it, each with how much of what it runs is in the file.

        Returns:
            The chance, by test: before anything was tried the more, the more of what it runs is there; then as often
            as it noticed others, those close by above all.
        """
        run, noticed = dict.fromkeys(tests, 0.0), dict.fromkeys(tests, 0.0)
        # All of the file as if it were elsewhere, then what is closer by once more for the rest of its weight.
        close = range(place.line - AROUND, place.line + AROUND + 1)
        by_line = self._by_file[place.file]
        counted = [(WEIGHTS[-1], self._in_all[place.file])]
        counted += [(_weight(abs(n - place.line)) - WEIGHTS[-1], by_line[n]) for n in close if n in by_line]
        for weight, trials in counted:
            for test in run.keys() & trials.keys():
                run[test] += weight * trials[test].run
                noticed[test] += weight * trials[test].noticed
        own = f"test_{Path(place.file).stem}"
        first = {test: FIRST + share + NAMESAKE * (_stem(test) == own) for test, share in tests.items()}
        return {test: (first[test] + noticed[test]) / (1.0 + run[test]) for test in tests}


def _weight(apart: int) -> float:
    bounds: Iterable[int] = (NEAR, AROUND)
    return WEIGHTS[sum(apart > bound for bound in bounds)]


def _stem(test: str) -> str:
    return Path(test.partition("::")[0]).stem
