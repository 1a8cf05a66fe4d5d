"""Readings made from a mass and a centre of gravity that are known: what scales would say."""

from collections.abc import Sequence
from dataclasses import replace
from random import Random

import numpy as np

from loadplan.model.readings import Estimate, Held, ReadingSet, ScalePlace
from loadplan.model.vehicle import Place
from loadplan.statics.mass import Array

THREE: tuple[Place, ...] = ((0.33, 0.42, 0.205), (0.33, -0.42, 0.205), (-0.30, 0.0, 0.205))
FOUR: tuple[Place, ...] = ((0.4, 0.45, 0.2), (0.4, -0.45, 0.21), (-0.35, -0.4, 0.19), (-0.35, 0.5, 0.2))


def upward(nose_up: float, left_up: float) -> Array:
    """The vertical in the unit's axes, as the definition has it."""
    x, y = np.sin([nose_up, left_up])
    return np.array([x, y, np.sqrt(1 - x * x - y * y)])


def forces(mass: float, cg: Place, places: Sequence[Place], tilt: tuple[float, float]) -> Array:
    """Forces that hold the unit there [kg]: the only ones on three places, the smallest on more."""
    up, at = upward(*tilt), np.array(places)
    arms = np.vstack([np.ones(len(at)), np.cross(at, up).T])
    wanted = mass * np.array([1.0, *np.cross(np.array(cg), up)])
    found: Array = np.linalg.lstsq(arms, wanted, rcond=None)[0]
    return found


def on_scales(
    mass: float,
    cg: Place,
    places: Sequence[Place] = THREE,
    *,
    tilt: tuple[float, float] = (0.0, 0.0),
    pm: float = 0.4,
    tilt_pm: float = 0.0,
    across_pm: float = 0.0,
    tape: float = 0.0,
    unweighed: Sequence[int] = (),
) -> ReadingSet:
    """One set, without noise."""
    loads = forces(mass, cg, places, tilt)
    scales = [
        ScalePlace(at, None if number in unweighed else float(load), pm)
        for number, (at, load) in enumerate(zip(places, loads, strict=True))
    ]
    spreads = [tilt_pm if each else across_pm for each in tilt]
    return ReadingSet(Held.STANDS, tuple(scales), *tilt, *spreads, tape)


def on_hook(mass: float, at: Place, *, pm: float = 1.0, held: Held = Held.HANGS, tape: float = 0.0) -> ReadingSet:
    return ReadingSet(held, (ScalePlace(at, mass, pm),), tape=tape)


def noisy(sets: Sequence[ReadingSet], random: Random) -> tuple[ReadingSet, ...]:
    """The readings off by what they may be off: normal, plus or minus being two standard deviations.

    A place is measured once, however many sets it stands in.
    """
    off: dict[Place, Place] = {}
    for each in sets:
        for place in each.places:
            if place.at not in off:
                x, y, z = (random.gauss(value, each.tape / 2) for value in place.at)
                off[place.at] = (x, y, z)
    sets = [replace(each, places=tuple(replace(place, at=off[place.at]) for place in each.places)) for each in sets]
    return tuple(
        replace(
            each,
            places=tuple(
                place if place.load is None else replace(place, load=random.gauss(place.load, place.pm / 2))
                for place in each.places
            ),
            nose_up=random.gauss(each.nose_up, each.nose_up_pm / 2),
            left_up=random.gauss(each.left_up, each.left_up_pm / 2),
        )
        for each in sets
    )


def value(estimate: Estimate | None) -> float:
    assert estimate is not None
    return estimate.value


def pm(estimate: Estimate | None) -> float:
    assert estimate is not None
    return estimate.pm
