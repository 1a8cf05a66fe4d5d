"""Which terminals obey codes: on Windows only those that say so, since its old console would print them."""

import sys
from io import StringIO

import pytest

from loadplan.report.text.terminal_colour import obeys_codes


class Terminal(StringIO):
    """A stream that is a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.fixture(autouse=True)
def untold(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("WT_SESSION", "TERM"):
        monkeypatch.delenv(name, raising=False)


def test_a_terminal_obeys_codes_and_a_file_does_not(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    assert obeys_codes(Terminal())
    assert not obeys_codes(StringIO())


@pytest.mark.parametrize(("said", "obeys"), [(None, False), ("WT_SESSION", True), ("TERM", True)])
def test_on_windows_a_terminal_has_to_say_so(monkeypatch: pytest.MonkeyPatch, said: str | None, *, obeys: bool) -> None:
    # Console Virtual Terminal Sequences (Microsoft): a console obeys them only once a program has switched that on.
    monkeypatch.setattr(sys, "platform", "win32")
    if said:
        monkeypatch.setenv(said, "1")
    assert obeys_codes(Terminal()) == obeys
    assert not obeys_codes(StringIO())
