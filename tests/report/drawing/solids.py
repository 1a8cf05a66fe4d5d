"""Random solids that keep out of each other's way, and a plain second way to see which is in front."""

import random
from collections.abc import Sequence
from math import cos, pi, sin

from loadplan.report.drawing.axonometric_projection import XYZ, Projection, dot
from loadplan.report.drawing.convex_solid import Solid, frustum
from loadplan.report.drawing.view import XY, Corners

CELL = 1.0
"""Side of the cells of the grid, one solid in each [m]."""


def box(low: XYZ, high: XYZ) -> Solid:
    (x, y, z), (u, v, w) = low, high
    outline = ((x, y), (u, y), (u, v), (x, v))
    return frustum(outline, outline, (z, w))


def ring(at: XY, reach: float, corners: int, turn: float) -> Corners:
    turns = (turn + 2 * pi * number / corners for number in range(corners))
    return tuple((at[0] + reach * cos(each), at[1] + reach * sin(each)) for each in turns)


def scattered(seed: int, count: int) -> list[Solid]:
    """Prisms and frustums of three to seven sides, each inside a cell of its own of a grid, in any order."""
    draw = random.Random(seed)
    cells = [(x, y, z) for x in range(3) for y in range(3) for z in range(2)]
    made = []
    for x, y, z in draw.sample(cells, count):
        middle = (x + 0.5) * CELL, (y + 0.5) * CELL
        corners, turn, reach = draw.randint(3, 7), draw.uniform(0, 2 * pi), draw.uniform(0.2, 0.5)
        lower = ring(middle, reach, corners, turn)
        upper = ring(middle, draw.choice([reach, reach * draw.uniform(0.3, 0.9)]), corners, turn)
        low = z * CELL + draw.uniform(0.0, 0.4)
        made.append(frustum(lower, upper, (low, draw.uniform(low + 0.1, (z + 1) * CELL))))
    return made


def nearest(solid: Solid, start: XYZ, towards: XYZ) -> float | None:
    """How far along a line of sight a solid is left [m], None where the line misses it: cut by each face in turn."""
    first, last = float("-inf"), float("inf")
    for face in solid.faces:
        normal, corner = face.normal, face.corners[0]
        away = dot(normal, (corner[0] - start[0], corner[1] - start[1], corner[2] - start[2]))
        along = dot(normal, towards)
        if abs(along) < 1e-12:
            if away < 0:
                return None
        elif along > 0:
            last = min(last, away / along)
        else:
            first = max(first, away / along)
    return last if last - first > 1e-9 else None


def seen_first(solids: Sequence[Solid], start: XYZ, projection: Projection) -> int | None:
    """The number of the solid that a line of sight through a place meets first, coming from the viewer."""
    far = [(depth, number) for number, each in enumerate(solids) if (depth := nearest(each, start, projection.towards))]
    return max(far)[1] if far else None
