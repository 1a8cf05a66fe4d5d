"""Which tests ever see a broken function answer otherwise: no other one can notice it.

A test notices what is broken only if some call of the broken function ends otherwise than it does as it is: that is
called an infected state. So the tests run once on what is whole, and at every call of a function its broken forms are
run beside it (`probes`), those of all functions in one go. A place that never answers otherwise lives, whatever tests
ask for; of the others only the tests in which they did need to be tried: `table` reads them from `infected.json`.

Source: Just, Ernst and Fraser, Efficient mutation analysis by propagating and partitioning mutants (ISSTA 2014).
"""

import argparse
import gc
import inspect
import json
import os
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Mapping
from pathlib import Path
from types import CodeType, FunctionType

import pytest
from hypothesis import Phase, settings

from tests.mutation.covering import Covering
from tests.mutation.infected import Infected, keep
from tests.mutation.judge import QUIET
from tests.mutation.mutants import ROOT, Mutant
from tests.mutation.packed import FILE, unpacked
from tests.mutation.places import Place, places
from tests.mutation.probes import Probes
from tests.mutation.rows import kept
from tests.mutation.swapping import ImportedAnewError, bare, functions, known_source, pairs_of
from tests.mutation.table import FOLDER, TESTS, mutant_of

LONGEST = 3.0
"""Seconds that a test may take to be run at all."""


class Runner:
    """A plugin for pytest that runs tests with probes in place."""

    def __init__(
        self, mutants: Mapping[str, Mutant], tests: Mapping[str, float], most: float, left: Callable[[], bool]
    ) -> None:
        """Take what is asked.

        Args:
            mutants: What is broken, by the names of the places.
            tests: What is run, and the seconds that each takes.
            most: Seconds that each broken form may take in all.
            left: Whether there is time for another test.
        """
        self._mutants, self._tests, self._left = mutants, tests, left
        self._probes = Probes(most)
        self._is_whole = True

    def pytest_configure(self) -> None:
        """Do not look for smaller examples."""
        phases = (Phase.explicit, Phase.generate)
        settings.register_profile("mutation", settings.get_profile("house"), phases=phases)
        settings.load_profile("mutation")

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Put the probes, and run the tests."""
        self._put()
        gc.collect()
        gc.freeze()
        items = [item for item in session.items if item.nodeid in self._tests]
        items.sort(key=lambda item: self._order(item.nodeid))
        for item, after in zip(items, [*items[1:], None], strict=True):
            self._is_whole = self._left()
            if not self._is_whole:
                break
            self._probes.test = item.nodeid
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
        return True

    def found(self) -> dict[str, Infected]:
        """Return which tests each place infected, by its name; without those of which no function can be probed."""
        return {
            each.name: Infected(list(each.tests), self._is_whole and each.is_whole and each.calls > 0)
            for each in self._probes.all
        }

    def _order(self, test: str) -> tuple[float, str]:
        """Put the files first whose tests are quick, and leave the tests of a file together."""
        file = test.partition("::")[0]
        of_file = [seconds for other, seconds in self._tests.items() if other.startswith(f"{file}::")]
        return sum(of_file) / len(of_file), file

    def _put(self) -> None:
        known = functions()
        codes: defaultdict[tuple[str, CodeType], dict[str, CodeType]] = defaultdict(dict)
        for name, mutant in self._mutants.items():
            path = str(ROOT / mutant.file)
            pairs = _changed(mutant)
            if len(pairs) == 1 and _fits(known.get(path, {}).get(pairs[0][0], []), pairs[0]):
                codes[path, pairs[0][0]][name] = pairs[0][1]
        for (path, code), forms in codes.items():
            self._probes.put(known[path][code][0], forms)


def _fits(found: list[FunctionType], pair: tuple[CodeType, CodeType]) -> bool:
    """Return whether a function can be probed: there is one of it, and it shares no variables with another one."""
    return len(found) == 1 and all(code.co_flags & inspect.CO_OPTIMIZED and not code.co_freevars for code in pair)


def _changed(mutant: Mutant) -> list[tuple[CodeType, CodeType]]:
    """Return the code that differs, as it is and as it would be; nothing where the change takes an import."""
    old, new = known_source(mutant.file)[1], compile(mutant.source, str(ROOT / mutant.file), "exec")
    try:
        return [(one, other) for one, other in pairs_of(old, new) if bare(one) != bare(other)]
    except ImportedAnewError:
        return []


def _seconds(times: Path) -> dict[str, float]:
    """Read how long each test takes, with what it shares."""
    known = json.loads(times.read_text("utf-8")) if times.exists() else {}
    return {test: own + shared for test, (own, shared) in known.items()}


def _asked(known: list[Place], folder: Path, fates: list[str], only: list[str]) -> dict[str, Mutant]:
    rows = unpacked(FILE.read_text("utf-8"), known) | kept(folder / "table.csv")
    of = [place for place in known if place.name in rows and rows[place.name].fate in fates]
    return {place.name: mutant_of(place) for place in of if place.file.startswith(tuple(only))}


def main() -> None:
    """Run the tests once, and write down which of them each place infects."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation.infection", description=__doc__)
    parser.add_argument("--minutes", type=float, default=60)
    parser.add_argument("--coverage", type=Path, nargs="+", default=[ROOT / ".coverage"])
    parser.add_argument("--folder", type=Path, default=FOLDER)
    parser.add_argument("--most", type=float, default=1.0, help="seconds that a broken function may take in all")
    parser.add_argument("--only", nargs="+", default=[""], help="what the paths of the files tried begin with")
    parser.add_argument("--fates", nargs="+", default=["unfinished"], help="what became of the places that are tried")
    asked = parser.parse_args()
    end = time.monotonic() + 60 * asked.minutes
    mutants = _asked(places(asked.folder / "places.json"), asked.folder, asked.fates, asked.only)
    covering, seconds = Covering(asked.coverage), _seconds(asked.folder / "times.json")
    covered = {test for mutant in mutants.values() for test in covering.tests(mutant)}
    tests = {test: seconds.get(test, 0.0) for test in covered if 0 <= seconds.get(test, 0.0) <= LONGEST}
    if not tests:
        raise SystemExit("no test is known to run any of them: is that coverage's file, with contexts?")
    runner = Runner(mutants, tests, asked.most, lambda: time.monotonic() < end)
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    pytest.main([*QUIET, "--capture=sys", "-o", "addopts=--doctest-modules", *TESTS], plugins=[runner])
    found = runner.found()
    keep(asked.folder, found)
    never = sum(each.whole and not each.tests for each in found.values())
    whole = sum(each.whole for each in found.values())
    told = f"{len(mutants)} places, {len(found)} probed; {whole} at all calls, of which {never} never answer otherwise"
    sys.stdout.write(f"{told} ({len(tests)} tests)\n")


if __name__ == "__main__":
    main()
