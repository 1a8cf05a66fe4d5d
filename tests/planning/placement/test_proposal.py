"""Which layouts are proposed, what bounds a search, and which ways to share out equipment are judged at all."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import comb, inf

import pytest

from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.placement import proposal
from loadplan.planning.placement.falling_margin import Contender
from loadplan.planning.placement.largest_margin import RUNNER_WORK, Search
from loadplan.planning.placement.layout import TIE, Layout
from loadplan.planning.placement.layout_space import Space, space
from loadplan.planning.placement.proposal import (
    FURTHER,
    MOST_WORK,
    Placement,
    SearchEnd,
    fits,
    is_quiet,
    propose,
)
from loadplan.planning.placement.search_work import SearchLimits, SearchWork
from tests.planning.jobs import STAND, scattered, with_stand
from tests.planning.placement.known_layouts import KnownLayouts, known_space, layout

HERE = known_space(9)
LOUD, MUTE = CheckName.MARGIN, CheckName.BASIS
"""A check that has to be quiet for planning, and one that need not be."""

NEAR = "what comes nearest"


def _silent(_margin: float) -> None:
    pass


@pytest.mark.parametrize(("count", "work"), [(4, inf), (None, 1500)])
def test_only_a_search_without_a_number_is_bounded(
    count: int | None, work: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Half a minute on a usual machine; an interrupt before anything was looked at proposes nothing."""
    asked: list[SearchLimits] = []

    def search(_space: Space, _tell: object, limits: SearchLimits) -> None:
        asked.append(limits)
        raise KeyboardInterrupt

    monkeypatch.setattr(proposal, "Search", search)
    here = space(scattered(2, 8))
    found = propose(here, count, _silent)
    assert [each.work for each in asked] == [work]
    assert (found.answer, found.others, found.runner_up, found.near, found.against) == (None, (), None, (), ())
    assert (found.considered, found.points, found.proven, found.ended) == (0, 8, False, SearchEnd.INTERRUPT)


def test_without_a_number_layouts_of_three_to_eight_stands_are_considered() -> None:
    """Of five points 10 of three, 5 of four and 1 of five."""
    assert propose(space(scattered(2, 5)), None, _silent).considered == 16


def _work() -> SearchWork:
    return SearchWork(SearchLimits(), inf)


def test_a_layout_for_which_the_shop_has_too_few_pieces_is_excluded_by_their_number() -> None:
    search = Search(space(with_stand(scattered(2, 6), replace(STAND, count=2))), _silent)
    found = search._judged((0, 1, 2), -inf, _work())
    assert found is not None
    assert (found.margin, found.share, found.verdict) == (-inf, inf, Verdict.STOP)
    assert (found.against, found.cautions) == (frozenset({CheckName.COUNT}), frozenset())
    assert (found.members, found.job) == ((0, 1, 2), search.space.job)


def test_a_layout_that_the_shop_can_set_up_and_that_is_only_too_narrow_is_not_told_to_lack_pieces() -> None:
    """No margin is as wide as ten metres: that is why it is out, and not the number of stands."""
    search = Search(space(scattered(2, 6)), _silent)
    assert search._judged((2, 4, 5), 10.0, _work()) is None
    widest = search._judged((2, 4, 5), -inf, _work())
    assert widest is not None
    assert widest.against == frozenset()


def test_equipment_is_shared_out_in_each_way_once_and_only_where_bases_are_clear() -> None:
    job = scattered(2, 4)
    apart = tuple(replace(each, at=(0.5 * number, 0.0, 0.2)) for number, each in enumerate(job.vehicle.points))
    near = tuple(replace(each, at=(0.1 * number, 0.0, 0.2)) for number, each in enumerate(job.vehicle.points))
    kinds = tuple(replace(STAND, name=name) for name in ("one", "other"))
    for points, ways in ((apart, 8), (near, 0)):
        made = replace(job, vehicle=replace(job.vehicle, points=points), shop=replace(job.shop, equipment=kinds))
        found = [tuple(each.name for each in way) for way in Search(space(made), _silent)._equipment((0, 1, 2))]
        assert len(found) == len(set(found)) == ways


def test_half_of_what_another_layout_may_cost_is_kept_for_judging_it(monkeypatch: pytest.MonkeyPatch) -> None:
    search = Search(space(scattered(2, 6)), _silent, SearchLimits(100))
    asked: list[tuple[int, float]] = []

    def layouts(count: int, _floor: float, work: SearchWork) -> Iterator[Contender]:
        asked.append((count, work.left))
        return iter(())

    monkeypatch.setattr(search._falling, "layouts", layouts)
    winner = Layout((0, 1, 2), search.space.job, 0.1, 0.2, Verdict.HOLDS, frozenset(), frozenset())
    assert search.runner_up(3, winner) is None
    assert asked == [(3, RUNNER_WORK / 2)]
    search.stopped = True
    assert search.runner_up(3, winner) is None
    assert len(asked) == 1


