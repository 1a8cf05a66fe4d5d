"""A window hears of another's change, of a file that changed under the plan, and that the server stops."""

import asyncio
import json
import re
import threading
from collections.abc import AsyncIterator, Callable, Coroutine
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, TypeVar

import pytest
from playwright.sync_api import Browser, Route
from starlette.datastructures import Headers

from loadplan.board import change_stream, draft, undo_history
from loadplan.board.change_stream import Server, events
from loadplan.board.owner_keys import OwnerKeys
from loadplan.files.work_record_file import add_to_record
from loadplan.model.work_record import Deed, RecordEntry
from tests.board.chromium import Served, ready, served
from tests.board.desk import Page
from tests.tracked import shipped

pytestmark = pytest.mark.slow

Told = TypeVar("Told")


def _derate(folder: Path) -> None:
    """Mark all equipment of the shop's file as good for far less than the demo puts on it."""
    shop = folder / "shop.toml"
    text = shop.read_text("utf-8")
    derated, times = re.subn(r'^(rating +=) ".*"', r'\1 "20 kg"', text, flags=re.MULTILINE)
    assert times > 0
    shop.write_text(derated, "utf-8")


def _run(coroutine: Coroutine[Any, Any, Told]) -> Told:
    """Run it to its end in a thread of its own.

    The browser's driver, where an earlier test of this process started one, keeps an event loop going in this one.
    """
    with ThreadPoolExecutor(1) as alone:
        return alone.submit(asyncio.run, coroutine).result()


async def _next(stream: AsyncIterator[str]) -> dict[str, Any]:
    line = await asyncio.wait_for(anext(stream), 30)
    told: dict[str, Any] = json.loads(line.removeprefix("data: "))
    return told


