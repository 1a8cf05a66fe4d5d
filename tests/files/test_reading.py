"""A whole job of three files, every value compared with what was written by hand."""

from datetime import date
from math import atan, hypot
from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.limits import GRAVITY, Limits
from loadplan.model.job import Job, Pull, Stack
from loadplan.model.shop import Circle, EquipmentKind, Heights, Posts, RatedFor, Shim, Square
from loadplan.model.vehicle import Basis, JointKind, Weighed
from tests.files.builders import read, small
from tests.files.toml_text import JOBS


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(JOBS / "front-unit.toml")


def test_the_job_says_who_and_when(job: Job) -> None:
    assert job.title == "Front unit out from below, made up for tests"
    assert job.source == str(JOBS / "front-unit.toml")
    assert (job.date, job.until) == (date(2026, 11, 20), date(2026, 11, 24))
    assert job.bodies == ("shell", "subframe", "powertrain")
    assert not job.us_units
    assert job.vehicle.example


def test_limits_keep_their_defaults_unless_the_job_says_its_own(job: Job) -> None:
    assert job.limits == Limits(rating_share=0.8, margin=0.06, floor_slope=atan(0.01))


def test_what_is_known_comes_down_from_vehicle_to_body_to_part(job: Job) -> None:
    assert [body.basis for body in job.vehicle.bodies] == [Basis.DATA_SHEET, Basis.WEIGHED, Basis.GUESS]
    assert {part.name: part.basis for part in job.vehicle.parts} == {
        "body in white": Basis.WEIGHED,
        "steering rack": Basis.DATA_SHEET,
        "intake": Basis.DATA_SHEET,
        "long block": Basis.GUESS,
        "gearbox": Basis.GUESS,
    }


def test_tolerances_left_out_follow_from_what_is_known(job: Job) -> None:
    """2, 10, 20 % of the mass and 10, 25, 40 mm: weighed, data sheet, guess."""
    parts = {part.name: part for part in job.vehicle.parts}
    assert [parts[name].mass_pm for name in ("body in white", "intake", "gearbox")] == pytest.approx([23, 0.7, 18.8])
    assert [parts[name].at_pm[0] for name in ("body in white", "intake", "gearbox")] == [0.010, 0.025, 0.040]
    assert parts["steering rack"].mass_pm == 0.5
    assert parts["steering rack"].at_pm == (0.015, 0.015, 0.015)
    assert parts["long block"].mass_pm == pytest.approx(0.04 * 152)
    assert parts["long block"].at_pm == (0.015, 0.015, 0.025)
    assert parts["long block"].after == ("intake",)


def test_bodies_joints_and_points(job: Job) -> None:
    subframe = job.vehicle.bodies[1]
    assert subframe.weighed == Weighed(44, 1, (0.01, 0, 0.29), (0.008, 0.008, 0.02), date(2026, 10, 2))
    assert (subframe.bottom, subframe.top) == (0.19, 0.39)
    assert subframe.outline[0] == (0.42, 0.47)
    bolts, mount, link, rod = job.vehicle.joints
    assert (bolts.kind, len(bolts.at), bolts.stiffness) == (JointKind.BOLTED, 4, 0.0)
    assert (mount.kind, mount.at, mount.stiffness) == (JointKind.MOUNT, ((0.11, -0.48, 0.64),), 300e3)
    assert (mount.limit, mount.part) == (4000, "long block")
    assert (link.between, link.stiffness) == (("powertrain", "subframe"), 350e3)
    assert (rod.kind, rod.at, rod.to) == (JointKind.LINK, ((-0.15, -0.06, 0.3),), (-0.33, -0.06, 0.31))
    assert [point.part for point in job.vehicle.points[2:4]] == ["", "long block"]
    block = next(part for part in job.vehicle.parts if part.name == "long block")
    assert (block.bottom, block.top, block.outline[0]) == (0.24, 0.76, (0.3, -0.02))
    assert [point.limit for point in job.vehicle.points[:3]] == [6000, 6000, None]
    assert job.vehicle.points[0].say == "on the flat by the bolt, not on the sheet-metal lip"


