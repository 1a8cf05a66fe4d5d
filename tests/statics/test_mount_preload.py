"""What the mounts carry while the vehicle is whole."""

from dataclasses import replace

import pytest

from loadplan.model.job import Stage
from loadplan.statics.mount_preload import mount_preload
from tests.statics import builders as make
from tests.statics.lifted import BOLTS, MOUNTS, PADS, lifted


def test_three_mounts_carry_what_balance_asks() -> None:
    """By hand: at (0.2, ±0.35) and (-0.25, 0) carry 300 kg at (0.02, 0.01).

    The third: moments about x = 0.2: 0.18 / 0.45 of the weight; the others share the rest by y.
    """
    weight = make.newton(300.0)
    third = weight * 0.18 / 0.45
    left = (weight - third) / 2 + weight * 0.01 / 0.7
    wanted = {"mount 0": left, "mount 1": weight - third - left, "mount 2": third}
    assert mount_preload(lifted([Stage("any")])) == pytest.approx(wanted)


def test_the_force_pulls_up_the_first_body_of_a_mount() -> None:
    """Written the other way round, the shell is the first, and is pulled down."""
    turned = [replace(each, between=("shell", "unit")) for each in MOUNTS]
    as_written, other = mount_preload(lifted([Stage("any")])), mount_preload(lifted([Stage("any")], joints=turned))
    assert other == pytest.approx({name: -force for name, force in as_written.items()})


def test_four_mounts_share_by_the_least_energy() -> None:
    """Corners of a square under the weight: by stiffness, since all are stretched alike; by hand k / Sum k."""
    stiffness = (1e5, 2e5, 1e5, 2e5)
    joints = [
        make.mount(name, at, ("unit", "shell"), stiffness=k)
        for name, at, k in zip("wxyz", make.SQUARE, stiffness, strict=True)
    ]
    found = mount_preload(lifted([Stage("any")], joints=joints, at=(0.0, 0.0)))
    assert [found[name] / make.newton(300.0) for name in "wxyz"] == pytest.approx([1 / 6, 1 / 3, 1 / 6, 1 / 3])


def test_parts_off_and_joints_undone_in_the_first_stage_do_not_matter() -> None:
    first = Stage("first", undone=("mount 0",))
    assert mount_preload(lifted([first])) == mount_preload(lifted([Stage("any")]))


def test_without_a_lift_mounts_carry_nothing_in_the_files_attitude() -> None:
    assert mount_preload(replace(lifted([Stage("any")]), lift=None)) == {}


def test_bolts_alone_leave_no_mount_force() -> None:
    assert mount_preload(lifted([Stage("any")], joints=BOLTS)) == {}


@pytest.mark.parametrize("count", [1, 2])
def test_what_swings_on_too_few_mounts_does_not_hang_determinately(count: int) -> None:
    assert mount_preload(lifted([Stage("any")], joints=MOUNTS[:count])) == {}


def test_a_body_that_is_tied_to_nothing_does_not_hang() -> None:
    assert mount_preload(lifted([Stage("any")], joints=[])) == {}


def test_a_lift_whose_body_is_left_out_holds_nothing() -> None:
    """It may stand in the file, as long as no stage puts it in place."""
    job = replace(lifted([Stage("any")]), bodies=("unit",), lift=make.lift_use(PADS, in_place=False))
    assert mount_preload(job) == {}


def test_three_mounts_in_a_line_hold_nothing() -> None:
    joints = [make.mount(f"mount {number}", (0.2 * number, 0.0), ("unit", "shell")) for number in range(3)]
    assert mount_preload(lifted([Stage("any")], joints=joints)) == {}


def test_whatever_its_place_among_the_bodies_the_lifts_is_the_one_held() -> None:
    """A pack on three mounts of its own, told before or after: each carries as if alone."""
    pack = make.part((-1.0, 0.1, 0.3), 90.0, name="pack", body="pack")
    own = [
        make.mount(f"pack {number}", at, ("pack", "shell"))
        for number, at in enumerate([(-0.8, 0.0), (-1.2, 0.3), (-1.2, -0.3)])
    ]
    job = lifted([Stage("any")], joints=[*MOUNTS, *own])
    alone = mount_preload(lifted([Stage("any")]))
    for bodies in (("unit", "shell", "pack"), ("shell", "pack", "unit"), ("pack", "unit", "shell")):
        vehicle = make.job([*job.vehicle.parts, pack], joints=job.vehicle.joints).vehicle
        found = mount_preload(replace(job, vehicle=vehicle, bodies=bodies))
        assert {name: found[name] for name in alone} == pytest.approx(alone)
        assert sum(found[each.name] for each in own) == pytest.approx(make.newton(90.0))
