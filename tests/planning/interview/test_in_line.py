"""Stands in line: told at the question, and one more is asked for beside the line. Made-up places, by hand."""

from collections.abc import Mapping
from itertools import takewhile
from pathlib import Path

import pytest

from loadplan.planning.interview.in_line import in_line, lined_up, lined_up_places
from loadplan.planning.interview.known_vehicle import KnownVehicle
from loadplan.planning.interview.question import Question
from loadplan.planning.interview.question_flow import Answers, next_question, with_answer
from loadplan.planning.interview.questions_on_job import place_questions
from loadplan.planning.interview.typical_answers import typical_units
from loadplan.units import System
from tests.planning.interview.test_question_flow import made
from tests.planning.typed import EMPTY, METRIC, typed

DRIVE: Mapping[str, str] = METRIC | {
    "what": "drive unit", "unit.weight": "90 kg scales", "stands": "3",
    "unit.box": "200 front to 200 behind, 300 left to 300 right, 300 to 0 above",
    "standA": "150 front, 20 left, 0", "standB": "150 behind, 20 right, 0", "standC": "40 front, 0, 0",
}  # fmt: skip
"""A drive unit on three stands under its centre line."""

TYPICAL = typical_units()


@pytest.mark.parametrize(
    ("places", "told"),
    [
        ([(0.0, 0.0), (1.0, 1.0)], True),
        ([(0.0, 0.0), (1.0, 1.0), (0.5, 0.5)], True),
        ([(0.0, 0.0), (1.0, 1.0), (0.5, 0.56)], True),  # 42 mm off
        ([(0.0, 0.0), (1.0, 1.0), (0.5, 0.58)], False),  # 57 mm off
        ([(0.0, 0.0), (0.0, 0.0), (0.0, 0.0)], True),
        ([(0.4, 0.3), (0.4, -0.3), (-0.4, 0.0), (0.0, 0.0)], False),
    ],
)
def test_places_within_50_mm_of_a_line_are_in_line(places: list[tuple[float, float]], told: bool) -> None:  # noqa: FBT001
    assert in_line(places) is told


def test_a_mount_beside_the_line_holds_what_stands_in_line() -> None:
    seats = {"A": ("engine", (0.0, 0.0)), "B": ("engine", (1.0, 0.0)), "C": ("frame", (0.0, 1.0))}
    assert lined_up(seats, {}) == {"engine": "AB", "frame": "C"}
    assert lined_up(seats, {"engine": [(0.5, 0.0)]}) == {"engine": "AB", "frame": "C"}
    assert lined_up(seats, {"engine": [(0.5, 0.3)]}) == {"frame": "C"}


@pytest.mark.parametrize("name", TYPICAL)
def test_nothing_is_found_of_a_typical_unit_but_where_its_places_are_left_out(name: str) -> None:
    vehicle = TYPICAL[name]
    seen = KnownVehicle(vehicle)
    every = [each.name for each in seen.places]
    assert list(lined_up_places(vehicle, seen.unit, every)) == []
    left = [each.name for each in seen.places if each.at[1] >= 0 and each.body == seen.places[0].body]
    odd = next(place_questions(vehicle)).odd(tuple(left), System.METRIC)
    found = [names for _, names in lined_up_places(vehicle, seen.unit, left)]
    assert bool(found) == ("nothing balances on a line: choose one more, beside that line" in odd)


def test_two_places_of_a_known_vehicle_under_one_assembly_are_a_line() -> None:
    vehicle = TYPICAL["typical-battery-pack"]
    two = tuple(each.name for each in KnownVehicle(vehicle).places[:2])
    odd = next(place_questions(vehicle)).odd(two, System.METRIC)
    assert ", ".join(two) in odd
    assert "nothing balances on a line" in odd


def asked(answers: Mapping[str, str], key: str) -> tuple[Answers, Question]:
    """Answer up to a question, and return it."""
    steps = takewhile(lambda each: next_question(each[1]) is not None, typed(answers, EMPTY))
    for _, so_far in steps:
        question = next_question(so_far)
        if question is not None and question.key == key:
            return so_far, question
    raise AssertionError(key)


def test_one_more_is_asked_for_beside_the_line() -> None:
    answers, question = asked(DRIVE, "standD")
    assert question.asks.startswith("What stands under the drive unit (A, B, C) is in one line, and nothing balances")
    still = with_answer(answers, question, "90 front, 12 left, 0")
    assert "so it stays, and the check will say which way it goes over" in still.says
    assert not with_answer(answers, question, "0, 250 left, 0").says


@pytest.mark.parametrize(("fourth", "letters"), [("0, 250 left, 0", "ABCD"), ("", "ABC")])
def test_it_may_be_left_out_and_is_a_place_like_the_others(fourth: str, letters: str, tmp_path: Path) -> None:
    job = made(tmp_path, DRIVE | {"standD": fourth})
    assert [each.name for each in job.supports] == list(letters)


def test_where_they_are_not_in_line_none_is_asked_for() -> None:
    with pytest.raises(AssertionError, match="standD"):
        asked(DRIVE | {"standC": "0, 250 left, 0"}, "standD")
