"""What was still on: its place typed at the bay, its lines shown and written on the last screen, asked for again."""

import re
import shutil
from html import unescape
from pathlib import Path

import pytest
from playwright.sync_api import Browser

import loadplan
from loadplan.files.work_record_file import add_to_record, record_path
from loadplan.model.forgotten_tie import TiePlace
from loadplan.model.vehicle import TieState
from loadplan.model.work_record import Deed, RecordEntry
from tests.board.at_the_bay import AtTheBay
from tests.board.chromium import Served
from tests.board.desk import Page, opened
from tests.board.test_bay_view import TOO_SMALL
from tests.files.test_work_record import NOON

HOSE = "heater hose, clip at the bulkhead"
PLACE = {"words": HOSE, "body": "powertrain", "front": "-200", "left": "150", "tie": "tied"}
WRITES = "Write these lines into the vehicle's file"


@pytest.fixture
def bay(page: Page) -> AtTheBay:
    return AtTheBay(page)


def finish(bay: AtTheBay, first: int = 0) -> None:
    for step in range(first, len(bay.page.draft.assessment.stages)):
        bay.tick_all(step)
        assert bay.say(step, what="done").status_code == 303


def test_its_place_is_typed_in_the_step_and_kept(bay: AtTheBay) -> None:
    bay.say(what="forgotten", words=HOSE)
    assert "Still on this time: for the next job" in bay.look(0)
    assert WRITES not in bay.text, "the job is not finished"
    assert bay.say(what="place", **PLACE).status_code == 303
    placed = bay.record[-1]
    assert (placed.deed, placed.words) == (Deed.PLACED, HOSE)
    assert placed.place is not None
    assert placed.place.at == pytest.approx((-0.2, 0.15))
    assert "at the powertrain, 200 mm back, 150 mm left; it has to be tied up" in unescape(bay.look(0))
    assert "Its height is taken from what it hangs by." in bay.text
    assert "Still on this time" not in bay.look(1), "it was found in another step"


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"words": "a hose"}, "this is not open any more"),
        ({"body": "boat"}, "choose the assembly"),
        ({"tie": "gone"}, "has to be off, or tied up"),
        ({"left": " "}, "measure where it is"),
        ({"front": "x"}, "Not taken: it"),
        ({"front": "100001"}, "farther than 100 m, the most that a vehicle's file takes"),
        ({"up": "-100001"}, "farther than 100 m, the most that a vehicle's file takes"),
    ],
)
def test_what_is_no_place_is_refused(bay: AtTheBay, change: dict[str, str], says: str) -> None:
    bay.say(what="forgotten", words=HOSE)
    answer = bay.say(what="place", **(PLACE | change))
    assert answer.status_code == 422
    assert says in unescape(answer.text)
    assert len(bay.record) == 2


def test_a_place_is_taken_as_far_off_as_the_vehicles_file_takes_it(bay: AtTheBay) -> None:
    bay.say(what="forgotten", words=HOSE)
    assert bay.say(what="place", **(PLACE | {"front": "90000"})).status_code == 303


def test_nothing_is_written_before_the_job_is_finished(bay: AtTheBay) -> None:
    bay.say(what="forgotten", words=HOSE)
    bay.say(what="place", **PLACE)
    assert bay.say(what="list").status_code == 422
    assert not bay.page.path.with_name("van-longitudinal-diesel-rwd.toml").exists()


@pytest.mark.slow
def test_the_last_screen_shows_the_lines_and_writes_them_and_the_next_job_asks(bay: AtTheBay, tmp_path: Path) -> None:
    bay.tick_all(0)
    bay.say(what="done")
    bay.say(1, what="forgotten", words=HOSE)
    bay.say(1, what="forgotten", words="earth strap")
    bay.say(1, what="place", **PLACE)
    finish(bay, 1)
    last = len(bay.page.draft.assessment.stages) - 1
    assert "earth strap" in bay.look(last)
    assert WRITES not in bay.text, "one of them has no place yet"
    bay.say(last, what="place", **(PLACE | {"words": "earth strap", "up": "500", "tie": "off"}))
    text = unescape(bay.look())
    assert WRITES in text
    lines = re.search(r'<pre class="bay-lines">(.*?)</pre>', text, re.DOTALL)
    assert lines is not None
    home = bay.page.path.with_name("van-longitudinal-diesel-rwd.toml")
    assert "beside the job, a copy of the vehicle van-longitudinal-diesel-rwd that ships" in text
    assert not home.exists()
    assert bay.say(last, what="list").status_code == 303
    assert lines[1].strip() in home.read_text("utf-8")
    listed = [each for each in bay.record if each.deed is Deed.LISTED]
    assert [each.words for each in listed] == ["heater hose", "earth strap"]
    text = unescape(bay.look())
    assert "Still on this time" not in text
    assert "In the vehicle's file now: heater hose, earth strap. The next job asks" in text
    assert "In the vehicle's file now" not in bay.look(1), "it is told on the last screen"
    assert "This step is done." in text, "what it learnt opens no step of the job again"
    assert "was listed in the vehicle's file since (heater hose and earth strap): the plan is sheet" in text
    assert "the plan was changed since" not in text
    bay.say(last, what="note", words="swept")
    assert [each.deed for each in bay.record[-2:]] == [Deed.LISTED, Deed.NOTED], "nobody changed the plan"
    assert "the plan was changed since" not in unescape(bay.look())
    assert bay.say(last, what="list").status_code == 422, "nothing twice"
    _next_job(bay.page.path, tmp_path / "next")


def _next_job(done: Path, folder: Path) -> None:
    """The next job of that vehicle asks for both in the step that undoes them: off before that, tied 50 mm up."""
    folder.mkdir()
    for each in done.parent.glob("*.toml"):
        if each != record_path(done):
            shutil.copy(each, folder)
    bay = AtTheBay(opened(folder, folder / done.name))
    assert {each.name for each in loadplan.read_job(folder / done.name).vehicle.ties} >= {"heater hose", "earth strap"}
    bay.tick_all(0)
    bay.say(what="done")
    words = [words for words, _, _ in bay.lines(1)]
    assert "50 mm up: heater hose tied: clip at the bulkhead" in words
    assert "Before: earth strap off" in words


@pytest.mark.parametrize("width", [390, 820])
def test_the_last_screen_is_read_at_arms_length_and_worked_with_gloves(
    chromium: Browser, desk: Served, tmp_path: Path, width: int
) -> None:
    job = tmp_path / "front-unit.toml"
    place = TiePlace("powertrain", (-0.2, 0.15), None, TieState.TIED)
    made = [(Deed.FORGOTTEN, HOSE, None), (Deed.PLACED, HOSE, place), (Deed.FINISHED, "", None)]
    step = loadplan.read_job(job).stages[1].name
    for deed, words, where in made:
        add_to_record(job, RecordEntry(NOON, "K", "0a1b2c3d", step, deed, words, place=where))
    context = chromium.new_context(viewport={"width": width, "height": 1180}, has_touch=True)
    shown = context.new_page()
    shown.goto(f"{desk.plan}/bay?step=8")
    assert "[[tie]]" in (shown.locator(".bay-lines").text_content() or "")
    assert shown.evaluate(TOO_SMALL) == []
    assert shown.evaluate("document.documentElement.scrollWidth") == width
    context.close()