def test_equipment_and_what_it_takes_for_granted(job: Job) -> None:
    stand, table, jack = job.shop.equipment
    assert stand.heights is not None
    assert stand.heights.settings == pytest.approx([0.29, 0.31, 0.33, 0.35, 0.37, 0.39, 0.41, 0.43])
    assert (stand.rating, stand.rated_for, stand.rating_of_one) == (29419.95, RatedFor.PAIR, 14709.975)
    assert (stand.base, stand.saddle) == (Square(0.2, 0.2), Circle(0.09))
    assert (stand.stiffness, stand.friction, stand.count, stand.out_of_use) == (2200e3, 0.3, 6, ("S4",))
    assert stand.inspected == (("S1", date(2026, 6, 2)), ("S2", date(2026, 1, 15)))
    assert (table.base, table.heights) == (Square(1.2, 0.8), Heights(0.7, 0.75, (0.7, 0.72, 0.75)))
    assert (table.kind, table.rating, table.stiffness) == (EquipmentKind.TABLE, 1000 * GRAVITY, 1500e3)
    assert (table.wheels, table.inspected, table.count) == (True, (("", date(2026, 6, 2)),), None)
    assert (jack.rating, jack.rated_for, jack.heights) == (pytest.approx(2000 * GRAVITY), RatedFor.UNSAID, None)
    assert [stand.locks, table.locks, jack.locks] == [True, True, False]
    assert job.shop.shims == (Shim(0.012, "douglas fir-larch", 8),)


def test_the_lift_gives_one_support_an_arm(job: Job) -> None:
    assert job.lift is not None
    lift = job.lift.lift
    assert (lift.rating, lift.arm_rating) == pytest.approx((4500 * GRAVITY, 1200 * GRAVITY))
    assert (lift.rise, lift.ceiling, lift.lock_step) == (1.85, 3.9, 0.09)
    assert lift.posts == Posts((1.4, -1.4), 0.3)
    assert (lift.stiffness, lift.stiffness_assumed) == (420e3, False)
    assert (job.lift.body, job.lift.columns, job.lift.in_place) == ("shell", -1.25, True)
    assert [arm.name for arm in job.lift.arms] == [
        "sill front left", "sill front right", "sill rear left", "sill rear right",
    ]  # fmt: skip
    arm = job.lift.arms[2]
    assert (arm.is_arm, arm.body, arm.at, arm.height) == (True, "shell", (-2.1, 0.76, 0.21), None)
    assert (arm.equipment.rating_of_one, arm.equipment.locks) == (lift.arm_rating, True)


def test_a_lift_that_says_less_shares_its_rating_among_its_arms(tmp_path: Path) -> None:
    lift = {key: value for key, value in small()["lift"].items() if key != "stiffness"}
    found = read(tmp_path, small(lift=lift)).lift
    assert found is not None
    assert found.lift.arm_rating == pytest.approx(1500 * GRAVITY)
    assert (found.lift.stiffness, found.lift.stiffness_assumed, found.lift.locks) == (400e3, True, False)


def test_supports_take_place_and_limit_from_their_point(job: Job) -> None:
    a, b, c, d = job.supports
    assert (a.body, a.at, a.point, a.limit) == ("subframe", (0.33, 0.42, 0.205), "subframe front left", 6000)
    assert (a.tag, a.height, a.set_height, a.shim) == ("S1", 0.35, pytest.approx(0.362), Stack(0.012, "", crib=False))
    assert (b.shim, b.friction) == (Stack(0.012, "douglas fir-larch", crib=False), 0.25)
    assert (c.body, c.at, c.point, c.limit, c.standby) == ("subframe", (-0.3, 0, 0.205), "", None, True)
    assert (d.keep, d.height, d.set_height) == (True, None, None)


