"""Free places: cells inside the outlines where a stand could go though the file names no point there.

Whether the sheet metal there bears a stand only the maker knows, so they are tried only where they are asked for, and
each is told with a word to find a hard place. Never is one under a part that comes off.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from loadplan.model.point_in_polygon import covers_point
from loadplan.model.vehicle import Body, Place, Point, Vehicle
from loadplan.planning.placement.layout_space import Space

CELL = 0.025
"""Cells lie apart by a multiple of this [m], and are so large."""

MOST_PLACES = 40
"""Points and cells together, as far as the cells go: the ways to choose among more take too long to tell apart."""

LEAST_CELLS = 12
"""Cells that are tried however many points there are."""


def with_free_places(space: Space) -> Space:
    """Add places that are no points: a grid over each outline, as fine as there may be places.

    Args:
        space: The job without the supports to be planned, and its points.

    Returns:
        The same with cells behind the points, as points without a name; unchanged where no assembly has both outline
        and bottom in the vehicle's file.
    """
    most = max(MOST_PLACES - len(space.points), LEAST_CELLS)
    lift = space.job.lift.body if space.job.lift else ""
    bodies = [each for each in space.job.vehicle.bodies if each.name in space.job.bodies and each.name != lift]
    for step in range(1, 200):
        cells = tuple(point for body in bodies for point in _cells(space, body, step * CELL))
        if len(cells) <= most:
            return replace(space, points=(*space.points, *cells))
    return space


def _cells(space: Space, body: Body, pitch: float) -> Iterator[Point]:
    """Yield the cells of one assembly, from the back on, from right to left."""
    if len(body.outline) < 3 or body.bottom is None:
        return
    vehicle = space.job.vehicle
    later = {part.name for part in vehicle.parts for state in space.states if part.name not in state.on}
    (low_x, high_x), (low_y, high_y) = ((min(axis), max(axis)) for axis in zip(*body.outline, strict=True))
    for x in np.arange(low_x + CELL, high_x, pitch):
        for y in np.arange(low_y + CELL, high_y, pitch):
            corners = [(float(x) + dx, float(y) + dy) for dx in (-CELL / 2, CELL / 2) for dy in (-CELL / 2, CELL / 2)]
            over = [each for each in vehicle.parts if each.body == body.name and _over(each.outline, corners)]
            inside = all(covers_point(body.outline, each) for each in corners)
            if inside and not later & {each.name for each in over}:
                yield _cell(vehicle, body, (round(float(x), 4), round(float(y), 4), body.bottom))


def _over(outline: tuple[tuple[float, float], ...], corners: list[tuple[float, float]]) -> bool:
    return len(outline) > 2 and any(covers_point(outline, each) for each in corners)


def _cell(vehicle: Vehicle, body: Body, at: Place) -> Point:
    """Return a cell at the height of what hangs lowest over it, the assembly or a part that stays on."""
    lower = [
        each
        for each in vehicle.parts
        if each.body == body.name
        and each.bottom is not None
        and each.bottom < at[2]
        and len(each.outline) > 2
        and covers_point(each.outline, at[:2])
    ]
    lowest = min(lower, key=lambda each: each.bottom or 0.0, default=None)
    height = at[2] if lowest is None or lowest.bottom is None else lowest.bottom
    return Point("", body.name, (at[0], at[1], height), None, "", "" if lowest is None else lowest.name)
