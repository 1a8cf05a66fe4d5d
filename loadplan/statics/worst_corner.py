"""The settled state at the corners of the tolerance that hurt: whether a group still stands there, and how well.

Worst margins count what weights, centres of gravity and floor take off by themselves, and a lean that was found with
the centres as given. On soft supports they make each other worse: a heavier unit leans further, and so does one whose
centre of gravity lies further out. So for each mode weights, saddles and slope are put where they hurt it, and the
state is followed to there from the one as given (`load_path`).
"""

from dataclasses import dataclass, replace
from math import inf

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.statics.contact_loads import NoEquilibriumError, Settled, settle
from loadplan.statics.equilibrium import Frame
from loadplan.statics.load_path import Growth, followed
from loadplan.statics.mass import Array
from loadplan.statics.second_order import Flags, levers
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
    for masses in (chosen, most) if np.abs(chosen - most).any() else (most,):
        loaded = [_loaded(frame, way, each) for way, each in zip(outward, masses, strict=True)]
        firsts = _first_order(standing, motions, (loaded, lowered))
        for mode, (corner, first) in enumerate(zip(loaded, firsts, strict=True)):
            loads = None if first is None else _followed(corner, first, ground, (ways[mode], lowered[mode]))
            if loads is None:
                found.stands[mode] = False
                continue
            # By balance: what the supports still press is what the weights do against the mode where they are then.
            work = float(loads @ ground.held.up @ own[mode])
            lever = corner.load[::3] * turned[mode]
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


def _loaded(frame: Frame, outward: Array, masses: Array) -> Frame:
    """Return a group with these masses (p) [kg], every centre of gravity out the way (3 q) that hurts most."""
    turns = np.sign(np.round(outward.reshape(-1, 3)[frame.whole_of], 9))
    # Out across the axis, and up, since what stands higher overturns more; what was taken away the other way round.
    away = np.column_stack([turns[:, 2], -turns[:, 1], np.ones(len(masses))])
    lumps = tuple(
        replace(
            lump,
            mass=float(mass),
            at=tuple(at + lump.sign * way * pm for at, way, pm in zip(lump.at, ways, lump.at_pm, strict=True)),
            counts=True,
        )
        for lump, mass, ways in zip(frame.lumps, masses, away.tolist(), strict=True)
    )
    load = np.zeros((len(frame.wholes), 3))
    for lump, whole in zip(lumps, frame.whole_of, strict=True):
        x, y = ((lump.at[axis] - frame.middle[axis]) / frame.span for axis in (0, 1))
        load[whole] += lump.sign * lump.mass * GRAVITY / frame.weight * np.array([1.0, y, -x])
    return replace(frame, lumps=lumps, load=load.ravel())


def _first_order(standing: Standing, motions: Array, corners: tuple[list[Frame], Array]) -> list[Settled | None]:
    """Return where a group rests at its corners without lean, one case each; None where it does not."""
    loaded, lowered = corners
    loads = np.array([each.load for each in loaded])
    # What tips by its weights alone has no loads, and is found so without lean, too.
    kept = np.flatnonzero((loads @ motions.T > STILL).all(axis=1))
    firsts: list[Settled | None] = [None] * len(loaded)
    try:
        settled = settle(standing.held, loads[kept], standing.gaps + lowered[kept])
    except NoEquilibriumError:
        return firsts
    for place, number in enumerate(kept):
        one = slice(place, place + 1)
        firsts[number] = Settled(settled.motions[one], settled.loads[one], settled.forces[one])
    return firsts


def _followed(corner: Frame, first: Settled, ground: Footing, floor: tuple[Array, Array]) -> Array | None:
    """Return what each support carries (n) at a corner, the floor's slope (3 c) and saddles (n) given; else None."""
    slope, lowered = floor
    overturning = ground.merged.diagonal(levers(corner, first))
    added = ground.load - corner.load @ ground.merged.columns + overturning * slope
    growth = Growth(overturning, ground.load, added, lowered, BEYOND)
    # What is left is told where everything is off as far as it may be, and no further.
    beyond = followed(ground.held, growth).loads
    return None if beyond is None else followed(ground.held, replace(growth, limit=1.0)).loads
