"""Text in columns: tables and paragraphs that fit a width, whatever the names in them."""

import unicodedata
from dataclasses import dataclass
from enum import Enum

WIDTH = 100
"""Widest line of the page [characters]."""

INDENT = "  "
"""What stands before a line that belongs to the one over it."""

GAP = 2
"""Blanks between two columns."""

HEADING_LINES = (2, 3)
"""Lines of a heading: three where the page is too narrow for two."""

NARROWEST = 6
"""Width below which no column is squeezed."""


class Align(Enum):
    """The side of its column that a cell keeps to."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table.

    Attributes:
        heading: Words over it.
        cells: Text of each row.
        side: Words keep left, numbers right.
    """

    heading: str
    cells: tuple[str, ...]
    side: Align


def table(columns: tuple[Column, ...], width: int) -> list[str]:
    """Lay out a table.

    Args:
        columns: Columns with as many cells each.
        width: Widest line [characters].

    Returns:
        Its lines, no wider than that as long as every column may have its narrowest width.

    Example:
        >>> table((Column("stand", ("A", "B"), Align.LEFT), Column("carries", ("20 kg", "173 kg"), Align.RIGHT)), 40)
        ['stand  carries', 'A        20 kg', 'B       173 kg']
    """
    widths = _widths(columns, width)
    sides = [column.side for column in columns]
    headings = [wrap(column.heading, wide) for column, wide in zip(columns, widths, strict=True)]
    tallest = max(len(lines) for lines in headings)
    head = [[""] * (tallest - len(lines)) + lines for lines in headings]
    body = zip(*(column.cells for column in columns), strict=True)
    rows = [[wrap(cell, wide) for cell, wide in zip(cells, widths, strict=True)] for cells in body]
    return [line for row in (head, *rows) for line in _row(row, widths, sides)]


def wrap(text: str, width: int) -> list[str]:
    """Break a text at blanks, and a word that is too long anywhere.

    Args:
        text: Text on one line.
        width: Widest line [characters].

    Returns:
        At least one line.

    Example:
        >>> wrap("set down on the stands", 10)
        ['set down', 'on the', 'stands']
    """
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if breadth(longer) <= width:
            lines[-1] = longer
        else:
            broken = _broken(word, width)
            lines = [*lines, *broken] if lines[-1] else [*lines[:-1], *broken]
    return lines


def indented(first: str, text: str, width: int) -> list[str]:
    """Set a paragraph with a hanging indent.

    Args:
        first: What stands before its first line; the others are as far in.
        text: The paragraph.
        width: Widest line [characters].

    Returns:
        Its lines.

    Example:
        >>> indented("[ ] ", "no stand turns by hand", 18)
        ['[ ] no stand turns', '    by hand']
    """
    lines = wrap(text, width - breadth(first))
    return [(first if place == 0 else " " * breadth(first)) + line for place, line in enumerate(lines)]


def packed(first: str, items: list[str], width: int) -> list[str]:
    """Set items side by side, as many as a line holds; none is broken that fits a line.

    Args:
        first: What stands before each line.
        items: The items.
        width: Widest line [characters].

    Returns:
        The lines.

    Example:
        >>> packed("  ", ["[ ] stop", "[ ] every hose", "[ ] look again"], 30)
        ['  [ ] stop   [ ] every hose', '  [ ] look again']
    """
    lines: list[str] = []
    for item in items:
        longer = f"{lines[-1]}   {item}" if lines else f"{first}{item}"
        if lines and breadth(longer) <= width:
            lines[-1] = longer
        else:
            lines += indented(first, item, width)
    return lines


def cut(text: str, longest: int) -> str:
    """Cut a name that is too long, and show that it was.

    Args:
        text: The name.
        longest: Most places that it may take.

    Returns:
        The name, or its beginning and three dots.

    Example:
        >>> cut("Gearbox off", 20), cut("Gearbox, flywheel and oil pump off", 20)
        ('Gearbox off', 'Gearbox, flywheel...')
    """
    if breadth(text) <= longest:
        return text
    kept = text
    while kept and breadth(kept) > longest - 3:
        kept = kept[:-1]
    return f"{kept.rstrip(' ,;')}..."


def breadth(text: str) -> int:
    """Return how many places of a terminal a text takes.

    Args:
        text: Text on one line.

    Returns:
        Places: two for a wide character, none for a combining one.

    Example:
        >>> breadth("stand"), breadth("架台"), breadth("e\u0301")
        (5, 4, 1)
    """
    return sum(_places(each) for each in text)


def _places(each: str) -> int:
    """Return how many places a character takes on the screen: 2 where it is wide (Unicode, UAX 11), 0 if combining."""
    if unicodedata.combining(each):
        return 0
    return 2 if unicodedata.east_asian_width(each) in {"W", "F"} else 1


def _broken(word: str, width: int) -> list[str]:
    lines = [""]
    for each in word:
        if breadth(lines[-1] + each) > width and lines[-1]:
            lines.append("")
        lines[-1] += each
    return lines


def _widths(columns: tuple[Column, ...], width: int) -> list[int]:
    """Return the width of each column: its widest cell, or less where the line would be too long."""
    room = width - GAP * (len(columns) - 1)
    widths = [_natural(column, HEADING_LINES[-1]) for column in columns]
    for most in HEADING_LINES:
        loose = [_natural(column, most) for column in columns]
        if sum(loose) <= room:
            return loose
    whole_words = [max(NARROWEST, *map(_longest_word, column.cells)) for column in columns]
    for floors in (whole_words, [NARROWEST] * len(columns)):
        widths = _squeezed(widths, floors, [column.side is Align.LEFT for column in columns], room)
    return widths


def _natural(column: Column, most: int) -> int:
    """Return the width that a column has by itself: its cells', and that of its heading in few enough lines."""
    longest = _longest_word(column.heading)
    widths = range(longest, breadth(column.heading) + 1)
    heading_width = next((wide for wide in widths if len(wrap(column.heading, wide)) <= most), longest)
    return max(heading_width, *map(breadth, column.cells), 1)


def _squeezed(widths: list[int], floors: list[int], words: list[bool], room: int) -> list[int]:
    """Return widths that fit the room, or come as near as their floors let them: words give way before numbers."""
    widths = list(widths)
    while sum(widths) > room:
        loose = [place for place, wide in enumerate(widths) if wide > floors[place]]
        if not loose:
            break
        widths[max(loose, key=lambda place: (words[place], widths[place]))] -= 1
    return widths


def _longest_word(text: str) -> int:
    return max(breadth(word) for word in text.split(" "))


def _row(cells: list[list[str]], widths: list[int], sides: list[Align]) -> list[str]:
    """Return a row as lines: cells of several lines stand side by side, filled up below."""
    tallest = max(len(lines) for lines in cells)
    return [
        (" " * GAP)
        .join(
            _padded(lines[place] if place < len(lines) else "", wide, side)
            for lines, wide, side in zip(cells, widths, sides, strict=True)
        )
        .rstrip()
        for place in range(tallest)
    ]


def _padded(text: str, wide: int, side: Align) -> str:
    """Return a text filled up with blanks to a width as shown, not as counted."""
    blanks = " " * (wide - breadth(text))
    return text + blanks if side is Align.LEFT else blanks + text
