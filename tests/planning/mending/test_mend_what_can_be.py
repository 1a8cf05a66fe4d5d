"""Mending where not everything can be mended: what can be is, and what cannot is said at once."""

from dataclasses import replace

from loadplan.model.job import Job
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.mending.equipment_shortage import equipment_shortage
from loadplan.planning.mending.fewest_changes import mend
from loadplan.planning.mending.judged_plan import judged
from loadplan.report.text.mending_page import mending_page
from loadplan.units import System
from tests.planning.mending.plans import POINTS, RATCHET, VEHICLE, but, plan, stand

CORNERS = tuple(each for each in POINTS if each.name.startswith(("front", "rear")))


def small(job: Job) -> Job:
    """A job of a shop without plates, and of a vehicle with four places."""
    return replace(
        job,
        vehicle=replace(VEHICLE, points=CORNERS, example=False),
        shop=replace(job.shop, shims=()),
        stages=job.stages[:1],
    )


def test_of_two_cautions_the_one_that_stands_can_take_away_is_taken_away() -> None:
    """No layout of four corners leaves half a metre to tipping; that one stand is set too high is another matter."""
    job = small(plan(*but(stand("D", "rear right", height=0.31)), shop=(RATCHET,)))
    job = replace(job, limits=replace(job.limits, margin=0.5))
    before = {each.check for each in judged(job, 0, Verdict.CAUTION).troubles}
    assert CheckName.MARGIN in before
    assert len(before) > 1
    found = mend(job, 0, lambda _looked, _planned: None)
    assert found.changes
    assert found.in_part
    assert not found.proven
    after = {each.check for each in judged(found.job, 0, Verdict.CAUTION).troubles}
    assert after < before


def test_where_the_shop_has_too_few_pieces_nothing_is_searched_and_it_says_so() -> None:
    few = replace(RATCHET, count=2, tags=(), out_of_use=())
    job = small(plan(*(replace(each, equipment=few, tag="") for each in but()), shop=(few,)))
    assert equipment_shortage(job, 0) == 2
    looked: list[int] = []
    found = mend(job, 0, lambda done, _planned: looked.append(done))
    assert looked == []
    assert found.short == 2
    assert found.verdict is Verdict.STOP
    page = " ".join(mending_page(found, 0, System.METRIC).split())
    assert "The shop has 2 pieces too few" in page
    assert "nothing is written" in page


def test_a_stand_whose_part_has_come_off_wants_no_piece() -> None:
    few = replace(RATCHET, count=2, tags=(), out_of_use=())
    job = small(plan(*(replace(each, equipment=few, tag="") for each in but()), shop=(few,)))
    first, *others = job.supports
    assert equipment_shortage(replace(job, supports=(replace(first, part="a part that is off"), *others)), 0) == 1


def test_a_shop_with_another_kind_to_spare_or_one_that_does_not_count_lacks_nothing() -> None:
    few = replace(RATCHET, count=2, tags=(), out_of_use=())
    more = replace(RATCHET, name="other stand", count=2, tags=(), out_of_use=())
    job = plan(*(replace(each, equipment=few, tag="") for each in but()), shop=(few, more))
    assert equipment_shortage(job, 0) == 0
    uncounted = replace(few, count=None)
    assert equipment_shortage(plan(*(replace(each, equipment=uncounted) for each in but()), shop=(uncounted,)), 0) == 0
