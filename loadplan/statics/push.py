"""Sideways push and pull: what friction at the saddles and the stands' own footing can stand.

Forces in 3D at every rigid whole: six balances; a saddle pushes up with a normal N >= 0 and holds sideways
up to mu·N, a cone of 32 faces inscribed in the round one, so at most 0.5 % on the careful side; a mount
carries any force at its point. The forces that can be stood make a convex polygon, and the least of them
over all directions is the distance of its nearest side, found exactly.

Such a limit is an upper bound: friction is not associated, so what really holds depends on how the lot was
set down (see Drucker, J. Appl. Mech. 21, 1954, 71-74, from memory).
"""

from dataclasses import dataclass
from math import atan2, inf

import numpy as np

from loadplan.model.vehicle import Place
from loadplan.statics.frame import Frame
from loadplan.statics.mass import Array
from loadplan.statics.modes import SINGULAR, null_space
from loadplan.statics.simplex import Basis, EndlessError, Programme, best, spread, start

FACES = 32
"""Faces of the friction cone."""

NEAR = 1e-7
"""A side of the polygon this near to what its direction allows is its true side (share of the weight)."""

TELLING = 1e-6
"""Shares by which a limit must grow for a cause to be the one that binds."""

HELD_FAST = 100.0
"""Friction at which nothing slides before it tips."""

SIDES = 60
"""Rounds of looking for the nearest side; a few are enough."""


@dataclass(frozen=True, slots=True)
class Grip:
    """How one saddle holds sideways.

    Attributes:
        friction: Sideways force a unit of load, before it slides.
        footing: The same before the stand itself goes over; infinite where it cannot.
    """

    friction: float
    footing: float

    @property
    def holds(self) -> float:
        """The smaller of the two."""
        return min(self.friction, self.footing)


@dataclass(frozen=True, slots=True)
class Hold:
    """One group with the forces that it can stand, scaled to weight 1 and span 1.

    Attributes:
        frame: The group, balanced as given.
        grips: Of each support (n); a hoist has 0.
        body: Rigid whole that is pushed.
        at: Where it is pushed [m].
    """

    frame: Frame
    grips: tuple[Grip, ...]
    body: int
    at: Place


@dataclass(frozen=True, slots=True)
class Limit:
    """The least sideways push that a group cannot stand.

    Attributes:
        force: Force [N].
        direction: Where it pushes [rad], from forward towards the left.
        first: "slides", "tips", or "stand" where a stand itself goes over.
        about: Supports that carry when it happens; for "stand" those that go over.
    """

    force: float
    direction: float
    first: str
    about: tuple[str, ...]


def weakest_push(hold: Hold) -> Limit:
    """Find the least horizontal push that the group cannot stand, and what happens first.

    Args:
        hold: The group, and where it is pushed.

    Returns:
        Force, direction and what happens.
    """
    compass = ((1.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, -1.0, 0.0))
    programme = _programme(hold, tuple(grip.holds for grip in hold.grips), compass)
    share, angle = _nearest_side(programme, start(programme))
    towards = (float(np.cos(angle)), float(np.sin(angle)), 0.0)
    first, about = what_first(hold, towards)
    return Limit(share * hold.frame.weight, angle, first, about)


def stands(hold: Hold, towards: Place) -> float:
    """Find the largest force in one direction that the group can stand.

    Args:
        hold: The group, and where it is pushed.
        towards: Direction, unit vector.

    Returns:
        Force [N]; infinite where nothing limits it.
    """
    return _along(hold, towards, tuple(grip.holds for grip in hold.grips))[0] * hold.frame.weight


def what_first(hold: Hold, towards: Place) -> tuple[str, tuple[str, ...]]:
    """Find what happens first when a push in one direction grows.

    Args:
        hold: The group, and where it is pushed.
        towards: Direction, unit vector.

    Returns:
        "slides", "tips" or "stand" (a stand itself goes over), and the supports that carry then (or go over).
    """
    names = tuple(support.name for support in hold.frame.supports)
    share, carried = _along(hold, towards, tuple(grip.holds for grip in hold.grips))
    tipping, on_edge = _along(hold, towards, tuple(HELD_FAST if grip.holds > 0 else 0.0 for grip in hold.grips))
    if tipping <= share * (1 + TELLING):
        return "tips", _named(names, on_edge)
    firm = _along(hold, towards, tuple(grip.friction for grip in hold.grips))[0]
    weak = np.array([grip.footing < grip.friction for grip in hold.grips])
    if firm > share * (1 + TELLING):
        return "stand", _named(names, np.where(weak, carried, 0.0))
    return "slides", _named(names, carried)


def _named(names: tuple[str, ...], loads: Array) -> tuple[str, ...]:
    return tuple(name for name, load in zip(names, loads, strict=True) if load > TELLING)


def _along(hold: Hold, towards: Place, grips: tuple[float, ...]) -> tuple[float, Array]:
    """Return the largest share of the weight that can be stood in a direction, and the normals (n) then."""
    programme = _programme(hold, grips, (towards,))
    value = np.zeros((1, len(programme.columns)))
    value[0, -1] = 1.0
    basis = start(programme)
    try:
        share = float(best(programme, basis, value)[0])
    except EndlessError:
        return inf, np.zeros(len(grips))
    normals = basis.taken(len(programme.columns))[0, :-1].reshape(-1, FACES).sum(axis=1)
    return share, normals


