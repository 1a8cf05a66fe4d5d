"""Boxes to tick on paper, side by side under their heading."""

from collections.abc import Sequence

from loadplan.report.drawing.pagination import Block, folded, points, space
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import INK, Stroke
from loadplan.report.drawing.text_width import LINE, text_width
from loadplan.report.drawing.view import Box
from loadplan.report.words.cautions import Boxes
from loadplan.report.words.vocabulary import Reader

TICK = 15
"""Side of a box to tick [px]."""

ABREAST = (3, 4)
"""How many boxes may stand side by side: of these the first with which a set is least high."""

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
        tries = [_set(each, abreast, width, reader) for abreast in ABREAST]
        blocks += min(tries, key=lambda rows: sum(row.high for row in rows))
        blocks.append(space(4))
    return blocks


def _set(boxes: Boxes, abreast: int, width: float, reader: Reader) -> list[Block]:
    """Return the rows of a set with so many boxes side by side."""
    rows = _in_rows([reader.words(item) for item in boxes.items], abreast, (width - MOMENT) / abreast)
    heads = [reader.words(boxes.heading), *("" for _ in rows[1:])]
    return [_row(head, row, (width - MOMENT) / abreast, width) for head, row in zip(heads, rows, strict=True)]


def _in_rows(items: list[str], abreast: int, part: float) -> list[list[str]]:
    """Return the items of each row: one that takes more than two lines of a column has a row to itself."""
    rows: list[list[str]] = [[]]
    for item in items:
        alone = text_width(item, ITEM) > 2 * part
        if rows[-1] and (alone or len(rows[-1]) == abreast or text_width(rows[-1][0], ITEM) > 2 * part):
            rows.append([])
        rows[-1].append(item)
    return rows


def _row(moment: str, texts: list[str], part: float, width: float) -> Block:
    """Return boxes to tick, side by side in parts of a width [px]; one alone has the whole width."""
    part = part if len(texts) > 1 else width - MOMENT
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
