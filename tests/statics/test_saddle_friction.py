"""How each saddle holds sideways."""

from dataclasses import replace
from math import inf

import pytest

from loadplan.model.job import Job, Stack, Stage, Support
from loadplan.model.shop import Circle, Equipment, Heights, Square
from loadplan.statics.saddle_friction import CASTOR, grips, highest_part
from loadplan.statics.sideways_resistance import Grip
from tests.statics import builders as make

SQUARE = replace(make.STAND, base=Square(0.2, 0.3))


def grip(support: Support, reference: float | None = None) -> Grip:
    job = make.job([make.part()], [support])
    return grips(job, make.state(job), reference)[support.name]


@pytest.mark.parametrize(
    ("own", "equipment", "wanted"), [(None, None, 0.15), (None, 0.3, 0.3), (0.5, 0.3, 0.5), (0.1, 0.3, 0.1)]
)
def test_the_friction_written_nearest_counts(own: float | None, equipment: float | None, wanted: float) -> None:
    """The support's, else the equipment's, else the limit's: a bare saddle on metal, where nothing says its own."""
    use = replace(make.STAND, friction=equipment)
    found = grip(make.support("A", (0, 0), use=use, friction=own))
    assert found == Grip(wanted, inf, said=own is not None or equipment is not None)


def test_a_job_that_sets_the_friction_of_bare_saddles_has_said_it() -> None:
    job = replace(make.job([make.part()], [make.support("A", (0, 0))]), friction_said=True)
    assert grips(job, make.state(job), None)["A"] == Grip(0.15, inf, said=True)


def test_oil_is_reckoned_with_only_where_nothing_is_said() -> None:
    """Oiled steel on steel 0.05: OpenStax University Physics 1, table 6.1."""
    assert Grip(0.15, 0.4, said=False).oiled.holds == 0.05
    assert Grip(0.15, 0.02, said=False).oiled.holds == 0.02
    assert Grip(0.02, inf, said=False).oiled.holds == 0.02
    assert Grip(0.15, inf).oiled.holds == 0.15


@pytest.mark.parametrize("friction", [0.5, 0.01])
def test_castors_hold_no_more_than_they_roll(friction: float) -> None:
    found = grip(make.support("A", (0, 0), use=replace(make.STAND, wheels=True), friction=friction))
    assert found.friction == min(friction, CASTOR)


@pytest.mark.parametrize(("base", "half"), [(Square(0.2, 0.3), 0.1), (Square(0.3, 0.16), 0.08), (Circle(0.26), 0.13)])
def test_a_stand_goes_over_when_the_force_leaves_its_base(base: Square | Circle, half: float) -> None:
    """Half the shorter side over the height of the saddle with its shim."""
    use = replace(make.STAND, base=base)
    assert grip(make.support("A", (0, 0), use=use, height=0.4)).footing == pytest.approx(half / 0.4)
    shimmed = replace(make.support("A", (0, 0), use=use, height=0.4), shim=Stack(0.1, "", crib=False))
    assert grip(shimmed).footing == pytest.approx(half / 0.5)


def with_heights(use: Equipment) -> Equipment:
    return replace(use, heights=Heights(0.3, 0.5, ()))


@pytest.mark.parametrize(
    ("reference", "use", "shim", "height"),
    [
        (-0.15, SQUARE, 0.0, 0.35),
        (0.2, SQUARE, 0.0, 0.001),
        (None, with_heights(SQUARE), 0.0, 0.5),
        (None, with_heights(SQUARE), 0.05, 0.55),
        (None, SQUARE, 0.0, 0.2),
    ],
    ids=["as needed", "next to the floor", "the greatest", "with its shim", "the place's own"],
)
def test_a_height_left_out_is_the_one_needed_or_the_greatest(
    reference: float | None, use: Equipment, shim: float, height: float
) -> None:
    stack = Stack(shim, "", crib=False) if shim else None
    support = replace(make.support("A", (0, 0, 0.2), use=use), shim=stack)
    assert grip(support, reference).footing == pytest.approx(0.1 / height)


def test_an_arm_holds_by_friction_alone_and_a_hoist_not_at_all() -> None:
    arm = make.support("A", (0, 0), use=replace(make.ARM, base=Square(0.1, 0.1), friction=0.4))
    hoist = make.support("H", (0, 0), use=replace(make.HOIST, base=Square(0.1, 0.1), friction=0.4), height=0.3)
    assert grip(arm) == Grip(0.4, inf)
    assert grip(hoist) == Grip(0.0, inf)
    assert Grip(0.4, 0.1).holds == 0.1


def after(job: Job, *bodies: str) -> tuple[str, tuple[float, float, float]]:
    return highest_part(job, make.state(job), bodies)


def test_a_group_is_pushed_at_its_highest_part_still_on() -> None:
    parts = [
        make.part((0, 0, 0.9), name="top"),
        make.part((1, 0, 0.7), name="block"),
        make.part((0, 1, 0.8), name="c", body="cradle"),
    ]
    job = make.job(parts, stages=[Stage("off", off=("top",))])
    assert after(job, "unit", "cradle") == ("cradle", (0, 1, 0.8))
    assert after(job, "unit") == ("unit", (1, 0, 0.7))


def test_a_body_weighed_without_parts_is_pushed_at_its_centre() -> None:
    job = make.job([], whole={"unit": make.weighed(100.0, (0.1, 0.2, 0.3)), "other": make.weighed(1.0, (0, 0, 9.0))})
    assert after(job, "unit") == ("unit", (0.1, 0.2, 0.3))