@pytest.fixture
def proposed(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Placement]:
    """Propose from what a search knows; near misses are told as what was asked for."""

    def told(known: KnownLayouts, count: int | None) -> Placement:
        monkeypatch.setattr(proposal, "Search", lambda *_: known)
        monkeypatch.setattr(proposal, "near_misses", lambda here, number, rows: (NEAR, here, number, list(rows)))
        return propose(known.space, count, lambda _: None)

    return told


def test_for_a_number_its_widest_is_proposed_and_what_two_more_stands_buy(proposed: Callable[..., Placement]) -> None:
    four, wider, five, six, seven = (
        layout(HERE, tuple(range(number)), margin)
        for number, margin in ((4, 0.10), (4, 0.12), (5, 0.15), (6, 0.11), (7, 0.3))
    )
    stopped = layout(HERE, (0, 1, 2, 4), 0.5, against=[CheckName.RATING])
    known = KnownLayouts(HERE, [four, wider, five, six, seven, stopped], runner=four)
    found = proposed(known, 4)
    assert found == Placement(wider, (five, six), four, comb(9, 4), proven=True, against=(), points=9)
    assert known.asked == [(4, TIE, 1), (5, TIE, 1), (6, TIE, 1)]
    assert known.others_asked == [(4, wider)]
    assert FURTHER == 2


def test_no_more_stands_are_tried_than_there_are_points(proposed: Callable[..., Placement]) -> None:
    here = known_space(5)
    known = KnownLayouts(here, [layout(here, (0, 1, 2, 3), 0.1)], unproven=frozenset({4}))
    found = proposed(known, 4)
    assert [number for number, *_ in known.asked] == [4, 5]
    assert (found.others, found.proven, found.points, found.considered) == ((), False, 5, 5)


def test_where_none_of_a_number_fits_it_says_what_is_against_them_and_which_come_nearest(
    proposed: Callable[..., Placement],
) -> None:
    lone = layout(HERE, (0, 1, 2, 3), 0.2, against=[CheckName.PUSH])
    both = layout(HERE, (0, 1, 2, 4), 0.2, against=[CheckName.PUSH, CheckName.RATING])
    more = layout(HERE, (0, 1, 2, 3, 4), 0.2)
    known = KnownLayouts(HERE, [lone, both, more], near=[(0, 1, 2), (0, 1, 2, 3)])
    found = proposed(known, 4)
    assert (found.answer, found.others, found.runner_up) == (None, (more,), None)
    assert found.against == ((CheckName.PUSH, 2), (CheckName.RATING, 1))
    assert found.near == (NEAR, HERE, 4, [(0, 1, 2, 3)])
    assert known.others_asked == []


@pytest.mark.parametrize(
    ("count", "ran_out", "against", "near", "end"),
    [
        (4, False, ((CheckName.HEIGHT, comb(9, 4)),), 4, SearchEnd.DONE),
        (5, False, ((CheckName.OVERLAP, comb(9, 5)),), 5, SearchEnd.DONE),
        (12, False, ((CheckName.OVERLAP, 0),), 9, SearchEnd.DONE),
        (4, True, (), 4, SearchEnd.BUDGET),
        # Of three to eight out of nine.
        (None, False, ((CheckName.OVERLAP, 84 + 126 + 126 + 84 + 36 + 9),), 8, SearchEnd.DONE),
        (None, True, (), 8, SearchEnd.BUDGET),
    ],
)
def test_where_nothing_was_judged_it_says_which_limit_alone_is_in_the_way_unless_work_ran_out(
    proposed: Callable[..., Placement],
    count: int | None,
    ran_out: bool,  # noqa: FBT001 - a row
    against: tuple[tuple[CheckName, int], ...],
    near: int,
    end: SearchEnd,
) -> None:
    found = proposed(KnownLayouts(HERE, ran_out=ran_out), count)
    assert (found.answer, found.against, found.ended) == (None, against, end)
    assert found.near[:3] == (NEAR, HERE, near)


@pytest.mark.parametrize("count", [4, None])
def test_what_was_interrupted_says_so_and_looks_for_nothing_near(
    proposed: Callable[..., Placement], count: int | None
) -> None:
    bad = layout(HERE, (0, 1, 2, 3), 0.2, against=[CheckName.PUSH])
    found = proposed(KnownLayouts(HERE, [bad], stops_at=3, ran_out=True), count)
    assert (found.answer, found.near, found.ended) == (None, (), SearchEnd.INTERRUPT)
    assert found.against == ((CheckName.PUSH, 1),)


def test_what_is_against_the_layouts_of_each_number_is_added_up_the_most_first(
    proposed: Callable[..., Placement],
) -> None:
    bad = [
        layout(HERE, (0, 1, 2), 0.2, against=[CheckName.RATING]),
        layout(HERE, (0, 1, 2, 3), 0.2, against=[CheckName.PUSH]),
        layout(HERE, (0, 1, 2, 4), 0.2, against=[CheckName.PUSH]),
        layout(HERE, (0, 1, 2, 3, 4), 0.2, against=[CheckName.PUSH, CheckName.COUNT]),
    ]
    found = proposed(KnownLayouts(HERE, bad), None)
    assert found.against == ((CheckName.PUSH, 3), (CheckName.RATING, 1), (CheckName.COUNT, 1))


