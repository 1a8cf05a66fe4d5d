"""The bar of long work: on a terminal only, and gone when the work is done."""

import io
import sys

import pytest

from loadplan.cli.progress_bar import progress_bar


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_terminal_sees_how_far_it_is_and_then_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = Terminal()
    monkeypatch.setattr(sys, "stderr", screen)
    with progress_bar("Pages") as told:
        told(3, 9)
    shown = screen.getvalue()
    assert f"\rPages [{'#' * 10}{'.' * 20}] 3 of 9 " in shown
    last = shown.rsplit("\r", 2)[1]
    assert last.strip() == ""
    assert len(last) > len("Pages [] 3 of 9 ") + 30


def test_whoever_reads_from_a_pipe_sees_no_bar(monkeypatch: pytest.MonkeyPatch) -> None:
    pipe = io.StringIO()
    monkeypatch.setattr(sys, "stderr", pipe)
    with progress_bar("Pages") as told:
        told(3, 9)
    assert pipe.getvalue() == ""
