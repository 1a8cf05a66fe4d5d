"""Question: a load lies on one corner, and the centre of gravity stays inside. Do all stands carry?"""

from dataclasses import dataclass
from itertools import permutations
from math import ceil

from loadplan.model.answer import BodyAnswer
from loadplan.model.job import Support
from loadplan.planning.lesson.lesson_unit import NOTHING, carried, pieces_of, stands_of, the_unit
from loadplan.planning.whatif import Shot, laid_on, laid_on_in_passing
from loadplan.report.lesson.lesson_pictures import Ring, Spot
from loadplan.report.lesson.lesson_question import (
    NO_UNIT,
    LessonJob,
    LessonQuestion,
    NotAsked,
    QuestionTold,
    answered,
    asked,
)
from loadplan.report.words.vocabulary import Reader

TRIED = 10.0
"""Load laid on a corner [kg] from which it is seen how fast the opposite stand gets light."""

HEAVIEST = 200.0
"""No heavier load [kg] is laid on a corner: two people."""

FULL = 5.0
"""Loads laid on a corner are whole multiples of this [kg]."""


@dataclass(frozen=True, slots=True)
class CornerLoad:
    """A load on one corner: the centre of gravity stays inside, and yet a stand carries nothing.

    Attributes:
        before: Without the load.
        after: With it.
        mass: The load [kg].
        over: The stand that it lies over.
        idle: The stand that carries nothing.
        idle_before: What that one carried without the load [N].
        answer: The assembly with the load on it.
    """

    before: Shot
    after: Shot
    mass: float
    over: Support
    idle: Support
    idle_before: float
    answer: BodyAnswer

    def told(self, reader: Reader) -> QuestionTold:
        """Tell that a stand may carry nothing while the centre of gravity is inside.

        Args:
            reader: Who reads it.

        Returns:
            Words and pictures.
        """
        mass, idle = reader.mass(self.mass), self.idle.name
        # Its words stand beside the picture; in it, between two stands, they could be read as either's.
        laid, inside = Spot(self.over.at[:2], ""), self.answer.worst_margin
        return QuestionTold(
            heading="Inside, so all are loaded?",
            ask=(
                f"{mass} lie on the {self.over.body}, right over {self.over.name}.",
                "The CG stays inside the stands. Do all stands carry?",
            ),
            seen=asked(self.before, laid),
            strong=f"No: {idle} carries nothing.",
            answer=(
                f"Without the {mass} it was {reader.load(self.idle_before)}.",
                *([f"And yet {reader.length(inside)} to tipping, worst case."] if inside and inside > 0 else []),
                f"Inside is not all loaded: {idle} turns by hand. Lay nothing on the unit.",
            ),
            then=answered(self.after, laid, Ring(self.idle.at[:2]), about=self.over.body),
            shot=self.after,
        )


@dataclass(frozen=True, slots=True)
class _Expected:
    """A load [kg] over one stand under which another should come idle."""

    mass: float
    over: Support
    idle: Support


def ask_corner_load(job: LessonJob) -> CornerLoad | NotAsked:
    """Lay the least load on a corner under which the opposite stand carries nothing.

    Args:
        job: What is asked.

    Returns:
        The answer, or why there is none: no load up to `HEAVIEST` does it and leaves the unit in balance.
    """
    shot = job.unit
    if shot is None:
        return NotAsked(NO_UNIT)
    found = [
        each
        for piece in pieces_of(shot, the_unit(shot))
        if len(stands_of(shot, piece)) > 3
        for each in _expected(shot, stands_of(shot, piece))
    ]
    for each in sorted(found, key=lambda each: each.mass):
        over, idle = each.over, each.idle
        after = laid_on(shot, over, each.mass)
        if after is None or not after.group_of(over.body).balanced or carried(after, idle.name) > NOTHING:
            continue
        answer = after.stage.statics.body(over.body)
        return CornerLoad(shot, after, each.mass, over, idle, carried(shot, idle.name), answer)
    return NotAsked("no stand of four comes idle under a load that a person is, laid on one corner")


def _expected(shot: Shot, stands: tuple[Support, ...]) -> list[_Expected]:
    """Return loads over one stand under which another should come idle: as it gets lighter, so it goes on."""
    tried = {each.name: laid_on_in_passing(shot, each, TRIED) for each in stands}
    found = []
    for over, idle in permutations(stands, 2):
        with_load = tried[over.name]
        if with_load is None:
            continue
        before, less = carried(shot, idle.name), carried(shot, idle.name) - carried(with_load, idle.name)
        if before > NOTHING and less > NOTHING and TRIED * before / less <= HEAVIEST:
            found.append(_Expected(FULL * ceil(TRIED * before / less / FULL + NOTHING), over, idle))
    return found


QUESTION = LessonQuestion("Inside is not all loaded", ask_corner_load)
