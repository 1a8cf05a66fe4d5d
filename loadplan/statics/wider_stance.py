"""Wider stance: how far out the stands on the line that a unit would go over have to go for the margin asked for.

All of them go out together, square to that line. The distance is sought by halves with the lean as it was told, which
moves by a millimetre or two; what comes out is then solved in full, lean and uneven floor with it, and a step further
where that is not enough. So what is told was solved.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import hypot

import numpy as np

from loadplan.model.answer import GroupAnswer, Motion
from loadplan.model.job import Job, State, Support
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.group import lean_in_full
from loadplan.statics.lean import Tilted, told_lean
from loadplan.statics.margin_settings import margin_settings
from loadplan.statics.mass import lumps, off_before
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.tipping_modes import free_motion, rays, work
from loadplan.statics.unsolved import UNSOLVED
from loadplan.statics.worst_margin import worst

STEP = 0.010
"""Step of what is told [m]: nobody places a stand finer by eye."""

STEPS = 30
"""Steps that are tried at most."""

MORE = 3
"""Further steps where the lean asks for more."""

MOST_WORK = 100_000
"""Work on the ways to go over (`tipping_modes.work`) beyond which no distance is sought: some 20 ms each time."""

SAME = 1e-4
"""A margin found again that differs by more than this [m] was told of other states, too: no distance is told then."""


@dataclass(frozen=True, slots=True)
class WiderQuestion:
    """How far out would hold.

    Attributes:
        job: The job.
        state: The state.
        gaps: How much lower each saddle is [m], by support.
        told: The group, as told.
        body: Body whose margin is too small, a stage's name for its rigid whole.
        margin: Its worst margin as told [m].
        motion: How it goes over.
        stands: Names of the stands to move, on the line that it turns about.
    """

    job: Job
    state: State
    gaps: Mapping[str, float]
    told: GroupAnswer
    body: str
    margin: float
    motion: Motion
    stands: tuple[str, ...]


def further_out(asked: WiderQuestion) -> float | None:
    """Find how far out the stands have to go.

    Args:
        asked: The question.

    Returns:
        Distance [m], in steps; None where no distance within reach, and under what they hold, is enough, and where it
        would take long to find.
    """
    try:
        return _further_out(asked)
    except UNSOLVED:
        return None


def moved_out(asked: WiderQuestion, distance: float) -> tuple[Support, ...]:
    """Move the stands out.

    Args:
        asked: The question.
        distance: How far [m].

    Returns:
        The supports of the state, those stands moved square to the line that the body turns about.
    """
    turn = hypot(asked.motion.rx, asked.motion.ry)
    # Down goes the side to which a motion slopes: there the edge has to be further away.
    x, y = distance * asked.motion.ry / turn, -distance * asked.motion.rx / turn
    return tuple(
        replace(each, at=(each.at[0] + x, each.at[1] + y, each.at[2])) if each.name in asked.stands else each
        for each in asked.state.supports
    )


def _further_out(asked: WiderQuestion) -> float | None:
    if work(_group(asked, 0.0)) > MOST_WORK:
        return None
    low, high = 0, _room(asked)
    if high == 0 or not _is_enough(asked, high * STEP):
        return None
    # What costs most comes last, and once: the states are solved in full.
    before = _margins(asked, 0.0)
    if abs(before.get(asked.body, asked.margin) - asked.margin) > SAME:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if _is_enough(asked, middle * STEP) else (middle, high)
    steps = range(high, min(high + MORE, _room(asked)) + 1)
    return next((number * STEP for number in steps if _solved_enough(asked, before, number * STEP)), None)


def _room(asked: WiderQuestion) -> int:
    """Return how many steps out every stand stays under what it holds."""
    for number in range(1, STEPS + 1):
        if not all(each.is_under for each in moved_out(asked, number * STEP)):
            return number - 1
    return STEPS


def _group(asked: WiderQuestion, distance: float) -> Frame:
    state = replace(asked.state, supports=moved_out(asked, distance))
    return next(each for each in frames(state, lumps(asked.job, state)) if asked.body in each.bodies)


def _is_enough(asked: WiderQuestion, distance: float) -> bool:
    """Return whether a distance is enough with the lean as told."""
    frame = _group(asked, distance)
    if free_motion(frame) is not None:
        return False
    tilted = Tilted(asked.job.limits.floor_slope, told_lean(frame, asked.told))
    found = worst(frame, rays(frame), tilted, off_before(asked.job, frame.lumps))
    return found.robust and float(found.margins[frame.whole(asked.body)]) >= asked.job.limits.margin


def _margins(asked: WiderQuestion, distance: float) -> dict[str, float]:
    """Return the worst margin of each rigid whole [m], by its bodies, solved in full; empty where it does not stand."""
    frame = _group(asked, distance)
    settings = margin_settings(asked.job, asked.state, frame, asked.gaps, mount_preload(asked.job))
    solved = lean_in_full(frame, settings)
    if not solved.answer.robust:
        return {}
    return {
        name: np.inf if margin is None else margin
        for names, margin in zip(frame.wholes, solved.worst_margins, strict=True)
        for name in names
    }


def _solved_enough(asked: WiderQuestion, before: Mapping[str, float], distance: float) -> bool:
    """Return whether a distance is enough, and brings no other body nearer to tipping than is asked for."""
    after = _margins(asked, distance)
    wanted = asked.job.limits.margin
    others = all(after[name] >= min(wanted, margin) for name, margin in before.items() if name in after)
    return bool(after) and after[asked.body] >= wanted and others
