"""Four views of one step: asked for as the page asks, and looked at, turned and let go by hand."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext
from playwright.sync_api import Page as Window

from tests.board.chromium import Served, ready, settled
from tests.board.desk import Page
from tests.board.hands import finger, free, lift, middle, text, to_step, watched
from tests.board.test_accessible import serious

SIZES = ((820, 1180), (1180, 820), (390, 844), (1280, 800))


def _seen(page: Page, **asked: object) -> dict[str, object]:
    answer = page.client.get("/plan/0/seen", params={"step": 2, **asked})
    assert answer.status_code == 200, answer.text
    told: dict[str, object] = answer.json()
    return told


def test_a_view_comes_with_its_words(page: Page) -> None:
    told = _seen(page, side="turn", azimuth=45)
    assert str(told["svg"]).startswith("<svg")
    assert told["says"][0] == "Seen from 45 degrees to the left of straight ahead."  # type: ignore[index]
    assert (told["around"], told["can_around"], told["can_tilt"]) == (False, True, True)
    assert "it goes by itself" in str(told["goes"])
    assert _seen(page, side="left", around="all")["around"] is True
    assert _seen(page, side="left", step=0)["around"] is True


@pytest.mark.parametrize("asked", [{"side": "below"}, {"azimuth": "nan"}, {"azimuth": 360}, {"tilt": 9}, {"x": 1}])
def test_no_other_view_is_drawn(page: Page, asked: dict[str, object]) -> None:
    assert page.client.get("/plan/0/seen", params=asked).status_code == 422


def test_the_plan_draws_the_vehicle_where_the_margin_is_about_it(page: Page) -> None:
    last = page.show(8)
    assert (last["around"], last["margin_on_lift"]) == (True, True)
    assert page.show(8, around="unit")["around"] is False
    # With stands to take hold of it says where to look instead.
    first = page.show(0)
    assert (first["around"], first["margin_on_lift"]) == (False, True)
    assert page.show(2)["margin_on_lift"] is False
    wide = page.show(2)["map"]["k"]
    assert page.show(2, around="all")["map"]["k"] < wide


def test_a_stand_is_moved_truly_while_the_vehicle_is_drawn(page: Page) -> None:
    stand = page.show(0, around="all")["stands"][0]
    said = {"stand": 0, "x": stand["x"] + 0.1, "y": stand["y"], "around": "all"}
    told = page.post("glance", **said).json()
    place = page.seen["map"]
    assert told["at"]["v"] == pytest.approx(place["v0"] - place["k"] * (stand["x"] + 0.1), abs=0.5)
    assert {name.split("-")[0] for name in told["lines"]} == {"edge", "span", "region"}


@pytest.fixture
def window(context: BrowserContext, desk: Served) -> Iterator[Window]:
    with watched(context, desk) as found:
        to_step(found, 2)
        yield found


def _shown(page: Window, **told: object) -> None:
    marks = "".join(f"[data-{name}='{value}']" for name, value in told.items())
    page.wait_for_selector(f"#side-view{marks} svg")


def test_views_are_tapped_and_stand_in_the_address(window: Window) -> None:
    for view in ("left", "front", "turn"):
        window.locator(f"[data-view={view}]").click()
        _shown(window, side=view, step=2)
    # Beside the stands of the plan stands the most on this floor.
    assert text(window, "#plan-note").endswith("Loads as given")
    window.locator("#turn-right").click()
    _shown(window, side="turn", azimuth=45)
    to_step(window, 3)
    _shown(window, side="turn", azimuth=45, step=3)
    window.reload()
    window.wait_for_selector("body[data-ready]")
    _shown(window, side="turn", azimuth=45, step=3)
    window.locator("[data-view=plan]").click()
    assert window.locator("#side-view").is_hidden()
    settled(window)
    assert "view=" not in window.url


def test_it_is_let_go_and_comes_back(window: Window) -> None:
    window.locator("[data-view=turn]").click()
    _shown(window, side="turn", tilt=0)
    window.locator("#let-go").click()
    _shown(window, tilt=5)
    assert "it goes by itself" in text(window, "#said")
    _shown(window, tilt=0)


def test_zoom_works_in_each_view_by_itself(window: Window) -> None:
    window.locator("#zoom-in").click()
    window.locator("[data-view=left]").click()
    _shown(window, side="left")
    assert window.locator("#zoom-out").is_disabled()
    wide = "() => document.querySelector('#side-view svg').viewBox.baseVal.width"
    before = window.evaluate(wide)
    window.locator("#zoom-in").click()
    assert window.evaluate(wide) == pytest.approx(before / 1.5)
    window.locator("#zoom-all").click()
    window.locator("#zoom-all").click()
    window.wait_for_function("() => document.getElementById('zoom-all').disabled")
    window.locator("#zoom-unit").click()
    window.wait_for_function("() => !document.getElementById('zoom-all').disabled")
    window.locator("[data-view=plan]").click()
    assert window.locator("#zoom-out").is_enabled()


def test_points_have_names_when_tapped_or_looked_at_closely(window: Window, desk: Served) -> None:
    names = window.locator("#point-names text")
    assert names.count() == 0
    job = desk.desk.plans[0].plan.draft.job
    window.locator("#target-4").click()
    assert names.all_text_contents() == [job.supports[4].point]
    window.locator("#zoom-unit").click()
    for _ in range(2):
        window.locator("#zoom-in").click()
    assert {each.point for each in job.supports[4:5]} < set(names.all_text_contents())
    high = names.first.evaluate("(each) => parseFloat(getComputedStyle(each).fontSize) * each.getScreenCTM().a")
    assert high == pytest.approx(15, abs=0.5)


@pytest.mark.parametrize("size", SIZES)
def test_a_finger_turns_it_and_moves_no_stand(chromium: Browser, desk: Served, size: tuple[int, int]) -> None:
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]}, has_touch=True)
    page = ready(context.new_page(), desk.plan)
    to_step(page, 2)
    under = middle(page, "target-4")
    page.locator("[data-view=turn]").tap()
    _shown(page, side="turn", azimuth=30)
    touch = finger(page, under, (-80, 4))
    lift(touch)
    _shown(page, side="turn", azimuth=60)
    page.touchscreen.tap(*under)
    assert desk.desk.plans[0].plan.revision == 0
    assert page.evaluate("document.documentElement.scrollHeight <= innerHeight")
    plan = page.locator("#plan").bounding_box()
    assert plan is not None
    assert plan["height"] >= 0.25 * size[1]
    assert serious(page) == []
    page.locator("#add").evaluate("(each) => each.click()")
    assert page.locator("#side-view").is_hidden()
    assert free(page)
    context.close()
