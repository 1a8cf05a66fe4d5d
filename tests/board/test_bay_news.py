"""A second tablet at the bay hears what was done on another device."""

from pathlib import Path

from playwright.sync_api import Browser, expect

from loadplan.files.work_record_file import record_path
from tests.board.chromium import Served
from tests.board.hands import WIDE


def test_what_moved_shows_on_another_tablet_and_loses_nothing_that_is_typed_there(
    chromium: Browser, desk: Served, tmp_path: Path
) -> None:
    """Patient: what is waited for is that it shows at all, on a busy machine."""
    here, other, typing = (
        chromium.new_context(viewport={"width": WIDE[0], "height": WIDE[1]}).new_page() for _ in range(3)
    )
    for each in (here, other, typing):
        each.set_default_timeout(60_000)
        each.goto(f"{desk.plan}/bay")
    typing.locator("#who").fill("Kim")
    here.locator(".bay-moved button").click()
    expect(here.locator(".bay-band")).to_have_attribute("data-verdict", "caution", timeout=60_000)
    assert record_path(tmp_path / "front-unit.toml").exists()
    expect(other.locator(".bay-band")).to_have_attribute("data-verdict", "caution", timeout=60_000)
    expect(other.locator(".bay-part").first).to_contain_text("Something moved")
    expect(typing.locator("#news-read")).to_contain_text("Something moved: hands off", timeout=60_000)
    assert typing.locator("#who").input_value() == "Kim"
    typing.locator("#news-read").click()
    expect(typing.locator(".bay-band")).to_have_attribute("data-verdict", "caution", timeout=60_000)
    expect(typing.locator("#news-read")).to_be_hidden()
    for each in (here, other, typing):
        each.context.close()
