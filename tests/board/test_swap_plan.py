"""A stand changed on the page while the unit stands on it: steps shown first and judged, then put in as one change."""

import pytest
from playwright.sync_api import BrowserContext

from tests.board.chromium import Served, settled
from tests.board.desk import Page
from tests.board.hands import to_step, watched


@pytest.mark.slow
def test_the_steps_are_shown_first_and_put_in_as_one(page: Page) -> None:
    page.show(2)
    before, count = page.draft.text, len(page.draft.job.stages)
    told = page.post("swap", stand=0, incoming=page.stand("A")["equipment"]).json()
    assert told["can"]
    assert "bring it up to just touch" in told["steps"][0]["says"]
    assert all(each["then"].startswith("Then: ") for each in told["steps"])
    assert "CAUTION" in told["says"]
    assert page.draft.text == before
    answer = page.post("swapped")
    assert answer.status_code == 200, answer.text
    page.seen = answer.json()
    assert len(page.draft.job.stages) == count + len(told["steps"])
    assert "A" in page.draft.job.stages[5].cleared
    page.seen = page.post("undo").json()
    assert page.draft.text == before
    assert "steps to change A" in page.seen["said"]


def test_where_there_is_no_way_it_is_said_and_nothing_can_be_put_in(page: Page) -> None:
    page.show(2)
    told = page.post("swap", stand=4, incoming=page.stand("E")["equipment"]).json()
    assert not told["can"]
    assert "No way was found" in told["says"]
    assert "lift or hoist" in told["says"]
    assert page.post("swapped").status_code == 422


def test_a_stand_that_is_not_there_is_refused_in_words(page: Page) -> None:
    page.show(2)
    answer = page.post("swap", stand=99, incoming=None)
    assert answer.status_code == 422
    assert "no stand of that number" in answer.json()["refused"]


@pytest.mark.slow
def test_what_was_shown_of_another_plan_is_not_put_in(page: Page) -> None:
    page.show(2)
    assert page.post("swap", stand=0, incoming=0).json()["can"]
    page.change("remove", stand=4)
    answer = page.post("swapped")
    assert answer.status_code == 422
    assert "Look again" in answer.json()["refused"]


def test_while_weights_are_tried_out_nothing_is_swapped(page: Page) -> None:
    page.show(2)
    page.change("mass", part=0, text="90 kg")
    answer = page.post("swap", stand=0, incoming=0)
    assert answer.status_code == 422
    assert "tried out" in answer.json()["refused"]


def test_a_stand_is_swapped_by_taps(context: BrowserContext, desk: Served) -> None:
    with watched(context, desk) as page:
        to_step(page, 2)
        page.locator("#row-0").click()
        page.locator("#swap").click()
        page.wait_for_selector("#swap-dialog[open]")
        assert not page.locator("#swap-sure").is_visible()
        page.locator("#swap-look").click()
        page.wait_for_selector("#swap-sure:visible", timeout=90_000)
        steps = page.locator("#swap-steps li").count()
        assert steps >= 4
        before = page.locator("#strip button").count()
        page.locator("#swap-sure").click()
        page.wait_for_selector("#unsaved:visible")
        settled(page)
        assert page.locator("#strip button").count() == before + steps
