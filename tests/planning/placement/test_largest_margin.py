"""The search against the obvious way: judge every layout, take the one that wins by the rule."""

from dataclasses import replace
from itertools import combinations
from math import inf

import pytest

from loadplan.assess import assess
from loadplan.model.job import Job
from loadplan.model.shop import Equipment
from loadplan.model.verdict import Verdict
from loadplan.planning.placement import layout_margin
from loadplan.planning.placement.blocked_modes import cover
from loadplan.planning.placement.largest_margin import Search
from loadplan.planning.placement.layout import TIE, Layout
from loadplan.planning.placement.layout_space import laid_out, space
from loadplan.planning.placement.proposal import Placement, fits, propose
from loadplan.planning.placement.search_work import SearchLimits
from loadplan.planning.placement.share_bound import Shares
from loadplan.report.text.placement_page import placement_dict, placement_page
from loadplan.statics import stage_sequence
from loadplan.units import System
from tests.planning.jobs import STAND, scattered, stepped, with_stand


def _silent(_margin: float) -> None:
    pass


def _margin_and_share(job: Job) -> tuple[float, float] | None:
    """Worst margin and greatest share of a job, None where something speaks against it."""
    assessment = assess(job)
    if assessment.verdict is Verdict.STOP:
        return None
    bodies = [body for stage in assessment.stages for body in stage.statics.bodies]
    loads = [each.load for stage in assessment.stages for each in stage.statics.supports]
    rating = job.shop.equipment[0].rating_of_one
    share = max(load.at_most / rating for load in loads if load is not None)
    if share > job.limits.rating_share:
        return None
    return min((each.worst_margin for each in bodies if each.worst_margin is not None), default=inf), share


def _by_hand(job: Job, count: int) -> dict[tuple[int, ...], tuple[float, float]]:
    here = space(job)
    stand = job.shop.equipment[0]
    judged = {
        members: _margin_and_share(laid_out(here, tuple((here.points[member], stand) for member in members)))
        for members in combinations(range(len(here.points)), count)
    }
    return {members: each for members, each in judged.items() if each is not None}


@pytest.mark.slow
@pytest.mark.parametrize(("seed", "bodies", "count"), [(1, 1, 3), (2, 1, 4), (3, 1, 4), (4, 2, 5), (5, 2, 6)])
def test_the_search_finds_what_judging_every_layout_finds(seed: int, bodies: int, count: int) -> None:
    job = scattered(seed, 8, bodies)
    every = _by_hand(job, count)
    found = Search(space(job), _silent).largest(count, lambda layout: not layout.against, TIE)
    assert found.proven
    if not every:
        assert not found.layouts
        return
    widest = max(margin for margin, _ in every.values())
    tied = {members: each for members, each in every.items() if each[0] >= widest - TIE}
    winner = min(tied, key=lambda members: (tied[members][1], members))
    assert found.layouts[0].margin >= widest - TIE
    assert found.layouts[0].share == pytest.approx(tied[winner][1], abs=1e-9)
    assert found.layouts[0].members == winner


@pytest.mark.parametrize(("stand", "leans"), [(replace(STAND, stiffness=1e11), 1e-6), (STAND, 0.01)])
def test_the_margin_of_a_layout_is_that_of_its_least_motion_left_open(stand: Equipment, leans: float) -> None:
    """Less what its lean takes off, which is nothing on stiff stands and an even floor, and a few mm on real ones."""
    job = with_stand(scattered(7, 7), stand)
    uneven = 0.0 if stand is not STAND else job.limits.uneven_touch
    job = replace(job, limits=replace(job.limits, floor_slope=0.0, uneven_touch=uneven))
    here = space(job)
    blocked = cover(here)
    for members in combinations(range(7), 4):
        union = 0
        for member in members:
            union |= blocked.blocked[member]
        judged = _margin_and_share(laid_out(here, tuple((here.points[member], stand) for member in members)))
        if judged is not None:
            assert blocked.margin(union) - leans <= judged[0] <= blocked.margin(union) + 1e-9


def test_stands_that_do_not_reach_at_one_level_are_not_proposed_together() -> None:
    job = with_stand(scattered(2, 10), replace(STAND, heights=stepped(0.30, 0.02, 8)))
    free = propose(space(with_stand(job, STAND)), 4, _silent).answer
    answer = propose(space(job), 4, _silent).answer
    assert free is not None
    assert answer is not None
    heights = {round(1000 * space(job).points[member].at[2]) for member in answer.members}
    assert heights <= {200, 220} or heights == {210}, "points 10 mm apart cannot both lie on 20 mm steps"
    assert answer.margin <= free.margin + TIE


def test_no_more_pieces_are_placed_than_the_shop_has() -> None:
    job = with_stand(scattered(2, 8), replace(STAND, count=4, tags=("1", "2", "3", "4"), out_of_use=("2",)))
    assert propose(space(job), 4, _silent).answer is None
    assert propose(space(job), 3, _silent).answer is not None


