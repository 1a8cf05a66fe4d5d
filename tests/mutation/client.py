"""The other end of the server: starts it, learns how long each test takes, and asks what becomes of a mutant."""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from tests.mutation.mutants import ABOVE_STATICS, ROOT, Mutant
from tests.mutation.tried import Spot, Tried

UNKNOWN = 5.0
"""Seconds that a test may take the first time it is run."""

GUESS = 0.03
"""Seconds that a test is thought to take before it is timed."""

OWN = 0.003
"""Seconds that running a test takes, whatever is in it."""

REMEMBERED = 0.3
"""What share of its time a test is thought to take where what `statics` found is remembered, before it was seen."""

NEVER = (-1.0, 0.0)
"""In place of a time: the test fails on the file as it is."""


class Answer(NamedTuple):
    """What became of a mutant.

    Attributes:
        fate: "caught", "timed out" or "survived"; "unfinished" where not all tests were begun; "anew" if it takes an
            import.
        by: The test that ended it, or the last that was run.
        seconds: What it took of a processor's time.
    """

    fate: str
    by: str
    seconds: float


class Client:
    """A server, and what is known of its tests."""

    def __init__(self, paths: Iterable[str], times: Path) -> None:
        """Start the server.

        Args:
            paths: What it collects.
            times: A file in which to keep how long each test takes.
        """
        asked, self._asks = os.pipe()
        self._answers, answers = os.pipe()
        folder = Path(tempfile.mkdtemp(prefix="mutation-")) / "tests"
        command = [sys.executable, "-m", "tests.mutation.server", str(asked), str(answers), str(folder), *paths]
        self._server = subprocess.Popen(command, cwd=ROOT, pass_fds=(asked, answers), stdout=subprocess.DEVNULL)
        os.close(asked)
        os.close(answers)
        self._out = os.fdopen(self._asks, "w", encoding="utf-8")
        self._in = os.fdopen(self._answers, "r", encoding="utf-8")
        self.tests: list[str] = self._read()["tests"]
        self._known = frozenset(self.tests)
        self._kept = times
        self._times: dict[str, tuple[float, float]] = {}
        self._shared: dict[str, float] = {}
        self._learn(json.loads(times.read_text("utf-8")) if times.exists() else {})
        self._last: dict[str, float] = {}
        """Seconds that a test took last, on a mutant of a room that finds what `statics` found before remembered."""
        self._tried = Tried()

    def close(self) -> None:
        """End the server."""
        self._out.close()
        self._server.wait()
        self._in.close()

    def fails(self) -> list[str]:
        """List the tests that were seen to fail on what is not broken: they are never asked again."""
        return [test for test, (own, _) in self._times.items() if own < 0]

    def seconds(self, file: str, test: str) -> float:
        """Return how long a test takes of a processor's time, or about so long where it was not timed yet.

        Args:
            file: What is broken.
            test: Its name.
        """
        own, shared = self._times.get(test, (GUESS, 0.0))
        own = self._last.get(test, REMEMBERED * own) if file.startswith(ABOVE_STATICS) else own
        return own + shared

    def ordered(self, place: Spot, tests: Mapping[str, float]) -> list[str]:
        """Put tests into the order in which the first is probably noticed soonest.

        Args:
            place: What is broken.
            tests: Tests that run it, each with how much of what it runs is there.

        Returns:
            Those that hold on what is whole: what is quick, and noticed others close by more often than not, first.
        """
        chances = self._tried.chances(place, tests)

        def cost(test: str) -> tuple[float, str]:
            return (OWN + self.seconds(place.file, test)) / chances[test], test

        return sorted((test for test in tests if test in self._known and self._times.get(test) != NEVER), key=cost)

    def remember(self, place: Spot, test: str, *, noticed: bool) -> None:
        """Count that a test was run on a mutant.

        Args:
            place: What was broken.
            test: Its name.
            noticed: Whether it failed.
        """
        self._tried.add(place, test, noticed=noticed)

    def fate(self, mutant: Mutant, tests: list[str], most: float) -> Answer:
        """Try one mutant.

        Args:
            mutant: What is broken.
            tests: Tests to run, in order, until one fails.
            most: Seconds after which no other one is begun; one that takes longer by itself is left out.

        Returns:
            What became of it.
        """
        if not tests:
            return Answer("survived", "", 0.0)
        within = [test for test in tests if self.seconds(mutant.file, test) <= most] or tests[:1]
        answer = self._ask((mutant.file, mutant.source), [(test, self._limit(test)) for test in within], most)
        fate, took = answer["fate"], answer["took"]
        if mutant.file.startswith(ABOVE_STATICS):
            self._last |= {test: own for test, (own, _) in took.items() if own >= 0}
        if fate not in {"caught", "timed out"}:
            self._learn(took)
            self._count(mutant, took)
            cut = fate == "survived" and len(took) < len(tests)
            return Answer("unfinished" if cut else fate, next(reversed(took), ""), answer["seconds"])
        last = next((test for test in within if test not in took), within[-1])
        if fate == "caught":
            # One that ends the process before it is told how long it took is the one that was not told of.
            last = next((test for test, (own, _) in took.items() if own < 0), last)
        if last not in self._times and not self._holds(last):
            return self.fate(mutant, [test for test in tests if test != last], most)
        self._count(mutant, (test for test in took if test != last))
        self.remember(mutant.spot, last, noticed=True)
        return Answer(fate, last, answer["seconds"])

    def _count(self, mutant: Mutant, held: Iterable[str]) -> None:
        for test in held:
            self.remember(mutant.spot, test, noticed=False)

    def _limit(self, test: str) -> float:
        """Return how long a test takes where it has to make what it shares with others of its file, too."""
        file = test.partition("::")[0]
        return self._times[test][0] + self._shared.get(file, 0.0) if test in self._times else UNKNOWN

    def _holds(self, test: str) -> bool:
        """Return whether a test holds on what is not broken: what it notices of others means nothing otherwise."""
        took = self._ask(("", ""), [(test, UNKNOWN)], UNKNOWN)["took"].get(test, NEVER)
        self._learn({test: took if took[0] >= 0 else NEVER})
        return self._times[test] != NEVER

    def _learn(self, took: dict[str, tuple[float, float]]) -> None:
        new = {test: (own, shared) for test, (own, shared) in took.items() if test not in self._times}
        for test, (_, shared) in new.items():
            file = test.partition("::")[0]
            self._shared[file] = self._shared.get(file, 0.0) + shared
        self._times |= new
        if new:
            self._kept.write_text(json.dumps(self._times), "utf-8")

    def _ask(self, changed: tuple[str, str], tests: list[tuple[str, float]], most: float) -> dict[str, Any]:
        self._out.write(json.dumps({"file": changed[0], "source": changed[1], "tests": tests, "most": most}) + "\n")
        self._out.flush()
        return self._read()

    def _read(self) -> dict[str, Any]:
        line = self._in.readline()
        if not line:
            raise SystemExit("the server has ended: does each test file import?")
        answer: dict[str, Any] = json.loads(line)
        return answer
