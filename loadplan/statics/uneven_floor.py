"""The range of loads on an uneven floor: every saddle a little off, every mass at its least and most."""

from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.statics.contact_loads import Springs, settle
from loadplan.statics.distinct_rows import distinct_rows
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.tipping_modes import holds

EVERY_CORNER = 12
"""Up to so many supports every combination of high and low saddles is solved (4096 of them)."""


@dataclass(frozen=True, slots=True)
class LoadEnds:
    """Least and most expected load of each support, as shares of the weight.

    Attributes:
        low: Least (n).
        high: Most (n).
        tilts: Every tilt (c, q, 2).
        loads_at_high: The loads (n, n) of all where each carries most.
        gaps_at_high: The gaps (n, n), scaled, of all there.
    """

    low: Array
    high: Array
    tilts: Array
    loads_at_high: Array
    gaps_at_high: Array


def mass_levels(frame: Frame, motions: Array) -> Array:
    """Weigh the group with all masses at their least, as given, and at their most.

    Args:
        frame: The group, balanced as given.
        motions: Its scaled modes (k, 3 q).

    Returns:
        Scaled weights (3, 3 q), fewer where the group would tip with its masses at an end.
    """
    counted = [number for number, lump in enumerate(frame.lumps) if lump.counts]
    place = (np.array([frame.lumps[number].at[:2] for number in counted]) - frame.middle) / frame.span
    rows = np.column_stack([np.ones(len(counted)), place[:, 1], -place[:, 0]])
    sign = np.array([frame.lumps[number].sign for number in counted])
    # All to their least, or all to their most: each by itself would be 2ⁿ cases, which `load_bounds` covers.
    masses = np.array([[each.low, each.mass, each.high] for each in (frame.lumps[number] for number in counted)])
    levels = np.zeros((3, len(frame.wholes), 3))
    for whole in range(len(frame.wholes)):
        own = frame.whole_of[counted] == whole
        levels[:, whole] = (sign[own, None] * masses[own]).T @ rows[own]
    weights: Array = levels.reshape(3, -1) * GRAVITY / frame.weight
    # Not summed again: the middle level has to be what everything else is solved with, to the last bit.
    weights[1] = frame.load
    # Masses at an end may tip what stands as given, and what tips has no loads to tell.
    kept: Array = weights[[level == 1 or holds(replace(frame, load=weights[level]), motions) for level in range(3)]]
    return kept


def corners(held: Springs, uneven: Array) -> Array:
    """List the ways in which the saddles may be off.

    Args:
        held: The springs; n supports.
        uneven: How far each saddle may be off (n), scaled.

    Returns:
        Offsets (c, n): none, and every combination of signs; beyond `EVERY_CORNER` supports those that change
        each load most while all are in touch (the signs of the warping modes).
    """
    count = len(uneven)
    if count > EVERY_CORNER:
        return telling_corners(held, uneven)
    # A load changes almost in proportion to what a saddle is off, so its extremes are sought where each is off in full.
    signs = np.array(list(product((-1.0, 1.0), repeat=count))).reshape(-1, count)
    offsets: Array = np.vstack([np.zeros((1, count)), signs * uneven])
    return offsets


def telling_corners(held: Springs, uneven: Array) -> Array:
    """List the ways to be off that change each load most while all are in touch: the signs of the warping modes.

    Args:
        held: The springs; n supports.
        uneven: How far each saddle may be off (n), scaled.

    Returns:
        Offsets (c, n), none among them.
    """
    warping = np.where(_warping(held) < 0, -1.0, 1.0)
    # Both ways: what takes load off one stand puts it onto another, and either may be too much.
    signs = distinct_rows(np.vstack([warping, -warping]))
    offsets: Array = np.vstack([np.zeros((1, len(uneven))), signs * uneven])
    return offsets


def tilting_corners(held: Springs, uneven: Array, prices: Array) -> Array:
    """List the ways to be off that tilt a group most, one way and the other, while what touches stays in touch.

    Args:
        held: The springs of what touches; n supports.
        uneven: How far each of their saddles may be off (n), scaled.
        prices: Rows (k, 3 q) of the motions that are asked about.

    Returns:
        Offsets (c, n).
    """
    stiffness = held.stretch.T @ (held.mount_stiffness[:, None] * held.stretch)
    stiff = held.stiffness[:, None] * held.up
    answer = -prices @ np.linalg.solve(stiffness + held.up.T @ stiff, stiff.T)
    signs = distinct_rows(np.where(answer < 0, -1.0, 1.0))
    offsets: Array = signs * uneven
    return offsets


def _warping(held: Springs) -> Array:
    """Return how each load (n) answers to each saddle (n) while all are in touch, and the warping modes (k, n)."""
    mounts = held.stretch.T @ (held.mount_stiffness[:, None] * held.stretch)
    stiff = held.stiffness[:, None] * held.up
    # What a stand pushes back by itself, less what the unit gives way as a rigid body on all the others.
    answer = np.diag(held.stiffness) - stiff @ np.linalg.pinv(mounts + held.up.T @ stiff) @ stiff.T
    _, modes = np.linalg.eigh(answer)
    answers: Array = np.vstack([answer, modes.T])
    return answers


def load_range(held: Springs, levels: Array, gaps: Array, uneven: Array) -> LoadEnds:
    """Find the least and the most that each support carries on an uneven floor.

    Args:
        held: The springs.
        levels: Scaled weights (l, 3 q) at each mass level.
        gaps: Gaps as set (n), scaled.
        uneven: How far each saddle may be off (n), scaled.

    Returns:
        The range over every corner and level.
    """
    off = gaps + corners(held, uneven)
    settled = settle(held, np.repeat(levels, len(off), axis=0), np.tile(off, (len(levels), 1)))
    tilts = settled.motions.reshape(len(settled.motions), -1, 3)[:, :, 1:]
    at_high = settled.loads.argmax(axis=0)
    ends = settled.loads.min(axis=0), settled.loads.max(axis=0)
    return LoadEnds(*ends, tilts, settled.loads[at_high], off[at_high % len(off)])
