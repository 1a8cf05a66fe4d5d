"""Question: the unit is off. Which end of the vehicle on the lift turns heavy?"""

from dataclasses import dataclass

from loadplan.checks.phrases import names
from loadplan.model.job import LiftUse
from loadplan.model.vehicle import PlanPoint
from loadplan.planning.lesson.lesson_unit import carried
from loadplan.planning.whatif import Shot, all_on
from loadplan.report.lesson.lesson_pictures import Arrow, Shown
from loadplan.report.lesson.lesson_question import LessonJob, LessonQuestion, NotAsked, QuestionTold, answered, asked
from loadplan.report.words.vocabulary import Reader

MOVED = 0.010
"""From this far on [m] it is worth asking."""


@dataclass(frozen=True, slots=True)
class TailHeavy:
    """The vehicle on the lift turns heavy at one end.

    Attributes:
        before: With everything on.
        after: The step in which the load's centre has moved furthest.
        moved: How far it moved forward [m]; negative: back, the vehicle turns tail-heavy.
        front: What the front pads carry before and after [N].
        rear: What the rear pads carry before and after [N].
        props: Stands under the vehicle after.
    """

    before: Shot
    after: Shot
    moved: float
    front: tuple[float, float]
    rear: tuple[float, float]
    props: tuple[str, ...]

    def told(self, reader: Reader) -> QuestionTold:
        """Tell which end of the vehicle turns heavy.

        Args:
            reader: Who reads it.

        Returns:
            Words and pictures.
        """
        end, way = ("nose", "forward") if self.moved > 0 else ("tail", "back")
        props = (f"Set to just touch there: {names(self.props)}.",) if self.props else ()
        return QuestionTold(
            heading="The vehicle on the lift",
            ask=(
                f"All on, the lift held {_held(self.before, reader)}. Now it holds {_held(self.after, reader)}.",
                "Which end turns heavy? How far does the load's centre move?",
            ),
            seen=asked(self.before, shown=Shown.VEHICLE),
            strong=f"The {end}: {reader.length(abs(self.moved))} {way}.",
            answer=(
                f"Front pads: {reader.load(self.front[0])}, now {reader.load(self.front[1])}.",
                f"Rear pads: {reader.load(self.rear[0])}, now {reader.load(self.rear[1])}.",
                *props,
            ),
            then=answered(self.after, Arrow(_centre(self.before), _centre(self.after)), shown=Shown.VEHICLE),
            shot=self.after,
        )


def ask_tail_heavy(job: LessonJob) -> TailHeavy | NotAsked:
    """Compute which end of the vehicle on the lift turns heavy.

    Args:
        job: What is asked.

    Returns:
        The answer, or why there is none: no lift from the start, or its load's centre hardly moves.
    """
    use = job.assessment.job.lift
    if use is None:
        return NotAsked("the job has no lift")
    return _turned_heavy(job, use) or NotAsked("there is no lift that loses part of its load")


def _turned_heavy(job: LessonJob, use: LiftUse) -> TailHeavy | None:
    """Return where the load's centre has moved furthest from where it was with everything on; None if hardly."""
    if not use.in_place:
        return None
    before = all_on(job.assessment.job)
    start = before.stage.statics.lift
    held = [(stage.statics.lift, stage.state.index) for stage in job.assessment.stages if not stage.state.stage.moved]
    shifts = [(lift.cg[0] - start.cg[0], index) for lift, index in held if lift and start]
    moved, index = max(shifts, key=lambda each: abs(each[0]), default=(0.0, 0))
    after = Shot(job.assessment, index)
    if abs(moved) < MOVED or any(shot.load(arm.name) is None for shot in (before, after) for arm in use.arms):
        return None
    middle = sum(arm.at[0] for arm in use.arms) / len(use.arms)
    front = [arm.name for arm in use.arms if arm.at[0] >= middle]
    rear = [arm.name for arm in use.arms if arm.at[0] < middle]
    return TailHeavy(
        before=before,
        after=after,
        moved=moved,
        front=(_carried(before, front), _carried(after, front)),
        rear=(_carried(before, rear), _carried(after, rear)),
        props=tuple(each.name for each in after.stage.state.supports if each.body == use.body and not each.is_arm),
    )


def _carried(shot: Shot, arms: list[str]) -> float:
    """Return what some pads carry together [N]."""
    return sum(carried(shot, arm) for arm in arms)


def _centre(shot: Shot) -> PlanPoint:
    """Return the centre of what the lift holds [m]."""
    lift = shot.stage.statics.lift
    return lift.cg[:2] if lift else (0.0, 0.0)


def _held(shot: Shot, reader: Reader) -> str:
    """Return the mass that the lift holds."""
    lift = shot.stage.statics.lift
    return reader.mass(lift.mass if lift else 0.0)


QUESTION = LessonQuestion("The vehicle turns tail-heavy", ask_tail_heavy)
