"""More of the page in Chromium: putting back, other names, what if, two windows, the worst case, odd names."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

import loadplan
from tests.board.chromium import Served, ready, settled
from tests.board.hands import (
    SMALL,
    drag,
    finger,
    hold,
    lift,
    pane,
    place,
    reach,
    scale,
    snaps_within,
    text,
    to_step,
    watched,
)

ODD = "<b>bold</b> 'one' $x^2$ \u05e9\u05dc\u05d5\u05dd </script><script>alert(1)</script>"
"""Made up: markup, quotes, dollars, and letters that run from right to left."""


@pytest.fixture
def page(context: BrowserContext, desk: Served) -> Iterator[Page]:
    with watched(context, desk) as found:
        to_step(found, 2)
        yield found


def _changed(page: Page) -> None:
    """Move a stand, so that the plan says something else than its file."""
    page.locator("#target-0").focus()
    page.keyboard.press("Shift+ArrowDown")
    page.wait_for_selector("#unsaved:visible")
    settled(page)


def _named(page: Page, name: str) -> None:
    """Save under another name."""
    page.locator("#save-name").fill(name)
    page.keyboard.press("Enter")
    page.wait_for_function("name => document.getElementById('save-title').textContent === `Save in ${name}`", arg=name)
    assert text(page, "#save-says") == "A new file. This differs from front-unit.toml:"
    page.locator("#save-sure").click()


def test_a_finger_that_is_taken_from_the_page_puts_the_stand_back(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": SMALL[0], "height": SMALL[1]}, has_touch=True, is_mobile=True)
    page = ready(context.new_page(), desk.plan)
    to_step(page, 2)
    touch = finger(page, reach(page, "target-4"), (0, 60))
    page.wait_for_selector("#readout:visible")
    lift(touch, "touchCancel")
    page.wait_for_function("() => document.getElementById('said').textContent === 'Put back.'")
    settled(page)
    assert page.locator("#stand-4").get_attribute("transform") is None
    assert page.locator("#readout").is_hidden()
    assert desk.desk.plans[0].plan.revision == 0
    context.close()


def test_what_clashes_is_saved_under_another_name(page: Page, desk: Served) -> None:
    _changed(page)
    path = desk.folder / "front-unit.toml"
    theirs = path.read_text("utf-8").replace("lowered     = 8", "lowered     = 9")
    path.write_text(theirs, "utf-8")
    page.locator("#save").click()
    page.locator("#conflict-name").click()
    _named(page, "us-units.toml")
    page.wait_for_function("() => document.getElementById('save-says').textContent.includes('is there already')")
    _named(page, "mine.toml")
    page.wait_for_selector("#unsaved", state="hidden")
    settled(page)
    assert text(page, "#file") == "mine.toml"
    assert path.read_text("utf-8") == theirs
    mine = loadplan.read_job(desk.folder / "mine.toml")
    assert mine.supports[0].at[:2] == pytest.approx(place(desk, 0))
    assert mine.supports[0].at[:2] != loadplan.read_job(path).supports[0].at[:2]


def test_a_file_read_anew_keeps_the_way_back(page: Page, desk: Served) -> None:
    was = place(desk, 0)
    _changed(page)
    moved, path = place(desk, 0), desk.folder / "front-unit.toml"
    path.write_text(path.read_text("utf-8").replace("lowered     = 8", "lowered     = 9"), "utf-8")
    page.locator("#save").click()
    page.locator("#conflict-reread").click()
    page.wait_for_selector("#unsaved", state="hidden")
    settled(page)
    assert place(desk, 0) == was
    page.locator("#undo").click()
    page.wait_for_selector("#unsaved:visible")
    assert place(desk, 0) == moved


def test_a_point_that_draws_a_stand_in_is_named(page: Page, desk: Served) -> None:
    job = desk.desk.plans[0].plan.draft.job
    point = next(each for each in job.vehicle.points if each.name == "cradle middle left")
    (x, y), k = place(desk, 2), scale(page, desk)
    beside = snaps_within(page, desk) / 2
    hold(page, 2, (y - point.at[1]) * k, (x - point.at[0] - beside) * k)
    page.wait_for_function("() => document.querySelector('#readout [data-say=place]').textContent.startsWith('at ')")
    assert text(page, "#readout [data-say=place]") == "at cradle middle left"
    page.mouse.up()
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    assert text(page, "#said") == "C is under cradle middle left."
    assert place(desk, 2) == point.at[:2]


def test_off_a_point_what_is_above_is_named_and_other_steps_are_open(page: Page, desk: Served) -> None:
    far = 0.05 + snaps_within(page, desk)
    told = page.locator("#job-verdict .word")
    assert told.is_visible()
    hold(page, 2, 0, -far * scale(page, desk))
    page.wait_for_function("() => document.querySelector('#readout [data-say=place]').textContent.startsWith('under ')")
    assert text(page, "#readout [data-say=margin]").endswith("to tipping, worst case")
    assert page.locator("#job-verdict .counted-later").is_visible()
    assert told.is_hidden()
    page.keyboard.press("Escape")
    page.mouse.up()
    settled(page)
    assert told.is_visible()
    assert page.locator("#job-verdict .counted-later").is_hidden()


def test_an_edge_is_ink_and_takes_the_colour_of_a_fault_of_its_margin_while_a_stand_is_held(
    page: Page, desk: Served
) -> None:
    colours = "() => [...document.querySelectorAll('[id^=edge-] path')].map((each) => getComputedStyle(each).stroke)"
    ink, blue, stop = "rgb(27, 36, 48)", "rgb(11, 95, 165)", "rgb(143, 18, 57)"
    assert ink in page.evaluate(colours)
    assert blue not in page.evaluate(colours)
    k, (x, y) = scale(page, desk), place(desk, 0)
    hold(page, 0, (y + 0.1) * k, x * k)
    page.wait_for_function("() => document.getElementById('step-cell').dataset.verdict === 'stop'")
    assert stop in page.evaluate(colours)
    assert blue not in page.evaluate(colours)
    page.keyboard.press("Escape")
    page.mouse.up()
    settled(page)
    assert stop not in page.evaluate(colours)


def test_the_sign_of_a_centre_of_gravity_is_dragged(page: Page, desk: Served) -> None:
    pane(page, "try")
    bodies = [each.name for each in desk.desk.plans[0].plan.draft.job.vehicle.bodies]
    sign = f"sign-{bodies.index('powertrain')}"
    page.wait_for_selector(f"#{sign}", state="attached")
    drag(page, sign, 0, -0.04 * scale(page, desk))
    page.mouse.up()
    page.wait_for_selector("#what-if-told:visible")
    settled(page)
    (name, by), *others = desk.desk.plans[0].plan.draft.what_if.shifts
    assert (name, others) == ("powertrain", [])
    assert by == pytest.approx((0.04, 0.0), abs=0.01)
    told = text(page, "#what-if-words")
    assert told.startswith("What if, not saved: centre of gravity of the powertrain")
    assert "forward" in told
    assert not page.locator("#unsaved").is_visible()
    page.locator("#save").click()
    page.wait_for_selector("#save-dialog[open]")
    assert text(page, "#save-says") == "The file already says all of this."


def test_another_weight_is_tried_and_taken_back(page: Page) -> None:
    pane(page, "try")
    page.locator("#mass-part").select_option(label="sump with oil")
    page.locator("#mass-text").fill("44 lb")
    page.keyboard.press("Enter")
    page.wait_for_selector("#what-if-told:visible")
    assert text(page, "#what-if-words") == "What if, not saved: sump with oil 20 kg instead of 12 kg."
    page.locator("#as-given").click()
    page.wait_for_selector("#what-if-told", state="hidden")


def test_a_window_that_is_behind_is_told_and_changes_nothing(page: Page, context: BrowserContext, desk: Served) -> None:
    other = context.new_page()
    # What it would hear at once of its own accord does not come through.
    other.route("**/stream", lambda route: route.abort())
    ready(other, desk.plan)
    to_step(other, 2)
    _changed(page)
    seen = place(desk, 0)
    other.locator("#target-1").focus()
    other.keyboard.press("Shift+ArrowDown")
    other.wait_for_function("() => document.getElementById('said').textContent.includes('in another window')")
    settled(other)
    assert desk.desk.plans[0].plan.revision == 1
    assert other.locator("#unsaved").is_visible()
    other.locator("#undo").click()
    other.wait_for_selector("#unsaved", state="hidden")
    assert place(desk, 0) != seen


def test_every_number_is_the_worst_case_until_it_is_asked_for_as_given(page: Page) -> None:
    row, drawn, far = "#row-4 [data-say=big]", "#load-4 text", "[id^=far-] text:last-of-type"
    cells = ("#step-cell [data-say=far]", "#job-verdict [data-say=job_far]", "#margin [data-say=rest]")
    given = text(page, "#row-4 [data-say=other]").removeprefix("most on this floor; as given ")
    most = [text(page, each) for each in (row, drawn)]
    assert most[0] == most[1] != given
    assert all("worst case" in text(page, each) for each in cells)
    distances = page.locator(far).all_text_contents()
    assert any("worst case" in each for each in distances)
    page.locator("#given").click()
    assert [text(page, each) for each in (row, drawn)] == [given, given]
    assert all("as given" in text(page, each) and "worst" not in text(page, each) for each in cells)
    assert not any("worst" in each for each in page.locator(far).all_text_contents())
    assert text(page, "#margin [data-say=other]").endswith("worst case")
    page.locator("#given").click()
    assert [text(page, each) for each in (row, drawn)] == most
    assert page.locator(far).all_text_contents() == distances


def test_the_worst_case_is_the_big_number_and_as_given_the_small_one(page: Page) -> None:
    figure = r"\d+ mm"
    assert re.fullmatch(figure, text(page, "#margin [data-say=big]"))
    assert text(page, "#margin [data-say=rest]") == "to tipping, worst case"
    assert re.fullmatch(rf"{figure} to tipping, as given", text(page, "#margin [data-say=other]"))


def test_the_drawing_is_had_as_a_file(page: Page) -> None:
    with page.expect_download() as found:
        page.locator("#more").click()
        page.locator("#download").click()
    assert found.value.suggested_filename == "front-unit-step-3.svg"
    root = ET.parse(found.value.path()).getroot()
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert "77 kg" in "".join(root.itertext())


def test_after_a_change_a_tap_takes_no_stand_away(page: Page) -> None:
    page.locator("#away").click()
    page.locator("#row-4").click()
    page.wait_for_selector("#what-if-told:visible")
    settled(page)
    pane(page, "parts")
    page.locator("#parts button", has_text="intake manifold").first.click()
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    assert page.locator("#away").get_attribute("aria-pressed") == "false"
    page.mouse.click(*reach(page, "target-2"))
    settled(page)
    assert text(page, "#who").startswith("C, ")
    assert page.locator("#what-if-told").is_hidden()


def test_a_stand_is_copied_set_up_and_removed_and_each_change_taken_back(page: Page, desk: Served) -> None:
    plan = desk.desk.plans[0].plan
    names = [each.name for each in plan.draft.job.supports]
    page.locator("#row-0").click()
    page.locator("#stand-height").fill("13 3/4 in")
    page.keyboard.press("Enter")
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    assert plan.draft.job.supports[0].height == pytest.approx(0.34925)
    other = page.locator("#stand-equipment option", has_text="screw stand 2 t").get_attribute("value")
    page.locator("#stand-equipment").select_option(value=other)
    page.wait_for_function("() => document.querySelector('#row-0 [data-say=uses]').textContent === 'screw stand 2 t'")
    settled(page)
    page.locator("#stand-form [data-do=duplicate]").click()
    page.wait_for_selector(f"#row-{len(names)}")
    settled(page)
    page.locator("#stand-form [data-do=remove]").click()
    page.wait_for_selector(f"#row-{len(names)}", state="detached")
    settled(page)
    assert [each.name for each in plan.draft.job.supports] == names
    for _ in range(4):
        page.locator("#undo").click()
    settled(page)
    assert page.locator("#undo").is_disabled()
    assert page.locator("#unsaved").is_hidden()
    assert plan.draft.job.supports[0].equipment.name == "ratchet stand 3 t"
    for _ in range(4):
        page.locator("#redo").click()
    settled(page)
    assert page.locator("#redo").is_disabled()
    assert plan.draft.job.supports[0].equipment.name == "screw stand 2 t"


def test_bare_numbers_and_fractions_are_in_the_units_that_the_page_shows(context: BrowserContext, desk: Served) -> None:
    number = desk.desk.open(desk.folder / "us-units.toml")
    page, plan = ready(context.new_page(), f"{desk.address}/plan/{number}"), desk.desk.plans[number].plan
    page.locator("#row-0").click()
    page.locator("#stand-height").fill("14 1/2")
    page.keyboard.press("Enter")
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    assert text(page, "#said") == "A is set to 14 1/2 in."
    assert plan.draft.job.supports[0].height == pytest.approx(14.5 * 0.0254)
    pane(page, "try")
    page.locator("#cg-forward").fill("-1 1/2")
    page.locator("#cg-left").fill("20 mm")
    page.keyboard.press("Enter")
    page.wait_for_selector("#what-if-told:visible")
    assert plan.draft.what_if.shifts[0][1] == pytest.approx((-1.5 * 0.0254, 0.02))
    assert "1 1/2 in back and 3/4 in to the left" in text(page, "#what-if-words")
    page.locator("#cg-left").fill("some")
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.getElementById('said').textContent.startsWith('Forward and left take')")


def test_odd_names_are_text_and_nothing_else(context: BrowserContext, desk: Served) -> None:
    path = desk.folder / "odd.toml"
    path.write_text(
        (desk.folder / "weighed-unit.toml")
        .read_text("utf-8")
        .replace("Cylinder head off a straight six, engine with gearbox on four stands", ODD)
        .replace("block rail front left", ODD)
        .replace("intake manifold", ODD)
        .replace("Head off", ODD)
        .replace('"A"', '"<i>$A$</i>"'),
        "utf-8",
    )
    said: list[str] = []
    page = context.new_page()
    page.on("dialog", lambda dialog: (said.append(dialog.message), dialog.dismiss()))
    ready(page, f"{desk.address}/plan/{desk.desk.open(path)}")
    assert text(page, "#title") == ODD
    assert text(page, "#row-0 [data-say=under]") == ODD
    assert text(page, "#row-0 [data-say=name]") == "<i>$A$</i>"
    assert ODD in page.locator("#parts [data-say=name]").all_text_contents()
    page.locator("#away").click()
    page.locator("#row-1").click()
    page.wait_for_selector("#what-if-told:visible")
    settled(page)
    assert "<i>$A$</i>" in text(page, "#findings")
    page.locator("#put-back").click()
    settled(page)
    to_step(page, 1)
    assert text(page, "#step-name") == ODD
    page.locator("#target-0").focus()
    page.keyboard.press("Shift+ArrowDown")
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    assert text(page, "#title") == ODD
    assert page.locator("h1 b, main i, main b, main script, footer b").count() == 0
    assert said == []


def test_on_a_phone_names_fit_and_long_reasons_scroll(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": SMALL[0], "height": SMALL[1]})
    page = ready(context.new_page(), f"{desk.address}/plan/{desk.desk.open(desk.folder / 'shell-nose-off.toml')}")
    to_step(page, 1)
    reason = page.locator("#band .reason")
    assert reason.evaluate("(each) => each.scrollHeight > each.clientHeight")
    assert reason.get_attribute("tabindex") == "0"
    assert page.locator("#band").evaluate("(each) => each.offsetHeight") < SMALL[1] * 0.45
    page.locator("#more").click()
    page.locator("#save-as").click()
    dialog = page.locator("#save-dialog").bounding_box()
    button = page.locator("#name-form button").bounding_box()
    assert dialog is not None
    assert button is not None
    assert dialog["x"] <= button["x"]
    assert button["x"] + button["width"] <= dialog["x"] + dialog["width"]
    context.close()
