"""Steps made, changed and moved on the page: what becomes of the plan, and by hand in the browser."""

import pytest
from playwright.sync_api import Browser, BrowserContext

from tests.board.chromium import Served, ready, settled
from tests.board.desk import Page
from tests.board.hands import pane, text, to_step, watched
from tests.board.test_accessible import serious

SIZES = ((820, 1180), (1180, 820), (390, 844), (1280, 800))


def _names(page: Page) -> list[str]:
    return [each.name for each in page.draft.job.stages]


@pytest.mark.slow
def test_a_step_is_added_named_moved_and_taken_out(page: Page) -> None:
    before, text_before = _names(page), page.draft.text
    page.show(2)
    page.change("add_step")
    assert _names(page) == [*before[:3], "Step 10", *before[3:]]
    page.show(3)
    page.change("name_step", text=" Coffee, and a look round ")
    page.change("move_step", by=-1)
    assert _names(page)[2:4] == ["Coffee, and a look round", before[2]]
    page.show(2)
    page.change("remove_step")
    assert _names(page) == before
    assert page.draft.text == text_before


def test_what_cannot_be_is_refused_and_changes_nothing(page: Page) -> None:
    before = page.draft.text
    assert page.refused("move_step", by=-1) == "There is no step on that side."
    assert "name of one line" in page.refused("name_step", text="  \n ")
    assert "number any more" in page.refused("do", what="joint", item=999, done=True)
    assert "force" in page.refused("pull", body=0, force="three")
    page.show(1)
    # A name that another step has is refused in the reader's words.
    assert page.draft.job.stages[0].name in page.refused("name_step", text=page.draft.job.stages[0].name)
    assert page.draft.text == before


def test_joints_stands_and_the_lift_come_and_go(page: Page) -> None:
    form = page.show(1)["step_form"]
    joint = next(each for each in form["joints"] if each["done"])
    page.change("do", what="joint", item=joint["id"], done=False)
    now = {each["name"]: each["done"] for each in page.seen["step_form"]["joints"]}
    assert now[joint["name"]] is False
    page.seen = page.post("undo").json()
    tail = next(each for each in page.show(2)["step_form"]["supports"] if each["name"] == "tail prop")
    assert tail["done"] is True
    page.change("do", what="support", item=tail["id"], done=False)
    assert "tail prop" not in {each.name for each in page.draft.assessment.stages[2].state.supports}
    page.change("do", what="support", item=tail["id"], done=True)
    assert "tail prop" in {each.name for each in page.draft.assessment.stages[2].state.supports}
    assert page.seen["step_form"]["lift"]["done"] is True


@pytest.mark.parametrize("key", ["bar", "unattended", "moved"])
def test_what_holds_of_a_step_is_said_and_unsaid(page: Page, key: str) -> None:
    page.show(3)
    before = page.draft.text
    was = page.seen["step_form"]["flags"][key]
    page.change("flag", key=key, on=not was)
    assert page.seen["step_form"]["flags"][key] is not was
    page.seen = page.post("undo").json()
    assert page.draft.text == before


def test_lowering_is_read_in_the_readers_units_and_one_way_only(page: Page) -> None:
    page.change("lowering", way="raised", text="0.5 in")
    stage = page.draft.job.stages[0]
    assert (stage.lowered, stage.raised) == (None, pytest.approx(0.0127))
    assert page.seen["step_form"]["way"] == "raised"
    page.change("lowering", way="lowered", text="9")
    assert page.draft.job.stages[0].lowered == pytest.approx(0.009)
    page.change("lowering", way="lowered", text="")
    assert page.draft.job.stages[0].lowered is None


def test_a_pull_and_boxes_are_written_and_taken_out(page: Page) -> None:
    page.show(3)
    body = next(each["id"] for each in page.seen["bodies"] if each["name"] == "powertrain")
    page.change("pull", body=body, at=["160", "-520 mm", "480"], force="400 N", towards="back")
    pull = page.draft.job.stages[3].pull
    assert pull is not None
    assert (pull.body, pull.force, pull.towards) == ("powertrain", pytest.approx(400), (-1, 0, 0))
    assert pull.at == pytest.approx((0.16, -0.52, 0.48))
    assert page.seen["step_form"]["pull"]["towards"] == "back"
    page.change("pull")
    assert page.draft.job.stages[3].pull is None
    page.change("boxes", text="cable marked\n\n  lid shut ")
    assert page.draft.job.stages[3].confirm == ("cable marked", "lid shut")


def test_a_step_is_made_by_taps(context: BrowserContext, desk: Served) -> None:
    plan = desk.desk.plans[0].plan
    with watched(context, desk) as page:
        to_step(page, 2)
        pane(page, "step")
        page.locator("#step-add").click()
        page.wait_for_function("() => document.getElementById('step-number').textContent === '4'")
        settled(page)
        page.keyboard.type("A look round")
        page.keyboard.press("Enter")
        page.wait_for_function("() => document.getElementById('step-name').textContent === 'A look round'")
        page.locator("#step-flags [data-key=bar]").click()
        page.locator("#step-supports button", has_text="tail stand").click()
        page.wait_for_selector("#step-supports button[aria-pressed=true]:has-text('tail stand')")
        settled(page)
        stage = plan.draft.job.stages[3]
        assert (stage.name, stage.bar, stage.in_place) == ("A look round", True, ("tail stand",))
        page.locator("#undo").click()
        page.wait_for_selector("#step-supports button[aria-pressed=false]:has-text('tail stand')")
        page.locator("#step-earlier").click()
        page.wait_for_function("() => document.getElementById('step-number').textContent === '3'")
        settled(page)
        assert plan.draft.job.stages[2].name == "A look round"
        # What the plan does not take is shown as it is, and why stands below.
        page.locator("#step-text").fill(plan.draft.job.stages[0].name)
        page.keyboard.press("Enter")
        page.wait_for_function("() => document.getElementById('step-text').value === 'A look round'")
        assert plan.draft.job.stages[0].name in text(page, "#said")


@pytest.mark.parametrize("size", SIZES)
def test_the_form_is_for_everybody(chromium: Browser, desk: Served, size: tuple[int, int]) -> None:
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]}, has_touch=True)
    page = ready(context.new_page(), desk.plan)
    page.locator("#tab-step").tap()
    page.evaluate("() => { for (const each of document.querySelectorAll('#pane-step details')) each.open = true; }")
    assert serious(page) == []
    assert page.evaluate("document.documentElement.scrollHeight <= innerHeight")
    wide = "() => [...document.querySelectorAll('#pane-step *')].filter((e) => e.scrollWidth > innerWidth).length"
    assert page.evaluate(wide) == 0
    page.locator("#step-flags [data-key=unattended]").tap()
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    assert desk.desk.plans[0].plan.draft.job.stages[0].unattended
    context.close()
