"""The lesson: questions that a job can ask a class, each with what the statics answer. What it cannot ask is told."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

from loadplan.model.verdict import Assessment
from loadplan.planning.lesson.lesson_unit import first_unit
from loadplan.planning.lesson.lift_question import LoadMoved, ask_load_moved
from loadplan.planning.lesson.stand_questions import (
    FourLegs,
    IdleInside,
    OneCarrier,
    TakenAway,
    WhoCarries,
    ask_four_legs,
    ask_idle_inside,
    ask_one_carrier,
    ask_one_carrier_as_planned,
    ask_taken_away,
    ask_who_carries,
)
from loadplan.planning.lesson.work_questions import Bar, Hose, PartsOff, ask_bar, ask_hose, ask_parts_off
from loadplan.planning.whatif import Shot

Question: TypeAlias = WhoCarries | TakenAway | OneCarrier | IdleInside | FourLegs | PartsOff | Bar | LoadMoved | Hose
"""One question with its answer."""

NO_UNIT = "in no step does anything stand on its own on three stands or more"
"""Why nothing can be asked about stands."""

ONE_PIECE = "all that it stands on is one piece of equipment"
"""Why no stand can be taken away."""


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
        questions: In the order in which they are asked.
        left_out: What this job cannot ask.
        away: The unit without each of its stands in turn, for the animation; empty where there is no unit.
    """

    assessment: Assessment
    questions: tuple[Question, ...]
    left_out: tuple[LeftOut, ...]
    away: tuple[TakenAway, ...]


def plan_lesson(assessment: Assessment) -> Lesson:
    """Ask a job everything that it can answer.

    Args:
        assessment: The job, judged.

    Returns:
        Questions with their answers, and what is left out.
    """
    unit = first_unit(assessment, balanced=True)
    away = ask_taken_away(unit) if unit else ()
    asked = list(_asked(assessment, unit, away))
    return Lesson(
        assessment=assessment,
        questions=tuple(each for each in asked if not isinstance(each, LeftOut)),
        left_out=tuple(each for each in asked if isinstance(each, LeftOut)),
        away=away,
    )


def _asked(assessment: Assessment, unit: Shot | None, away: tuple[TakenAway, ...]) -> Iterator[Question | LeftOut]:
    """Yield each question in turn, or why it is not asked."""
    yield _or_out("Who carries most?", unit, ask_who_carries, NO_UNIT)
    yield _told_most(away) or LeftOut("A stand taken away", ONE_PIECE if unit else NO_UNIT)
    one = "no two assemblies, tied by a mount only, stand on stands of their own"
    yield ask_one_carrier_as_planned(assessment) or _or_out(
        "Stands under one assembly only", unit, ask_one_carrier, one
    )
    idle = "no stand of four comes idle under a load that a person is, laid on one corner"
    yield _or_out("Inside is not all loaded", unit, ask_idle_inside, idle)
    yield _or_out("Four legs count as three", unit, ask_four_legs, "no assembly stands on four stands of its own")
    yield ask_parts_off(assessment) or LeftOut("A part comes off", "no step takes parts off what stands in balance")
    yield ask_bar(assessment, unit) or LeftOut("A pull on a bar", NO_UNIT)
    moved = "there is no lift that loses part of its load" if assessment.job.lift else "the job has no lift"
    yield ask_load_moved(assessment) or LeftOut("The vehicle turns tail-heavy", moved)
    yield _or_out("A forgotten hose", unit, ask_hose, "nothing was unbolted that a hose could still hold")


def _or_out(topic: str, unit: Shot | None, ask: Callable[[Shot], Question | None], why: str) -> Question | LeftOut:
    if unit is None:
        return LeftOut(topic, NO_UNIT)
    return ask(unit) or LeftOut(topic, why)


def _told_most(away: tuple[TakenAway, ...]) -> TakenAway | None:
    """Return the stand to ask about: of those that tip it the one that carries most, else the one that carries most."""
    return max(away, key=lambda each: (not each.stands, each.carried), default=None)
