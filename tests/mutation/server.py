"""A process that has imported and collected everything once, and forks a child for each mutant.

The child changes one module where it stands (`swapping`) and runs the tests that it is told, in that order, until one
fails. Commands come in by one pipe and answers go out by another, a line of JSON each.
"""

import functools
import gc
import json
import os
import resource
import select
import signal
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import Phase, settings

from tests.mutation.judge import MEMORY, QUIET, silence
from tests.mutation.mutants import ABOVE_STATICS
from tests.mutation.remembered import Remembered, reaches_in
from tests.mutation.swapping import (
    Functions,
    NeverImportedError,
    functions,
    known_source,
    names_of,
    of_repository,
    put,
)

LEAST = 1.0
TIMES = 5.0
"""A test may take this many seconds of a processor's time, and this many times what it takes on the file as it is."""

COLD = 5.0
"""Seconds that are added where it was timed with much remembered: a change may have it ask for something else."""

IDLE = 20
"""How many times longer than its processor's time a child may take, on a machine that is busy or while it sleeps."""

CAUGHT, SURVIVED, ANEW = 1, 0, 3
"""What a child ends with."""


class Server:
    """A plugin for pytest that serves instead of running what was collected."""

    def __init__(self, asked: int, answers: int, folder: Path) -> None:
        """Take the ends of the pipes.

        Args:
            asked: Where commands come from.
            answers: Where answers go.
            folder: Where a child leaves what it hands on.
        """
        self._asked = os.fdopen(asked, "r", encoding="utf-8")
        self._answers = os.fdopen(answers, "w", encoding="utf-8")
        self._failed = False
        self._shared = 0.0
        self._functions: Functions = {}
        self._remembered = Remembered()
        self._handed_on = folder / "remembered"

    def pytest_configure(self) -> None:
        """Do not look for smaller examples: one that fails is enough."""
        phases = (Phase.explicit, Phase.generate)
        settings.register_profile("mutation", settings.get_profile("house"), phases=phases)
        settings.load_profile("mutation")

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Remember that something failed."""
        self._failed = self._failed or report.failed

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: pytest.FixtureDef[Any]) -> Iterator[None]:
        """Measure what is made for several tests: any of them may be the one that has to make it."""
        start = time.process_time()
        made = yield
        if fixturedef.scope != "function":
            self._shared += time.process_time() - start
        return made

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Answer commands until there are no more."""
        items = {item.nodeid: item for item in session.items}
        self._functions = functions()
        for module in of_repository():
            names_of(module)
        caches = [each for each in gc.get_objects() if isinstance(each, functools._lru_cache_wrapper)]
        caches = [each for each in caches if str(each.__module__).startswith(("loadplan", "tests"))]
        # What is there now stays: no child has to look through it for rubbish.
        gc.collect()
        gc.freeze()
        self._say({"tests": list(items)})
        for line in self._asked:
            command = json.loads(line)
            tests = [(items[name], seconds) for name, seconds in command["tests"] if name in items]
            self._say(self._forked(command, tests, caches))
            if self._handed_on.exists():
                self._remembered.learn(self._handed_on.read_bytes())
                self._handed_on.unlink()
                gc.freeze()
        return True

    def _say(self, answer: dict[str, Any]) -> None:
        self._answers.write(json.dumps(answer) + "\n")
        self._answers.flush()

    def _forked(
        self, command: dict[str, Any], tests: Sequence[tuple[pytest.Item, float]], caches: Sequence[Any]
    ) -> dict[str, Any]:
        out, told = os.pipe()
        if command["file"]:
            known_source(command["file"])
        child = os.fork()
        if child == 0:
            os.close(out)
            self._die(command, tests, caches, told)
        os.close(told)
        text, end = b"", time.monotonic() + IDLE * sum(LEAST + COLD + TIMES * seconds for _, seconds in tests)
        with os.fdopen(out, "rb", buffering=0) as lines:
            while select.select([lines], [], [], max(end - time.monotonic(), 0))[0]:
                read = lines.read(65536)
                if not read:
                    break
                text += read
            else:
                os.kill(child, signal.SIGKILL)
        _, status, used = os.wait4(child, 0)
        rows = (line.split() for line in text.decode().splitlines())
        took = {tests[int(number)][0].nodeid: (float(own), float(shared)) for number, own, shared in rows}
        return {"fate": _fate(status), "took": took, "seconds": used.ru_utime + used.ru_stime}

    def _die(
        self, command: dict[str, Any], tests: Sequence[tuple[pytest.Item, float]], caches: Sequence[Any], told: int
    ) -> None:
        """Change the file, run the tests, and end the process whatever happens."""
        code = CAUGHT
        try:
            silence()
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
            for cache in caches:
                cache.cache_clear()
            if command["file"]:
                signal.setitimer(signal.ITIMER_PROF, 10)
                code = ANEW
                put(command["file"], command["source"], self._functions)
            code = CAUGHT
            code = self._run(command, tests, told)
            signal.setitimer(signal.ITIMER_PROF, 0)
            self._hand_on()
        except NeverImportedError:
            code = CAUGHT
        finally:
            os._exit(code)

    def _hand_on(self) -> None:
        found = self._remembered.handed_on()
        if found:
            part = self._handed_on.with_suffix(".part")
            part.write_bytes(found)
            part.rename(self._handed_on)

    def _run(self, command: dict[str, Any], tests: Sequence[tuple[pytest.Item, float]], told: int) -> int:
        """Run tests in order until one fails, or they have taken the most that they may of a processor's time."""
        remembers = command["file"].startswith(ABOVE_STATICS)
        for number, (item, seconds) in enumerate(tests):
            after = tests[number + 1][0] if number + 1 < len(tests) else None
            self._failed, self._shared = False, 0.0
            self._remembered.is_on = remembers and not reaches_in(item)
            start = time.process_time()
            signal.setitimer(signal.ITIMER_PROF, LEAST + COLD * self._remembered.is_on + TIMES * seconds)
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
            took = time.process_time() - start
            own = -1.0 if self._failed else took - self._shared
            os.write(told, f"{number} {own:.5f} {self._shared:.5f}\n".encode())
            if self._failed:
                return CAUGHT
            self._remembered.keep()
            if time.process_time() > command["most"]:
                break
        return SURVIVED


def _fate(status: int) -> str:
    if os.WIFSIGNALED(status) and os.WTERMSIG(status) in {signal.SIGPROF, signal.SIGKILL}:
        return "timed out"
    codes = {SURVIVED: "survived", ANEW: "anew"}
    return codes.get(os.WEXITSTATUS(status), "caught") if os.WIFEXITED(status) else "caught"


def main() -> None:
    """Collect what the command line names, and serve."""
    asked, answers, folder, *paths = sys.argv[1:]
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    options = [*QUIET, "--capture=sys", "-o", "addopts=--doctest-modules", f"--basetemp={folder}"]
    sys.exit(pytest.main([*options, *paths], plugins=[Server(int(asked), int(answers), Path(folder).parent)]))


if __name__ == "__main__":
    main()
