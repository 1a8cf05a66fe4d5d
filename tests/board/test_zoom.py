"""Looking closer at the plan: buttons, wheel and pinch; a stand is dragged as truly as before."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.board.chromium import Served, ready, settled
from tests.board.hands import free, hold, middle, place, scale, snaps_within, to_step, watched


@pytest.fixture
def page(context: BrowserContext, desk: Served) -> Iterator[Page]:
    with watched(context, desk) as found:
        to_step(found, 2)
        yield found


def test_the_unit_and_all_of_it_are_framed(page: Page, desk: Served) -> None:
    before = scale(page, desk)
    for _ in range(4):
        page.locator("#zoom-in").click()
    assert scale(page, desk) == pytest.approx(before * 1.5**4)
    page.locator("#strip [data-step='3']").click()
    settled(page)
    assert scale(page, desk) > 3 * before
    page.locator("#zoom-unit").click()
    plan = page.locator("#plan").bounding_box()
    assert plan is not None
    for target in page.locator("#drawing .target[data-stand]").all():
        box = target.bounding_box()
        assert box is not None
        assert plan["y"] <= box["y"]
        assert box["y"] + box["height"] <= plan["y"] + plan["height"]
    page.locator("#zoom-in").click()
    page.locator("#zoom-all").click()
    assert page.locator("#zoom-out").is_disabled()
    page.locator("#strip [data-step='2']").click()
    settled(page)
    assert scale(page, desk) == pytest.approx(before)


def test_the_wheel_zooms_about_the_pointer_and_free_ground_pans(page: Page, desk: Served) -> None:
    across, down = free(page)
    page.mouse.move(across, down)
    metres = """([across, down]) => {
      const svg = document.querySelector("#drawing svg");
      const at = new DOMPoint(across, down).matrixTransform(svg.getScreenCTM().inverse());
      return [at.x, at.y];
    }"""
    before, k = page.evaluate(metres, [across, down]), scale(page, desk)
    page.mouse.wheel(0, -300)
    page.wait_for_function("() => !document.getElementById('zoom-all').disabled")
    assert scale(page, desk) > 1.5 * k
    assert page.evaluate(metres, [across, down]) == pytest.approx(before, abs=1)
    page.mouse.down()
    page.mouse.move(across + 15, down + 25)
    page.mouse.move(across + 30, down - 40)
    page.mouse.up()
    # To the width of what is still a tap [6 px], and of the drawing's rim, where it goes no further.
    assert page.evaluate(metres, [across + 30, down - 40]) == pytest.approx(before, abs=16)
    assert desk.desk.plans[0].plan.revision == 0


def test_a_stand_is_dragged_truly_when_looked_at_closely(page: Page, desk: Served) -> None:
    page.locator("#zoom-unit").click()
    page.locator("#zoom-in").click()
    page.locator("#zoom-out").click()
    before, k = place(desk, 4), scale(page, desk)
    far = 0.05 + snaps_within(page, desk)
    hold(page, 4, 0, -far * k)
    page.mouse.up()
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    assert place(desk, 4) == pytest.approx((before[0] + far, before[1]), abs=0.02)
    assert scale(page, desk) == pytest.approx(k, rel=0.02)
    box = page.locator("#target-4").bounding_box()
    assert box is not None
    assert box["width"] == pytest.approx(60, abs=8)


def test_two_fingers_zoom(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = ready(context.new_page(), desk.plan)
    to_step(page, 2)
    k, (across, down) = scale(page, desk), free(page)
    touch = context.new_cdp_session(page)
    for number in range(12):
        points = [{"x": across, "y": down, "id": 1}, {"x": across - 20 - 4 * number, "y": down, "id": 2}]
        kind = "touchMove" if number else "touchStart"
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
        page.evaluate("() => new Promise(requestAnimationFrame)")
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    assert scale(page, desk) > 1.4 * k
    assert page.evaluate("visualViewport.scale") == 1
    assert desk.desk.plans[0].plan.revision == 0
    context.close()


def test_two_fingers_of_which_one_lies_on_a_stand_zoom_and_move_no_stand(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = ready(context.new_page(), desk.plan)
    to_step(page, 2)
    k, (across, down) = scale(page, desk), middle(page, "target-2")
    touch = context.new_cdp_session(page)
    for number in range(12):
        points = [{"x": across, "y": down - 2 * number, "id": 1}, {"x": across + 40 + 4 * number, "y": down, "id": 2}]
        kind = "touchMove" if number else "touchStart"
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
        page.evaluate("() => new Promise(requestAnimationFrame)")
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    settled(page)
    assert scale(page, desk) > 1.2 * k
    assert desk.desk.plans[0].plan.revision == 0
    assert page.locator("#stand-2").get_attribute("transform") is None
    context.close()
