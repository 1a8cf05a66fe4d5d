"""A technician's script of taps on an upright tablet: a job from nothing, mended, saved, printed, the plan in view."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

import loadplan
from tests.board.chromium import Served, served, settled
from tests.board.hands import UPRIGHT
from tests.planning.typed import METRIC

IN_VIEW = """
() => {
  const box = document.getElementById("plan").getBoundingClientRect();
  return box.height > 250 && box.width > 300 && box.top >= 0 && box.bottom <= innerHeight && scrollY === 0;
}
"""
"""The plan is on the screen as a whole, and the page has not been scrolled."""


OPEN_GROUP_IN_VIEW = """
() => {
  const box = document.querySelector(".ask-groups [aria-current]").getBoundingClientRect();
  return box.left >= 0 && box.right <= innerWidth;
}
"""


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Served]:
    with served(tmp_path, None) as found:
        yield found


@pytest.fixture
def tablet(chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context(
        viewport={"width": UPRIGHT[0], "height": UPRIGHT[1]}, has_touch=True, is_mobile=True, accept_downloads=True
    )
    context.set_default_timeout(40_000)
    yield context.new_page()
    context.close()


def test_a_job_is_made_mended_saved_and_printed_by_taps(tablet: Page, empty: Served) -> None:
    tablet.goto(empty.address)
    tablet.get_by_role("link", name="Answer the questions").tap()
    tablet.get_by_role("button", name="Begin").tap()
    _answer_all(tablet)
    assert "D" in tablet.locator("#sketch svg .letter").all_text_contents()
    tablet.get_by_role("button", name="Make the job").tap()
    tablet.wait_for_selector("body[data-ready]")
    settled(tablet)
    assert tablet.evaluate(IN_VIEW)

    tablet.locator("#tab-findings").tap()
    before = empty.desk.plans[0].plan.draft.text
    tablet.locator("#mend").tap()
    tablet.wait_for_selector("#mend-dialog[open]")
    assert (tablet.locator("#mend-says").text_content() or "").strip()
    _no_wider_than_the_screen(tablet)
    can = tablet.locator("#mend-sure").is_visible()
    tablet.locator("#mend-sure" if can else "#mend-dialog .leave").tap()
    settled(tablet)
    assert (empty.desk.plans[0].plan.draft.text != before) is can
    assert tablet.evaluate(IN_VIEW)

    tablet.locator("#tab-stands").tap()
    tablet.locator("#row-0").tap()
    tablet.locator("#nudges button").first.tap()
    tablet.wait_for_selector("#unsaved:visible")
    settled(tablet)
    assert tablet.evaluate(IN_VIEW)

    tablet.locator("#save").tap()
    tablet.locator("#save-sure").tap()
    tablet.wait_for_selector("#unsaved", state="hidden")
    job = loadplan.read_job(empty.folder / "first-job.toml")
    assert job == empty.desk.plans[0].plan.draft.job
    assert tablet.evaluate(IN_VIEW)

    address = tablet.locator("a[href$='sheet.pdf']").first.get_attribute("href")
    assert address
    sheet = empty.folder / "sheet.pdf"
    sheet.write_bytes(tablet.request.get(empty.address + address).body())
    assert "Clutch" in re.sub(r"\s+", " ", PdfReader(sheet).pages[0].extract_text())


def _answer_all(page: Page) -> None:
    """Answer group by group; what comes up only with an answer is answered as it comes."""
    while group := page.locator("[name=group]").input_value():
        assert page.evaluate(OPEN_GROUP_IN_VIEW), group
        seen: set[str] = set()
        while found := [each for each in _questions(page) if each not in seen]:
            seen.add(found[0])
            _answer(page, found[0])
        _no_wider_than_the_screen(page)
        with page.expect_navigation():
            page.get_by_role("button", name="Go on").tap()
        assert page.locator(".fault, .odd").count() == 0, group


def _questions(page: Page) -> list[str]:
    return [
        each.removeprefix("q-")
        for each in page.locator("#group .question").evaluate_all("(all) => all.map((e) => e.id)")
    ]


def _answer(page: Page, key: str) -> None:
    """Tap a choice, or type and leave the field; then wait until it is kept, and what hangs on it is asked."""
    if key not in METRIC:
        return
    question = page.locator(f"[id='q-{key}']")
    choice = question.locator(f"input[type=radio][value='{METRIC[key]}']")
    looked = page.evaluate("() => document.body.dataset.looked ?? ''")
    if choice.count():
        if choice.is_checked():
            return
        choice.locator("xpath=..").tap()
    elif METRIC[key]:
        field = question.locator("input[type=text], textarea")
        field.fill(METRIC[key])
        field.blur()
    else:
        return
    page.wait_for_function("(was) => (document.body.dataset.looked ?? '') !== was", arg=looked)


def _no_wider_than_the_screen(page: Page) -> None:
    assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
