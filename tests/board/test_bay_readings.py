"""What is read at the bay: kept, judged at once, and what a reading stops."""

import re
from html import unescape
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.board.bay_readings import judge_readings
from loadplan.board.worker_process import GIVEN_UP, WorkerProcess, here
from loadplan.errors import Fault, InputError
from loadplan.model.job import StageReading
from loadplan.model.verdict import Verdict
from loadplan.model.work_record import Deed
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System
from tests.board.at_the_bay import AtTheBay
from tests.board.desk import Page
from tests.checks.small_jobs import G, judged, unit_job
from tests.checks.test_reading import FOUR, LOOSE
from tests.planning.test_weight_learning import beyond


@pytest.fixture
def bay(page: Page) -> AtTheBay:
    return AtTheBay(page)


@pytest.mark.parametrize(("typed", "newtons", "shown"), [("51", 500.1, "51 kg"), ("112 lb", 498.2, "50.8 kg")])
def test_a_reading_is_kept_beside_what_was_planned(bay: AtTheBay, typed: str, newtons: float, shown: str) -> None:
    bay.say(what="read", support="A", load=typed)
    found = bay.record[-1].found
    assert found is not None
    assert (found.support, found.load) == ("A", pytest.approx(newtons, abs=0.2))
    assert found.planned is not None
    assert f"A carries {shown}" in bay.look(0)


def test_the_most_on_this_floor_is_told_with_what_it_takes_into_account(bay: AtTheBay) -> None:
    """What is likely is far less than that: who reads both has to see why."""
    load = bay.page.draft.assessment.stages[0].statics.load("A")
    assert load is not None
    told = reader_of(bay.page.draft.job, System.METRIC).load
    most = f"at most {told(load.at_most)} on this floor, with all saddles and weights off at once"
    assert f"planned {told(load.expected)}, {most}" in bay.look(0)


@pytest.mark.slow
def test_a_reading_that_fits_is_told_and_the_plan_judged_again_with_it(bay: AtTheBay) -> None:
    planned = {each.name: each.load for each in bay.page.draft.assessment.stages[0].statics.supports}
    for name in ("C", "D"):
        load = planned[name]
        assert load is not None
        bay.say(what="read", support=name, load=f"{load.expected:.0f} N")
    text = unescape(bay.look(0))
    assert "C reads" in text
    assert "It fits." in text
    assert "With what the scales read, all steps: FOR PRACTICE: HOLDS ON PAPER" in text
    assert any(may for _, _, may in bay.lines(0))


@pytest.mark.slow
def test_a_reading_that_no_weights_explain_stops_the_step_until_it_is_read_again(bay: AtTheBay) -> None:
    planned = {each.name: each.load for each in bay.page.draft.assessment.stages[1].statics.supports}["F"]
    assert planned is not None
    bay.tick_all(0)
    bay.say(what="done")
    bay.say(1, what="read", support="F", load="300 kg")
    text = unescape(bay.look(1))
    assert "No weights inside the tolerances do that" in text
    assert "What was read does not go with the plan" in text
    assert not any(may for _, _, may in bay.lines(1))
    bay.say(1, what="read", support="F", load=f"{planned.expected:.0f} N")
    assert any(may for _, _, may in bay.lines(1))
    assert [each.deed for each in bay.record].count(Deed.READ) == 2


def test_a_hand_that_finds_otherwise_than_planned_is_told(bay: AtTheBay) -> None:
    bay.tick_all(0)
    bay.say(what="done")
    bay.say(1, what="read", support="D", turns="yes")
    assert "D turns by hand" in unescape(bay.look(1))


@pytest.mark.slow
def test_what_was_read_before_something_moved_is_not_told_as_fitting(bay: AtTheBay) -> None:
    planned = {each.name: each.load for each in bay.page.draft.assessment.stages[0].statics.supports}["C"]
    assert planned is not None
    bay.say(what="read", support="C", load=f"{planned.expected:.0f} N")
    assert "It fits." in bay.look(0)
    bay.say(what="moved")
    assert "It fits." not in bay.look(0)
    assert "Read before something moved: read again." in bay.text
    bay.say(what="read", support="C", load=f"{planned.expected:.0f} N")
    assert "It fits." in bay.look(0)


