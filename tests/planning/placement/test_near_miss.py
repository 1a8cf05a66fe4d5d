"""Where no layout stands: how the nearest ones go over, by how much, and where one more stand would help."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.model.job import Job
from loadplan.model.shop import Shop
from loadplan.planning.placement.layout_space import space
from loadplan.planning.placement.near_miss import NEAREST, near_misses
from loadplan.planning.placement.proposal import Placement, propose
from loadplan.report.text.placement_page import placement_dict, placement_page
from loadplan.units import System
from tests.checks.small_jobs import STAND, Raw, judged, part
from tests.planning.jobs import scattered
from tests.reference.random_jobs import write_job

POINTS = {"front left": [-100, 300], "front right": [-100, -300], "rear left": [-500, 300], "rear right": [-500, -300]}


def forward(points: dict[str, list[float]], outline: float = 600) -> Raw:
    """400 kg, its centre on the axle line; all points are 100 mm or more behind it."""
    return {
        "body": [
            {
                "name": "unit",
                "outline": [[outline, 400], [outline, -400], [-600, -400], [-600, 400]],
                "bottom": 200,
            }
        ],
        "part": [part("block", "unit", 400, [0, 0, 500])],
        "point": [{"name": name, "body": "unit", "at": [*at, 200], "limit": 20000} for name, at in points.items()],
        "equipment": [STAND],
        "support": [{"name": "A", "use": "stand", "under": next(iter(points))}],
        "stage": [{"name": "down", "in_place": ["A"]}],
        "limits": {"floor_slope": 0, "uneven": 0, "uneven_touch": 0},
    }


def proposed(raw: Raw, folder: Path, count: int | None) -> tuple[Job, Placement]:
    job = read_job(write_job(raw, folder))
    return job, propose(space(job), count, lambda _: None)


@pytest.mark.parametrize("count", [4, None])
def test_a_layout_that_nearly_stands_is_told_with_its_way_and_by_how_much(tmp_path: Path, count: int | None) -> None:
    """By hand: the centre lies 100 mm in front of the foremost points."""
    job, found = proposed(forward(POINTS), tmp_path, count)
    (near,) = found.near
    assert (near.stage, near.body, near.side) == ("down", "unit", "front")
    assert near.short == pytest.approx(0.1, abs=0.002)
    page = " ".join(placement_page(job, found, System.METRIC).split())
    assert 'Nearest: front left, front right, rear left and rear right. In the step "down" the unit goes over' in page
    assert "to the front, in the worst case by 10" in page
    assert "only where the maker gives a bearing place" in page


def test_one_more_stand_at_the_place_that_is_told_holds_it(tmp_path: Path) -> None:
    raw = forward(POINTS)
    _, found = proposed(raw, tmp_path, 4)
    (near,) = found.near
    x, y = near.cells[0]
    places = {**POINTS, "there": [1000 * x, 1000 * y]}
    more = forward(places) | {
        "support": [{"name": name, "use": "stand", "under": name} for name in places],
        "stage": [{"name": "down", "in_place": list(places)}],
    }
    (stage,) = judged(more, tmp_path).stages
    assert stage.statics.group_of("unit").robust
    assert not any(cell_x <= 0.0 for cell_x, _ in near.cells)


def test_machines_are_told_the_same(tmp_path: Path) -> None:
    _, found = proposed(forward(POINTS), tmp_path, 4)
    told = placement_dict(found)
    (near,) = told["nearest"]  # type: ignore[misc, union-attr]
    assert near["short_mm"] == pytest.approx(100, abs=2)  # type: ignore[index, call-overload]
    assert near["one_more_mm"]  # type: ignore[index, call-overload]
    assert told["layouts"] == []


def test_too_few_points_leave_it_free_to_rock(tmp_path: Path) -> None:
    job, found = proposed(forward({name: POINTS[name] for name in ("front left", "rear right")}), tmp_path, None)
    (near,) = found.near
    assert near.short is None
    assert "free to rock" in " ".join(placement_page(job, found, System.METRIC).split())


def test_no_more_than_three_are_told_the_nearest_first(tmp_path: Path) -> None:
    _, found = proposed(forward(POINTS | {"middle": [-200, 0]}), tmp_path, 3)
    assert len(found.near) == NEAREST
    shorts = [each.short or 0.0 for each in found.near]
    assert shorts == sorted(shorts)
    assert {"front left", "front right"} <= {each.point for each in found.near[0].planned}


def test_where_no_outline_reaches_there_no_place_is_told(tmp_path: Path) -> None:
    job, found = proposed(forward(POINTS, outline=-50), tmp_path, 4)
    assert found.near[0].cells == ()
    assert "No place for one more stand was found" in " ".join(placement_page(job, found, System.METRIC).split())


def test_a_layout_that_fits_has_none(tmp_path: Path) -> None:
    _, found = proposed(forward(POINTS | {"nose left": [400, 300], "nose right": [400, -300]}), tmp_path, 4)
    assert found.answer is not None
    assert found.near == ()
    assert "nearest" not in placement_dict(found)


def test_without_a_place_or_anything_to_stand_there_none_is_told() -> None:
    here = space(scattered(0, 6))
    bare = replace(here, job=replace(here.job, shop=Shop((), (), ())))
    assert near_misses(bare, 3, iter([(0, 1, 2)])) == ()
    assert near_misses(replace(here, points=()), 3, iter(())) == ()
