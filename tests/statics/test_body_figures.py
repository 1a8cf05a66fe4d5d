"""What is told of each body, and of the load on the lift."""

from math import atan, hypot

import pytest

from loadplan.model.job import Stage
from loadplan.statics.body_figures import lift_answer
from loadplan.statics.mass import lumps
from tests.statics import builders as make
from tests.statics.lifted import CORNERS, PADS, PARTED, lifted


def test_each_body_tells_its_own_mass_and_the_margins_of_its_whole() -> None:
    """Two bolted: the whole's centre is 0.1 m forward of the middle, so 0.4 m from the front edge.

    It leans forward by its height 0.3 m times W x / (4 k a² − W h), a twentieth of a millimetre.
    """
    parts = [make.part((0.3, 0.0), 100.0), make.part((-0.1, 0.0), 100.0, name="c", body="cradle")]
    job = make.job(parts, make.stands(make.SQUARE), joints=[make.bolts("bolts")])
    unit, cradle = make.solved(job)[0].bodies
    weight = make.newton(200.0)
    lean = 0.3 * weight * 0.1 / (4 * 1e6 * 0.25 - weight * 0.3)
    assert unit.lean == pytest.approx((lean, 0.0), abs=1e-12)
    assert (unit.name, unit.rigid_with, unit.mass) == ("unit", ("cradle",), pytest.approx(100.0))
    assert (unit.cg, cradle.cg) == (pytest.approx((0.3, 0.0, 0.5)), pytest.approx((-0.1, 0.0, 0.5)))
    assert (cradle.name, cradle.rigid_with) == ("cradle", ("unit",))
    assert (unit.margin, cradle.margin) == pytest.approx((0.4, 0.4))
    assert (unit.worst_margin, cradle.worst_margin) == pytest.approx((0.4 - lean,) * 2)
    assert (unit.tip_angle, cradle.tip_angle) == pytest.approx(
        (atan((0.4 - lean) / 0.3),) * 2
    )  # 0.5 m up, on saddles at 0.2 m
    assert unit.motion == cradle.motion


def test_bodies_are_told_in_the_jobs_order() -> None:
    parts = [make.part(name=name, body=name) for name in ("unit", "cradle", "shell")]
    joints = [make.bolts("bolts", ("unit", "shell"))]
    job = make.job(parts, joints=joints, bodies=("shell", "cradle", "unit"))
    told = make.solved(job)[0].bodies
    assert [each.name for each in told] == ["shell", "cradle", "unit"]
    assert not any(each.balanced for each in told)
    assert all(each.margin is None and each.motion is None for each in told)


def test_the_load_on_the_lift_and_how_far_it_moved() -> None:
    """Derived here, by moments: a vehicle without its powertrain: 913.30 kg, centre back by 0.2377 m.

    1093.30 kg at 1.15620 m behind the front axle; 180 kg, 0.05 m ahead of it, come out.
    """
    parts = [
        make.part((0.05, 0.0, 0.5), 180.0, name="u"),
        make.part(
            ((-1.15620 * 1093.30 - 0.05 * 180.0) / 913.30, 0.0, 0.6), 913.30, name="s", body="shell", mass_pm=9.0
        ),
    ]
    pads = [(-0.55, 0.7), (-0.55, -0.7), (-2.05, 0.7), (-2.05, -0.7)]
    stages = [Stage("up"), Stage("out", in_place=tuple("ABCD"), undone=("bolts",))]
    job = make.job(
        parts,
        make.stands(CORNERS),
        joints=[make.bolts("bolts", ("unit", "shell"))],
        stages=stages,
        lift=make.lift_use(pads),
    )
    up, out = make.solved(job)
    assert up.lift is not None
    assert out.lift is not None
    assert (up.lift.mass, up.lift.cg[0], up.lift.shift) == pytest.approx((1093.30, -1.15620, 0.0))
    assert (out.lift.mass, out.lift.mass_upper) == pytest.approx((913.30, 922.30))
    assert out.lift.cg[0] == pytest.approx(-1.3939, abs=5e-5)
    assert out.lift.shift == pytest.approx(0.2377, abs=5e-5)
    arms = [each.load.expected / 9.80665 for each in out.supports if each.load and each.name.startswith("pad")]
    assert arms == pytest.approx([199.7, 199.7, 256.9, 256.9], abs=0.05)


def test_the_load_may_move_aside_too() -> None:
    """By hand: 100 of 400 kg, at (0, 0.8), come out: 300 kg at (−1.2, −0.2) are left of a middle at (−0.9, 0.05)."""
    parts = [make.part((0.0, 0.8), 100.0), make.part((-1.2, -0.2), 300.0, name="s", body="shell")]
    stages = [Stage("out", undone=("bolts",))]
    joints = [make.bolts("bolts", ("unit", "shell"))]
    told = make.solved(make.job(parts, joints=joints, stages=stages, lift=make.lift_use(PADS)))[0].lift
    assert told is not None
    assert told.shift == pytest.approx(hypot(0.3, 0.25))


@pytest.mark.parametrize("stages", [(Stage("gone", cleared=("bay",)),), (PARTED, Stage("gone", cleared=("bay",)))])
def test_a_lift_that_holds_nothing_has_no_load(stages: tuple[Stage, ...]) -> None:
    job = lifted(stages)
    state = make.state(job)
    assert lift_answer(job, state, lumps(job, state)) is None


def test_how_far_a_centre_may_be_off_is_told_of_the_bodys_own() -> None:
    parts = [make.part((0.3, 0.0), at_pm=(0.01, 0.02, 0.03)), make.part(name="c", body="cradle")]
    unit, cradle = make.solved(make.job(parts, make.stands(make.SQUARE), joints=[make.bolts("bolts")]))[0].bodies
    assert unit.cg_pm == pytest.approx((0.01, 0.02, 0.03))
    assert cradle.cg_pm == pytest.approx((0.0, 0.0, 0.0))
