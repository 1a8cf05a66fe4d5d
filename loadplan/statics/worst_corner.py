"""The settled state at the corners of the tolerance that hurt: whether a group still stands there, and how well.

Worst margins count what weights, centres of gravity and floor take off by themselves, and a lean that was found with
the centres as given. On soft supports they make each other worse: a heavier unit leans further, and so does one whose
centre of gravity lies further out. So for each mode weights, saddles and slope are put where they hurt it, and the
state is followed to there from the one as given (`load_path`).
"""

from dataclasses import dataclass
from math import inf

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.statics.contact_loads import NoEquilibriumError, Settled, settle
from loadplan.statics.equilibrium import Frame
from loadplan.statics.load_path import Growth, followed_each
from loadplan.statics.mass import Array
from loadplan.statics.second_order import Flags, levers_of
from loadplan.statics.settled_state import Standing
from loadplan.statics.slope_response import Footing
from loadplan.statics.tipping_modes import STILL, rotations

BEYOND = 1.1
"""Times what may be off up to which a group has to settle: a simulator of rigid bodies lets some go a little sooner."""

ROUNDING = 1e-9
"""Share of what the saddle that counts most changes below which a change is rounding."""

MOST_FOLLOWED = 40
"""Most modes that are followed: those that have the least margin."""


@dataclass(frozen=True, slots=True)
class Tolerance:
    """What may be off its figure; n supports, p lumps.

    Attributes:
        masses: For each mode (k, p) the masses that leave it the least margin [kg].
        uneven: How far each saddle may be off (n), scaled.
        rise: Tangent of the floor slope.
    """

    masses: Array
    uneven: Array
    rise: float


@dataclass(frozen=True, slots=True)
class CornerMargins:
    """What is left of each mode at its corners.

    Attributes:
        stands: Whether the group settles at all of them (k).
        margins: Least margins (k, q) [m]; infinite where the mode does not rotate the whole or the group goes over.
    """

    stands: Flags
    margins: Array


def corner_margins(frame: Frame, standing: Standing, ground: Footing, over: tuple[Array, Tolerance]) -> CornerMargins:
    """Follow a group to the corners of the tolerance that hurt some of its modes.

    Two a mode: with the masses that leave it the least margin, and with all masses at their most.

    Args:
        frame: The group, standing as given.
        standing: The same in its first-order state.
        ground: The same as it rests.
        over: Those of its scaled modes (k, 3 q), and what may be off.

    Returns:
        What is left there.
    """
    motions, tolerance = over
    slopes, own = ground.slope_ways(motions), ground.of_bases(motions)
    ways, outward = slopes * tolerance.rise, _outward(motions, slopes @ ground.merged.columns.T)
    lowered = _hurting_saddles(ground, own) * tolerance.uneven
    found = CornerMargins(np.ones(len(motions), dtype=bool), np.full((len(motions), len(frame.wholes)), inf))
    turned = rotations(motions)
    chosen, most = tolerance.masses, np.tile(_heaviest(frame), (len(motions), 1))
    sets = (chosen, most) if np.abs(chosen - most).any() else (most,)
    # All corners side by side: their first states and first pieces are found together.
    modes = np.tile(np.arange(len(motions)), len(sets))
    corners = _corners(frame, outward[modes], np.concatenate(sets))
    firsts = _first_order(standing, motions, corners.loads, lowered[modes])
    growths = {
        number: _growth(corners, number, first, (ground, ways[modes[number]], lowered[modes[number]]))
        for number, first in enumerate(firsts)
        if first is not None
    }
    ends = dict(zip(growths, followed_each(ground.held, tuple(growths.values())), strict=True))
    for number, mode in enumerate(modes):
        loads = ends[number].loads if number in ends else None
        if loads is None:
            found.stands[mode] = False
            continue
        # By balance: what the supports still press is what the weights do against the mode where they are then.
        work = float(loads @ ground.held.up @ own[mode])
        lever = corners.loads[number, ::3] * turned[mode]
        left = np.where(lever > STILL, frame.span * work / np.where(lever > STILL, lever, 1.0), inf)
        found.margins[mode] = np.minimum(found.margins[mode], left)
    return found


def _heaviest(frame: Frame) -> Array:
    """Return the masses (p) with which all that counts weighs most [kg]."""
    most = [(lump.high if lump.sign > 0 else lump.low) if lump.counts else 0.0 for lump in frame.lumps]
    return np.array(most)


