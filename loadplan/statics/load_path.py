"""Load path: a group on springs, with its own overturning, as what loads it grows from where it rests.

With a factor s before what is added, the stiffness K of what touches and the m g h terms G of every whole,

    (K − G) y = p + s·a,        every saddle lower by g + s·e.

While the contact stays as it is y grows in proportion with s, so the next saddle comes off, or touches, at a least
ratio; there K changes, and the next piece begins. Where K − G stops being positive definite the group goes over, unless
a saddle that stands a little lower catches it: then it has rocked onto that, and goes on from there.
"""

from dataclasses import dataclass
from math import inf

import numpy as np

from loadplan.statics.contact_loads import Springs
from loadplan.statics.mass import Array
from loadplan.statics.second_order import Flags, Merged, is_stable
from loadplan.statics.settled_state import TOUCH, Leaning

PIECES = 10
"""Changes of contact for each support after which a path is taken to end: each seldom changes more than once."""

SLOW = 1e-12
"""Pace, scaled, below which a saddle is neither pressed nor relieved."""

ROUNDS = 20
"""Rounds in which a contact that holds is looked for."""

CAUGHT = 0.05
"""Tilt [rad] from where it rested beyond which nothing is taken to catch a group; common practice, no source."""


@dataclass(frozen=True, slots=True)
class HeldGroup:
    """What holds a group in the motions that are left of it; n supports, m motions.

    Attributes:
        up: Rows of the supports (n, m).
        stiffness: Their stiffness (n).
        mounts: Stiffness matrix of the mounts (m, m).
        preload: What they pull upward in the file's attitude (m).
        gaps: How much lower each saddle is (n).
        rested: Motions in which the group rests (m).
        touching: Which supports touch there (n).
    """

    up: Array
    stiffness: Array
    mounts: Array
    preload: Array
    gaps: Array
    rested: Array
    touching: Flags

    def tangent(self, touching: Flags, overturning: Array) -> Array:
        """Return the stiffness (m, m) with that in touch (n), less the diagonal (m) of the m g h terms."""
        up = self.up[touching]
        tangent: Array = self.mounts + up.T @ (self.stiffness[touching, None] * up) - np.diag(overturning)
        return tangent


def held_at_rest(held: Springs, gaps: Array, leaning: Leaning, merged: Merged) -> HeldGroup:
    """Write the springs of a group in the motions of what does not ride on another whole.

    Args:
        held: The springs; n supports, q rigid wholes.
        gaps: How much lower each saddle is (n), scaled.
        leaning: Where it rests.
        merged: Which wholes ride; c are left.

    Returns:
        The same in 3 c motions. A rider stays as far out of its base's attitude as it rests.
    """
    columns = merged.columns
    rested = leaning.motions.reshape(-1, 3)[merged.bases].ravel()
    apart = leaning.motions - columns @ rested
    return HeldGroup(
        up=held.up @ columns,
        stiffness=held.stiffness,
        mounts=merged.stiffness(held, np.zeros(len(held.up), dtype=bool)),
        preload=(held.preload - held.mount_stiffness * (held.stretch @ apart)) @ held.stretch @ columns,
        gaps=gaps + held.up @ apart,
        rested=rested,
        touching=leaning.touching,
    )


@dataclass(frozen=True, slots=True)
class Growth:
    """What loads a group, and how that grows; n supports, m motions.

    Attributes:
        overturning: Diagonal of the m g h terms (m).
        load: Weights where the path begins (m).
        added: What a unit of the factor takes off them (m).
        lowered: How much lower a unit of the factor sets each saddle (n).
        limit: Factor at which the path ends.
    """

    overturning: Array
    load: Array
    added: Array
    lowered: Array
    limit: float


@dataclass(frozen=True, slots=True)
class PathEnd:
    """Where a path ended.

    Attributes:
        factor: Factor there.
        loads: What each support carries (n), as shares of the weight; None where the group goes over.
    """

    factor: float
    loads: Array | None


