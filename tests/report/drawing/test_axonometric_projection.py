"""Axonometric projection against values by hand and against ISO 5456-3, and the laws of a projection."""

from math import asin, cos, degrees, hypot, pi, radians, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.report.drawing.axonometric_projection import Projection

TURN = st.floats(-7.0, 7.0)
PLACE = st.tuples(st.floats(-5, 5), st.floats(-5, 5), st.floats(-5, 5))


@pytest.mark.parametrize(
    ("azimuth", "place", "seen"),
    [
        (0, (7.0, 2.0, 3.0), (2.0, 3.0)),  # from the front: the vehicle's left is on the right
        (90, (7.0, 2.0, 3.0), (-7.0, 3.0)),  # from its left: the front is on the left
        (180, (7.0, 2.0, 3.0), (-2.0, 3.0)),
        (270, (7.0, 2.0, 3.0), (7.0, 3.0)),
    ],
)
def test_level_with_the_floor_an_elevation_is_left(
    azimuth: float, place: tuple[float, float, float], seen: tuple[float, float]
) -> None:
    assert Projection(radians(azimuth), 0.0).project(place) == pytest.approx(seen)


def test_from_above_with_the_viewer_behind_the_plan_is_left() -> None:
    above = Projection(pi, pi / 2)
    assert above.project((1.0, 0.0, 4.0)) == pytest.approx((0.0, 1.0))
    assert above.project((0.0, 1.0, 4.0)) == pytest.approx((-1.0, 0.0))


def test_half_way_up_heights_and_depths_are_as_the_right_angled_triangle_has_them() -> None:
    """By hand: at 30 degrees of elevation a height of 2 is seen as 2 cos 30, one metre nearer as 1 sin 30 lower."""
    seen = Projection(0.0, radians(30))
    assert seen.project((0.0, 0.0, 2.0)) == pytest.approx((0.0, sqrt(3)))
    assert seen.project((1.0, 0.0, 0.0)) == pytest.approx((0.0, -0.5))
    assert seen.depth((1.0, 0.0, 0.0)) == pytest.approx(sqrt(3) / 2)
    assert seen.depth((0.0, 0.0, 2.0)) == pytest.approx(1.0)


def test_the_isometric_view_shortens_all_three_axes_alike() -> None:
    """ISO 5456-3, 5.2: all three axes shortened by the root of 2/3 (0.816), x and y 30 degrees off the horizontal."""
    isometric = Projection(radians(45), asin(1 / sqrt(3)))
    x, y, z = (isometric.project(axis) for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
    assert [hypot(*axis) for axis in (x, y, z)] == pytest.approx([sqrt(2 / 3)] * 3)
    assert x == pytest.approx((-sqrt(2 / 3) * cos(radians(30)), -sqrt(2 / 3) * 0.5))
    assert abs(y[1] / y[0]) == pytest.approx(tan(radians(30)))
    assert degrees(asin(1 / sqrt(3))) == pytest.approx(35.264, abs=1e-3)


@given(azimuth=TURN, elevation=st.floats(-1.5, 1.5), place=PLACE)
def test_what_is_seen_and_how_near_it_is_make_up_the_whole_distance(
    azimuth: float, elevation: float, place: tuple[float, float, float]
) -> None:
    projection = Projection(azimuth, elevation)
    whole = (*projection.project(place), projection.depth(place))
    assert sum(each * each for each in whole) == pytest.approx(sum(each * each for each in place), abs=1e-9)


@given(azimuth=TURN, turn=TURN, place=PLACE)
def test_to_walk_round_a_thing_is_to_turn_it_the_other_way(
    azimuth: float, turn: float, place: tuple[float, float, float]
) -> None:
    x, y, z = place
    turned = x * cos(turn) + y * sin(turn), y * cos(turn) - x * sin(turn), z
    walked = Projection(azimuth + turn, 0.4).project(place)
    assert walked == pytest.approx(Projection(azimuth, 0.4).project(turned), abs=1e-9)
