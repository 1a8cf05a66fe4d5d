"""A stand that is let go of: the judged numbers wait for no drawing, and the drawing that is there says what it is."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar, TypeVarTuple

import pytest
from playwright.sync_api import BrowserContext, Route
from playwright.sync_api import Page as Window

from loadplan.board.worker_process import BROKE_OFF
from loadplan.errors import Fault, InputError
from tests.board.chromium import Served, settled
from tests.board.desk import page_on
from tests.board.hands import hold, place, scale, text, to_step, watched

Told = TypeVar("Told")
Given = TypeVarTuple("Given")


@pytest.fixture
def page(context: BrowserContext, desk: Served) -> Iterator[Window]:
    with watched(context, desk) as found:
        yield found


def test_numbers_that_come_by_themselves_draw_nothing_and_are_those_of_the_screen(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    opened, asked = page.desk.plans[0], []

    def told(does: Callable[[*Given], Told], *given: *Given) -> Told:
        asked.append(does.__name__)
        return does(*given)

    opened.do = told
    change = {"kind": "move", "stand": 0, "x": 0.3, "y": 0.2, "snap": 0.0}
    answer = page.post("change", change=change, drawing="later")
    numbers = answer.json()
    assert (answer.status_code, asked) == (200, [])
    assert numbers.pop("svg") == ""
    screen = page.show()
    assert asked == ["live_picture"]
    assert screen.pop("svg").startswith("<svg")
    assert numbers.pop("said") != ""
    assert numbers == {name: said for name, said in screen.items() if name != "said"}


@pytest.mark.parametrize("name", ["change", "undo", "save"])
def test_where_only_the_drawing_fails_what_was_done_is_not_told_to_have_failed(tmp_path: Path, name: str) -> None:
    page = page_on(tmp_path)
    opened = page.desk.plans[0]
    page.change("remove", stand=4)

    def breaks_off(does: Callable[[*Given], Told], *given: *Given) -> Told:
        if does.__name__ == "live_picture":
            raise InputError(Fault("", "", "", BROKE_OFF))
        return does(*given)

    opened.do = breaks_off
    more = {"change": {"kind": "remove", "stand": 3}} if name == "change" else {"sure": True} if name == "save" else {}
    answer = page.post(name, **more)
    assert answer.status_code == 200, answer.text
    told = answer.json()["screen"] if name == "save" else answer.json()
    assert (told["svg"], told["revision"]) == ("", opened.plan.revision)
    assert told["said"]
    assert page.client.get("/plan/0/screen").status_code == 422


def test_what_cannot_be_judged_again_is_not_gone_back_to(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    page.change("remove", stand=4)
    plan = page.desk.plans[0].plan
    before = (plan.draft.text, plan.revision)

    def breaks_off(_does: Callable[[*Given], Told], *_: *Given) -> Told:
        raise InputError(Fault("", "", "", BROKE_OFF))

    plan._drafts[0]._do = breaks_off
    assert page.post("undo").status_code == 422
    assert (plan.draft.text, plan.revision) == before


def test_an_unknown_wish_for_the_drawing_changes_nothing(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    change = {"kind": "move", "stand": 0, "x": 0.3, "y": 0.2, "snap": 0.0}
    assert page.post("change", change=change, drawing="never").status_code == 422
    assert page.show()["revision"] == 0


def test_a_drawing_older_than_the_numbers_says_so_until_the_new_one_is_there(page: Window, desk: Served) -> None:
    to_step(page, 2)
    held_up: list[Route] = []
    page.route("**/screen?*", lambda route: held_up.append(route))
    hold(page, 2, 0, -0.2 * scale(page, desk))
    page.mouse.up()
    page.wait_for_selector("#plan[data-outdated]")
    assert page.locator("body[data-pending]").count() == 0
    assert "HOLDS SO FAR" not in text(page, "#band [data-say=word]")
    assert "Not drawn anew yet" in text(page, "#plan-note")
    assert page.locator("#plan").get_attribute("data-revision") == "0"
    said = text(page, "#said")
    for each in held_up:
        each.continue_()
    page.unroute("**/screen?*")
    settled(page)
    assert page.locator("#plan[data-outdated]").count() == 0
    assert page.locator("#plan").get_attribute("data-revision") == "1"
    assert "Not drawn anew" not in text(page, "#plan-note")
    assert (text(page, "#said"), said != "") == (said, True)


def test_a_stand_taken_again_before_it_is_drawn_anew_stays_under_the_hand(page: Window, desk: Served) -> None:
    to_step(page, 2)
    held_up: list[Route] = []
    page.route("**/screen?*", lambda route: held_up.append(route))
    far = scale(page, desk)
    hold(page, 2, 0, -0.2 * far)
    page.mouse.up()
    page.wait_for_selector("#plan[data-outdated]")
    before, there = place(desk, 2), page.locator("#target-2").bounding_box()
    hold(page, 2, 0, -0.1 * far)
    moved = page.locator("#target-2").bounding_box()
    assert there is not None
    assert moved is not None
    assert moved["y"] - there["y"] == pytest.approx(-0.1 * far, abs=6)
    for each in held_up:
        each.continue_()
    page.unroute("**/screen?*")
    page.mouse.up()
    page.wait_for_selector("#plan[data-revision='2']")
    settled(page)
    assert place(desk, 2)[0] - before[0] == pytest.approx(0.1, abs=0.04)


def asked_for(page: Window) -> list[str]:
    """Every drawing that the page asks for from here on."""
    found: list[str] = []
    page.on("request", lambda request: found.append(request.url) if "/screen?" in request.url else None)
    return found


def test_a_band_that_grows_with_the_numbers_asks_for_no_second_drawing(page: Window, desk: Served) -> None:
    """The one that is under way was asked for at the size that the plan has beside the new numbers."""
    to_step(page, 2)
    grows = "() => { document.getElementById('band').style.paddingBottom = '60px'; }"
    page.evaluate(f"document.addEventListener('board:screen', {grows}, {{ once: true }})")
    held_up: list[Route] = []
    page.route("**/screen?*", lambda route: held_up.append(route))
    asked = asked_for(page)
    hold(page, 2, 0, -0.2 * scale(page, desk))
    page.mouse.up()
    page.wait_for_selector("#plan[data-outdated]")
    page.wait_for_timeout(500)  # the plan's new size is looked at once it has rested for a while
    for each in held_up:
        each.continue_()
    page.unroute("**/screen?*")
    settled(page)
    page.wait_for_timeout(500)
    assert len(asked) == 1


def test_old_news_of_the_plan_asks_for_no_drawing(context: BrowserContext, desk: Served) -> None:
    """While the plan is worked with the stream says again what it said last, and that may be from before a change."""
    context.add_init_script("""
      const Source = EventSource;
      window.EventSource = class extends Source {
        constructor(address) {
          super(address);
          window.stream = this;
          this.addEventListener("message", (event) => { window.told = JSON.parse(event.data); });
        }
      };
    """)
    hear = "(revision) => stream.onmessage({ data: JSON.stringify({ ...told, revision }) })"
    with watched(context, desk) as page:
        to_step(page, 2)
        hold(page, 2, 0, -0.2 * scale(page, desk))
        page.mouse.up()
        page.wait_for_selector("#plan[data-revision='1']")
        settled(page)
        page.wait_for_function("window.told")
        asked = asked_for(page)
        page.evaluate(hear, 0)
        page.wait_for_timeout(300)
        settled(page)
        assert asked == []
        page.evaluate(hear, 2)
        page.wait_for_timeout(300)
        settled(page)
        assert asked != []
