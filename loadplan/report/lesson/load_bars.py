"""Bars of what stands carry, for the wall, and the lettering of a lesson."""

from dataclasses import replace

from loadplan.model.answer import Load
from loadplan.model.job import Support
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import BODIES, INK, Stroke, Type
from loadplan.report.drawing.text_width import LINE, broken
from loadplan.report.drawing.view import Box
from loadplan.report.words.stage_tables import NONE, carried
from loadplan.report.words.vocabulary import Reader

BODY = Type(14, bold=False, colour=INK)
"""The smallest lettering of a lesson: 28 points on paper."""

BOLD = replace(BODY, bold=True)

STEP = BODY.size * LINE
"""Height of a line [px]."""

LETTERS = 44
"""Room for the names of the stands beside the bars [px]."""

MOST = 6
"""Most bars that are read from the back row."""

KEY = ("black: carries", "grey: most on this floor", "line: most it could ever")


def draw_bars(pen: Pen, box: Box, loads: tuple[tuple[Support, Load], ...], reader: Reader) -> None:
    """Draw a row a stand: black what it carries, grey what it may on this floor, a line what it could ever.

    Args:
        pen: Draws it.
        box: Where.
        loads: (stand, what it carries), at least one; the first six are drawn.
        reader: Who reads it.
    """
    loads = loads[:MOST]
    key = len(KEY) * BODY.size * LINE
    tall = min((box.height - key - 6) / len(loads), 38)
    left, room = box.left + LETTERS, box.width - LETTERS - 8
    scale = room / max(max(load.at_most, _ever(load) or 0.0, load.expected) for _, load in loads)
    for number, (support, load) in enumerate(loads):
        top = box.top - number * tall
        _bar(pen, Box(left, top - tall + 18, left + room, top - 2), load, scale)
        pen.words((box.left, top - tall / 2 + 8), broken(reader.words(support.name), BOLD, LETTERS - 4, 1)[0], BOLD)
        ever = _ever(load)
        most = NONE if ever is None else reader.load(ever)
        pen.words((left, top - tall + 9), f"{carried(load, reader)} · {reader.load(load.at_most)} · {most}", BODY)
    pen.lines((box.left, box.bottom + key), KEY, BODY)


def _bar(pen: Pen, row: Box, load: Load, scale: float) -> None:
    """Draw what a stand carries, over what it may on this floor, over what it could ever; `scale` in px a newton."""
    middle = row.middle[1]
    ever = _ever(load)
    if ever is not None:
        pen.line([(row.left, middle), (row.left + ever * scale, middle)], Stroke(INK, 1.6))
        end = row.left + ever * scale
        pen.line([(end, row.bottom), (end, row.top)], Stroke(INK, 1.6))
    pen.box(replace(row, right=row.left + load.at_most * scale), BODIES[1], Stroke(INK, 1.2))
    rim = min(3.0, row.height / 6)
    pen.box(replace(row, right=row.left + load.expected * scale, bottom=row.bottom + rim, top=row.top - rim), INK, None)


def _ever(load: Load) -> float | None:
    """Return the most that a stand could ever carry [N], None where nothing limits it."""
    return load.range.most if load.range else None