def test_stages_say_what_they_change(job: Job) -> None:
    down, unbolted, off, back = job.stages
    assert (down.in_place, down.lowered, down.lift_locked) == (("A", "B", "C", "D"), 0.009, True)
    assert down.confirm == ("gearbox in neutral before the battery is unhooked",)
    assert unbolted.undone == ("subframe bolts", "engine mount")
    assert (off.off, off.any_order, off.bar, off.unattended) == (("intake", "long block"), True, True, True)
    assert off.pull == Pull("powertrain", (0.16, -0.52, 0.48), 250 / 0.6, None, (0.0, 1.0, 0.0), 0.6)
    assert (back.on, back.cleared, back.raised, back.lift_locked) == (("long block", "intake"), ("D",), None, None)


def test_a_force_has_a_direction_of_length_one(tmp_path: Path) -> None:
    pull = {"body": "unit", "at": [0, 0, 500], "force": "40 kg", "towards": [3, 0, -4]}
    found = read(tmp_path, small(stage=[{"name": "Pull", "pull": pull}])).stages[0].pull
    assert found == Pull("unit", (0, 0, 0.5), pytest.approx(40 * GRAVITY), (0.6, 0.0, -0.8), None, 0.0)
    assert hypot(*(found.towards or ())) == pytest.approx(1)


def test_standby_may_say_its_height_for_the_record(tmp_path: Path) -> None:
    support = {"name": "A", "use": "stand", "under": "front", "standby": True, "height": 300}
    found = read(tmp_path, small(support=[support])).supports[0]
    assert (found.height, found.set_height) == (0.3, None)


def test_a_name_is_found_for_everything_left_out(tmp_path: Path) -> None:
    assert read(tmp_path, small(title=None)).title == "job"
    assert read(tmp_path, small(title=None)).vehicle.name == "job"
    assert read(tmp_path, small()).vehicle.name == "small"
    assert read(tmp_path, small(name="our unit")).vehicle.name == "our unit"


def test_tags_count_the_pieces_where_nothing_else_does(tmp_path: Path) -> None:
    stand = {"name": "stand", "kind": "stand", "rating": 1500, "tags": ["S1", "S2"]}
    assert read(tmp_path, small(equipment=[stand])).shop.equipment[0].count == 2
    assert read(tmp_path, small(equipment=[stand | {"count": 5}])).shop.equipment[0].count == 5


@pytest.mark.parametrize(("kind", "locks", "stiffness"), [
    ("stand", True, 2500e3), ("table", True, 1500e3), ("jack", False, 1500e3), ("hoist", False, 1000e3),
])  # fmt: skip
def test_each_kind_of_equipment_has_its_own_defaults(tmp_path: Path, kind: str, locks: bool, stiffness: float) -> None:  # noqa: FBT001
    found = read(tmp_path, small(equipment=[{"name": "stand", "kind": kind, "rating": 1500}])).shop.equipment[0]
    assert (found.locks, found.stiffness) == (locks, stiffness)
    other = {"name": "stand", "kind": kind, "rating": 1500, "locks": not locks}
    assert read(tmp_path, small(equipment=[other])).shop.equipment[0].locks is not locks


def test_heights_may_be_stepless_or_one(tmp_path: Path) -> None:
    def heights(written: object) -> Heights | None:
        stand = {"name": "stand", "kind": "stand", "rating": 1500, "heights": written}
        return read(tmp_path, small(equipment=[stand])).shop.equipment[0].heights

    assert heights({"from": 200, "to": 400}) == Heights(0.2, 0.4, ())
    assert heights(300) == Heights(0.3, 0.3, (0.3,))
    assert heights({"from": 200, "to": 300, "step": 40}) == Heights(
        0.2, pytest.approx(0.28), pytest.approx((0.2, 0.24, 0.28))
    )


def test_a_body_weighed_whole_is_weighed_unless_it_says_less(tmp_path: Path) -> None:
    weighed = {"mass": 170, "cg": [0, 0, 500]}
    for said, basis, mass_pm in (({}, Basis.WEIGHED, 3.4), ({"known": "guess"}, Basis.GUESS, 34.0)):
        bodies = [{"name": "shell"}, {"name": "unit", "weighed": weighed, **said}]
        unit = read(tmp_path, small(body=bodies, known="data sheet")).vehicle.bodies[1]
        assert unit.basis is basis
        assert unit.weighed is not None
        assert unit.weighed.mass_pm == pytest.approx(mass_pm)
