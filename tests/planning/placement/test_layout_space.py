"""What is left to plan: from which step stands are needed, and under which points. Made-up jobs."""

from dataclasses import replace
from math import inf

import pytest

from loadplan.model.job import Job, SetAnew, Stage, StageReading, Support
from loadplan.model.shop import Equipment, Heights
from loadplan.model.vehicle import Point
from loadplan.planning.placement.layout_margin import margin_at_most
from loadplan.planning.placement.layout_space import (
    Space,
    kept_level,
    laid_out,
    levels,
    movable,
    serves,
    space,
    usable,
)
from tests.statics import builders as make
from tests.statics.builders import STAND

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


def scene(
    *points: Point, kept: tuple[Support, ...] = (), shop: tuple[Equipment, ...] = (STAND,), **of_job: object
) -> Space:
    """A unit with a pump on it that comes off in the second of three steps."""
    stages = (Stage("stands", in_place=tuple(each.name for each in kept)), Stage("bare", off=("pump",)), Stage("end"))
    made = make.job([make.part(), make.part(name="pump", mass=1.0)], kept, stages=stages)
    made = replace(made, vehicle=replace(made.vehicle, points=points), shop=replace(made.shop, equipment=shop))
    return space(replace(made, **of_job))  # type: ignore[arg-type]


def test_a_layout_stands_from_the_start_on_each_stand_under_its_point() -> None:
    front, rear = replace(point("front", 0.5), limit=900.0, say="boss"), point("rear", -0.5)
    jack = replace(STAND, name="jack")
    here = replace(scene(front, rear, kept=(keeper("K"),)), start=1)
    job = laid_out(here, ((rear, jack), (front, STAND)))
    told = [(each.name, each.point, each.at, each.equipment.name, each.limit, each.say) for each in job.supports]
    assert told == [
        ("K", "", (0.0, 0.0, 0.2), "stand", None, ""),
        ("A", "rear", (-0.5, 0.0, 0.2), "jack", None, ""),
        ("B", "front", (0.5, 0.0, 0.2), "stand", 900.0, "boss"),
    ]
    assert [each.in_place for each in job.stages] == [("K",), ("A", "B"), ()]
    assert {each.height for each in job.supports[1:]} == {None}


def test_no_stand_gets_a_letter_that_something_of_the_job_has() -> None:
    places = tuple(point(str(number), 0.01 * number) for number in range(26))
    here = scene(*places, kept=(keeper("A"),), lift=make.lift_use(CORNERS, "shell", in_place=False))
    joints = make.mount("C", (0.0, 0.0)), make.mount("S2", (0.0, 0.0))
    arms = tuple(replace(each, name=name) for each, name in zip(here.job.lift.arms, "DEFG", strict=True))  # type: ignore[union-attr]
    lift = replace(here.job.lift, arms=arms)  # type: ignore[type-var]
    here = replace(here, job=replace(here.job, vehicle=replace(here.job.vehicle, joints=joints), lift=lift))
    names = [each.name for each in laid_out(here, tuple((each, STAND) for each in places)).supports]
    assert names == ["A", "B", *"HIJKLMNOPQRSTUVWXYZ", "S1", "S3", "S4", "S5", "S6", "S7"]


def test_what_stands_under_a_part_goes_when_that_does() -> None:
    on_pump, beside = point("on it", part="pump"), point("beside", 0.3)
    here = scene(on_pump, beside)
    assert [here.goes_with_part(each) for each in (on_pump, beside, point("not listed", part="pump"))] == [1, None, 1]
    assert [[here.stands(each, state) for state in here.states] for each in (on_pump, beside)] == [
        [True, False, False],
        [True, True, True],
    ]
    job = laid_out(here, ((beside, STAND), (on_pump, STAND)))
    assert [each.cleared for each in job.stages] == [(), ("B",), ()]


def keeper(name: str, *, use: Equipment = STAND, height: float | None = None, body: str = "unit") -> Support:
    return replace(make.support(name, (0.0, 0.0), use=use, height=height, body=body), keep=True)


@pytest.mark.parametrize(
    ("count", "tags", "out_of_use", "kept", "left"),
    [
        (None, (), (), 0, None),
        (4, (), (), 0, 4),
        (4, (), (), 3, 1),
        (2, (), (), 3, 0),
        (3, ("1", "2", "3"), ("2",), 1, 1),
    ],
)
def test_pieces_that_are_taken_or_out_of_use_cannot_be_placed(
    count: int | None, tags: tuple[str, ...], out_of_use: tuple[str, ...], kept: int, left: int | None
) -> None:
    use = replace(STAND, count=count, tags=tags, out_of_use=out_of_use)
    others = keeper("other", use=replace(STAND, name="other"))
    assert usable(use, (*(keeper(str(number), use=use) for number in range(kept)), others)) == left


