"""One more: where one more stand would help, by a region derived by hand and by whole checks at single places."""

from collections.abc import Iterator
from dataclasses import replace
from math import hypot
from pathlib import Path

import pytest

import loadplan
from loadplan.assess import assess, assess_in_short
from loadplan.checks.one_more import CELL, OneMore, one_more
from loadplan.model.job import Job, Stage, Support
from loadplan.model.verdict import StageAssessment
from tests.checks.small_jobs import STAND, Raw, part, unit_job
from tests.reference.random_jobs import write_job

OUTLINE = [[500, 450], [500, -450], [-500, -450], [-500, 450]]

THREE = {"A": [400, 350, 200], "B": [400, -350, 200], "C": [-400, 350, 200]}
"""Three of the four corners of a rectangle: the right rear one is missing."""

STIFF = [STAND]
SOFT = [STAND | {"stiffness": 150}]


def job_of(folder: Path, block: Raw, **more: object) -> Job:
    raw = unit_job(THREE, body=[{"name": "unit", "outline": OUTLINE, "bottom": 150}], part=[block]) | more
    return loadplan.read_job(write_job(raw, folder))


def asked(job: Job) -> tuple[StageAssessment, tuple[OneMore, ...]]:
    stage = assess(job).stages[-1]
    return stage, one_more(job, stage.state, stage.statics)


def numbers(found: tuple[OneMore, ...]) -> set[tuple[int, int]]:
    """Number the cells by their corner that is furthest back and furthest right."""
    (only,) = found
    assert only.body == "unit"
    return {(round(x / CELL - 0.5), round(y / CELL - 0.5)) for x, y in only.cells}


def corners(cell: tuple[int, int]) -> Iterator[tuple[float, float]]:
    for along in (0, 1):
        for across in (0, 1):
            yield (cell[0] + along) * CELL, (cell[1] + across) * CELL


def inside(place: tuple[float, float], centre: tuple[float, float], margin: float) -> bool:
    """The hand's answer: a fourth stand P, and the centre G is `margin` inside the two new edges B to P and P to C.

    Beyond the line from B to C the polygon grows by the triangle B, P, C. The edges from C to A and A to B stay, and G
    is far inside both. The distance of G from a line is the cross product of its direction with the way to G.
    """

    def left_of(start: tuple[float, float], end: tuple[float, float]) -> float:
        along, across = end[0] - start[0], end[1] - start[1]
        return (along * (centre[1] - start[1]) - across * (centre[0] - start[0])) / hypot(along, across)

    right, rear = (0.4, -0.35), (-0.4, 0.35)
    return left_of(place, right) >= margin and left_of(rear, place) >= margin


def clear(place: tuple[float, float]) -> bool:
    """Inside the outline; a base of 200 mm square covers the middle of none of the three."""
    away = all(max(abs(place[0] - x / 1000), abs(place[1] - y / 1000)) > 0.1 for x, y, _ in THREE.values())
    return away and abs(place[0]) <= 0.5 and abs(place[1]) <= 0.45


def test_the_region_of_the_missing_corner_is_the_one_derived_by_hand(tmp_path: Path) -> None:
    """The block's centre is 62 mm beyond the line from B to C: without tolerance, slope or state geometry is all."""
    job = job_of(tmp_path, part("block", "unit", 400, [-33, -41, 500]), limits={"floor_slope": 0})
    stage, found = asked(job)
    assert not stage.statics.groups[0].balanced
    by_hand = {
        (along, across)
        for along in range(-21, 21)
        for across in range(-19, 19)
        if all(clear(place) and inside(place, (-0.033, -0.041), 0.05) for place in corners((along, across)))
    }
    assert 300 < len(by_hand) < 800
    assert numbers(found) == by_hand


def with_fourth(job: Job, stage: StageAssessment, place: tuple[float, float]) -> StageAssessment:
    """Judge the job with a fourth stand brought up to touch in a step of its own."""
    fourth = Support("X", replace(stage.state.supports[0].equipment, stiffness=2.5e6), "", "unit", (*place, 0.2))
    fourth = replace(fourth, outline=stage.state.supports[0].outline)
    more = replace(job, supports=(*job.supports, fourth), stages=(*job.stages, Stage("one more", in_place=("X",))))
    return assess_in_short(more).stages[-1]


