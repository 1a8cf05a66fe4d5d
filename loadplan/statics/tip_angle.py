"""Tip angle: the floor slope at which a group goes over, each body turning about the line that it really turns about.

A body that turns about an axis through two places of unequal height goes over sooner or later than its height over the
lower one says. With the axis inclined by α, the centre of gravity d beside it in plan and a above it at the foot of
that perpendicular, a slope θ across the axis takes the work away at tan θ = d / √(a² + (d·tan α)²): the triple product
of axis, arm and gravity.

What moves as one with a body that stands turns about that one's axis: so the places that do not move are looked for at
all bodies of the group. A unit bolted or mounted high on a subframe that goes over on two stands turns about these.
"""

from math import pi
from typing import TypeAlias

import numpy as np

from loadplan.statics.equilibrium import Frame
from loadplan.statics.lean import Lean, carried_work, heights_over_lowest, lean_rates
from loadplan.statics.mass import Array
from loadplan.statics.tipping_modes import STILL, rotations

Flags: TypeAlias = np.ndarray[tuple[int, int], np.dtype[np.bool_]]


def tip_angles(frame: Frame, motions: Array, lean: Lean, carried: Array) -> Array:
    """Measure the floor slope at which a group goes over in each of its modes.

    Args:
        frame: The group, masses and centres of gravity as given.
        motions: Scaled modes (k, 3 q).
        lean: How it leans.
        carried: What stands on each whole (q, q), as of `lean.carried_moments`.

    Returns:
        Angles (k) [rad]; a right angle where a slope takes hold of nothing.
    """
    turned = rotations(motions)
    turned = np.where(turned > STILL, turned, 0.0)
    up = _up_at_cg(frame, motions, lean)
    work = np.maximum(up @ frame.load[::3] - carried_work(motions, lean, carried), 0.0)
    arms = _arms(frame, motions, up)
    lever = (turned * np.where(np.isnan(arms), _over_lowest(frame), arms)) @ frame.load[::3]
    # Saddles of what turns about no line of its own go sideways with what they stand on as that turns below them.
    lever += np.einsum("kq,qb,kb->k", np.isnan(arms), carried, turned)
    angles: Array = np.where(lever > 0, np.arctan(work / np.where(lever > 0, lever, 1.0)), pi / 2)
    return angles


def least_angles(motions: Array, angles: Array) -> tuple[float | None, ...]:
    """Choose the tip angle of each whole: the smallest over the modes that rotate it.

    Args:
        motions: Scaled modes (k, 3 q).
        angles: Their tip angles (k) [rad].

    Returns:
        Angles [rad]; None where no mode rotates the whole.
    """
    turned = rotations(motions) > STILL
    return tuple(float(angles[each].min()) if each.any() else None for each in turned.T)


def _up_at_cg(frame: Frame, motions: Array, lean: Lean) -> Array:
    """Return how far each whole's centre of gravity, moved by its lean, goes up (k, q) in each motion, scaled."""
    share = frame.load[::3]
    level = (motions * frame.load).reshape(len(motions), -1, 3).sum(axis=2) / share
    given = _given(frame)
    lost = lean_rates(frame, motions, lean) * (given * heights_over_lowest(frame) / frame.span)
    own = frame.whole_of[:, None] == np.arange(len(frame.wholes))
    up: Array = level - (lost @ own) / (given @ own)
    return up


def _arms(frame: Frame, motions: Array, up: Array) -> Array:
    """Return the arm h (k, q), scaled, on which a slope takes hold of each whole in each motion.

    It is that over the axis that a whole turns about; not a number where it turns about none.
    """
    return np.column_stack([_arms_of(frame, motions, (whole, up[:, whole])) for whole in range(len(frame.wholes))])


def _arms_of(frame: Frame, motions: Array, asked: tuple[int, Array]) -> Array:
    """Return the arm of one whole (k): the largest over axes through two places that do not move, nor it at them."""
    whole, up = asked
    own = motions[:, 3 * whole : 3 * whole + 3]
    # Held off 0, since it divides; what does not turn gets no lever from its caller anyway.
    turned = np.maximum(np.hypot(own[:, 1], own[:, 2]), STILL)
    beside = up / turned
    cg = _cg(frame, whole)
    places, touched = _places(frame)
    first, second = np.triu_indices(len(places), 1)
    run = places[second, :2] - places[first, :2]
    length = np.hypot(run[:, 0], run[:, 1])
    apart = length > STILL
    first, second, run, length = first[apart], second[apart], run[apart], length[apart]
    if not len(first):
        return np.full(len(motions), np.nan)
    # About an axis through places that the motion does move, it does not turn.
    fields = np.column_stack([np.ones(len(places)), places[:, 1], -places[:, 0]])
    moved = np.abs(np.einsum("mi,kqi->mqk", fields, motions.reshape(len(motions), -1, 3))) > STILL
    still = ~moved[:, whole] & ~(moved & touched[:, :, None]).any(axis=1)
    steep = (places[second, 2] - places[first, 2]) / length
    along = ((cg[:2] - places[first, :2]) * run).sum(axis=1) / length
    above = cg[2] - (places[first, 2] + steep * along)
    arm = np.hypot(above, beside[:, None] * steep)
    both = (still[first] & still[second]).T
    # Several axes may be left: the largest arm gives the smallest angle, which is the careful one.
    largest = np.where(both, arm, -1.0).max(axis=1)
    found: Array = np.where(largest >= 0, largest, np.nan)
    return found


def _over_lowest(frame: Frame) -> Array:
    """Return how high the centre of gravity of each whole (q) lies over its lowest saddle or mount, scaled.

    What hangs below its places counts as if above, which gives the smaller angle.
    """
    high = np.array([_cg(frame, whole)[2] for whole in range(len(frame.wholes))])
    return np.abs(high - frame.lowest / frame.span)


def _places(frame: Frame) -> tuple[Array, Flags]:
    """Return the places (m, 3) of all saddles and mounts, scaled, and which wholes (m, q) each is a place of."""
    rows = [*frame.up, *frame.stretch]
    at = [*(each.at for each in frame.supports), *(each.at[0] for each in frame.mounts)]
    places: Array = (np.array(at).reshape(-1, 3) - (*frame.middle, 0.0)) / frame.span
    return places, np.array(rows).reshape(len(at), -1)[:, ::3] != 0


def _cg(frame: Frame, whole: int) -> Array:
    """Return the centre of gravity (3) of a whole as given, scaled."""
    given = np.where(frame.whole_of == whole, _given(frame), 0.0)
    places = np.array([lump.at for lump in frame.lumps])
    cg: Array = ((given @ places) / given.sum() - (*frame.middle, 0.0)) / frame.span
    return cg


def _given(frame: Frame) -> Array:
    return np.array([lump.sign * lump.mass if lump.counts else 0.0 for lump in frame.lumps])
