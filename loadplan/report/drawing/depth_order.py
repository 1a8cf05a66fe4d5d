"""Depth order: which solid is painted before which, so that what is in front covers what is behind.

Two convex solids that do not run into each other have a plane between them, and a viewer on one side of that plane
never sees the solid on the other side hide the one on his: so the plane says which is painted first. The distance of
their middles does not: a long floor plate may have its middle nearer than a stand on its far end. The plane is parallel
to a face of either or to an edge of both (separating axis theorem: S. Gottschalk and others, "OBBTree", SIGGRAPH 1996),
so it is found by trying these. Where the two do not cover each other on the page, neither has to come first. From the
pairs the order follows by taking, again and again, one before which nothing has to come.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from loadplan.report.drawing.axonometric_projection import Projection
from loadplan.report.drawing.convex_solid import Solid

Array: TypeAlias = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

TOUCH = 1e-6
"""Solids that run into each other by no more than this [m] only touch."""

EDGE_ON = 1e-6
"""A plane whose unit normal points to the viewer by less than this is seen edge on: it says nothing."""


@dataclass(frozen=True, slots=True)
class _Hull:
    """A solid as arrays.

    Attributes:
        corners: Matrix (n, 3) [m].
        normals: Unit normals of its faces, matrix (f, 3).
        directions: Unit directions of its edges, each once, matrix (e, 3).
        low: Least place on the page, and nearest depth [m]: vector (3).
        high: Greatest, likewise.
        glass: Whether one sees through it.
    """

    corners: Array
    normals: Array
    directions: Array
    low: Array
    high: Array
    glass: bool


def depth_order(solids: Sequence[Solid], projection: Projection) -> tuple[int, ...]:
    """Order solids from the furthest to the nearest.

    Solids that run into each other have no plane between them: then what is not glass is painted before the glass that
    it stands in, and two of glass in either order. Solids that cover each other in a circle cannot be painted whole; of
    these the one before which fewest should come goes first. What is left open is ordered by the nearest corner.

    Args:
        solids: Convex solids.
        projection: From where they are seen.

    Returns:
        Their numbers, what is painted first first.
    """
    hulls = [_hull(each, projection) for each in solids]
    towards = np.array(projection.towards)
    # Before each: the numbers of those that have to be painted earlier.
    before: dict[int, set[int]] = {number: set() for number in range(len(hulls))}
    for one, hull in enumerate(hulls):
        for other in range(one):
            nearer = _nearer(hull, hulls[other], towards)
            if nearer:
                first, second = (other, one) if nearer > 0 else (one, other)
                before[second].add(first)
    order: list[int] = []
    while before:
        number = min(before, key=lambda each: (len(before[each]), float(hulls[each].high[2]), each))
        order.append(number)
        del before[number]
        for waits in before.values():
            waits.discard(number)
    return tuple(order)


def in_front(one: Solid, other: Solid, projection: Projection) -> int:
    """Tell which of two solids is in front of the other.

    Args:
        one: A convex solid.
        other: Another.
        projection: From where they are seen.

    Returns:
        1 where the first may hide the other, -1 where the other may hide it, 0 where neither covers the other on the
        page. For two that run into each other 1 where only the first is of glass, -1 where only the other is, else 0.
    """
    return _nearer(_hull(one, projection), _hull(other, projection), np.array(projection.towards))


def _hull(solid: Solid, projection: Projection) -> _Hull:
    """Return a solid as arrays; directions that are the same, either way round, are kept once."""
    corners = np.array(solid.corners)
    normals = np.array([face.normal for face in solid.faces])
    steps = np.concatenate([
        np.roll(np.array(face.corners), -1, axis=0) - np.array(face.corners) for face in solid.faces
    ])
    seen = np.array([(*projection.project(corner), projection.depth(corner)) for corner in solid.corners])
    return _Hull(corners, _unit(normals), _once(_unit(steps)), seen.min(axis=0), seen.max(axis=0), solid.glass)


def _nearer(one: _Hull, other: _Hull, towards: Array) -> int:
    """Return 1 where the first is in front, -1 where it is behind, 0 where neither covers the other on the page."""
    if np.any(one.low[:2] > other.high[:2] - TOUCH) or np.any(other.low[:2] > one.high[:2] - TOUCH):
        return 0
    directions = np.concatenate([one.directions, other.directions])
    # A plane that is seen edge on and has them on its two sides: they lie beside each other on the page.
    beside, _ = _gaps(one, other, _unit(_crosses(directions, towards[None, :])))
    if beside.size and beside.max() >= -TOUCH:
        return 0
    planes = np.concatenate([one.normals, other.normals, _unit(_crosses(one.directions, other.directions))])
    planes = planes[np.abs(planes @ towards) > EDGE_ON]
    gaps, sides = _gaps(one, other, planes)
    if gaps.size and gaps.max() >= -TOUCH:
        best = int(np.argmax(gaps))
        return 1 if sides[best] * float(planes[best] @ towards) > 0 else -1
    return int(one.glass) - int(other.glass)


def _gaps(one: _Hull, other: _Hull, normals: Array) -> tuple[Array, Array]:
    """Return how far apart two solids are along each normal [m], negative where they overlap, and the side of one."""
    mine, theirs = normals @ one.corners.T, normals @ other.corners.T
    ahead = mine.min(axis=1) - theirs.max(axis=1)
    behind = theirs.min(axis=1) - mine.max(axis=1)
    return np.maximum(ahead, behind), np.where(ahead >= behind, 1.0, -1.0)


def _crosses(ones: Array, others: Array) -> Array:
    """Return the vector products of each of some vectors with each of others: matrix (n m, 3)."""
    (x, y, z), (u, v, w) = ones.T[:, :, None], others.T[:, None, :]
    # numpy's own `cross` spends most of its time on which axis is meant.
    return np.stack((y * w - z * v, z * u - x * w, x * v - y * u), axis=-1).reshape(-1, 3)


def _unit(vectors: Array) -> Array:
    """Return vectors with length 1; those of no length are left out."""
    lengths = np.linalg.norm(vectors, axis=1)
    kept = lengths > 1e-9
    unit: Array = vectors[kept] / lengths[kept, None]
    return unit


def _once(directions: Array) -> Array:
    """Return unit directions each once, whichever way they point."""
    kept: list[Array] = []
    for each in directions:
        if all(abs(float(each @ other)) < 1 - 1e-9 for other in kept):
            kept.append(each)
    return np.array(kept)
