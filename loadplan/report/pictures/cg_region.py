"""Where a centre of gravity may lie: half planes from the ways to go over, and what they leave."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot
from typing import TypeAlias

from loadplan.model.answer import Mode, Motion
from loadplan.model.vehicle import PlanPoint

Polygon: TypeAlias = tuple[PlanPoint, ...]
"""Corners of a convex polygon in plan [m], empty for nothing."""

ON_EDGE = 1e-9
"""Distance from a line [m] below which a corner is taken to lie on it: rounding."""


@dataclass(frozen=True, slots=True)
class HalfPlane:
    """The places (x, y) with offset + along_x·x + along_y·y >= 0, a distance [m] from its edge.

    Attributes:
        offset: Distance of the origin from the edge [m], positive inside.
        along_x: How that grows with x.
        along_y: How that grows with y.
    """

    offset: float
    along_x: float
    along_y: float

    def distance(self, place: PlanPoint) -> float:
        """Return how far a place is inside the edge [m], negative outside."""
        return self.offset + self.along_x * place[0] + self.along_y * place[1]

    def foot(self, place: PlanPoint) -> PlanPoint:
        """Return the nearest place on the edge."""
        far = self.distance(place)
        return place[0] - far * self.along_x, place[1] - far * self.along_y


def half_plane(mode: Mode, body: str, cg: PlanPoint) -> HalfPlane:
    """Return where a rigid whole's centre of gravity keeps a mode from going, all others where they are.

    Args:
        mode: A mode that rotates it.
        body: A body of the rigid whole.
        cg: Centre of gravity of the rigid whole [m].

    Returns:
        The half plane; the centre of gravity is inside by its margin.

    Example:
        >>> over_the_nose = Mode(("E",), ("unit",), (("unit", Motion(-0.3, 0.0, -1.0)),), 30.0, (("unit", 0.1),))
        >>> half_plane(over_the_nose, "unit", (0.2, 0.0)).distance((0.1, 0.0))
        0.0
    """
    motion = dict(mode.motions)[body]
    size = hypot(motion.rx, motion.ry)
    along_x, along_y = -motion.ry / size, motion.rx / size
    margin = dict(mode.margins)[body]
    return HalfPlane(margin - along_x * cg[0] - along_y * cg[1], along_x, along_y)


def axis(motion: Motion) -> HalfPlane:
    """Return a half plane whose edge is the line that a motion leaves where it is.

    Args:
        motion: A motion that rotates.

    Returns:
        The side that moves up.
    """
    size = hypot(motion.rx, motion.ry)
    return HalfPlane(motion.w / size, -motion.ry / size, motion.rx / size)


def clipped(polygon: Polygon, planes: Iterable[HalfPlane]) -> Polygon:
    """Cut a convex polygon by half planes (Sutherland and Hodgman).

    Args:
        polygon: The polygon.
        planes: What to keep.

    Returns:
        What is left.

    Example:
        >>> clipped(((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)), [HalfPlane(1.0, -1.0, 0.0)])
        ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    """
    for plane in planes:
        # Most lines cut nothing off: with many stands this is what a pointer's move spends its time on, so no calls.
        offset, along_x, along_y = plane.offset, plane.along_x, plane.along_y
        inside = [offset + along_x * x + along_y * y for x, y in polygon]
        if min(inside, default=0.0) >= -ON_EDGE:
            continue
        left: list[PlanPoint] = []
        for (start, end), first, second in zip(_sides(polygon), inside, (*inside[1:], inside[0]), strict=True):
            # A corner on the line counts as inside, so that rounding takes none away.
            if first >= -ON_EDGE:
                left.append(start)
            if (first > ON_EDGE and second < -ON_EDGE) or (first < -ON_EDGE and second > ON_EDGE):
                left.append(_between(start, end, first / (first - second)))
        polygon = tuple(left)
    return polygon


def chord(polygon: Polygon, line: HalfPlane) -> tuple[PlanPoint, PlanPoint] | None:
    """Return the part of a line that lies in a polygon or on its rim.

    Args:
        polygon: The polygon.
        line: A half plane, whose edge is the line.

    Returns:
        Both ends, None where they do not meet.
    """
    met = [place for place in _crossings(polygon, line) if abs(line.distance(place)) < 1e-6]
    if len(met) < 2:
        return None
    ordered = sorted(met, key=lambda place: line.along_x * place[1] - line.along_y * place[0])
    return ordered[0], ordered[-1]


def _crossings(polygon: Polygon, line: HalfPlane) -> list[PlanPoint]:
    """Return where a line meets the edges of a polygon, a corner on it counted once."""
    met: list[PlanPoint] = []
    for start, end in _sides(polygon):
        first, second = line.distance(start), line.distance(end)
        if abs(first) < 1e-6:
            met.append(start)
        elif first * second < 0:
            met.append(_between(start, end, first / (first - second)))
    return met


def _sides(polygon: Polygon) -> list[tuple[PlanPoint, PlanPoint]]:
    return list(zip(polygon, (*polygon[1:], *polygon[:1]), strict=True))


def _between(start: PlanPoint, end: PlanPoint, share: float) -> PlanPoint:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
