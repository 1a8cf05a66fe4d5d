"""The polygons of all level pushes that can be stood at some places, explored only as far as their nearest sides.

The corner furthest in a direction is one linear programme. Corners found so far span a polygon inside the true one;
of its nearest side the furthest corner beyond is asked for. If there is none, that side is a true one, and no other
can be nearer, since the true polygon holds the inner one. Else the corner comes in. It ends since the corners are
finitely many. All polygons are asked about together, since programmes that go on side by side cost little more than
one. (The same exploration, for the region of a centre of gravity: Bretl and Lall, Testing static
equilibrium for legged robots, IEEE Transactions on Robotics 24, 2008, 794-807.)
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from loadplan.statics.mass import Array
from loadplan.statics.simplex import Numbers, Programme, SimplexBasis, best, joined, spread

NEAR = 1e-7
"""A side of the polygon this near to what its direction allows is its true side (share of the weight)."""

ALIKE = 1e-9
"""Sides whose distances differ by less (share of the weight) are equally near."""

ROUNDS = 200
"""Rounds of looking for the nearest side; a few are enough."""

AT_ONCE = 8
"""Sides looked at in one round: the next ones cost little more than one."""

FIRST = 12
"""Directions looked into at first."""

NEVER = 1e6
"""What it costs to take another push beside the one asked about: more than it could ever gain."""


@dataclass(frozen=True, slots=True)
class PolygonSide:
    """The nearest side of the polygon.

    Attributes:
        distance: From the origin, as share of the weight.
        angle: Direction square to it [rad].
        basis: Where the search for it ended.
        value: What was asked there (1, n).
    """

    distance: float
    angle: float
    basis: SimplexBasis
    value: Array


@dataclass(frozen=True, slots=True)
class _Corners:
    """Corners found so far, counterclockwise, each with the direction that it was found in; k of them."""

    angles: Array
    places: Array
    bases: SimplexBasis

    def with_more(self, more: "_Corners", after: Numbers) -> "_Corners":
        """Return these with others (c) put in behind the ones of some numbers (c)."""
        order = np.argsort(np.append(np.arange(len(self.angles)), after), kind="stable")
        return _Corners(
            np.append(self.angles, more.angles)[order],
            np.vstack([self.places, more.places])[order],
            joined([self.bases, more.bases]).copies(order),
        )

    def parts(self, counts: list[int]) -> "list[_Corners]":
        """Return them parted into so many each."""
        ends = np.cumsum(counts)
        return [self.some(np.arange(end - count, end)) for count, end in zip(counts, ends, strict=True)]

    def some(self, wanted: Numbers) -> "_Corners":
        """Return the ones of some numbers."""
        return _Corners(self.angles[wanted], self.places[wanted], self.bases.copies(wanted))


class _Sides(NamedTuple):
    """Sides between corners in order, s of them: distance from the origin, direction square to it, first corner."""

    distances: Array
    normals: Array
    firsts: Numbers

    def nearest(self) -> "_Sides":
        """Return so many as are asked at once, the nearest first."""
        order = np.argsort(self.distances)[:AT_ONCE]
        return _Sides(self.distances[order], self.normals[order], self.firsts[order])


def nearest_sides(
    programme: Programme, basis: SimplexBasis, polygons: int, below: float, others: Array
) -> tuple[PolygonSide | None, ...]:
    """Find the side of each polygon that is nearest to the origin.

    Corners are found direction by direction, and so stand in order round a polygon; the nearest side between
    two of them is asked for the furthest corner beyond it, until there is none.

    Args:
        programme: Balances; its last columns, four a polygon, push along +x, −x, +y, −y.
        basis: A feasible basis without any of these, or of a single polygon.
        polygons: How many there are.
        below: Distance, as share of the weight, of which a greater one is not asked about.
        others: Other right sides (k, m), near that of the programme. A side is where the prices of its end say, at
            any right side: each of the nearest ones is taken where it is nearest of all these.

    Returns:
        Distance, direction, and the end of the search of each; None where it reaches further than `below` all round.
    """
    pushes = _Pushes(programme, polygons)
    around = np.tile(2 * np.pi * np.arange(FIRST) / FIRST, polygons)
    first = pushes.furthest(spread(basis, len(around)), np.repeat(np.arange(polygons), FIRST), around)
    explored = [_Exploration(number, part) for number, part in enumerate(first.parts([FIRST] * polygons))]
    for _ in range(ROUNDS):
        going = [each for each in explored if not each.is_found() and not each.is_far(below)]
        if not going:
            break
        counts = [len(each.nearest.normals) for each in going]
        further = pushes.furthest(
            joined([each.begin for each in going]),
            np.repeat([each.number for each in going], counts),
            np.concatenate([each.nearest.normals for each in going]),
        )
        for each, part in zip(going, further.parts(counts), strict=True):
            each.push_out(part)
    return tuple(None if each.is_far(below) else each.told(pushes, others) for each in explored)


class _Exploration:
    """One polygon, explored so far: its corners, the nearest of their sides, and what lay beyond those last asked."""

    def __init__(self, number: int, corners: _Corners) -> None:
        self.number = number
        self.nearest = _sides(corners.places).nearest()
        self._corners = corners
        self._asked = self.nearest
        self._further = corners
        self._beyond: Array = np.full(1, np.inf)

    @property
    def begin(self) -> SimplexBasis:
        """Where the search beyond each of the nearest sides begins: at its first corner."""
        return self._corners.bases.copies(self.nearest.firsts)

    def is_far(self, below: float) -> bool:
        """Return whether the polygon reaches so far all round: the true one holds that of the corners found so far."""
        return bool(self.nearest.distances[0] >= below)

    def is_found(self) -> bool:
        """Return whether the nearest side is a true one: then the others, true or not, are further off."""
        return bool(self._beyond[0] <= NEAR)

    def push_out(self, further: _Corners) -> None:
        """Take in the furthest corner beyond each of the nearest sides."""
        towards = np.column_stack([np.cos(further.angles), np.sin(further.angles)])
        self._asked, self._further = self.nearest, further
        self._beyond = (further.places * towards).sum(axis=1) - self.nearest.distances
        if not self.is_found():
            wanted = np.flatnonzero(self._beyond > NEAR)
            self._corners = self._corners.with_more(further.some(wanted), self.nearest.firsts[wanted])
            self.nearest = _sides(self._corners.places).nearest()

    def told(self, pushes: "_Pushes", others: Array) -> PolygonSide:
        """Return the nearest side, at that of all right sides (k, m) at which it is nearest."""
        # The sides were found by searches side by side: only that of the nearest is told.
        bases, angles = self._further.bases, self._further.angles
        value = pushes.value(np.full(len(angles), self.number), angles)
        prices = np.einsum("ci,cij->cj", bases.worth(value), bases.inverse)
        reach = np.column_stack([self._asked.distances, prices @ others.T]).min(axis=1)
        # Of mirrored sides that is told which comes first from forward round by the left, not which rounding favours.
        alike = (reach <= reach.min() + ALIKE) & (self._beyond <= NEAR)
        alike[reach.argmin()] = True
        least = np.array([np.where(alike, (angles + NEAR) % (2 * np.pi), np.inf).argmin()])
        return PolygonSide(
            distance=max(float(reach.min()), 0.0),
            angle=float(angles[least[0]]),
            basis=bases.copies(least),
            value=value[least],
        )


@dataclass(frozen=True, slots=True)
class _Pushes:
    """A programme whose last columns push, four for each of some polygons."""

    programme: Programme
    polygons: int

    def value(self, polygon: Numbers, angles: Array) -> Array:
        """Return the value (c, n) of the columns in each search: of the own pushes, along a direction [rad]."""
        cases = np.arange(len(angles))
        value = np.zeros((len(angles), len(self.programme.columns)))
        pushes = np.full((len(angles), self.polygons, 4), -NEVER)
        pushes[cases, polygon] = np.column_stack([np.cos(angles), -np.cos(angles), np.sin(angles), -np.sin(angles)])
        value[:, -4 * self.polygons :] = pushes.reshape(len(angles), -1)
        return value

    def furthest(self, basis: SimplexBasis, polygon: Numbers, angles: Array) -> _Corners:
        """Return the push that goes furthest in each direction (c) [rad], each sought from its own basis."""
        best(self.programme, basis, self.value(polygon, angles))
        taken = basis.taken(len(self.programme.columns))[:, -4 * self.polygons :]
        pushes = taken.reshape(len(angles), self.polygons, 4)[np.arange(len(angles)), polygon]
        places = np.column_stack([pushes[:, 0] - pushes[:, 1], pushes[:, 2] - pushes[:, 3]])
        return _Corners(angles, places, basis)


def _sides(corners: Array) -> _Sides:
    """Return distance, direction [rad] and first corner of every side between corners (k, 2) in order."""
    along = np.roll(corners, -1, axis=0) - corners
    length = np.hypot(along[:, 0], along[:, 1])
    first = np.flatnonzero(length > NEAR)
    # Corners all in one spot: no push at all can be stood.
    if not first.size:
        return _Sides(np.zeros(1), np.zeros(1), np.zeros(1, dtype=np.intp))
    outward = np.column_stack([along[first, 1], -along[first, 0]]) / length[first, None]
    return _Sides((outward * corners[first]).sum(axis=1), np.arctan2(outward[:, 1], outward[:, 0]), first)
