"""Free places: cells inside the outlines where a stand could go though the file names no point there.

Whether the sheet metal there bears a stand only the maker knows, so they are tried only where they are asked for, and
each is told with a word to find a hard place. Never is one under a part that comes off, nor one where a saddle would
lie half under a part that hangs lower: it is not level there, and the stand would meet its side.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import product
from math import ceil, floor

import numpy as np
from shapely import Polygon, box

from loadplan.checks.footprint import area
from loadplan.model.job import Job, Support
from loadplan.model.point_in_polygon import covers_point
from loadplan.model.shop import Circle, Footprint, Square
from loadplan.model.vehicle import Body, Place, Point, Vehicle
from loadplan.planning.placement.blocked_modes import motion_count
from loadplan.planning.placement.layout_space import Space, movable

CELL = 0.025
"""Cells are so large, and the finest lie so far apart [m]."""

MOST_PLACES = (48, 40, 32, 24)
"""Points and cells together, as far as the cells go: the first of these whose motions are few enough."""

MOST_MOTIONS = 80_000
"""Motions that are judged for one grid: of linked assemblies each is about four places, so they soon are very many."""

LEAST_CELLS = 12
"""Cells that are tried however many points there are."""

ROUNDING = 1e-9
"""Shares of a pitch that are rounding."""

DIGITS = 4
STEP = 1e-4
"""Places are told to this [m]: digits behind the point of a metre."""

AROUND = ((0, 0), (1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (1, -1), (-1, 1), (-1, -1))
"""Cells that are tried round a stand, the nearest first."""


@dataclass(frozen=True, slots=True)
class Grid:
    """A space with cells in it.

    Attributes:
        space: The space.
        pitch: How far apart its cells lie [m]; 0 where there are none.
    """

    space: Space
    pitch: float


@dataclass(frozen=True, slots=True)
class _Underside:
    """Where under one assembly cells may be.

    Attributes:
        body: The assembly.
        room: How far inside the outline a cell has its middle [m]: a saddle has to lie wholly under the assembly.
        coming_off: Outlines of the parts that come off.
        lower: Outlines of the parts that hang lower than the assembly's own bottom.
    """

    body: Body
    room: float
    coming_off: tuple[Polygon, ...]
    lower: tuple[Polygon, ...]


def with_free_places(space: Space) -> Grid:
    """Add places that are no points: a grid over each outline, as fine as there may be places.

    Args:
        space: The job without the supports to be planned, and its points.

    Returns:
        The same with cells behind the points, as points without a name; unchanged where no assembly has both outline
        and bottom in the vehicle's file.
    """
    grids = (_grid(space, max(most - len(space.points), LEAST_CELLS)) for most in MOST_PLACES)
    return next((each for each in grids if motion_count(each.space) <= MOST_MOTIONS), _grid(space, LEAST_CELLS))


def _grid(space: Space, most: int) -> Grid:
    """Return the finest grid of no more than so many cells."""
    undersides = _undersides(space)
    for step in range(1, 200):
        cells = tuple(point for each in undersides for point in _cells(space, each, step * CELL))
        if len(cells) <= most:
            return Grid(replace(space, points=(*space.points, *cells)), step * CELL if cells else 0.0)
    return Grid(space, 0.0)


def around(space: Space, stands: Iterable[Support], pitch: float) -> Space:
    """Put cells round the stands of a layout, where they lie nearer than those that it was chosen from.

    Args:
        space: The job without the supports to be planned, and its points, without cells.
        stands: The stands of the layout.
        pitch: How far apart the cells lie [m].

    Returns:
        The space with its points, the places of the stands and cells round them, as many as there may be places.
    """
    undersides = {each.body.name: each for each in _undersides(space)}
    planned = tuple(stands)
    # The nearest of every stand before the farther ones of any: some may be too many.
    wanted = (
        _checked(space, undersides[each.body], (each.at[0] + dx * pitch, each.at[1] + dy * pitch))
        for (dx, dy), each in product(AROUND, planned)
        if each.body in undersides and (not each.point or (dx, dy) != (0, 0))
    )
    cells = tuple(dict.fromkeys(each for each in wanted if each is not None))
    grids = (
        replace(space, points=(*space.points, *cells[: max(most - len(space.points), LEAST_CELLS, len(planned))]))
        for most in MOST_PLACES
    )
    least = replace(space, points=(*space.points, *cells[: len(planned)]))
    return next((each for each in grids if motion_count(each) <= MOST_MOTIONS), least)


def lower_assemblies(job: Job, stand: Support) -> tuple[str, ...]:
    """Name the other assemblies through which a stand would have to reach up, as far as their outlines say.

    An outline goes round what may be a frame with room in it, so this is to be told, not refused.

    Args:
        job: The job.
        stand: A stand under an assembly.

    Returns:
        Those, the lift's aside, whose outline is over some of its saddle and whose bottom is lower than its place.
    """
    saddle = area(stand.equipment.saddle or Circle(0.0), stand.at[:2])
    lift = job.lift.body if job.lift else ""
    return tuple(
        each.name
        for each in job.vehicle.bodies
        if each.name in job.bodies
        and each.name not in {stand.body, lift}
        and each.bottom is not None
        and each.bottom < stand.at[2]
        and len(each.outline) > 2
        and Polygon(each.outline).distance(saddle.core) <= saddle.reach
    )


def _room(space: Space, body: Body) -> float:
    """Return how far inside an outline a cell has its middle [m].

    By the largest saddle of the shop where that leaves cells, else by the smallest.
    """
    halves = sorted(_half(each.saddle) for each in movable(space.job) if each.saddle) or [0.0]
    (low_x, high_x), (low_y, high_y) = ((min(axis), max(axis)) for axis in zip(*body.outline, strict=True))
    for half in (max(each, CELL / 2) for each in (halves[-1], halves[0])):
        at = product(np.arange(low_x, high_x, 2 * CELL), np.arange(low_y, high_y, 2 * CELL))
        if any(_inside(body, (float(x), float(y)), half) for x, y in at):
            return half
    return CELL / 2


def _half(saddle: Footprint) -> float:
    """Return half of the longest side of a saddle [m]."""
    match saddle:
        case Square(along_x=length, along_y=width):
            return max(length, width) / 2
        case Circle(diameter=diameter):
            return diameter / 2


def _inside(body: Body, at: tuple[float, float], half: float) -> bool:
    return all(covers_point(body.outline, (at[0] + dx, at[1] + dy)) for dx in (-half, half) for dy in (-half, half))


def _undersides(space: Space) -> tuple[_Underside, ...]:
    """Return the assemblies under which there may be cells."""
    lift = space.job.lift.body if space.job.lift else ""
    parts = space.job.vehicle.parts
    gone = {part.name for part in parts for state in space.states if part.name not in state.on}
    found = []
    for body in space.job.vehicle.bodies:
        if body.name in space.job.bodies and body.name != lift and len(body.outline) > 2 and body.bottom is not None:
            shaped = [each for each in parts if each.body == body.name and len(each.outline) > 2]
            found.append(
                _Underside(
                    body=body,
                    room=_room(space, body),
                    coming_off=tuple(Polygon(each.outline) for each in shaped if each.name in gone),
                    lower=tuple(
                        Polygon(each.outline)
                        for each in shaped
                        if each.bottom is not None and each.bottom < body.bottom
                    ),
                )
            )
    return tuple(found)


def _cells(space: Space, under: _Underside, pitch: float) -> Iterator[Point]:
    """Yield the cells of one assembly, from the back on, from right to left."""
    # From edge to edge, since what stands farthest out holds most.
    along, across = (_spread(axis, max(CELL, under.room), pitch) for axis in zip(*under.body.outline, strict=True))
    for at in product(along, across):
        cell = _checked(space, under, at)
        if cell is not None:
            yield cell


def _spread(axis: tuple[float, ...], inset: float, pitch: float) -> list[float]:
    """Return places along an axis from near its one end to near its other, no farther apart than a pitch [m]."""
    # In whole steps, inward: rounded outward a saddle at the edge would stick out by a hair.
    low, high = ceil((min(axis) + inset) / STEP - ROUNDING) * STEP, floor((max(axis) - inset) / STEP + ROUNDING) * STEP
    gaps = max(1, ceil((high - low) / pitch - ROUNDING))
    return [low + (high - low) * number / gaps for number in range(gaps + 1)] if high > low else []


def _checked(space: Space, under: _Underside, at: tuple[float, float]) -> Point | None:
    """Return the cell at a place; None where it is not all inside the outline, or meets a part that it must not."""
    bottom = under.body.bottom
    # Judged where it will be written, not where the grid has it.
    at = (round(at[0], DIGITS), round(at[1], DIGITS))
    if bottom is None or not _inside(under.body, at, under.room):
        return None
    # The whole saddle, not its corners alone: a narrow part may lie between them.
    square = box(at[0] - under.room, at[1] - under.room, at[0] + under.room, at[1] + under.room)
    if any(each.intersects(square) for each in under.coming_off):
        return None
    if any(each.intersects(square) and not each.covers(square) for each in under.lower):
        return None
    return _cell(space.job.vehicle, under.body, (*at, bottom))


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
