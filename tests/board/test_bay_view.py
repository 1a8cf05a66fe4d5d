"""The bay view: what is ticked, read and noted goes into the record before the page shows it as kept."""

import re
from html import unescape
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from starlette.testclient import TestClient

from loadplan.board import bay_view
from loadplan.board.bay_step import MOVED
from loadplan.board.request_guard import Pass
from loadplan.board.routes import board
from loadplan.files.work_record_file import read_record, record_path
from loadplan.model.work_record import Deed
from tests.board.at_the_bay import AtTheBay
from tests.board.chromium import Served
from tests.board.desk import HOST, Page, page_on


@pytest.fixture
def bay(page: Page) -> AtTheBay:
    return AtTheBay(page)


def test_it_begins_with_the_first_step_and_its_stop_points(bay: AtTheBay) -> None:
    lines = bay.lines(0)
    assert lines[0] == ("Before: maker's procedure read", False, True)
    assert ("A: set it to 330 mm", False, False) in lines
    assert "Step 1 of 9" in bay.text
    assert "at 320 mm front, 380 mm left" in bay.text
    assert "lower past first touch: at least 7 mm, at most 16 mm" in bay.text
    assert "Makers' ratings" in unescape(bay.text)
    assert bay.record == ()


def test_a_stop_point_cannot_be_passed_over(bay: AtTheBay) -> None:
    answer = bay.say(what="tick", line="A: set it to 330 mm")
    assert answer.status_code == 422
    assert "a stop point before this line is not done yet" in answer.text
    assert bay.say(what="all", part="Before").status_code == 303
    assert bay.record == ()


def test_nothing_is_kept_without_a_name(page: Page) -> None:
    bay = AtTheBay(page)
    page.client.cookies.clear()
    assert "write down who works here first" in bay.say(what="tick", line="Before: maker's procedure read").text
    assert bay.record == ()


def test_a_tick_is_on_the_disk_and_can_be_taken_back(bay: AtTheBay) -> None:
    line = "Before: maker's procedure read"
    bay.say(what="tick", line=line)
    assert [(each.deed, each.words, each.who) for each in bay.record] == [
        (Deed.BEGUN, "", "Kim Ö"),
        (Deed.TICKED, line, "Kim Ö"),
    ]
    assert (line, True, True) in bay.lines(0)
    bay.say(what="untick", line=line)
    assert (line, False, True) in bay.lines(0)


def test_a_line_as_long_as_a_job_may_ask_for_can_be_ticked(page: Page) -> None:
    long = "look at the hose " * 17 + "and a strap"
    text = page.path.read_text("utf-8")
    page.path.write_text(text.replace("prop shaft off and tied up", long, 1), "utf-8")
    page.show()
    page.post("reread")
    bay = AtTheBay(page)
    line = f"Asked by this job: {long}"
    assert len(long) <= 300 < len(line)
    for words in [*(words for words, _, _ in bay.lines(0) if words.startswith("Before: ")), line]:
        bay.say(what="tick", line=words)
    assert (line, True, True) in bay.lines(0)


def test_a_step_is_done_when_all_of_it_is(bay: AtTheBay) -> None:
    assert "something in this step is not ticked yet" in bay.say(what="done").text
    bay.tick_all(0)
    bay.say(what="done")
    assert bay.record[-1].deed is Deed.STEP_DONE
    assert bay.say(what="done").status_code == 422
    assert [each.deed for each in bay.record].count(Deed.STEP_DONE) == 1
    assert "Step 2 of 9" in bay.look()
    assert "First finish the step before" in bay.look(3)
    assert not any(may for _, _, may in bay.lines(3))


def test_the_lines_of_a_part_that_is_no_stop_point_can_be_ticked_at_once(bay: AtTheBay) -> None:
    for words, _, _ in [each for each in bay.lines(0) if each[0].startswith("Before: ")]:
        bay.say(what="tick", line=words)
    bay.say(what="all", part="Set in place")
    assert all(ticked for words, ticked, _ in bay.lines(0) if words.startswith(("A: ", "F: ")))


