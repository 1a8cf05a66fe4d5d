"""What a group on soft supports makes of a slope: it goes over sooner than a rigid one.

By hand for a weight W at h over four saddles at (±a, ±a) of stiffness k: tilted by t on a slope s the weight turns it
by W h (t + s), and 4 k a² t resists, so t = s·sway / (1 − sway) with the sway W h / 4 k a². The far pair comes off at
t = W / 4 k a, so at s = (a / h) (1 − sway): of the slope of a rigid group, a / h, the sway is missing.
"""

from dataclasses import replace
from math import atan, degrees

import numpy as np
import pytest

from loadplan.model.job import Job
from loadplan.statics import slope_response
from loadplan.statics.slope_response import footing, slope_shares
from loadplan.statics.tipping_modes import rays
from tests.statics import builders as make
from tests.statics.test_settled_state import settled, standing, tall

STIFF = 4 * 1e5 * 0.25
"""What four saddles of 100 N/mm at (±0.5, ±0.5) hold against a tilt [N m]."""


def of_sway(share: float, x: float = 0.0) -> Job:
    """100 kg so high over the four that its sway is the share."""
    return tall(x, share * STIFF / make.newton(100.0))


@pytest.mark.parametrize("share", [0.2, 0.5])
def test_of_the_slope_of_a_rigid_group_its_sway_is_missing(share: float) -> None:
    found = make.group(of_sway(share))
    height = share * STIFF / make.newton(100.0)
    assert found.answer.sway == pytest.approx(share)
    assert found.tip_angles[0] == pytest.approx(atan(0.5 / height * (1 - share)), rel=1e-9)


def test_nearer_the_edge_what_is_left_of_the_slope_falls_alike() -> None:
    """The tilt as set takes x sway / (1 − sway) off; the far pair comes off at (a / h) (1 − sway) − x / h."""
    share, x = 0.3, 0.1
    height = share * STIFF / make.newton(100.0)
    found = make.group(of_sway(share, x))
    assert found.tip_angles[0] == pytest.approx(atan((0.5 * (1 - share) - x) / height), rel=1e-9)


def test_a_small_loss_is_left_out_and_a_middling_one_is_brought_in_evenly() -> None:
    """Of a sway of 0.1 a loss of 0.075 is told: halfway between none, at 0.05, and all of it, at 0.15."""
    for share, told in [(0.04, 1.0), (0.1, 0.925), (0.15, 0.85)]:
        height = share * STIFF / make.newton(100.0)
        assert make.group(of_sway(share)).tip_angles[0] == pytest.approx(atan(0.5 / height * told), rel=1e-6)


def test_on_hard_supports_the_angle_is_that_of_a_rigid_unit() -> None:
    """Margin 0.4 m, height 1 m: whatever little it gives way is not followed."""
    found = make.group(tall(0.1, 1.0, 2.5e6))
    assert found.tip_angles[0] == pytest.approx(atan(0.4), rel=1e-3)
    assert found.answer.sway is not None
    assert found.answer.sway < slope_response.HARD


def test_where_one_soft_saddle_comes_off_it_goes_over_much_sooner() -> None:
    """Three hard corners and a soft one: beyond the diagonal of two of them the soft one is all that holds it."""
    hard, soft = replace(make.STAND, stiffness=2e5), replace(make.STAND, stiffness=1.5e4)
    uses = [hard, hard, soft, hard]
    on = [make.support(name, at, use=use) for name, at, use in zip("ABCD", make.SQUARE, uses, strict=True)]
    found = make.group(make.job([make.part((0.02, 0.02, 2.0), 300.0)], on))
    assert found.answer.sway is not None
    assert found.answer.sway < 0.2
    least = found.tip_angles[0]
    assert least is not None
    assert degrees(least) < 0.8 * degrees(atan(0.48 / 1.8))


def test_it_rocks_onto_a_saddle_that_stands_a_little_lower() -> None:
    """On A, C and D: as D comes off it rocks about the line of A and C, and B, 1 mm low, catches it; 0.2 m low not.

    With B it goes as far as any group on four; without, as D comes off, by where its centre is behind the diagonal.
    """
    job = tall(-0.05, 1.0, 2e5)
    motions = rays(make.frame(job))
    towards_b = motions @ np.array([0.0, -1.0, 1.0]) > 0
    assert towards_b.sum() == 2
    caught, far = (_shares(job, (0.0, gap, 0.0, 0.0))[towards_b].min() for gap in (1e-3, 0.2))
    assert caught > 0.9
    assert far < 0.3


def _shares(job: Job, gaps: tuple[float, ...]) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    motions = rays(make.frame(job))
    return slope_shares(footing(standing(job, gaps), settled(job, gaps)), motions, np.ones(len(motions)))


def test_what_hangs_below_its_saddles_has_no_slope_to_go_at() -> None:
    job = tall(0.1, -0.5)
    assert _shares(job, ()).tolist() == [1.0] * 4
