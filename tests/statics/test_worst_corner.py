"""The settled state at the corners of the tolerance.

By hand for a weight W at h over four saddles at (±a, ±a) of stiffness k, its centre off by e: W (h t + e) turns it and
4 k a² t resists, so it has leant to e / (1 − sway) from the middle, with the sway W h / 4 k a², the more the heavier.
"""

import numpy as np
import pytest

from loadplan.model.job import Job, Stage
from loadplan.statics.slope_response import HARD
from tests.statics import builders as make
from tests.statics.test_settled_state import tall
from tests.statics.test_slope_response import STIFF

HEIGHT = 0.3 * STIFF / make.newton(100.0)
"""Height [m] at which 100 kg sway by 0.3."""


def off(mass_pm: float, e: float, height: float = HEIGHT) -> Job:
    """100 kg, more or less, in the middle of the four or as far off that along x."""
    lump = make.part((0.0, 0.0, 0.2 + height), 100.0, mass_pm=mass_pm, at_pm=(e, 0.0, 0.0))
    return make.job([lump], tall(0.0, 1.0).supports)


@pytest.mark.parametrize(("mass_pm", "e"), [(0.0, 0.1), (20.0, 0.1), (20.0, 0.2)])
def test_a_centre_off_its_place_leans_further_the_heavier_the_unit_is(mass_pm: float, e: float) -> None:
    found = make.group(off(mass_pm, e))
    share = 0.3 * (1 + mass_pm / 100)
    assert found.worst_margins[0] == pytest.approx(0.5 - e / (1 - share), rel=1e-9)
    assert found.answer.robust


def test_where_it_leans_past_the_edge_it_may_tip() -> None:
    """0.36 of sway with 120 kg: 0.33 m off it leans to 0.516, beyond the edge at 0.5, though 0.17 m look left."""
    found = make.group(off(20.0, 0.33))
    assert not found.answer.robust
    assert found.worst_margins == (0.0,)
    assert found.answer.sway == pytest.approx(0.3)


def test_a_height_off_its_figure_leans_it_further_too() -> None:
    """The sway grows with the height: 0.3 times 1.2."""
    lump = make.part((0.0, 0.0, 0.2 + HEIGHT), 100.0, at_pm=(0.1, 0.0, 0.2 * HEIGHT))
    found = make.group(make.job([lump], tall(0.0, 1.0).supports))
    assert found.worst_margins[0] == pytest.approx(0.5 - 0.1 / (1 - 0.36), rel=1e-9)


def test_uneven_saddles_lean_it_as_far_as_the_two_that_are_low() -> None:
    """Two low by u and two high tilt it by u / a, and by 1 / (1 − sway) of that with its lean."""
    found = make.group(off(0.0, 0.0), uneven=(2e-3,) * 4)
    tilt = 2e-3 / 0.5 / (1 - 0.3)
    assert found.worst_margins[0] == pytest.approx(0.5 - HEIGHT * tilt, rel=1e-9)


def test_a_sloping_floor_adds_to_a_centre_that_is_off() -> None:
    """It slopes the same way: h s and e, both over 1 − sway."""
    found = make.group(off(0.0, 0.1), slope=0.002)
    assert found.worst_margins[0] == pytest.approx(0.5 - (0.1 + HEIGHT * np.tan(0.002)) / (1 - 0.3), rel=1e-9)


def test_what_counts_against_a_unit_is_followed_out_of_it_when_taken_off() -> None:
    """Of a unit weighed whole the part taken off is as heavy as may be, and off the other way: by hand as one mass."""
    whole = {"unit": make.weighed(140.0, (0.0, 0.0, 0.2 + HEIGHT))}
    gone = make.part((0.0, 0.0, 0.2 + HEIGHT), 40.0, at_pm=(0.25, 0.0, 0.0))
    job = make.job([gone], tall(0.0, 1.0).supports, whole=whole, stages=_gone())
    assert make.group(job).worst_margins[0] == pytest.approx(0.5 - 0.1 / (1 - 0.3), rel=1e-9)


def _gone() -> list[Stage]:
    return [Stage("all", in_place=("A", "B", "C", "D"), off=("lump",))]


def test_on_hard_supports_nothing_is_followed() -> None:
    lump = make.part((0.0, 0.0, 1.2), 100.0, mass_pm=20.0, at_pm=(0.1, 0.0, 0.0))
    found = make.group(make.job([lump], tall(0.0, 1.0, 2.5e6).supports))
    assert found.answer.sway is not None
    assert found.answer.sway < HARD
    assert found.worst_margins[0] == pytest.approx(0.4, abs=1e-12)


@pytest.mark.parametrize("at", [(0.0, 0.0), (3.0, -2.0)])
@pytest.mark.parametrize("way", [(1.0, 0.0), (0.0, 1.0)])
def test_wherever_it_stands_and_whichever_way_its_centre_is_off_it_leans_as_far(
    at: tuple[float, float], way: tuple[float, float]
) -> None:
    """With 20 kg of doubt, uneven saddles and a slope: all that is off over 1 − sway, with the heaviest."""
    e = 0.05
    lump = make.part((*at, 0.2 + HEIGHT), 100.0, mass_pm=20.0, at_pm=(e * way[0], e * way[1], 0.0))
    places = [(at[0] + x, at[1] + y) for x, y in make.SQUARE]
    job = make.job([lump], make.stands(places, use=tall(0.0, 1.0).supports[0].equipment))
    found = make.group(job, uneven=(1e-3,) * 4, slope=0.002)
    leans = (e + HEIGHT * (np.tan(0.002) + 1e-3 / 0.5)) / (1 - 0.36)
    assert found.worst_margins[0] == pytest.approx(0.5 - leans, rel=1e-9)
    assert found.answer.robust


def test_what_was_taken_from_a_whole_lightens_it_and_leaves_it_as_far_out() -> None:
    """By hand: 100 kg off by e less 20 kg that is not leaves 80 kg off by 1.25 e; it sways by 0.8 of 0.3."""
    lid = make.part((0.0, 0.0, 0.2 + HEIGHT), 20.0, name="lid", mass_pm=4.0)
    whole = {"unit": make.weighed(100.0, (0.0, 0.0, 0.2 + HEIGHT), cg_pm=(0.1, 0.0, 0.0))}
    stages = [Stage("all", tuple("ABCD")), Stage("off", off=("lid",))]
    found = make.group(make.job([lid], tall(0.0, 1.0).supports, stages=stages, whole=whole))
    # With the lid at its heaviest 76 kg are off furthest, and with it lightest 84 kg sway most.
    least = min(0.5 - 0.1 * 100 / left / (1 - 0.3 * left / 100) for left in (76.0, 84.0))
    assert found.worst_margins[0] == pytest.approx(least, rel=1e-9)


def test_of_two_parts_each_is_as_far_out_and_as_heavy_as_hurts() -> None:
    """One lies low in the middle and may be lighter, the other high and may be heavier: both lean it further."""
    parts = [
        make.part((0.0, 0.0, 0.2), 100.0, mass_pm=10.0, at_pm=(0.06, 0.0, 0.0)),
        make.part((0.0, 0.0, 0.2 + HEIGHT), 100.0, name="top", mass_pm=20.0, at_pm=(0.1, 0.0, 0.0)),
    ]
    found = make.group(make.job(parts, tall(0.0, 1.0).supports))
    by_mass = [
        0.5 - (low * 0.06 + high * 0.1) / (low + high) / (1 - 0.3 * high / 100)
        for low in (90, 110)
        for high in (80, 120)
    ]
    assert found.worst_margins[0] == pytest.approx(min(by_mass), rel=1e-6)
