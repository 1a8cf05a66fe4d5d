"""Cures as buttons: what is offered, what a tap makes of the plan, and that undo takes it back."""

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext

from loadplan.board.cure_changes import raised_setting
from loadplan.files import read_job
from loadplan.report.json_output import to_dict
from loadplan.units import System
from tests.board.chromium import Served, settled
from tests.board.desk import Page, opened
from tests.board.hands import pane, to_step, watched
from tests.board.test_accessible import serious


def _found(page: Page, check: str) -> list[dict[str, Any]]:
    return [each for each in page.seen["findings"] if each["check"] == check and each["cures"]]


def _do(page: Page, cure: dict[str, Any]) -> None:
    page.change(**cure["change"])


@pytest.mark.slow
def test_a_height_that_no_setting_has_is_set_by_a_shim(page: Page) -> None:
    page.change("height", stand=4, text="452")
    (found,) = _found(page, "height")
    assert found["verdict"] == "stop"
    (cure,) = found["cures"]
    assert cure["says"] == "E set to 440 mm with a shim of 25 mm douglas fir-larch"
    before = page.draft.text
    _do(page, cure)
    assert _found(page, "height") == []
    job = page.draft.job
    assert (job.supports[4].height, job.supports[4].shim and job.supports[4].shim.height) == (0.44, 0.025)
    page.seen = page.post("undo").json()
    assert page.draft.text == before


def test_a_stand_that_carries_nothing_is_raised_to_what_it_can_be_set_to(page: Page) -> None:
    page.show(2)
    page.change("height", stand=4, text="420")
    found = next(each for each in page.seen["findings"] if each["cures"] and "E carries nothing" in each["text"])
    _do(page, found["cures"][0])
    assert not any("E carries nothing" in each["text"] for each in page.seen["findings"])


def test_the_lift_is_put_on_its_locks_in_the_step_that_is_found_fault_with(tmp_path: Path, page: Page) -> None:
    text = page.path.read_text("utf-8")
    assert "lift_locked = true" in text
    path = tmp_path / "unlocked.toml"
    path.write_text(text.replace("lift_locked = true", "lift_locked = false"), "utf-8")
    other = opened(tmp_path, path)
    other.show(1)
    found = next(each for each in _found(other, "lift lock") if each["here"])
    assert found["cures"][0]["says"] == "Lift on its locks in this step"
    _do(other, found["cures"][0])
    assert other.draft.job.stages[found["cures"][0]["change"]["step"]].lift_locked is True


def test_two_stands_with_one_tag_get_two(page: Page) -> None:
    tag = page.stand("A")["tags"][0]
    page.change("tag", stand=0, tag=tag)
    page.change("tag", stand=1, tag=tag)
    found = _found(page, "count")
    assert found
    _do(page, found[0]["cures"][0])
    tags = [each.tag for each in page.draft.job.supports[:2]]
    assert len(set(tags)) == 2
    assert tag in tags


def test_no_setting_that_comes_near_is_no_cure(page: Page) -> None:
    job = page.draft.job
    assert raised_setting(job, job.supports[0], 3.0) is None
    assert page.refused("raise", stands=[{"stand": 0, "by": 3.0}]).startswith("A cannot be set so")
    setting = raised_setting(job, job.supports[0], 0.001)
    assert setting is not None
    assert setting.total >= (job.supports[0].set_height or 0.0) + 0.0005


@pytest.mark.parametrize("change", [{"kind": "raise", "stands": []}, {"kind": "lift"}, {"kind": "lift", "step": -1}])
def test_half_a_cure_is_not_understood(page: Page, change: dict[str, object]) -> None:
    assert page.post("change", change=change).status_code == 422


def test_machine_output_has_no_cures(page: Page) -> None:
    page.change("height", stand=4, text="452")
    told = to_dict(page.draft.assessment, System.METRIC)
    keys = {key for stage in told["stages"] for finding in stage["findings"] for key in finding}  # type: ignore[union-attr,index,call-overload]
    assert "cures" not in keys
    assert read_job(page.path).supports[4].height != 0.452


def test_a_tap_cures(context: BrowserContext, desk: Served) -> None:
    with watched(context, desk) as page:
        to_step(page, 2)
        page.locator("#target-4").click()
        page.locator("#stand-height").fill("452")
        page.locator("#stand-form button[type=submit]").click()
        page.wait_for_selector("#unsaved:visible")
        settled(page)
        pane(page, "findings")
        assert serious(page) == []
        page.locator("#findings .cure", has_text="shim of 25 mm").first.click()
        page.wait_for_function("() => !document.getElementById('findings').textContent.includes('E cannot be set')")
        settled(page)
        assert desk.desk.plans[0].plan.draft.job.supports[4].height == pytest.approx(0.44)
        page.locator("#undo").click()
        settled(page)
        assert desk.desk.plans[0].plan.draft.job.supports[4].height == pytest.approx(0.452)
