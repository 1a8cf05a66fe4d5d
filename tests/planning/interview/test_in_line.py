"""Stands in line: told at the question, and one more is asked for beside the line. Made-up places, by hand."""

from collections.abc import Mapping
from dataclasses import replace
from itertools import takewhile
from pathlib import Path

import pytest

from loadplan.model.vehicle import Basis, Body, Joint, JointKind, Point
from loadplan.planning.interview.in_line import in_line, lined_up, lined_up_places, tie_places
from loadplan.planning.interview.known_vehicle import KnownVehicle
from loadplan.planning.interview.question import Question
from loadplan.planning.interview.question_flow import Answers, QuestionCourse, next_question, with_answer
from loadplan.planning.interview.questions_on_job import place_questions
from loadplan.planning.interview.typical_answers import typical_units
from loadplan.planning.interview.unit_kinds import UNIT_KINDS
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
        ([(5.0, 1.0), (6.0, 2.0), (5.5, 1.5)], True),
        ([(1.0, 5.0), (2.0, 6.0), (1.5, 5.5)], True),
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


MOUNTS = {"inner": "2", "inner1": "mount, 150 behind, 200 right, 80 above", "inner2": "150 behind, 150 left, 80 above"}


@pytest.mark.parametrize(
    ("other", "places"),
    [
        ({}, ((-0.15, -0.2), (-0.15, 0.15))),
        ({"inner": ""}, ((-0.15, -0.2),)),
        ({"inner": "1"}, ((-0.15, -0.2),)),
        ({"inner": "0"}, ()),
        ({"inner": "7"}, ()),
        ({"inner2": ""}, ((-0.15, -0.2),)),
        # One link alone holds nothing up, however that is said.
        ({"inner": "1", "inner1": "link, 150 behind, 200 right, 80 above"}, ()),
        ({"inner": "1", "inner1": "150 behind, 200 right, 80 above", "inner1.kind": "link"}, ()),
        ({"inner": "1", "inner1": "150 behind, 200 right, 80 above", "inner1.kind": ""}, ((-0.15, -0.2),)),
        ({"inner": "1", "inner1.kind": "link"}, ((-0.15, -0.2),)),
        ({"inner1": "link, 150 behind, 200 right, 80 above"}, ((-0.15, -0.2), (-0.15, 0.15))),
    ],
)
def test_mounts_that_stay_tight_hold_both_assemblies(
    other: Mapping[str, str], places: tuple[tuple[float, float], ...]
) -> None:
    known = QuestionCourse(Answers(MOUNTS | other, EMPTY), {}, frozenset()).value
    assert tie_places(UNIT_KINDS["front unit"], known) == {"powertrain": places, "subframe": places}
    assert tie_places(UNIT_KINDS["drive unit"], known) == {}


LINE = {"A": (0.0, 0.0), "B": (1.0, 0.0), "C": (0.5, 0.0), "D": (0.2, 0.8), "E": (0.8, 0.8)}
"""A to C under the engine in one line, D and E under the frame."""


def tied(*joints: Joint) -> list[tuple[str, list[str]]]:
    bodies = tuple(Body(name, (), None, None, Basis.GUESS, None) for name in ("engine", "frame", "shell"))
    points = tuple(
        Point(name, "engine" if name in "ABC" else "frame", (*at, 0.2), None, "") for name, at in LINE.items()
    )
    vehicle = replace(TYPICAL["typical-axle"], bodies=bodies, parts=(), joints=joints, points=points)
    return list(lined_up_places(vehicle, ("engine", "frame"), list(LINE)))


def joint(kind: JointKind, at: float | None = None, other: str = "frame") -> Joint:
    return Joint("tie", kind, ("engine", other), () if at is None else ((0.5, at, 0.4),), 3e5)


ENGINE, FRAME = ("engine", ["A", "B", "C"]), ("frame", ["D", "E"])


@pytest.mark.parametrize(
    ("joints", "told"),
    [
        ((), [ENGINE, FRAME]),
        ((joint(JointKind.MOUNT, 0.4),), []),
        # In line with the engine's stands, beside those of the frame.
        ((joint(JointKind.MOUNT, 0.0),), [ENGINE]),
        ((joint(JointKind.MOUNT, 0.4, "shell"),), [ENGINE, FRAME]),
        ((joint(JointKind.LINK, 0.4),), [ENGINE, FRAME]),
        ((joint(JointKind.LINK, 0.4), joint(JointKind.LINK, 0.4)), []),
        ((joint(JointKind.LINK, 0.4), joint(JointKind.LINK, 0.4, "shell")), [ENGINE, FRAME]),
        # Bolted together they stand as one.
        ((joint(JointKind.BOLTED),), []),
        ((joint(JointKind.BOLTED, None, "shell"),), [ENGINE, FRAME]),
        ((joint(JointKind.BOLTED), joint(JointKind.MOUNT, 0.0)), []),
    ],
)
def test_of_a_known_vehicle_what_ties_its_assemblies_holds_them_beside_the_line(
    joints: tuple[Joint, ...], told: list[tuple[str, list[str]]]
) -> None:
    assert tied(*joints) == told


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
    still = with_answer(answers, question, "60 behind, 8 right, 0")
    assert "so it stays, and the check will say which way it goes over" in still.says
    assert not with_answer(answers, question, "0, 250 left, 0").says


@pytest.mark.parametrize(("fourth", "letters"), [("0, 250 left, 0", "ABCD"), ("", "ABC")])
def test_it_may_be_left_out_and_is_a_place_like_the_others(fourth: str, letters: str, tmp_path: Path) -> None:
    job = made(tmp_path, DRIVE | {"standD": fourth})
    assert [each.name for each in job.supports] == list(letters)


def test_where_they_are_not_in_line_none_is_asked_for() -> None:
    with pytest.raises(AssertionError, match="standD"):
        asked(DRIVE | {"standC": "0, 250 left, 0"}, "standD")
