"""Mending on the page: changes are shown first, then made as one; where one more stand would help a tap sets one."""

from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext

from loadplan.board.mend_plan import Mender
from loadplan.board.refusals import RefusedError
from loadplan.units import System
from tests.board.chromium import Served, ready, settled
from tests.board.desk import Page, page_on
from tests.board.hands import pane, reach, text


@pytest.fixture
def three_left(tmp_path: Path) -> Page:
    """A unit on three of its four stands: it goes over."""
    page = page_on(tmp_path, "weighed-unit")
    page.change("remove", stand=0)
    assert page.seen["verdict"]["key"] == "stop"
    return page


@pytest.mark.slow
def test_the_changes_are_shown_first_and_made_as_one(three_left: Page) -> None:
    page, before = three_left, three_left.draft.text
    told = page.post("mend").json()
    assert page.draft.text == before
    assert told["can"]
    assert len(told["changes"]) == 1
    assert "one more stand" in told["changes"][0]
    answer = page.post("mended")
    assert answer.status_code == 200
    page.seen = answer.json()
    assert page.seen["verdict"]["job_key"] == "holds"
    assert page.seen["undo"]
    page.seen = page.post("undo").json()
    assert page.draft.text == before


def test_what_was_not_shown_of_the_plan_as_it_is_now_is_not_made(three_left: Page) -> None:
    page = three_left
    told = page.post("mended")
    assert told.status_code == 422
    assert "Look again" in told.json()["refused"]
    assert page.draft.job.supports[0].name == "B"


def test_a_search_that_takes_too_long_says_so(three_left: Page) -> None:
    times = iter(range(0, 10_000, 1_000))
    mender = Mender(lambda does, *given: does(*given, lambda: float(next(times))))
    plan = three_left.desk.plans[0].plan
    told = mender.look(0, plan, 0, System.METRIC)
    assert "does not say that nothing helps" in str(told["says"])
    assert told["can"] is False
    assert isinstance(told["left"], list)
    assert len(told["left"]) == len(set(map(str, told["left"]))), "what reads the same in several steps is told once"
    with pytest.raises(RefusedError, match="Look again"):
        mender.make(0, plan)


def test_what_is_tried_out_is_not_mended(tmp_path: Path) -> None:
    page = page_on(tmp_path, "weighed-unit")
    page.change("mass", part=0, text="200 kg")
    told = page.post("mend")
    assert told.status_code == 422
    assert "tried out" in told.json()["refused"]


def test_a_tap_where_one_more_stand_would_help_sets_one(context: BrowserContext, desk: Served) -> None:
    number = desk.desk.open(desk.folder / "weighed-unit.toml")
    page = ready(context.new_page(), f"{desk.address}/plan/{number}")
    plan = desk.desk.plans[number].plan
    page.locator("#row-0").click()
    page.locator("#stand-form [data-do=remove]").click()
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    count = len(plan.draft.job.supports)
    reach(page, "plan")
    across, down = page.evaluate(
        """() => {
          const { clientWidth, clientHeight } = document.getElementById("plan");
          const asked = new URLSearchParams({ step: 0, wide: clientWidth, high: clientHeight });
          return fetch(`/plan/${document.body.dataset.plan}/screen?${asked}`)
            .then((answer) => answer.json()).then(({ one_more, map }) => {
              const svg = document.querySelector("#drawing svg"), targets = [...svg.querySelectorAll(".target")];
              const places = one_more.cells.map(({ x, y }) => new DOMPoint(map.u0 - map.k * y, map.v0 - map.k * x)
                .matrixTransform(svg.getScreenCTM()));
              const away = (place) => Math.min(...targets.map((each) => {
                const box = each.getBoundingClientRect();
                return Math.hypot(box.left + box.width / 2 - place.x, box.top + box.height / 2 - place.y);
              }));
              const best = places.reduce((one, other) => (away(other) > away(one) ? other : one));
              return [best.x, best.y];
            });
        }"""
    )
    page.mouse.click(across, down)
    page.wait_for_function(f"() => document.querySelectorAll('#stands > li').length === {count + 1}")
    settled(page)
    assert text(page, "#job-verdict [data-say=job]") != "FOR PRACTICE: STOP"
    pane(page, "findings")
    assert page.locator("#mend").is_visible()


def test_the_ruler_has_the_colour_of_what_the_drawing_blames(three_left: Page) -> None:
    """A push tips it (common practice, no source): the edge is drawn so, and the ruler with it."""
    margin = three_left.seen["margin"]
    assert margin["worst"]["value"] > 0
    assert margin["key"] == "stop"
