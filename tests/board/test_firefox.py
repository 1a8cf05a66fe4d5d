"""The same page in a browser of other make: dragging by mouse and finger, the docked sheet, the stream."""

import re
from collections.abc import Iterator

import pytest

from tests.board.chromium import Served
from tests.board.firefox import Window, firefox_window
from tests.board.test_dock import ALWAYS, IN_VIEW, SIZES

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Window]:
    with firefox_window(tmp_path_factory.mktemp("profile")) as window:
        yield window


@pytest.fixture
def firefox(browser: Window) -> Iterator[Window]:
    """The window; whatever a test does, the page never complains of its own doing."""
    browser.wrong.clear()
    yield browser
    assert [text for text in browser.wrong if "409" not in text and "422" not in text] == []


def _place(desk: Served, stand: int) -> tuple[float, float]:
    at = desk.desk.plans[0].plan.draft.job.supports[stand].at
    return at[0], at[1]


@pytest.mark.parametrize("kind", ["mouse", "touch"])
def test_a_stand_follows_the_hand_and_stays_where_it_lets_go(firefox: Window, desk: Served, kind: str) -> None:
    firefox.size(820, 1180)
    firefox.show(f"{desk.plan}?step=3")
    before, (x, y) = _place(desk, 4), firefox.middle("target-4")
    firefox.move(kind, [(x, y), *((x, y + down) for down in range(10, 81, 10))], lift=False)
    firefox.wait("document.body.dataset.waiting === undefined")
    # Where it is held the drawing has followed, and the plan has not.
    assert firefox.middle("target-4")[1] > y + 20
    assert _place(desk, 4) == before
    firefox.lift(kind)
    firefox.wait("document.getElementById('unsaved').checkVisibility()")
    firefox.settled()
    after = _place(desk, 4)
    assert after[0] < before[0] - 0.02
    assert firefox.value("scrollY") == 0
    assert desk.desk.plans[0].plan.revision == 1


def test_verdicts_plan_and_steps_are_in_one_view(firefox: Window, desk: Served) -> None:
    for size in SIZES:
        firefox.size(*size)
        firefox.show(desk.plan)
        assert firefox.value(f"({IN_VIEW.strip()})({[*ALWAYS, 'panes']})") == []
        assert firefox.value("document.documentElement.scrollHeight <= innerHeight")
        firefox.move("mouse", [firefox.middle("target-4")], lift=True)
        firefox.settled()
        assert firefox.value(f"({IN_VIEW.strip()})({[*ALWAYS, 'who']})") == []


def test_the_sheet_changes_its_height_by_its_handle(firefox: Window, desk: Served) -> None:
    firefox.size(390, 844)
    firefox.show(desk.plan)
    for name in ("full", "handle", "half"):
        firefox.move("touch", [firefox.middle("dock-handle")], lift=True)
        firefox.wait(f"document.getElementById('dock').dataset.height === '{name}'")
        firefox.settled()
        assert firefox.value(f"({IN_VIEW.strip()})(['step-back', 'step-on', 'dock-handle', 'job-verdict'])") == []


def test_the_page_turns_when_the_shops_file_does(firefox: Window, desk: Served) -> None:
    firefox.size(1280, 800)
    firefox.show(desk.plan)
    word = "document.querySelector('#job-verdict [data-say=job]').textContent"
    assert firefox.value(word) != "FOR PRACTICE: STOP"
    shop = desk.folder / "shop.toml"
    derated, times = re.subn(r'^(rating +=) ".*"', r'\1 "20 kg"', shop.read_text("utf-8"), flags=re.MULTILINE)
    assert times > 0
    shop.write_text(derated, "utf-8")
    firefox.wait(f"{word} === 'FOR PRACTICE: STOP'")


def test_a_server_that_is_gone_is_told(firefox: Window, desk: Served) -> None:
    firefox.show(desk.plan)
    desk.desk.stopping.set()
    firefox.wait("document.body.hasAttribute('data-stale')")
    assert "Not connected" in firefox.value("document.getElementById('stale-says').textContent")
