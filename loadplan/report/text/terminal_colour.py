"""Colour for a terminal, which never carries a meaning of its own: the word stands beside it."""

import os
import sys
from enum import Enum
from typing import TextIO, assert_never

from loadplan.model.verdict import Verdict


class Colours(Enum):
    """Whether the page may be coloured: only on a terminal, and where the user does not forbid it."""

    PLAIN = "plain"
    ANSI = "ansi"


def obeys_codes(stream: TextIO) -> bool:
    """Tell whether a stream is a terminal that obeys codes (ISO/IEC 6429) instead of printing them.

    Args:
        stream: The stream.

    Returns:
        So for any terminal, but on Windows only for one that says so: its old console prints codes instead.
    """
    told = sys.platform != "win32" or "WT_SESSION" in os.environ or "TERM" in os.environ
    return told and stream.isatty()


def painted(line: str, word: str, verdict: Verdict, colours: Colours) -> str:
    """Colour the first occurrence of a word in a line.

    Args:
        line: The line.
        word: A word in it.
        verdict: Whose colour.
        colours: Whether to colour at all.

    Returns:
        The line; without colours as it was.
    """
    match colours:
        case Colours.PLAIN:
            return line
        case Colours.ANSI:
            return line.replace(word, f"\x1b[{_code(verdict)}m{word}\x1b[0m", 1)
        case _:
            assert_never(colours)


def _code(verdict: Verdict) -> str:
    """Return the code of a verdict's colour for the terminal (ISO/IEC 6429, select graphic rendition)."""
    match verdict:
        case Verdict.HOLDS:
            return "1;34"
        case Verdict.NOTE:
            return "1"
        case Verdict.CAUTION:
            return "1;30;43"
        case Verdict.STOP:
            return "1;97;41"
        case _:
            assert_never(verdict)
