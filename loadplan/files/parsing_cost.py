"""Parsing cost: how much work a TOML text makes for the reader, counted before it is read.

The reader of the standard library walks the whole path of a key for every part of that key (TOML 1.0.0, "Dotted
keys": each part but the last defines a table). So a key of d parts under a header of h parts costs about d · (d + h),
and a short file can ask for minutes and gigabytes. What a full stop is depends on where it stands: in a key it parts,
in a number it is the decimal point, in a string or a comment it is nothing. One pass over the text keeps track of
that; texts that cannot cost much whatever their full stops are, which is every real job, are let through without it.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

MOST_WORK = 3_000_000
"""Most steps of the reader for the keys of one file: about a second."""

MOST_IN_KEY = 50
"""Most parts of one key: what reads the tables goes into each, and no table of ours is nested more than four deep."""

_TOKEN = re.compile(
    r"#[^\n]*"
    r'|"""(?:[^"\\]++|\\.|"{1,2}(?!"))*+(?:"{3,5})?'
    r"|'''(?:[^']++|'{1,2}(?!'))*+(?:'{3,5})?"
    r'|"(?:[^"\\\n]++|\\.)*+"?'
    r"|'[^'\n]*+'?"
    r"|[.=\[\]{},\n]",
    re.DOTALL,
)
"""A comment, a string (of several lines, or of one, also one that is not closed), or a sign that parts something.

Nothing is gone back over (possessive quantifiers), and a string that is not closed ends the text: one pass is one pass.
"""


@dataclass(slots=True)
class _Place:
    """Where in the text the count is.

    Attributes:
        line: Line, from 1.
        header: Parts of the last header.
        parts: Parts of the key that is being read so far.
        in_key: Whether it is a key, and no value.
        in_header: Whether it is the name of a table.
        open: Brackets that are open in a value, innermost last.
        work: Steps so far.
    """

    line: int = 1
    header: int = 0
    parts: int = 1
    in_key: bool = True
    in_header: bool = False
    open: list[str] = field(default_factory=list)
    work: int = 0


def too_costly(text: str) -> str:
    """Say why a text would take too long to read.

    Args:
        text: A TOML text, sound or not. What stands behind its first fault is never read, so it may be miscounted.

    Returns:
        What it has too much of, to stand behind the file's name; "" for a text that may be read.

    Example:
        >>> too_costly("a.b = 1.5"), too_costly(".".join("a" * 51) + " = 1")
        ('', 'has a key of more than 50 parts in line 1: full stops in a key part it, so put it in quotes')
    """
    if _at_most(text) <= MOST_WORK and max(line.count(".") for line in text.split("\n")) < MOST_IN_KEY:
        return ""
    for place in _keys(f"{text}\n"):
        if place.parts > MOST_IN_KEY:
            return (
                f"has a key of more than {MOST_IN_KEY} parts in line {place.line}: full stops in a key part it, so put "
                "it in quotes"
            )
        if place.work > MOST_WORK:
            return f"has too many long keys up to line {place.line}: write tables with headers of one word, [[part]]"
    return ""


def _at_most(text: str) -> int:
    """Return the most steps that a text can cost if every full stop in it parts a key."""
    lines = text.split("\n")
    headers = max((line.count(".") + 1 for line in lines if line.lstrip().startswith("[")), default=0)
    return sum((parts := line.count(".") + 1) * (parts + headers) for line in lines)


def _keys(text: str) -> Iterator[_Place]:
    """Yield the place at the end of every key and header, with the work up to there."""
    place = _Place()
    end = 0
    for token in _TOKEN.finditer(text):
        sign = token.group()
        fresh = place.in_key and place.parts == 1 and not place.open and not text[end : token.start()].strip()
        end = token.end()
        # A key without a value is no TOML, but the reader puts all its parts together before it says so.
        if sign in "\n=" and (place.in_header or (place.in_key and (sign == "=" or place.parts > 1))):
            if place.in_header:
                place.header = place.parts
            # Headers, and keys of inline tables, are walked once; others once for each part, header and all.
            once = place.in_header or place.open
            place.work += place.parts * (1 if once else place.parts + place.header)
            yield place
        _step(place, sign, opens_header=sign == "[" and fresh)
        place.line += sign.count("\n")


def _step(place: _Place, sign: str, *, opens_header: bool) -> None:
    """Take one sign into account."""
    if sign == "." and (place.in_key or place.in_header):
        place.parts += 1
    elif opens_header:
        place.in_header, place.in_key = True, False
    elif sign == "=":
        place.in_key, place.parts = False, 1
    elif sign == "\n" and (place.in_key or place.in_header or not place.open):
        # No key, and no header, goes over the end of its line; what an open bracket holds may.
        place.in_key, place.in_header, place.parts = not place.open, False, 1
    elif not place.in_header:
        _bracket(place, sign)


def _bracket(place: _Place, sign: str) -> None:
    """Follow the brackets of a value: inside braces keys come first, and again after each comma."""
    if sign in ("[", "{"):
        place.open.append(sign)
    elif sign in ("]", "}") and place.open:
        place.open.pop()
    elif sign != ",":
        return
    place.in_key = bool(place.open) and place.open[-1] == "{" and sign in ("{", ",")
    place.parts = 1
