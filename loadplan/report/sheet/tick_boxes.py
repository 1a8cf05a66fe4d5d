"""Boxes to tick on paper, side by side under their heading."""

from collections.abc import Sequence

from loadplan.report.drawing.pagination import Block, folded, points, space
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import INK, Stroke
from loadplan.report.drawing.text_width import LINE, text_width
from loadplan.report.drawing.view import Box
from loadplan.report.words.cautions import Boxes
from loadplan.report.words.vocabulary import Reader

TICK, ABREAST = 15, 3
"""Side of a box to tick [px], and how many stand side by side."""

MOMENT = 92
"""Width of the column with the moments [px]."""

HEAD, ITEM = points(10.5, bold=True), points(10.5)
"""Types of moment and item."""


def tick_blocks(sets: Sequence[Boxes], width: float, reader: Reader) -> list[Block]:
    """Lay out sets of boxes to tick, the moment of each at the left.

    Args:
        sets: The sets, in order.
        width: Room [px].
        reader: Who reads it.

    Returns:
        A block a row.
    """
    blocks: list[Block] = []
    for each in sets:
        items = [reader.words(item) for item in each.items]
        rows = _in_rows(items, (width - MOMENT) / ABREAST)
        blocks += [_row(reader.words(each.heading) if row is rows[0] else "", row, width) for row in rows]
        blocks.append(space(4))
    return blocks


def _in_rows(items: list[str], part: float) -> list[list[str]]:
    """Return the items of each row: one that takes more than two lines of a column has a row to itself."""
    rows: list[list[str]] = [[]]
    for item in items:
        alone = text_width(item, ITEM) > 2 * part
        if rows[-1] and (alone or len(rows[-1]) == ABREAST or text_width(rows[-1][0], ITEM) > 2 * part):
            rows.append([])
        rows[-1].append(item)
    return rows


def _row(moment: str, texts: list[str], width: float) -> Block:
    """Return boxes to tick, side by side."""
    part = (width - MOMENT) / (ABREAST if len(texts) > 1 else 1)
    told = [folded(text, ITEM, part - 2 * TICK) for text in texts]
    when = folded(moment, HEAD, MOMENT - 8)

    def draw(pen: Pen, box: Box) -> None:
        middle = box.top - LINE * ITEM.size / 2
        pen.lines((box.left, box.top), when, HEAD)
        for number, lines in enumerate(told):
            left = box.left + MOMENT + number * part
            pen.box(Box(left, middle - TICK / 2, left + TICK, middle + TICK / 2), None, Stroke(INK, 1.8))
            pen.lines((left + 1.5 * TICK, box.top), lines, ITEM)

    return Block(LINE * ITEM.size * max(map(len, (*told, when))) + 3, draw)
