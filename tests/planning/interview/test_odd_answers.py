"""Odd values are asked about, and taken only when they come again."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.planning.interview.answer_parsing import read_answer
from loadplan.planning.interview.known_vehicle import KnownVehicle
from loadplan.planning.interview.odd_answers import outside
from loadplan.planning.interview.question import Ask, Edges, Seat, Tie, Value
from loadplan.planning.interview.question_flow import Answers, next_question, questions, with_answer
from loadplan.planning.interview.questions_on_job import Beginning, work_questions
from loadplan.units import System
from tests.planning.typed import EMPTY, METRIC, SOON, all_typed

DEMO = Path(__file__).parents[3] / "demo"


def says(key: str, text: str) -> str:
    """Answer one question otherwise, all others as ever."""
    _, kept = all_typed(METRIC)
    question = next(each for each in questions(kept) if each.key == key)
    return with_answer(kept, question, text).says


@pytest.mark.parametrize(
    ("key", "text", "told"),
    [
        ("gearbox.weight", "38 lb", "odd for a gearbox: most are 25 kg to 160 kg"),
        ("pads.along", "100 front to 3900 behind", "4000 mm is odd for front and rear pads apart"),
        ("gear1.owned", "90", "90 is odd for one shop"),
        ("stands", "12", "odd for stands under one unit"),
        ("pads.height", "700", "odd for lift pads of a vehicle on its wheels"),
        ("weight", "9000", "odd for a whole vehicle"),
        ("lift.rating", "1 tonne", "odd for a vehicle lift"),
        ("gear1.mark", "30 tonne each", "odd for the stand"),
        ("prop.heights", "290 to 430", "odd for a stand under a raised vehicle"),
        ("gear1.base", "90", "90 mm is odd for a foot on the floor: is that its saddle"),
        ("gear1.heights", "20", "20 mm at the most is odd for what a unit is set on"),
        ("engine.box", "330 front to 120 behind, 1400 left to 1400 right, 610 to 35 above", "odd for one engine"),
        (
            "standE",
            "engine, 215 front, 280 left, 40 above",
            "beside the engine: left and right swapped, or under the gearbox instead?",
        ),
        ("standF", "gearbox, 215 front, 280 left, 300 above", "the gearbox's lowest edge is 40 mm above the pads"),
        ("standB", "subframe, 440 front, 390 left, 0", "stand A is there already"),
        ("standE", "engine, 300 behind, 280 right, 40 above", "or under the subframe instead?"),
        ("standC", "subframe, 620 behind, 680 left, 0", "is 40 mm from where a lift pad comes down"),
    ],
)
def test_an_odd_value_is_asked_about(key: str, text: str, told: str) -> None:
    assert told in says(key, text)


@pytest.mark.slow
@pytest.mark.parametrize("key", METRIC)
def test_a_usual_value_is_not(key: str) -> None:
    if key in {each.key for each in questions(all_typed(METRIC)[1])}:
        assert says(key, METRIC[key]) == ""


def test_of_a_known_vehicle_a_place_by_a_lift_pad_is_asked_about_before_a_stand_goes_there() -> None:
    """Where one is set all the same, every check stops on it: that is why it is asked about."""
    vehicle = read_job(DEMO / "front-unit.toml").vehicle
    pad = next(each for each in vehicle.points if each.name == "sill front left")
    near = replace(pad, name="cradle by the pad", body="cradle", at=(pad.at[0] + 0.04, pad.at[1], pad.at[2]))
    begin = Beginning(vehicle=replace(vehicle, points=(*vehicle.points, near)), system=System.METRIC)
    answers = Answers({"title": "x", "days": ""}, begin)
    question = next(each for each in questions(answers) if each.key == "places")
    asked = with_answer(answers, question, "")
    assert asked.says == ("cradle by the pad is 40 mm from where a lift pad comes down, and its base stands in the way")
    assert "places" not in asked.answers.texts
    others = ", ".join(each for each in question.words if each != near.name)
    assert with_answer(asked.answers, question, others).says == ""


@pytest.mark.parametrize("again", ["38 lb", "", "yes"])
def test_said_again_it_is_taken(again: str) -> None:
    answers = _at_gearbox()
    question = next_question(answers)
    assert question is not None
    doubted = with_answer(answers, question, "38 lb").answers
    assert "gearbox.weight" not in doubted.texts
    assert with_answer(doubted, question, again).answers.texts["gearbox.weight"] == "38 lb"


@pytest.mark.parametrize("no", ["n", "No", " no "])
def test_an_odd_value_that_was_not_meant_is_asked_for_again(no: str) -> None:
    answers = _at_gearbox()
    question = next_question(answers)
    assert question is not None
    doubted = with_answer(answers, question, "38 lb").answers
    taken_back = with_answer(doubted, question, no)
    assert (taken_back.says, taken_back.is_told_back) == ("then once more", False)
    assert (taken_back.answers.doubted, dict(taken_back.answers.texts)) == ("", dict(answers.texts))
    # Where nothing was odd, no is an answer like any other.
    assert with_answer(answers, question, no).says != "then once more"


def test_another_answer_takes_its_place() -> None:
    answers = _at_gearbox()
    question = next_question(answers)
    assert question is not None
    doubted = with_answer(answers, question, "38 lb").answers
    assert with_answer(doubted, question, "no").says == "then once more"
    assert with_answer(doubted, question, "38 kg").answers.texts["gearbox.weight"] == "38 kg"
    assert "odd" in with_answer(doubted, question, "40 lb").says


def test_a_day_that_is_past_is_asked_about() -> None:
    answers = Answers({"units": "metric", "title": "x"}, Beginning(today=SOON))
    question = next_question(answers)
    assert question is not None
    assert question.key == "days"
    assert "is past" in with_answer(answers, question, "2 Jan 2020").says
    assert "more than a year off" in with_answer(answers, question, "2 Jan 2099").says


def test_a_day_without_a_year_is_told_back_with_it_before_it_is_taken() -> None:
    answers = Answers({"units": "metric", "title": "x"}, Beginning(today=date(2026, 11, 20)))
    question = next_question(answers)
    assert question is not None
    asked = with_answer(answers, question, "1 dec")
    assert "1 Dec 2026" in asked.says
    assert "days" not in asked.answers.texts
    assert with_answer(asked.answers, question, "").answers.texts["days"] == "1 Dec 2026"


def test_a_stand_under_what_stays_on_is_asked_about_before_it_goes_with_a_part() -> None:
    """Of the demo's front unit the gearbox comes off; a stand under the cradle has nothing to do with it."""
    vehicle = read_job(DEMO / "front-unit.toml").vehicle
    places = tuple(each.name for each in KnownVehicle(vehicle).places)
    part = next(each.part for each in vehicle.points if each.part and each.name in places)
    known = {"places": places, "off": (part,)}
    asked = {
        each.key: each for each in work_questions(Beginning(vehicle=vehicle), None, lambda each: known.get(each.key))
    }
    stands = asked["off.stands"]
    assert stands.default is not None
    with_it = tuple(stands.default.split(", "))
    assert stands.odd(with_it, System.METRIC) == ""
    other = next(letter for letter in stands.words if letter not in with_it)
    said = stands.odd((*with_it, other), System.METRIC)
    assert said.startswith(f"{other} is under the ")
    assert "does not come off" in said


