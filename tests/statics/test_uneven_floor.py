"""The range of loads on an uneven floor, against a plain loop over every corner."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.statics.contact_loads import settle, springs
from loadplan.statics.tipping_modes import rays
from loadplan.statics.uneven_floor import EVERY_CORNER, corners, load_range, mass_levels
from tests.examples import examples
from tests.statics import builders as make
from tests.statics.test_contact_loads import random_springs

RING = [(float(np.cos(angle)), float(np.sin(angle))) for angle in np.linspace(0, 5.9, 14)]


@examples(5)
@given(st.integers(0, 9999))
def test_the_range_is_that_of_a_loop_over_every_corner_and_level(seed: int) -> None:
    """The 2^n corners and the saddles as set, at each mass level, one by one."""
    frame, held, gaps = random_springs(seed)
    uneven = np.random.default_rng(seed).uniform(0, 0.003, len(gaps)) / frame.span
    levels = np.array([0.9, 1.0, 1.1])[:, None] * frame.load
    found = load_range(held, levels, gaps, uneven)
    signs = [np.zeros(len(gaps)), *(np.array(each) for each in product((-1, 1), repeat=len(gaps)))]
    every = np.array([
        settle(held, level[None], (gaps + sign * uneven)[None]).loads[0] for level in levels for sign in signs
    ])
    assert found.low.tolist() == pytest.approx(every.min(axis=0).tolist(), abs=1e-10)
    assert found.high.tolist() == pytest.approx(every.max(axis=0).tolist(), abs=1e-10)


def test_up_to_twelve_supports_every_corner_is_tried() -> None:
    frame = make.frame(make.job([make.part()], make.stands(RING[:5])))
    off = corners(springs(frame, {}), np.full(5, 0.1))
    assert len(off) == 33
    assert not off[0].any()
    assert len(np.unique(off, axis=0)) == 33


def test_beyond_twelve_supports_the_corners_that_change_each_load_most_are_tried() -> None:
    """With all in touch a load answers linearly, so its own corner gives its range: here all stay in touch."""
    places = RING[: EVERY_CORNER + 1]
    frame = make.frame(make.job([make.part(mass=1000.0)], make.stands(places)))
    held, count = springs(frame, {}), len(places)
    uneven = np.full(count, 1e-5)
    assert len(corners(held, uneven)) < 4 * count + 2
    found = load_range(held, frame.load[None], np.zeros(count), uneven)
    expected = settle(held, frame.load[None], np.zeros((1, count))).loads[0]
    stiff = held.stiffness[:, None] * held.up
    answer = np.diag(held.stiffness) - stiff @ np.linalg.inv(held.up.T @ stiff) @ stiff.T
    change = np.abs(answer) @ uneven
    assert found.high == pytest.approx(expected + change, abs=1e-12)
    assert found.low == pytest.approx(expected - change, abs=1e-12)


def test_two_millimetres_of_unevenness_reach_the_bound() -> None:
    """Derived here, from the 16 corners: saddles 0 to 0.2, 1.0, 2.0 mm low: at most 1426, 1826, 1972 N (the bound)."""
    rectangle = ((0.0, 0.0), (0.6, 0.0), (0.6, 0.5), (0.0, 0.5))
    frame = make.frame(make.job([make.part((0.42, 0.29), 3400 / 9.80665)], make.stands(rectangle)))
    for reach, most in ((0.2e-3, 1426), (1.0e-3, 1826), (2.0e-3, 1972)):
        half = np.full(4, reach / 2 / frame.span)
        found = load_range(springs(frame, {}), frame.load[None], half, half)
        assert found.high.max() * frame.weight == pytest.approx(most, abs=1e-6)


@examples(10)
@given(st.integers(0, 9999), st.floats(1, 3))
def test_the_range_holds_the_expected_load(seed: int, more: float) -> None:
    frame, held, gaps = random_springs(seed)
    expected = settle(held, frame.load[None], gaps[None]).loads[0]
    found = load_range(held, frame.load[None], gaps, np.full(len(gaps), 0.001 * more))
    assert (found.low <= expected + 1e-12).all()
    assert (found.high >= expected - 1e-12).all()


def test_the_mass_levels_are_all_masses_at_their_least_as_given_and_at_their_most() -> None:
    parts = [make.part((2.1, 1.0), 100.0, mass_pm=10.0, name="a"), make.part((1.9, 1.2), 50.0, mass_pm=2.0, name="b")]
    frame = make.frame(make.job(parts, make.stands([(x + 2, y + 1) for x, y in make.SQUARE])))
    levels = mass_levels(frame, rays(frame))
    assert levels[:, 0] * 150 == pytest.approx([138, 150, 162])
    assert levels[:, 1] * 150 == pytest.approx([48 * 0.4, 50 * 0.4, 52 * 0.4])
    assert levels[:, 2] * 150 == pytest.approx([-90 * 0.2 + 48 * 0.2, -100 * 0.2 + 50 * 0.2, -110 * 0.2 + 52 * 0.2])


def test_a_weighed_body_at_its_least_has_the_part_that_is_off_at_its_least_too() -> None:
    """Level by level: weighed lower less off lower."""
    part = make.part((0.2, 0.0), 20.0, name="lid", mass_pm=4.0)
    whole = {"unit": make.weighed(120.0, (0.0, 0.0, 0.5), mass_pm=3.0)}
    stages = [make.Stage("off", in_place=tuple("ABCD"), off=("lid",))]
    frame = make.frame(make.job([part], make.stands(make.SQUARE), whole=whole, stages=stages))
    levels = mass_levels(frame, rays(frame))
    assert levels[:, 0] * 100 == pytest.approx([117 - 16, 100, 123 - 24])


@pytest.mark.parametrize(("over", "count"), [(-0.01, 2), (0.5e-6, 2), (0.01, 3)])
def test_a_mass_level_at_which_the_group_tips_is_left_out(over: float, count: int) -> None:
    """100 kg, in doubt by 50, hold a weight of 50 kg beyond the edge, exactly known; on the edge is beyond it."""
    parts = [
        make.part((0.0, 0.0), 100.0, mass_pm=50.0, name="block"),
        make.part((1.0 - 2 * over, 0.0), 50.0, name="arm"),
    ]
    frame = make.frame(make.job(parts, make.stands(make.SQUARE)))
    levels = mass_levels(frame, rays(frame))
    assert len(levels) == count
    assert levels[-2 if count == 2 else 1].tolist() == frame.load.tolist()


def test_a_weight_taken_at_its_own_level_counts_the_lumps_of_its_own_whole() -> None:
    parts = [make.part((0.1, 0.0), 100.0), make.part((0.0, 0.1), 50.0, name="c", body="cradle", mass_pm=5.0)]
    supports = [*make.stands(make.SQUARE, body="cradle"), make.support("E", (0.2, 0.3)), make.support("F", (0.2, -0.3))]
    frame = make.frame(make.job(parts, supports, joints=[make.mount("m", (-0.2, 0.0))]))
    levels = mass_levels(frame, rays(frame))
    assert levels[:, [0, 3]] * 150 == pytest.approx(np.array([[100, 45], [100, 50], [100, 55]]))


def test_soft_and_hard_supports_beyond_twelve_are_warped_by_what_holds_them() -> None:
    frame = make.frame(
        make.job(
            [make.part()],
            [
                replace(each, equipment=replace(make.STAND, stiffness=1e5 if number % 2 else 1e7))
                for number, each in enumerate(make.stands(RING))
            ],
        )
    )
    off = corners(springs(frame, {}), np.full(14, 0.1))
    assert {float(each) for each in np.unique(off)} == {-0.1, 0.0, 0.1}
