"""What the band shows at the bay and on the plan's page: never milder than what is known of the work."""

import re
from collections.abc import Callable
from datetime import UTC, datetime
from html import unescape

import pytest

import loadplan
from loadplan.board.bay_readings import ReadPlace, ReadStep, judge_readings
from loadplan.files.work_record_file import add_to_record
from loadplan.limits import GRAVITY
from loadplan.model.verdict import Verdict
from loadplan.model.work_record import MAY_GO_ON, Deed, FoundAtStand, RecordEntry
from loadplan.report.sheet.sheet_number import sheet_number
from tests.board.at_the_bay import AtTheBay
from tests.board.desk import Page


@pytest.fixture
def bay(page: Page) -> AtTheBay:
    return AtTheBay(page)


def band(bay: AtTheBay, step: int) -> tuple[str, str]:
    """Return what the band of a step is coloured by, and what it says."""
    found = re.search(r'class="bay-band" data-verdict="(\w+)".*?bay-verdict">([^<]*)<', bay.look(step), re.DOTALL)
    assert found is not None
    return found[1], found[2]


def test_what_moved_is_a_caution_in_every_step_and_on_the_plans_page_until_it_was_looked_at(bay: AtTheBay) -> None:
    before = [band(bay, step) for step in range(9)]
    assert ("holds", "FOR PRACTICE: HOLDS ON PAPER") in before
    planned = bay.page.show(0)["verdict"]
    bay.say(what="moved")
    for step, (key, words) in enumerate(before):
        told = "since something moved" if key == "holds" else "and something moved"
        assert band(bay, step) == ("caution", f"{words.replace('HOLDS ON PAPER', 'CAUTION')}, {told}")
    then = bay.page.show(0)
    assert (then["verdict"]["key"], then["verdict"]["job_key"]) == ("caution", "caution")
    assert "Something moved at the bay" in then["verdict"]["reason"]
    assert all(each["verdict"] != "holds" for each in then["steps"])
    assert bay.page.show(0, without=0)["verdict"]["key"] != "holds", "a what-if takes nothing of it back"
    for words in [words for words, _, may in bay.lines(0) if may]:
        assert bay.say(what="tick", line=words).status_code == 303
    assert [band(bay, step) for step in range(9)] == before
    assert bay.page.show(0)["verdict"] == planned


def test_while_a_stand_is_moved_by_hand_what_moved_at_the_bay_counts(bay: AtTheBay) -> None:
    page = bay.page
    page.show(0)
    at = page.seen["stands"][0]
    moving = {"stand": 0, "x": at["x"], "y": at["y"], "snap": 0.0}
    bay.say(what="moved")
    page.show(0)
    assert page.post("glance", **moving).json()["verdict"]["key"] == "caution"


def read_in(page: Page, step: int, *found: FoundAtStand) -> None:
    """Put readings into the record, as if the steps before were done."""
    name, number = page.draft.job.stages[step].name, sheet_number(page.draft.job)
    at = datetime.now(UTC).replace(microsecond=0)
    add_to_record(page.path, *(RecordEntry(at, "K", number, name, Deed.READ, found=each) for each in found))


def test_a_reading_outside_what_is_likely_is_a_caution_in_the_band(bay: AtTheBay) -> None:
    """What is a caution by itself, and contradicts nothing."""

    def do(does: Callable[..., object], *given: object) -> object:
        if does is judge_readings:
            return ReadStep((ReadPlace("F", Verdict.CAUTION, "F reads 100 kg; look before going on."),))
        return does(*given)

    bay.page.desk.plans[0].do = do  # type: ignore[assignment]
    read_in(bay.page, 0, FoundAtStand("F", 100 * GRAVITY))
    assert band(bay, 0) == ("caution", "FOR PRACTICE: CAUTION, by what was read")
    shown = bay.page.show(0)
    assert (shown["verdict"]["key"], shown["verdict"]["job_key"]) == ("caution", "caution")
    assert "Read at the bay: F reads 100 kg" in shown["verdict"]["reason"]


def test_a_reading_that_no_weights_explain_is_a_stop_in_the_band(bay: AtTheBay) -> None:
    read_in(bay.page, 0, FoundAtStand("F", 300 * GRAVITY))
    assert band(bay, 0) == ("stop", "FOR PRACTICE: STOP, by what was read")
    assert bay.page.show(0)["verdict"]["job_key"] == "stop"
    assert loadplan.check_file(bay.page.path).verdict == "stop", "as `check` has it"


@pytest.mark.parametrize(("typed", "shown"), [("130.4", "130.4 kg"), ("127", "127 kg"), ("1234 N", "125.8 kg")])
def test_a_reading_is_shown_as_it_was_typed(bay: AtTheBay, typed: str, shown: str) -> None:
    bay.say(what="read", support="C", load=typed)
    text = unescape(bay.look(0))
    assert f"C reads {shown};" in text
    assert f"C carries {shown} (planned 157 kg" in text


def test_the_box_that_no_stand_turns_is_refused_while_one_of_them_does(bay: AtTheBay) -> None:
    box = "At touch: no stand turns by hand"
    bay.say(what="read", support="C", turns="yes")
    bay.tick_all_but(0, box)
    refused = bay.say(what="tick", line=box)
    assert refused.status_code == 422
    assert "By what was found last C turns by hand" in unescape(refused.text)
    bay.say(what="read", support="C", turns="no")
    bay.tick_all_but(0, box)
    assert bay.say(what="tick", line=box).status_code == 303
    bay.say(what="read", support="D", turns="yes")
    assert (bay.record[-1].deed, bay.record[-1].words) == (Deed.TAKEN_BACK, box)
    assert "By what was found last D turns by hand" in unescape(bay.look(0))
    assert (box, False) in [(words, ticked) for words, ticked, _ in bay.lines(0)]


def test_whoever_says_that_work_may_go_on_is_named_in_the_record(bay: AtTheBay) -> None:
    bay.say(what="moved")
    assert "write down who that qualified person is" in bay.say(what="tick", line=MAY_GO_ON, by=" ").text
    assert bay.record[-1].deed is Deed.MOVED
    bay.say(what="tick", line=MAY_GO_ON, by="R. Roe")
    told = [(each.deed, each.words) for each in bay.record[-2:]]
    assert told == [
        (Deed.NOTED, "the qualified person who says that work may go on: R. Roe"),
        (Deed.TICKED, MAY_GO_ON),
    ]
