"""Load path: a group on springs, with its own overturning, as what loads it grows from where it rests.

With a factor s before what is added, the stiffness K of what touches and the m g h terms G of every whole,

    (K − G) y = p + s·a,        every saddle lower by g + s·e.

While the contact stays as it is y grows in proportion with s, so the next saddle comes off, or touches, at a least
ratio; there K changes, and the next piece begins. Where K − G stops being positive definite the group goes over, unless
a saddle that stands a little lower catches it: then it has rocked onto that, and goes on from there.
"""

from collections.abc import Sequence
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
        told: Factor at which the loads are told, up to the limit.
    """

    overturning: Array
    load: Array
    added: Array
    lowered: Array
    limit: float
    told: float


@dataclass(frozen=True, slots=True)
class PathEnd:
    """Where a path ended.

    Attributes:
        factor: Factor there.
        loads: What each support carries (n) at the factor that is told, as shares of the weight; None where the group
            goes over before the end.
        rocked: Whether it went over on the way, until a saddle that stands lower caught it: that is no smooth way.
    """

    factor: float
    loads: Array | None
    rocked: bool = False


@dataclass(frozen=True, slots=True)
class _LoadPiece:
    """One piece of a path: motions (m), and how far each support is pressed (n), below 0 where it is in the air.

    Attributes:
        touching: Which supports touch (n).
        motions: With a factor of 0.
        rate: What a unit of the factor adds to them.
        pressed: With a factor of 0.
        pace: What a unit of the factor adds to that.
    """

    touching: Flags
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
    return _followed_from(held, growth, None)


def _followed_from(held: HeldGroup, growth: Growth, begun: _LoadPiece | None) -> PathEnd:
    """Return where a path ends whose piece with what touches where the group rests may have been found already."""
    # Where it rests was found with weights of its own: with those of the path what touches may be another.
    piece = _contact(held, growth, held.touching, 0.0, begun)
    factor, loads, rocked = 0.0, None, False
    for _ in range(PIECES * len(held.touching)):
        if piece is None:
            break
        touching, pressed = piece.touching.copy(), piece.pressed_at(factor)
        changes = np.where(touching, piece.pace < -SLOW, piece.pace > SLOW)
        ahead = np.maximum(np.where(touching, pressed, -pressed), 0.0)
        steps = np.where(changes, ahead / np.where(changes, np.abs(piece.pace), 1.0), inf)
        first = int(steps.argmin())
        if loads is None and factor + steps[first] >= growth.told:
            loads = np.maximum(piece.pressed_at(growth.told), 0.0) * held.stiffness
        if factor + steps[first] >= growth.limit:
            return PathEnd(growth.limit, loads, rocked)
        factor += float(steps[first])
        touching[first] = not touching[first]
        piece = _piece(held, growth, touching)
        if piece is None:
            piece = _caught(held, growth, touching, factor)
            rocked = rocked or piece is not None
    return PathEnd(factor, None, rocked)


def followed_each(held: HeldGroup, growths: Sequence[Growth]) -> tuple[PathEnd, ...]:
    """Follow a group as one thing after another that loads it grows.

    Most such paths have one piece: what touches where the group rests does so to the end. These are found together.

    Args:
        held: What holds it.
        growths: What grows, each from where the group rests.

    Returns:
        Where each path ends.
    """
    pieces = _first_pieces(held, growths) if growths else []
    return tuple(
        (piece and _ended_at_once(held, growth, piece)) or _followed_from(held, growth, piece)
        for growth, piece in zip(growths, pieces, strict=True)
    )


def _first_pieces(held: HeldGroup, growths: Sequence[Growth]) -> list[_LoadPiece | None]:
    """Return the piece of each path with what touches where the group rests; none where that fails to hold one."""
    touching = held.touching
    over = np.array([each.overturning for each in growths])
    tangents = held.tangent(touching, np.zeros(over.shape[1])) - over[:, :, None] * np.eye(over.shape[1])
    if not is_stable(tangents):
        return [None] * len(growths)
    stiff = held.stiffness[touching, None] * held.up[touching]
    still = held.preload - np.array([each.load for each in growths]) - held.gaps[touching] @ stiff
    lowered = np.array([each.lowered for each in growths])
    more = np.array([each.added for each in growths]) - lowered[:, touching] @ stiff
    ends = np.linalg.solve(tangents, np.stack([still, more], axis=2))
    pressed = -held.up @ ends
    pressed[:, :, 0] -= held.gaps
    pressed[:, :, 1] -= lowered
    return [
        _LoadPiece(touching, end[:, 0], end[:, 1], each[:, 0], each[:, 1])
        for end, each in zip(ends, pressed, strict=True)
    ]


def _ended_at_once(held: HeldGroup, growth: Growth, piece: _LoadPiece) -> PathEnd | None:
    """Return where a path ends that has only that piece; None where it may have others."""
    turned = (piece.motions - held.rested).reshape(-1, 3)[:, 1:]
    ends = piece.pressed_at(0.0), piece.pressed_at(growth.limit)
    touches = [(pressed > 0) == piece.touching for pressed in ends]
    if np.abs(turned).max() > CAUGHT or not (touches[0] & touches[1]).all():
        return None
    # In between each is pressed by what lies between its ends, so that nothing comes off or touches there.
    return PathEnd(growth.limit, np.maximum(piece.pressed_at(growth.told), 0.0) * held.stiffness)


def _piece(held: HeldGroup, growth: Growth, touching: Flags) -> _LoadPiece | None:
    """Return the piece with that in touch (n); None where nothing that touches holds the group."""
    tangent = held.tangent(touching, growth.overturning)
    if not is_stable(tangent):
        return None
    stiff = held.stiffness[touching, None] * held.up[touching]
    still = held.preload - growth.load - held.gaps[touching] @ stiff
    more = growth.added - growth.lowered[touching] @ stiff
    motions, rate = np.linalg.solve(tangent, np.column_stack([still, more])).T
    return _LoadPiece(touching, motions, rate, -held.up @ motions - held.gaps, -held.up @ rate - growth.lowered)


def _contact(
    held: HeldGroup, growth: Growth, touching: Flags, factor: float, begun: _LoadPiece | None = None
) -> _LoadPiece | None:
    """Return the piece at a factor, what touches looked for from a guess (n) on, whose piece may have been found.

    None where nothing holds.
    """
    for number in range(ROUNDS):
        piece = begun if begun and number == 0 else _piece(held, growth, touching)
        if piece is None:
            return None
        turned = (piece.motions + factor * piece.rate - held.rested).reshape(-1, 3)[:, 1:]
        if np.abs(turned).max() > CAUGHT:
            return None
        pressed = piece.pressed_at(factor)
        # What just touches stays as it is: which side it joins is told by how the path goes on.
        now = (pressed > 0) | ((pressed == 0) & touching)
        if (now == touching).all():
            return piece
        touching = now
    return None


def _caught(held: HeldGroup, growth: Growth, touching: Flags, factor: float) -> _LoadPiece | None:
    """Return the piece once a group that goes over has rocked onto what catches it; None where nothing does.

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
