"""What stands where at one level, against trying every way to share out; and layouts in the order of the rule."""

from dataclasses import replace
from itertools import product
from math import inf
from random import Random

import pytest

from loadplan.model.job import Support
from loadplan.model.shop import Circle, Shim, Square
from loadplan.model.vehicle import Point
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.placement.common_level import MOST_ASSIGNMENTS, Reach, clear, reaches
from loadplan.planning.placement.layout import TIE, Layout, ranked
from loadplan.planning.placement.layout_space import Space, kept_level, serves, space
from loadplan.planning.placement.proposal import propose
from loadplan.planning.placement.search_work import SearchLimits, SearchWork
from tests.checks.builders import LIFT_USE
from tests.planning.jobs import STAND, scattered, stepped, with_stand

KINDS = tuple(replace(STAND, name=name) for name in "abc")


@pytest.mark.parametrize("seed", range(20))
def test_equipment_is_shared_out_in_every_way_the_shops_first_first(seed: int) -> None:
    draw = Random(seed)
    counts = [draw.choice([None, 1, 2, 3]) for _ in KINDS]
    reach = Reach(0.1, tuple(zip(KINDS, counts, strict=True)), tuple(draw.randrange(64) for _ in KINDS))
    members = tuple(sorted(draw.sample(range(6), 3)))
    every = [
        way
        for way in product(range(3), repeat=3)
        if all(reach.serving[kind] >> member & 1 for kind, member in zip(way, members, strict=True))
        and all(counts[kind] is None or way.count(kind) <= counts[kind] for kind in range(3))
    ]
    found = [tuple(KINDS.index(each) for each in way) for way in reach.assignments(members)]
    assert found == every[:MOST_ASSIGNMENTS]
    assert reach.allowed == reach.serving[0] | reach.serving[1] | reach.serving[2]


def test_bases_are_clear_where_they_share_no_floor() -> None:
    square, round_one = replace(STAND, base=Square(0.2, 0.2)), replace(STAND, base=Circle(0.2))
    at = ((0.0, 0.0, 0.2), (0.201, 0.0, 0.2), (0.0, 0.5, 0.2))
    assert clear(at, (square, square, square))
    assert not clear((at[0], (0.199, 0.0, 0.2)), (square, square))
    assert clear((at[0], (0.199, 0.0, 0.2)), (square, replace(STAND, base=None)))
    assert clear((at[0], (0.15, 0.15, 0.2)), (round_one, round_one))
    assert not clear((at[2], at[0], (0.0, 0.1, 0.2)), (square, square, round_one))


def test_equipment_serves_what_one_of_its_settings_reaches() -> None:
    point = Point("x", "unit", (0.0, 0.0, 0.2), None, "")
    steps = replace(STAND, heights=stepped(0.30, 0.02, 3))
    turning = replace(STAND, heights=replace(stepped(0.30, 0.1, 2), settings=()))
    assert serves(STAND, point, 9.0, 0.0)
    for level, served in ((0.1, True), (0.103, True), (0.106, False), (0.14, True), (0.146, False), (0.094, False)):
        assert serves(steps, point, level, 0.004) is served
    for level, served in ((0.1, True), (0.15, True), (0.095, False), (0.097, True), (0.203, True), (0.205, False)):
        assert serves(turning, point, level, 0.004) is served


def _beside_a_kept_stand(height: float | None) -> Space:
    """Points at 200, 210 and 220 mm in turn, stands in steps of 20 from 300, and one that stays under 200."""
    job = with_stand(scattered(1, 6), replace(STAND, heights=stepped(0.30, 0.02, 6)))
    kept = Support("K", replace(STAND, name="other"), "", "unit", (0.3, 0.2, 0.2), height=height, keep=True)
    stages = (replace(job.stages[0], in_place=("K",)), *job.stages[1:])
    return space(replace(job, supports=(kept,), stages=stages))


def test_planned_stands_reach_the_level_at_which_what_stays_holds_the_unit() -> None:
    """By hand: K at 330 over a place at 200 has the unit 130 up: 330 and 350 are no settings, 340 is one."""
    here = _beside_a_kept_stand(0.33)
    (reach,) = reaches(here)
    assert reach.level == pytest.approx(0.13)
    assert [bool(reach.serving[0] >> number & 1) for number in range(6)] == [False, True, False] * 2
    shelf = replace(here.job.shop, shims=(Shim(0.01, "", None),))
    (with_boards,) = reaches(replace(here, job=replace(here.job, shop=shelf)))
    assert with_boards.allowed == 0b111111, "320 or 340 and a board of 10 make 330 and 350"
    answer = propose(here, 2, lambda _: None).answer
    assert answer is None or {each.at[2] for each in answer.planned} == {0.21}
    assert len(reaches(_beside_a_kept_stand(None))) > 1, "what is brought up to touch stands at any level"


def test_a_prop_under_the_vehicle_on_the_lift_does_not_say_how_high_the_unit_stands() -> None:
    here = _beside_a_kept_stand(0.33)
    use = replace(LIFT_USE, body="unit", arms=(), in_place=False)
    assert kept_level(replace(here, job=replace(here.job, lift=use))) is None
    assert kept_level(here) == pytest.approx(0.13)


def _layout(margin: float, share: float, *members: int) -> Layout:
    return Layout(members, scattered(1, 4), margin, share, Verdict.HOLDS, frozenset(), frozenset())


def test_the_widest_comes_first_and_of_those_tied_with_it_the_least_loaded() -> None:
    wide, tied, less = _layout(0.2, 0.5, 0), _layout(0.2 - 0.9 * TIE, 0.4, 1), _layout(0.2 - 1.1 * TIE, 0.1, 2)
    assert ranked([wide, less, tied]) == (tied, wide, less)
    first, second = _layout(0.2, 0.5, 1, 2), _layout(0.2, 0.5, 1, 3)
    assert ranked([second, first]) == (first, second)
    narrow, heavy = _layout(0.1, 0.2, 5), _layout(0.1, 0.3, 4)
    assert ranked([heavy, narrow, wide]) == (wide, narrow, heavy)
    assert ranked([]) == ()


def test_a_layout_is_quiet_where_nothing_excludes_it_and_nothing_that_counts_cautions() -> None:
    plain = _layout(0.2, 0.5, 0)
    assert plain.quiet
    assert not replace(plain, against=frozenset({CheckName.RATING})).quiet
    assert not replace(plain, cautions=frozenset({CheckName.MARGIN})).quiet


def test_work_is_spent_when_none_is_left_or_a_bounded_search_has_run_its_time() -> None:
    now = [5.0]
    bounded = SearchLimits(10, until=6.0, clock=lambda: now[0])
    assert SearchWork(bounded, 0.0).spent
    assert not SearchWork(bounded, 0.1).spent
    now[0] = 6.0
    assert SearchWork(bounded, 0.1).spent
    free = SearchWork(replace(bounded, work=inf), inf)
    assert (free.bounded, free.spent, free.cut) == (False, False, False)
    assert SearchWork(bounded, 1.0).bounded
