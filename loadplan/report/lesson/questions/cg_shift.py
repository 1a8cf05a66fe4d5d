"""Question: parts come off. Which way does the centre of gravity walk?"""

from dataclasses import dataclass
from itertools import pairwise
from math import atan2, hypot

from loadplan.checks.phrases import eighth, names, several
from loadplan.model.answer import BodyAnswer
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.planning.whatif import Shot
from loadplan.report.lesson.lesson_pictures import Arrow
from loadplan.report.lesson.lesson_question import LessonJob, LessonQuestion, NotAsked, QuestionTold, answered, asked
from loadplan.report.words.tipping_direction import past_or_short
from loadplan.report.words.vocabulary import Reader

WALKED = 0.005
"""From this far on [m] it is worth asking."""


@dataclass(frozen=True, slots=True)
class CgShift:
    """Parts come off, and the centre of gravity walks.

    Attributes:
        before: The step before.
        after: The step in which they come off.
        parts: What comes off.
        was: The assembly before.
        now: The assembly after.
    """

    before: Shot
    after: Shot
    parts: tuple[str, ...]
    was: BodyAnswer
    now: BodyAnswer

    @property
    def walk(self) -> PlanPoint:
        """How far the centre of gravity walks forward and to the left [m]."""
        return self.now.cg[0] - self.was.cg[0], self.now.cg[1] - self.was.cg[1]

    def told(self, reader: Reader) -> QuestionTold:
        """Tell where the centre of gravity walks.

        Args:
            reader: Who reads it.

        Returns:
            Words and pictures.
        """
        ahead, left = self.walk
        was, now = self.was, self.now
        margins = (
            (
                f"To tipping, worst case: {past_or_short(was.worst_margin, reader)} before, "
                f"{past_or_short(now.worst_margin, reader)} now.",
            )
            if was.worst_margin is not None and now.worst_margin is not None
            else ()
        )
        return QuestionTold(
            heading=f"{several(self.parts, 'A part comes', 'Parts come')} off",
            ask=(f"Off: {names(self.parts)}.", f"Which way does the CG of the {was.name} walk?"),
            seen=asked(self.before),
            strong=f"{reader.length(hypot(ahead, left))} to the {eighth(atan2(left, ahead))}.",
            answer=(
                f"The {was.name} weighs {reader.mass(now.mass)} now, {reader.mass(was.mass)} before.",
                *margins,
            ),
            then=answered(self.after, Arrow(was.cg[:2], now.cg[:2]), about=was.name),
            shot=self.after,
        )


def ask_cg_shift(job: LessonJob) -> CgShift | NotAsked:
    """Find the first step in which a centre of gravity walks on what stands in balance.

    Args:
        job: What is asked.

    Returns:
        The answer, or why there is none.
    """
    stages = job.assessment.stages
    for before, after in pairwise(stages):
        shift = _furthest(job.assessment, before, after)
        if shift is not None and hypot(*shift.walk) >= WALKED:
            return shift
    return NotAsked("no step takes parts off what stands in balance, or its CG hardly moves")


def _furthest(assessment: Assessment, before: StageAssessment, after: StageAssessment) -> CgShift | None:
    """Return how the centre of gravity walks that walks furthest in a step; None where no parts come off a unit."""
    lifted = assessment.job.lift.body if assessment.job.lift else ""
    shots = Shot(assessment, before.state.index), Shot(assessment, after.state.index)
    was = {body.name: body for body in before.statics.bodies if body.margin is not None}
    shifts = [
        CgShift(*shots, parts, was[body.name], body)
        for body in after.statics.bodies
        if body.name in was and body.margin is not None and lifted not in (body.name, *body.rigid_with)
        if (parts := _parts_off(assessment, after, body.name))
    ]
    return max(shifts, key=lambda shift: hypot(*shift.walk), default=None)


def _parts_off(assessment: Assessment, stage: StageAssessment, body: str) -> tuple[str, ...]:
    """Return what comes off a body in a step."""
    own = {part.name for part in assessment.job.vehicle.parts if part.body == body}
    return tuple(name for name in stage.state.stage.off if name in own)


QUESTION = LessonQuestion("A part comes off", ask_cg_shift)
