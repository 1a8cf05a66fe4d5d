"""A lesson's questions on pages: for each a page that asks, and a page that answers."""

import re
from dataclasses import dataclass

from loadplan.report.lesson.lesson_question import QuestionTold
from loadplan.report.lesson.slide import Slide


@dataclass(frozen=True, slots=True)
class Pair:
    """A page that asks and the page that answers."""

    ask: Slide
    answer: Slide


def pair_of(told: QuestionTold) -> Pair:
    """Put a question on two pages.

    Args:
        told: The question in words and pictures.

    Returns:
        The pages.
    """
    name = re.sub(r"[^a-z0-9]+", "-", told.heading.lower()).strip("-")[:40].strip("-")
    return Pair(
        Slide(f"{name}-question", told.heading, "", None, told.ask, (), told.seen),
        Slide(f"{name}-answer", told.heading, told.strong, told.shot.stage.verdict, told.answer, (), told.then),
    )
