"""The signs of a picture: mounts, rods, centres of gravity, what has to be seen to, what has nothing above it."""

from loadplan.model.verdict import Verdict
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import INK, SHEET, Stroke
from loadplan.report.drawing.view import XY, Box
from loadplan.report.pictures.verdict_colours import livery

CG = 7
"""Radius of the sign for a centre of gravity [px]."""

MOUNT = 7
"""Radius of the sign for a mount [px]."""

ROD_END = 5
"""Radius of the sign for a joint at the end of a link [px]."""

FAULT = livery(Verdict.STOP).line
"""Colour of a stand with nothing above it."""

TIE = 9
"""Half the size of the mark of what has to be off or tied up [px]."""


def cross_out(pen: Pen, box: Box) -> None:
    """Cross out a stand with nothing above it, in the colour of a fault.

    Args:
        pen: Draws it.
        box: What the stand covers [px].
    """
    pen.line([(box.left, box.bottom), (box.right, box.top)], Stroke(FAULT, 3.0))
    pen.line([(box.left, box.top), (box.right, box.bottom)], Stroke(FAULT, 3.0))


def link_sign(pen: Pen, ends: list[XY]) -> None:
    """Draw the sign for a link: a rod with a ring at each end.

    Args:
        pen: Draws it.
        ends: Its ends on the page [px].
    """
    pen.line(ends, Stroke(INK, 3.0))
    for end in ends:
        pen.disc(end, ROD_END, SHEET, Stroke(INK, 1.6))


def mount_sign(pen: Pen, at: XY) -> None:
    """Draw the sign for a mount: a ring with a cross.

    Args:
        pen: Draws it.
        at: Where on the page [px].
    """
    x, y = at
    arm = MOUNT * 0.7
    pen.disc(at, MOUNT, SHEET, Stroke(INK, 1.6))
    pen.line([(x - arm, y - arm), (x + arm, y + arm)], Stroke(INK, 1.6))
    pen.line([(x - arm, y + arm), (x + arm, y - arm)], Stroke(INK, 1.6))


def cg_sign(pen: Pen, at: XY) -> None:
    """Draw the sign for a centre of gravity: a disc in four quarters.

    Args:
        pen: Draws it.
        at: Where on the page [px].
    """
    pen.disc(at, CG, SHEET, Stroke(INK, 1.6))
    pen.wedge(at, CG, (0, 90), INK)
    pen.wedge(at, CG, (180, 270), INK)


def tie_sign(pen: Pen, at: XY) -> None:
    """Draw the sign for what has to be off or tied up: a square on its corner.

    Args:
        pen: Draws it.
        at: Where on the page [px].
    """
    x, y = at
    pen.area([(x, y + TIE), (x + TIE, y), (x, y - TIE), (x - TIE, y)], SHEET, Stroke(INK, 2.2))
