"""Whether the corners of an outline make a surface."""

from itertools import combinations

from loadplan.model.vehicle import PlanPoint

SMALLEST = 1e-6
"""Least area of an outline [m²]: one square millimetre."""


def trouble(outline: tuple[PlanPoint, ...]) -> str | None:
    """Tell what is wrong with an outline.

    Args:
        outline: Corners in order [m], at least three.

    Returns:
        What is wrong, None for a surface that does not cross itself.

    Example:
        >>> trouble(((0, 0), (1, 0), (1, 1), (0, 1)))
        >>> trouble(((0, 0), (1, 1), (1, 0), (0, 1)))
        'crosses itself between corners 1, 2 and 3, 4: list the corners in order, going round'
    """
    if twice := [corner for corner in outline if outline.count(corner) > 1]:
        first = outline.index(twice[0])
        second = outline.index(twice[0], first + 1)
        return f"has corner {first + 1} twice, again as corner {second + 1}: leave one out"
    edges = [(outline[n], outline[(n + 1) % len(outline)]) for n in range(len(outline))]
    for first, second in combinations(range(len(edges)), 2):
        if (second - first) % len(edges) in {1, len(edges) - 1}:
            continue
        if _meet(edges[first], edges[second]):
            corners = f"{first + 1}, {(first + 1) % len(edges) + 1} and {second + 1}, {(second + 1) % len(edges) + 1}"
            return f"crosses itself between corners {corners}: list the corners in order, going round"
    return "has no area: its corners lie in one line" if abs(area(outline)) < SMALLEST else None


def area(outline: tuple[PlanPoint, ...]) -> float:
    """Measure the signed area of an outline.

    Args:
        outline: Corners in order [m].

    Returns:
        Area [m²], positive where they run anticlockwise.

    Example:
        >>> area(((0, 0), (2, 0), (2, 1)))
        1.0
    """
    following = outline[1:] + outline[:1]
    return sum(x * v - u * y for (x, y), (u, v) in zip(outline, following, strict=True)) / 2


def _meet(first: tuple[PlanPoint, PlanPoint], second: tuple[PlanPoint, PlanPoint]) -> bool:
    """Return whether two stretches have a place in common."""
    (a, b), (c, d) = first, second
    sides = (_side(c, d, a), _side(c, d, b), _side(a, b, c), _side(a, b, d))
    if sides[0] * sides[1] < 0 and sides[2] * sides[3] < 0:
        return True
    ends = ((c, d, a), (c, d, b), (a, b, c), (a, b, d))
    return any(side == 0 and _within(*end) for side, end in zip(sides, ends, strict=True))


def _side(start: PlanPoint, end: PlanPoint, place: PlanPoint) -> float:
    return (end[0] - start[0]) * (place[1] - start[1]) - (end[1] - start[1]) * (place[0] - start[0])


def _within(start: PlanPoint, end: PlanPoint, place: PlanPoint) -> bool:
    """Return whether a place lies in the box round an edge."""
    spans = zip(start, end, place, strict=True)
    return all(min(one, other) <= here <= max(one, other) for one, other, here in spans)
