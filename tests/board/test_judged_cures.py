"""Cures judged before they are offered: what takes its finding away and makes nothing worse, and what does not."""

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext

from tests.board.chromium import Served, settled
from tests.board.desk import Page, opened, page_on
from tests.board.hands import pane, to_step, watched


def _found(page: Page, check: str) -> dict[str, Any]:
    return next(each for each in page.seen["findings"] if each["check"] == check and each["cures"])


def _judged(page: Page, finding: dict[str, Any], cure: dict[str, Any]) -> dict[str, Any]:
    answer = page.post("judge", change=cure["change"], against=finding["against"])
    assert answer.status_code == 200, answer.text
    told: dict[str, Any] = answer.json()
    return told


def _texts(page: Page, check: str) -> list[str]:
    return [each["text"] for each in page.seen["findings"] if each["check"] == check and each["here"]]


def test_what_helps_is_offered_and_judging_changes_nothing(page: Page) -> None:
    page.show(2)
    page.change("height", stand=4, text="452")
    found = _found(page, "height")
    before = page.draft.text, page.seen["revision"]
    assert _judged(page, found, found["cures"][0]) == {"helps": True, "brings": ""}
    assert (page.draft.text, page.show(2)["revision"]) == before


def test_what_leaves_its_finding_is_not_offered(page: Page) -> None:
    page.show(2)
    page.change("height", stand=4, text="452")
    found = _found(page, "height")
    other = {"change": {"kind": "tag", "stand": 0, "tag": page.stand("A")["tags"][0]}}
    told = _judged(page, found, other)
    assert told["helps"] is False
    assert told["brings"] == "What was found is still there then: STOP."


@pytest.mark.slow
def test_what_is_worse_in_another_step_is_not_offered(page: Page) -> None:
    """With a front stand set in, another one carries nothing; raised to carry, the unit drops as it is unbolted."""
    page.show(2)
    at = page.draft.job.supports[0].at
    page.change("move", stand=0, x=at[0] - 0.25, y=at[1] - 0.2)
    found = next(f for f in page.seen["findings"] if f["check"] == "idle support" and f["cures"])
    told = _judged(page, found, found["cures"][0])
    assert told["helps"] is False
    assert told["brings"].startswith("Brings in step 2: STOP. The cradle drops")


@pytest.mark.slow
def test_stands_are_planned_further_out_for_the_margin(page: Page) -> None:
    """It takes its finding away, and is not offered: before the parts go back on in step 6 a stand carries nothing."""
    page.show(2)
    at = page.draft.job.supports[0].at
    page.change("move", stand=0, x=at[0] - 0.25, y=at[1] - 0.2)
    found = next(f for f in page.seen["findings"] if f["check"] == "margin" and f["here"] and "powertrain" in f["text"])
    cure = next(each for each in found["cures"] if each["change"]["kind"] == "move_all")
    assert cure["says"].endswith("further out")
    told = _judged(page, found, cure)
    assert told["helps"] is False
    assert told["brings"].startswith("Brings in step 6: CAUTION. Before putting on front cover with oil pump, belt")
    page.change(**cure["change"])
    assert not any("powertrain is only" in text for text in _texts(page, "margin"))


def test_a_known_pull_is_made_less(page: Page) -> None:
    page.show(2)
    page.change("pull", body=2, at=["0", "0", "800"], force="3000 N", towards="left")
    found = _found(page, "pull")
    (cure,) = [each for each in found["cures"] if each["change"]["kind"] == "pull_less"]
    assert _judged(page, found, cure)["helps"] is True
    page.change(**cure["change"])
    pull = page.draft.job.stages[2].pull
    assert pull is not None
    assert pull.force == pytest.approx(3000 * cure["change"]["share"])
    assert _texts(page, "pull") == []


def test_nobody_pulls_on_a_bar_where_a_push_is_not_stood(page: Page) -> None:
    page.show(2)
    page.change("flag", key="bar", on=True)
    found = _found(page, "push")
    assert _judged(page, found, found["cures"][0])["helps"] is True
    page.change(**found["cures"][0]["change"])
    assert page.draft.job.stages[2].bar is False
    assert _texts(page, "push") == []


def test_a_stand_that_may_carry_more_takes_the_place_of_a_weak_one(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    text = (tmp_path / "shop.toml").read_text("utf-8")
    assert text.count('rating    = "5 tonne"\nrated_for = "each"\nheights   = [320, ') == 1
    weaker = text.replace(
        'rating    = "5 tonne"\nrated_for = "each"\nheights   = [320, ',
        'rating    = "150 kg"\nrated_for = "each"\nheights   = [320, ',
    )
    (tmp_path / "shop.toml").write_text(weaker, "utf-8")
    weak = opened(tmp_path, page.path)
    weak.show(2)
    found = next(f for f in weak.seen["findings"] if f["check"] == "rating" and f["verdict"] == "stop" and f["here"])
    cure = next(each for each in found["cures"] if each["change"]["kind"] == "take_other")
    stand = weak.draft.job.supports[cure["change"]["stand"]]
    height = stand.set_height
    weak.change(**cure["change"])
    now = weak.draft.job.supports[cure["change"]["stand"]]
    assert now.equipment.rating_of_one > stand.equipment.rating_of_one
    assert height is not None
    assert now.set_height == pytest.approx(height, abs=0.03)
    assert found["text"] not in _texts(weak, "rating")


def test_a_cure_of_another_state_of_the_plan_is_not_judged(page: Page) -> None:
    page.show(2)
    page.change("height", stand=4, text="452")
    found = _found(page, "height")
    page.seen["revision"] += 1
    answer = page.post("judge", change=found["cures"][0]["change"], against=found["against"])
    assert answer.status_code == 409


@pytest.mark.parametrize("change", [{"kind": "move_all", "stands": []}, {"kind": "pull_less", "step": 0, "share": 2}])
def test_half_a_cure_is_not_understood(page: Page, change: dict[str, object]) -> None:
    assert page.post("change", change=change).status_code == 422
    assert page.post("judge", change=change, against=[[0, "pull", "x"]]).status_code == 422


def test_the_page_offers_only_what_helps(context: BrowserContext, desk: Served) -> None:
    with watched(context, desk) as page:
        to_step(page, 2)
        page.locator("#target-0").click()
        x, y = desk.desk.plans[0].plan.draft.job.supports[0].at[:2]
        page.locator("#stand-x").fill(f"{(x - 0.25) * 1000:.0f}")
        page.locator("#stand-y").fill(f"{(y - 0.2) * 1000:.0f}")
        page.locator("#stand-place").click()
        page.wait_for_selector("#unsaved:visible")
        settled(page)
        pane(page, "findings")
        dropping = page.locator("#findings .not-offered", has_text="drops")
        dropping.first.wait_for(timeout=60_000)
        page.locator("#findings .cure", has_text="further out").first.click(timeout=60_000)
        settled(page)
        assert desk.desk.plans[0].plan.can_undo
