"""Where a scene in space is on the page, and strokes on it: arrows, and the boxes that keep words off lines."""

from dataclasses import dataclass
from math import hypot

from loadplan.report.drawing.axonometric_projection import XYZ, Projection
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import INK, SHEET, Stroke
from loadplan.report.drawing.view import XY, Box, View
from loadplan.report.pictures.plan_shapes import beads

HEAD = 9.0
"""Length of the head of an arrow [px]."""

SHORTEST = 1.0
"""A shorter arrow [px] is not drawn."""


@dataclass(frozen=True, slots=True)
class Seen:
    """From where a scene is seen, and where on the page it is."""

    view: View
    projection: Projection

    def page(self, place: XYZ) -> XY:
        """Return where on the page [px] a place [m] is."""
        right, up = self.projection.project(place)
        return self.view.page(up, -right)

    def page_all(self, places: tuple[XYZ, ...]) -> tuple[XY, ...]:
        """Return where on the page [px] places [m] are."""
        return tuple(self.page(place) for place in places)

    def box(self, places: tuple[XYZ, ...]) -> Box:
        """Return the least box on the page [px] round places [m]."""
        return _around(self.page_all(places))


def arrow(pen: Pen, tail: XY, tip: XY, colour: str = INK) -> list[Box]:
    """Draw an arrow on a white rim, so that it is seen before the lines of the glass.

    Args:
        pen: Draws it.
        tail: Where it begins [px].
        tip: Where it ends [px].
        colour: Its colour.

    Returns:
        What it covers; nothing where it is too short to be drawn.
    """
    long = hypot(tip[0] - tail[0], tip[1] - tail[1])
    if long < SHORTEST:
        return []
    ahead = (tip[0] - tail[0]) / long, (tip[1] - tail[1]) / long
    head = min(HEAD, long)
    neck = tip[0] - head * ahead[0], tip[1] - head * ahead[1]
    aside = -0.6 * head * ahead[1], 0.6 * head * ahead[0]
    pen.line([tail, neck], Stroke(SHEET, 6.0))
    pen.line([tail, neck], Stroke(colour, 3.0))
    sides = [(neck[0] + side * aside[0], neck[1] + side * aside[1]) for side in (-1, 1)]
    pen.area([tip, *sides], colour, Stroke(SHEET, 1.0))
    upright = abs(tip[0] - tail[0]) < 1.0
    return [_around((tail, tip)).grown(HEAD / 2)] if upright else beads(tail, tip)


def thin_beads(start: XY, end: XY) -> list[Box]:
    """Return thin boxes along a line of the glass: words may lie across it where there is no better place.

    Args:
        start: One end [px].
        end: The other end [px].

    Returns:
        The boxes.
    """
    return [
        Box(box.middle[0] - 1, box.middle[1] - 4, box.middle[0] + 1, box.middle[1] + 4) for box in beads(start, end)
    ]


def _around(places: tuple[XY, ...]) -> Box:
    across, along = [x for x, _ in places], [y for _, y in places]
    return Box(min(across), min(along), max(across), max(along))
