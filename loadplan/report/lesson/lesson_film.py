"""The animation of a lesson: parts come off and the centre of gravity walks; stands go, and the unit leans and goes."""

from collections.abc import Iterator

from loadplan.model.vehicle import PlanPoint
from loadplan.report.lesson.lean_picture import LeanPicture, way_it_goes
from loadplan.report.lesson.lesson_pictures import Arrow, Cross, Mark, Spot
from loadplan.report.lesson.lesson_question import QuestionTold, asked
from loadplan.report.lesson.questions.cg_shift import CgShift
from loadplan.report.lesson.slide import Slide
from loadplan.report.words.vocabulary import Reader

GUESS, LOOK = 3.0, 4.0
"""Seconds that the animation leaves for a guess, and for the answer."""

WALK, LEAN = 1.6, 0.5
"""Seconds for each part that comes off, and for each picture of a unit that leans."""

LEANS = 4
"""Pictures of a unit that leans."""


def parts_slides(shift: CgShift, reader: Reader) -> Iterator[tuple[float, Slide]]:
    """Yield a page for each part that comes off, with the way that the centre of gravity has walked by then.

    Args:
        shift: Which parts, and what they come off.
        reader: Who reads it.

    Yields:
        Seconds and page, from all on to all off.
    """
    parts = {part.name: part for part in shift.before.assessment.job.vehicle.parts}
    mass, start = shift.was.mass, shift.was.cg[:2]
    moment = mass * start[0], mass * start[1]
    crosses: list[Mark] = []
    heading = f"Parts come off the {shift.was.name}"
    yield GUESS, _page(shift, heading, f"It weighs {reader.mass(mass)}.", [Spot(start, "")])
    for name in shift.parts:
        part = parts[name]
        mass -= part.mass
        moment = moment[0] - part.mass * part.at[0], moment[1] - part.mass * part.at[1]
        now: PlanPoint = (moment[0] / mass, moment[1] / mass) if mass > 0 else start
        crosses.append(Cross(part.at[:2], ""))
        told = f"Off: {reader.words(name)}. {reader.mass(mass)} left."
        yield WALK, _page(shift, heading, told, [*crosses, Arrow(start, now), Spot(now, "")])


def stand_slides(told: QuestionTold) -> Iterator[tuple[float, Slide]]:
    """Yield the pages on one stand that goes: the question, the unit on its way over, the answer.

    Args:
        told: What is asked and answered.

    Yields:
        Seconds and page.
    """
    yield GUESS, Slide("", f"{told.heading}?", "", None, told.ask, (), told.seen)
    mode = way_it_goes(told.shot)
    if mode:
        for number in range(LEANS + 1):
            picture = LeanPicture(told.shot, mode, number / LEANS)
            yield LEAN, Slide("", told.heading, "", None, (), (), picture)
    yield LOOK, Slide("", told.heading, told.strong, told.shot.stage.verdict, told.answer, (), told.then)


def _page(shift: CgShift, heading: str, told: str, marks: list[Mark]) -> Slide:
    return Slide("", heading, "", None, (told,), (), asked(shift.before, *marks))
