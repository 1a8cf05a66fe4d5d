"""Texts that are kept whole: what the program says now is held against what was read and found right.

Where two corners are equally bad, or a number stands between two that it could be rounded to, the last bits of a
processor decide which is told. So a few lines may differ from what is kept in sides, in names of supports and in a
number's last digit; every other line has to be the same.
"""

import re
from itertools import zip_longest
from pathlib import Path

import pytest

MOST_TIED = 6
"""Lines of a text that may tell the other of two ties: the symmetric demo jobs have three or four."""

NEAR, NOTHING = 0.06, 1e-6
"""Share by which a rounded number may differ from the kept one, and what is none."""

NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e[-+]?\d+)?")
"""A number as it is written."""

TIED = re.compile(r"\b(?:front|back|left|right|[A-Z]\d?|and)\b,?|\s+")
"""What the other of two ties changes besides: sides, and which supports are turned about."""


def assert_kept(file: Path, text: str) -> None:
    """Hold a text against the file in which it is kept; a file that was taken away is written anew, and fails once."""
    if not file.exists():
        file.parent.mkdir(exist_ok=True)
        file.write_text(text, "utf-8")
        pytest.fail(f"{file.name} was missing and is written: read it")
    lines = zip_longest(text.splitlines(), file.read_text("utf-8").splitlines())
    differing = [(now, then) for now, then in lines if now != then]
    other = [each for each in differing if not _tied(*each)]
    assert not other, f"{file.name}, now and as kept. Where that is meant: delete the file, run again, read git diff"
    assert len(differing) <= MOST_TIED, differing


def _tied(now: str | None, then: str | None) -> bool:
    """Return whether two lines tell the same but for which of two ties, or which of two roundings."""
    if now is None or then is None:
        return False
    same, kept = (TIED.sub("", each) for each in (now, then))
    if NUMBER.sub("#", same) != NUMBER.sub("#", kept):
        return False
    numbers = zip(*(map(float, NUMBER.findall(each)) for each in (same, kept)), strict=True)
    return all(abs(one - other) <= max(NEAR * abs(other), NOTHING) for one, other in numbers)
