"""Convex parts of an outline that may have notches: cut into triangles, and these joined again as far as they may.

Triangles by cutting off ears (G. H. Meisters, "Polygons have ears", Amer. Math. Monthly 82, 1975); joined across each
cut that leaves both its ends convex (S. Hertel and K. Mehlhorn, "Fast triangulation of simple polygons", 1983), which
gives at most four times the fewest pieces.
"""

from loadplan.report.drawing.view import XY, Corners

Piece = tuple[int, ...]
"""Numbers of the corners of a piece, anticlockwise."""

FLAT = 1e-12
"""A corner that turns by less than this [m²] is taken to be straight."""


def convex_parts(outline: Corners) -> tuple[Piece, ...]:
    """Cut an outline into convex pieces along lines from corner to corner.

    Args:
        outline: Corners [m] of a polygon that does not cross itself, anticlockwise.

    Returns:
        Numbers of the corners of each piece.

    Example:
        >>> convex_parts(((0, 0), (2, 0), (2, 2), (0, 2)))
        ((0, 1, 2, 3),)
        >>> len(convex_parts(((0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2))))
        2
    """
    everything = tuple(range(len(outline)))
    if _is_convex(outline, everything):
        return (everything,)
    pieces = _triangles(outline)
    joined = True
    while joined:
        joined = False
        for one in pieces:
            for other in pieces:
                whole = _joined(one, other) if one < other else ()
                if whole and _is_convex(outline, whole):
                    pieces = [whole, *(each for each in pieces if each not in (one, other))]
                    joined = True
                    break
            if joined:
                break
    return tuple(sorted(pieces))


def _triangles(outline: Corners) -> list[Piece]:
    """Return the triangles of an outline: an ear is cut off as long as there is more than a triangle."""
    left, found = list(range(len(outline))), []
    while len(left) > 3:
        ear = next((place for place in range(len(left)) if _is_ear(outline, left, place)), 0)
        before, at, after = left[ear - 1], left[ear], left[(ear + 1) % len(left)]
        found.append(_from_the_least((before, at, after)))
        left.pop(ear)
    return [*found, _from_the_least(tuple(left))]


def _is_ear(outline: Corners, left: list[int], place: int) -> bool:
    """Return whether a corner turns left, and no other corner lies in the triangle that it would cut off."""
    ends = left[place - 1], left[place], left[(place + 1) % len(left)]
    a, b, c = (outline[number] for number in ends)
    if _turn(a, b, c) <= FLAT:
        return False
    others = [outline[number] for number in left if number not in ends]
    return not any(min(_turn(a, b, each), _turn(b, c, each), _turn(c, a, each)) >= -FLAT for each in others)


def _joined(one: Piece, other: Piece) -> Piece:
    """Return two pieces joined where they have a side in common; nothing where they have none."""
    for place, start in enumerate(one):
        end = one[(place + 1) % len(one)]
        if start in other and end in other and other[(other.index(end) + 1) % len(other)] == start:
            there = other.index(start)
            around = [other[(there + step) % len(other)] for step in range(1, len(other) - 1)]
            return _from_the_least((*one[: place + 1], *around, *one[place + 1 :]))
    return ()


def _is_convex(outline: Corners, piece: Piece) -> bool:
    corners = [outline[number] for number in piece]
    turns = zip(corners, (*corners[1:], corners[0]), (*corners[2:], *corners[:2]), strict=True)
    return all(_turn(*three) >= -FLAT for three in turns)


def _turn(a: XY, b: XY, c: XY) -> float:
    """Return twice the area [m²] of a triangle, positive where it goes round anticlockwise."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _from_the_least(piece: Piece) -> Piece:
    first = piece.index(min(piece))
    return (*piece[first:], *piece[:first])