def test_without_a_number_the_fewest_that_leave_no_caution_are_proposed_though_they_are_not_the_widest(
    proposed: Callable[..., Placement],
) -> None:
    three = layout(HERE, (0, 1, 2), 0.10, cautions=[LOUD])
    loud, quiet = layout(HERE, (0, 1, 2, 3), 0.2, cautions=[LOUD]), layout(HERE, (0, 1, 2, 4), 0.15, cautions=[MUTE])
    narrow = layout(HERE, (1, 2, 3), HERE.job.limits.margin - 1e-3)
    five = layout(HERE, (0, 1, 2, 3, 4), 0.3)
    known = KnownLayouts(HERE, [three, narrow, loud, quiet, five], runner=loud)
    found = proposed(known, None)
    considered = sum(comb(9, number) for number in range(3, 9))
    assert found == Placement(quiet, (three, five), loud, considered, proven=True, against=(), points=9)
    whole = [(3, TIE, 12), (4, TIE, 10), (5, TIE, 8), (6, TIE, 6), (7, TIE, 4), (8, TIE, 2)]
    least = HERE.job.limits.margin
    assert known.asked == [*whole, (3, least, 6), (4, least, 5)]
    assert known.others_asked == [(4, quiet)]


@pytest.mark.parametrize(("unproven", "proven"), [(None, True), (3, False), (4, False), (5, True)])
def test_without_a_number_what_is_proven_is_that_no_fewer_do(
    proposed: Callable[..., Placement],
    unproven: int,
    proven: bool,  # noqa: FBT001 - a row
) -> None:
    layouts = [layout(HERE, (0, 1, 2, 3), 0.2), layout(HERE, (0, 1, 2, 3, 4), 0.3)]
    found = proposed(KnownLayouts(HERE, layouts, frozenset({unproven})), None)
    assert (found.answer, found.proven) == (layouts[0], proven)
    assert found.others == (layouts[1],)


@pytest.mark.parametrize("floor", [TIE, HERE.job.limits.margin])
def test_of_a_number_the_widest_and_the_quiet_ones_have_both_to_be_proven(
    proposed: Callable[..., Placement], floor: float
) -> None:
    layouts = [layout(HERE, (0, 1, 2), 0.3, cautions=[LOUD]), layout(HERE, (0, 1, 3), 0.2)]
    found = proposed(KnownLayouts(HERE, layouts, frozenset({(3, floor)})), None)
    assert (found.answer, found.proven) == (layouts[1], False)
    found = proposed(KnownLayouts(HERE, layouts[:1], frozenset({(3, floor)})), None)
    assert (found.answer, found.proven) == (layouts[0], False)


def test_where_no_number_is_without_a_caution_the_widest_of_all_is_proposed(proposed: Callable[..., Placement]) -> None:
    margins = {3: 0.1, 4: 0.3, 5: 0.2}
    layouts = {number: layout(HERE, tuple(range(number)), each, cautions=[LOUD]) for number, each in margins.items()}
    known = KnownLayouts(HERE, [*layouts.values()])
    found = proposed(known, None)
    assert (found.answer, found.others, found.proven) == (layouts[4], (layouts[3], layouts[5]), True)
    assert known.others_asked == [(4, layouts[4])]
    assert not proposed(KnownLayouts(HERE, [*layouts.values()], frozenset({5})), None).proven


def test_few_points_leave_few_numbers_to_try(proposed: Callable[..., Placement]) -> None:
    here = known_space(4)
    known = KnownLayouts(here)
    found = proposed(known, None)
    assert [number for number, *_ in known.asked] == [3, 4]
    assert (found.considered, found.near[2]) == (5, 4)
    assert proposed(KnownLayouts(known_space(2)), None).near[2] == 2


def test_a_search_gets_the_space_the_listener_and_its_bounds(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[object, ...]] = []

    def search(*given: object) -> KnownLayouts:
        asked.append(given)
        return KnownLayouts(HERE, [layout(HERE, (0, 1, 2), 0.2)])

    def tell(_margin: float) -> None:
        pass

    monkeypatch.setattr(proposal, "Search", search)
    propose(HERE, 3, tell)
    propose(HERE, None, tell)
    assert asked == [(HERE, tell, SearchLimits(inf)), (HERE, tell, SearchLimits(MOST_WORK))]


def test_quiet_is_what_is_neither_excluded_nor_cautioned_of_by_a_check_that_has_to_be_quiet() -> None:
    rows = (([], [], True, True), ([], [MUTE], True, True), ([], [LOUD], True, False), ([MUTE], [], False, False))
    for against, cautions, used, quiet in rows:
        judged = layout(HERE, (0, 1, 2), 0.1, against=against, cautions=cautions)
        assert (fits(judged), is_quiet(judged)) == (used, quiet)
