"""A stand that is planned already, set otherwise: to another height, as another piece, or at another place."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from loadplan.limits import TAPE
from loadplan.model.job import Job, Stack, Support
from loadplan.model.shop import STANDS_UNDER, Equipment
from loadplan.model.vehicle import Place, Point
from loadplan.planning.mending.fitted_setting import (
    NEAR,
    FittedSetting,
    fitted,
    level_of_others,
    other_settings,
)
from loadplan.planning.mending.plan_change import (
    ChangeKind,
    MadeChange,
    PlanChange,
    kind_words,
    place_words,
    set_words,
    support_of,
    with_support,
)


def height_changes(job: Job, support: Support) -> Iterator[PlanChange]:
    """Yield the other heights and shims of a stand, near where it is and where the others say that it should be.

    Args:
        job: The plan.
        support: The stand; the other saddles of its piece go up and down with it.

    Yields:
        One change a height; nothing for what is brought up to touch.
    """
    if support.set_height is None or support.equipment.kind not in STANDS_UNDER:
        return
    wanted = [support.set_height]
    others = level_of_others(job, support)
    if others is not None:
        wanted.append(support.at[2] + others)
    for setting in other_settings(job, support, wanted):
        yield PlanChange(ChangeKind.HEIGHT, support.name, partial(_set_to, name=support.name, setting=setting))
    if not support.piece and support.equipment.is_stepless:
        yield PlanChange(ChangeKind.HEIGHT, support.name, partial(_set_to, name=support.name, setting=None))


def equipment_changes(job: Job, support: Support) -> Iterator[PlanChange]:
    """Yield what else of the shop could stand at a stand's place.

    Args:
        job: The plan.
        support: The stand; a saddle of a piece with several is left alone.

    Yields:
        One change a kind that reaches.
    """
    if not _is_single(support) or support.equipment.kind not in STANDS_UNDER:
        return
    levels = {round(each, 4): each for each in (level(support), level_of_others(job, support)) if each is not None}
    for equipment in job.shop.equipment:
        if equipment.name == support.equipment.name or equipment.kind not in STANDS_UNDER or out_of_stock(equipment):
            continue
        for each in [None] if level(support) is None else levels.values():
            if each is None or reaches(job, equipment, support.at[2] + each):
                make = partial(_equipped, name=support.name, equipment=equipment, tag=None, level=each)
                yield PlanChange(ChangeKind.EQUIPMENT, support.name, make)


def piece_changes(job: Job, support: Support) -> Iterator[PlanChange]:
    """Yield the other pieces of its own kind that could stand at a stand's place: they differ in tag and inspection.

    Args:
        job: The plan.
        support: The stand.

    Yields:
        One change for each of a few pieces; nothing for a stand of which no piece is named.
    """
    for tag in free_tags(job, support.equipment) if support.tag and _is_single(support) else ():
        make = partial(_equipped, name=support.name, equipment=support.equipment, tag=tag, level=level(support))
        yield PlanChange(ChangeKind.EQUIPMENT, support.name, make)


def place_changes(job: Job, support: Support, cells: tuple[Place, ...]) -> Iterator[PlanChange]:
    """Yield the other places on its body where a stand could stand.

    Args:
        job: The plan.
        support: The stand; one that is to be kept where it is, or stands on a body, is left alone.
        cells: Places on its body that are no points of the vehicle's file.

    Yields:
        One change a place.
    """
    if not _is_single(support) or support.keep or support.on:
        return
    points = [each for each in job.vehicle.points if each.body == support.body and each.at != support.at]
    pads = {arm.point for arm in job.lift.arms} if job.lift else set()
    free = [Point("", support.body, at, None, "") for at in cells]
    for point in (*(each for each in points if each.name not in pads), *free):
        make = partial(_moved_to, name=support.name, point=point, level=level(support))
        yield PlanChange(ChangeKind.PLACE, support.name, make, at_cell=not point.name)


def level(support: Support) -> float | None:
    """Return how high a unit stands on a stand over the file's attitude [m]; None where it is brought up to touch."""
    return None if support.set_height is None else support.set_height - support.at[2]