async def _heard(page: Page, does: Callable[[], None]) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return what a window hears before and after something is done."""
    stream = events(
        page.desk, page.desk.plans[0], Server("x", page.held.login, lambda: page.held.admits("127.0.0.1", Headers()))
    )
    before = await _next(stream)
    does()
    after = await _next(stream)
    return before, after


def test_a_derated_stand_in_the_shops_file_is_heard_and_turns_the_verdict(page: Page) -> None:
    before, after = _run(_heard(page, lambda: _derate(page.path.parent)))
    assert before["changed"] == []
    assert after["changed"] == ["shop.toml"]
    assert not after["own"]
    page.show(2)
    assert page.seen["verdict"]["key"] != "do not lower"
    page.seen = page.post("reread").json()
    assert page.seen["changed_on_disk"] == []
    assert any(each["check"] == "rating" and each["word"] == "STOP" for each in page.seen["findings"])


@pytest.mark.parametrize("name", ["front-unit.toml", "van-longitudinal-diesel-rwd.toml"])
def test_a_change_of_any_file_under_the_plan_is_heard(page: Page, name: str) -> None:
    path = page.path.with_name(name)

    def change() -> None:
        path.write_text((path.read_text("utf-8") if path.exists() else "") + "\n# a note\n", "utf-8")

    _, after = _run(_heard(page, change))
    assert after["changed"] == [name]
    assert after["own"] == (name == "front-unit.toml")


def test_the_same_content_written_anew_is_no_change(page: Page) -> None:
    shop = page.path.with_name("shop.toml")
    shop.write_bytes(shop.read_bytes())
    assert page.show()["changed_on_disk"] == []


def test_another_windows_change_is_heard(page: Page) -> None:
    plan = page.desk.plans[0].plan

    def change() -> None:
        plan.change(plan.draft.text + "# a note\n", plan.draft.what_if)

    before, after = _run(_heard(page, change))
    assert after["revision"] == before["revision"] + 1


def test_that_something_moved_at_the_bay_is_heard_also_while_the_plan_is_worked_with(page: Page) -> None:
    name = page.draft.job.stages[0].name

    def moved() -> None:
        page.desk.plans[0].turn.acquire()
        add_to_record(page.path, RecordEntry(datetime.now(UTC), "K", "x", name, Deed.MOVED))

    before, after = _run(_heard(page, moved))
    assert (before["moved"], after["moved"]) == (False, True)
    assert before["record"] != after["record"]


def test_while_the_plan_is_worked_with_the_stream_goes_on(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(change_stream, "GLANCES", 0.001)
    work_done = threading.Event()

    def work() -> None:
        with page.desk.plans[0].turn:
            work_done.wait(60)

    working = threading.Thread(target=work)
    before, after = _run(_heard(page, working.start))
    work_done.set()
    working.join(60)
    assert before == after


def test_a_device_that_is_let_in_is_heard_of(page: Page) -> None:
    page.held.login.code = "1234 5678"
    _, after = _run(_heard(page, lambda: page.held.login.admit("1234 5678", "192.0.2.7")))
    assert after["devices"][0]["words"].startswith("192.0.2.7, since ")


def test_a_device_that_is_sent_away_hears_nothing_more(page: Page) -> None:
    page.held.login.code = "1234 5678"
    shown = page.held.login.admit("1234 5678", "192.0.2.7")
    headers = Headers({"cookie": f"{page.held.cookie}={shown}"})
    server = Server("x", page.held.login, lambda: page.held.admits("192.0.2.7", headers))

    async def heard() -> dict[str, Any]:
        stream = events(page.desk, page.desk.plans[0], server)
        await _next(stream)
        page.held.login.send_away(page.held.login.devices[0].number)
        return await _next(stream)

    assert _run(heard()) == {"sent_away": True}


def test_that_the_server_stops_is_heard(page: Page) -> None:
    _, after = _run(_heard(page, page.desk.stopping.set))
    assert after == {"going": True}


def test_where_nothing_changes_something_is_told_all_the_same(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(change_stream, "GLANCES", 0.001)
    before, after = _run(_heard(page, lambda: None))
    assert before == after


@pytest.mark.parametrize("what", ["sheet.pdf", "plan.svg"])
def test_nothing_old_is_printed(page: Page, what: str) -> None:
    _derate(page.path.parent)
    refused = page.client.get(f"/plan/0/{what}")
    assert refused.status_code == 422
    assert "shop.toml changed on the disk" in refused.json()["refused"]


@pytest.mark.parametrize("what", ["sheet.pdf", "plan.svg"])
def test_nothing_tried_out_is_printed(page: Page, what: str) -> None:
    page.show(2)
    page.change("mass", part=0, text="90 kg")
    refused = page.client.get(f"/plan/0/{what}")
    assert refused.status_code == 422
    assert "tried out" in refused.json()["refused"]


def test_reading_anew_keeps_a_draft_whose_own_file_is_as_it_was(page: Page) -> None:
    page.show(2)
    page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)
    _derate(page.path.parent)
    page.seen = page.post("reread").json()
    assert page.seen["unsaved"]
    assert page.stand("A")["point"] is None


def test_a_shop_that_cannot_be_read_leaves_the_plan_as_it_was_and_marked(page: Page) -> None:
    page.path.with_name("shop.toml").write_text("nonsense", "utf-8")
    assert page.post("reread").status_code == 422
    assert page.show()["changed_on_disk"] == ["shop.toml"]


def test_the_page_turns_when_the_shops_file_does(desk: Served, chromium: Browser) -> None:
    page = ready(chromium.new_page(), f"{desk.plan}")
    page.wait_for_function("document.querySelector('.findings-room') !== null")
    before = page.text_content("#job-verdict")
    _derate(desk.folder)
    page.wait_for_function("before => document.querySelector('#job-verdict').textContent !== before", arg=before)
    page.wait_for_selector("#stale", state="hidden")
    (desk.folder / "front-unit.toml").write_text("nonsense", "utf-8")
    page.wait_for_selector("body[data-stale]")
    assert "front-unit.toml changed on the disk" in (page.text_content("#stale-says") or "")
    page.evaluate("document.getElementById('print').click()")
    assert "Not printed" in (page.text_content("#said") or "")
    page.close()


KEPT = """
  const Source = EventSource;
  window.EventSource = class extends Source { constructor(address) { super(address); window.stream = this; } };
