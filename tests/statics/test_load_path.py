"""Paths of one group under several growing loads: found together they end where each ends by itself."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from loadplan.statics.load_path import CAUGHT, Growth, HeldGroup, PathEnd, followed, followed_each
from loadplan.statics.mass import Array
from loadplan.statics.slope_response import Footing, footing
from tests.statics.test_settled_state import settled, standing, tall


def ground() -> Footing:
    """100 kg 50 mm off the middle over four saddles, one and a half metres high."""
    job = tall(0.05, 1.5)
    return footing(standing(job), settled(job))


def growths(held: Footing, limit: float) -> list[Growth]:
    """Return slopes to two sides and two corners, whose first steps lift nothing and whose last ones tip the unit."""
    ways = np.array([[0.0, 1.0, 0.0], [0.0, 0.0, -1.0], [0.0, 0.7, 0.7], [0.0, -0.7, 0.7]])
    still = np.zeros(len(held.held.gaps))
    return [
        Growth(held.overturning, held.load, held.overturning * way, still, limit=limit, told=0.9 * limit)
        for way in ways
    ]


@pytest.mark.parametrize("limit", [0.01, 0.2, 0.28, 0.4])
def test_found_together_each_path_ends_where_it_ends_by_itself(limit: float) -> None:
    base = ground()
    grown = growths(base, limit)
    for together, alone in zip(
        followed_each(base.held, grown), (followed(base.held, each) for each in grown), strict=True
    ):
        assert together.factor == pytest.approx(alone.factor, rel=1e-9)
        assert (together.loads is None) is (alone.loads is None)
        if together.loads is not None and alone.loads is not None:
            assert together.loads == pytest.approx(alone.loads, abs=1e-9)


def test_loads_are_told_at_the_factor_asked_for_and_not_at_the_end() -> None:
    """A path to 0.01 that tells its loads at 0.009 tells what one to 0.009 ends with."""
    base = ground()
    for far, near in zip(growths(base, 0.01), growths(base, 0.009), strict=True):
        ended = followed(base.held, Growth(near.overturning, near.load, near.added, near.lowered, 0.009, told=0.009))
        found = followed(base.held, far)
        assert found.loads == pytest.approx(ended.loads, abs=1e-12)
        assert found.factor == pytest.approx(0.01)


def test_some_of_these_paths_lift_saddles_and_some_go_over() -> None:
    """Else the test above would not see how the later pieces are found."""
    base = ground()
    short, long = (followed_each(base.held, growths(base, limit)) for limit in (0.01, 0.4))
    assert all(each.loads is not None and (each.loads > 0).all() for each in short)
    assert any(each.loads is None for each in long)
    middling = followed_each(base.held, growths(base, 0.28))
    assert any(each.loads is not None and not (each.loads > 0).all() for each in middling)


STIFF = 1000.0
"""Stiffness of a saddle by hand, to a weight of 1 over corners 1 in front, behind, left and right."""

PLACES = ((1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0))

TOLD = 0.1


def table(places: Sequence[tuple[float, float]] = PLACES, *low: float, stiffness: float = STIFF) -> HeldGroup:
    """A weight of 1 over four saddles, and maybe others that stand lower."""
    up = np.array([(1.0, y, -x) for x, y in places])
    touching = np.array([number < 4 for number in range(len(places))])
    return HeldGroup(
        up=up,
        stiffness=np.full(len(places), stiffness),
        mounts=np.zeros((3, 3)),
        preload=np.zeros(3),
        gaps=np.array([0.0] * 4 + list(low)),
        rested=np.array([-1 / (4 * stiffness), 0.0, 0.0]),
        touching=touching,
    )


def growing(
    added: Sequence[float], limit: float, *, told: float = TOLD, topples: float = 0.0, lowered: Array | None = None
) -> Growth:
    """More and more of something, with a moment of so much to a radian of lean."""
    over = np.array([0.0, topples, topples])
    count = 4 if lowered is None else len(lowered)
    still = np.zeros(count) if lowered is None else lowered
    return Growth(over, np.array([1.0, 0.0, 0.0]), np.array(added), still, limit, told)


def both(held: HeldGroup, growth: Growth) -> PathEnd:
    """Where it ends, by itself and together with others."""
    alone = followed(held, growth)
    calm = replace(growth, added=np.zeros(3), lowered=np.zeros(len(held.gaps)))
    for _, together, _ in (followed_each(held, (calm, growth, calm)), followed_each(held, (growth, growth, growth))):
        assert (together.factor, together.rocked) == (pytest.approx(alone.factor), alone.rocked)
        assert (together.loads is None) is (alone.loads is None)
        if together.loads is not None:
            assert together.loads == pytest.approx(alone.loads)
    return alone


FRONT, REAR, LEFT, RIGHT = (0.0, 0.0, 1.0), (0.0, 0.0, -1.0), (0.0, -1.0, 0.0), (0.0, 1.0, 0.0)
"""Moments that press a side; a unit of them carries the weight out to that side's saddles."""


