"""Parts, points, bolts and mounts made and changed on the page; the file that other jobs use stays as it is."""

from pathlib import Path
from typing import Any

import pytest

from loadplan.files import read_job, shipped_vehicles
from tests.board.desk import Page, opened, page_on

VAN = "van-longitudinal-diesel-rwd"


def _thing(page: Page, what: str, name: str) -> tuple[int, dict[str, Any]]:
    rows = page.seen["vehicle_form"][what]
    return next((number, each) for number, each in enumerate(rows) if each["name"] == name)


def test_taking_the_vehicle_in_changes_no_number(page: Page) -> None:
    before, van = page.draft.job, dict(shipped_vehicles())[VAN].read_bytes()
    assert page.seen["vehicle_form"]["own"] is False
    row, _ = _thing(page, "point", "cradle front left")
    page.change("thing", what="point", item=row, fields={"say": "on the flat, not on the lip"})
    after = page.draft.job
    assert page.seen["vehicle_form"]["own"] is True
    assert after.vehicle.points[row].say == "on the flat, not on the lip"
    assert (after.vehicle.parts, after.vehicle.joints, after.vehicle.bodies) == (
        before.vehicle.parts,
        before.vehicle.joints,
        before.vehicle.bodies,
    )
    assert (after.vehicle.name, after.vehicle.example) == (before.vehicle.name, before.vehicle.example)
    assert dict(shipped_vehicles())[VAN].read_bytes() == van
    page.seen = page.post("undo").json()
    assert page.draft.job == before
    assert page.seen["vehicle_form"]["own"] is False


def test_a_part_is_weighed_otherwise_and_only_what_was_typed_changes(page: Page) -> None:
    row, form = _thing(page, "part", page.seen["vehicle_form"]["part"][1]["name"])
    was = page.draft.job.vehicle.parts[row]
    page.change("thing", what="part", item=row, fields={"mass": "22 lb", "mass_pm": "5 %", "z": "600"})
    now = page.draft.job.vehicle.parts[row]
    assert now.mass == pytest.approx(22 * 0.45359237, abs=1e-5)
    assert now.mass_pm == pytest.approx(0.05 * now.mass)
    assert now.at == pytest.approx((was.at[0], was.at[1], 0.6))
    assert form["name"] == now.name


def test_a_name_is_changed_wherever_it_stands(page: Page) -> None:
    row, _ = _thing(page, "point", "cradle front left")
    page.change("thing", what="point", item=row, fields={"name": 'the "flat" one'})
    assert page.draft.job.supports[0].point == 'the "flat" one'
    sill, _ = _thing(page, "point", "sill front left")
    page.change("thing", what="point", item=sill, fields={"name": "pad 1"})
    assert page.draft.job.lift is not None
    assert page.draft.job.lift.arms[0].point == "pad 1"
    part = page.draft.job.stages[3].off[0]
    number, _ = _thing(page, "part", part)
    page.change("thing", what="part", item=number, fields={"name": "the first"})
    assert "the first" in page.draft.job.stages[3].off
    joint = next(each for each in page.draft.job.stages[1].undone)
    number, _ = _thing(page, "joint", joint)
    page.change("thing", what="joint", item=number, fields={"name": "the bolts"})
    assert "the bolts" in page.draft.job.stages[1].undone


def test_things_are_made_and_taken_out_again(page: Page) -> None:
    said = {"name": "jacking place", "body": "cradle", "x": "100", "y": "-50", "z": "205", "limit": "6000 N"}
    page.change("thing", what="point", fields=said)
    point = page.draft.job.vehicle.points[-1]
    assert (point.name, point.body, point.limit) == ("jacking place", "cradle", pytest.approx(6000))
    assert point.at == pytest.approx((0.1, -0.05, 0.205))
    text = page.draft.text
    mount = {"name": "rod", "kind": "mount", "first": "powertrain", "second": "cradle", "x": "0", "y": "0", "z": "300"}
    page.change("thing", what="joint", fields={**mount, "stiffness": "300"})
    assert page.draft.job.vehicle.joints[-1].between == ("powertrain", "cradle")
    page.change("drop_thing", what="joint", item=len(page.draft.job.vehicle.joints) - 1)
    assert page.draft.text.split() == text.split()
    page.change(
        "thing", what="part", fields={"name": "pump", "body": "powertrain", "mass": "4", "x": "0", "y": "0", "z": "500"}
    )
    assert page.draft.job.vehicle.parts[-1].mass == pytest.approx(4)


