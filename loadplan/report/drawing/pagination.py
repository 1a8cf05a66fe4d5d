"""Blocks one below the other over as many pages as they take: nothing is cut off, nothing covers anything."""

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import HAIRLINE, INK, Stroke, Type
from loadplan.report.drawing.text_width import LINE, text_width, words_of
from loadplan.report.drawing.view import Box

Draw: TypeAlias = Callable[[Pen, Box], None]

POINT = 4 / 3
"""A typographic point [px]."""


@dataclass(frozen=True, slots=True)
class Block:
    """Something that takes the whole width and stays in one piece.

    Attributes:
        high: Its height [px].
        draw: Draws it into a box of that height.
        keeps: Whether it stays on the page of the next one.
        again: What is repeated above it where it begins a page.
        grows: How much higher it may be drawn where its page has room left [px].
    """

    high: float
    draw: Draw
    keeps: bool = False
    again: "tuple[Block, ...]" = ()
    grows: float = 0.0


def points(size: float, *, bold: bool = False, colour: str = INK) -> Type:
    """Return lettering of a size in typographic points."""
    return Type(size * POINT, bold=bold, colour=colour)


def paragraph(text: str, lettering: Type, width: float, mark: str = "") -> list[Block]:
    """Set a text in lines that may go over onto the next page, never the first or the last of them alone.

    Args:
        text: The text.
        lettering: Its type.
        width: Room [px].
        mark: Stands before the first line; the others are set in as far.

    Returns:
        A block a line.
    """
    inset = text_width(f"{mark} ", lettering) if mark else 0.0
    lines = folded(text, lettering, width - inset)
    last = len(lines) - 1
    return [
        replace(
            _line(line, lettering, inset, "" if number else mark), keeps=number < last and (number in {0, last - 1})
        )
        for number, line in enumerate(lines)
    ]


def as_is(text: str, lettering: Type) -> Block:
    """Return one line of columns as it stands: each piece at its place, whichever way its letters run."""
    letter = text_width("0" * 20, lettering) / 20
    pieces = [(found.start() * letter, found[0]) for found in re.finditer(r"\S+(?: \S+)*", text)]

    def draw(pen: Pen, box: Box) -> None:
        for left, piece in pieces:
            pen.words((box.left + left, box.middle[1]), piece, lettering)

    return Block(LINE * lettering.size, draw)


def tables(lines: Sequence[str], lettering: Type) -> list[Block]:
    """Return lines of columns as they stand, in parts: what lies between two empty lines stays on a page.

    A single line stays with the part after it.

    Args:
        lines: The lines.
        lettering: Their type, of one width.

    Returns:
        A block a line.
    """
    blocks = []
    for number, line in enumerate(lines):
        before, after = (lines[place] if 0 <= place < len(lines) else "" for place in (number - 1, number + 1))
        alone = bool(line.strip()) and not before.strip() and not after.strip()
        ends = not after.strip() and not alone and bool(line.strip())
        blocks.append(replace(as_is(line, lettering), keeps=not ends))
    return blocks


def heading(text: str, lettering: Type, width: float) -> list[Block]:
    """Return a heading, which stays with what follows."""
    return [space(0.5 * lettering.size), *(replace(each, keeps=True) for each in paragraph(text, lettering, width))]


def space(high: float) -> Block:
    """Return free room [px]."""
    return Block(high, lambda _pen, _box: None, keeps=True)


def rule() -> Block:
    """Return a thin line across."""
    return Block(8, lambda pen, box: pen.line([(box.left, box.middle[1]), (box.right, box.middle[1])], THIN))


def folded(text: str, lettering: Type, width: float) -> list[str]:
    """Break a text into lines; a word wider than a line is broken, not cut off.

    Args:
        text: The text.
        lettering: Its type.
        width: Widest line [px].

    Returns:
        At least one line.
    """
    lines, far, blank = [""], 0.0, text_width(" ", lettering)
    for word in (piece for each in words_of(" ".join(text.split())) for piece in _pieces(each, lettering, width)):
        wide = text_width(word, lettering)
        if not lines[-1] or far + blank + wide <= width:
            far += wide + (blank if lines[-1] else 0.0)
            lines[-1] = f"{lines[-1]} {word}".strip()
        else:
            lines.append(word)
            far = wide
    return lines


def paged(blocks: Sequence[Block], room: float) -> list[list[Block]]:
    """Put blocks onto pages.

    Args:
        blocks: Blocks, from top to bottom.
        room: Height of a page [px].

    Returns:
        The blocks of each page; a run that stays together is parted only where it is higher than a page.
    """
    pages: list[list[Block]] = [[]]
    left = room
    for run in _runs(blocks):
        if _height(run) > left and pages[-1] and _height(run) <= room:
            pages.append([])
            left = room
        for block in run:
            if block.high > left and pages[-1]:
                pages.append([])
                left = room
            placed = [*block.again, block] if not pages[-1] else [block]
            pages[-1] += placed
            left -= _height(placed)
    return pages


def filled(blocks: Sequence[Block], room: float) -> list[Block]:
    """Let the blocks of a page that can grow take what room it has left, alike.

    Args:
        blocks: The blocks of a page.
        room: Its height [px].

    Returns:
        The blocks, in the same order.
    """
    growing = [block for block in blocks if block.grows]
    part = max(room - _height(blocks), 0.0) / max(len(growing), 1)
    return [replace(block, high=block.high + min(block.grows, part)) for block in blocks]


def fewest_pages(layouts: Iterable[list[Block]], room: float) -> list[Block]:
    """Choose of several layouts the first that takes the fewest pages.

    Args:
        layouts: The blocks of each; what comes after one that fits on a page is not laid out.
        room: Height of a page [px].

    Returns:
        The blocks.

    Raises:
        ValueError: If there is no layout.
    """
    best: list[Block] | None = None
    least = 0
    for blocks in layouts:
        pages = len(paged(blocks, room))
        if best is None or pages < least:
            best, least = blocks, pages
        if least <= 1:
            break
    if best is None:
        raise ValueError(layouts)
    return best


def draw_blocks(pen: Pen, box: Box, blocks: Sequence[Block]) -> None:
    """Draw blocks from the top of a box down.

    Args:
        pen: Draws them.
        box: Where.
        blocks: What.
    """
    top = box.top
    for block in blocks:
        block.draw(pen, replace(box, top=top, bottom=top - block.high))
        top -= block.high


THIN = Stroke(HAIRLINE, 1.5)
"""A line that parts two things."""


def _line(text: str, lettering: Type, inset: float, mark: str) -> Block:
    def draw(pen: Pen, box: Box) -> None:
        if mark:
            pen.words((box.left, box.middle[1]), mark, lettering)
        pen.words((box.left + inset, box.middle[1]), text, lettering)

    return Block(LINE * lettering.size, draw)


def _pieces(word: str, lettering: Type, width: float) -> list[str]:
    """Return a word, in pieces where it is wider than a line."""
    pieces = [""]
    for letter in word if 2 * len(word) * lettering.size > width and text_width(word, lettering) > width else [word]:
        if pieces[-1] and text_width(pieces[-1] + letter, lettering) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def _runs(blocks: Sequence[Block]) -> list[list[Block]]:
    runs: list[list[Block]] = [[]]
    for block in blocks:
        runs[-1].append(block)
        if not block.keeps:
            runs.append([])
    return [run for run in runs if run]


def _height(blocks: Sequence[Block]) -> float:
    return sum(block.high for block in blocks)