def test_what_hangs_is_not_placed_nor_what_oil_holds_where_the_job_is_left_alone() -> None:
    shop = (make.JACK, make.HOIST, STAND)
    job = scene(shop=shop).job
    assert [each.name for each in movable(job)] == ["jack", "stand"]
    alone = replace(job, stages=(job.stages[0], replace(job.stages[1], unattended=True)))
    assert [each.name for each in movable(alone)] == ["stand"]


def test_levels_are_where_something_begins_or_ends_to_be_served() -> None:
    """Stands at 300 and 340, a jack from 280 to 400; places at 200 and 210; a setting may be 2 off."""
    use = replace(STAND, heights=Heights(0.30, 0.34, (0.30, 0.34)))
    jack = replace(make.JACK, heights=Heights(0.28, 0.40, ()))
    hoist = replace(make.HOIST, heights=Heights(1.0, 2.0, ()))
    job = scene(shop=(use, jack, hoist, STAND)).job
    job = replace(job, limits=replace(job.limits, uneven=0.002))
    places = point("low"), replace(point("high"), at=(0.0, 0.0, 0.21))
    wanted = {
        round(setting - z + side, 3)
        for setting in (0.30, 0.34, 0.28, 0.40)
        for z in (0.2, 0.21)
        for side in (-0.002, 0.002)
    }
    assert levels(job, places) == pytest.approx(sorted(wanted))
    assert levels(scene().job, places) == (0.0,), "nothing has a height"
    assert levels(job, ()) == (0.0,)


def test_what_serves_lies_within_the_slack_both_ends_counted_in() -> None:
    turning = replace(STAND, heights=Heights(0.25, 0.5, ()))
    for level, slack, served in (
        (0.05, 0.0, True),
        (0.0499, 0.0, False),
        (0.3, 0.0, True),
        (0.3001, 0.0, False),
        (0.0499, 0.001, True),
        (0.3001, 0.001, True),
    ):
        assert serves(turning, point("x"), level, slack) is served, level
    steps = replace(STAND, heights=Heights(0.25, 0.5, (0.25, 0.5)))
    assert serves(steps, point("x"), 0.05 + 1e-10, 0.0)
    assert not serves(steps, point("x"), 0.05 + 1e-8, 0.0)
    assert not serves(steps, point("x"), 0.15, 0.0)


def test_the_level_is_that_of_the_stands_that_stay_under_the_unit() -> None:
    """A saddle at 330 under a place at 200 has the unit 130 up; what props the vehicle on the lift says nothing."""
    assert kept_level(scene(kept=(keeper("K", height=0.33),))) == pytest.approx(0.13)
    assert kept_level(scene(kept=(keeper("K"),))) is None
    assert kept_level(scene()) is None
    lift = make.lift_use(CORNERS, "unit", in_place=False)
    assert kept_level(scene(kept=(keeper("K", height=0.33),), lift=lift)) is None


def test_what_is_planned_anew_is_in_no_step_any_more() -> None:
    stands = make.stands(CORNERS)
    kept = replace(stands[3], keep=True)
    stage = Stage(
        "all",
        in_place=tuple("ABCD"),
        set_anew=(SetAnew("A", 0.3), SetAnew("D", 0.4)),
        readings=(StageReading("B", 100.0), StageReading("D", 200.0)),
    )
    end = Stage("end", cleared=("A", "D"))
    left = space(make.job([make.part()], (*stands[:3], kept), stages=[stage, end]))
    first, last = left.job.stages
    assert (first.in_place, last.cleared) == (("D",), ("D",))
    assert (first.set_anew, first.readings) == ((SetAnew("D", 0.4),), (StageReading("D", 200.0),))
    assert [each.name for each in left.job.supports] == ["D"]
    assert (left.start, left.first) == (0, 0)
    # From the second step on all that has stood stays.
    later = space(make.job([make.part()], (*stands[:3], kept), stages=[stage, end]), 1)
    assert [(each.name, each.keep) for each in later.job.supports] == [(name, True) for name in "ABCD"]
    assert (later.start, later.first, later.states[0].index) == (1, 1, 1)
    assert later.job.stages == (stage, end)