def reaches(job: Job, equipment: Equipment, total: float) -> bool:
    """Return whether equipment with at most one shim comes near a height [m]."""
    return abs(fitted(job, equipment, total).total - total) <= NEAR


def out_of_stock(equipment: Equipment) -> bool:
    """Return whether the shop has no piece of that equipment that may be used."""
    return equipment.usable_count == 0


def free_tags(job: Job, equipment: Equipment) -> tuple[str, ...]:
    """Return the pieces of a kind that may be used and that no stand of a plan is."""
    used = {each.tag for each in job.supports if each.equipment.name == equipment.name}
    return tuple(each for each in equipment.tags if each not in equipment.out_of_use and each not in used)


def _is_single(support: Support) -> bool:
    return not support.piece


def _set_to(job: Job, *, name: str, setting: FittedSetting | None) -> MadeChange:
    """Return the plan with a stand set to a height; the other saddles of its piece go up and down by as much."""
    support = support_of(job, name)
    if setting is None:
        touching = with_support(job, replace(support, height=None, shim=None))
        return MadeChange(touching, name, (f"Leave {name} to be brought up to just touch.",))
    height = setting.height
    by = height - (support.height or height)
    made = with_support(job, replace(support, height=height, shim=_stack_there(support, setting)))
    for other in job.supports if support.piece else ():
        if other.piece == support.piece and other.name != name and other.height is not None:
            made = with_support(made, replace(other, height=round(other.height + by, 6)))
    told = (f"Leave {name} at " if abs(by) <= TAPE else f"Set {name} to ", *set_words(setting)[1:])
    return MadeChange(made, name, (*told, "."))


def _stack_there(support: Support, setting: FittedSetting) -> Stack | None:
    """Return what lies on a saddle; what lies there already, if it is alike."""
    now = support.shim
    if now is not None and setting.shim is not None and abs(now.height - setting.shim.height) <= TAPE:
        return now
    return setting.shim


def _equipped(job: Job, *, name: str, equipment: Equipment, tag: str | None, level: float | None) -> MadeChange | None:
    """Return the plan with another piece at a stand's place, set near to where the unit is to stand."""
    support = support_of(job, name)
    if level is not None and not reaches(job, equipment, support.at[2] + level):
        return None
    setting = None if level is None else fitted(job, equipment, support.at[2] + level)
    # Which piece is free hangs on the other changes.
    piece = tag or (next(iter(free_tags(job, equipment)), "") if support.tag else "")
    new = replace(support, equipment=equipment, tag=piece, friction=None)
    new = _set(new, setting)
    where = f" under {support.point}" if support.point else ""
    kept = (f"Use {kind_words(new)} for {name}{where} instead of {kind_words(support)}, ", *set_words(setting), ".")
    return MadeChange(with_support(job, new), name, kept)


def _moved_to(job: Job, *, name: str, point: Point, level: float | None) -> MadeChange:
    """Return the plan with a stand elsewhere, set near to where the unit is to stand."""
    support = support_of(job, name)
    setting = None if level is None else fitted(job, support.equipment, point.at[2] + level)
    # At a place that is no point nobody knows the height: there it is brought up to touch.
    new = _set(support, setting if point.name else None).under(point, job.vehicle)
    if point.name:
        where = support.point or "where it is"
        told = (f"Set {name} under {point.name} instead of {where}, ", *set_words(setting), ".")
        return MadeChange(with_support(job, new), name, told)
    said = (
        f"Set {name} elsewhere under the {point.body}, ",
        *place_words(point.at),
        ", brought up to just touch: find a hard place there, only where the maker gives a bearing place.",
    )
    return MadeChange(with_support(job, new), name, said)


def _set(support: Support, setting: FittedSetting | None) -> Support:
    """Return a support as it is set."""
    if setting is None:
        return replace(support, height=None, shim=None)
    return replace(support, height=setting.height, shim=_stack_there(support, setting))
