"""The height of a centre of gravity from one raised axle.

Jazar, Vehicle Dynamics: Theory and Application, chapter 2, equations 2.27 to 2.32: h = r + ΔF·L / (W·tan θ), with
sin θ = rise / wheelbase for equal tyres, ΔF the extra load on the axle that stays down, r the height of the axles.
The shortcut with rise / wheelbase for tan θ is not used: it would give 0.5552 m for 0.55 m.
"""

from math import asin, tan

import numpy as np
import pytest

from loadplan.limits import GRAVITY
from loadplan.model.readings import Held, ReadingSet, ScalePlace, Weighing
from loadplan.statics.reading_equations import vertical
from loadplan.statics.weighing import weigh


def on_axles(front: float | None, rear: float | None, *, nose_up: float = 0.0) -> ReadingSet:
    """A vehicle of 2.5 m wheelbase, its axles 0.3 m high; loads in N."""
    loads = [None if load is None else load / GRAVITY for load in (front, rear)]
    places = zip(((0.0, 0.0, 0.3), (-2.5, 0.0, 0.3)), loads, strict=True)
    return ReadingSet(Held.STANDS, tuple(ScalePlace(at, load, 0.5) for at, load in places), nose_up=nose_up)


def raised(front_level: float, front_raised: float) -> Weighing:
    """The example's readings: both axles level, the front one with the rear raised by 0.5 m."""
    weight = 1200 * GRAVITY
    return weigh((
        on_axles(front_level, weight - front_level),
        on_axles(front_raised, None, nose_up=-asin(0.5 / 2.5)),
    ))


def test_a_round_trip_gives_back_mass_place_and_height() -> None:
    """By hand: 1200 kg, 1.100 m behind the front axle, 0.550 m high; front 6590.07 N, with the rear up 6830.28 N."""
    found = raised(6590.07, 6830.28)
    x, _, z = found.cg
    assert found.mass is not None
    assert x is not None
    assert z is not None
    assert found.mass.value == pytest.approx(1200, abs=1e-9)
    assert x.value == pytest.approx(-1.1, abs=2e-6)  # loads are given to 0.01 N
    assert z.value == pytest.approx(0.55, abs=1e-5)


def test_the_loads_of_the_round_trip_are_those_of_the_formula() -> None:
    """The height is r + ΔF·L / (W·tan θ), whatever the extra load ΔF is."""
    weight = 1200 * GRAVITY
    for more in (240.21, 100.0, 400.0):
        z = raised(6590.07, 6590.07 + more).cg[2]
        assert z is not None
        assert z.value == pytest.approx(0.3 + more * 2.5 / (weight * tan(asin(0.2))), abs=1e-5)


def test_the_slope_is_rise_over_base_and_not_over_wheelbase() -> None:
    """By Pythagoras: 110 in raised by 18 in: base line 108.5 in, slope 0.1659, not 0.1636."""
    up = vertical((asin(18 / 110), 0.0))
    assert 110 * up[2] == pytest.approx(108.5, abs=0.05)
    assert up[0] / up[2] == pytest.approx(0.1659, abs=5e-5)
    assert np.linalg.norm(up) == pytest.approx(1)