def _at_gearbox() -> Answers:
    before = {key: METRIC[key] for key in list(METRIC)[: list(METRIC).index("gearbox.weight")]}
    return Answers(before, EMPTY)


def test_the_front_axle_may_be_told_in_kg_of_the_whole_vehicle() -> None:
    """590 kg of 1180 kg are half, and half of another whole where that is told anew."""
    _, kept = all_typed({**METRIC, "share": "590 kg"})
    assert _share(kept) == pytest.approx(0.5)
    whole = next(each for each in questions(kept) if each.key == "weight")
    assert _share(with_answer(kept, whole, "1475 kg").answers) == pytest.approx(0.4)


def _share(kept: Answers) -> Value:
    question = next(each for each in questions(kept) if each.key == "share")
    return read_answer(question, kept.texts["share"], System.METRIC)


def test_bounds_are_said_in_round_figures_and_never_take_in_what_is_odd() -> None:
    odd = outside(Ask.LOAD, 4_900.0, 118_000.0, "a stand")
    assert "most are 500 kg to 12000 kg" in odd(200_000.0, System.METRIC)
    # 124.9 mm rounds to 120 mm, which would take 124.5 mm in.
    close = outside(Ask.LENGTH, 0.1249, 0.5, "a gap")(0.1245, System.METRIC)
    assert close.startswith("124.5 mm is odd for a gap: most are 124.9 mm")


def test_every_place_of_a_new_unit_is_doubted_at_once_where_it_would_be_under_the_floor() -> None:
    """The pads of the answers touch 180 mm over the floor or so: five metres below them there is nothing."""
    _, kept = all_typed(METRIC)
    deep = (0.0, 0.0, -5.0)
    values: dict[Ask, Value] = {
        Ask.SEAT: Seat("", deep),
        Ask.PLACE: deep,
        Ask.TIE: Tie("mount", deep, None),
        Ask.BOX: Edges(deep, (0.5, 0.5, 0.5)),
    }
    asked = [each for each in questions(kept) if each.ask in values]
    assert {each.ask for each in asked} >= {Ask.SEAT, Ask.TIE, Ask.BOX}
    for each in asked:
        assert "under the floor: the lift pads are " in each.odd(values[each.ask], System.METRIC), each.key
