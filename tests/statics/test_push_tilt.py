"""How a push tilts what it pushes, by hand: a weight over four springs, its tilt resisted by 4 k a² - W h."""

from dataclasses import replace

import numpy as np
import pytest

from loadplan.statics.push_tilt import Yielding
from tests.statics import builders as make
from tests.statics.test_settled_state import tall

WEIGHT = make.newton(100.0)

H, PUSHED, STIFF = 2.0, 1.5, 1e5
"""Height of the weight and of the push over the saddles [m], stiffness of each [N/m]."""

AT = (0.1, -0.2, 0.2 + PUSHED)

RESISTS = 4 * STIFF * 0.25 - WEIGHT * H


def yielding(x: float = 0.0) -> Yielding:
    stance = make.group(tall(x, H, STIFF)).stance
    assert stance is not None
    assert stance.yielding is not None
    return stance.yielding


def test_a_force_along_each_axis_adds_its_moment_to_the_weights() -> None:
    """Forward and to the left by the lever over the saddles; upward it takes weight off where it acts."""
    of = yielding()
    span = of.frame.span
    assert of.pressed(AT) == pytest.approx(
        np.array([[0.0, 0.0, -1.0], [0.0, PUSHED / span, 0.2 / span], [-PUSHED / span, 0.0, 0.1 / span]])
    )


def test_the_weight_moves_out_by_its_height_times_the_tilt() -> None:
    of = yielding()
    span = of.frame.span
    tilt = WEIGHT * PUSHED / RESISTS
    out = H * tilt / span
    up = WEIGHT / RESISTS * H / span
    wanted = np.array([[0.0, 0.0, 0.0], [0.0, out, 0.2 * up], [-out, 0.0, 0.1 * up]])
    assert of.gives(AT) == pytest.approx(wanted, abs=1e-12)


def test_what_is_unstable_gives_way_to_nothing_that_could_be_told() -> None:
    of = yielding()
    limit = of.overturning * 4 * STIFF * 0.25 / (WEIGHT * H)
    assert replace(of, overturning=0.99 * limit).gives(AT).any()
    assert not replace(of, overturning=1.01 * limit).gives(AT).any()


@pytest.mark.parametrize("x", [0.0, 0.05])
def test_a_state_under_a_force_is_where_weight_and_push_turn_it_as_much_as_it_resists(x: float) -> None:
    """The weight leans to W (F p + W x) / (4 k a² - W h) times its height; up to W x of the one without a push."""
    of = yielding(x)
    span = of.frame.span
    forces = np.array([0.0, 30.0, -60.0, 20.0])
    ways = np.array([[1.0, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
    added = np.array([force / WEIGHT * of.pressed(AT) @ way for force, way in zip(forces, ways, strict=True)])
    found = of.leant_under(added)
    assert found.found.all()
    assert found.touching.all()
    along = np.array([0.0, 30.0, -60.0, 0.0]) * PUSHED + WEIGHT * x
    across = np.array([0.0, 0.0, 0.0, 20.0]) * PUSHED
    assert found.loads[:, 0] == pytest.approx([1.0] * 4)
    assert found.loads[:, 2] == pytest.approx(-(x + H * along / RESISTS) / span, abs=1e-8)
    assert found.loads[:, 1] == pytest.approx(H * across / RESISTS / span, abs=1e-8)


def test_a_saddle_that_comes_off_is_told_and_what_goes_over_has_no_state() -> None:
    """Hard springs: the rear pair is off where the push turns it by W a / 2 more, and all goes over at W a."""
    stance = make.group(tall(0.0, 0.5, 1e9)).stance
    assert stance is not None
    of = stance.yielding
    assert of is not None
    shares = np.array([0.1, 0.99, 1.01]) * 0.5 / PUSHED
    found = of.leant_under(shares[:, None] * of.pressed((0.0, 0.0, 0.2 + PUSHED))[:, 0])
    assert list(found.found) == [True, True, False]
    assert found.touching[0].all()
    diagonal = of.leant_under(0.3 * (of.pressed((0.0, 0.0, 0.2 + PUSHED)) @ np.array([[0.7], [0.7], [0.0]])).T)
    assert list(diagonal.found) == [True]
    assert sorted(diagonal.touching[0]) == [False, True, True, True]
