"""The polygon of all level pushes that can be stood, explored only as far as its nearest side.

The corner furthest in a direction is one linear programme. Corners found so far span a polygon inside the true one;
of its nearest side the furthest corner beyond is asked for. If there is none, that side is a true one, and no other
can be nearer, since the true polygon holds the inner one. Else the corner comes in. It ends since the corners are
finitely many. (The same exploration, for the region of a centre of gravity: Bretl and Lall, Testing static
equilibrium for legged robots, IEEE Transactions on Robotics 24, 2008, 794-807.)
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from loadplan.statics.mass import Array
from loadplan.statics.simplex import Numbers, Programme, SimplexBasis, best, spread

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
            self.bases.joined(more.bases).copies(order),
        )

    def some(self, wanted: Numbers) -> "_Corners":
        """Return the ones of some numbers."""
        return _Corners(self.angles[wanted], self.places[wanted], self.bases.copies(wanted))


class _Sides(NamedTuple):
    """Sides between corners in order, s of them: distance from the origin, direction square to it, first corner."""

    distances: Array
    normals: Array
    firsts: Numbers


def nearest_side(programme: Programme, basis: SimplexBasis, below: float, others: Array) -> PolygonSide | None:
    """Find the side of the polygon that is nearest to the origin.

    Corners are found direction by direction, and so stand in order round the polygon; the nearest side between
    two of them is asked for the furthest corner beyond it, until there is none.

    Args:
        programme: Balances; its last four columns push along +x, −x, +y, −y.
        basis: A feasible basis.
        below: Distance, as share of the weight, of which a greater one is not asked about.
        others: Other right sides (k, m), near that of the programme. A side is where the prices of its end say, at
            any right side: each of the nearest ones is taken where it is nearest of all these.

    Returns:
        Distance, direction, and the end of the search; None where the polygon reaches further than `below` all round.
    """
    found = _furthest(programme, spread(basis, FIRST), 2 * np.pi * np.arange(FIRST) / FIRST)
    for _ in range(ROUNDS):
        distances, normals, ends = _sides(found.places)
        # The true polygon holds the one found so far, so that no side of it can be nearer.
        if distances.min() >= below:
            return None
        # The next ones are asked in the same call, which costs little more than one.
        nearest = np.argsort(distances)[:AT_ONCE]
        further = _furthest(programme, found.bases.copies(ends[nearest]), normals[nearest])
        towards = np.column_stack([np.cos(normals[nearest]), np.sin(normals[nearest])])
        beyond = (further.places * towards).sum(axis=1) - distances[nearest]
        # That side cannot be pushed out any further, and the others, true or not, are further off.
        if beyond[0] <= NEAR:
            break
        wanted = np.flatnonzero(beyond > NEAR)
        found = found.with_more(further.some(wanted), ends[nearest[wanted]])
    # The sides were found by searches side by side: only that of the nearest is told.
    value = _asked(programme, further.angles)
    prices = np.einsum("ci,cij->cj", further.bases.worth(value), further.bases.inverse)
    reach = np.column_stack([distances[nearest], prices @ others.T]).min(axis=1)
    # Of mirrored sides the one is told that comes first from forward round by the left, not the one rounding favours.
    turned = (further.angles + NEAR) % (2 * np.pi)
    alike = (reach <= reach.min() + ALIKE) & (beyond <= NEAR)
    alike[reach.argmin()] = True
    least = np.where(alike, turned, np.inf).argmin(keepdims=True)
    return PolygonSide(
        distance=max(float(reach.min()), 0.0),
        angle=float(further.angles[least[0]]),
        basis=further.bases.copies(least),
        value=value[least],
    )


def _asked(programme: Programme, angles: Array) -> Array:
    value = np.zeros((len(angles), len(programme.columns)))
    value[:, -4:] = np.column_stack([np.cos(angles), -np.cos(angles), np.sin(angles), -np.sin(angles)])
    return value


def _furthest(programme: Programme, basis: SimplexBasis, angles: Array) -> _Corners:
    """Return the push that goes furthest in each direction (k) [rad], each sought from its own basis."""
    best(programme, basis, _asked(programme, angles))
    pushes = basis.taken(len(programme.columns))[:, -4:]
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
