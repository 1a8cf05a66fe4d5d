"""Question: how hard a pull on a bar before something goes? The job's own pull, else the hardest push that is stood."""

from dataclasses import dataclass
from math import atan2, cos, sin

from loadplan.checks.phrases import eighth, force, names, several, turning_about
from loadplan.checks.pull import ROOM
from loadplan.model.disturbance import PullAnswer, PushAnswer
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import Measure, Quantity
from loadplan.planning.lesson.lesson_unit import the_unit
from loadplan.planning.whatif import Shot
from loadplan.report.lesson.lesson_pictures import Arrow, Ring
from loadplan.report.lesson.lesson_question import (
    NO_UNIT,
    LessonJob,
    LessonQuestion,
    NotAsked,
    QuestionTold,
    answered,
    asked,
)
from loadplan.report.words.number_format import write, write_sentence
from loadplan.report.words.vocabulary import Reader

ARROW = 0.25
"""Length of an arrow that only shows a direction [m]."""

HEADING = "A pull on a bar"


@dataclass(frozen=True, slots=True)
class BarPull:
    """The pull that the job names.

    Attributes:
        shot: The step.
        answer: What was computed.
    """

    shot: Shot
    answer: PullAnswer

    def told(self, reader: Reader) -> QuestionTold:
        """Tell how many times as hard a pull is stood.

        Args:
            reader: Who reads it.

        Returns:
            Words and pictures.
        """
        answer, pull = self.answer, self.shot.stage.state.stage.pull
        arrow = _arrow(pull.at[:2] if pull else (0.0, 0.0), atan2(answer.towards[1], answer.towards[0]))
        stood = write(Quantity(answer.factor or 0.0, Measure.SHARE), reader.units)
        return QuestionTold(
            heading=HEADING,
            ask=(
                f"A bar pulls on the {answer.body} with {_force(answer.force, reader)}.",
                "How many times as hard before something goes, and what?",
            ),
            seen=asked(self.shot, arrow),
            strong=f"At {stood} of it.",
            answer=(
                f"Then {_goes(answer.first, answer.about)}.",
                f"Asked for: {write(Quantity(ROOM, Measure.SHARE), reader.units)}. Friction may let go sooner: "
                "break bolts loose before lifting.",
            ),
            then=answered(self.shot, arrow),
            shot=self.shot,
        )


@dataclass(frozen=True, slots=True)
class SidewaysPull:
    """The hardest pull sideways that the unit stands.

    Attributes:
        shot: The step.
        answer: What was computed.
        asked: The pull of one person on a bar [N], which it is held against.
    """

    shot: Shot
    answer: PushAnswer
    asked: float

    def told(self, reader: Reader) -> QuestionTold:
        """Tell how hard a pull is stood.

        Args:
            reader: Who reads it.

        Returns:
            Words and pictures.
        """
        answer = self.answer
        return QuestionTold(
            heading=HEADING,
            ask=(
                f"Somebody pulls sideways, high up on the {answer.body}.",
                "How hard before something goes, and what?",
            ),
            seen=asked(self.shot, Ring(answer.at[:2])),
            strong=f"{_force(answer.force, reader)}, to the {eighth(answer.direction)}.",
            answer=(
                f"Then {_goes(answer.first, answer.about)}.",
                f"A braced pull on a bar is {_force(self.asked, reader)}. Friction may let go sooner: break bolts "
                "loose before lifting.",
            ),
            then=answered(self.shot, _arrow(answer.at[:2], answer.direction)),
            shot=self.shot,
        )


def ask_bar_pull(job: LessonJob) -> BarPull | SidewaysPull | NotAsked:
    """Compute how hard a pull the unit stands.

    Args:
        job: What is asked.

    Returns:
        The answer, or why there is none.
    """
    for stage in job.assessment.stages:
        pull = stage.statics.pull
        if pull is not None and pull.factor is not None:
            return BarPull(Shot(job.assessment, stage.state.index), pull)
    pushes = the_unit(job.unit).pushes if job.unit else ()
    if job.unit is None or not pushes:
        return NotAsked(NO_UNIT)
    return SidewaysPull(job.unit, pushes[0], job.assessment.job.limits.bar)


def _arrow(start: PlanPoint, direction: float) -> Arrow:
    """Return an arrow that shows a direction [rad]."""
    return Arrow(start, (start[0] + ARROW * cos(direction), start[1] + ARROW * sin(direction)))


def _goes(first: str, about: tuple[str, ...]) -> str:
    """Return what happens where a pull passes what can be stood."""
    match first:
        case "slides":
            return f"it slides on {names(about)}"
        case "stand":
            return f"{names(about)} {several(about, 'goes', 'go')} over"
        case _:
            return f"it tips, {turning_about(about)}"


def _force(newtons: float, reader: Reader) -> str:
    """Return a force as one says it in a sentence."""
    return write_sentence(force(newtons), reader.units)


QUESTION = LessonQuestion("A pull on a bar", ask_bar_pull)
