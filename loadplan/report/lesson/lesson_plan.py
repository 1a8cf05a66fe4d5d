"""The lesson: questions that a job can ask a class, each with what the statics answer. What it cannot ask is told."""

from dataclasses import dataclass
from functools import partial

from loadplan.model.verdict import Assessment
from loadplan.planning.lesson.lesson_unit import first_unit
from loadplan.report.drawing.side_by_side import ALONE, Helpers
from loadplan.report.lesson.lesson_question import LessonAnswer, LessonJob, NotAsked
from loadplan.report.lesson.questions import QUESTIONS


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A question that a job cannot ask, and why."""

    topic: str
    why: str


@dataclass(frozen=True, slots=True)
class Lesson:
    """The questions of one job.

    Attributes:
        assessment: The job, judged.
        answers: What the statics answer to each question, in the order in which they are asked.
        left_out: What this job cannot ask.
    """

    assessment: Assessment
    answers: tuple[LessonAnswer, ...]
    left_out: tuple[LeftOut, ...]


def plan_lesson(assessment: Assessment, helpers: Helpers = ALONE) -> Lesson:
    """Ask a job everything that it can answer.

    Args:
        assessment: The job, judged.
        helpers: Processes that share the work.

    Returns:
        Questions with their answers, and what is left out.
    """
    job = LessonJob(assessment, first_unit(assessment, balanced=True))
    answers: list[LessonAnswer] = []
    left_out: list[LeftOut] = []
    for question, found in zip(QUESTIONS, helpers.each(partial(_asked, job), range(len(QUESTIONS))), strict=True):
        if isinstance(found, NotAsked):
            left_out.append(LeftOut(question.topic, found.why))
        else:
            answers.append(found)
    return Lesson(assessment, tuple(answers), tuple(left_out))


def _asked(job: LessonJob, number: int) -> LessonAnswer | NotAsked:
    return QUESTIONS[number].ask(job)
