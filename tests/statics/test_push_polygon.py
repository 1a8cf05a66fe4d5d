"""The nearest side of the polygon of all pushes that can be stood."""

from math import atan2, cos, hypot, inf, pi, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.statics import push_polygon as polygon
from loadplan.statics.mass import Array
from loadplan.statics.push_polygon import nearest_sides
from loadplan.statics.simplex import Programme, start
from tests.examples import examples

NO_OTHERS = np.zeros((0, 3))
"""No other right side is asked about."""


def programme(corners: Array) -> Programme:
    """Pushes that are met by shares of the corners, the shares making up one: the polygon is their hull."""
    columns = np.hstack([-corners, np.ones((len(corners), 1))])
    compass = np.array([[1.0, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0]])
    return Programme(np.vstack([columns, compass]), np.array([0.0, 0.0, 1.0]))


def found(corners: list[tuple[float, float]]) -> tuple[float, float]:
    asked = programme(np.array(corners))
    (side,) = nearest_sides(asked, start(asked), 1, inf, NO_OTHERS)
    return side.distance, side.angle


def test_a_rectangle_off_the_origin() -> None:
    """Sides at x = 3 and -1, y = 2 and -0.5: the nearest is to the right, downward."""
    distance, angle = found([(3, 2), (-1, 2), (-1, -0.5), (3, -0.5)])
    assert distance == pytest.approx(0.5)
    assert angle == pytest.approx(-pi / 2)


@examples(60)
@given(st.integers(0, 99_999))
def test_no_direction_is_nearer(seed: int) -> None:
    """Against how far the corners reach in 720 directions, and in the one found; many corners lie twice."""
    rng = np.random.default_rng(seed)
    angles = rng.uniform(0, 2 * pi, int(rng.integers(3, 12)))
    corners = np.column_stack([np.cos(angles), np.sin(angles)]) * rng.uniform(0.2, 2, (len(angles), 1))
    corners = np.vstack([corners, corners + rng.choice([0.0, 1e-13, -1e-9], corners.shape), [[0.0, 0.0]]])
    distance, angle = found([(float(x), float(y)) for x, y in corners])
    every = np.linspace(0, 2 * pi, 720, endpoint=False)
    reach = (corners @ [np.cos(every), np.sin(every)]).max(axis=0)
    assert distance <= reach.min() + 1e-7
    assert distance >= reach.min() * cos(pi / 720) - 2 * sin(pi / 720) - 1e-7
    assert distance == pytest.approx(max(corners @ [cos(angle), sin(angle)]), abs=3e-7)


def test_twin_corners_on_an_upright_side_lose_no_side() -> None:
    """Corners that differ by rounding only, in whatever order they are found, leave the far side where it is."""
    upright = [(-1.7 + shift, y) for y in (-1.45, -1.374, -1.373) for shift in (0.0, -3e-16, 3e-16)]
    distance, _ = found([*upright, (1.34, 0.83), (1.34, -1.45), (-1.7, 0.95)])
    slope = atan2(0.95 - 0.83, 1.34 + 1.7)
    assert distance == pytest.approx(0.95 * cos(slope) - 1.7 * sin(slope))


@pytest.mark.parametrize("corners", [[(0, 0)], [(0, 0), (0, 0), (0, 0)], [(-1, 0), (2, 0)], [(0, 0), (1, 1)]])
def test_without_any_breadth_nothing_can_be_stood(corners: list[tuple[float, float]]) -> None:
    assert found(corners)[0] == pytest.approx(0.0, abs=1e-12)


def test_a_polygon_of_many_sides_is_explored_only_near_its_nearest(monkeypatch: pytest.MonkeyPatch) -> None:
    """A circle of 500 corners about (0.3, 0.2): the nearest point of it lies the other way."""
    around = np.linspace(0, 2 * pi, 500, endpoint=False)
    asked = programme(np.column_stack([0.3 + np.cos(around), 0.2 + np.sin(around)]))
    seen = []
    usual = polygon._sides
    monkeypatch.setattr(polygon, "_sides", lambda places: seen.append(len(places)) or usual(places))
    (side,) = nearest_sides(asked, start(asked), 1, inf, NO_OTHERS)
    assert side.distance == pytest.approx(1 - hypot(0.3, 0.2), abs=1e-4)
    assert side.angle == pytest.approx(atan2(-0.2, -0.3), abs=0.02)
    assert max(seen) < 60


def test_given_up_early_the_answer_is_on_the_careful_side(monkeypatch: pytest.MonkeyPatch) -> None:
    """The circle's radius is 1; a side between the first eight of its 500 corners is nearer."""
    around = np.linspace(0, 2 * pi, 500, endpoint=False)
    asked = programme(np.column_stack([np.cos(around), np.sin(around)]))
    monkeypatch.setattr(polygon, "ROUNDS", 1)
    (side,) = nearest_sides(asked, start(asked), 1, inf, NO_OTHERS)
    assert cos(pi / 8) - 2 * pi / 500 <= side.distance < cos(pi / 16)


@pytest.mark.parametrize("shift", [-1e-13, 0.0, 1e-13])
def test_of_mirrored_sides_the_one_to_the_left_is_told_whichever_rounding_puts_nearer(shift: float) -> None:
    distance, angle = found([(3, 1 + shift), (-3, 1 + shift), (-3, -1), (3, -1)])
    assert distance == pytest.approx(1.0)
    assert angle == pytest.approx(pi / 2)


def test_polygons_asked_about_together_are_those_asked_about_alone() -> None:
    """The second pushes twice as hard a unit, so that its polygon is half as large."""
    one = programme(np.array([(3.0, 2.0), (-1.0, 2.0), (-1.0, -0.5), (3.0, -0.5)]))
    harder = one.columns[-4:] * [2.0, 2.0, 1.0]
    both = Programme(np.vstack([one.columns, harder]), one.right)
    held = Programme(one.columns[:-4], one.right)
    first, second = nearest_sides(both, start(held), 2, inf, NO_OTHERS)
    assert first is not None
    assert second is not None
    assert (first.distance, second.distance) == pytest.approx((0.5, 0.25))
    near, far = nearest_sides(both, start(held), 2, 0.4, NO_OTHERS)[::-1]
    assert near is not None
    assert far is None
