"""What bounds a search, what it considers, and which ways to share out equipment are judged at all."""

from collections.abc import Iterator
from dataclasses import replace
from math import inf

import pytest

from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.placement import proposal
from loadplan.planning.placement.falling_margin import Contender
from loadplan.planning.placement.largest_margin import RUNNER_WORK, Search
from loadplan.planning.placement.layout import Layout
from loadplan.planning.placement.layout_space import Space, space
from loadplan.planning.placement.proposal import SearchEnd, propose
from loadplan.planning.placement.search_work import SearchLimits, SearchWork
from tests.planning.jobs import STAND, scattered, with_stand


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