def _programme(hold: Hold, grips: tuple[float, ...], pushes: tuple[Place, ...]) -> Programme:
    """Return the balances as a programme: FACES columns a support, then one a push."""
    frame = hold.frame
    angles = 2 * np.pi * np.arange(FACES) / FACES
    around = np.column_stack([np.cos(angles), np.sin(angles)])
    held = [
        _between(frame, support.at, _whole(frame, support.body), _whole(frame, support.on))
        @ np.column_stack([grip * around, np.ones(FACES)]).T
        for support, grip in zip(frame.supports, grips, strict=True)
    ]
    pushed = [_between(frame, hold.at, hold.body, None) @ np.array(push)[:, None] for push in pushes]
    tied = [_between(frame, mount.at[0], *(frame.whole(name) for name in mount.between)).T for mount in frame.mounts]
    freedom = null_space(np.vstack([np.zeros((0, 6 * len(frame.wholes))), *tied]), 6 * len(frame.wholes))
    columns = (freedom @ np.hstack(held + pushed)).T
    _, sizes, axes = np.linalg.svd(columns, full_matrices=False)
    held_axes = axes[sizes > SINGULAR * sizes[0]]
    return Programme(columns @ held_axes.T, held_axes @ freedom @ _weights(frame))


def _whole(frame: Frame, body: str) -> int | None:
    return frame.whole(body) if body in frame.bodies else None


def _between(frame: Frame, at: Place, first: int | None, second: int | None) -> Array:
    """Return the balances (6 q, 3) of a force along x, y, z at a place, on one whole and back on another."""
    x, y, z = (at[0] - frame.middle[0]) / frame.span, (at[1] - frame.middle[1]) / frame.span, at[2] / frame.span
    wrench = np.vstack([np.eye(3), [[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]]])
    both = np.zeros((6 * len(frame.wholes), 3))
    for whole, sign in ((first, 1.0), (second, -1.0)):
        if whole is not None:
            both[6 * whole : 6 * whole + 6] += sign * wrench
    return both


def _weights(frame: Frame) -> Array:
    """Return what the supports have to bear (6 q)."""
    load = np.zeros(6 * len(frame.wholes))
    for whole in range(len(frame.wholes)):
        load[6 * whole + 2 : 6 * whole + 5] = frame.load[3 * whole : 3 * whole + 3]
    return load


def _nearest_side(programme: Programme, basis: Basis) -> tuple[float, float]:
    """Return distance (share of the weight) and direction [rad] of the nearest side of the polygon of pushes.

    The last four columns push along +x, −x, +y, −y. Corners are found direction by direction; the side of
    their hull that is nearest is asked for the furthest corner beyond it, until there is none.
    """
    angles = 2 * np.pi * np.arange(8) / 8
    corners = _corners(programme, basis, angles)
    for _ in range(SIDES):
        distances, normals = _sides(corners)
        nearest = np.argsort(distances)[:4]
        further = _corners(programme, basis, normals[nearest])
        towards = np.column_stack([np.cos(normals[nearest]), np.sin(normals[nearest])])
        beyond = (further * towards).sum(axis=1) - distances[nearest]
        if beyond[0] <= NEAR:
            break
        corners = np.vstack([corners, further[beyond > NEAR]])
    return max(float(distances[nearest[0]]), 0.0), float(normals[nearest[0]])


def _corners(programme: Programme, basis: Basis, angles: Array) -> Array:
    """Return the push (c, 2) that goes furthest in each direction (c) [rad]."""
    value = np.zeros((len(angles), len(programme.columns)))
    value[:, -4:] = np.column_stack([np.cos(angles), -np.cos(angles), np.sin(angles), -np.sin(angles)])
    reached = spread(basis, len(angles))
    best(programme, reached, value)
    pushes = reached.taken(len(programme.columns))[:, -4:]
    return np.column_stack([pushes[:, 0] - pushes[:, 1], pushes[:, 2] - pushes[:, 3]])


def _sides(corners: Array) -> tuple[Array, Array]:
    """Return distance from the origin and direction [rad] of every side of the hull of corners (k, 2)."""
    around = corners[_hull(corners)]
    if len(around) < 3:
        return np.zeros(1), np.array([atan2(-around[0, 0], around[0, 1]) if len(around) > 1 else 0.0])
    along = np.roll(around, -1, axis=0) - around
    outward = np.column_stack([along[:, 1], -along[:, 0]]) / np.hypot(along[:, 0], along[:, 1])[:, None]
    return (outward * around).sum(axis=1), np.arctan2(outward[:, 1], outward[:, 0])


def _hull(places: Array) -> list[int]:
    """Return the corners of a convex hull counterclockwise (Andrew's monotone chain, 1979)."""
    order = [int(each) for each in np.lexsort((places[:, 1], places[:, 0]))]
    chains: list[list[int]] = []
    for way in (order, order[::-1]):
        chain: list[int] = []
        for each in way:
            while len(chain) > 1 and _turn(places[chain[-2]], places[chain[-1]], places[each]) <= NEAR**2:
                chain.pop()
            chain.append(each)
        chains.append(chain[:-1])
    return chains[0] + chains[1]


def _turn(first: Array, second: Array, third: Array) -> float:
    return float((second[0] - first[0]) * (third[1] - first[1]) - (second[1] - first[1]) * (third[0] - first[0]))
