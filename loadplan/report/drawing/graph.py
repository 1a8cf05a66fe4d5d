"""A graph: shares over a length, with its scales, on the page in px."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

import numpy as np

from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import EDGE, HAIRLINE, LABEL, QUIET, SHEET, Stroke
from loadplan.report.drawing.text_width import text_width
from loadplan.report.drawing.view import Box

ROW = 20
"""Height of a line of words [px]."""

PLACES = 24
"""Places looked at for the words on a share."""

SHARES = (0.5, 1.0, 2.0, 5.0, 10.0)
"""Distances of two marks on the scale of shares."""

MARKS = 9
"""Most marks on a scale."""


@dataclass(frozen=True, slots=True)
class Curve:
    """One line of a graph.

    Attributes:
        levels: Levels [m], rising.
        shares: Share at each level.
        stroke: How it is drawn.
    """

    levels: tuple[float, ...]
    shares: tuple[float, ...]
    stroke: Stroke


@dataclass(frozen=True, slots=True)
class ScaleMark:
    """A mark on the scale of levels.

    Attributes:
        level: Where it stands [m].
        label: What is written at it.
    """

    level: float
    label: str


@dataclass(frozen=True, slots=True)
class Graph:
    """Where levels and shares lie on the page.

    Attributes:
        frame: Where on the page [px].
        deepest: Level at its right edge [m].
        top: Share at its upper edge.
    """

    frame: Box
    deepest: float
    top: float

    def x(self, level: float) -> float:
        """Return how far right a level [m] is [px]."""
        return self.frame.left + self.frame.width * level / self.deepest

    def y(self, share: float) -> float:
        """Return how far up a share is [px]."""
        return self.frame.bottom + self.frame.height * share / self.top


def tick_step(most: float, steps: Sequence[float]) -> float:
    """Return the distance of two marks, so that a scale up to `most` has few enough.

    Args:
        most: The largest value on the scale.
        steps: Distances to choose from, rising, in its unit; at least one.

    Returns:
        The smallest that will do, else the largest.
    """
    return next((each for each in steps if most / each <= MARKS), steps[-1])


def draw_scales(pen: Pen, graph: Graph, below: str, ticks: Sequence[ScaleMark]) -> None:
    """Draw the scale of levels below a graph and that of shares beside it.

    Args:
        pen: Draws them.
        graph: The graph.
        below: What the levels are.
        ticks: Marks on their scale.
    """
    frame = graph.frame
    behind = replace(pen, layer=Layer.REGION)
    behind.box(frame, None, Stroke(HAIRLINE, 1.5))
    for tick in ticks:
        x = graph.x(tick.level)
        pen.line([(x, frame.bottom), (x, frame.bottom - 6)], Stroke(EDGE, 1.2))
        pen.words((x, frame.bottom - 18), tick.label, LABEL, "center")
    pen.words((frame.middle[0], frame.bottom - 44), below, QUIET, "center")
    every = tick_step(graph.top, SHARES)
    for mark in range(ceil(graph.top / every)):
        y = graph.y(mark * every)
        behind.line([(frame.left, y), (frame.right, y)], Stroke(HAIRLINE, 1.0))
        pen.words((frame.left - 10, y), f"{100 * mark * every:.0f} %", LABEL, "right")


def draw_share(
    pen: Pen, graph: Graph, share: tuple[float, str], lines: Sequence[Curve], upright: Sequence[float]
) -> None:
    """Draw a share across a graph, with its words above it where they cover least.

    Args:
        pen: Draws it.
        graph: The graph.
        share: The share and its words.
        lines: Lines that the words keep clear of.
        upright: Levels [m] of upright lines that they keep clear of.
    """
    frame, y = graph.frame, graph.y(share[0])
    said = f"{round(100 * share[0])} %: {share[1]}"
    pen.line([(frame.left, y), (frame.right, y)], Stroke(EDGE, 1.4, (4, 3)))
    box = min(_places(graph, said, y + ROW / 2), key=lambda place: _crossings(graph, place, lines, upright))
    # Over the lines, since a line through words is worse than a gap in a line; the dashes just below stay whole.
    above = replace(pen, layer=Layer.LABELS)
    above.box(replace(box, bottom=box.bottom + 2), SHEET, None)
    above.words((box.left + 4, box.middle[1]), said, QUIET)


def _places(graph: Graph, said: str, middle: float) -> list[Box]:
    """Return the places along a graph where words could stand, their middle at a height [px]."""
    frame, wide = graph.frame, text_width(said, QUIET) + 8
    lefts = np.linspace(frame.left + 4, frame.right - wide - 4, PLACES).tolist()
    return [Box(left, middle - ROW / 2, left + wide, middle + ROW / 2) for left in lefts]


def _crossings(graph: Graph, box: Box, lines: Sequence[Curve], upright: Sequence[float]) -> int:
    """Return how bad a place is for words: on a bent line, or beside one, worse than on an upright one."""
    near = box.grown(4)
    crossed = sum(any(near.bottom <= y <= near.top for y in _over(graph, near, line)) for line in lines)
    return 2 * crossed + sum(near.left <= graph.x(each) <= near.right for each in upright)


def _over(graph: Graph, box: Box, line: Curve) -> list[float]:
    """Return how far up a line is over a box [px], at its corners and at places in between."""
    across = np.linspace(box.left, box.right, PLACES)
    up = np.interp(across, [graph.x(each) for each in line.levels], [graph.y(each) for each in line.shares])
    return [float(each) for each in up]
