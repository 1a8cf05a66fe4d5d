"""The least weight that takes a unit over when it is laid on a corner of its outline."""

from dataclasses import replace

import pytest

from loadplan.model.disturbance import LaidOn
from tests.statics import builders as make

WEIGHT = make.newton(100.0)
RIGID = replace(make.STAND, stiffness=1e12)


def laid(corner: tuple[float, float], stiffness: float = 1e12, at: tuple[float, float] = (0.0, 0.0)) -> LaidOn:
    """100 kg at a place, on stands at the corners of a square of 1 m, with a weight laid on at a corner."""
    made = make.job([make.part(at)], make.stands(make.SQUARE, use=replace(RIGID, stiffness=stiffness)))
    (found,) = make.group(made, corners=((("unit", corner),),)).answer.laid_on
    return found


def test_a_corner_that_overhangs_by_half_takes_the_weight_itself() -> None:
    """W · 0.5 m = P · 0.5 m about the front edge: moments about an edge, OpenStax University Physics 1, 12.2."""
    found = laid((1.0, 0.2))
    assert found.weight == pytest.approx(WEIGHT, rel=1e-6)
    assert (found.body, found.at, found.about, found.known) == ("unit", (1.0, 0.2), ("A", "B"), True)


def test_it_goes_over_the_edge_that_the_corner_hurts_most() -> None:
    """Centre of gravity 0.3 m to the left: W · 0.2 over the left edge beats W · 0.5 over the front one."""
    assert laid((0.8, 0.8), at=(0.0, 0.3)).weight == pytest.approx(WEIGHT * 0.2 / 0.3, rel=1e-6)


@pytest.mark.parametrize(("more", "told"), [(1e-10, 0.4), (1e-8, -0.4)])
def test_of_corners_that_differ_by_rounding_the_first_is_told(more: float, told: float) -> None:
    """Both lie 0.5 m ahead of the front edge, the second a hair further."""
    made = make.job([make.part()], make.stands(make.SQUARE, use=RIGID))
    corners = (("unit", (1.0, 0.4)), ("unit", (1.0 + more, -0.4)))
    (found,) = make.group(made, corners=(corners,)).answer.laid_on
    assert found.at == pytest.approx((1.0, told))


def test_inside_its_stands_no_weight_tips_it() -> None:
    found = laid((0.5, 0.4))
    assert (found.weight, found.at, found.about, found.known) == (None, None, (), True)


def test_without_an_outline_nothing_is_known() -> None:
    made = make.job([make.part()], make.stands(make.SQUARE))
    (found,) = make.group(made).answer.laid_on
    assert (found.body, found.weight, found.known) == ("unit", None, False)


def test_on_springs_the_sway_and_the_lean_are_taken_off() -> None:
    """By hand: centre 0.1 m forward on stands k tilts it θ = W · 0.1 / (4 k b² − W h), which carries it h θ further."""
    stiffness, high = 2e4, 0.3
    sway = WEIGHT * high / (4 * stiffness * 0.25)
    tilt = WEIGHT * 0.1 / (4 * stiffness * 0.25 - WEIGHT * high)
    wanted = WEIGHT * (0.5 - 0.1 - high * tilt) / 0.5 * (1 - sway)
    assert laid((1.0, 0.0), stiffness, (0.1, 0.0)).weight == pytest.approx(wanted, rel=1e-6)
