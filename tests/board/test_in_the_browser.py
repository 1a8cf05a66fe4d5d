"""The page in Chromium: moved by mouse, finger and keys; snapping, undo, save, conflict; nothing leaves the machine."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page
from pydantic import TypeAdapter
from pypdf import PdfReader

import loadplan
from loadplan.board.changes import Change, make
from tests.board.chromium import Served, ready, served, settled
from tests.board.hands import (
    SMALL,
    UPRIGHT,
    WIDE,
    finger,
    free,
    hold,
    lift,
    pane,
    place,
    reach,
    scale,
    snaps_within,
    to_step,
    watched,
)


@pytest.fixture
def page(context: BrowserContext, desk: Served) -> Iterator[Page]:
    with watched(context, desk) as found:
        yield found


def test_a_mouse_moves_a_stand_and_numbers_follow_before_it_lets_go(page: Page, desk: Served) -> None:
    to_step(page, 2)
    before = place(desk, 2)
    load = page.locator("#row-2 [data-say=big]").text_content()
    far = 0.05 + snaps_within(page, desk)
    hold(page, 2, 0, -far * scale(page, desk))
    page.wait_for_function("was => document.querySelector('#row-2 [data-say=big]').textContent !== was", arg=load)
    assert place(desk, 2) == before
    assert "HOLDS SO FAR" in (page.locator("#band [data-say=word]").text_content() or "")
    assert page.locator("#readout").is_visible()
    page.mouse.up()
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    x, y = place(desk, 2)
    assert x == pytest.approx(before[0] + far, abs=0.02)
    assert y == pytest.approx(before[1], abs=0.02)
    assert "SO FAR" not in (page.locator("#band [data-say=word]").text_content() or "")


def test_escape_puts_a_held_stand_back(page: Page, desk: Served) -> None:
    to_step(page, 2)
    before = place(desk, 0)
    hold(page, 0, 0, 80)
    page.keyboard.press("Escape")
    page.mouse.up()
    settled(page)
    assert place(desk, 0) == before
    assert not page.locator("#unsaved").is_visible()


def test_a_stand_snaps_to_a_point_and_says_so(page: Page, desk: Served) -> None:
    to_step(page, 2)
    hold(page, 0, 5, -5)
    page.wait_for_function("() => document.querySelector('#readout [data-say=place]').textContent.startsWith('at ')")
    page.mouse.up()
    settled(page)
    assert desk.desk.plans[0].plan.draft.job.supports[0].point == "cradle front left"


def test_keys_move_a_stand_by_5_and_50_mm_and_keep_the_focus(page: Page, desk: Served) -> None:
    to_step(page, 2)
    x, y = place(desk, 0)
    page.locator("#target-0").focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Shift+ArrowRight")
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    assert place(desk, 0) == pytest.approx((x - 0.005, y - 0.05), abs=1e-6)
    assert page.evaluate("document.activeElement.id") == "target-0"
    page.keyboard.press("p")
    settled(page)
    assert desk.desk.plans[0].plan.draft.job.supports[0].point != ""


def test_undo_and_redo_by_keys(page: Page, desk: Served) -> None:
    to_step(page, 2)
    before = place(desk, 0)
    page.locator("#target-0").focus()
    page.keyboard.press("Shift+ArrowDown")
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    after = place(desk, 0)
    page.keyboard.press("Control+z")
    page.wait_for_selector("#unsaved", state="hidden")
    assert place(desk, 0) == before
    page.keyboard.press("Control+y")
    page.wait_for_selector("#unsaved:visible")
    assert place(desk, 0) == after


def test_two_quick_taps_advance_two_steps(page: Page) -> None:
    page.locator("#step-on").dblclick()
    page.wait_for_function("() => document.getElementById('step-number').textContent === '3'")
    settled(page)
    assert page.locator("#step-number").text_content() == "3"


def test_a_job_is_planned_by_keyboard_alone(page: Page, desk: Served) -> None:
    page.keyboard.press("Tab")
    count = len(desk.desk.plans[0].plan.draft.job.supports)
    page.locator("#add").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    page.wait_for_function(f"() => document.querySelectorAll('#stands > li').length === {count + 1}")
    settled(page)
    page.locator(f"#target-{count}").focus()
    page.keyboard.press("Shift+ArrowUp")
    settled(page)
    page.keyboard.press("Enter")
    page.locator("#stand-height").fill("350")
    page.keyboard.press("Enter")
    page.wait_for_function(
        f"() => document.querySelector('#row-{count} [data-say=height_words]').textContent.includes('350 mm')"
    )
    page.keyboard.press("Control+s")
    page.wait_for_selector("#save-dialog[open] #save-sure:not([disabled])")
    page.locator("#save-sure").focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("#unsaved", state="hidden")
    settled(page)
    saved = loadplan.read_job(desk.folder / "front-unit.toml")
    assert len(saved.supports) == count + 1
    assert saved.supports[count].height == 0.35


def test_a_stand_taken_away_is_never_saved(page: Page, desk: Served) -> None:
    to_step(page, 2)
    page.locator("#away").click()
    page.locator("#row-4").click()
    page.wait_for_selector("#what-if-told:visible")
    assert "E is taken away" in (page.locator("#what-if-words").text_content() or "")
    settled(page)
    assert not page.locator("#unsaved").is_visible()
    assert desk.desk.plans[0].plan.revision == 0


def test_parts_are_ticked_off_by_a_tap(page: Page, desk: Served) -> None:
    to_step(page, 2)
    pane(page, "parts")
    button = page.locator("#parts button", has_text="intake manifold").first
    button.click()
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    assert page.locator("#parts button", has_text="intake manifold").first.get_attribute("aria-pressed") == "true"
    assert "intake manifold with cooler" in desk.desk.plans[0].plan.draft.job.stages[2].off


def test_a_conflict_shows_both_and_writes_neither(page: Page, desk: Served) -> None:
    to_step(page, 2)
    page.locator("#target-0").focus()
    page.keyboard.press("Shift+ArrowDown")
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    path = desk.folder / "front-unit.toml"
    theirs = path.read_text("utf-8").replace("lowered     = 8", "lowered     = 9")
    path.write_text(theirs, "utf-8")
    page.locator("#save").click()
    page.wait_for_selector("#conflict-dialog[open]")
    assert "lowered     = 9" in (page.locator("#theirs").text_content() or "")
    assert "at = [" in (page.locator("#yours").text_content() or "")
    assert path.read_text("utf-8") == theirs


def test_leaving_with_unsaved_changes_asks(page: Page) -> None:
    to_step(page, 2)
    page.locator("#target-0").focus()
    page.keyboard.press("Shift+ArrowDown")
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    asked: list[str] = []
    page.once("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept()))
    page.close(run_before_unload=True)
    page.wait_for_event("close")
    assert asked == ["beforeunload"]


def test_a_finger_drags_up_and_down_on_a_page_that_scrolls(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": SMALL[0], "height": SMALL[1]}, has_touch=True, is_mobile=True)
    page = ready(context.new_page(), desk.plan)
    to_step(page, 2)
    before, within, down = place(desk, 4), snaps_within(page, desk), 70
    k = scale(page, desk)
    start = reach(page, "target-4")
    scrolled = page.evaluate("scrollY")
    touch = finger(page, start, (0, down))
    lift(touch)
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    assert abs(page.evaluate("scrollY") - scrolled) < down / 2
    after = place(desk, 4)
    assert after[0] - before[0] == pytest.approx(-down / k, abs=0.02 + within)
    context.close()


def test_a_finger_beside_the_stands_moves_nothing(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": SMALL[0], "height": SMALL[1]}, has_touch=True, is_mobile=True)
    page = ready(context.new_page(), desk.plan)
    start = free(page)
    lift(finger(page, start, (0, 20 - start[1])))
    settled(page)
    assert page.evaluate("scrollY") == 0
    assert desk.desk.plans[0].plan.revision == 0
    context.close()


@pytest.mark.parametrize("size", [SMALL, UPRIGHT, WIDE])
def test_nothing_sticks_out_and_controls_are_large_enough(
    chromium: Browser, desk: Served, size: tuple[int, int]
) -> None:
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
    page = ready(context.new_page(), desk.plan)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    small = page.evaluate(
        """() => [...document.querySelectorAll('button, a.button, select, input')]
             .map((each) => [each.id || each.textContent.trim(), each.getBoundingClientRect()])
             .filter(([, box]) => box.width && (box.height < 47.5 || box.width < 47.5)).map(([name]) => name)"""
    )
    assert small == []
    letters = page.evaluate(
        """() => { const zoom = document.querySelector('#drawing svg').getScreenCTM().a;
             return [...document.querySelectorAll('#drawing text')]
               .map((each) => parseFloat(getComputedStyle(each).fontSize) * zoom); }"""
    )
    assert min(letters) >= 15 if size != SMALL else min(letters) >= 11
    context.close()


def test_each_stand_speaks(page: Page) -> None:
    to_step(page, 2)
    for number, name in enumerate("ABCDEF"):
        label = page.locator(f"#target-{number}").get_attribute("aria-label") or ""
        assert label.startswith(f"Stand {name}: ")
        assert "kg" in label
        assert ("ratchet stand 3 t" if name in "ABCD" else "pin stand 5 t") in label


def test_another_origin_cannot_write(desk: Served, context: BrowserContext) -> None:
    other = context.new_page()
    other.goto("data:text/html,<p>elsewhere</p>")
    told = other.evaluate(
        """(address) => fetch(address, {method: 'POST', body: '{"revision":0}'}).then((a) => a.type, () => 'failed')""",
        f"{desk.plan}/undo",
    )
    assert told == "failed"
    assert desk.desk.plans[0].plan.revision == 0


def test_the_printed_page_is_one_page(page: Page, tmp_path: Path) -> None:
    path = tmp_path / "page.pdf"
    page.pdf(path=path, format="A4")
    pages = PdfReader(path).pages
    assert len(pages) == 1
    text = pages[0].extract_text()
    assert "FOR PRACTICE: HOLDS ON PAPER" in text
    assert "Rear crankshaft seal and oil pump" in text
    assert "What is nearest to tipping hangs on the lift" in text
    assert "shows it" not in text, "there is nothing to tap on paper"


def _moved_forward(page: Page, desk: Served, stands: int) -> None:
    """Move the first few stands of step 3 to where nothing is above them."""
    plan = desk.desk.plans[0].plan
    for stand in range(stands):
        change = {"kind": "move", "stand": stand, "x": 0.6, "y": 0.5 - 0.2 * stand, "snap": 0.0}
        make(plan, TypeAdapter[Change](Change).validate_python(change), 2)
    page.wait_for_function("() => !document.getElementById('undo').disabled")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_step_that_stops_is_printed_on_one_page_in_one_frame_under_its_name(
    page: Page, desk: Served, tmp_path: Path, paper: str
) -> None:
    _moved_forward(page, desk, 6)
    to_step(page, 2)
    path = tmp_path / "page.pdf"
    page.pdf(path=path, format=paper)
    pages = PdfReader(path).pages
    assert len(pages) == 1
    told = re.sub(r"\s+", " ", pages[0].extract_text())
    assert "STOP" in told
    assert told.index("Step 3 of 9") < told.index("What each stand carries")
    assert not any(words in told for words in ("Mend it", "Turn it", "counted when you let go"))
    page.emulate_media(media="print")
    frame = "(each) => getComputedStyle(each).stroke"
    assert page.locator("#drawing svg > g > g > g:first-child > path").first.evaluate(frame) == "none"
    highest = page.locator(".this-step .reason").evaluate("(each) => getComputedStyle(each).maxHeight")
    assert highest == "none", "nobody scrolls on paper: why it stops is told to the end"
    page.emulate_media(media="screen")


def test_a_stand_with_nothing_above_it_says_so_and_waits_for_no_count(page: Page, desk: Served) -> None:
    _moved_forward(page, desk, 1)
    to_step(page, 2)
    row = page.locator("#row-0")
    assert row.locator(".big.wordy").inner_text().startswith("carries nothing: nothing above it")
    assert "counted" not in row.inner_text()
    page.reload()
    assert "most on this floor" not in row.inner_text()


def test_the_start_page_leads_to_the_demo(chromium: Browser, tmp_path: Path) -> None:
    with served(tmp_path, None) as found:
        context = chromium.new_context(viewport={"width": SMALL[0], "height": SMALL[1]})
        page = context.new_page()
        page.goto(found.address)
        page.locator("button", has_text="Rear crankshaft seal and oil pump: front unit out from below").click()
        page.wait_for_selector("body[data-ready]")
        assert page.locator("#title").text_content() == "Rear crankshaft seal and oil pump: front unit out from below"
        context.close()