@pytest.mark.slow
def test_a_reading_that_is_likely_wrong_waits_for_somebody_to_answer_for_it(bay: AtTheBay) -> None:
    assert 'data-verdict="stop"' not in bay.look(0)
    bay.say(what="read", support="E", load="300 kg")
    assert "Read otherwise than planned" in bay.look(0)
    assert re.search(r'data-verdict="stop".*?FOR PRACTICE: STOP, by what was read', bay.text, re.DOTALL)
    (asked,) = [words for words, _, may in bay.lines(0) if may]
    assert asked == "looked at, and a qualified person says that work may go on: E reads 300 kg"
    bay.say(what="tick", line=asked)
    assert ("Before: maker's procedure read", False, True) in bay.lines(0)
    bay.say(what="read", support="E", load="310 kg")
    assert [words for words, _, may in bay.lines(0) if may] == [asked.replace("300", "310")]


@pytest.mark.slow
def test_a_reading_that_stops_a_step_that_was_done_keeps_the_next_one_from_going_on(bay: AtTheBay) -> None:
    bay.tick_all(0)
    bay.say(what="done")
    assert any(may for _, _, may in bay.lines(1))
    bay.say(0, what="read", support="E", load="300 kg")
    assert not any(may for _, _, may in bay.lines(1))
    assert "First finish the step before" in bay.text
    assert "Step 1 of 9" in bay.look()
    (asked,) = [words for words, ticked, may in bay.lines(0) if may and not ticked]
    bay.say(0, what="tick", line=asked)
    assert any(may for _, _, may in bay.lines(1))


def test_a_reading_that_fits_by_itself_alone_is_not_said_to_fit(tmp_path: Path) -> None:
    """Of 400 kg on four stands one may carry 209 kg; with the weights and heights as given that is too unlikely."""
    (stage,) = (plan := judged(unit_job(FOUR, part=[LOOSE]), tmp_path)).stages
    reads = (StageReading("A", 205 * G, 2 * G),)
    read = judge_readings(plan.job, stage, reads, reader_of(plan.job, System.METRIC))
    assert read.contradicts
    assert "what fits worst: A" in read.words
    (place,) = read.places
    assert "It fits." not in place.words
    assert "with all else that is known it does not fit" in place.words


def test_readings_that_do_not_go_together_are_told_at_each_of_their_places(tmp_path: Path) -> None:
    """Four stands that read 150 kg each come to 600 kg of 408 kg at the most."""
    job = unit_job(FOUR, part=[LOOSE], limits={"uneven_touch": 3})
    (stage,) = (plan := judged(job, tmp_path)).stages
    reads = tuple(StageReading(name, 150 * G, 2 * G) for name in FOUR)
    read = judge_readings(plan.job, stage, reads, reader_of(plan.job, System.METRIC))
    assert read.stops
    stops = [each for each in read.places if each.verdict is Verdict.STOP]
    assert [each.support for each in stops] == list("ABCD")
    assert {each.words.partition(" together read ")[0] for each in stops} == {"A, B, C and D"}


def test_where_the_readings_stop_it_and_no_step_does_that_is_said(tmp_path: Path) -> None:
    job, scales = beyond(tmp_path)
    (stage,) = assess(job).stages
    read = judge_readings(job, stage, scales, reader_of(job, System.METRIC))
    assert (read.verdict, read.stops, read.beyond) == (Verdict.STOP, True, True)
    assert read.words.startswith("With what the scales read, all steps: STOP, because of what was read. Weights")


def test_readings_that_cannot_be_judged_in_time_stop_the_step(bay: AtTheBay) -> None:
    def late(*_: object) -> object:
        raise InputError(Fault("", "", "", GIVEN_UP.format(seconds=25)))

    bay.page.desk.plans[0].do = late
    bay.say(what="read", support="E", load="20 kg")
    text = unescape(bay.look(0))
    assert "What was read could not be judged: Not finished within 25 s" in text
    assert not any(may for _, _, may in bay.lines(0))
    bay.page.desk.plans[0].do = here
    assert "It fits." in bay.look(0)
    assert any(may for _, _, may in bay.lines(0))


def test_readings_are_judged_in_the_process_beside(bay: AtTheBay) -> None:
    beside = WorkerProcess(seconds=600)
    bay.page.desk.plans[0].do = beside.do
    bay.say(what="read", support="E", load="20 kg")
    assert "It fits." in bay.look(0)
    beside.end()


def test_nothing_is_read_in_a_step_that_is_not_reached(bay: AtTheBay) -> None:
    assert bay.say(5, what="read", support="A", load="150 kg").status_code == 422
    assert bay.record == ()
