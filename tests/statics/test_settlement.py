"""Settlement: how far places sink from one stage to the next, by hand."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job, Stage
from loadplan.model.step_change import Drop
from tests.statics import builders as make
from tests.statics.lifted import CORNERS, lifted

STIFF = make.STAND.stiffness
THREE = ((0.5, 0.5), (0.5, -0.5), (-0.5, 0.0))
REAR = (-0.25, 0.0)
WEIGHT = make.newton(300.0)


def told(job: Job, stage: int = -1) -> dict[str, Drop]:
    return {each.place: each for each in make.solved(job)[stage].change.drops}


def falls(job: Job, stage: int = -1) -> dict[str, float]:
    return {name: each.fall for name, each in told(job, stage).items()}


def test_a_weight_put_on_over_one_of_three_stands_lets_that_one_sink_by_what_it_gives() -> None:
    """40 kg over a stand of 1000 N/mm: 0.39 mm there, nothing at the others; off again, it rises by as much."""
    parts = [make.part(), make.part(THREE[2], 40.0, name="tail")]
    stages = [
        Stage("down", in_place=tuple("ABC")),
        Stage("tail off", off=("tail",)),
        Stage("tail on", on=("tail",)),
        Stage("later"),
    ]
    job = make.job(parts, make.stands(THREE), stages=stages)
    gives = make.newton(40.0) / STIFF
    assert falls(job, 0) == {}
    assert falls(job, 1) == pytest.approx({"A": 0.0, "B": 0.0, "C": -gives}, abs=1e-12)
    assert falls(job, 2) == pytest.approx({"A": 0.0, "B": 0.0, "C": gives}, abs=1e-12)
    assert falls(job, 3) == pytest.approx({"A": 0.0, "B": 0.0, "C": 0.0}, abs=1e-12)


def two_stands_and_a_mount(*last: Stage) -> Job:
    """A unit on two stands and one mount to the vehicle on the lift; then a third stand under the mount."""
    supports = [*make.stands(CORNERS[:2]), make.support("C", REAR)]
    joints = [make.mount("mount", REAR, ("unit", "shell"))]
    stages = [Stage("down", in_place=("A", "B"), lowered=0.002), *last]
    return lifted(stages, supports=supports, joints=joints)


def test_a_stand_run_up_under_a_mount_sinks_by_what_the_mount_has_held() -> None:
    """By moments about the two stands the mount holds W (0.3 - 0.02) / 0.55; the stand of 1000 N/mm takes all of it."""
    job = two_stands_and_a_mount(Stage("parted", in_place=("C",), undone=("mount",)))
    held = WEIGHT * (0.3 - 0.02) / (0.3 + 0.25)
    before = make.solved(job)[0]
    assert before.joint_force("mount") == pytest.approx(held)
    assert falls(job) == pytest.approx({"A": 0.0, "B": 0.0, "C": held / STIFF, "mount": held / STIFF}, abs=1e-9)


def test_what_still_hangs_on_the_lift_has_no_drop() -> None:
    job = two_stands_and_a_mount(Stage("stand C", in_place=("C",)))
    assert falls(job, 0) == falls(job, 1) == {}


def test_a_stand_that_is_taken_away_lets_its_place_sink() -> None:
    """Four equal stands with W/4 each, the centre a hair inside three of them: without the fourth its place goes down.

    The three left are determinate: A and C carry W/2 each, B next to nothing; D's place lies opposite B.
    """
    job = make.job(
        [make.part((1e-4, -1e-4))],
        make.stands(((0.5, 0.5), (0.5, -0.5), (-0.5, -0.5), (-0.5, 0.5))),
        stages=[Stage("down", in_place=tuple("ABCD")), Stage("D away", cleared=("D",))],
    )
    quarter = make.newton(100.0) / 4 / STIFF
    sunk = falls(job)
    assert sunk["A"] == pytest.approx(quarter, rel=1e-3)
    assert sunk["B"] == pytest.approx(-quarter, rel=1e-3)
    assert sunk["D"] == pytest.approx(sunk["A"] + sunk["C"] - sunk["B"], rel=1e-9)


def test_heights_set_for_the_first_time_do_not_count_as_a_drop() -> None:
    """The highest saddle gives the reference: a stand beside the others that is higher shifts it, and nothing moves."""
    supports = [make.support(name, at, height=0.35) for name, at in zip("ABC", THREE, strict=True)]
    higher = make.support("H", (0.0, 0.0), height=0.40)
    lone = [make.part(), make.part((3.0, 0.0), name="other", body="other")]
    others = [replace(higher, name=f"H{n}", body="other", at=(x, y, 0.2)) for n, (x, y) in enumerate(THREE_AWAY)]
    stages = [Stage("down", in_place=tuple("ABC")), Stage("the other", in_place=("H0", "H1", "H2"))]
    job = make.job(lone, [*supports, *others], stages=stages)
    assert {name: falls(job)[name] for name in "ABC"} == pytest.approx(dict.fromkeys("ABC", 0.0), abs=1e-12)


THREE_AWAY = ((3.5, 0.5), (3.5, -0.5), (2.5, 0.0))


def test_parted_in_the_first_stage_it_drops_from_where_the_first_stand_touches() -> None:
    """Four stands at one height under what hangs level: at first touch they carry nothing, then W/4 each."""
    pads = ((0.7, 0.7), (0.7, -0.7), (-0.7, -0.7), (-0.7, 0.7))
    parts = [make.part((0.0, 0.0), 300.0, name="unit"), make.part((0.0, 0.0), 900.0, name="shell", body="shell")]
    supports = [make.support(name, at, height=0.35) for name, at in zip("ABCD", CORNERS, strict=True)]
    job = make.job(
        parts,
        supports,
        joints=[make.bolts("bolts", ("unit", "shell"))],
        stages=[Stage("parted", tuple("ABCD"), undone=("bolts",))],
        lift=make.lift_use(pads),
    )
    assert falls(job) == pytest.approx(dict.fromkeys("ABCD", WEIGHT / 4 / STIFF), abs=1e-12)