@pytest.mark.parametrize("form", [
    {"what": "read", "support": "A", "load": "-3"},
    {"what": "read", "support": "A", "load": "much"},
    {"what": "read", "support": "Z", "load": "3"},
    {"what": "read", "support": "A"},
    {"what": "note", "words": "   "},
    {"what": "tick", "line": "Before: something else"},
    {"what": "shout"},
    {},
])  # fmt: skip
def test_what_is_not_understood_is_refused_and_nothing_is_kept(bay: AtTheBay, form: dict[str, str]) -> None:
    assert bay.say(**form).status_code == 422
    assert bay.record == ()


def test_when_something_moved_all_waits_until_it_was_looked_at(bay: AtTheBay) -> None:
    bay.say(what="tick", line="Before: maker's procedure read")
    bay.say(what="moved")
    open_lines = [words for words, _, may in bay.lines(0) if may]
    assert open_lines[0] == "hands off, everybody away from unit and vehicle"
    assert all("Before" not in each for each in open_lines)
    for words in open_lines:
        bay.say(what="tick", line=words)
    assert ("Before: battery off, high voltage isolated by a qualified person", False, True) in bay.lines(0)
    bay.say(what="moved", words="again")
    assert all("Before" not in words for words, _, may in bay.lines(0) if may)


def test_what_moved_waits_for_no_name(page: Page) -> None:
    bay = AtTheBay(page)
    page.client.cookies.clear()
    assert bay.say(what="moved").status_code == 303
    assert tuple(words for words, _, may in bay.lines(0) if may) == MOVED.lines
    assert [(each.deed, each.who) for each in bay.record] == [(Deed.BEGUN, ""), (Deed.MOVED, "")]
    assert ", : Something moved" not in bay.text


