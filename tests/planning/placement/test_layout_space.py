"""What is left to plan: from which step stands are needed, and under which points. Made-up jobs."""

from dataclasses import replace
from math import inf

import pytest

from loadplan.model.job import Job, Stage
from loadplan.model.vehicle import Point
from loadplan.planning.placement.layout_margin import margin_at_most
from loadplan.planning.placement.layout_space import space
from tests.statics import builders as make

CORNERS = ((0.5, 0.5), (0.5, -0.5), (-0.5, -0.5), (-0.5, 0.5))
OUTLINE = ((1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0))


def point(name: str, x: float = 0.0, *, body: str = "unit", part: str = "") -> Point:
    return Point(name, body, (x, 0.0, 0.2), None, "", part)


POINTS = (point("front"), point("rear"), point("sill", body="shell"), point("arm", body="axle"))


def hung(*stages: Stage) -> Job:
    """A unit with an axle under it, bolted to a shell on the lift; stands A to D under the unit."""
    made = make.job(
        [make.part(), make.part(name="axle", body="axle"), make.part(name="shell", body="shell", mass=900.0)],
        make.stands(CORNERS),
        joints=[make.bolts("upper", ("unit", "shell")), make.bolts("lower", ("axle", "unit"))],
        stages=stages,
        lift=make.lift_use(CORNERS),
    )
    return replace(made, vehicle=replace(made.vehicle, points=POINTS))


def without_lift(*stages: Stage) -> Job:
    return replace(hung(*stages), lift=None)


UP, AXLE, LOOSE, LATER = (
    Stage("up"),
    Stage("axle", undone=("lower",)),
    Stage("loose", undone=("upper",)),
    Stage("later", in_place=("A", "B", "C", "D")),
)


@pytest.mark.parametrize(
    ("job", "start"),
    [
        (hung(UP, LOOSE), 1),
        (hung(UP, UP, LOOSE, AXLE), 2),
        (hung(UP, AXLE, LOOSE), 1),
        (hung(UP, LATER, LOOSE), 1),
        (hung(UP, LOOSE, LATER), 2),
        (hung(UP, UP), 0),
        (without_lift(UP, LOOSE), 0),
        (without_lift(UP, LATER), 1),
    ],
)
def test_stands_are_needed_where_a_step_puts_them_in_place_else_where_something_is_parted(job: Job, start: int) -> None:
    """Nothing is parted from the lift's by what stays bolted to the unit, until that hangs on nothing."""
    assert space(job).start == start
    assert space(job, 2).start == max(start, 2)


def test_points_of_the_lifts_own_body_and_of_what_is_not_there_are_not_planned() -> None:
    job = hung(UP, LOOSE)
    assert [each.name for each in space(job).points] == ["front", "rear", "arm"]
    assert [each.name for each in space(replace(job, lift=None)).points] == ["front", "rear", "sill", "arm"]
    assert [each.name for each in space(replace(job, bodies=("unit", "shell"))).points] == ["front", "rear"]


def test_a_point_that_is_taken_stays_taken() -> None:
    job = hung(UP, LOOSE)
    kept = tuple(replace(each, keep=each.name == "A", point="rear") for each in job.supports)
    left = space(replace(job, supports=kept))
    assert [each.name for each in left.points] == ["front", "arm"]
    assert [each.name for each in left.job.supports] == ["A"]


def test_a_point_beside_what_it_is_to_hold_is_not_planned() -> None:
    job = hung(UP, LOOSE)
    bodies = tuple(replace(each, outline=OUTLINE) for each in job.vehicle.bodies)
    points = (point("in", 0.999), point("out", 1.001))
    job = replace(job, vehicle=replace(job.vehicle, bodies=bodies, points=points))
    assert [each.name for each in space(job).points] == ["in"]


def test_a_point_whose_part_is_gone_when_stands_are_needed_is_not_planned() -> None:
    job = hung(UP, replace(LOOSE, off=("pump",)))
    pump = make.part(name="pump", mass=1.0)
    points = (point("pump", part="pump"), point("front"))
    job = replace(job, vehicle=replace(job.vehicle, parts=(*job.vehicle.parts, pump), points=points))
    assert [each.name for each in space(job).points] == ["front"]


def standing(x: float, **of_stage: object) -> Job:
    """A unit of 100 kg so far ahead of the middle of four stands."""
    stage = replace(Stage("all", in_place=tuple("ABCD")), **of_stage)  # type: ignore[arg-type]
    return make.job([make.part((x, 0.0))], make.stands(CORNERS), stages=[stage])


@pytest.mark.parametrize(("x", "margin"), [(0.0, 0.5), (0.2, 0.3), (0.6, -inf), (-5.0, -inf)])
def test_what_is_not_balanced_has_no_margin_at_all(x: float, margin: float) -> None:
    assert margin_at_most(standing(x), 0) == pytest.approx(margin, abs=0.01)


def test_a_step_in_which_something_moves_and_what_the_lift_holds_do_not_count() -> None:
    assert margin_at_most(standing(0.6, moved=True), 0) == inf
    assert margin_at_most(standing(0.6), 1) == inf
    assert margin_at_most(replace(standing(0.2), lift=make.lift_use(CORNERS, "unit", in_place=False)), 0) == inf
