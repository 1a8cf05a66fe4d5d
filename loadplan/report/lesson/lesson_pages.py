"""A lesson's questions on pages: for each a page that asks, and a page that answers."""

import re
from dataclasses import dataclass
from typing import assert_never

from loadplan.planning.lesson.lesson_plan import Question
from loadplan.planning.lesson.lift_question import LoadMoved
from loadplan.planning.lesson.stand_questions import FourLegs, IdleInside, OneCarrier, TakenAway, WhoCarries
from loadplan.planning.lesson.work_questions import Bar, Hose, PartsOff
from loadplan.report.lesson.question_pages import QuestionTold
from loadplan.report.lesson.slide import Slide
from loadplan.report.lesson.stand_answers import about_stands
from loadplan.report.lesson.work_answers import about_work
from loadplan.report.words.vocabulary import Reader


@dataclass(frozen=True, slots=True)
class Pair:
    """A page that asks and the page that answers."""

    ask: Slide
    answer: Slide


def pair_of(question: Question, reader: Reader) -> Pair:
    """Put a question on two pages.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        The pages.
    """
    told = told_of(question, reader)
    name = re.sub(r"[^a-z0-9]+", "-", told.heading.lower()).strip("-")[:40].strip("-")
    return Pair(
        Slide(f"{name}-question", told.heading, "", None, told.ask, (), told.seen),
        Slide(f"{name}-answer", told.heading, told.strong, told.shot.stage.verdict, told.answer, (), told.then),
    )


def told_of(question: Question, reader: Reader) -> QuestionTold:
    """Put a question into words and pictures.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        What it says and shows.
    """
    match question:
        case WhoCarries() | TakenAway() | OneCarrier() | IdleInside() | FourLegs():
            return about_stands(question, reader)
        case PartsOff() | Bar() | LoadMoved() | Hose():
            return about_work(question, reader)
        case _:
            assert_never(question)
