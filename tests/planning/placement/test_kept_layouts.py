"""Layouts as they are proposed, with all that is told of them, held against kept texts."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.files import read_job, shipped_folder
from loadplan.model.job import Job
from loadplan.planning.placement.common_level import apart, reaches
from loadplan.planning.placement.free_places import around, with_free_places
from loadplan.planning.placement.layout_space import laid_out, movable, space
from loadplan.planning.placement.proposal import Placement, propose
from tests.kept_text import assert_kept
from tests.planning.jobs import STAND, scattered, stepped, with_stand
from tests.planning.mending.written import differences
from tests.planning.placement.test_anywhere import outlined, strict
from tests.planning.written import record

KEPT = Path(__file__).parent / "kept"


def _two_kinds() -> Job:
    """Strong stands in steps, of which there are two, and weaker ones that turn; one support stays."""
    strong = replace(
        STAND, name="strong", heights=stepped(0.30, 0.02, 8), count=3, tags=("1", "2", "3"), out_of_use=("2",)
    )
    weak = replace(STAND, name="weak", rating=2500.0, heights=replace(stepped(0.30, 0.2, 2), settings=()), count=6)
    job = scattered(5, 8, 2)
    return replace(job, shop=replace(job.shop, equipment=(strong, weak)))


def _one_stays() -> Job:
    job = scattered(2, 8)
    here = space(job)
    laid = laid_out(here, ((here.points[0], STAND),))
    return replace(laid, supports=tuple(replace(each, keep=True) for each in laid.supports))


PLACEMENTS: Mapping[str, Callable[[list[float]], Placement]] = {
    "four-of-seven": lambda told: propose(space(scattered(2, 7)), 4, told.append),
    "the-fewest": lambda told: propose(space(scattered(2, 7)), None, told.append),
    "two-bodies": lambda told: propose(space(scattered(5, 7, 2)), 5, told.append),
    "two-kinds": lambda told: propose(space(_two_kinds()), 5, told.append),
    "one-stays": lambda told: propose(space(_one_stays()), 3, told.append),
    "nothing-is-strong": lambda told: propose(
        space(with_stand(scattered(2, 6), replace(STAND, rating=900.0))), 4, told.append
    ),
    "points-take-little": lambda told: propose(space(strict(scattered(1, 6))), 4, told.append),
    "all-in-a-row": lambda told: propose(space(_in_a_row()), 3, told.append),
}


def _in_a_row() -> Job:
    """Points so near to each other that no two bases stand clear, and none round the weight."""
    job = scattered(3, 5)
    points = tuple(replace(each, at=(0.3, 0.05 * number, 0.2)) for number, each in enumerate(job.vehicle.points))
    return replace(job, vehicle=replace(job.vehicle, points=points))


SLOW = ("the-fewest", "one-stays")


@pytest.mark.parametrize("name", [pytest.param(each, marks=[pytest.mark.slow] * (each in SLOW)) for each in PLACEMENTS])
def test_a_layout_is_proposed_as_it_is_kept(name: str) -> None:
    told: list[float] = []
    found = PLACEMENTS[name](told)
    assert_kept(KEPT / f"layout-{name}.txt", f"told {len(told)} times, {max(told, default=0.0):.4f}\n{record(found)}")


def test_where_a_stand_may_go_is_as_it_is_kept() -> None:
    """Points, cells, what reaches what, what is in each other's way, and what a layout makes of the job."""
    job = outlined(scattered(3, 4))
    coarse, two = with_free_places(space(job)), space(_two_kinds())
    kinds = two.job.shop.equipment
    laid = laid_out(two, tuple(zip(two.points[:3], (kinds[0], kinds[1], kinds[0]), strict=True)))
    fine = around(space(job), laid.supports, 0.05)
    told = [
        record(("coarse", coarse.space.points[:: max(len(coarse.space.points) // 12, 1)], len(coarse.space.points))),
        record(("fine", fine.points[:12], len(fine.points))),
        record(("reaches", reaches(two), "apart", apart(two), apart(coarse.space)[:6])),
        *differences(two.job, laid),
    ]
    assert_kept(KEPT / "where-stands-may-go.txt", "\n".join([*told, ""]))


@pytest.mark.parametrize("first", [0, 2])
@pytest.mark.parametrize("name", ["front-unit", "shell-nose-off"])
def test_what_is_left_to_plan_of_a_job_on_a_lift_is_as_it_is_kept(name: str, first: int) -> None:
    job = read_job(shipped_folder("demo") / f"{name}.toml")
    here = space(job, first)
    goes = tuple(here.goes_with_part(each) for each in here.points)
    laid = laid_out(here, tuple((each, movable(job)[0]) for each in here.points[:3]))
    told = record((here.start, here.first, goes, tuple(each.name for each in movable(job)), here.points))
    changed = [*differences(job, here.job), "laid out", *differences(here.job, laid)]
    assert_kept(KEPT / f"left-to-plan-{name}-from-{first}.txt", "\n".join([told, *changed, ""]))
