"""What is typed at the bay: a name goes along with what is tapped next, a comma may be a point; what is in doubt."""

import pytest
from playwright.sync_api import Browser

from loadplan.files.work_record_file import read_record, record_path
from loadplan.model.work_record import Deed
from tests.board.at_the_bay import AtTheBay
from tests.board.chromium import Served
from tests.board.desk import Page


@pytest.fixture
def bay(page: Page) -> AtTheBay:
    return AtTheBay(page)


def test_a_name_that_is_typed_stays_where_something_is_refused(page: Page) -> None:
    bay = AtTheBay(page)
    page.client.cookies.clear()
    told = bay.say(what="tick", line="no such line", who="Kim & Jo")
    assert told.status_code == 422
    assert 'value="Kim &amp; Jo" maxlength="60"' in told.text
    assert bay.say(what="tick", line="Before: maker's procedure read").status_code == 303, "it is known from then on"


def test_a_name_that_is_typed_and_not_kept_goes_along_with_the_next_tap(chromium: Browser, desk: Served) -> None:
    context = chromium.new_context(viewport={"width": 820, "height": 1180})
    shown = context.new_page()
    shown.goto(f"{desk.plan}/bay")
    shown.get_by_label("Who works here").fill("Kim Ö")
    shown.get_by_role("checkbox", name="maker's procedure read").click()
    shown.wait_for_selector("[aria-checked=true]")
    assert shown.get_by_label("Who works here").input_value() == "Kim Ö"
    record = read_record(desk.desk.plans[0].plan.path)
    assert [(each.deed, each.who) for each in record.entries] == [(Deed.BEGUN, "Kim Ö"), (Deed.TICKED, "Kim Ö")]
    context.close()


def test_where_what_was_read_cannot_be_told_no_step_holds(bay: AtTheBay) -> None:
    assert "cannot be told" not in bay.look(0)
    for words in ("one", "two"):
        bay.say(what="note", words=words)
    path = record_path(bay.page.path)
    path.write_text(path.read_text("utf-8").rpartition("\n[[done]]\n")[0], "utf-8")
    assert "FOR PRACTICE: CAUTION, since what was read cannot be told" in bay.look(0)
    assert any(may for _, _, may in bay.lines(0)), "it is no stop"


@pytest.mark.parametrize(("typed", "newtons"), [("50,5", 495.2), ("1,5", 14.7), ("110,25 lb", 490.4)])
def test_a_reading_may_have_a_comma(bay: AtTheBay, typed: str, newtons: float) -> None:
    assert bay.say(what="read", support="A", load=typed).status_code == 303
    found = bay.record[-1].found
    assert found is not None
    assert found.load == pytest.approx(newtons, abs=0.1)


def test_a_comma_that_may_part_thousands_is_refused_at_the_bay_with_what_was_typed(bay: AtTheBay) -> None:
    told = bay.say(what="read", support="A", place="1", load="1,500").text
    assert "Not taken: 1,500 could be 1500 or 1.5. Type 1500, or 1.5." in told
    assert 'value="1,500"' in told
    assert bay.record == ()
