"""What is to be done in a step, in the order of the work, and in words that stand alone in a record."""

from dataclasses import replace

import pytest

import loadplan
from loadplan.assess import assess
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment
from loadplan.report.words.cautions import boxes
from loadplan.report.words.vocabulary import reader_of
from loadplan.report.words.work_list import WorkPart, work_list
from loadplan.units import System
from tests.tracked import shipped


@pytest.fixture(scope="module")
def front_unit() -> Assessment:
    (job,) = shipped("demo", "front-unit.toml")
    return assess(loadplan.read_job(job))


def parts(assessment: Assessment, step: int) -> tuple[WorkPart, ...]:
    return work_list(assessment.job, assessment.stages[step], reader_of(assessment.job, System.METRIC))


def test_the_vehicle_comes_down_before_a_bolt_is_tightened_and_the_stands_wait_till_it_is(
    front_unit: Assessment,
) -> None:
    """The order of common practice, no source."""
    lines = [line for part in parts(front_unit, 7) for line in part.lines]
    down, bolts = lines.index("Back in: vehicle down slowly, bolts by hand first"), lines.index("Tighten: cradle bolts")
    away = lines.index("Back in: stands away only when torqued, then the prop")
    assert down < bolts < away


def test_what_is_ticked_says_in_a_record_what_was_done(front_unit: Assessment) -> None:
    lines = [line for step in range(len(front_unit.stages)) for part in parts(front_unit, step) for line in part.lines]
    assert {"Undo, in this order: cradle bolts", "Tighten: cradle bolts", "Take away: A"} <= set(lines)
    assert not {"cradle bolts", "A", "gearbox with oil"} & set(lines)


def test_a_prop_that_the_plan_sets_later_is_looked_for_at_hand_and_not_as_set(front_unit: Assessment) -> None:
    """Its stand under the tail is set in the second step: the lift has not let go of the tail before."""
    (before,) = [part for part in parts(front_unit, 0) if part.heading == "Before"]
    assert before.lines[-1] == "Before: prop for under the heavy end at hand"


def asked_before(job: Job, whole: Assessment) -> tuple[str, ...]:
    """Return the boxes before a job that is judged as another one."""
    return boxes(job, whole.stages[0], System.METRIC)[0].items


def test_a_prop_is_not_looked_for_where_none_stands_in_the_plan(front_unit: Assessment) -> None:
    job = front_unit.job
    none = replace(job, supports=tuple(each for each in job.supports if each.body != "shell"))
    assert [each for each in asked_before(none, front_unit) if "prop under" in each or "prop for" in each] == []
    back = [each.items for each in boxes(none, front_unit.stages[7], System.METRIC) if each.heading == "Back in"]
    assert back == [("vehicle down slowly, bolts by hand first", "stands away only when torqued")]
    assert asked_before(replace(none, lift=None), front_unit)[-1] == "prop under the heavy end set"


def test_what_a_vehicle_stands_on_that_is_set_down_itself_is_no_prop(front_unit: Assessment) -> None:
    job = front_unit.job
    itself = replace(job, supports=tuple(replace(each, body="shell", standby=False) for each in job.supports))
    assert asked_before(itself, front_unit)[-1] == "stands by tag, locks in"


def test_the_steering_is_left_out_only_where_all_that_comes_out_is_behind_it(front_unit: Assessment) -> None:
    (path,) = shipped("demo", "battery-pack-stands.toml")
    pack = assess(loadplan.read_job(path))
    steering = "steering shaft parted, wheel locked"
    assert steering in asked_before(front_unit.job, front_unit)
    assert steering not in asked_before(pack.job, pack)
    assert "axle shafts, knuckles, calipers tied up" in asked_before(pack.job, pack)
    bodies = {each.name: each for each in pack.job.vehicle.bodies}
    taken = tuple(replace(each, off=("glass",)) for each in pack.job.stages[:1])
    reached = tuple(
        replace(bodies["battery pack"], outline=outline)
        for outline in ((), ((-0.3, 0.6), (-0.3, -0.6), (-2.4, -0.6), (-2.4, 0.6)))
    )
    for job in (
        replace(pack.job, lift=None),
        replace(pack.job, stages=taken),
        *(replace(pack.job, vehicle=replace(pack.job.vehicle, bodies=(bodies["shell"], each))) for each in reached),
    ):
        assert steering in asked_before(job, pack)


def in_order(assessment: Assessment, step: int, *parts_of_lines: str) -> bool:
    """Return whether each is a part of one line only, and these lines stand in this order."""
    lines = [line for part in parts(assessment, step) for line in part.lines]
    at = [[place for place, line in enumerate(lines) if each in line] for each in parts_of_lines]
    assert all(len(each) == 1 for each in at), dict(zip(parts_of_lines, at, strict=True))
    return at == sorted(at)


