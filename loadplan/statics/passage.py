"""A passage: the way from the state before a stage to the one after it, as far as what happens on it hangs on that."""

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from math import inf
from typing import TypeAlias

import numpy as np

from loadplan.model.answer import Load, LoadRange, Motion
from loadplan.model.job import Job, State
from loadplan.statics.contact_loads import settle, springs
from loadplan.statics.equilibrium import Frame
from loadplan.statics.group import glance
from loadplan.statics.load_bounds import load_bounds
from loadplan.statics.mass import Array
from loadplan.statics.resting_state import Settings, Solved
from loadplan.statics.tipping_modes import rays
from loadplan.statics.uneven_floor import load_range, mass_levels, telling_corners

NEAR = 0.5
"""From this part of the share of a rating that is asked for on, every combination of saddles high and low is solved."""

Seen: TypeAlias = tuple[tuple[Frame, Solved], ...]
"""The groups of a state, each with what was solved of it."""


@dataclass(frozen=True, slots=True)
class Passage:
    """A stage with the state that it began with.

    Attributes:
        job: The job.
        before: The state that it began with.
        after: The state that it leaves.
        stood: Motion of each body before, measured from the reference of the state after.
        stands: Motion of each body after.
        gaps: Gap of every support of before and after [m], arms where the lift was before.
        look: Solves a state on the way with these gaps, from memory where a group was solved before.
    """

    job: Job
    before: State
    after: State
    stood: Mapping[str, Motion]
    stands: Mapping[str, Motion]
    gaps: Mapping[str, float]
    look: Callable[[State, Mapping[str, float]], Seen]


def motions(seen: Seen) -> dict[str, Motion]:
    """Take the expected motion of each body whose group is balanced.

    Args:
        seen: The groups of a state.

    Returns:
        Motion by body.
    """
    return {
        name: each.motions[number]
        for frame, each in seen
        if each.motions is not None
        for number, names in enumerate(frame.wholes)
        for name in names
    }


def solve_in_passing(frame: Frame, settings: Settings, asked: float) -> Solved:
    """Solve a group as far as a state on the way is judged: whether it stands, and the most that each support carries.

    The most on an uneven floor is looked for among the patterns that change each load most; only where that comes near
    to what is asked, all combinations are solved.

    Args:
        frame: Its equations.
        settings: What they are solved with.
        asked: Share of a rating [1] that is asked for.

    Returns:
        What `glance` gives, with the loads on an uneven floor, and their bounds, where it stands over its whole
        tolerance.
    """
    solved = glance(frame, settings)
    if not solved.answer.robust or solved.loads is None:
        return solved
    # What stands over its whole tolerance stands at every mass level, so there is no mode to ask.
    levels = mass_levels(frame, np.zeros((0, frame.load.size)))
    held = springs(frame, dict(settings.preload))
    gaps, uneven = np.array(settings.gaps) / frame.span, np.array(settings.uneven) / frame.span
    off = gaps + telling_corners(held, uneven)
    found = settle(held, np.repeat(levels, len(off), axis=0), np.tile(off, (len(levels), 1))).loads
    low, high = found.min(axis=0), found.max(axis=0)
    if _is_near(frame, high * frame.weight, NEAR * asked):
        ends = load_range(held, levels, gaps, uneven)
        low, high = ends.low, ends.high
    bounds = load_bounds(frame, rays(frame))
    shares = np.column_stack([low, high, bounds.least, bounds.most]) * frame.weight
    ranges = zip(solved.loads, shares.tolist(), strict=True)
    return replace(solved, loads=tuple(Load(load.expected, _range(load.expected, *row)) for load, row in ranges))


def _range(expected: float, low: float, high: float, least: float, most: float) -> LoadRange:
    """Return what a support may come to carry [N]; rounding must not put the range inside what it is to hold."""
    low, high = min(low, expected), max(high, expected)
    return LoadRange(low, high, min(least, low), None if most == inf else max(most, high))


def _is_near(frame: Frame, loads: Array, share: float) -> bool:
    """Return whether a piece carries (n) [N] more than a share of its rating [1], arms of the lift aside."""
    shares: defaultdict[str, float] = defaultdict(float)
    for support, load in zip(frame.supports, loads.tolist(), strict=True):
        if not support.is_arm:
            shares[support.piece or support.name] += load / support.equipment.rating_of_one
    return max(shares.values(), default=0.0) > share
