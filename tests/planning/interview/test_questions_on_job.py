"""What is asked about a job: the stands have the letters of the plan, and which go with what comes off. By hand."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from loadplan.model.vehicle import Vehicle
from loadplan.planning.interview.answered_job import AnsweredJob
from loadplan.planning.interview.known_vehicle import KnownVehicle
from loadplan.planning.interview.question import Known, Question, Seat
from loadplan.planning.interview.question_flow import Answers, QuestionCourse
from loadplan.planning.interview.questions_on_job import (
    Beginning,
    chosen_places,
    place_questions,
    work_questions,
)
from loadplan.planning.interview.questions_on_places import seat_questions
from loadplan.planning.interview.typical_answers import typical_units
from loadplan.planning.interview.unit_kinds import UNIT_KINDS
from loadplan.units import System
from tests.planning.typed import EMPTY, METRIC, ON_STANDS

UNIT = typical_units()["typical-front-unit"]

NAMES = [each.name for each in KnownVehicle(UNIT).places]
"""Its six places, in the order of its file."""

PART = KnownVehicle(UNIT).unit_parts[0].name


def known(texts: Mapping[str, str], vehicle: Vehicle | None = None) -> Known:
    begin = Beginning(vehicle=vehicle) if vehicle else EMPTY
    return QuestionCourse(Answers(texts, begin), {}, frozenset()).value


def on_part(place: str) -> Vehicle:
    """The typical front unit with one of its places on a part of it."""
    points = tuple(replace(each, part=PART if each.name == place else "") for each in UNIT.points)
    return replace(UNIT, points=points)


def asks_for_stands(texts: Mapping[str, str], vehicle: Vehicle) -> Question:
    """Return what asks which stands go with what comes off."""
    asked = work_questions(Beginning(vehicle=vehicle), None, known({"off": PART} | texts, vehicle))
    return next(each for each in asked if each.key == "off.stands")


@pytest.mark.parametrize("typed", ["5, 2, 3", "2, 3, 5", "3 2 5"])
def test_stands_have_their_letters_in_the_order_of_the_file_whichever_place_is_typed_first(typed: str) -> None:
    vehicle, answer = on_part(NAMES[4]), {"places": typed.replace(" ", ", ").replace(",,", ",")}
    chosen = chosen_places(vehicle, known(answer, vehicle))
    assert chosen == (NAMES[1], NAMES[2], NAMES[4])
    asked = asks_for_stands(answer, vehicle)
    assert (asked.default, asked.words) == ("C", ("A", "B", "C"))
    value = known(answer, vehicle)(next(place_questions(vehicle)))
    said = AnsweredJob({"places": value}, KnownVehicle(vehicle), None)  # type: ignore[arg-type]
    assert {letter: point.name for letter, point in said.places.items()} == dict(zip("ABC", chosen, strict=True))


def test_all_places_are_meant_where_none_is_said() -> None:
    assert chosen_places(UNIT, known({}, UNIT)) == tuple(NAMES)
    assert chosen_places(UNIT, known({"places": "what is that"}, UNIT)) == ()


def test_where_no_place_is_on_what_comes_off_no_stand_goes_with_it() -> None:
    asked = asks_for_stands({}, on_part("nowhere"))
    assert (asked.default, asked.words) == ("nothing", tuple("ABCDEF"))


def test_the_stands_under_an_assembly_that_comes_off_whole_go_with_it() -> None:
    """Though its places are on no part: nothing of it is left to hold."""
    whole = [each for each in KnownVehicle(UNIT).unit_parts if each.body == "subframe"]
    asked = asks_for_stands({"off": ", ".join(each.name for each in whole)}, on_part("nowhere"))
    assert asked.default == "A, B, C, D"
    more = replace(UNIT, parts=(*UNIT.parts, replace(whole[0], name="bracket")))
    points = tuple(replace(each, part="") for each in more.points)
    kept = asks_for_stands({"off": ", ".join(each.name for each in whole)}, replace(more, points=points))
    assert kept.default == "nothing"


def test_a_part_that_comes_off_only_after_another_is_asked_about() -> None:
    first, *others = KnownVehicle(UNIT).unit_parts
    other = next(each for each in others if each.body == first.body)
    vehicle = replace(
        UNIT, parts=tuple(replace(each, after=(other.name,)) if each == first else each for each in UNIT.parts)
    )
    off, *_ = work_questions(Beginning(vehicle=vehicle), None, known({}, vehicle))
    assert off.odd((first.name,), System.METRIC) == f"{first.name} comes off only after {other.name}: choose that, too"
    for fine in ((first.name, other.name), (other.name,), (), None):
        assert off.odd(fine, System.METRIC) == ""


def test_a_stand_that_is_not_under_what_comes_off_is_asked_about() -> None:
    asked = asks_for_stands({}, on_part(NAMES[1]))
    assert asked.odd(("B",), System.METRIC) == ""
    for none in ((), None):
        assert asked.odd(none, System.METRIC) == (
            f"B is under the {NAMES[1]}, which comes off: if it stays, it holds nothing"
        )
    for said in (("A",), ("B", "A"), ("A", "F")):
        assert asked.odd(said, System.METRIC) == (
            f"A is under the {NAMES[0]}, which does not come off: if it goes, nothing holds it there"
        )


def test_what_comes_off_a_vehicle_on_stands_comes_off_nothing_else() -> None:
    """There are no lumps, so none is asked for; and what stays on has no name."""
    kind = UNIT_KINDS["vehicle on stands"]
    _, part, asked, _ = work_questions(EMPTY, kind, known(ON_STANDS | {"off": "bumper 5 kg"}))
    assert (part.key, part.asks, part.words) == ("off1", "The bumper: where is its middle?", ())
    assert part.hint == "Where its own middle is, such as 1300 behind, 100 right, 20 above."
    assert (asked.key, asked.default, asked.words) == ("off.stands", "nothing", tuple("ABCD"))
    assert asked.odd(("A",), System.METRIC) == (
        "A is under what stays on, which does not come off: if it goes, nothing holds it there"
    )


@pytest.mark.parametrize(
    ("off", "keys", "default"),
    [
        ("", [], ""),
        ("gearbox", ["off.stands"], "E, F"),
        ("gearbox, pump 5 kg", ["off1", "off.stands"], "E, F"),
        ("pump 5 kg, bracket 2 kg", ["off1", "off2", "off.stands"], "nothing"),
    ],
)
def test_of_a_new_unit_each_part_and_then_the_stands_are_asked_for(off: str, keys: list[str], default: str) -> None:
    seats = {"standE": "gearbox, 215 front, 280 right, 40 above"}
    asked = list(work_questions(EMPTY, UNIT_KINDS["front unit"], known(METRIC | seats | {"off": off})))
    assert [each.key for each in asked] == ["off", *keys, "bar"]
    if "off1" in keys:
        assert asked[1].asks == "The pump: off what, and where is its middle?"
        assert asked[1].hint == (
            "What it comes off (engine, gearbox, subframe), and where its own middle is, such as engine, 90 front, "
            "200 right, 400 above."
        )
    if keys:
        assert (asked[-2].default, asked[-2].words) == (default, tuple("ABCDEF"))


def test_no_more_stands_are_planned_than_there_are_letters_and_that_is_said() -> None:
    """A file may have any number of places: of thirteen one would be left out without a word."""
    first = KnownVehicle(UNIT).places[0]
    more = tuple(replace(first, name=f"more {number}") for number in range(7))
    vehicle = replace(UNIT, points=(*UNIT.points, *more))
    names = tuple(each.name for each in KnownVehicle(vehicle).places)
    odd = next(place_questions(vehicle)).odd
    assert len(names) == 13
    assert odd(names, System.METRIC) == "13 places are chosen, and no more than 12 stands are planned: choose fewer"
    assert "places are chosen" not in odd(names[:12], System.METRIC)
    assert chosen_places(vehicle, known({}, vehicle)) == names[:12]


def test_of_places_in_line_it_is_said_under_which_assembly_they_are() -> None:
    """Those at the sides of the subframe in front, and none behind."""
    first, second, *_ = KnownVehicle(UNIT).places
    assert (first.body, second.body) == ("subframe", "subframe")
    alone = replace(UNIT, joints=())
    assert next(place_questions(alone)).odd((first.name, second.name), System.METRIC) == (
        f"what stands under the subframe ({first.name}, {second.name}) is in one line, and nothing balances on a line: "
        "choose one more, beside that line"
    )


IN_LINE = {
    "stands": "3", "standA": "900 front, 400 left, 0", "standB": "900 front, 0, 0", "standC": "900 front, 400 right, 0",
    "standA.under": "subframe", "standB.under": "subframe", "standC.under": "subframe", "inner": "0",
}  # fmt: skip
"""Places that are over no lump, so that each is asked about."""


@pytest.mark.parametrize(
    ("other", "asks"),
    [
        ({}, "What stands under the subframe (A, B, C) is in one line, and nothing balances on a line. Stand D: "),
        (
            {"standC.under": "engine"},
            "What stands under the subframe (A, B) is in one line, and nothing balances on a line. Stand D: ",
        ),
    ],
)
def test_one_more_is_asked_for_under_what_each_is_said_to_stand_under(other: Mapping[str, str], asks: str) -> None:
    asked = list(seat_questions(UNIT_KINDS["front unit"], known(METRIC | IN_LINE | other)))
    last = next(each for each in asked if each.key == "standD")
    assert last.asks == f"{asks}under what, and where does its saddle touch? Beside that line, please."
    assert last.default == ""
    assert last.odd(None, System.METRIC) == ""
    assert last.odd(Seat("subframe", (0.44, 0.1, 0.0)), System.METRIC) == ""