def test_what_to_do_when_something_moved_is_told_also_where_it_cannot_be_kept(
    page: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    bay = AtTheBay(page)
    with monkeypatch.context() as disk:
        disk.setattr(bay_view, "add_to_record", full)
        on_full_disk = bay.say(what="moved").text
    page.show()
    page.change("height", stand=0, text="331 mm")
    for said in (on_full_disk, bay.say(what="moved").text):
        assert "hands off, everybody away from unit and vehicle" in said
    assert "No space left on device" in on_full_disk
    assert bay.record == ()


def test_what_was_forgotten_is_kept_for_the_next_job(bay: AtTheBay) -> None:
    bay.say(what="forgotten", words="heater hose at the bulkhead")
    assert bay.record[-1].deed is Deed.FORGOTTEN
    assert "Was still on: heater hose at the bulkhead. `loadplan forgotten JOB` lists it in the vehicle" in bay.look(0)
    assert bay.say(what="forgotten", words=" ").status_code == 422


def test_what_moved_after_a_step_was_done_stops_the_next_one_too(bay: AtTheBay) -> None:
    bay.tick_all(0)
    bay.say(what="done")
    bay.say(1, what="moved")
    assert tuple(words for words, _, may in bay.lines(1) if may) == MOVED.lines


def test_a_step_that_is_a_stop_is_not_worked_through(page: Page) -> None:
    page.show()
    page.change("height", stand=0, text="500 mm")
    page.post("save", sure=True)
    bay = AtTheBay(page)
    bay.look(0)
    assert "not to be done as it is planned" in bay.text
    assert not any(may for _, _, may in bay.lines(0))


def test_a_step_before_a_stop_says_that_the_job_cannot_be_finished(tmp_path: Path) -> None:
    """Its own verdict holds; the unit would be set down and unbolted before anybody saw the other one."""
    says = "A later step is a stop as it is planned: step 2, <bdi>Tail stand set, unbolted, shell 50 mm up</bdi>."
    bay = AtTheBay(page_on(tmp_path, "rocking-on-two-stands"))
    assert "HOLDS ON PAPER" in bay.look(0)
    assert says in bay.text
    assert "A later step" not in bay.look(1)
    assert "not to be done as it is planned" in bay.text


def test_no_step_of_a_plan_that_holds_speaks_of_a_stop(bay: AtTheBay) -> None:
    assert not any("A later step" in bay.look(step) for step in range(9))


def test_a_plan_with_changes_that_are_not_saved_is_not_worked_by(page: Page) -> None:
    bay = AtTheBay(page)
    page.show()
    page.change("height", stand=0, text="331 mm")
    answer = page.client.get("/plan/0/bay", headers={"accept": "text/html"})
    assert answer.status_code == 422
    assert "not saved" in answer.text
    assert bay.say(what="tick", line="Before: maker's procedure read").status_code == 422
    assert bay.record == ()


def test_a_plan_that_changes_after_work_began_says_so_here_and_in_the_record(page: Page) -> None:
    bay = AtTheBay(page)
    bay.say(what="tick", line="Before: maker's procedure read")
    page.path.write_text(page.path.read_text("utf-8").replace('title   = "', 'title   = "Changed: ', 1), "utf-8")
    page.show()
    page.post("reread")
    assert "this plan is another" in bay.look(0)
    bay.say(what="note", words="went on")
    assert [each.deed for each in bay.record[-2:]] == [Deed.PLAN_CHANGED, Deed.NOTED]


def test_what_cannot_be_written_is_not_shown_as_kept(bay: AtTheBay, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(bay_view, "add_to_record", full)
    answer = bay.say(what="tick", line="Before: maker's procedure read")
    assert answer.status_code == 422
    assert "Cannot be written: No space left on device" in answer.text
    assert 'name="line"' in answer.text, "it is said on the page of the step"
    assert ("Before: maker's procedure read", False, True) in bay.lines(0)


def test_a_form_from_elsewhere_is_refused(bay: AtTheBay) -> None:
    assert bay.say(what="note", words="x", token="guess").status_code in {403, 422}
    assert not record_path(bay.page.path).exists()


@pytest.mark.slow
def test_a_whole_job_is_worked_through_and_finished(bay: AtTheBay) -> None:
    for step in range(9):
        bay.tick_all(step)
        assert bay.say(step, what="done").status_code == 303, step
    assert bay.record[-1].deed is Deed.FINISHED
    told = read_record(bay.page.path)
    assert not told.edited
    assert told.standing is not None
    assert told.standing.finished


def test_a_line_that_is_open_again_opens_the_step_again(bay: AtTheBay) -> None:
    bay.tick_all(0)
    bay.say(what="done")
    assert any(may for _, _, may in bay.lines(1))
    bay.say(what="untick", line="At touch: lift on its locks")
    assert "This step is done." not in bay.look(0)
    assert not any(may for _, _, may in bay.lines(1))
    assert "Step 1 of 9" in bay.look()
    bay.say(what="tick", line="At touch: lift on its locks")
    assert any(may for _, _, may in bay.lines(1))


@pytest.mark.parametrize("step", ["99", "-1", "nan", "9" * 5000, "\N{ARABIC-INDIC DIGIT THREE}"])
def test_a_step_that_is_not_in_the_plan_keeps_nothing(bay: AtTheBay, step: str) -> None:
    assert bay.say(step, what="note", words="x").status_code == 422
    assert bay.record == ()


def test_a_note_of_more_letters_than_are_kept_is_refused_and_not_cut(bay: AtTheBay) -> None:
    assert "it has 301 letters, 300 are the most" in bay.say(what="note", words="x" * 301).text
    assert "it has 301 letters" in bay.say(what="moved", words="x" * 301).text
    assert bay.record == ()
    assert bay.say(what="note", words="x" * 300).status_code == 303
    assert bay.record[-1].words == "x" * 300


def test_a_record_that_was_edited_is_told_at_the_bay(bay: AtTheBay) -> None:
    bay.say(what="note", words="a clip was on")
    path = record_path(bay.page.path)
    path.write_text(path.read_text("utf-8").replace("a clip was on", "all was off"), "utf-8")
    assert "Somebody has edited this record by hand" in bay.look(0)


@pytest.mark.parametrize("size", [(820, 1180), (1180, 820), (390, 844), (1280, 800)])
def test_all_of_the_page_is_as_wide_as_the_window(chromium: Browser, desk: Served, size: tuple[int, int]) -> None:
    """On a phone the field for a photograph is wider than the window, and must not draw the work lines out with it."""
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
    shown = context.new_page()
    shown.goto(f"{desk.plan}/bay")
    beyond = """() => [...document.querySelectorAll("body :not(.skip)")].filter(
      (each) => each.getBoundingClientRect().right > innerWidth + 0.5).map((each) => each.outerHTML.slice(0, 80))"""
    assert shown.evaluate(beyond) == []
    assert shown.evaluate("document.documentElement.scrollWidth") == size[0]
    context.close()


TOO_SMALL = """
() => {
  for (const each of document.querySelectorAll("details")) each.open = true;
  const found = [], texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const touched = ":is(a, button, select, summary, input:not([type=hidden])):not([hidden])";
  for (const each of document.querySelectorAll(touched)) {
    const { width, height } = each.getBoundingClientRect();
    if (width < 60 || height < 60) found.push(each.outerHTML.slice(0, 80));
  }
  while (texts.nextNode()) {
    const within = texts.currentNode.parentElement;
    const done = within.closest("[aria-checked=true], .bay-log, .bay-small, .bay-ticked");
    if (!texts.currentNode.textContent.trim() || done) continue;
    if (parseFloat(getComputedStyle(within).fontSize) < 32) found.push(texts.currentNode.textContent.trim());
  }
  return found;
}
"""


def test_it_is_read_at_arms_length_and_worked_with_gloves(chromium: Browser, desk: Served) -> None:
    """Targets of 60 px and letters of 32 px, with all that folds open; what is done already may be smaller."""
    context = chromium.new_context(viewport={"width": 820, "height": 1180}, has_touch=True)
    shown = context.new_page()
    for step in (0, 3):
        shown.goto(f"{desk.plan}/bay?step={step}")
        assert shown.evaluate(TOO_SMALL) == []
    context.close()


@pytest.mark.parametrize("scheme", ["http", "https"])
def test_who_works_here_is_shown_to_no_script_and_unencrypted_only_where_all_is(page: Page, scheme: str) -> None:
    held = Pass(frozenset({HOST}), scheme=scheme)
    app, here = board(page.desk, held, lambda _: None), ("127.0.0.1", 5000)
    asking = TestClient(app, base_url=f"{scheme}://{HOST}", client=here, follow_redirects=False)
    form = {"token": held.token, "step": "0", "what": "who", "who": "Kim"}
    answer = asking.post("/plan/0/bay", data=form, headers={"origin": f"{scheme}://{HOST}"})
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith("loadplan-who=Kim; HttpOnly; Path=/; SameSite=strict")
    assert ("Secure" in cookie) == (scheme == "https")


def test_a_step_that_is_done_leads_on_to_the_next(bay: AtTheBay) -> None:
    bay.tick_all(0)
    bay.say(what="done")
    after = re.search(r'class="bay-done" id="now">.*?</form>', bay.look(0), re.DOTALL)
    assert after is not None
    assert "This step is done." in after[0]
    assert 'href="/plan/0/bay?step=1"><span>On to step 2: <bdi>Tail stand set' in after[0]


@pytest.mark.parametrize(
    ("form", "shown"),
    [
        ({"what": "read", "support": "B", "place": "2", "load": "60 kg"}, "read-2"),
        ({"what": "forgotten", "words": "hose at the bulkhead"}, "still-on"),
        ({"what": "note", "words": "left early"}, "kept"),
        ({"what": "tick", "line": "Before: maker's procedure read"}, "now"),
    ],
)
def test_what_was_just_kept_comes_into_view(bay: AtTheBay, form: dict[str, str], shown: str) -> None:
    """What a reading means, and where a hose is asked for, stands screens below what is next."""
    assert bay.say(**form).headers["location"] == f"/plan/0/bay?step=0#{shown}"
    assert f'id="{shown}"' in bay.look(0)


def test_what_was_not_taken_stays_in_its_field(bay: AtTheBay) -> None:
    told = bay.say(what="read", support="B", place="2", load="6O kg", lowered="9").text
    assert 'name="load" type="text" inputmode="decimal" maxlength="20" value="6O kg"' in told
    assert told.count('value="6O kg"') == 1
    assert told.count('maxlength="20" value="9"') == 1
    bay.say(what="forgotten", words="heater hose")
    told = bay.say(what="place", words="heater hose", body="powertrain", front="-20O", left="150", tie="off").text
    assert "<option selected>powertrain</option>" in told
    assert 'required value="-20O"' in told
    assert 'required value="150"' in told


def test_of_a_record_without_entries_no_sum_is_told(bay: AtTheBay) -> None:
    assert "the sum of the last is" not in bay.look(0)
    bay.say(what="note", words="began")
    assert "2 entries; the sum of the last is" in bay.look(0)
