"""What a scale or a hand should find in a stage: what the plan says is carried there, and how far that may be off."""

from dataclasses import dataclass
from math import inf, sqrt

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import GroupAnswer, Statics
from loadplan.model.job import Job, StageReading, State
from loadplan.model.readings import COVERAGE
from loadplan.statics.load_response import LoadResponse, load_response
from loadplan.statics.mass import Array, lumps, upper_mass
from loadplan.statics.unsolved import UNSOLVED


@dataclass(frozen=True, slots=True)
class ExpectedReading:
    """What a reading should come to.

    Attributes:
        reading: The reading.
        expected: What the plan says is carried there [N]; None where what it bears is not in balance.
        spread: Plus or minus on that (k = 2) [N]; None where it is not known, or it tips with a weight a little off.
        least: Least that any stiffness and weights inside tolerance put there [N]; None where not balanced over it.
        most: Most of the same [N]; infinite where nothing limits it.
    """

    reading: StageReading
    expected: float | None
    spread: float | None
    least: float | None
    most: float | None


TURNS_UP_TO = 300.0
"""A stand that a hand turns carries no more than this [N]; common practice, no source."""

STICKS_FROM = 50.0
"""A stand that a hand does not turn carries at least this [N]; common practice, no source."""


def expected_readings(job: Job, state: State, statics: Statics) -> tuple[ExpectedReading, ...]:
    """Find what the readings of a stage should come to.

    Args:
        job: The job.
        state: The stage.
        statics: What was computed about it.

    Returns:
        One a reading of what is in place, in the stage's order.
    """
    there = {each.name for each in state.supports} | lift_names(job, state)
    readings = [each for each in state.stage.readings if each.support in there]
    if not readings:
        return ()
    response = load_response(job, state, statics)
    return tuple(_expected(job, (state, statics), response, each) for each in readings)


def lift_names(job: Job, state: State) -> frozenset[str]:
    """Name the lift, where it holds.

    Args:
        job: The job.
        state: The stage.

    Returns:
        Its name, under which its own gauge is read; nothing where it does not hold.
    """
    holds = job.lift is not None and any(each.is_arm for each in state.supports)
    return frozenset({job.lift.lift.name} if holds and job.lift is not None else ())


def loads_read(response: LoadResponse, reading: StageReading) -> Array | None:
    """Say which loads a reading adds up.

    Args:
        response: The loads of its stage.
        reading: The reading.

    Returns:
        1 for each support (n) that counts, else 0; None where a load of them cannot be told.
    """
    # What is no support by name is the lift: its gauge shows all its arms.
    one = np.array([each == reading.support for each in response.supports])
    counted = one if one.any() else response.is_arm
    told = [name in response.known for name, counts in zip(response.supports, counted, strict=True) if counts]
    return counted.astype(float) if told and all(told) else None


def further_down(state: State, statics: Statics, reading: StageReading) -> float | None:
    """Say how much further down the arms were when a reading was taken than the stage has them.

    Args:
        state: The stage.
        statics: What was computed about it.
        reading: The reading.

    Returns:
        Length [m], 0 where it says nothing of that; None where how far the stage lowers is not known.
    """
    if reading.lowered is None:
        return 0.0
    lowered = statics.set_down.lowered if statics.set_down else state.lowered
    return None if lowered is None else reading.lowered - lowered


def _expected(
    job: Job, of_stage: tuple[State, Statics], response: LoadResponse, reading: StageReading
) -> ExpectedReading:
    """Return what one reading should come to."""
    state, statics = of_stage
    counted, lower = loads_read(response, reading), further_down(state, statics, reading)
    if counted is None or lower is None:
        return ExpectedReading(reading, None, None, None, None)
    try:
        expected = float(response.loads(response.given[None, :], lower)[0] @ counted)
    except UNSOLVED:
        return ExpectedReading(reading, None, None, None, None)
    try:
        changes = counted @ response.changes(response.given, lower)
        spread = COVERAGE * sqrt(float(changes @ changes))
    except UNSOLVED:
        spread = None
    names = [name for name, counts in zip(response.supports, counted, strict=True) if counts]
    return ExpectedReading(reading, expected, spread, *_bounds(job, state, statics, names))


def _bounds(job: Job, state: State, statics: Statics, names: list[str]) -> tuple[float | None, float | None]:
    """Return the least and the most that some supports of one group carry together [N]."""
    ranges = [load.range for name in names if (load := statics.load(name)) is not None]
    if any(each is None or each.least is None for each in ranges):
        return None, None
    group = next(each for each in statics.groups if names[0] in each.supports)
    if set(group.supports) == set(names):
        # All that hold it hold its weight, however they share it.
        return weight_of(job, state, group)
    least = sum(each.least for each in ranges if each is not None and each.least is not None)
    most = sum(inf if each.most is None else each.most for each in ranges if each is not None)
    return least, most


def weight_of(job: Job, state: State, group: GroupAnswer) -> tuple[float, float]:
    """Say what a group weighs at least and at most, with its weights inside their tolerances.

    Args:
        job: The job.
        state: The stage.
        group: The group.

    Returns:
        Least and most [N].
    """
    own = tuple(each for each in lumps(job, state) if each.body in group.bodies)
    least = sum(each.low for each in own if each.sign > 0 and each.counts and not each.optional)
    least -= sum(each.high for each in own if each.sign < 0)
    return GRAVITY * least, GRAVITY * upper_mass(own)


def span(reading: StageReading) -> tuple[float, float]:
    """Say between which loads that lies which was found at a support.

    Args:
        reading: What was found.

    Returns:
        Least and most [N]: of a scale what it read, of a stand tried by hand what a hand can tell.
    """
    if reading.load is not None:
        return reading.load, reading.load
    return (0.0, TURNS_UP_TO) if reading.turns else (STICKS_FROM, inf)
