"""Wider stance: how far out the stands on the line that a unit would go over have to go for the margin asked for.

All of them go out together, square to that line. The distance is sought with the lean as it was told, which moves by a
millimetre or two; what comes out is then solved in full, lean and uneven floor with it, and a step further where that
is not enough. So what is told was solved.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil, hypot

import numpy as np

from loadplan.model.answer import GroupAnswer, Motion
from loadplan.model.job import Job, State, Support
from loadplan.statics.any_order import states_between
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.group import MOST_IN_FULL, margins_in_full
from loadplan.statics.lean import Tilted, told_lean
from loadplan.statics.margin_settings import margin_settings
from loadplan.statics.mass import lumps, off_before
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.tipping_modes import EDGE, free_motion, rays, work
from loadplan.statics.unsolved import UNSOLVED
from loadplan.statics.worst_margin import meets

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
        margins: Worst margin of each body of the group as told [m]; infinite where no way over turns it.
        motion: How it goes over.
        stands: Names of the stands to move, on the line that it turns about.
    """

    job: Job
    state: State
    gaps: Mapping[str, float]
    told: GroupAnswer
    body: str
    margins: Mapping[str, float]
    motion: Motion
    stands: tuple[str, ...]

    @property
    def margin(self) -> float:
        """Worst margin of the body [m]."""
        return self.margins[self.body]


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


def least_worst_margin(job: Job, state: State, gaps: Mapping[str, float], body: str) -> float | None:
    """Find the least worst margin in the group of a body, lean and uneven floor with it.

    Args:
        job: The job.
        state: The state.
        gaps: How much lower each saddle is [m], by support.
        body: The body.

    Returns:
        Margin [m], infinite where no way over turns anything; None where the group does not stand over the whole
        tolerance, and where it would take long to find.
    """
    frame = next(each for each in frames(state, lumps(job, state)) if body in each.bodies)
    settings = margin_settings(job, state, frame, gaps, mount_preload(job))
    try:
        found = margins_in_full(frame, settings) if work(frame) <= MOST_WORK else None
    except UNSOLVED:
        return None
    return None if found is None else min(found)


def _further_out(asked: WiderQuestion) -> float | None:
    """Return the least distance [m] that is enough, first with the lean as told, then solved in full."""
    start, room = _group(asked, 0.0), _room(asked)
    if room == 0 or work(start) > MOST_WORK:
        return None
    before = _before(asked, start)
    if abs(before.get(asked.body, asked.margin) - asked.margin) > SAME:
        return None
    fewest = _fewest(asked, room)
    # What costs most comes last, and mostly once: the state is solved in full.
    steps = () if fewest is None else range(fewest, min(fewest + MORE, room) + 1)
    return next((number * STEP for number in steps if _solved_enough(asked, before, number * STEP)), None)


def _fewest(asked: WiderQuestion, room: int) -> int | None:
    """Return the fewest steps that are enough with the lean as told; None where all that there is room for are not."""
    low, high = 0, room + 1
    # What turns about these stands alone gains as much margin as they go out: mostly the first looks tell.
    guess = min(ceil((asked.job.limits.margin - asked.margin) / STEP), room)
    looks = [guess, guess - 1, guess + 1, guess - 2, guess + 2, room]
    while high - low > 1:
        number = looks.pop(0) if looks else (low + high) // 2
        if low < number < high:
            low, high = (low, number) if _is_enough(asked, number * STEP) else (number, high)
    return None if high > room else high


def _before(asked: WiderQuestion, start: Frame) -> Mapping[str, float]:
    """Return the worst margin of each body of the group where its stands are now [m]."""
    # Where several states went into what was told, or not every corner of the floor is looked at here, it is solved
    # anew, to know whether this tells the same.
    if states_between(asked.job, asked.state) or len(start.supports) > MOST_IN_FULL:
        return _margins(asked, start)
    return {name: asked.margins[name] for name in asked.told.bodies}


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
    wanted = np.array([asked.job.limits.margin if asked.body in names else EDGE for names in frame.wholes])
    return bool(meets(frame, rays(frame), tilted, off_before(asked.job, frame.lumps), wanted).all())


def _margins(asked: WiderQuestion, frame: Frame) -> dict[str, float]:
    """Return the worst margin of each body of a group [m], solved in full; empty where it does not stand."""
    settings = margin_settings(asked.job, asked.state, frame, asked.gaps, mount_preload(asked.job))
    found = margins_in_full(frame, settings) or ()
    return {name: margin for names, margin in zip(frame.wholes, found, strict=False) for name in names}


def _solved_enough(asked: WiderQuestion, before: Mapping[str, float], distance: float) -> bool:
    """Return whether a distance is enough, and brings no other body nearer to tipping than is asked for."""
    after = _margins(asked, _group(asked, distance))
    wanted = asked.job.limits.margin
    others = all(after[name] >= min(wanted, margin) for name, margin in before.items() if name in after)
    return bool(after) and after[asked.body] >= wanted and others
