"""Moved stands: how far some stands of a group have to go, each its own way, until what is asked of the group is met.

What is asked may be anything that is told of a group, so the group is solved in full at each distance that is looked
at, with stands, friction and pushes as in its stage. The distance is sought by halves: further out it is met better.
"""

from bisect import bisect_left
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from math import ceil

from loadplan.model.job import Job, State, Support
from loadplan.model.vehicle import PlanPoint
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.group import solve
from loadplan.statics.margin_settings import margin_settings
from loadplan.statics.mass import lumps
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.outline_corners import outline_corners
from loadplan.statics.resting_state import Settings, Solved
from loadplan.statics.saddle_friction import grips, highest_part
from loadplan.statics.sideways_push import TWICE
from loadplan.statics.sideways_resistance import Grip
from loadplan.statics.tipping_modes import work
from loadplan.statics.unsolved import UNSOLVED

STEP = 0.010
"""Step of what is told [m]: nobody places a stand finer by eye."""

EVEN = 1e-6
"""Share of a step that rounding may leave."""

STEPS = 30
"""Steps that are tried at most."""

FRICTIONS = 20
"""Frictions that are tried at most: steps of 0.05, since no saddle is known any better."""

MOST_WORK = 100_000
"""Work on the ways to go over (`tipping_modes.work`) beyond which nothing is sought: some 20 ms each time."""


@dataclass(frozen=True, slots=True)
class StandMoves:
    """Stands that are moved.

    Attributes:
        job: The job.
        state: The state.
        gaps: How much lower each saddle is [m], by support.
        floor: What saddle heights are measured from [m]; None without any that are set.
        body: A body of the group.
        ways: Names of the stands, and which way each goes in plan, of length 1.
        look: Solves the group: `solve`, or what is enough for what is asked.
        guess: Distance [m] that may do, at which to begin; None for none.
    """

    job: Job
    state: State
    gaps: Mapping[str, float]
    floor: float | None
    body: str
    ways: tuple[tuple[str, PlanPoint], ...]
    look: Callable[[Frame, Settings], Solved] = solve
    guess: float | None = None

    def moved(self, distance: float) -> tuple[Support, ...]:
        """Return the supports of the state with those stands so far from where they are [m]."""
        ways = dict(self.ways)
        here = self.state.supports
        return tuple(_moved(each, ways[each.name], distance) if each.name in ways else each for each in here)


@dataclass(frozen=True, slots=True)
class MovedGroup:
    """The group with its stands elsewhere.

    Attributes:
        frame: Its equations.
        solved: The same, solved.
        holds: How each support holds sideways.
    """

    frame: Frame
    solved: Solved
    holds: Mapping[str, Grip]


def least_move(asked: StandMoves, is_met: Callable[[MovedGroup], bool], beyond: float = 0.0) -> float | None:
    """Find the least distance at which what is asked is met.

    Args:
        asked: The stands, and which way each goes.
        is_met: Whether it is, by the group with its stands there.
        beyond: Up to here [m] it is known not to be met.

    Returns:
        Distance [m], in steps; None where none within reach, and under what they hold, will do, and where it would take
        long to find.
    """
    try:
        return _least(asked, is_met, round(beyond / STEP))
    except UNSOLVED:
        return None


def least_friction(asked: StandMoves, slipping: tuple[str, ...], is_met: Callable[[MovedGroup], bool]) -> float | None:
    """Find the least friction on some saddles at which what is asked is met, their stands left where they are.

    Args:
        asked: The group; no stand of it is moved.
        slipping: Names of the supports.
        is_met: Whether it is, by the group with that friction.

    Returns:
        Friction, in steps; None where none up to 1 will do, and where it would take long to find.
    """
    try:
        frame = _frame(asked, asked.state)
        if work(frame) > MOST_WORK:
            return None
        number = bisect_left(
            range(1, FRICTIONS + 1), x=True, key=lambda each: is_met(_gripped(asked, slipping, each / FRICTIONS))
        )
    except UNSOLVED:
        return None
    return None if number == FRICTIONS else (number + 1) / FRICTIONS


def _gripped(asked: StandMoves, slipping: tuple[str, ...], friction: float) -> MovedGroup:
    """Return the group with at least that friction on some of its saddles."""
    frame, holds = _frame(asked, asked.state), grips(asked.job, asked.state, asked.floor)
    better = {name: replace(holds[name], friction=max(holds[name].friction, friction), said=True) for name in slipping}
    there = {**holds, **better}
    return MovedGroup(frame, solve(frame, _settings(asked, asked.state, frame, there)), there)


def _least(asked: StandMoves, is_met: Callable[[MovedGroup], bool], low: int) -> float | None:
    """Return the least distance [m], from a guess on, then by halves; what is told was solved and found to do."""
    room = next((n - 1 for n in range(1, STEPS + 1) if not _all_under(asked, n * STEP)), STEPS)
    if room <= low or work(_frame(asked, asked.state)) > MOST_WORK:
        return None
    looks = [room]
    if asked.guess is not None:
        # A look costs as much as the stage: one that is near by saves most of them.
        near = ceil(asked.guess / STEP - EVEN)
        looks = [min(max(near, low + 1), room), near - 1, near + 1, near + 2, room]
    high = room + 1
    while high - low > 1:
        number = looks.pop(0) if looks else (low + high) // 2
        if low < number < high:
            low, high = (low, number) if _is_met(asked, is_met, number) else (number, high)
    return None if high > room else high * STEP


def _all_under(asked: StandMoves, distance: float) -> bool:
    return all(each.is_under for each in asked.moved(distance))


def _is_met(asked: StandMoves, is_met: Callable[[MovedGroup], bool], steps: int) -> bool:
    """Return whether what is asked is met with the stands so many steps out."""
    state = replace(asked.state, supports=asked.moved(steps * STEP))
    frame, holds = _frame(asked, state), grips(asked.job, state, asked.floor)
    return is_met(MovedGroup(frame, asked.look(frame, _settings(asked, state, frame, holds)), holds))


def _frame(asked: StandMoves, state: State) -> Frame:
    return next(each for each in frames(state, lumps(asked.job, state)) if asked.body in each.bodies)


def _settings(asked: StandMoves, state: State, frame: Frame, holds: Mapping[str, Grip]) -> Settings:
    """Return what the group is solved with in its stage, snags apart."""
    limits = asked.job.limits
    return replace(
        margin_settings(asked.job, state, frame, asked.gaps, mount_preload(asked.job)),
        grips=tuple(holds[each.name] for each in frame.supports),
        pushed=tuple(highest_part(asked.job, state, names) for names in frame.wholes),
        asked=TWICE * (limits.bar if state.stage.bar else limits.push),
        corners=tuple(outline_corners(asked.job, state, names) for names in frame.wholes),
    )


def _moved(support: Support, way: PlanPoint, distance: float) -> Support:
    x, y, z = support.at
    return replace(support, at=(x + distance * way[0], y + distance * way[1], z))
