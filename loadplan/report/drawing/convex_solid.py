"""Convex solids between two rings of corners: prisms and frustums, their faces, and which of their edges are seen."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias, TypeVar

from loadplan.report.drawing.axonometric_projection import XYZ, Projection, dot
from loadplan.report.drawing.view import XY, Corners

Corner = TypeVar("Corner")

EDGE_ON = 1e-9
"""A face turned towards the viewer by less than this [m² of it, seen] is seen edge on, and counts as turned away."""

Sides: TypeAlias = tuple[int, ...]
"""Numbers of sides of an outline: side k goes from corner k to the next."""


@dataclass(frozen=True, slots=True)
class Face:
    """A flat face of a solid.

    Attributes:
        corners: Its corners [m], anticlockwise as seen from outside.
        inner: Whether it is only where a shape was cut into convex pieces: then it is no face of the shape.
    """

    corners: tuple[XYZ, ...]
    inner: bool = False

    @property
    def normal(self) -> XYZ:
        """Its normal outwards, twice as long as its area [m²] (Newell's method)."""
        x = y = z = 0.0
        for (x1, y1, z1), (x2, y2, z2) in zip(self.corners, (*self.corners[1:], self.corners[0]), strict=True):
            x += (y1 - y2) * (z1 + z2)
            y += (z1 - z2) * (x1 + x2)
            z += (x1 - x2) * (y1 + y2)
        return x, y, z

    def is_seen(self, projection: Projection) -> bool:
        """Return whether it is a face of the shape, and turned towards the viewer."""
        return not self.inner and dot(self.normal, projection.towards) > EDGE_ON


@dataclass(frozen=True, slots=True)
class SolidEdge:
    """An edge of a shape.

    Attributes:
        start: One end [m].
        end: The other end [m].
        normals: Normals of the two faces that meet in it.
    """

    start: XYZ
    end: XYZ
    normals: tuple[XYZ, XYZ]

    def is_seen(self, projection: Projection) -> bool:
        """Return whether either of its faces is turned towards the viewer: else the solid itself hides it."""
        return any(dot(normal, projection.towards) > EDGE_ON for normal in self.normals)


@dataclass(frozen=True, slots=True)
class Solid:
    """A convex solid.

    Attributes:
        faces: Its faces, which close it.
        edges: Those of its edges that are drawn.
        glass: Whether one sees what is in it and behind it.
    """

    faces: tuple[Face, ...]
    edges: tuple[SolidEdge, ...]
    glass: bool

    @property
    def corners(self) -> tuple[XYZ, ...]:
        """Its corners [m], each once."""
        return tuple(dict.fromkeys(corner for face in self.faces for corner in face.corners))

    def moved(self, move: Callable[[XYZ], XYZ]) -> "Solid":
        """Return it moved as a rigid piece, by a rule that says where each place goes."""
        origin = move((0.0, 0.0, 0.0))

        def turned(direction: XYZ) -> XYZ:
            x, y, z = move(direction)
            return x - origin[0], y - origin[1], z - origin[2]

        faces = tuple(replace(face, corners=tuple(map(move, face.corners))) for face in self.faces)
        edges = tuple(
            SolidEdge(move(each.start), move(each.end), (turned(each.normals[0]), turned(each.normals[1])))
            for each in self.edges
        )
        return replace(self, faces=faces, edges=edges)


def covers(solid: Solid, projection: Projection, place: XY) -> bool:
    """Tell whether a solid covers a place of the projection.

    Args:
        solid: The solid.
        projection: From where it is seen.
        place: The place, to the right and up [m].

    Returns:
        True inside its outline as seen, and on it.
    """
    return any(
        all(
            (u - x) * (place[1] - y) - (v - y) * (place[0] - x) >= 0.0
            for (x, y), (u, v) in zip(ring, _next(ring), strict=True)
        )
        for ring in (
            [projection.project(corner) for corner in face.corners]
            for face in solid.faces
            if dot(face.normal, projection.towards) > EDGE_ON
        )
    )


def frustum(lower: Corners, upper: Corners, reach: tuple[float, float], *, glass: bool = False) -> Solid:
    """Make the solid between two outlines, one over the other.

    Args:
        lower: Its outline below [m], convex, anticlockwise from above.
        upper: Its outline above [m], with as many corners, each side parallel to that below.
        reach: Height of both [m], the lower one first.
        glass: Whether one sees through it.

    Returns:
        The solid.

    Example:
        >>> square = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
        >>> box = frustum(square, square, (0.0, 2.0))
        >>> len(box.faces), len(box.edges), len(box.corners)
        (6, 12, 8)
    """
    below = [(x, y, reach[0]) for x, y in lower]
    above = [(x, y, reach[1]) for x, y in upper]
    sides = [
        Face((low, next_low, next_high, high))
        for low, next_low, next_high, high in zip(below, _next(below), _next(above), above, strict=True)
    ]
    floor, top = Face(tuple(reversed(below))), Face(tuple(above))
    level = [
        SolidEdge(start, end, (side.normal, cap.normal))
        for ring, cap in ((below, floor), (above, top))
        for start, end, side in zip(ring, _next(ring), sides, strict=True)
    ]
    upright = [
        SolidEdge(low, high, (sides[number - 1].normal, sides[number].normal))
        for number, (low, high) in enumerate(zip(below, above, strict=True))
    ]
    return Solid((floor, top, *sides), (*level, *upright), glass)


def prisms(outline: Corners, pieces: Sequence[Sides], reach: tuple[float, float]) -> tuple[Solid, ...]:
    """Make the glass prisms of which an upright shape is made up; they have its edges, and none where they touch.

    Args:
        outline: Its outline [m], anticlockwise.
        pieces: Numbers of the corners of each convex piece, in order.
        reach: Its lowest and highest height [m].

    Returns:
        A solid a piece.
    """
    whole = frustum(outline, outline, reach, glass=True)
    count = len(outline)
    made = []
    for piece in pieces:
        corners = tuple(outline[number] for number in piece)
        solid = frustum(corners, corners, reach, glass=True)
        inner = [(one + 1) % count != other for one, other in zip(piece, (*piece[1:], piece[0]), strict=True)]
        faces = (*solid.faces[:2], *(replace(f, inner=cut) for f, cut in zip(solid.faces[2:], inner, strict=True)))
        own = [number for number, cut in zip(piece, inner, strict=True) if not cut]
        # A side of the outline belongs to one piece, and so does the upright edge at which it begins.
        edges = tuple(whole.edges[number + turn * count] for number in own for turn in range(3))
        made.append(Solid(faces, edges, glass=True))
    return tuple(made)


def turned_left(outline: Sequence[XY]) -> Corners:
    """Return an outline anticlockwise, whichever way round it was written."""
    twice = sum(x * v - u * y for (x, y), (u, v) in zip(outline, _next(outline), strict=True))
    return tuple(outline) if twice >= 0 else tuple(reversed(outline))


def _next(ring: Sequence[Corner]) -> list[Corner]:
    return [*ring[1:], ring[0]]
