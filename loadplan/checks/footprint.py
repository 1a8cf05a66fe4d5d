"""Footprints: what stands where on the floor, and the room between, exact for round ones too."""

from dataclasses import dataclass
from functools import lru_cache
from math import hypot
from typing import assert_never

from shapely import Point, Polygon, box

from loadplan.model.shop import Circle, Footprint, Square
from loadplan.model.vehicle import PlanPoint

ROUNDING = 1e-9
"""Length [m] that is rounding and no room."""


@dataclass(frozen=True, slots=True)
class Area:
    """A shape in plan: all within `reach` of its core, so that a circle is not cut into corners.

    Attributes:
        core: A rectangle along x and y, or a point.
        reach: Radius about the core [m], 0 for a rectangle.
        least: Least x and y of the core [m].
        most: Greatest x and y of the core [m].
    """

    core: Point | Polygon
    reach: float
    least: PlanPoint
    most: PlanPoint


@lru_cache(maxsize=512)  # while one stand is moved the others stay where they are
def area(shape: Footprint, at: PlanPoint) -> Area:
    """Place a footprint on the plan.

    Args:
        shape: The footprint.
        at: Its centre [m].

    Returns:
        What it covers.
    """
    x, y = at
    match shape:
        case Square(along_x=length, along_y=width):
            least, most = (x - length / 2, y - width / 2), (x + length / 2, y + width / 2)
            return Area(box(*least, *most), 0.0, least, most)
        case Circle(diameter=diameter):
            return Area(Point(at), diameter / 2, at, at)
        case _:
            assert_never(shape)


def overlap(first: Area, second: Area) -> bool:
    """Return whether two footprints share some floor; those that only touch do not."""
    reach = first.reach + second.reach
    if reach == 0:
        return all(_between(first, second, axis) < 0 for axis in (0, 1))
    return _distance(first, second) < reach


def room(first: Area, second: Area) -> float:
    """Measure the gap between two footprints.

    Args:
        first: One.
        second: The other.

    Returns:
        Gap [m], 0 where they touch or overlap.

    Example:
        >>> round(room(area(Circle(0.2), (0.0, 0.0)), area(Square(0.2, 0.2), (0.3, 0.0))), 9)
        0.1
    """
    return max(_distance(first, second) - first.reach - second.reach, 0.0)


def covers(base: Area, place: PlanPoint) -> bool:
    """Return whether a footprint covers a place [m], its rim too."""
    (left, low), (right, high) = base.least, base.most
    x, y = place
    return hypot(max(left - x, x - right, 0.0), max(low - y, y - high, 0.0)) <= base.reach


def _between(first: Area, second: Area, axis: int) -> float:
    """Return the distance between two cores along an axis [m], below 0 by how much they share of it."""
    return max(first.least[axis] - second.most[axis], second.least[axis] - first.most[axis])


def _distance(first: Area, second: Area) -> float:
    """Return the distance between two cores [m]: both lie along x and y, so each axis counts by itself."""
    return hypot(max(_between(first, second, 0), 0.0), max(_between(first, second, 1), 0.0))


def inside(contact: Area, outline: Polygon) -> bool:
    """Return whether a contact lies wholly inside an outline; touching it from inside counts."""
    if contact.reach == 0:
        return bool(_widened(outline).covers(contact.core))
    return bool(outline.covers(contact.core)) and outline.exterior.distance(contact.core) >= contact.reach - ROUNDING


@lru_cache(maxsize=64)
def _widened(outline: Polygon) -> Polygon:
    """Return an outline with what rounding may have taken off it: made once for all saddles under it."""
    return outline.buffer(ROUNDING, join_style="mitre")


@lru_cache(maxsize=64)
def outline_polygon(corners: tuple[PlanPoint, ...]) -> Polygon | None:
    """Return an outline as a polygon, made once for all that is asked of it.

    Args:
        corners: Of the outline [m].

    Returns:
        The polygon; None where it cannot be used.
    """
    if len(corners) < 3:
        return None
    outline = Polygon(corners)
    return outline if outline.is_valid else None
