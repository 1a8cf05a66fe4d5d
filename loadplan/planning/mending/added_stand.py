"""One more stand: where it could go, what could stand there, and when it comes and goes."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import NamedTuple

from loadplan.model.job import Job, Support
from loadplan.model.shop import Equipment, EquipmentKind
from loadplan.model.vehicle import Place, Point
from loadplan.model.verdict import Sentence
from loadplan.planning.mending.fitted_setting import fitted, level_of_others
from loadplan.planning.mending.plan_change import (
    ChangeKind,
    MadeChange,
    PlanChange,
    free_letter,
    kind_words,
    place_words,
    set_words,
    with_stage,
)
from loadplan.planning.mending.stand_resets import free_tags, out_of_stock, reaches
from loadplan.stages import states


@dataclass(frozen=True, slots=True)
class Span:
    """The steps in which a stand comes and goes.

    Attributes:
        comes: Numbers of the stages that put it in place, from 0.
        goes: Numbers of the stages that take it away.
        waits: Whether it stands by, and carries nothing until something moves.
    """

    comes: tuple[int, ...]
    goes: tuple[int, ...]
    waits: bool


class StepsLeft(NamedTuple):
    """The steps in which something can be done.

    Attributes:
        first: Number of the first step that is not done yet, from 0.
        troubled: Numbers of the first and the last step with a trouble.
    """

    first: int
    troubled: tuple[int, int]


def additions(job: Job, body: str, cells: tuple[Place, ...], left: StepsLeft) -> Iterator[PlanChange]:
    """Yield one more stand under a body, at each free point and at places that are none.

    Args:
        job: The plan.
        body: The body.
        cells: Places on it that are no points of the vehicle's file.
        left: The steps in which something can be done.

    Yields:
        One change a place and kind of stand.
    """
    used = {each.point for each in job.supports} | ({arm.point for arm in job.lift.arms} if job.lift else set())
    points = [each for each in job.vehicle.points if each.body == body and each.name not in used]
    for point in (*points, *(Point("", body, at, None, "") for at in cells)):
        span = _span(job, point, left)
        if span is None:
            continue
        level = None if span.waits or not point.name else _level(job, body)
        for equipment in _standing(job, point, level):
            make = partial(_added, point=point, equipment=equipment, level=level, span=span)
            about = f"{point.name or point.at}"
            yield PlanChange(ChangeKind.ADD, about, make, at_cell=not point.name)


def _standing(job: Job, point: Point, level: float | None) -> Iterator[Equipment]:
    """Yield what could stand under a point: what reaches it, or can be brought up to touch."""
    stock = [
        each
        for each in job.shop.equipment
        if each.kind in {EquipmentKind.STAND, EquipmentKind.JACK} and not out_of_stock(each)
    ]
    stepless = [each for each in stock if each.is_stepless]
    # Only what turns can be brought up to touch; a shop that has nothing of the kind takes the nearest setting.
    for equipment in (stepless or stock) if level is None else stock:
        if level is None or reaches(job, equipment, point.at[2] + level):
            yield equipment


def _level(job: Job, body: str) -> float | None:
    """Return how high the stands hold a body over the file's attitude [m]; None where they are brought up to touch."""
    touching = [each for each in job.supports if each.body == body and each.set_height is None and not each.standby]
    set_ = [each for each in job.supports if each.body == body and each.set_height is not None]
    if touching and not set_:
        return None
    return level_of_others(job, Support("", job.shop.equipment[0], "", body, (0.0, 0.0, 0.0)))


def _span(job: Job, point: Point, left: StepsLeft) -> Span | None:
    """Say when a stand at a point comes and goes: with the others under its body, and never without its part.

    Returns:
        None where it could never stand.
    """
    followed = states(job)
    # A prop under what hangs on the lift stands by only while there is trouble: before and after, the lift moves.
    lifted = job.lift is not None and point.body == job.lift.body
    like = {each.name for each in job.supports if each.body == point.body and not each.standby}
    start, end = left.troubled[0], left.troubled[1] if lifted else len(followed)
    beside = not lifted and any(like & {each.name for each in state.supports} for state in followed[left.first :])
    there = [
        state.index >= left.first
        and (bool(like & {each.name for each in state.supports}) if beside else start <= state.index <= end)
        and point.body in state.bodies
        and (not point.part or point.part in state.on)
        for state in followed
    ]
    before = [False, *there[:-1]]
    comes = tuple(number for number, each in enumerate(there) if each and not before[number])
    goes = tuple(number for number, each in enumerate(there) if before[number] and not each)
    return Span(comes, goes, waits=lifted) if comes else None


def _added(job: Job, *, point: Point, equipment: Equipment, level: float | None, span: Span) -> MadeChange | None:
    """Return the plan with one more stand under a place; None where one stands there."""
    if any(each.point == point.name and point.name for each in job.supports):
        return None
    name = free_letter(job)
    tags = free_tags(job, equipment) if any(each.tag for each in job.supports) else ()
    stand = Support(name, equipment, next(iter(tags), ""), point.body, point.at, standby=span.waits)
    setting = None if level is None else fitted(job, equipment, point.at[2] + level)
    if setting is not None:
        stand = replace(stand, height=setting.height, shim=setting.shim)
    stand = stand.under(point, job.vehicle)
    made = replace(job, supports=(*job.supports, stand))
    for number in span.comes:
        stage = made.stages[number]
        made = with_stage(made, number, replace(stage, in_place=(*stage.in_place, name)))
    for number in span.goes:
        stage = made.stages[number]
        made = with_stage(made, number, replace(stage, cleared=(*stage.cleared, name)))
    at_place: Sentence = (f" under the {point.body}, ", *place_words(point.at), ", ")
    where: Sentence = (f" under {point.name}, ",) if point.name else at_place
    hard = "" if point.name else ": find a hard place there, only where the maker gives a bearing place"
    steps = f'from step "{job.stages[span.comes[0]].name}" on'
    if span.goes:
        steps += f', away in step "{job.stages[span.goes[-1]].name}"'
    told = (
        f"Set one more stand, {name}: {kind_words(stand)}",
        *where,
        *set_words(setting),
        f", {steps}{hard}.",
    )
    return MadeChange(made, name, told)
