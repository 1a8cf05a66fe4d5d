"""A table goes over as one, about the rim of its one base."""

from dataclasses import replace
from math import cos, inf, pi, sin, sqrt

import numpy as np
import pytest

from loadplan.model.shop import Circle, Square
from loadplan.statics.push_limit import Hold, stands, weakest_push
from loadplan.statics.saddle_friction import grips
from loadplan.statics.sideways_resistance import Grip
from loadplan.statics.table_base import TableBase, base_sides
from tests.statics import builders as make

HEIGHT, MASS = 0.7, 200.0
CORNERS = [(0.5, 0.3), (0.5, -0.3), (-0.5, -0.3), (-0.5, 0.3)]


def table(shape: Square | Circle, friction: float = 5.0, over: float = 0.0) -> Hold:
    """200 kg with its centre 0.1 m in front of the middle of a table, pushed so high over the saddles."""
    job = make.job([make.part((0.1, 0.0, 0.5), MASS)], make.stands(CORNERS))
    base = TableBase("table", (0.0, 0.0), base_sides(shape), HEIGHT)
    return make.hold(job, (0.1, 0.0, 0.2 + over), [Grip(friction, inf, base=base)] * 4)


@pytest.mark.parametrize(
    ("towards", "lever"),
    [(0.0, 0.6 - 0.1), (pi, 0.6 + 0.1), (pi / 2, 0.4), (-pi / 2, 0.4)],
    ids=["forward", "back", "left", "right"],
)
def test_a_table_goes_over_about_its_rim_with_all_that_it_carries(towards: float, lever: float) -> None:
    """By hand: W lever / h; the weight's own lever to that side of a base of 1.2 by 0.8 m, pushed at the saddles."""
    limit = stands(table(Square(1.2, 0.8)), (cos(towards), sin(towards), 0.0))
    assert limit.force == pytest.approx(make.newton(MASS) * lever / HEIGHT)
    assert (limit.first, limit.about) == ("stand", ("A", "B", "C", "D"))


def test_pushed_over_its_saddles_the_lever_is_the_height_over_the_floor() -> None:
    """By hand: pushed 0.3 m over saddles at 0.7 m, W 0.4 / 1.0; over the saddles alone it would tip at W 0.3 / 0.3."""
    limit = stands(table(Square(1.2, 0.8), over=0.3), (0.0, 1.0, 0.0))
    assert limit.force == pytest.approx(make.newton(MASS) * 0.4)
    assert limit.first == "stand"


def test_a_round_base_goes_over_alike_all_round() -> None:
    """By hand: from the middle of the load to the nearest rim, 0.4 − 0.1, inscribed: at most 0.5 % less."""
    weakest = weakest_push(table(Circle(0.8)))
    assert weakest is not None
    wanted = make.newton(MASS) * 0.3 / HEIGHT
    assert 0.98 * wanted < weakest.force <= wanted
    assert weakest.direction == pytest.approx(0.0, abs=0.2)


def test_a_wide_table_slides_at_its_saddles_as_stands_do() -> None:
    limit = stands(table(Square(3.0, 3.0), friction=0.2), (1.0, 0.0, 0.0))
    assert limit.force == pytest.approx(0.2 * make.newton(MASS))
    assert limit.first == "slides"


def test_a_load_beside_the_base_is_not_held_at_all() -> None:
    """Its centre 0.1 m in front, the rim 0.05 m: the table goes over by itself."""
    assert stands(table(Square(0.1, 0.8)), (1.0, 0.0, 0.0)).force == 0.0


def test_what_holds_down_a_side_by_hand() -> None:
    """1000 N at 0.5 m of a side at 0.6, pushed with 100 N at 0.7 m: 1000·0.1 − 100·0.7 = 30; away from it 170."""
    base = TableBase("table", (0.0, 0.0), base_sides(Square(1.2, 0.8)), HEIGHT)
    held = base.hold(0, (0.5, 0.3), np.array([[-100.0, 0.0, 1000.0], [100.0, 0.0, 1000.0]]))
    assert held == pytest.approx([30.0, 170.0])


def test_places_of_one_piece_share_its_base_and_a_piece_of_one_place_stands_by_itself() -> None:
    use = replace(make.STAND, base=Square(1.2, 0.8))
    made = [replace(each, piece="table", height=0.7) for each in make.stands(CORNERS, use=use)]
    job = make.job([make.part()], made)
    shared = grips(job, make.state(job), None)
    assert {each.footing for each in shared.values()} == {inf}
    assert {each.base and each.base.middle for each in shared.values()} == {(0.0, 0.0)}
    assert shared["A"].oiled.base == shared["A"].base
    alone = make.job([make.part()], made[:1])
    assert grips(alone, make.state(alone), None)["A"].footing == pytest.approx(0.4 / 0.7)


def test_a_diagonal_push_goes_over_the_nearer_rim() -> None:
    """By hand: of W 0.5 / h along x and W 0.4 / h along y a push at 45° reaches W 0.4 √2 / h."""
    half = 1 / sqrt(2)
    limit = stands(table(Square(1.2, 0.8)), (half, half, 0.0))
    assert limit.force == pytest.approx(make.newton(MASS) * 0.4 * sqrt(2) / HEIGHT)


def test_the_sides_of_a_round_base_lie_all_round_and_no_further_out_than_its_rim() -> None:
    sides = base_sides(Circle(2.0))
    assert len(sides) >= 8
    assert [each.outward for each in sides] == pytest.approx([2 * pi * turn / len(sides) for turn in range(len(sides))])
    assert all(0.995 <= each.distance <= 1.0 for each in sides)
