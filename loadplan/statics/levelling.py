"""Levelling: which one stand, set how much higher or lower, brings a free unit back best.

Every whole millimetre up and down is tried at every stand of the unit, each settled anew on its push-only
springs, so that what is told has been solved and not extrapolated: a stand that would take another one's
load away, or pass what it or its place may take, is no cure.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import hypot

import numpy as np

from loadplan.limits import TAPE
from loadplan.model.answer import Motion
from loadplan.model.job import Job, State, Support
from loadplan.model.shop import EquipmentKind
from loadplan.statics.contact_loads import Settled, settle, springs
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.mass import Array, lumps
from loadplan.statics.misalignment import misses
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.tipping_modes import stands

REACH = 30
"""A stand is reset by so many millimetres at most."""

MILLIMETRE = 1e-3
"""Step of what is tried [m]: nobody sets a stand finer."""

GAIN = 0.2
"""Share of what is out that a reset has to take away to be worth telling."""

ALIKE = 0.02
"""Resets that leave so nearly the same share of what was out are alike: the smaller one is told."""

IDLE = 1e-6
"""Share of the group's weight up to which a stand carries nothing."""


@dataclass(frozen=True, slots=True)
class Reset:
    """One stand set anew.

    Attributes:
        support: The stand.
        change: How much higher [m]; negative: lower.
        left: What is still out: the worst hole [m], or the worst tilt [rad].
    """

    support: Support
    change: float
    left: float


def reset_for_holes(job: Job, state: State, gaps: Mapping[str, float], body: str) -> Reset | None:
    """Find the one stand that lines up the holes of a unit's undone joints best.

    Args:
        job: The job.
        state: The state; the unit's group is balanced in it.
        gaps: How much lower each support's saddle is [m], arms too.
        body: A body of the unit.

    Returns:
        The reset that leaves the worst hole least out; None where none helps.
    """
    every = frames(state, lumps(job, state))

    def worst_hole(motions: Mapping[str, Motion], unit: Frame) -> float:
        own = {joint.name for joint in state.undone if set(joint.between) & set(unit.bodies)}
        return max((each.miss for each in misses(job, state, every, dict(motions)) if each.joint in own), default=0.0)

    unit = _unit(every, body)
    return _best(job, unit, gaps, unit.bodies, worst_hole)


def reset_for_level(job: Job, state: State, gaps: Mapping[str, float], body: str) -> Reset | None:
    """Find the one stand under a rigid whole that levels it, and what it is tied to, best.

    Args:
        job: The job.
        state: The state; the unit's group is balanced in it.
        gaps: How much lower each support's saddle is [m], arms too.
        body: A body of the rigid whole.

    Returns:
        The reset that leaves the worst tilt of the group least; None where none helps.
    """
    every = frames(state, lumps(job, state))

    def worst_tilt(motions: Mapping[str, Motion], unit: Frame) -> float:
        return max(hypot(motions[name].rx, motions[name].ry) for name in unit.bodies)

    unit = _unit(every, body)
    return _best(job, unit, gaps, unit.wholes[unit.whole(body)], worst_tilt)


def _unit(every: tuple[Frame, ...], body: str) -> Frame:
    return next(frame for frame in every if body in frame.bodies)


def _best(
    job: Job,
    unit: Frame,
    gaps: Mapping[str, float],
    under: tuple[str, ...],
    worst: Callable[[Mapping[str, Motion], Frame], float],
) -> Reset | None:
    """Return the change of one stand that leaves least of the worst tilt; among those alike the smallest."""
    tried = [each for each in _trials(unit, under) if _can_be_set(*each)]
    if not tried or not stands(unit):
        return None
    settled = _settled(job, unit, gaps, tried)
    out = [worst(dict(unit.motions(motion)), unit) for motion in settled.motions]
    if out[0] <= 0:
        return None
    allowed = _allowed(unit, settled.loads)
    resets = [
        Reset(support, round(steps * MILLIMETRE, 3), left)
        for (support, steps), left, may in zip(tried, out[1:], allowed, strict=True)
        if may and left <= (1 - GAIN) * out[0]
    ]
    # To the last micron nobody sets a stand: of resets alike the one that moves it least is the easiest.
    return min(resets, key=lambda each: (round(each.left / (ALIKE * out[0])), abs(each.change)), default=None)


def _trials(unit: Frame, under: tuple[str, ...]) -> list[tuple[Support, int]]:
    """Return every stand under some bodies with every change [mm]."""
    # Arms go with the lift and hoists with their chain: neither is a stand that somebody sets.
    those = [
        each
        for each in unit.supports
        if each.body in under and not each.is_arm and each.equipment.kind is not EquipmentKind.HOIST
    ]
    return [(each, steps) for each in those for steps in range(-REACH, REACH + 1) if steps]


def _can_be_set(support: Support, steps: int) -> bool:
    """Return whether a stand's height, with shims where it goes in steps, can be changed by so many millimetres."""
    heights = support.equipment.heights
    if heights is None or support.set_height is None:
        return True
    total = support.set_height + steps * MILLIMETRE
    # Shims fill up between settings, and some way above the highest; below the lowest nothing helps.
    if heights.settings or total > heights.highest:
        return heights.lowest - TAPE <= total <= heights.highest + REACH * MILLIMETRE
    return total >= heights.lowest - TAPE


def _settled(job: Job, unit: Frame, gaps: Mapping[str, float], tried: list[tuple[Support, int]]) -> Settled:
    """Return the unit settled as it is, and with each change (1 + c cases)."""
    number = {each.name: place for place, each in enumerate(unit.supports)}
    low = np.tile([gaps[each.name] for each in unit.supports], (1 + len(tried), 1))
    for case, (support, steps) in enumerate(tried, start=1):
        # A stand set higher is a smaller gap.
        low[case, number[support.name]] -= steps * MILLIMETRE
    return settle(springs(unit, mount_preload(job)), np.tile(unit.load, (len(low), 1)), low / unit.span)


def _allowed(unit: Frame, loads: Array) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Return which changes (c) leave every stand loaded that was, and none overloaded."""
    places = [np.inf if each.limit is None else each.limit for each in unit.supports]
    most = np.minimum(places, [each.equipment.rating_of_one for each in unit.supports]) / unit.weight
    loaded = loads > IDLE
    # What was too much before may stay so but not grow: that is not what the reset is there to cure.
    fine: np.ndarray[tuple[int], np.dtype[np.bool_]] = (
        (loaded[1:] >= loaded[0]) & (loads[1:] <= np.maximum(most, loads[0]))
    ).all(axis=1)
    return fine