@dataclass(frozen=True, slots=True)
class _LoadPiece:
    """One piece of a path: motions (m), and how far each support is pressed (n), below 0 where it is in the air.

    Attributes:
        motions: With a factor of 0.
        rate: What a unit of the factor adds to them.
        pressed: With a factor of 0.
        pace: What a unit of the factor adds to that.
    """

    motions: Array
    rate: Array
    pressed: Array
    pace: Array

    def pressed_at(self, factor: float) -> Array:
        """Return how far each support is pressed (n); what just touches by 0, whatever rounding says."""
        pressed = self.pressed + factor * self.pace
        return np.where(np.abs(pressed) <= TOUCH, 0.0, pressed)


def followed(held: HeldGroup, growth: Growth) -> PathEnd:
    """Follow a group as what loads it grows.

    Of several supports that change at once the first in the list changes first, so that a few that just touch do not go
    round in circles (Murty, Opsearch 11, 1974: the least index).

    Args:
        held: What holds it.
        growth: What grows.

    Returns:
        Where the path ends: at its limit, or where the group goes over. One that does not end is taken for the same.
    """
    # Where it rests was found with weights of its own: with those of the path what touches may be another.
    touching, factor = _contact(held, growth, held.touching, 0.0), 0.0
    for _ in range(PIECES * len(held.touching)):
        if touching is None:
            break
        piece = _piece(held, growth, touching)
        if piece is None:
            touching = _caught(held, growth, touching, factor)
            continue
        pressed = piece.pressed_at(factor)
        changes = np.where(touching, piece.pace < -SLOW, piece.pace > SLOW)
        ahead = np.maximum(np.where(touching, pressed, -pressed), 0.0)
        steps = np.where(changes, ahead / np.where(changes, np.abs(piece.pace), 1.0), inf)
        first = int(steps.argmin())
        if factor + steps[first] >= growth.limit:
            return PathEnd(growth.limit, np.maximum(piece.pressed_at(growth.limit), 0.0) * held.stiffness)
        factor += float(steps[first])
        touching = touching.copy()
        touching[first] = not touching[first]
    return PathEnd(factor, None)


def _piece(held: HeldGroup, growth: Growth, touching: Flags) -> _LoadPiece | None:
    """Return the piece with that in touch (n); None where nothing that touches holds the group."""
    tangent = held.tangent(touching, growth.overturning)
    if not is_stable(tangent):
        return None
    stiff = held.stiffness[touching, None] * held.up[touching]
    still = held.preload - growth.load - held.gaps[touching] @ stiff
    more = growth.added - growth.lowered[touching] @ stiff
    motions, rate = np.linalg.solve(tangent, np.column_stack([still, more])).T
    return _LoadPiece(motions, rate, -held.up @ motions - held.gaps, -held.up @ rate - growth.lowered)


def _contact(held: HeldGroup, growth: Growth, touching: Flags, factor: float) -> Flags | None:
    """Return what touches (n) at a factor, looked for from a first guess round by round; None where nothing holds."""
    for _ in range(ROUNDS):
        piece = _piece(held, growth, touching)
        if piece is None:
            return None
        turned = (piece.motions + factor * piece.rate - held.rested).reshape(-1, 3)[:, 1:]
        if np.abs(turned).max() > CAUGHT:
            return None
        pressed = piece.pressed_at(factor)
        # What just touches stays as it is: which side it joins is told by how the path goes on.
        now = (pressed > 0) | ((pressed == 0) & touching)
        if (now == touching).all():
            return touching
        touching = now
    return None


def _caught(held: HeldGroup, growth: Growth, touching: Flags, factor: float) -> Flags | None:
    """Return what touches (n) once a group that goes over has rocked onto what catches it; None where nothing does.

    It goes the way that nothing resists, until the nearest saddle touches.
    """
    _, ways = np.linalg.eigh(held.tangent(touching, growth.overturning))
    way = ways[:, 0] if ways[:, 0] @ growth.added >= 0 else -ways[:, 0]
    pace = -held.up @ way
    nearer = ~touching & (pace > SLOW)
    if not nearer.any():
        return None
    low = held.gaps + factor * growth.lowered + held.up @ held.rested
    found = touching.copy()
    found[np.where(nearer, low / np.where(nearer, pace, 1.0), inf).argmin()] = True
    return _contact(held, growth, found, factor)
