"""How far out the holes of an undone joint are."""

from dataclasses import replace
from math import sqrt

import pytest

from loadplan.model.answer import Miss, Motion
from loadplan.model.job import Job, Stage
from loadplan.statics.equilibrium import frames
from loadplan.statics.mass import lumps
from loadplan.statics.misalignment import misses
from tests.statics import builders as make
from tests.statics.lifted import PADS

LEVEL = Motion(-0.003, 0.0, 0.0)
TILTED = Motion(-0.003, 0.01, 0.02)
HIGH = ((0.4, 0.3, 0.7),)


def made(*joints: make.Joint, lift: bool = True, bodies: tuple[str, ...] = (), **stage: tuple[str, ...]) -> Job:
    """A unit on four stands (saddles at 0.2), a cradle on four more, a shell on the lift; all joints undone."""
    parts = [make.part(name=name, body=name) for name in ("unit", "cradle", "shell")]
    supports = [
        *make.stands(make.SQUARE),
        *(make.support(f"c{n}", (*at, 0.1), body="cradle") for n, at in enumerate(make.SQUARE)),
    ]
    undone = stage.pop("undone", tuple(each.name for each in joints))
    held = ("c0", "c1", "c2", "c3") if "cradle" in (bodies or ("cradle",)) else ()
    standing = tuple("ABCD") + held
    return make.job(
        parts,
        supports,
        joints=joints,
        bodies=bodies,
        lift=make.lift_use(PADS) if lift else None,
        stages=[Stage("apart", in_place=standing, undone=undone, **stage)],
    )


def found(job: Job, **motions: Motion) -> dict[str, Miss]:
    state = make.state(job)
    told = misses(job, state, frames(state, lumps(job, state)), motions)
    return {each.joint: each for each in told}


def test_a_tilt_moves_a_high_hole_aside_and_up() -> None:
    """By hand, over the mean saddle at 0.2: ry · 0.5 forward, −rx · 0.5 to the left, and u up; no drop here."""
    joint = make.bolts("bolts", ("unit", "cradle"), HIGH)
    miss = found(made(joint, lift=False), unit=TILTED, cradle=LEVEL)["bolts"]
    up = (-0.003 + 0.01 * 0.3 - 0.02 * 0.4) + 0.003
    assert miss.offset == pytest.approx((0.02 * 0.5, -0.01 * 0.5, up))
    assert miss.miss == pytest.approx(sqrt(0.01**2 + 0.005**2 + up**2))


def test_where_both_tilt_the_difference_is_out() -> None:
    """The cradle turns about its own saddles at 0.1: 0.6 under the holes, where the unit's are 0.5."""
    joint = make.bolts("bolts", ("unit", "cradle"), ((0.0, 0.0, 0.7),))
    miss = found(made(joint, lift=False), unit=Motion(0.0, 0.01, 0.02), cradle=Motion(0.0, -0.03, -0.01))["bolts"]
    assert miss.offset == pytest.approx((0.02 * 0.5 + 0.01 * 0.6, -0.01 * 0.5 - 0.03 * 0.6, 0.0))


def test_the_lift_comes_down_to_meet_the_unit() -> None:
    """All of it 3 mm lower: nothing is out; written either way round."""
    ways = [make.bolts("one", ("unit", "shell"), HIGH), make.bolts("other", ("shell", "unit"), HIGH)]
    told = found(made(*ways), unit=LEVEL, shell=TILTED)
    assert told["one"].miss == pytest.approx(0.0, abs=1e-15)
    assert told["other"].miss == pytest.approx(0.0, abs=1e-15)


def test_what_is_taken_out_is_the_mean_over_the_joints_to_the_shell() -> None:
    """Two mounts 1 m apart along x on a unit nose down by 0.01: each 5 mm off the mean, one up, one down."""
    joints = [make.mount(name, (x, 0.0, 0.2), ("unit", "shell")) for name, x in (("front", 0.5), ("rear", -0.5))]
    told = found(made(*joints), unit=Motion(-0.003, 0.0, 0.01))
    assert told["front"].offset == pytest.approx((0.0, 0.0, -0.005))
    assert told["rear"].offset == pytest.approx((0.0, 0.0, 0.005))


def test_of_a_bolted_joint_the_worst_place_counts() -> None:
    joint = make.bolts("bolts", ("unit", "cradle"), ((0.0, 0.0, 0.2), (0.4, 0.0, 0.2), (0.2, 0.0, 0.2)))
    miss = found(made(joint, lift=False), unit=Motion(0.0, 0.0, 0.01), cradle=Motion(0.0, 0.0, 0.0))["bolts"]
    assert miss.offset == pytest.approx((0.0, 0.0, -0.004))


def test_bodies_left_out_stand_still() -> None:
    """Their joints are undone before the first stage, and stay so."""
    joint = make.mount("mount", (0.0, 0.0, 0.7), ("unit", "shell"))
    job = made(joint, lift=False, bodies=("unit", "cradle"), undone=())
    miss = found(job, unit=TILTED, cradle=LEVEL)["mount"]
    assert miss.offset == pytest.approx((0.01, -0.005, 0.0))


def test_all_that_is_bolted_to_the_body_on_the_lift_stands_still_with_it() -> None:
    held = make.bolts("held", ("cradle", "shell"))
    joint = make.bolts("bolts", ("unit", "cradle"), HIGH)
    miss = found(made(held, joint, undone=("bolts",)), unit=LEVEL, cradle=TILTED, shell=TILTED)["bolts"]
    assert miss.miss == pytest.approx(0.0, abs=1e-15)


def test_between_two_that_stand_still_nothing_is_out() -> None:
    job = made(make.bolts("bolts", ("cradle", "shell"), HIGH), bodies=("unit", "shell"), undone=())
    assert found(job, unit=LEVEL)["bolts"].offset == (0.0, 0.0, 0.0)


def test_a_body_on_mounts_alone_turns_about_their_mean_height() -> None:
    """No saddle of its own: mounts at 0.4 and 0.6, so a hole at 0.7 is 0.2 over their mean."""
    mounts = [make.mount("m1", (0.2, 0.2, 0.4)), make.mount("m2", (0.2, -0.2, 0.4)), make.mount("m3", (-0.2, 0.0, 0.7))]
    joint = make.bolts("bolts", ("unit", "shell"), HIGH)
    job = made(*mounts, joint, undone=("bolts",))
    job = replace(job, stages=(replace(job.stages[0], in_place=("c0", "c1", "c2", "c3")),))
    miss = found(job, unit=Motion(0.0, 0.0, 0.01), cradle=LEVEL)["bolts"]
    assert miss.offset == pytest.approx((0.01 * 0.2, 0.0, 0.0))


def test_nothing_is_said_where_a_body_does_not_stand_or_a_joint_has_no_place() -> None:
    placed, bare = make.bolts("placed", ("unit", "shell"), HIGH), make.bolts("bare", ("unit", "shell"))
    assert list(found(made(placed, bare), unit=LEVEL)) == ["placed"]
    assert found(made(placed, bare)) == {}


def test_a_joint_that_is_done_up_or_whose_body_is_gone_is_not_asked_about() -> None:
    joint = make.bolts("bolts", ("unit", "shell"), HIGH)
    assert found(made(joint, undone=()), unit=LEVEL) == {}
    gone = make.bolts("gone", ("cradle", "shell"), HIGH)
    job = made(gone, undone=(), off=("cradle",))
    job = replace(job, stages=(replace(job.stages[0], in_place=tuple("ABCD")),))
    assert found(job, unit=LEVEL) == {}
