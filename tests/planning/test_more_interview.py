"""A first job: words on one line, and a prop that comes away before the lift moves."""

import pytest

from loadplan.planning.interview.answer_parsing import AnswerError, Ask, Question, read_answer
from loadplan.planning.interview.first_job import job_text
from loadplan.planning.interview.question_flow import values
from loadplan.units import System
from tests.planning.typed import METRIC, all_typed

TITLE = Question("title", "What is the job?", Ask.WORDS)


@pytest.mark.parametrize("text", ["a\x00b", "a\u202eb", "x" * 101])
def test_words_are_one_line_that_can_be_shown(text: str) -> None:
    with pytest.raises(AnswerError, match="one line of at most 100 characters"):
        read_answer(TITLE, text, System.METRIC)


def test_words_of_a_hundred_letters_are_taken() -> None:
    assert read_answer(TITLE, " ".join(["x" * 49, "y" * 50]), System.METRIC) == f"{'x' * 49} {'y' * 50}"


@pytest.mark.parametrize("prop", ["yes", "no"])
def test_a_prop_comes_away_before_the_lift_moves(prop: str) -> None:
    """Unbolted, raised clear, and back down: three times the lift moves over it."""
    text = job_text(values(all_typed({**METRIC, "prop": prop}, ())[1]), None)
    assert text.count("tail prop away before the lift moves") == (3 if prop == "yes" else 0)


@pytest.mark.parametrize("bar", ["yes", "no"])
def test_a_hard_pull_is_asked_of_the_work_alone(bar: str) -> None:
    text = job_text(values(all_typed({**METRIC, "bar": bar}, ())[1]), None)
    assert text.count("bar = true") == (bar == "yes")
    assert ('name = "Work"\nbar = true' in text) is (bar == "yes")