def _hurting_saddles(ground: Footing, modes: Array) -> Array:
    """Return for each mode (k, 3 c) which saddles (k, n) hurt it where they are low, 1, and which where high, −1."""
    held = ground.held
    tangent = held.tangent(held.touching, ground.overturning)
    # What a saddle lower by 1 tilts the group, times what that tilt takes off the work of the mode.
    costs = -(modes * ground.overturning) @ np.linalg.solve(tangent, (held.stiffness[:, None] * held.up).T)
    # Where neither way tells, rounding must not choose.
    return np.where(costs < -ROUNDING * np.abs(costs).max(axis=1, keepdims=True), -1.0, 1.0)


def _outward(motions: Array, slopes: Array) -> Array:
    """Return for each mode (k, 3 q) how each whole turns in it; what it does not turn, the way that its floor slopes.

    A whole that stays in a mode still carries what goes: leaning that way itself, it tilts that with it.
    """
    turns, sloping = motions.reshape(len(motions), -1, 3), slopes.reshape(len(motions), -1, 3)
    stays = np.abs(turns[:, :, 1:]).max(axis=2, keepdims=True) <= STILL
    return np.where(stays, sloping, turns).reshape(len(motions), -1)


@dataclass(frozen=True, slots=True)
class _CornerWeights:
    """A group at its corners, k of them; p lumps, q rigid wholes.

    Attributes:
        frame: The group.
        masses: Mass of each lump (k, p) [kg], below 0 of what was taken away.
        heights: How high it lies (p) [m].
        loads: Weights (k, 3 q), scaled.
    """

    frame: Frame
    masses: Array
    heights: Array
    loads: Array

    def overturning(self, number: int, first: Settled) -> Array:
        """Return m g h (q) at a corner, from where the group rests there without lean."""
        return levers_of(self.frame, first, (self.masses[number], self.heights))


def _corners(frame: Frame, outward: Array, masses: Array) -> _CornerWeights:
    """Return a group with these masses (k, p) [kg], every centre of gravity out the way (k, 3 q) that hurts most."""
    turns = np.sign(np.round(outward.reshape(len(outward), -1, 3)[:, frame.whole_of], 9))
    sign = np.array([lump.sign for lump in frame.lumps], dtype=float)
    at, off = (np.array([getattr(lump, key) for lump in frame.lumps]) for key in ("at", "at_pm"))
    # Out across the axis, and up, since what stands higher overturns more; what was taken away the other way round.
    x = (at[:, 0] + sign * turns[:, :, 2] * off[:, 0] - frame.middle[0]) / frame.span
    y = (at[:, 1] + sign * -turns[:, :, 1] * off[:, 1] - frame.middle[1]) / frame.span
    weights = sign * masses * GRAVITY / frame.weight
    size = len(masses) * len(frame.wholes)
    bins = (np.arange(len(masses))[:, None] * len(frame.wholes) + frame.whole_of).ravel()
    parts = [np.bincount(bins, each.ravel(), size) for each in (weights, weights * y, weights * -x)]
    return _CornerWeights(
        frame=frame,
        masses=sign * masses,
        heights=at[:, 2] + sign * off[:, 2],
        loads=np.column_stack(parts).astype(float).reshape(len(masses), -1),
    )


def _first_order(standing: Standing, motions: Array, loads: Array, lowered: Array) -> list[Settled | None]:
    """Return where a group rests at its corners without lean, one case each; None where it does not."""
    # What tips by its weights alone has no loads, and is found so without lean, too.
    kept = np.flatnonzero((loads @ motions.T > STILL).all(axis=1))
    firsts: list[Settled | None] = [None] * len(loads)
    try:
        settled = settle(standing.held, loads[kept], standing.gaps + lowered[kept])
    except NoEquilibriumError:
        return firsts
    for place, number in enumerate(kept):
        one = slice(place, place + 1)
        firsts[number] = Settled(settled.motions[one], settled.loads[one], settled.forces[one])
    return firsts


def _growth(corners: _CornerWeights, number: int, first: Settled, floor: tuple[Footing, Array, Array]) -> Growth:
    """Return what loads a group on its way to a corner.

    Args:
        corners: The corners.
        number: Number of the corner.
        first: Where the group rests there without lean.
        floor: The group as it rests, and the floor's slope (3 c) and saddles (n) there.

    Returns:
        What grows up to a bit beyond; what is left is told where everything is off as far as it may be, and no further.
    """
    ground, slope, lowered = floor
    overturning = ground.merged.diagonal(corners.overturning(number, first))
    added = ground.load - corners.loads[number] @ ground.merged.columns + overturning * slope
    return Growth(overturning, ground.load, added, lowered, limit=BEYOND, told=1.0)