def test_what_stood_under_the_vehicle_on_the_lift_goes_before_another_comes_to_its_place(
    front_unit: Assessment,
) -> None:
    assert in_order(front_unit, 2, "Take away: tail stand", "tail prop: bring it up", "At touch: every saddle")
    assert in_order(front_unit, 6, "Take away: tail prop", "tail stand: bring it up", "At touch: every saddle")


def test_the_lift_has_to_hold_the_vehicle_before_the_step_and_after_it(front_unit: Assessment) -> None:
    raised = front_unit.stages[2]
    arms = [each for each in raised.state.supports if each.is_arm]
    brought = replace(raised.state.stage, in_place=("tail prop", "bay 2"))
    none = tuple(each for each in raised.state.supports if each not in arms)
    for state in (replace(raised.state, stage=brought), replace(raised.state, supports=none)):
        changed = replace(front_unit, stages=(replace(raised, state=state),))
        assert in_order(changed, 0, "tail prop: bring it up", "Take away: tail stand")


def test_what_carries_the_vehicle_waits_for_another_that_comes_elsewhere(front_unit: Assessment) -> None:
    *stands, low, tall = front_unit.job.supports
    supports = (*stands, replace(low, standby=False), replace(tall, at=(-4.0, 0.3, 0.4)))
    moved = replace(front_unit, job=replace(front_unit.job, supports=supports))
    assert in_order(moved, 2, "tail prop: bring it up", "Take away: tail stand")
    same = replace(front_unit, job=replace(front_unit.job, supports=(*supports[:-1], front_unit.job.supports[-1])))
    assert in_order(same, 2, "Take away: tail stand", "tail prop: bring it up")


def test_other_stands_go_last_and_where_a_step_only_clears_its_order_stays(front_unit: Assessment) -> None:
    """The usual box that comes before it says: stands away, then the prop."""
    assert in_order(front_unit, 3, "Take off, in any order: gearbox", "Take away: F")
    away = ("A", "B", "C", "D", "E", "F", "tail stand")
    assert in_order(front_unit, 8, *(f"Take away: {each}" for each in away))
    last = front_unit.stages[8]
    with_more = replace(last.state, stage=replace(last.state.stage, done_up=("cradle bolts",)))
    both = replace(front_unit, stages=(replace(last, state=with_more),))
    assert in_order(
        both, 0, "Take away: tail stand", "Tighten: cradle bolts", *(f"Take away: {each}" for each in away[:6])
    )


def test_where_joints_are_undone_stands_are_felt_at_when_the_vehicle_is_up(front_unit: Assessment) -> None:
    lines = [line for part in parts(front_unit, 1) for line in part.lines]
    assert [line for line in lines if line.startswith("At touch")] == [
        "At touch: every saddle fully home",
        "At touch: lift on its locks",
    ]
    felt = "50 mm up: no stand turns by hand: A, B, C, D, E, F"
    assert in_order(
        front_unit, 1, "At touch: lift", "order: gearbox mount", "50 mm up: stop", felt, "50 mm up: look again"
    )


def test_a_stand_that_just_touches_the_vehicle_is_brought_up_when_that_is_up(front_unit: Assessment) -> None:
    assert in_order(front_unit, 1, "order: gearbox mount", "50 mm up: look again", "tail stand: bring it up")
    props = tuple(replace(each, standby=False) for each in front_unit.job.supports)
    needed = replace(front_unit, job=replace(front_unit.job, supports=props))
    assert in_order(needed, 1, "tail stand: bring it up", "order: gearbox mount", "50 mm up: look again")


def test_stands_that_a_part_loads_are_felt_at_when_it_is_on(front_unit: Assessment) -> None:
    assert in_order(front_unit, 5, "F: set it", "At touch: every saddle", "Put on: gearbox", "no stand turns by hand")
    (felt,) = [part for part in parts(front_unit, 5) if any("no stand turns" in line for line in part.lines)]
    assert felt.stops


def test_a_joint_that_does_not_tie_the_vehicle_is_undone_before_a_stand_is_felt_at(front_unit: Assessment) -> None:
    touched = front_unit.stages[0]
    (inner,) = [each.name for each in front_unit.job.vehicle.joints if "shell" not in each.between][:1]
    undoing = replace(touched.state, stage=replace(touched.state.stage, undone=(inner,)))
    changed = replace(front_unit, stages=(replace(touched, state=undoing),))
    assert in_order(changed, 0, "At touch: every saddle", f"Undo: {inner}", "At touch: no stand turns by hand")


def test_what_hangs_from_the_vehicle_is_unhooked_before_that_goes_up(front_unit: Assessment) -> None:
    job, let_go = front_unit.job, front_unit.stages[1]
    supports = tuple(replace(each, on="shell" if each.name == "E" else each.on) for each in job.supports)
    away = replace(let_go.state, stage=replace(let_go.state.stage, cleared=("E", "F")))
    hung = replace(front_unit, job=replace(job, supports=supports), stages=(replace(let_go, state=away),))
    assert in_order(hung, 0, "order: gearbox mount", "Take away: E", "50 mm up: stop", "Take away: F")
