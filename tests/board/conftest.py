"""A page on a copy of the demo's front unit: asked without a browser, and served for one."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, sync_playwright

from tests.board.chromium import Served, launched, need_chromium, served
from tests.board.desk import Page, page_on
from tests.board.hands import WIDE
from tests.tracked import shipped


@pytest.fixture
def page(tmp_path: Path) -> Page:
    return page_on(tmp_path)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    need_chromium()
    with sync_playwright() as playwright:
        browser = launched(playwright)
        yield browser
        browser.close()


@pytest.fixture
def context(chromium: Browser) -> Iterator[BrowserContext]:
    found = chromium.new_context(viewport={"width": WIDE[0], "height": WIDE[1]})
    found.set_default_timeout(20_000)
    yield found
    found.close()


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Served]:
    for source in shipped("demo", "*.toml"):
        shutil.copy(source, tmp_path)
    with served(tmp_path, "front-unit.toml") as found:
        yield found


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave out by default what drives a browser: it takes longer than all the rest of the board's tests."""
    for item in items:
        if "chromium" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.slow)
