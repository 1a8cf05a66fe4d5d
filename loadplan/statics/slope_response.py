"""How a group on springs gives way to a slope: it goes over sooner than a rigid one, on soft supports much sooner.

A slope s towards a level direction d turns the weights against a group as if it had tilted by that much already, by
s·G d with the m g h terms G of its wholes (second_order). It leans further, one saddle after another comes off, and
what is left is softer still: `load_path` follows that.
"""

from dataclasses import dataclass
from math import inf
from typing import NamedTuple

import numpy as np

from loadplan.statics.load_path import SLOW, Growth, HeldGroup, followed, held_at_rest
from loadplan.statics.mass import Array
from loadplan.statics.second_order import Flags, Merged, Numbers
from loadplan.statics.settled_state import Leaning, Standing
from loadplan.statics.tipping_modes import STILL, rotations

HARD = 0.01
"""Sway up to which supports are so hard that nothing is followed: of some hundred made-up units one in a hundred would
lose more than a tenth of its slope by that."""

UNCHANGED, IN_FULL = 0.95, 0.85
"""Shares of a rigid group's slope from which on it is told as it is, and up to which what is left of it is told.

Less than a twentieth is within what small tilts leave out; in between the loss is brought in evenly: no angle jumps.
"""

ROCKS = 0.8
"""Of wholes that stand on each other and rock from one saddle onto another on the way: what is told of the slope or
push at which they would go over if they rocked slowly. Of made-up units a simulator let one swing on and over at 0.85.
"""

NEAR = 2.0
"""Times the least slope of a whole up to which a mode is followed: one beyond does not become the least."""

MOST_FOLLOWED = 40
"""Most modes that are followed, those that go first; the others are given the least share of these."""


@dataclass(frozen=True, slots=True)
class Footing:
    """A group as it rests, in the motions of what does not ride on another whole; c such wholes, n supports.

    Attributes:
        held: What holds it.
        merged: Which wholes ride.
        overturning: Diagonal of the m g h terms (3 c).
        load: Its weights (3 c).
    """

    held: HeldGroup
    merged: Merged
    overturning: Array
    load: Array

    def of_bases(self, motions: Array) -> Array:
        """Return scaled motions (k, 3 q) of all wholes as those (k, 3 c) of what does not ride."""
        own: Array = motions.reshape(len(motions), -1, 3)[:, self.merged.bases].reshape(len(motions), -1)
        return own

    def slope_ways(self, motions: Array) -> Array:
        """Return the way of the slope (k, 3 c) that hurts each mode (k, 3 q) most: every whole the way that it turns.

        What the mode does not turn slopes the way of the whole whose weight stands highest among those that it does.
        """
        turns = self.of_bases(motions).reshape(len(motions), -1, 3)[:, :, 1:]
        sizes = np.linalg.norm(turns, axis=2)
        turning = sizes > STILL
        highest = np.where(turning, sizes * self.overturning[1::3], -1.0).argmax(axis=1)
        chosen = np.where(turning[:, :, None], turns, turns[np.arange(len(turns)), highest][:, None, :])
        ways = np.zeros((len(motions), len(self.merged.bases), 3))
        ways[:, :, 1:] = chosen / np.maximum(np.linalg.norm(chosen, axis=2, keepdims=True), STILL)
        return ways.reshape(len(motions), -1)


def footing(standing: Standing, leaning: Leaning) -> Footing:
    """Write a group as it rests in the motions of what does not ride.

    Args:
        standing: The group in its first-order state.
        leaning: Its settled state.

    Returns:
        The same, in fewer motions.
    """
    merged = Merged.of(standing.held, leaning.touching, standing.overturning)
    return Footing(
        held=held_at_rest(standing.held, standing.gaps, leaning, merged),
        merged=merged,
        overturning=merged.diagonal(standing.overturning),
        load=standing.load @ merged.columns,
    )


def slope_shares(ground: Footing, motions: Array, slopes: Array) -> Array:
    """Find which share is left of the slope at which a rigid group would go over, each mode's way.

    Args:
        ground: The group.
        motions: Its scaled modes (k, 3 q).
        slopes: Slopes at which they go if nothing gives way (k) [1].

    Returns:
        Shares (k), 0 to 1: the slope that the group bears as it gives way, over the least that takes the work of any
        mode if it does not, the floor sloping the way of this mode. 1 where a slope takes hold of nothing.
    """
    return _told(_left(ground, motions, slopes).shares)


def stacked_shares(ground: Footing, motions: Array, slopes: Array) -> Array:
    """Find the same where wholes stand on each other: leans add up there, and no loss is small enough to leave out.

    Args:
        ground: The group.
        motions: Its scaled modes (k, 3 q).
        slopes: Slopes at which they go if nothing gives way (k) [1].

    Returns:
        Shares (k), 0 to 1.
    """
    left = _left(ground, motions, slopes)
    return np.where(left.rocked, ROCKS, 1.0) * np.minimum(left.shares, 1.0)


class _Left(NamedTuple):
    """Shares of a slope that are left (k), and whether the group rocked onto another saddle on the way (k)."""

    shares: Array
    rocked: Flags


def _left(ground: Footing, motions: Array, slopes: Array) -> _Left:
    """Return what is left of the slope of each mode; those that go first are followed as it grows."""
    shares, rocked = np.ones(len(motions)), np.zeros(len(motions), dtype=bool)
    near = _near(motions, slopes)
    near = near[np.argsort(slopes[near], kind="stable")]
    added = ground.slope_ways(motions) * ground.overturning
    rigid = _rigid_slopes(ground, motions, added)
    still = np.zeros(len(ground.held.gaps))
    for mode in near[:MOST_FOLLOWED]:
        if 0 < rigid[mode] < inf:
            limit = float(rigid[mode])
            growth = Growth(ground.overturning, ground.load, added[mode], still, limit, told=limit)
            end = followed(ground.held, growth)
            shares[mode], rocked[mode] = end.factor / rigid[mode], end.rocked
    shares[near[MOST_FOLLOWED:]] = shares.min(initial=1.0)
    return _Left(shares, rocked)


def _near(motions: Array, slopes: Array) -> Numbers:
    """Return the modes that may become the first to take some whole over once the group gives way."""
    each = np.where(rotations(motions) > STILL, slopes[:, None], inf)
    near: Numbers = np.flatnonzero((each <= NEAR * each.min(axis=0, initial=inf)).any(axis=1) & np.isfinite(slopes))
    return near


def _rigid_slopes(ground: Footing, motions: Array, added: Array) -> Array:
    """Return the least slope (k) that takes the work of any mode, if nothing gives way; infinite where none does."""
    modes = ground.of_bases(motions)
    takes = added @ modes.T
    work = np.maximum(modes @ (ground.load - ground.overturning * ground.held.rested), 0.0)
    each = np.where(takes > SLOW, work / np.where(takes > SLOW, takes, 1.0), inf)
    slopes: Array = each.min(axis=1, initial=inf)
    return slopes


def _told(shares: Array) -> Array:
    """Return shares as they are told: a small loss is left out, a large one counts in full."""
    steep = (1.0 - IN_FULL) / (UNCHANGED - IN_FULL)
    told: Array = np.minimum(np.maximum(shares, IN_FULL + steep * (shares - IN_FULL)), 1.0)
    return told
