"""What a question of a lesson says and shows, before it is put on pages."""

from dataclasses import dataclass

from loadplan.checks.phrases import names
from loadplan.planning.whatif import Shot
from loadplan.report.lesson.lesson_pictures import Mark, Picture, PictureSide, PlanPicture, Shown


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
    """

    heading: str
    ask: tuple[str, ...]
    seen: Picture
    strong: str
    answer: tuple[str, ...]
    then: Picture
    shot: Shot


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


def alike(told: tuple[tuple[str, bool], ...], *, stands: bool) -> str:
    """Name the stands without which it stands, or does not.

    Args:
        told: (stand, whether it stands without it).
        stands: Which of them.

    Returns:
        Their names as one says them, "" for none.
    """
    return names([name for name, without in told if without is stands], "or")