"""
"""What keeps the stream where a test can stop it."""


def test_news_that_comes_while_a_page_is_busy_is_followed_as_soon_as_it_is_not(desk: Served, chromium: Browser) -> None:
    """Not when it is next told something, which may take seconds: here it is told nothing more."""
    page = chromium.new_page()
    page.add_init_script(KEPT)
    ready(page, desk.plan)
    held_up: list[Route] = []
    page.route("**/screen?*", lambda route: held_up.append(route))
    page.locator("#step-on").click()
    before = page.text_content("#job-verdict")
    _derate(desk.folder)
    page.wait_for_selector("body[data-stale]")  # marked at once, busy or not
    page.evaluate("stream.onmessage = null")
    assert page.text_content("#job-verdict") == before
    with page.expect_request("**/reread"):
        for each in held_up:
            each.continue_()
        page.unroute("**/screen?*")
    page.wait_for_function("before => document.querySelector('#job-verdict').textContent !== before", arg=before)
    page.close()


def test_the_band_says_why_a_file_that_changed_cannot_be_read_again(desk: Served, chromium: Browser) -> None:
    page = ready(chromium.new_page(), desk.plan)
    shop = desk.folder / "shop.toml"
    before = shop.read_bytes()
    shop.write_text("nonsense", "utf-8")
    page.wait_for_function("() => document.getElementById('stale-says').textContent.includes('not valid TOML')")
    assert (page.text_content("#stale-says") or "").startswith("shop.toml changed on the disk: cannot be read again.")
    assert page.locator("#read-again").is_visible()
    shop.write_bytes(before)
    page.wait_for_selector("#stale", state="hidden")
    page.close()


def test_a_plan_that_cannot_be_judged_on_the_new_day_does_not_go_on_saying_that_it_holds(
    desk: Served, chromium: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = desk.folder / "front-unit.toml"
    text = re.sub(r"(?m)^(date|until) .*\n", "", path.read_text("utf-8"))
    for module in (draft, undo_history):
        monkeypatch.setattr(module, "today", lambda: date(2031, 5, 6))
    path.write_text(text.replace("schema ", "until = 2031-05-06\nschema ", 1), "utf-8")
    desk.desk.plans[0].plan.reread()
    page = ready(chromium.new_page(), desk.plan)
    assert page.locator("#stale").is_hidden()
    for module in (draft, undo_history):
        monkeypatch.setattr(module, "today", lambda: date(2031, 5, 7))
    page.wait_for_selector("body[data-stale]")
    assert re.search(r"from before.* until", page.text_content("#stale-says") or "")
    page.wait_for_timeout(4000)
    assert page.locator("#stale").is_visible()
    page.close()


def test_a_device_that_is_sent_away_is_told_so_at_once_and_at_each_tap(tmp_path: Path, chromium: Browser) -> None:
    for source in shipped("demo", "*.toml"):
        (tmp_path / source.name).write_bytes(source.read_bytes())
    # With keys a browser of this machine is a device like any other, by what it shows.
    with served(tmp_path, "front-unit.toml", OwnerKeys()) as desk:
        login = desk.held.login
        login.code = "1234 5678"
        context = chromium.new_context()
        shown = login.admit(login.code, "192.0.2.7") or ""
        context.add_cookies([{"name": desk.held.cookie, "value": shown, "url": desk.address}])
        page = ready(context.new_page(), desk.plan)
        login.send_away(login.devices[0].number)
        page.wait_for_selector("body[data-stale]")
        assert "sent away" in (page.text_content("#stale-says") or "")
        for tap in ("#step-on", "#nudges button"):
            page.evaluate("() => { document.getElementById('said').textContent = ''; }")
            if tap != "#step-on":
                page.locator("#row-0").click()
            page.locator(tap).first.click()
            page.wait_for_function(
                "() => /let in any more|Type the code/.test(document.getElementById('said').textContent)"
            )
        assert "sent away" in (page.text_content("#stale-says") or "")
        assert page.text_content("#step-number") == "1", "the loads in view are those of step 1"
        assert page.locator("#strip [aria-current=step]").get_attribute("data-step") == "0"
        context.close()
