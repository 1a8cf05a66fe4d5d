"""A table seen from one side: one piece of equipment with several saddles on it."""

from collections.abc import Sequence
from dataclasses import replace

from loadplan.model.vehicle import PlanPoint
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import EDGE, INK, SHEET, Stroke
from loadplan.report.drawing.view import Box, View

PLATE, TOP, LEG = 0.012, 0.04, 0.85
"""Thickness of a saddle, and of the top and foot of a table [m], and how far out its legs reach, as a share."""


def upright_box(view: View, low: PlanPoint, high: PlanPoint) -> Box:
    """Return the box on the page between two corners, as height and distance across [m].

    Args:
        view: The view.
        low: Lower corner, on the right of the page.
        high: Upper corner; what is further across lies further left.

    Returns:
        The box [px].
    """
    left, bottom = view.page(low[0], high[1])
    right, top = view.page(high[0], low[1])
    return Box(left, bottom, right, top)


def draw_table(pen: Pen, view: View, saddles: Sequence[PlanPoint], halves: tuple[float, float]) -> list[Box]:
    """Draw a table under its saddles: foot, crossed legs, top, and a saddle at each place.

    Args:
        pen: Draws it.
        view: Where; its places are height and distance across.
        saddles: Height and distance across of each saddle's upper face [m], at least one.
        halves: Half widths of the base and of a saddle [m].

    Returns:
        What each saddle covers with what is below it.
    """
    base, saddle = halves
    middle, top = _middle_and_top(saddles)
    pen = replace(pen, layer=Layer.STANDS)
    for side in (-1, 1):
        ends = ((TOP, middle - side * LEG * base), (top - TOP, middle + side * LEG * base))
        pen.line([view.page(*end) for end in ends], Stroke(INK, 3.0))
    for low in (0.0, top - TOP):
        pen.box(upright_box(view, (low, middle - base), (low + TOP, middle + base)), SHEET, Stroke(INK, 1.8))
    for height, across in saddles:
        pen.box(upright_box(view, (top, across - saddle), (height, across + saddle)), INK, None)
    return [upright_box(view, (top - TOP, across - saddle), (height, across + saddle)) for height, across in saddles]


def hint_table(pen: Pen, view: View, saddles: Sequence[PlanPoint], base: float) -> None:
    """Draw a table that is not the subject, in outline.

    Args:
        pen: Draws it.
        view: Where; its places are height and distance across.
        saddles: Height and distance across of each saddle's upper face [m], at least one.
        base: Half width of the base [m].
    """
    middle, top = _middle_and_top(saddles)
    outline = upright_box(view, (0.0, middle - base), (top, middle + base))
    replace(pen, layer=Layer.GROUND).box(outline, None, Stroke(EDGE, 1.0, (4, 3)))


def _middle_and_top(saddles: Sequence[PlanPoint]) -> PlanPoint:
    return sum(across for _, across in saddles) / len(saddles), min(height for height, _ in saddles) - PLATE