def test_a_kept_support_stays_and_its_point_is_taken() -> None:
    job = scattered(2, 8)
    here = space(job)
    laid = laid_out(here, ((here.points[0], STAND),))
    kept = replace(laid, supports=tuple(replace(each, keep=True) for each in laid.supports))
    left = space(kept)
    assert [support.point for support in left.job.supports] == ["point 0"]
    assert "point 0" not in {point.name for point in left.points}
    proposal = propose(space(kept), 3, _silent)
    assert proposal.answer is not None
    assert {each.name for each in proposal.answer.planned} == {"B", "C", "D"}


def test_without_a_number_the_fewest_stands_that_leave_no_caution_are_proposed() -> None:
    job = scattered(2, 8)
    proposal = propose(space(job), None, _silent)
    assert proposal.answer is not None
    assert proposal.answer.quiet
    count = len(proposal.answer.members)
    for fewer in range(3, count):
        found = Search(space(job), _silent).largest(fewer, _quiet, job.limits.margin)
        assert not found.layouts
    numbers = [len(each.members) for each in proposal.others]
    assert count not in numbers
    assert numbers == sorted(numbers)


def _quiet(layout: Layout) -> bool:
    return layout.quiet


def test_an_interrupt_gives_what_was_found_and_calls_it_unproven() -> None:
    job = scattered(2, 8)
    search = Search(space(job), _silent)
    judged = 0

    def interrupted(layout: Layout) -> bool:
        nonlocal judged
        judged += 1
        if judged == 1:
            raise KeyboardInterrupt
        return not layout.against

    found = search.largest(4, interrupted, TIE)
    assert not found.proven


@pytest.fixture(scope="module")
def four_of_eight() -> Placement:
    return propose(space(scattered(2, 8)), 4, _silent)


def test_what_is_told_to_machines_is_in_millimetres_and_counts_every_layout(four_of_eight: Placement) -> None:
    proposal = four_of_eight
    told = placement_dict(proposal)
    assert told["considered"] == 70
    assert told["proven_best"] is True
    assert proposal.answer is not None
    first = told["layouts"][0]  # type: ignore[index]
    assert first["worst_margin_mm"] == pytest.approx(1e3 * proposal.answer.margin)
    assert [each["name"] for each in first["supports"]] == ["A", "B", "C", "D"]


def test_the_page_never_calls_a_layout_the_best_and_fits_100_columns(four_of_eight: Placement) -> None:
    page = placement_page(scattered(2, 8), four_of_eight, System.METRIC)
    assert "best" not in page
    assert "largest margin of 70 layouts" in page
    assert max(len(line) for line in page.splitlines()) <= 100


def test_bases_that_would_overlap_are_named_as_what_is_in_the_way() -> None:
    page = placement_page(scattered(2, 8), propose(space(scattered(2, 8)), 8, _silent), System.METRIC)
    assert "No layout fits. In the way: overlap (1 layout)." in page


def test_where_nothing_fits_the_page_says_what_is_in_the_way() -> None:
    job = with_stand(scattered(2, 8), replace(STAND, rating=900.0))
    proposal = propose(space(job), 4, _silent)
    assert proposal.answer is None
    page = placement_page(job, proposal, System.METRIC)
    assert "In the way: rating" in page


def test_a_glance_leaves_no_less_margin_than_a_whole_look() -> None:
    """What is set aside at a glance could not have won."""
    here = space(scattered(1, 12))
    for members in list(combinations(range(12), 5))[::60]:
        made = laid_out(here, tuple((here.points[each], STAND) for each in members))
        exact = layout_margin.margin_from(assess(made), here.start)
        assert layout_margin.margin_at_most(made, here.start) >= exact - 1e-9


def test_from_a_step_on_what_has_stood_stays_and_steps_before_are_not_judged() -> None:
    """Two stands on which it tips in the first step: from the second on three more are planned beside them."""
    job = scattered(2, 8)
    here = space(job)
    by_x = sorted(range(8), key=lambda member: here.points[member].at[0])
    standing = laid_out(here, tuple((here.points[member], STAND) for member in by_x[:2]))
    assert assess(standing).stages[0].verdict is Verdict.STOP
    left = space(standing, 1)
    assert left.start == 1
    assert [each.name for each in left.job.supports] == ["A", "B"]
    proposal = propose(space(standing, 1), 3, _silent)
    assert proposal.answer is not None
    assert proposal.answer.job.supports[:2] == left.job.supports
    assert proposal.answer.job.stages[0] == standing.stages[0]
    assert {each.name for each in proposal.answer.planned} == set(proposal.answer.job.stages[1].in_place)
    assert proposal.answer.verdict is not Verdict.STOP


def test_points_too_many_to_be_solved_at_once_leave_the_search_without_a_bound_of_loads_not_an_error(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A layout has four of them: nobody asked for a stand under each place of two linked assemblies."""
    here = space(scattered(5, 12, 2))
    members = (0, 1, 2, 3, 5)
    assert Shares(here).least(members) > 0.0
    monkeypatch.setattr(stage_sequence, "MOST_WORK", 1000)
    assert Shares(here).least(members) <= 0.0
    assert Search(here, _silent, SearchLimits(40)).largest(4, fits, TIE).layouts
