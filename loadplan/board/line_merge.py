"""Merging two people's changes of one text, line by line, where they do not touch.

The idea. Both are compared with the text that they began with. Each gives stretches of its lines that became others;
where every stretch of one lies apart from every stretch of the other, with at least one line between that neither
changed, both are put in, from the end to the beginning. Where two stretches overlap or meet, nobody but a reader can
tell what both meant: nothing is merged. This is the three-way merge of "diff3" (Khanna, Kunal, Pierce: A formal
investigation of diff3, 2007) without its conflict marks.
"""

from difflib import SequenceMatcher
from typing import NamedTuple

from loadplan.board.draft import MOST_COMPARED


class Stretch(NamedTuple):
    """Lines that became others.

    Attributes:
        start: First line of the text before, from 0.
        end: The line behind the last one.
        lines: What stands there after, with line ends.
    """

    start: int
    end: int
    lines: tuple[str, ...]


def merged(before: str, one: str, other: str) -> str | None:
    r"""Put the changes of two people together.

    Args:
        before: What both began with.
        one: What one made of it.
        other: What the other made of it.

    Returns:
        The text with both; None where they touch, and for texts of more lines than are compared one by one.

    Example:
        >>> merged("a\nb\nc\n", "A\nb\nc\n", "a\nb\nC\n")
        'A\nb\nC\n'
        >>> merged("a\nb\nc\n", "A\nb\nc\n", "a\nB\nc\n") is None
        True
    """
    if one == other or before == other:
        return one
    if max(len(each.splitlines()) for each in (before, one, other)) > MOST_COMPARED:
        return None
    mine, theirs = _stretches(before, one), _stretches(before, other)
    if any(a.start <= b.end and b.start <= a.end for a in mine for b in theirs if a != b):
        return None
    lines = before.splitlines(keepends=True)
    for start, end, come in sorted({*mine, *theirs}, reverse=True):
        lines[start:end] = come
    return "".join(lines)


def _stretches(before: str, after: str) -> list[Stretch]:
    """Return what one made of a text, stretch by stretch."""
    old, new = before.splitlines(keepends=True), after.splitlines(keepends=True)
    pieces = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    return [Stretch(start, end, tuple(new[come:there])) for kind, start, end, come, there in pieces if kind != "equal"]
