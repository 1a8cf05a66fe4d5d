"""The forms of the vehicle and the lift by hand: a job is made, changed and saved without a word of the file."""

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext

from loadplan.files import read_job
from tests.board.chromium import Served, ready, settled
from tests.board.desk import Page, opened
from tests.board.hands import pane, watched
from tests.board.test_accessible import serious
from tests.tracked import shipped

SIZES = ((820, 1180), (1180, 820), (390, 844), (1280, 800))
PADS = ["sill front left", "sill front right", "sill rear left", "sill rear right"]


def test_the_lift_is_used_otherwise(page: Page) -> None:
    form = page.seen["vehicle_form"]["lift"]
    said = {"use": form["use"], "body": form["body"], "columns": "-1700", "pads": form["pads"], "in_place": True}
    page.change("use_lift", **said)
    assert page.draft.job.lift is not None
    assert page.draft.job.lift.columns == pytest.approx(-1.7)
    assert "no body" in page.refused("use_lift", **{**said, "body": "nothing"})
    assert page.refused("use_lift", **{**said, "pads": PADS[:2]})


def test_a_job_without_a_lift_gets_one(tmp_path: Path) -> None:
    for source in shipped("demo", "*.toml"):
        shutil.copy(source, tmp_path)
    path = tmp_path / "bare.toml"
    path.write_text(
        'schema = "loadplan-job-1"\nunits = "metric"\nvehicle = "van-longitudinal-diesel-rwd"\nshop = "shop.toml"\n\n'
        '[[stage]]\nname = "up"\n',
        "utf-8",
    )
    page = opened(tmp_path, path)
    assert page.seen["vehicle_form"]["lift"] is None
    lifts = [each["name"] for each in page.seen["vehicle_form"]["lifts"]]
    page.change("use_lift", use=lifts.index("bay 2"), body="shell", columns="", pads=PADS, in_place=True)
    lift = page.draft.job.lift
    assert lift is not None
    assert (lift.lift.name, lift.in_place, [each.point for each in lift.arms]) == ("bay 2", True, PADS)


def test_a_point_is_made_by_hand_and_saved(context: BrowserContext, desk: Served) -> None:
    plan = desk.desk.plans[0].plan
    with watched(context, desk) as page:
        pane(page, "parts")
        page.locator("#vehicle-room summary").click()
        page.locator("#thing-what").select_option("point")
        page.locator("#thing-name").fill("new place")
        page.locator("#thing-body").select_option("cradle")
        for key, value in (("x", "100"), ("y", "-50"), ("z", "205"), ("limit", "6000")):
            page.locator(f"#thing-{key}").fill(value)
        page.locator("#vehicle-form button[type=submit]").click()
        page.wait_for_selector("#thing-item option:checked:has-text('new place')", state="attached")
        settled(page)
        assert plan.draft.job.vehicle.points[-1].limit == pytest.approx(6000)
        # Only what is typed changes: the place keeps what its rounded text does not show.
        page.locator("#thing-limit").fill("5000")
        page.locator("#vehicle-form button[type=submit]").click()
        page.wait_for_function("() => document.getElementById('thing-limit').value.startsWith('5')")
        settled(page)
        assert plan.draft.job.vehicle.points[-1].limit == pytest.approx(5000)
        page.locator("#save").click()
        page.locator("#save-sure").click()
        page.wait_for_selector("#unsaved", state="hidden")
        assert read_job(plan.path).vehicle.points[-1].name == "new place"
        assert page.locator("#vehicle-own").is_hidden()
        page.locator("#thing-drop").click()
        page.wait_for_function("() => document.getElementById('thing-item').value === 'new'")
        settled(page)
        assert plan.draft.job.vehicle.points[-1].name != "new place"


def test_an_assembly_is_made_by_hand_with_a_point_on_it(context: BrowserContext, desk: Served) -> None:
    plan = desk.desk.plans[0].plan
    with watched(context, desk) as page:
        pane(page, "parts")
        page.locator("#vehicle-room summary").click()
        page.locator("#thing-what").select_option("body")
        page.locator("#thing-name").fill("pump unit")
        page.locator("#thing-outline").fill("300, 200\n300, -200\n-300, -200\n-300, 200")
        for key, value in (("bottom", "200"), ("top", "500"), ("mass", "42"), ("cg_x", "0"), ("cg_y", "10")):
            page.locator(f"#thing-{key}").fill(value)
        page.locator("#thing-cg_z").fill("350")
        page.locator("#vehicle-form button[type=submit]").click()
        page.wait_for_selector("#thing-item option:checked:has-text('pump unit')", state="attached")
        settled(page)
        assert plan.draft.job.vehicle.bodies[-1].name == "pump unit"
        page.locator("#thing-point-list button").last.click()
        page.locator("#thing-name").fill("under the pump")
        for key in ("x", "y"):
            page.locator(f"#thing-{key}").fill("0")
        page.locator("#thing-z").fill("200")
        page.locator("#vehicle-form button[type=submit]").click()
        page.wait_for_selector("#thing-item option:checked:has-text('under the pump')", state="attached")
        assert plan.draft.job.vehicle.points[-1].body == "pump unit"


@pytest.mark.parametrize("size", SIZES)
def test_the_forms_are_for_everybody(chromium: Browser, desk: Served, size: tuple[int, int]) -> None:
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]}, has_touch=True)
    page = ready(context.new_page(), desk.plan)
    page.locator("#tab-parts").tap()
    page.locator("#vehicle-room summary").tap()
    for what in ("body", "part", "point", "joint"):
        page.locator("#thing-what").select_option(what)
        page.locator("#thing-item").select_option("0")
        assert serious(page) == [], what
    wide = "() => [...document.querySelectorAll('#vehicle-pane *')].filter((e) => e.scrollWidth > innerWidth).length"
    assert page.evaluate(wide) == 0
    page.locator("#lift-columns").fill("-1700")
    page.locator("#lift-form button[type=submit]").tap()
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    lift = desk.desk.plans[0].plan.draft.job.lift
    assert lift is not None
    assert lift.columns == pytest.approx(-1.7)
    context.close()
