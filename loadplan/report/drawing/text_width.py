"""Lettering: how wide a text is, and how it breaks into lines. Measured from the font, whatever is drawn on."""

import re
from functools import lru_cache

from loadplan.report.drawing.style import Type

LINE = 1.3
"""Distance of two lines in type sizes."""

EM = 100.0
"""Size of type at which is measured [px]."""

TIED = re.compile(r"(?<=\d) (?=(?:mm|m|kg|t|N|lb|lbf|in|ft|degrees?)\b|%|\d+/\d)")
"""The blank between a number and its unit, or its fraction."""


def text_width(text: str, lettering: Type) -> float:
    """Measure a line of text.

    Args:
        text: The line.
        lettering: Size and weight.

    Returns:
        Width [px].
    """
    return _width_by_size(text, lettering.family, lettering.bold) * lettering.size


@lru_cache(maxsize=32768)
def _width_by_size(text: str, family: str, bold: bool) -> float:  # noqa: FBT001
    """Return the width of a line by the size of its type: the same for every size, since it is measured unhinted."""
    # Fonts take a sixth of a second to load, which the server of the live plan does without: another process draws.
    from loadplan.report.drawing.font_measure import measured  # noqa: PLC0415

    return measured(text, Type(EM, bold=bold, colour="", family=family)) / EM


def words_of(text: str) -> list[str]:
    """Part a text at its blanks; a number stays with its unit.

    Args:
        text: The text.

    Returns:
        What stands together on a line.

    Example:
        >>> words_of("at most 9 1/2 in: stop")
        ['at', 'most', '9 1/2 in:', 'stop']
    """
    return [word.replace("\u00a0", " ") for word in TIED.sub("\u00a0", text).split(" ")]


def broken(text: str, lettering: Type, width: float, most: int) -> list[str]:
    """Break a text at blanks into lines, never between a number and its unit.

    Args:
        text: The text.
        lettering: Size and weight.
        width: Widest line [px].
        most: Most lines; what is left over ends in "…".

    Returns:
        At least one line.
    """
    lines = [""]
    for word in words_of(text):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if text_width(longer, lettering) <= width or not lines[-1]:
            lines[-1] = longer
        else:
            lines.append(word)
    kept = lines[:most]
    end = "…" if len(lines) > most else ""
    return [*(_cut(line, lettering, width, end="") for line in kept[:-1]), _cut(kept[-1], lettering, width, end=end)]


def _cut(line: str, lettering: Type, width: float, *, end: str) -> str:
    """Return a line cut to a width, with a mark where something is missing."""
    if text_width(line + end, lettering) <= width:
        return line + end
    while line and text_width(line + "…", lettering) > width:
        line = line[:-1]
    return line + "…"
