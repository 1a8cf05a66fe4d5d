"""Plan and control in one view: the band with both verdicts, and the sheet docked with the plan at every size."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page
from pypdf import PdfReader

from loadplan.files import shipped_folder
from tests.board.chromium import Served, ready, served, settled
from tests.board.hands import pane, text, to_step, watched
from tests.board.test_accessible import serious

SIZES = ((820, 1180), (1180, 820), (390, 844), (1280, 800))
IN_VIEW = """
(ids) => ids.filter((id) => {
  const box = document.getElementById(id).getBoundingClientRect();
  return !(box.width > 0 && box.height > 0 && box.top >= 0 && box.left >= 0 && box.bottom <= innerHeight + 0.5 &&
    box.right <= innerWidth + 0.5);
})
"""
"""Those of the elements that are not wholly in the window."""

ALWAYS = ("step-cell", "job-verdict", "plan", "step-back", "step-on", "tab-stands", "tab-findings", "tab-parts")


@pytest.mark.parametrize("size", SIZES)
def test_verdicts_plan_and_steps_are_in_one_view(chromium: Browser, desk: Served, size: tuple[int, int]) -> None:
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
    page = ready(context.new_page(), desk.plan)
    for name in ("stands", "findings", "parts", "try", "notes"):
        pane(page, name)
        assert page.evaluate(IN_VIEW, [*ALWAYS, "panes"]) == []
    page.locator("#target-4").click()
    settled(page)
    assert page.evaluate(IN_VIEW, [*ALWAYS, "who"]) == []
    plan = page.locator("#plan").bounding_box()
    assert plan is not None
    assert plan["height"] >= 0.25 * size[1]
    assert page.evaluate("document.documentElement.scrollHeight <= innerHeight")
    context.close()


@pytest.mark.parametrize("size", SIZES)
def test_no_words_of_the_page_lie_over_the_drawing_and_a_short_reason_is_there_whole(
    chromium: Browser, desk: Served, size: tuple[int, int]
) -> None:
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
    page = ready(context.new_page(), desk.plan)
    drawing, note = page.locator("#plan").bounding_box(), page.locator("#plan-note").bounding_box()
    assert drawing is not None
    # A phone leaves the note out.
    assert note is None or note["y"] >= drawing["y"] + drawing["height"]
    reason = page.locator("#step-cell .reason")
    assert reason.evaluate("(each) => each.scrollHeight <= each.clientHeight + 1")
    context.close()


def test_long_names_leave_the_printed_page_one_page_with_its_cautions_and_the_jobs_whole_title(
    chromium: Browser, tmp_path: Path
) -> None:
    """On paper nobody scrolls: names in large letters would push the cautions onto a second page."""
    title = "Rear crankshaft seal, oil pump, sump gasket and both drive shaft seals: whole unit out from below"
    for name in ("front-unit.toml", "shop.toml"):
        text = (shipped_folder("demo") / name).read_text("utf-8")
        for letter in "ABCDEF":
            text = text.replace(f'"{letter}"', f'"{f"{letter} under the front of the cradle, right hand side"[:40]}"')
        text = text.replace("Rear crankshaft seal and oil pump: front unit out from below", title)
        (tmp_path / name).write_text(text, "utf-8")
    with served(tmp_path, "front-unit.toml") as found:
        context = chromium.new_context(viewport={"width": 1440, "height": 900})
        page = ready(context.new_page(), found.plan)
        to_step(page, 2)
        page.pdf(path=tmp_path / "page.pdf", format="A4")
        context.close()
    pages = PdfReader(tmp_path / "page.pdf").pages
    assert len(pages) == 1
    told = re.sub(r"\s+", " ", pages[0].extract_text())
    assert title in told
    assert "When anything moves that the plan did not say, stop." in told


def test_a_reason_that_can_be_scrolled_shows_a_sign_and_a_whole_one_shows_none(chromium: Browser, desk: Served) -> None:
    """Cut at its second line it would read as the end: "set a stand further out, or"."""
    sign = "(each) => getComputedStyle(each, '::after').content"
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    page = ready(
        context.new_page(), f"{desk.address}/plan/{desk.desk.open(desk.folder / 'rocking-on-two-stands.toml')}"
    )
    told = page.locator(".this-step .told")
    assert told.evaluate(sign) == "none"
    to_step(page, 1)
    assert told.evaluate(sign) == '""'
    context.close()


def test_the_sheet_goes_down_half_up_and_up(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    page = ready(context.new_page(), desk.plan)
    high = {}
    for name in ("full", "handle", "half"):
        page.locator("#dock-handle").click()
        settled(page)
        assert page.locator("#dock").get_attribute("data-height") == name
        assert page.evaluate(IN_VIEW, ["step-back", "step-on", "dock-handle", "step-cell", "job-verdict"]) == []
        box, plan = page.locator("#dock").bounding_box(), page.locator("#plan").bounding_box()
        assert box is not None
        assert plan is not None
        high[name] = box["height"], plan["height"]
    assert high["full"][0] > high["half"][0] > high["handle"][0]
    assert high["handle"][1] > high["half"][1] == high["full"][1]
    page.locator("#dock-handle").focus()
    page.keyboard.press("ArrowDown")
    assert page.locator("#dock").get_attribute("data-height") == "handle"
    page.locator("#tab-findings").click()
    assert page.locator("#pane-findings").is_visible()
    context.close()


def test_one_tap_goes_to_the_step_that_decides(context: BrowserContext, desk: Served) -> None:
    with watched(context, desk) as page:
        step = text(page, "#job-verdict [data-say=step]")
        assert step != "1"
        page.locator("#job-verdict").click()
        page.wait_for_function("step => document.getElementById('step-number').textContent === step", arg=step)
        settled(page)
        assert text(page, "#step-cell [data-say=word]") == text(page, "#job-verdict [data-say=job]")


def test_a_phone_gives_the_plan_the_room_once_a_stand_is_in_hand(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    page = ready(context.new_page(), desk.plan)
    before = _high(page, "band"), _high(page, "plan")
    page.locator("#target-4").click()
    settled(page)
    # Whose weights they are, and that it is on paper only, stands below a verdict also here.
    assert page.locator("#band .basis").is_visible()
    assert _high(page, "band") < 95 < before[0]
    assert _high(page, "plan") > before[1]
    assert page.evaluate(IN_VIEW, ["step-cell", "job-verdict"]) == []
    context.close()


def test_a_phone_says_of_both_verdicts_that_the_weights_are_invented(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    page = ready(context.new_page(), desk.plan)
    for picked in (False, True):
        if picked:
            page.locator("#row-4").click()
            page.wait_for_selector("body[data-in-hand]")
        for cell in ("step-cell", "job-verdict"):
            assert "FOR PRACTICE" in page.locator(f"#{cell}").inner_text()
    context.close()


@pytest.mark.parametrize("size", SIZES)
def test_what_is_said_for_a_while_lies_over_no_verdict_and_not_over_the_plan(
    chromium: Browser, desk: Served, size: tuple[int, int]
) -> None:
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
    page = ready(context.new_page(), desk.plan)
    page.locator("#away").click()
    said = page.locator("#said").bounding_box()
    assert said is not None
    for name in ("plan", "band"):
        other = page.locator(f"#{name}").bounding_box()
        assert other is not None
        beside = said["x"] >= other["x"] + other["width"] or said["x"] + said["width"] <= other["x"]
        assert beside or said["y"] >= other["y"] + other["height"], name
    context.close()


@pytest.mark.parametrize("size", [(640, 400), (590, 410), (410, 590), (360, 640)])
def test_enlarged_to_200_per_cent_most_of_the_plan_is_on_the_first_screen(
    chromium: Browser, desk: Served, size: tuple[int, int]
) -> None:
    """A laptop and a tablet, on its side and upright, have half as many px each way then; a small phone has as few."""
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]}, device_scale_factor=2)
    plan = ready(context.new_page(), desk.plan).locator("#plan").bounding_box()
    assert plan is not None
    assert plan["y"] + 0.8 * plan["height"] <= size[1]
    assert plan["height"] >= 230
    assert plan["width"] > size[0] - 90
    context.close()


@pytest.mark.parametrize("wide", [320, 195])
def test_a_page_enlarged_far_does_not_scroll_sideways(chromium: Browser, desk: Served, wide: int) -> None:
    """320 px: WCAG 2.2, 1.4.10 (reflow); 195 px: a phone of 390 px enlarged to 200 per cent."""
    context = chromium.new_context(viewport={"width": wide, "height": 422}, device_scale_factor=2)
    page = context.new_page()
    page.goto(desk.plan)
    page.wait_for_selector("body[data-ready]")
    for name in ("stands", "findings", "parts", "step", "try", "notes"):
        pane(page, name)
        assert page.evaluate("() => document.documentElement.scrollWidth") <= wide, name
    page.locator("#tab-stands").click()
    page.locator("#row-0").click()
    assert page.evaluate("() => document.documentElement.scrollWidth") <= wide
    context.close()


def test_a_form_on_a_phone_has_the_room_of_the_row_of_steps(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    page = ready(context.new_page(), desk.plan)
    before = _high(page, "panes")
    assert page.locator("#strip").is_visible()
    for name in ("step", "try", "parts"):
        pane(page, name)
        assert _high(page, "panes") > before + 40
        assert page.evaluate(IN_VIEW, ["step-back", "step-on"]) == []
    pane(page, "findings")
    assert page.locator("#strip").is_visible()
    context.close()


def test_the_name_of_the_point_in_hand_is_not_cut_off(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    page = ready(context.new_page(), desk.plan)
    to_step(page, 2)
    for row in range(4):
        page.locator(f"#row-{row}").click()
        settled(page)
        name, drawing = page.locator("#point-names text").bounding_box(), page.locator("#drawing").bounding_box()
        assert name is not None
        assert drawing is not None
        assert name["x"] >= drawing["x"] - 1, row
        assert name["x"] + name["width"] <= drawing["x"] + drawing["width"] + 1, row
        page.keyboard.press("Escape")
    context.close()


def test_the_name_of_the_point_in_hand_lies_on_no_stand(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 820, "height": 1180})
    page = ready(context.new_page(), desk.plan)
    to_step(page, 2)
    page.locator("#row-4").click()
    settled(page)
    clear = """() => {
      const name = document.querySelector("#point-names text").getBoundingClientRect();
      const shapes = [...document.querySelectorAll('#drawing [id^="stand-"]')].flatMap((each) => [...each.children]);
      return shapes.filter((each) => !each.classList.contains("target")).every((each) => {
        const box = each.getBoundingClientRect();
        const beside = box.right <= name.left || box.left >= name.right;
        return beside || box.bottom <= name.top + 2 || box.top >= name.bottom - 2;
      });
    }"""
    assert page.evaluate(clear)
    context.close()


def test_what_holds_has_no_sign_and_no_colour_beside_it(context: BrowserContext, desk: Served) -> None:
    with watched(context, desk) as page:
        to_step(page, 2)
        shape = """() => [...document.querySelectorAll('[data-verdict=holds] .sign')]
            .map((each) => getComputedStyle(each).clipPath)"""
        assert set(page.evaluate(shape)) == {"polygon(0px 0px, 0px 0px, 0px 0px)"}
        fills = """() => [...document.querySelectorAll('#stands li[data-verdict=holds], #strip [data-verdict=holds]')]
            .map((each) => getComputedStyle(each).getPropertyValue('--fill').trim())"""
        assert set(page.evaluate(fills)) == {
            page.evaluate("getComputedStyle(document.body).getPropertyValue('--grey').trim()")
        }


def _high(page: Page, name: str) -> float:
    box = page.locator(f"#{name}").bounding_box()
    assert box is not None
    return box["height"]


def test_loading_again_returns_to_step_stand_and_pane(context: BrowserContext, desk: Served) -> None:
    with watched(context, desk) as page:
        to_step(page, 3)
        page.locator("#target-4").click()
        page.locator("#given").click()
        settled(page)
        pane(page, "findings")
        page.reload()
        page.wait_for_selector("body[data-ready]")
        settled(page)
        assert text(page, "#step-number") == "4"
        assert text(page, "#who").startswith("E, ")
        assert page.locator("#pane-findings").is_visible()
        assert page.locator("#given").get_attribute("aria-pressed") == "true"
        assert "as given" in text(page, "#step-cell [data-say=far]")
        page.goto(desk.address)
        page.go_back()
        page.wait_for_selector("body[data-ready]")
        settled(page)
        assert text(page, "#step-number") == "4"
        page.evaluate("location.hash = '#step=99999&stand=nobody&show=nothing'")
        page.wait_for_function("() => document.getElementById('step-number').textContent === '9'")
        settled(page)
        assert page.locator("#pane-findings").is_visible()


def test_by_the_systems_wish_it_is_dark_and_for_everybody(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 820, "height": 1180}, color_scheme="dark")
    page = ready(context.new_page(), desk.plan)
    ground = "getComputedStyle(document.body).backgroundColor"
    assert page.evaluate(ground) == "rgb(27, 36, 48)"
    page.locator("#target-4").click()
    for name in ("stands", "findings", "parts", "try", "notes"):
        pane(page, name)
        settled(page)
        assert serious(page) == [], name
    page.locator("#save").click()
    page.wait_for_selector("dialog[open]")
    assert serious(page) == []
    page.emulate_media(media="print")
    assert page.evaluate(ground) == "rgb(255, 255, 255)"
    context.close()


def test_what_more_opens_covers_the_verdict_no_longer_than_it_is_used(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 820, "height": 1180})
    page = ready(context.new_page(), desk.plan)
    tools = page.locator("#more-tools")
    for leave in ("tab", "Escape", "More", "tool"):
        page.locator("#more").click()
        assert tools.is_visible()
        assert page.locator("#more").get_attribute("aria-expanded") == "true"
        match leave:
            case "tab":
                page.locator("#tab-findings").click()
            case "Escape":
                page.keyboard.press("Escape")
            case "More":
                page.locator("#more").click()
            case _:
                page.locator("#save-as").click()
        assert not tools.is_visible(), leave
        assert page.locator("#more").get_attribute("aria-expanded") == "false"
    assert page.locator("#save-dialog").is_visible()
    context.close()