@pytest.mark.parametrize(
    ("what", "fields", "says"),
    [
        ("part", {"name": "pump"}, "is missing"),
        ("part", {"name": "pump", "body": "nowhere", "mass": "1", "x": "0"}, "nowhere"),
        ("point", {"limit": "much"}, "Not taken"),
        ("point", {"outline": "1"}, "not understood"),
        ("joint", {"name": " ", "kind": "mount"}, "name of one line"),
    ],
)
def test_what_is_wrong_is_told_and_changes_nothing(page: Page, what: str, fields: dict[str, str], says: str) -> None:
    before = page.draft.text
    assert says in page.refused("thing", what=what, fields=fields)
    assert page.draft.text == before


def test_a_point_that_a_stand_is_under_is_not_taken_out(page: Page) -> None:
    row, _ = _thing(page, "point", "cradle front left")
    assert "cradle front left" in page.refused("drop_thing", what="point", item=row)


def test_what_was_made_is_saved_in_the_plan_alone(page: Page) -> None:
    row, _ = _thing(page, "point", "cradle front left")
    page.change("thing", what="point", item=row, fields={"limit": "5 kN"})
    names = sorted(each.name for each in page.path.parent.glob("*.toml"))
    assert page.post("save", sure=True).status_code == 200
    assert sorted(each.name for each in page.path.parent.glob("*.toml")) == names
    assert read_job(page.path).vehicle.points[row].limit == pytest.approx(5000)
    assert "# The vehicle, taken from" in page.path.read_text("utf-8")


def test_a_plan_in_other_units_than_its_vehicle_takes_it_in_with_its_units(tmp_path: Path) -> None:
    page_on(tmp_path)
    path = tmp_path / "inches.toml"
    (tmp_path / "own.toml").write_bytes(dict(shipped_vehicles())[VAN].read_bytes())
    path.write_text(
        'schema = "loadplan-job-1"\nunits = "us"\nvehicle = "own.toml"\nshop = "shop.toml"\n\n'
        '[lift]\nuse = "bay 2"\nbody = "shell"\ncolumns = -70\n'
        'pads = ["sill front left", "sill front right", "sill rear left", "sill rear right"]\nin_place = true\n\n'
        '[[stage]]\nname = "up"\n',
        "utf-8",
    )
    other = opened(tmp_path, path)
    before = other.draft.job.vehicle
    row, _ = _thing(other, "point", "cradle front left")
    other.change("thing", what="point", item=row, fields={"x": "12"})
    after = other.draft.job.vehicle
    assert after.points[row].at[0] == pytest.approx(0.3048)
    assert (after.parts, after.bodies, after.joints) == (before.parts, before.bodies, before.joints)
    assert 'mass = "560 kg"' in other.draft.text
    assert "# Two legs and a bridge between them" in other.draft.text
    other.post("save", sure=True)
    assert read_job(path).vehicle == after


def test_while_weights_are_tried_out_the_vehicle_stays(page: Page) -> None:
    page.change("mass", part=0, text="500")
    assert "tried out" in page.refused("thing", what="part", item=0, fields={"name": "another"})
    assert page.show()["what_if"]
    page.change("as_given")
    page.change("thing", what="part", item=0, fields={"name": "another"})
    assert page.draft.job.vehicle.parts[0].name == "another"


def test_a_vehicle_whose_tables_cannot_be_moved_is_refused(tmp_path: Path) -> None:
    page_on(tmp_path)
    (tmp_path / "odd.toml").write_text(
        'schema = "loadplan-vehicle-1"\nunits = "metric"\nbody = [{ name = "frame" }]\n'
        'part = [{ name = "beam", body = "frame", mass = 100, at = [0, 0, 300] }]\n\n'
        '[[point]]\nname = "middle"\nbody = "frame"\nat = [0, 0, 200]\n',
        "utf-8",
    )
    path = tmp_path / "job.toml"
    path.write_text(
        'schema = "loadplan-job-1"\nunits = "metric"\nvehicle = "odd.toml"\nshop = "shop.toml"\n\n'
        '[[support]]\nname = "A"\nuse = "ratchet stand 3 t"\nunder = "middle"\n\n'
        '[[stage]]\nname = "up"\nin_place = ["A"]\n',
        "utf-8",
    )
    other = opened(tmp_path, path)
    before = other.draft.text
    assert other.refused("thing", what="point", item=0, fields={"say": "here"})
    assert other.draft.text == before
