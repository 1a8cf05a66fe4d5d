"""The question about the lift: what it holds turns heavy at one end once the unit is off it."""

from dataclasses import dataclass

from loadplan.model.job import LiftUse, Support
from loadplan.model.verdict import Assessment
from loadplan.planning.lesson.lesson_unit import carried
from loadplan.planning.whatif import Shot, all_on

MOVED = 0.010
"""From this far on [m] it is worth asking."""


@dataclass(frozen=True, slots=True)
class LoadMoved:
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


def ask_load_moved(assessment: Assessment) -> LoadMoved | None:
    """Ask which end of the vehicle on the lift turns heavy.

    Args:
        assessment: The job, judged.

    Returns:
        The question with its answer; None without a lift from the start, or where its load's centre hardly moves.
    """
    use = assessment.job.lift
    if use is None or not use.in_place:
        return None
    before = all_on(assessment.job)
    start = before.stage.statics.lift
    held = [(stage.statics.lift, stage.state.index) for stage in assessment.stages if not stage.state.stage.moved]
    shifts = [(lift.cg[0] - start.cg[0], index) for lift, index in held if lift and start]
    moved, index = max(shifts, key=lambda each: abs(each[0]), default=(0.0, 0))
    after = Shot(assessment, index)
    if abs(moved) < MOVED or not (_told(before, use) and _told(after, use)):
        return None
    front, rear = _ends(use)
    return LoadMoved(
        before=before,
        after=after,
        moved=moved,
        front=(_sum(before, front), _sum(after, front)),
        rear=(_sum(before, rear), _sum(after, rear)),
        props=tuple(each.name for each in after.stage.state.supports if each.body == use.body and not each.is_arm),
    )


def _told(shot: Shot, use: LiftUse) -> bool:
    return all(shot.load(arm.name) is not None for arm in use.arms)


def _ends(use: LiftUse) -> tuple[list[Support], list[Support]]:
    """Return the pads before and behind the middle of all."""
    middle = sum(arm.at[0] for arm in use.arms) / len(use.arms)
    return [arm for arm in use.arms if arm.at[0] >= middle], [arm for arm in use.arms if arm.at[0] < middle]


def _sum(shot: Shot, arms: list[Support]) -> float:
    return sum(carried(shot, arm.name) for arm in arms)
