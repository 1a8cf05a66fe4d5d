"""Textures of an SVG: patterns of 72 by 72 points, which repeat without a seam (SVG 1.1, 13.3)."""

from functools import lru_cache

from loadplan.report.drawing.svg_path import disc, spot
from loadplan.report.drawing.view import XY

SIDE = 72.0
"""Side of a pattern [points]: an inch."""

DENSITY = 6
"""Rows that each sign of a texture stands for."""

DOT = 0.1
"""Radius of a dot by the distance of the rows."""

SIGNS = frozenset("-/x.")
"""Textures that there are: level lines, lines that lean to the right, both ways, dots."""


@lru_cache(maxsize=16)
def texture_path(hatch: str) -> str:
    """Write a texture.

    Args:
        hatch: Signs, each of which makes it denser.

    Returns:
        Path data of one pattern.

    Raises:
        ValueError: If there is no such texture.
    """
    if not hatch or not set(hatch) <= SIGNS:
        message = f"no texture: {hatch!r}"
        raise ValueError(message)
    rising = (hatch.count("/") + hatch.count("x")) * DENSITY
    return (
        _level(hatch.count("-") * DENSITY)
        + _leaning(rising, falling=False)
        + _leaning(hatch.count("x") * DENSITY, falling=True)
        + _dots(hatch.count(".") * DENSITY)
    )


def _on(place: XY) -> XY:
    return place[0] * SIDE, SIDE - place[1] * SIDE


def _level(rows: int) -> str:
    """Return level lines, half a row from the rims."""
    heights = [(each + 0.5) / rows for each in range(rows)]
    return "".join(spot("M", _on((0.0, y))) + spot("L", _on((1.0, y))) for y in heights)


def _leaning(rows: int, *, falling: bool) -> str:
    """Return lines from corner to corner, and beside those as many as cross the pattern."""
    told = []
    for step in ((each / rows) - 0.5 for each in range(rows + 1) if rows):
        left, right = (1.0 + step, step) if falling else (-step, 1.0 - step)
        told.append(spot("M", _on((step, left))) + spot("L", _on((1.0 + step, right))))
    return "".join(told)


def _dots(rows: int) -> str:
    """Return dots in rows, every second row between those of the one below."""
    told = []
    for row in range(rows + 1 if rows else 0):
        count, first = (rows, 0.5) if row % 2 else (rows + 1, 0.0)
        told += [disc(_on(((column + first) / rows, row / rows)), SIDE * DOT / rows) for column in range(count)]
    return "".join(told)