@pytest.mark.parametrize(("way", "pressed"), [(FRONT, (0, 1)), (REAR, (2, 3)), (LEFT, (0, 3)), (RIGHT, (1, 2))])
@pytest.mark.parametrize("topples", [0.0, 1000.0])
def test_a_moment_presses_one_side_until_the_other_comes_off_and_it_goes_over(
    way: tuple[float, float, float], pressed: tuple[int, ...], topples: float
) -> None:
    """By hand: a tilt of f / (4 k - G), which takes k times that off a quarter at the other side: f = 1 - G / 4 k."""
    last = 1.0 - topples / (4 * STIFF)
    share = TOLD / (4 * last)
    end = both(table(), growing(way, 0.99 * last, topples=topples))
    assert end.factor == pytest.approx(0.99 * last)
    assert not end.rocked
    assert end.loads is not None
    assert end.loads == pytest.approx([0.25 + (share if number in pressed else -share) for number in range(4)])
    over = both(table(), growing(way, 2.0, topples=topples, told=1.5))
    assert (over.factor, over.loads, over.rocked) == (pytest.approx(last), None, False)


def test_along_a_diagonal_one_saddle_comes_off_and_the_next_two_after_it() -> None:
    """By hand, with x = f / sqrt(2) out along both: a quarter each and x / 2 to the corner; from x = 1 / 2 on three."""
    way = np.array([0.0, 1.0, 1.0]) / np.sqrt(2)
    for x, wanted in ((0.3, [0.25, 0.4, 0.25, 0.1]), (0.5, [0.25, 0.5, 0.25, 0.0]), (0.8, [0.1, 0.8, 0.1, 0.0])):
        end = both(table(), growing(way, 1.3, told=x * np.sqrt(2)))
        assert end.factor == pytest.approx(1.3)
        assert end.loads == pytest.approx(wanted, abs=1e-9)
    assert both(table(), growing(way, 2.0)).factor == pytest.approx(np.sqrt(2))


@pytest.mark.parametrize("number", range(4))
def test_a_saddle_that_sinks_gives_its_load_to_its_neighbours(number: int) -> None:
    """By hand: of four like springs one lower by e takes k e / 4 off itself and off the one across."""
    sinks = np.zeros(4)
    sinks[number] = 0.1 / STIFF
    end = both(table(), growing((0.0, 0.0, 0.0), 1.0, told=1.0, lowered=sinks))
    across = (number, (number + 2) % 4)
    assert end.loads == pytest.approx([0.225 if each in across else 0.275 for each in range(4)])


def test_all_that_weighs_more_is_shared_alike_and_what_is_lifted_lets_go() -> None:
    assert both(table(), growing((-1.0, 0.0, 0.0), 1.0, told=1.0)).loads == pytest.approx([0.5] * 4)
    assert both(table(), growing((1.0, 0.0, 0.0), 2.0, told=1.5)).factor == pytest.approx(1.0)


@pytest.mark.parametrize("at", [(2.0, 0.0), (-2.0, 0.0)])
def test_a_saddle_that_stands_lower_catches_it_and_it_goes_on_from_there(at: tuple[float, float]) -> None:
    """By hand: over the side pair at f = 1, onto the one 2 out; that and the pair share it, until f = 2."""
    way = FRONT if at[0] > 0 else REAR
    held = table((*PLACES, at), 0.002)
    pair = (0, 1) if at[0] > 0 else (2, 3)
    end = both(held, growing(way, 1.9, told=1.5, lowered=np.zeros(5)))
    assert (end.factor, end.rocked) == (pytest.approx(1.9), True)
    assert end.loads is not None
    assert end.loads == pytest.approx([*(0.25 if number in pair else 0.0 for number in range(4)), 0.5])
    before = both(held, growing(way, 0.9, told=0.5, lowered=np.zeros(5)))
    assert (before.factor, before.rocked) == (pytest.approx(0.9), False)
    over = both(held, growing(way, 3.0, told=2.5, lowered=np.zeros(5)))
    assert (over.factor, over.loads, over.rocked) == (pytest.approx(2.0), None, True)


@pytest.mark.parametrize(("low", "caught"), [(0.8 * CAUGHT, True), (1.2 * CAUGHT, False)])
def test_nothing_that_is_too_far_down_catches_it(low: float, *, caught: bool) -> None:
    """One out in front of the pair by 1: it tilts by as much as that stands lower."""
    end = both(table((*PLACES, (2.0, 0.0)), low), growing(FRONT, 1.5, told=1.2, lowered=np.zeros(5)))
    assert end.rocked is caught
    assert end.factor == pytest.approx(1.5 if caught else 1.0)


def test_the_nearest_of_those_that_stand_lower_catches_it() -> None:
    """Beyond the pair the body sinks in proportion: 2 mm at 1 further out before 5 mm at 1.5 further."""
    held = table((*PLACES, (2.5, 0.0), (2.0, 0.0), (-3.0, 0.0)), 0.005, 0.002, 0.0001)
    end = both(held, growing(FRONT, 1.6, told=1.5, lowered=np.zeros(7)))
    assert end.loads is not None
    assert end.loads == pytest.approx([0.25, 0.25, 0.0, 0.0, 0.0, 0.5, 0.0])


def test_a_saddle_that_is_met_on_the_way_takes_its_share() -> None:
    """A fifth in the middle, a hair below: it touches once the weight has grown by that much."""
    held = table((*PLACES, (0.0, 0.0)), 1.2 / (4 * STIFF))
    end = both(held, growing((-1.0, 0.0, 0.0), 1.0, told=1.0, lowered=np.zeros(5)))
    # w = (2 + 0.3) / 5 k.
    assert end.loads == pytest.approx([0.46] * 4 + [0.16])
    assert not end.rocked
