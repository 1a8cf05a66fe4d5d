"""How far a unit sinks when it is parted from the vehicle on the lift."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from loadplan.model.job import Job, Stage, Support
from tests.statics import builders as make
from tests.statics.lifted import BOLTS, CORNERS, MOUNTS, PARTED, lifted

IN = tuple("ABCD")
LOOSE = Stage("parted", undone=("bolts",))


def drop(level: float, *, bolted: bool = False, gaps: bool = False) -> float | None:
    """Drop told where the lift was lowered by some level [m]."""
    supports = [
        make.support(name, at, height=0.350 - (0.0004 if gaps and name == "C" else 0.0))
        for name, at in zip(IN, CORNERS, strict=True)
    ]
    job = lifted(
        [Stage("down", IN, lowered=level), LOOSE if bolted else PARTED],
        supports=supports,
        joints=BOLTS if bolted else MOUNTS,
    )
    told = make.solved(job)[0].set_down
    assert told is not None
    return told.drop


def test_lowered_far_enough_nothing_drops() -> None:
    assert drop(0.05) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("bolted", [False, True])
def test_the_less_it_was_lowered_the_further_it_drops(bolted: bool) -> None:  # noqa: FBT001
    found = [drop(level, bolted=bolted) for level in (0.0, 0.002, 0.004, 0.006)]
    assert all(each is not None for each in found)
    assert found == sorted(found, reverse=True)  # type: ignore[type-var]
    assert (found[0] or 0.0) > 1e-4


@pytest.mark.parametrize("gaps", [False, True])
def test_at_first_touch_it_drops_onto_the_stands_by_what_they_give_and_the_gaps(gaps: bool) -> None:  # noqa: FBT001
    """Held against the two stages themselves: each place over a stand before and after."""
    supports = [
        make.support(name, at, height=0.350 - (0.0004 if gaps and name == "C" else 0.0))
        for name, at in zip(IN, CORNERS, strict=True)
    ]
    job = lifted([Stage("down", IN, lowered=0.0), LOOSE], supports=supports, joints=BOLTS)
    before, after = (next(each.motion for each in told.bodies if each.name == "unit") for told in make.solved(job))
    assert before is not None
    assert after is not None
    falls = [before.up_at(*at) - after.up_at(*at) for at in CORNERS]
    assert drop(0.0, bolted=True, gaps=gaps) == pytest.approx(max(*falls, 0.0), abs=1e-9)
    assert np.max(falls) > 0


def test_a_unit_that_would_not_stand_alone_has_no_drop() -> None:
    supports = [replace(each, at=(each.at[0] + 2.0, *each.at[1:])) for each in make.stands(CORNERS)]
    told = make.solved(lifted([Stage("down", IN, lowered=0.0), PARTED], supports=supports))[0].set_down
    assert told is not None
    assert told.drop is None


def hung_on_a_cradle(stands: Sequence[Support]) -> Job:
    """A cradle bolted to the shell, the unit on four mounts to the cradle: parted, both come down together."""
    cradle = make.part((0.0, 0.0, 0.3), 40.0, name="cradle", body="cradle")
    joints = [
        *(replace(each, between=("unit", "cradle")) for each in MOUNTS),
        make.mount("fourth", (-0.1, 0.3), ("unit", "cradle"), stiffness=9e4),
        make.bolts("bolts", ("cradle", "shell")),
    ]
    stages = [Stage("down", tuple(each.name for each in stands), lowered=0.0), LOOSE]
    job = lifted(stages, supports=stands, joints=joints)
    vehicle = make.job([*job.vehicle.parts, cradle], joints=joints).vehicle
    return replace(job, vehicle=vehicle, bodies=("unit", "cradle", "shell"))


def test_mounts_inside_the_unit_keep_what_they_carry() -> None:
    """Held against the two stages themselves: a stand of the unit's own bears the more, the less its mounts carry."""
    own = make.support("own", (0.25, 0.1), height=0.35)
    stands = [make.support(name, at, body="cradle", height=0.35) for name, at in zip(IN, CORNERS, strict=True)]
    before, after = make.solved(hung_on_a_cradle([*stands, own]))
    assert before.set_down is not None
    hung, stood = (next(each.motion for each in told.bodies if each.name == "cradle") for told in (before, after))
    assert hung is not None
    assert stood is not None
    falls = [hung.up_at(*at) - stood.up_at(*at) for at in CORNERS]
    unit = [next(each.motion for each in told.bodies if each.name == "unit") for told in (before, after)]
    falls.append(unit[0].up_at(0.25, 0.1) - unit[1].up_at(0.25, 0.1))  # type: ignore[union-attr]
    assert before.set_down.drop == pytest.approx(max(falls), abs=1e-9)
    assert before.set_down.bodies == ("unit", "cradle")


def test_where_one_of_two_parted_bodies_would_not_stand_there_is_no_drop() -> None:
    """The cradle stands, the unit beside it, tied to the shell alone, does not."""
    cradle = make.part((-1.0, 0.0, 0.3), 40.0, name="cradle", body="cradle")
    supports = [make.support(name, (x - 1.0, y), body="cradle") for name, (x, y) in zip(IN, CORNERS, strict=True)]
    joints = [*MOUNTS, make.bolts("bolts", ("cradle", "shell"))]
    parted = Stage("parted", undone=("bolts", *(each.name for each in MOUNTS)))
    job = lifted([Stage("down", IN, lowered=0.0), parted], supports=supports, joints=joints)
    vehicle = make.job([*job.vehicle.parts, cradle], joints=joints).vehicle
    told = make.solved(replace(job, vehicle=vehicle, bodies=("unit", "cradle", "shell")))[0].set_down
    assert told is not None
    assert told.drop is None
