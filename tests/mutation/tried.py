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

    def add(self, place: Spot, test: str, *, noticed: bool) -> None:
        """Count that a test was run on what is broken.

        Args:
            place: Where.
            test: Its name.
            noticed: Whether it failed.
        """
        there = self._by_file[place.file][place.line]
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
        for line, trials in self._by_file[place.file].items():
            weight = _weight(abs(line - place.line))
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
