"""The program's name alone: in a terminal five lines that say how to begin, elsewhere how it is used."""

import os
import subprocess
import sys

import pytest

COMMAND = [sys.executable, "-m", "loadplan"]


def test_in_a_terminal_five_lines_say_how_to_begin() -> None:
    ours, theirs = pytest.importorskip("pty", reason="no terminal to be had here").openpty()
    done = subprocess.run(COMMAND, stdout=theirs, stderr=theirs, stdin=subprocess.DEVNULL, check=False)
    os.close(theirs)
    told = os.read(ours, 10_000).decode()
    os.close(ours)
    assert done.returncode == 0
    assert len(told.splitlines()) == 5
    for command in ("loadplan board", "loadplan new job.toml", "loadplan demo jobs"):
        assert command in told


def test_elsewhere_its_use_is_told_as_of_a_mistake() -> None:
    done = subprocess.run(COMMAND, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("Usage: ")