@pytest.mark.parametrize(
    ("block", "equipment"),
    [([20, 20, 500], STIFF), ([40, 30, 900], SOFT)],
    ids=["stiff", "soft and tall"],
)
def test_the_whole_of_a_check_agrees_on_either_side_of_the_rim(
    block: list[float], equipment: list[Raw], tmp_path: Path
) -> None:
    """Every tenth corner on the rim of the region has its margin; every tenth just outside lacks it, or room."""
    weighed = part("block", "unit", 400, block) | {"mass_pm": 8, "at_pm": [10, 10, 20]}
    job = job_of(tmp_path, weighed, equipment=equipment)
    stage, found = asked(job)
    within = {round(x / CELL) + 1000 * round(y / CELL) for cell in numbers(found) for x, y in corners(cell)}
    grid = [(along, across) for along in range(-20, 21) for across in range(-18, 19)]
    near = [
        each
        for each in grid
        if any(
            (each[0] + a + 1000 * (each[1] + b) in within) != (each[0] + 1000 * each[1] in within)
            for a in (-1, 1)
            for b in (-1, 1)
        )
    ]
    judged = {False: 0, True: 0}
    for along, across in near[::10]:
        place, held = (along * CELL, across * CELL), along + 1000 * across in within
        body = with_fourth(job, stage, place).statics.body("unit")
        enough = body.worst_margin is not None and body.worst_margin >= job.limits.margin
        if held or clear(place):
            # A corner of no whole cell may be good by itself: then one of its neighbours is not.
            alone = enough and not held and not all(map(clear, corners((along, across))))
            assert enough is held or alone, (along, across, body.worst_margin)
            judged[held] += 1
    assert min(judged.values()) >= 2


def test_two_stands_on_which_it_rocks_need_one_on_the_heavy_side(tmp_path: Path) -> None:
    """A and C hold the left side: only to the right of the block, more than the margin beyond its centre, one helps."""
    job = job_of(tmp_path, part("block", "unit", 400, [0, 100, 500]), limits={"floor_slope": 0})
    two = tuple(each for each in job.supports if each.name != "B")
    job = replace(job, supports=two, stages=(replace(job.stages[0], in_place=("A", "C")),))
    cells = numbers(asked(job)[1])
    assert cells
    assert max(across for _, across in cells) * CELL < 0.05
    assert all((along, across) in cells for along, across in [(-1, -10), (0, -10)])


def test_what_stands_well_needs_none_and_what_rocks_on_one_stand_is_helped_by_none(tmp_path: Path) -> None:
    well = job_of(tmp_path, part("block", "unit", 400, [100, 80, 500]))
    assert asked(well)[1] == ()
    one = replace(well, supports=well.supports[:1], stages=(replace(well.stages[0], in_place=("A",)),))
    assert asked(one)[1] == (OneMore("unit", ()),)


def test_without_an_outline_nothing_is_told(tmp_path: Path) -> None:
    job = job_of(tmp_path, part("block", "unit", 400, [-30, -30, 500]), body=[{"name": "unit"}])
    assert asked(job)[1] == ()


def test_the_stand_that_is_tried_is_the_smallest_that_is_free(tmp_path: Path) -> None:
    """A base of 100 mm may stand 150 mm nearer to one of 400 mm than another of 400 mm may."""
    small, large = STAND | {"base": 100, "name": "small"}, STAND | {"base": 400, "count": 9}
    block = part("block", "unit", 400, [-33, -41, 500])
    taken = small | {"count": 1, "tags": ["Q1"], "out_of_use": ["Q1"]}
    limits = {"floor_slope": 0}
    both = numbers(asked(job_of(tmp_path, block, equipment=[large, small], limits=limits))[1])
    gone = numbers(asked(job_of(tmp_path, block, equipment=[large, taken], limits=limits))[1])
    assert gone < both
