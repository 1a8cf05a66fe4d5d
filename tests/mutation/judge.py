"""Whether tests notice a mutant: each is tried in a process of its own, where its file is imported changed."""

import gc
import importlib.util
import os
import resource
import signal
import sys
import time
from collections.abc import Sequence
from enum import Enum
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, SourceFileLoader
from pathlib import Path
from types import CodeType

import pytest
from hypothesis import Phase, settings

from tests.mutation.mutants import ROOT, Mutant

MEMORY = 3 * 1024**3
"""Bytes that a process may take."""

IDLE = 20
"""How many times longer than its processor's time a process may take, on a machine that is busy or while it sleeps."""

QUIET = ("-x", "-q", "--assert=plain", "--tb=no", "-p", "no:cacheprovider", "-p", "no:unraisableexception")
"""Options of pytest: stop at the first failure, leave nothing behind, and do without what only explains a failure."""

ALONE = ("-o", "addopts=--doctest-modules")
"""In place of the options in pyproject.toml: in this process alone, and the slow tests, too."""


class Fate(Enum):
    """What became of a mutant."""

    CAUGHT = "caught"
    TIMED_OUT = "timed out"
    SURVIVED = "survived"


def fate(mutant: Mutant, tests: Sequence[str], seconds: int) -> Fate:
    """Try one mutant.

    Args:
        mutant: What is broken.
        tests: Tests to run, in order, until one fails.
        seconds: How much of a processor's time they may take; a mutant that takes more counts as noticed.

    Returns:
        What became of it.
    """
    if not tests:
        return Fate.SURVIVED
    # What is there now stays: no child has to look through it for rubbish.
    gc.freeze()
    child = os.fork()
    if child == 0:
        _die(mutant, tests, seconds)
    return _waited(child, seconds)


def _waited(child: int, seconds: int) -> Fate:
    end = time.monotonic() + IDLE * seconds
    while time.monotonic() < end:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return _fate_of(status)
        time.sleep(0.01)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return Fate.TIMED_OUT


def _fate_of(status: int) -> Fate:
    if os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGXCPU:
        return Fate.TIMED_OUT
    survived = os.WIFEXITED(status) and os.WEXITSTATUS(status) == pytest.ExitCode.OK
    return Fate.SURVIVED if survived else Fate.CAUGHT


def _die(mutant: Mutant, tests: Sequence[str], seconds: int) -> None:
    """Run tests on a mutant, and end the process whatever happens."""
    code = 1
    try:
        silence()
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
        _settle_hypothesis()
        os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
        sys.meta_path.insert(0, _Swap(mutant))
        code = int(pytest.main([*QUIET, *ALONE, *tests]))
    finally:
        os._exit(code)


def silence() -> None:
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nowhere, stream)


def _settle_hypothesis() -> None:
    """Draw the same examples each time, keep none, and do not look for a smaller one."""
    phases = (Phase.explicit, Phase.generate)
    settings.register_profile("mutation", deadline=None, derandomize=True, database=None, phases=phases)
    settings.load_profile("mutation")


class _Swap(MetaPathFinder):
    """Finds one module's changed source."""

    def __init__(self, mutant: Mutant) -> None:
        self.name = ".".join(Path(mutant.file).with_suffix("").parts)
        self.loader = _Changed(self.name, str(ROOT / mutant.file))
        self.loader.source = mutant.source

    def find_spec(self, name: str, path: object = None, target: object = None) -> ModuleSpec | None:  # noqa: ARG002
        if name != self.name:
            return None
        return importlib.util.spec_from_file_location(name, self.loader.path, loader=self.loader)


class _Changed(SourceFileLoader):
    source = ""

    def get_code(self, fullname: str) -> CodeType:  # noqa: ARG002
        return compile(self.source, self.path, "exec")
