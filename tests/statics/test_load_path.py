"""Paths of one group under several growing loads: found together they end where each ends by itself."""

import numpy as np
import pytest

from loadplan.statics.load_path import Growth, followed, followed_each
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
