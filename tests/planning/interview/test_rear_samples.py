"""Examples at the rear axle: where a unit, or the tail, is there no example lies in front of the front axle."""

import re

import pytest

from loadplan.planning.interview.question import Ask
from loadplan.planning.interview.question_flow import Answers, questions, with_answer
from loadplan.planning.interview.questions_on_vehicle import prop_place_question, tie_questions, unit_questions
from loadplan.planning.interview.rear_samples import AT_REAR, samples_at_rear
from loadplan.planning.interview.unit_kinds import UNIT_KINDS
from tests.planning.typed import EMPTY

PLACES = {Ask.PLACE, Ask.TIE, Ask.SEAT, Ask.BOX}
REAR = {
    "what": "rear unit", "start": "my own measures", "hung": "2", "off": "pump 5 kg",
    "inner1": "link, 2550 mm behind, 30 mm left, 90 mm above",
}  # fmt: skip


@pytest.mark.parametrize("units", ["metric", "us"])
def test_no_example_of_a_rear_unit_lies_in_front_but_that_of_the_nose(units: str) -> None:
    asked = [each for each in questions(Answers(REAR | {"units": units}, EMPTY)) if each.ask in PLACES]
    assert "inner1.to" in {each.key for each in asked}
    assert {each.key.rstrip("123ABCD") for each in asked} >= {"inner", "stand", "drive.box", "off", "prop.place"}
    for each in asked:
        assert ("behind" in each.example) is (each.key != "prop.place"), each.hint
        assert "front," not in each.example or each.key == "prop.place", each.hint


def test_a_front_unit_has_its_examples_in_front_and_its_prop_behind() -> None:
    kind = UNIT_KINDS["front unit"]
    told = [*unit_questions(kind, lambda _: None), *tie_questions(kind, lambda _: None)]
    hints = " ".join(each.hint for each in told)
    assert all(rear not in hints for _, rear in AT_REAR)
    assert prop_place_question("tail").example == "2480 behind, 420 left, 60 below"
    assert prop_place_question("nose").example == "330 front, 420 left, 60 below"


@pytest.mark.parametrize(("units", "sample"), [("metric", "2480 behind"), ("us", "97 1/2 behind")])
def test_why_an_answer_is_not_taken_has_an_example_at_the_rear(units: str, sample: str) -> None:
    answers = Answers(REAR | {"units": units}, EMPTY)
    inner = next(each for each in questions(answers) if each.key == "inner1")
    assert sample in with_answer(answers, inner, "mount, somewhere").says


SIDES = {"front", "behind", "left", "right"}


def test_each_example_at_the_rear_is_one_of_the_same_kind() -> None:
    for front, rear in AT_REAR:
        words = [set(re.sub(r"[0-9./, ]+", " ", each).split()) for each in (front, rear)]
        assert words[0] - SIDES == words[1] - SIDES <= {"above", "below", "to", "link", "mount"}
        assert samples_at_rear(f"By tape, such as {front}.") == f"By tape, such as {rear}."
