"""Masses and centres of gravity, as given and inside tolerance."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from loadplan.model.job import Job, State
from loadplan.model.vehicle import Body, Part, Place, Weighed
from loadplan.statics.fractional_programming import ChosenSums, least_ratios
from loadplan.statics.minimum_cut import Needs

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Lump:
    """One mass that a body is made of, or that was taken from a body weighed whole.

    Attributes:
        body: Body.
        part: Part, "" for a body weighed whole.
        sign: +1, or -1 for a part taken from a body weighed whole.
        mass: Mass [kg]; a part that any order may already have taken off counts as it is at the stage's end.
        low: Least mass inside tolerance [kg].
        high: Greatest mass inside tolerance [kg].
        at: Centre of gravity [m].
        at_pm: Plus or minus on each coordinate [m].
        counts: Whether it counts at the stage's end.
        optional: Whether any order may have it either way.
    """

    body: str
    part: str
    sign: int
    mass: float
    low: float
    high: float
    at: Place
    at_pm: Place
    counts: bool
    optional: bool


def lumps(job: Job, state: State) -> tuple[Lump, ...]:
    """Say what every body is made of in one state.

    Args:
        job: The job.
        state: The state.

    Returns:
        Lumps of the bodies still there, in the job's order of bodies.
    """
    bodies = {body.name: body for body in job.vehicle.bodies}
    return tuple(lump for name in state.bodies for lump in _of_body(bodies[name], job.vehicle.parts, state))


def whole_body(body: Body, parts: tuple[Part, ...]) -> tuple[Lump, ...]:
    """Say what a body is made of with all its parts on.

    Args:
        body: The body.
        parts: Parts of the vehicle.

    Returns:
        Its parts, or the whole as weighed.
    """
    if body.weighed is not None:
        return (_whole(body.name, body.weighed),)
    return tuple(_lump(part, 1, counts=True, optional=False) for part in parts if part.body == body.name)


def _of_body(body: Body, parts: tuple[Part, ...], state: State) -> list[Lump]:
    """Return the lumps of a body: its parts, or the whole as weighed less the parts that are off."""
    own = [part for part in parts if part.body == body.name]
    optional = set(state.may_be_on)
    if body.weighed is None:
        there = [part for part in own if part.name in state.on or part.name in optional]
        return [_lump(part, 1, counts=part.name in state.on, optional=part.name in optional) for part in there]
    # The scales weighed all of it: a part that is off is mass that is missing, not mass that was never there.
    gone = [part for part in own if part.name not in state.on]
    taken = [_lump(part, -1, counts=True, optional=part.name in optional) for part in gone]
    return [_whole(body.name, body.weighed), *taken]


def _lump(part: Part, sign: int, *, counts: bool, optional: bool) -> Lump:
    low, high = part.mass - part.mass_pm, part.mass + part.mass_pm
    return Lump(part.body, part.name, sign, part.mass, low, high, part.at, part.at_pm, counts, optional)


def _whole(name: str, weighed: Weighed) -> Lump:
    """Return the lump of a body that was weighed as one."""
    low, high = weighed.mass - weighed.mass_pm, weighed.mass + weighed.mass_pm
    return Lump(name, "", 1, weighed.mass, low, high, weighed.cg, weighed.cg_pm, counts=True, optional=False)


def off_before(job: Job, made_of: tuple[Lump, ...]) -> Needs:
    """Pair removable parts with what must be off before them.

    Args:
        job: The job.
        made_of: Lumps.

    Returns:
        Pairs of numbers of lumps, both of parts that any order may have either way.
    """
    optional = {lump.part: number for number, lump in enumerate(made_of) if lump.optional}
    after = {part.name: part.after for part in job.vehicle.parts}
    return tuple(
        (number, optional[other]) for name, number in optional.items() for other in after[name] if other in optional
    )


def mass_and_cg(made_of: tuple[Lump, ...]) -> tuple[float, Place]:
    """Add lumps up to one mass and one centre of gravity.

    Args:
        made_of: Lumps, of which those that count are added; a taken part counts as negative mass.

    Returns:
        Mass [kg] and centre of gravity [m].

    Raises:
        ZeroDivisionError: If nothing is left.
    """
    counted = [lump for lump in made_of if lump.counts]
    mass = sum(lump.sign * lump.mass for lump in counted)
    first, second, third = (sum(each.sign * each.mass * each.at[axis] for each in counted) / mass for axis in range(3))
    return mass, (first, second, third)


def upper_mass(made_of: tuple[Lump, ...]) -> float:
    """Add up the greatest mass inside tolerance [kg].

    Args:
        made_of: Lumps; parts that any order may still have on count as on.

    Returns:
        Mass [kg].
    """
    on = sum(lump.high for lump in made_of if lump.sign > 0)
    # A missing part lightens by its least mass at least, and not at all while it may still be on.
    return on - sum(lump.low for lump in made_of if lump.sign < 0 and not lump.optional)


@lru_cache(maxsize=256)  # a body that a stage, or a hand that moves a stand, leaves as it was has the same again
def cg_box(made_of: tuple[Lump, ...]) -> Place:
    """Say how far a centre of gravity may lie from where it is given, along each axis.

    Args:
        made_of: Lumps that one body is made of.

    Returns:
        Greatest distance [m] along x, y, z over every mass and centre inside tolerance, parts as at the
        stage's end.
    """
    mass, cg = mass_and_cg(made_of)
    counted = tuple(lump for lump in made_of if lump.counts)
    first, second, third = (
        # Each side by itself: with masses open, the centre may go further one way than the other.
        max(_furthest(counted, mass, cg[axis], axis, side) for side in (1.0, -1.0))
        for axis in range(3)
    )
    return first, second, third


def _furthest(counted: tuple[Lump, ...], mass: float, centre: float, axis: int, side: float) -> float:
    """Return the greatest Σ m·side·(x − centre) / Σ m over the tolerances [m]: the least of its negative."""
    sign = np.array([lump.sign for lump in counted], dtype=float)
    arms = sign * side * np.array([lump.at[axis] - centre for lump in counted])
    # Missing or there, a lump can always move so that the sum grows: tolerance adds whatever the sign.
    arms += np.array([lump.at_pm[axis] for lump in counted])
    low = np.array([lump.low for lump in counted]) / mass
    high = np.array([lump.high for lump in counted]) / mass

    def choose(trial: Array) -> ChosenSums:
        value = -arms - trial * sign
        chosen = np.where(value < 0, high, low)
        return ChosenSums((chosen * value).sum(keepdims=True), (chosen * sign).sum(keepdims=True))

    # With everything as given the centre is where it is given: 0 is the ratio of a choice, as the search asks for.
    return -float(least_ratios(np.zeros(1), choose).ratio[0])
