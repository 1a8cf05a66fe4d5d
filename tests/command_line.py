"""The command line run in the test's own process, and what a call of it came to."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from loadplan import cli


class Ran(NamedTuple):
    """What a call of the command line came to."""

    code: int
    out: str
    err: str


Run = Callable[..., Ran]


def runner(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *first: str) -> Run:
    """Return what runs the command line with the words given first, and fails on a traceback."""

    def call(*arguments: str | Path) -> Ran:
        monkeypatch.setattr(sys, "argv", ["loadplan", *first, *map(str, arguments)])
        with pytest.raises(SystemExit) as ended:
            cli.main()
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        return Ran(int(ended.value.code or 0), out, err)

    return call
