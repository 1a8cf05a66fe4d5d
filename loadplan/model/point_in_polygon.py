"""Point in polygon: whether a place lies under an outline, its edge too."""

from functools import lru_cache
from math import hypot, inf

from loadplan.model.vehicle import PlanPoint

ON_THE_EDGE = 1e-9
"""Distance [m] from an edge that is rounding: such a place is on it, and so still under the outline."""


@lru_cache(maxsize=1024)  # each check asks it of the same stands again, and while one is moved the others stay
def covers_point(outline: tuple[PlanPoint, ...], place: PlanPoint) -> bool:
    """Tell whether an outline covers a place.

    A line from the place to infinity crosses the outline an odd number of times where the place is inside (Shimrat,
    Communications of the ACM 5, 1962, 434, algorithm 112).

    Args:
        outline: Corners in order [m], at least three; no edge crosses another.
        place: The place [m].

    Returns:
        True inside and on the edge.

    Example:
        >>> square = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
        >>> covers_point(square, (0.5, 0.5)), covers_point(square, (1.0, 0.5)), covers_point(square, (1.001, 0.5))
        (True, True, False)
    """
    x, y = place
    inside = False
    for (x1, y1), (x2, y2) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if _far(place, (x1, y1), (x2, y2)) <= ON_THE_EDGE:
            return True
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1):
            inside = not inside
    return inside


def _far(place: PlanPoint, start: PlanPoint, end: PlanPoint) -> float:
    """Return how far a place is from an edge [m]: from its foot on it, or from the nearer end."""
    along = end[0] - start[0], end[1] - start[1]
    length = along[0] ** 2 + along[1] ** 2
    if not length:
        return inf
    part = ((place[0] - start[0]) * along[0] + (place[1] - start[1]) * along[1]) / length
    part = min(max(part, 0.0), 1.0)
    return hypot(start[0] + part * along[0] - place[0], start[1] + part * along[1] - place[1])
