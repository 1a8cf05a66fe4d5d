"""What each question of a lesson is: what it is asked of, and what it says and shows once it is answered."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol, TypeAlias

from loadplan.checks.phrases import names
from loadplan.model.answer import Loose
from loadplan.model.verdict import Assessment
from loadplan.planning.whatif import Shot
from loadplan.report.lesson.lesson_pictures import Mark, Picture, PictureSide, PlanPicture, Shown
from loadplan.report.words.tipping_direction import ways_over
from loadplan.report.words.vocabulary import Reader

NO_UNIT = "in no step does anything stand on its own on three stands or more"
"""Why nothing can be asked about stands."""

DOUBTFUL = "Do not count on it."
"""What is said in short of what stands with the weights as given, and is a stop all the same."""


@dataclass(frozen=True, slots=True)
class LessonJob:
    """What the questions are asked of.

    Attributes:
        assessment: The job, judged.
        unit: The first step in which something stands on its own in balance, None where there is none.
    """

    assessment: Assessment
    unit: Shot | None


@dataclass(frozen=True, slots=True)
class NotAsked:
    """Why a job cannot ask a question."""

    why: str


@dataclass(frozen=True, slots=True)
class QuestionTold:
    """A question in words and pictures.

    Attributes:
        heading: Gives nothing away.
        ask: The question, a paragraph each.
        seen: The picture beside it.
        strong: The answer in a few words.
        answer: What else there is to it, a paragraph each.
        then: The picture beside the answer.
        shot: The step of the answer, whose verdict gives the colour.
        take_along: Sentences for the last page.
        film: The same question case by case, for the animation; empty where it has no part in it.
    """

    heading: str
    ask: tuple[str, ...]
    seen: Picture
    strong: str
    answer: tuple[str, ...]
    then: Picture
    shot: Shot
    take_along: tuple[str, ...] = ()
    film: tuple["QuestionTold", ...] = ()


class LessonAnswer(Protocol):
    """What the statics answer to a question: a record of the question's own."""

    def told(self, reader: Reader) -> QuestionTold:
        """Put question and answer into words and pictures.

        Args:
            reader: Who reads them.

        Returns:
            What they say and show.
        """
        ...


Ask: TypeAlias = Callable[[LessonJob], LessonAnswer | NotAsked]
"""Computes the answer for a job, or says why there is none."""


@dataclass(frozen=True, slots=True)
class LessonQuestion:
    """One question.

    Attributes:
        topic: What it is about, where a job leaves it out.
        ask: Computes the answer.
    """

    topic: str
    ask: Ask


def asked(shot: Shot, *marks: Mark, shown: Shown = Shown.UNIT) -> PlanPicture:
    """Return a plan that stands beside a question.

    Args:
        shot: The step.
        marks: What the question is about.
        shown: Unit or vehicle.

    Returns:
        The picture.
    """
    return PlanPicture(shot, shown, PictureSide.QUESTION, "", marks)


def answered(shot: Shot, *marks: Mark, shown: Shown = Shown.UNIT, about: str = "") -> PlanPicture:
    """Return a plan that stands beside an answer.

    Args:
        shot: The step.
        marks: What the question was about.
        shown: Unit or vehicle.
        about: Assembly whose edges are drawn, "" for the one that is nearest to tipping.

    Returns:
        The picture.
    """
    return PlanPicture(shot, shown, PictureSide.ANSWER, about, marks)


def way_over(shot: Shot, about: tuple[str, ...], reader: Reader) -> tuple[str, ...]:
    """Tell the way a unit goes over; where nothing holds it against rocking, what it rocks about.

    Args:
        shot: The step in which it does not stand.
        about: What it turns about, where that is known.
        reader: Who reads it.

    Returns:
        One sentence; none where everything stands.
    """
    loose = any(isinstance(group.proof, Loose) for group in shot.stage.statics.groups)
    if loose and about:
        return (f"It rocks about {names(about)}: nothing else holds it.",)
    return tuple(ways_over(shot.stage.statics, reader)[:1])


def why_stop(shot: Shot, bodies: tuple[str, ...]) -> str:
    """Tell why it is a stop that some bodies stand with the weights as given: nobody is to read it as a permission.

    Args:
        shot: The step in which they stand.
        bodies: Names of the bodies.

    Returns:
        What is true as given, and what is not.
    """
    if all(shot.group_of(body).robust for body in bodies):
        return "With the weights as given it stands, and yet the plan says stop."
    return "With the weights as given it stands. In the worst case it goes over."
