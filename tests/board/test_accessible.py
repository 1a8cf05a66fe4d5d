"""The page for everybody: axe-core finds nothing serious, colours keep their distance, verdicts are words too."""

import re
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from loadplan.report.drawing import style
from loadplan.report.pictures import verdict_colours
from tests.board.chromium import Served, ready, served, settled
from tests.board.hands import pane

SIZES = ((360, 740), (820, 1180), (1280, 800))
OWN = {"#B77800", "#FBF1DC"}
"""Colours of the page alone: what is held or has the focus, and the ground of a row that is held."""

STATIC = Path(__file__).parents[2] / "loadplan" / "board" / "static"


def serious(page: Page) -> list[str]:
    """Return what axe-core calls serious or critical, with where it is."""
    found = Axe().run(page).response["violations"]
    return [
        f"{each['id']}: {node['html'][:120]}"
        for each in found
        if each["impact"] in {"serious", "critical"}
        for node in each["nodes"]
    ]


@pytest.mark.parametrize("size", SIZES)
def test_the_plan_is_for_everybody(chromium: Browser, desk: Served, size: tuple[int, int]) -> None:
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
    page = ready(context.new_page(), desk.plan)
    assert serious(page) == []
    page.locator("#row-0").click()
    page.evaluate("() => { for (const each of document.querySelectorAll('details')) each.open = true; }")
    settled(page)
    for name in ("stands", "findings", "parts", "try", "notes"):
        pane(page, name)
        settled(page)
        assert serious(page) == [], name
    context.close()


def test_a_plan_that_stops_is_for_everybody(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 1280, "height": 800})
    page = ready(context.new_page(), desk.plan)
    page.locator("#strip [data-step='2']").click()
    settled(page)
    page.locator("#away").click()
    page.locator("#row-0").click()
    page.wait_for_selector("#what-if-told:visible")
    settled(page)
    assert "STOP" in (page.locator("#band [data-say=word]").text_content() or "")
    assert serious(page) == []
    page.locator("#save").click()
    page.wait_for_selector("dialog[open]")
    assert serious(page) == []
    context.close()


@pytest.mark.parametrize("path", ["/", "/ask", "/ask/x.toml", "/enter"])
@pytest.mark.parametrize("size", SIZES)
def test_the_pages_before_the_plan_are_for_everybody(
    chromium: Browser, tmp_path: Path, path: str, size: tuple[int, int]
) -> None:
    with served(tmp_path, None) as found:
        context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
        page = context.new_page()
        page.goto(found.address + path)
        assert serious(page) == []
        assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
        context.close()


def test_texts_keep_their_contrast() -> None:
    """Contrast of the palette by WCAG 2.2 (relative luminance, contrast ratio): 4.5 for text."""
    pairs = (
        *(("#1B2430", "#F4F3EE"), ("#52606D", "#F4F3EE"), ("#FFFFFF", "#0B5FA5"), ("#1B2430", "#F0B429")),
        *(("#FFFFFF", "#8F1239"), ("#8A5A00", "#FFFFFF")),
    )
    assert {colour for pair in pairs for colour in pair} <= _used()
    assert all(_contrast(*each) >= 4.5 for each in pairs)


def test_the_page_uses_the_palette_only() -> None:
    texts = [Path(palette.__file__).read_text("utf-8") for palette in (style, verdict_colours)]
    known = {each.upper() for text in texts for each in re.findall(r"#[0-9a-fA-F]{6}", text)}
    assert _used() - known == OWN


def _used() -> set[str]:
    """Return the colours that the page's styles name."""
    return {
        each.upper()
        for sheet in STATIC.glob("*.css")
        for each in re.findall(r"#[0-9a-fA-F]{6}\b", sheet.read_text("utf-8"))
    }


def _contrast(one: str, other: str) -> float:
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
