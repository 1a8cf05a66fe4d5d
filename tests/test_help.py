"""`--help`: whole sentences for the program, for every command and every option, on a terminal of 80 columns."""

import os
import re
import subprocess
import sys

import pytest

from loadplan.cli import app
from loadplan.cli.help_text import first_sentence
from tests.house.tree import ROOT

COMMANDS = {each.name or getattr(each.callback, "__name__", ""): each.help or "" for each in app.registered_commands}


def _help(*command: str) -> str:
    """What is printed, on one line."""
    called = [sys.executable, "-m", "loadplan", *command, "--help"]
    surroundings = {**os.environ, "COLUMNS": "80"}
    done = subprocess.run(called, cwd=ROOT, env=surroundings, capture_output=True, text=True, check=True)
    assert max(len(line) for line in done.stdout.splitlines()) <= 80
    return done.stdout


def test_the_list_of_commands_cuts_no_sentence() -> None:
    told = " ".join(_help().split())
    assert [name for name, text in COMMANDS.items() if f" {name} {first_sentence(text)} " not in f"{told} "] == []


@pytest.mark.parametrize("name", COMMANDS)
def test_each_commands_help_is_told_in_whole_sentences(name: str) -> None:
    told = _help(name)
    assert COMMANDS[name] in " ".join(told.split())
    _, _, listed = told.partition("Options:\n")
    options = re.split(r"^  (?=-)", listed, flags=re.MULTILINE)[1:]
    words = [re.sub(r"\[[^]]*\]$", "", " ".join(each.split())).strip() for each in options]
    assert len(words) > 0
    assert [each for each in words if not each.endswith(".") or each.endswith("..")] == []


def test_a_number_with_a_point_ends_no_sentence() -> None:
    assert first_sentence("Read from 1.5 m. Then go.") == "Read from 1.5 m."
    assert first_sentence("No end") == "No end"
