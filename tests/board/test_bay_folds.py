"""What folds at the bay: what is done, what waits for a stop point, what is read seldom; nothing is left out."""

import re
from html import unescape
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from playwright.sync_api import Page as Shown

from tests.board.at_the_bay import AtTheBay
from tests.board.chromium import Served
from tests.board.desk import Page, page_on

TABLET = {"width": 820, "height": 1180}
TALLEST = 3_600
"""The longest step of the demo is no taller than three screens of a tablet [px]; unfolded it is twice that."""


@pytest.fixture
def bay(page: Page) -> AtTheBay:
    return AtTheBay(page)


def part(text: str, heading: str) -> str:
    """Return a part of the page, with what folds in brackets and without all other tags."""
    found = re.search(rf'<section class="bay-part[^>]*aria-label="{heading}">(.*?)</section>', text, re.DOTALL)
    assert found is not None, heading
    folds = re.sub(r"<details[^>]*>", "[", found[1]).replace("</details>", "]")
    return unescape(" ".join(re.sub(r"<[^>]*>", " ", folds).split()))


def lines_before(bay: AtTheBay) -> list[str]:
    return [words for words, _, may in bay.lines(0) if may]


def test_what_is_next_is_open_and_what_waits_for_the_stop_point_is_a_line(bay: AtTheBay) -> None:
    text = bay.look(0)
    assert part(text, "Before").startswith("Before stop here until all is ticked maker's procedure read")
    assert part(text, "Set in place").startswith("[ Set in place later: 12 to do A: ratchet stand 3 t")
    assert part(text, "At touch").startswith("[ At touch later: 3 to do stop there until all is ticked every saddle")
    assert part(text, "Notes").startswith("[ Notes, photographs, a hose that was still on Note")


def test_what_is_done_folds_to_a_line_and_can_still_be_taken_back(bay: AtTheBay) -> None:
    first, second, *others = lines_before(bay)
    bay.say(what="tick", line=first)
    assert part(bay.look(0), "Before").startswith("Before stop here until all is ticked maker's procedure read")
    bay.say(what="tick", line=second)
    assert part(bay.look(0), "Before").startswith("Before stop here until all is ticked [ 2 of 12 done maker's")
    for words in others:
        bay.say(what="tick", line=words)
    text = bay.look(0)
    assert part(text, "Before").startswith("[ Before all 12 done maker's procedure read")
    assert part(text, "Set in place").startswith("Set in place A: ratchet stand 3 t")
    assert bay.say(what="untick", line=first).status_code == 303
    assert part(bay.look(0), "Set in place").startswith("[ Set in place later")


def test_a_part_of_one_line_is_done_and_not_all_one_of_it(bay: AtTheBay) -> None:
    bay.tick_all(0)
    assert part(bay.look(0), "Lower").startswith("[ Lower done lower past first touch")


def test_who_looks_ahead_sees_all_of_a_step(bay: AtTheBay) -> None:
    assert part(bay.look(1), "Undo, in this order").startswith("Undo, in this order cradle bolts")


@pytest.mark.parametrize(
    ("job", "step", "seen", "folds"),
    [
        ("shell-nose-off", 1, "nothing stands under its rear end.", "Before the weight moves: set a prop"),
        ("drive-unit-on-oil", 2, "Do not touch D. Take the weight back first.", ""),
        ("drive-unit-on-oil", 0, "Only oil holds D", "Before unbolting"),
    ],
)
def test_a_long_caution_folds_behind_its_first_sentence_but_for_hands_off(
    tmp_path: Path, job: str, step: int, seen: str, folds: str
) -> None:
    found = re.search(r'<div class="bay-caution">(.*?)</div>', AtTheBay(page_on(tmp_path, job)).look(step), re.DOTALL)
    assert found is not None
    first, _, others = found[1].partition("<details><summary>Read on</summary>")
    assert seen in first
    if folds and len(folds) < len(others):
        assert others.startswith(folds)
    else:
        assert folds in first


@pytest.mark.parametrize(("load", "said"), [("900 kg", "Stop, and look before going on"), ("2 kg", "It fits")])
def test_what_a_reading_says_is_not_folded(bay: AtTheBay, load: str, said: str) -> None:
    bay.say(what="read", support="A", place="1", load=load)
    told = re.search(r'id="read-1">(.*?)</li>', bay.look(0), re.DOTALL)
    assert told is not None
    assert said in told[1].partition("</details>")[2]


def test_what_was_not_taken_is_open(bay: AtTheBay) -> None:
    told = bay.say(what="read", support="B", place="2", load="6O kg").text
    assert re.findall(r'id="read-(\d)"><details open>', told) == ["2"]


def folded(shown: Shown) -> int:
    return int(shown.evaluate("document.documentElement.scrollHeight"))


def test_the_longest_step_is_three_screens_and_all_of_it_is_there(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport=TABLET, has_touch=True)
    shown = context.new_page()
    shown.goto(f"{desk.plan}/bay?step=0")
    assert folded(shown) <= TALLEST
    waiting = shown.locator(".bay-line:has-text('every saddle fully home')")
    assert not waiting.is_visible()
    shown.locator("summary:has-text('At touch')").tap()
    assert waiting.is_visible()
    assert waiting.is_disabled(), "a stop point is not passed by opening what waits"
    context.close()
