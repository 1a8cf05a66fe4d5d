"""Assemblies made and changed on the page: corners, bottom and top, what the scales said, and their names."""

from typing import Any

import pytest

from tests.board.desk import Page

CORNERS = "300, 200\n300, -200\n-300, -200\n-300, 200"
PUMP = {
    "name": "pump unit", "outline": CORNERS, "bottom": "200", "top": "500", "known": "weighed",
    "mass": "42 kg", "mass_pm": "5 %", "cg_x": "0", "cg_y": "10", "cg_z": "350", "date": "2026-11-20",
}  # fmt: skip


def _assembly(page: Page, name: str) -> tuple[int, dict[str, Any]]:
    rows = page.seen["vehicle_form"]["body"]
    return next((number, each) for number, each in enumerate(rows) if each["name"] == name)


def test_an_assembly_is_made_weighed_whole(page: Page) -> None:
    others = page.draft.job.vehicle.bodies
    page.change("assembly", fields=PUMP)
    body = page.draft.job.vehicle.bodies[-1]
    assert page.draft.job.vehicle.bodies[:-1] == others
    assert sum(body.outline, ()) == pytest.approx((0.3, 0.2, 0.3, -0.2, -0.3, -0.2, -0.3, 0.2))
    assert (body.bottom, body.top) == pytest.approx((0.2, 0.5))
    assert body.weighed is not None
    assert (body.weighed.mass, body.weighed.mass_pm) == pytest.approx((42, 2.1))
    assert body.weighed.cg == pytest.approx((0, 0.01, 0.35))
    assert str(body.weighed.date) == "2026-11-20"
    assert "pump unit" in page.draft.job.bodies, "the job lists its assemblies"


def test_only_what_was_typed_changes(page: Page) -> None:
    row, form = _assembly(page, "powertrain")
    before = page.draft.job.vehicle.bodies[row]
    page.change("assembly", item=row, fields={"top": "900"})
    after = page.draft.job.vehicle.bodies[row]
    assert after.top == pytest.approx(0.9)
    assert (after.outline, after.bottom, after.weighed) == (before.outline, before.bottom, before.weighed)
    assert form["outline"].count("\n") == len(before.outline) - 1
    page.change("assembly", item=row, fields={"mass": "255", "cg_x": "-300", "cg_y": "0", "cg_z": "500"})
    page.change("assembly", item=row, fields={"cg_z": "520"})
    weighed = page.draft.job.vehicle.bodies[row].weighed
    assert weighed is not None
    assert (weighed.mass, *weighed.cg) == pytest.approx((255, -0.3, 0, 0.52))
    page.change("assembly", item=row, fields={"mass": ""})
    assert page.draft.job.vehicle.bodies[row] == after


def test_the_form_gives_back_the_same_corners(page: Page) -> None:
    row, form = _assembly(page, "cradle")
    before = page.draft.job.vehicle.bodies[row].outline
    page.change("assembly", item=row, fields={"outline": form["outline"]})
    assert sum(page.draft.job.vehicle.bodies[row].outline, ()) == pytest.approx(sum(before, ()))


def test_a_name_is_changed_wherever_it_stands(page: Page) -> None:
    job = page.draft.job
    row, _ = _assembly(page, "shell")
    page.change("assembly", item=row, fields={"name": "the van"})
    now = page.draft.job
    assert now.lift is not None
    assert now.lift.body == "the van"
    assert "the van" in now.bodies
    assert [each.body for each in now.vehicle.parts].count("the van") == [e.body for e in job.vehicle.parts].count(
        "shell"
    )
    assert not any("shell" in each.between for each in now.vehicle.joints)


def test_an_assembly_is_taken_out_again(page: Page) -> None:
    page.change("assembly", fields=PUMP)
    text = page.draft.text
    row, _ = _assembly(page, "pump unit")
    page.change("drop_assembly", item=row)
    assert "pump unit" not in page.draft.text
    page.change("assembly", fields=PUMP)
    assert page.draft.text.split() == text.split()
    row, _ = _assembly(page, "cradle")
    assert "cradle" in page.refused("drop_assembly", item=row), "parts and stands belong to it"


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"outline": "300, 200, 100\n1, 2\n3, 4"}, "corner 1"),
        ({"outline": "300, 200\nx, 1\n3, 4"}, "Not taken"),
        ({"outline": "1, 1\n2, 2"}, "at least"),
        ({"outline": "0, 0\n100, 100\n100, 0\n0, 100"}, "crosses itself"),
        ({"mass": "20"}, "all three"),
        ({"mass": "20", "cg_x": "0", "cg_y": "0", "cg_z": "1", "date": "20.11."}, "2026-11-20"),
        ({"top": "1"}, "higher than bottom"),
        ({"colour": "red"}, "not understood"),
        ({"name": "shell"}, "shell"),
    ],
)
def test_what_is_wrong_is_told_and_changes_nothing(page: Page, fields: dict[str, str], says: str) -> None:
    row, _ = _assembly(page, "cradle")
    before = page.draft.text
    assert says in page.refused("assembly", item=row, fields=fields)
    assert page.draft.text == before
