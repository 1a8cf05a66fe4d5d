"""What a search judges of the layouts that come by falling margin, what it sets aside, and when it stops."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import inf
from types import SimpleNamespace

import pytest

from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.placement import largest_margin
from loadplan.planning.placement.branch_and_bound import Members
from loadplan.planning.placement.common_level import reaches
from loadplan.planning.placement.falling_margin import Contender
from loadplan.planning.placement.layout import TIE, Layout
from loadplan.planning.placement.layout_space import Space
from loadplan.planning.placement.proposal import fits
from loadplan.planning.placement.search_work import SearchLimits
from tests.planning.jobs import STAND, with_stand
from tests.planning.placement.judged_bench import BOUNDED, FIRST, START, A, B, Bench, C, D, Judged, spaced


@pytest.fixture
def bench(monkeypatch: pytest.MonkeyPatch) -> Bench:
    made = Bench()

    def told_from(assessment: SimpleNamespace, first: int) -> SimpleNamespace:
        return SimpleNamespace(**vars(assessment) | {"first": first})

    def figure(name: str) -> Callable[[SimpleNamespace, int], float]:
        def of(assessment: SimpleNamespace, start: int) -> float:
            assert (assessment.first, start) == (FIRST, START)
            return float(getattr(assessment.judged, name))

        return of

    def falling(here: Space, reached: object, tell: Callable[[float], None]) -> Bench:
        assert reached == reaches(here)
        tell(-1.0)
        assert made.told.pop() == -1.0
        return made

    monkeypatch.setattr(largest_margin, "FallingMargin", falling)
    monkeypatch.setattr(largest_margin, "laid_out", made.laid_out)
    monkeypatch.setattr(largest_margin, "assess_in_short", made.assessed)
    monkeypatch.setattr(largest_margin, "told_from", told_from)
    monkeypatch.setattr(largest_margin, "margin_at_most", made.glance)
    monkeypatch.setattr(largest_margin, "margin_from", figure("margin"))
    monkeypatch.setattr(largest_margin, "largest_share", figure("share"))
    return made


def rows(*figures: tuple[Members, float, float]) -> list[Contender]:
    return [Contender(margin, share, members) for members, margin, share in figures]


def members(found: Sequence[Layout]) -> list[Members]:
    return [each.members for each in found]


def test_layouts_are_judged_by_falling_margin_until_none_that_follows_can_win(bench: Bench) -> None:
    bench.rows = rows((A, 0.3, 0.1), (B, 0.26, 0.1), (C, 0.22, 0.1), (D, 0.21, 0.1))
    bench.judged = {A: Judged(0.2), B: Judged(0.25), C: Judged(0.22), D: Judged(0.21)}
    search = bench.search()
    found = search.largest(3, fits, 0.05)
    assert members(found.layouts) == [B, A]
    assert bench.looked == [A, B]
    assert (found.proven, found.against, search.ran_out, search.stopped) == (True, (), False, False)
    assert bench.told == [0.0, 0.2]
    assert bench.asked == [(3, 0.05, inf)]
    assert bench.glanced == [B], "the first has nothing to be compared with"


def test_what_is_wanted_alone_counts_and_what_is_against_the_others_is_told(bench: Bench) -> None:
    bench.rows = rows((A, 0.3, 0.1), (B, 0.28, 0.1), (C, 0.26, 0.1), (D, 0.24, 0.1))
    bench.judged = {
        A: Judged(0.3, stops=(CheckName.PUSH,)),
        B: Judged(0.28, cautions=(CheckName.WHEELS,)),
        C: Judged(0.26, stops=(CheckName.PUSH, CheckName.OVERLAP)),
        D: Judged(0.24),
    }
    found = bench.search().largest(3, lambda layout: CheckName.WHEELS not in layout.cautions, 0.0)
    assert members(found.layouts) == [D]
    assert found.against == ((CheckName.PUSH, 2), (CheckName.OVERLAP, 1))
    assert bench.looked == [A, B, C, D]
    found = bench.search().largest(3, lambda _: True, 0.0)
    assert members(found.layouts) == [B], "what is excluded is never proposed"


def test_of_ties_the_one_that_carries_less_wins_and_what_cannot_win_is_not_judged(bench: Bench) -> None:
    bench.rows = rows((A, 0.3, 0.5), (B, 0.3, 0.4), (C, 0.3, 0.45), (D, 0.3 - TIE / 2, 0.2))
    bench.judged = {A: Judged(0.3, 0.5), B: Judged(0.3, 0.4), C: Judged(0.3, 0.45), D: Judged(0.3 - TIE / 2, 0.2)}
    found = bench.search().largest(3, fits, 0.0)
    assert members(found.layouts) == [D, B, A]
    assert bench.looked == [A, B, D], "C carries no less than B for certain, and has no wider a margin"


def test_a_share_that_is_too_much_for_certain_is_not_judged_but_told(bench: Bench) -> None:
    most = spaced().job.limits.rating_share
    bench.rows = rows((A, 0.3, most + 1e-3), (B, 0.29, most), (C, 0.295, 9.0), (D, 0.27, 0.1))
    bench.judged = {B: Judged(0.29, most), D: Judged(0.27)}
    found = bench.search().largest(3, fits, 0.0)
    assert members(found.layouts) == [B]
    assert bench.looked == [B]
    assert found.against == ((CheckName.RATING, 2),)
    assert found.proven


def test_a_share_over_what_the_job_allows_is_against_a_layout_though_the_checks_only_caution(bench: Bench) -> None:
    most = spaced().job.limits.rating_share
    bench.rows = rows((A, 0.3, 0.1), (B, 0.2, 0.1), (C, 0.1, most + 0.1))
    bench.judged = {A: Judged(0.3, most + 1e-9), B: Judged(0.2, most)}
    found = bench.search().largest(3, fits, 0.0)
    assert members(found.layouts) == [B]
    assert found.against == ((CheckName.RATING, 1),)


def test_what_a_glance_finds_narrower_is_not_judged_in_full(bench: Bench) -> None:
    bench.rows = rows((A, 0.3, 0.1), (B, 0.29, 0.1), (C, 0.28, 0.1))
    bench.judged = {A: Judged(0.2), B: Judged(0.1, glance=0.2 - 1.1 * TIE), C: Judged(0.2, 0.3, glance=0.2 - TIE / 2)}
    found = bench.search().largest(3, fits, 0.0)
    assert bench.looked == [A, C]
    assert members(found.layouts) == [C, A]
    assert found.proven


def test_no_more_are_judged_for_one_number_than_so_many(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    bench.rows = rows((A, 0.3, 0.1), (B, 0.29, 0.1), (C, 0.28, 0.1), (D, 0.27, 0.1))
    bench.judged = {A: Judged(0.2), B: Judged(0.1), C: Judged(0.21), D: Judged(0.22)}
    monkeypatch.setattr(largest_margin, "MOST_JUDGED", 3)
    search = bench.search()
    found = search.largest(3, fits, 0.0)
    assert bench.looked == [A, C]
    assert members(found.layouts) == [C, A]
    assert (found.proven, search.ran_out) == (False, True)
    monkeypatch.setattr(largest_margin, "MOST_JUDGED", 4)
    assert members(bench.search().largest(3, fits, 0.0).layouts) == [D, C, A]


def work_done(bench: Bench, work: float, among: int = 1) -> tuple[int, bool]:
    """Return how many layouts were judged with so much work, and whether it was enough."""
    search = bench.search(limits=SearchLimits(work))
    bench.looked.clear()
    found = search.largest(3, lambda _: False, 0.0, among)
    assert search.ran_out is not found.proven
    return len(bench.looked), found.proven


def test_what_is_judged_costs_a_step_each_and_a_glance_a_quarter(bench: Bench) -> None:
    """Of two steps a layout costs 2, a glance 0.5: it may begin as long as anything is left."""
    bench.rows = rows((A, 0.3, 0.1), (B, 0.29, 0.1), (C, 0.28, 0.1), (D, 0.27, 0.1))
    bench.judged = {each: Judged(0.2) for each in (A, B, C, D)}
    rows_ = [(0.1, 1), (2.0, 1), (2.1, 2), (4.0, 2), (4.1, 3), (6.0, 3), (6.1, 4)]
    assert [work_done(bench, work) for work, _ in rows_] == [(most, most == 4) for _, most in rows_]
    assert work_done(bench, 12.3, 3) == (3, False)
    assert work_done(bench, 0.0) == (0, False)
    # The first is a stop: so there is always one to be compared with from the second on.
    bench.judged[B] = bench.judged[C] = Judged(0.2, glance=0.1)
    search = bench.search(limits=SearchLimits(2.0 + 0.5 + 0.1))
    bench.looked.clear()
    search.largest(3, fits, 0.0)
    assert (bench.looked, search.ran_out) == ([A], True)
    search = bench.search(limits=SearchLimits(2.0 + 0.5 + 0.5 + 0.1))
    search.largest(3, fits, 0.0)
    assert bench.looked == [A, A, D]


def test_what_one_search_leaves_the_next_may_use(bench: Bench) -> None:
    bench.rows = rows((A, 0.3, 0.1), (B, 0.29, 0.1), ((0, 1, 2, 3), 0.3, 0.1))
    bench.judged = {each: Judged(0.2) for each in (A, B, (0, 1, 2, 3))}
    search = bench.search(limits=SearchLimits(12.0))
    assert search.largest(3, lambda _: False, 0.0, 2).proven
    search.largest(4, lambda _: False, 0.0, 2)
    search.largest(5, lambda _: False, 0.0)
    assert [left for _, _, left in bench.asked] == [6.0, (12.0 - 4.0) / 2, 12.0 - 6.0]
    assert not search.ran_out


def test_without_bounds_no_work_is_counted(bench: Bench) -> None:
    bench.rows = rows((A, 0.3, 0.1))
    bench.judged = {A: Judged(0.2)}
    search = bench.search()
    for _ in range(2):
        assert search.largest(3, fits, 0.0).proven
    assert [left for *_, left in bench.asked] == [inf, inf]


def test_an_interrupt_ends_a_search_and_all_after_it_with_what_was_judged(bench: Bench) -> None:
    bench.rows = rows((A, 0.3, 0.1), (B, 0.29, 0.1))
    bench.judged, bench.interrupted_at = {A: Judged(0.2), B: Judged(0.2)}, B
    search = bench.search()
    found = search.largest(3, fits, 0.0)
    assert (members(found.layouts), found.proven, search.stopped) == ([A], False, True)
    found = search.largest(3, fits, 0.0)
    assert (found.layouts, found.proven, bench.looked) == ((), False, [A])
    assert search.runner_up(3, judged_layout(A, 0.2)) is None
    search = bench.search()
    assert search.runner_up(3, judged_layout(A, 0.2)) is None
    assert search.stopped


@pytest.mark.parametrize(
    ("points", "heights", "check"),
    [
        (True, True, CheckName.BALANCE),
        (False, True, CheckName.HEIGHT),
        (False, False, CheckName.OVERLAP),
    ],
)
def test_the_widest_question_that_leaves_nothing_names_what_is_in_the_way(
    bench: Bench,
    points: bool,  # noqa: FBT001 - a row
    heights: bool,  # noqa: FBT001 - a row
    check: CheckName,
) -> None:
    bench.blocked = points, heights
    assert bench.search().in_the_way(4) is check


def test_what_comes_nearest_is_asked_for_without_a_floor_and_with_work_of_its_own(bench: Bench) -> None:
    bench.rows = rows((A, -0.3, 0.1), (B, -0.2, 0.1), ((0, 1, 2, 3), 0.1, 0.1))
    assert list(bench.search(limits=SearchLimits(5.0)).nearest(3)) == [B, A]
    assert list(bench.search().nearest(4)) == [(0, 1, 2, 3)]
    assert bench.asked == [(3, -inf, 100.0), (4, -inf, inf)]


def judged_layout(of: Members, margin: float) -> Layout:
    return Layout(of, spaced().job, margin, 0.2, Verdict.HOLDS, frozenset(), frozenset())


def test_another_layout_shares_as_few_points_as_can_be_and_keeps_nine_tenths(bench: Bench) -> None:
    """Of those that share none the widest is looked at first, then the one that carries less."""
    far, even, stopped, narrow = (3, 4, 5), (3, 4, 6), (3, 4, 7), (3, 4, 8)
    bench.rows = rows((A, 0.2, 0.1), (B, 0.2, 0.1), (far, 0.19, 0.3), (even, 0.19, 0.2), (stopped, 0.195, 0.1))
    bench.rows = [*bench.rows, *rows((narrow, 0.2, 0.1), ((2, 4, 5), 0.2, 0.1), ((5, 6, 7), 0.17, 0.1))]
    bench.judged = {
        narrow: Judged(0.1),
        stopped: Judged(0.2, stops=(CheckName.PUSH,)),
        even: Judged(0.9 * 0.2 - TIE / 2),
        far: Judged(0.2),
    }
    found = bench.search().runner_up(3, judged_layout(A, 0.2))
    assert found is not None
    assert found.members == even
    assert bench.glanced == [narrow, stopped, even]
    assert bench.looked == [stopped, even]
    assert bench.asked == [(3, 0.9 * 0.2, inf)]


def test_the_answer_itself_is_not_another_layout(bench: Bench) -> None:
    bench.rows, bench.judged = rows((A, 0.2, 0.1)), {A: Judged(0.2)}
    assert bench.search().runner_up(3, judged_layout(A, 0.2)) is None
    bench.rows, bench.judged = rows((A, 0.2, 0.1), (B, 0.19, 0.1)), {A: Judged(0.2), B: Judged(0.19)}
    found = bench.search().runner_up(3, judged_layout(A, 0.2))
    assert found is not None
    assert found.members == B


def test_of_an_answer_on_the_brink_another_one_has_to_stand_at_all(bench: Bench) -> None:
    assert bench.search().runner_up(3, judged_layout(A, 0.0)) is None
    assert bench.asked == [(3, TIE, inf)]


def test_no_more_than_twenty_are_judged_in_search_of_another(bench: Bench) -> None:
    every = [(0, 1, 2), *((first, second, 8) for second in range(3, 8) for first in range(3, second))]
    every += [(first, second, 2) for second in range(3, 9) for first in range(3, second)]
    bench.rows = rows(*((each, 0.2, 0.1) for each in every))
    bench.judged = {each: Judged(0.2, stops=(CheckName.PUSH,)) for each in every}
    assert bench.search().runner_up(3, judged_layout(A, 0.2)) is None
    assert len(bench.looked) == 20
    bench.looked.clear()
    # Each costs two steps and a glance at both: 2.5.
    search = bench.search(limits=SearchLimits(BOUNDED))
    assert search.runner_up(3, judged_layout(A, 0.2)) is None
    assert (len(bench.looked), bench.asked[-1][-1]) == (20, 50.0)


def test_of_ways_to_share_out_equipment_the_first_that_nothing_speaks_against_is_taken(bench: Bench) -> None:
    here = spaced("one", "other")
    bench.rows = rows((A, 0.3, 0.1))
    bad, good = Judged(0.3, stops=(CheckName.PUSH,)), Judged(0.25)
    ways = [(A, (a, b, c)) for a in ("one", "other") for b in ("one", "other") for c in ("one", "other")]
    bench.judged = {**dict.fromkeys(ways, bad), ways[2]: good, ways[3]: Judged(0.4)}
    found = bench.search(here).largest(3, fits, 0.0)
    assert [each.margin for each in found.layouts] == [0.25]
    assert bench.looked == ways[:3]
    bench.judged[ways[2]] = bad
    bench.looked.clear()
    search = bench.search(here, SearchLimits(BOUNDED, 3))
    found = search.largest(3, fits, 0.0)
    assert (found.layouts, found.against, found.proven) == ((), ((CheckName.PUSH, 1),), False)
    assert (bench.looked, search.ran_out) == (ways[:3], True)


def test_what_a_glance_finds_narrower_with_one_piece_may_do_with_another(bench: Bench) -> None:
    bench.rows, bench.judged = rows((A, 0.3, 0.1), (B, 0.25, 0.1)), {A: Judged(0.2)}
    ways = [(B, ("one", "one", last)) for last in ("one", "other")]
    bench.judged |= {ways[0]: Judged(0.1), ways[1]: Judged(0.24)}
    found = bench.search(spaced("one", "other")).largest(3, fits, 0.0)
    assert [each.margin for each in found.layouts] == [0.24, 0.2]
    assert bench.glanced == ways


def test_time_that_is_up_ends_a_search_that_has_bounds(bench: Bench) -> None:
    bench.rows, bench.judged = rows((A, 0.3, 0.1)), {A: Judged(0.3)}
    for until, looked in ((4.0, 0), (4.1, 1)):
        bench.looked.clear()
        search = bench.search(limits=SearchLimits(BOUNDED, until=until, clock=lambda: 4.0))
        assert search.largest(3, fits, 0.0).proven is bool(looked)
        assert len(bench.looked) == looked
    assert bench.search(limits=SearchLimits(inf, until=4.0, clock=lambda: 4.0)).largest(3, fits, 0.0).proven


def test_a_layout_at_a_place_that_is_no_point_is_a_caution_at_least(bench: Bench) -> None:
    here = spaced()
    here = replace(here, points=(replace(here.points[0], name=""), *here.points[1:]))
    bench.rows = rows((A, 0.3, 0.1), (D, 0.3, 0.1))
    for verdict, at_cell in ((Verdict.HOLDS, Verdict.CAUTION), (Verdict.STOP, Verdict.STOP)):
        bench.judged = {A: Judged(0.3, 0.5, verdict=verdict), D: Judged(0.3, 0.4, verdict=verdict)}
        found = bench.search(here).largest(3, fits, 0.0)
        assert {each.members: each.verdict for each in found.layouts} == {A: at_cell, D: verdict}


def test_a_layout_tells_which_checks_caution_and_which_exclude_it(bench: Bench) -> None:
    bench.rows, stopped = rows((A, 0.3, 0.1)), Judged(0.3, 0.4, cautions=(CheckName.LEVEL, CheckName.WHEELS))
    bench.judged = {A: stopped}
    (found,) = bench.search().largest(3, fits, 0.0).layouts
    assert (found.margin, found.share, found.against) == (0.3, 0.4, frozenset())
    assert found.cautions == {CheckName.LEVEL, CheckName.WHEELS}


def test_where_the_shop_cannot_set_up_what_is_left_their_number_is_against_it(bench: Bench) -> None:
    here = spaced()
    here = replace(here, job=with_stand(here.job, replace(STAND, count=2)))
    bench.rows = rows((A, 0.3, 0.1))
    found = bench.search(here).largest(3, fits, 0.0)
    assert (found.layouts, found.against, bench.looked) == ((), ((CheckName.COUNT, 1),), [])
