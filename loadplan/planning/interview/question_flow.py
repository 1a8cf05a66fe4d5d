"""The way to a first job: which questions are asked, in which order, given what was answered so far."""

from collections.abc import Mapping
from dataclasses import dataclass

from loadplan.model.vehicle import Place
from loadplan.planning.interview.answer_parsing import AnswerError, Question, Value, read_answer
from loadplan.planning.interview.questions_on_stands import (
    prop_questions,
    stand_questions,
    tie_questions,
    work_questions,
)
from loadplan.planning.interview.questions_on_vehicle import (
    head_questions,
    lift_questions,
    lump_questions,
    weight_questions,
)
from loadplan.units import System

OWN = "own"
"""The vehicle on the lift is not one of those that ship."""


@dataclass(frozen=True, slots=True)
class Answers:
    """What was answered so far.

    Attributes:
        texts: Each answer as it was typed, by the key of its question.
        shipped: Names of the vehicles that ship.
    """

    texts: Mapping[str, str]
    shipped: tuple[str, ...]

    @property
    def system(self) -> System:
        """Units of bare numbers."""
        return System.US if self.texts.get("units", "").strip().casefold().startswith("u") else System.METRIC

    def value(self, question: Question) -> Value:
        """Return what the answer to a question means, its default's meaning where it has none that counts."""
        try:
            return read_answer(question, self.texts.get(question.key, ""), self.system)
        except AnswerError:
            return None

    def answered(self, question: Question) -> bool:
        """Return whether a question has an answer that counts."""
        try:
            read_answer(question, self.texts[question.key], self.system)
        except (KeyError, AnswerError):
            return False
        return True


def questions(answers: Answers) -> tuple[Question, ...]:
    """List the questions, as far as they hang on what was answered so far.

    Args:
        answers: What was answered so far.

    Returns:
        All questions in their order; what is not answered yet counts as its default.
    """
    known = answers.value
    vehicle = (*head_questions(known), *lump_questions(known), *weight_questions(known, OWN, answers.shipped))
    stands = (*tie_questions(known), *stand_questions(known), *prop_questions(known))
    return (*vehicle, *lift_questions(known), *stands, *work_questions())


def next_question(answers: Answers) -> Question | None:
    """Find the first question without an answer that counts.

    Args:
        answers: What was answered so far.

    Returns:
        The question, None where all are answered.
    """
    return next((each for each in questions(answers) if not answers.answered(each)), None)


def values(answers: Answers) -> dict[str, Value]:
    """Collect what all answers mean.

    Args:
        answers: Answers to all questions.

    Returns:
        Value of each, by the key of its question.
    """
    return {each.key: answers.value(each) for each in questions(answers)}


def place_of(known: Mapping[str, Value], key: str) -> Place:
    """Return a place in the vehicle's axes.

    Args:
        known: Value of each answer.
        key: Key of the place.

    Returns:
        x, y, and z over the floor [m].
    """
    place, pads = known[key], known["pads.height"]
    assert isinstance(place, tuple)
    assert isinstance(pads, float)
    return place[0], place[1], pads + place[2]


def with_answer(answers: Answers, question: Question, text: str) -> Answers | str:
    """Add an answer.

    Args:
        answers: What was answered so far.
        question: The question.
        text: What was typed.

    Returns:
        The answers with it, or why it does not answer the question.
    """
    try:
        read_answer(question, text, answers.system)
    except AnswerError as error:
        return str(error)
    # At the end, so that going back takes the newest away.
    others = {key: each for key, each in answers.texts.items() if key != question.key}
    return Answers({**others, question.key: text}, answers.shipped)


def without_last(answers: Answers) -> Answers:
    """Take the newest answer away, so that its question comes again.

    Args:
        answers: What was answered so far.

    Returns:
        The answers without it.
    """
    return Answers(dict(list(answers.texts.items())[:-1]), answers.shipped)
