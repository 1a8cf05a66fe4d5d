"""From the tables of a job file to a job in SI."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from loadplan.files.job_file import JobFile
from loadplan.files.job_shape import LiftUseTable, PullTable, ReadingTable, StackTable, StageTable, SupportTable
from loadplan.files.readings_reader import LOAD_LEAST, LOAD_SHARE
from loadplan.limits import GRAVITY, Limits
from loadplan.model.job import Job, LiftUse, Pull, SetAnew, Stack, Stage, StageReading, Support
from loadplan.model.part_above import part_under
from loadplan.model.shop import Equipment, EquipmentKind, Lift, RatedFor, Shop
from loadplan.model.vehicle import Point, Vehicle
from loadplan.units import System

LEDGE = 0.100
"""A stand whose foot comes out lower than this under an assembly's top [m] stands on a lower place of it: none is set
so far too high; common practice, no source."""


def job_noun(file: JobFile, vehicle: Vehicle, shop: Shop, assumed: tuple[str, ...], today: date) -> Job:
    """Make the job of its files.

    Args:
        file: The job, without faults.
        vehicle: Its vehicle.
        shop: Its shop.
        assumed: What was assumed, a sentence each.
        today: Day taken where the file gives no date.

    Returns:
        The job.
    """
    written = file.limits.model_dump(exclude_none=True)
    return Job(
        title=file.head.title or file.source.path.stem,
        source=str(file.source.path),
        vehicle=vehicle,
        shop=shop,
        bodies=file.bodies_in_use,
        date=file.head.date or today,
        until=file.head.until,
        limits=replace(Limits(), **written),
        lift=_lift_use(file.lift, vehicle, _lift(file, shop)) if file.lift else None,
        supports=_with_feet(tuple(_support(table, vehicle, shop) for table in file.supports.tables), vehicle),
        stages=tuple(_stage(table) for table in file.stages.tables),
        us_units=file.source.system is System.US,
        assumed=assumed,
        friction_said="friction" in written,
    )


def _lift(file: JobFile, shop: Shop) -> Lift:
    """Return the lift in use; a stage that sets it on locks, of which the shop says nothing, shows that it has them."""
    lift = next(each for each in shop.lifts if each.name in file.lift_names)
    return replace(lift, locks=lift.locks or file.shows_locks)


def _lift_use(table: LiftUseTable, vehicle: Vehicle, lift: Lift) -> LiftUse:
    """Return the lift as the job uses it: one arm under each pad."""
    points = {point.name: point for point in vehicle.points}
    arm = _arm(lift)
    return LiftUse(
        lift=lift,
        body=table.body,
        columns=table.columns,
        arms=tuple(_arm_support(points[pad], arm, vehicle) for pad in table.pads),
        in_place=table.in_place,
    )


def _arm(lift: Lift) -> Equipment:
    """Return an arm of a lift as a piece of equipment."""
    return Equipment(
        name=lift.name,
        kind=EquipmentKind.ARM,
        rating=lift.arm_rating,
        rated_for=RatedFor.EACH,
        heights=None,
        base=None,
        saddle=None,
        stiffness=lift.stiffness,
        friction=None,
        count=None,
        tags=(),
        out_of_use=(),
        locks=lift.locks,
        wheels=False,
        inspected=(),
        inspect_months=None,
    )


def _arm_support(pad: Point, arm: Equipment, vehicle: Vehicle) -> Support:
    """Return an arm of the lift under its pad, as a support that nobody sets."""
    return Support(
        name=pad.name,
        equipment=arm,
        tag="",
        body=pad.body,
        at=pad.at,
        point=pad.name,
        limit=pad.limit,
        say=pad.say,
        keep=True,
        part=part_under(vehicle, pad.body, pad.at, pad.part),
    )


def _support(table: SupportTable, vehicle: Vehicle, shop: Shop) -> Support:
    """Return a support: what the job says of it, at the point that it names or under the body."""
    point = _bearing(table, vehicle)
    return Support(
        name=table.name,
        equipment=next(each for each in shop.equipment if each.name == table.use),
        tag=table.tag or "",
        body=point.body,
        at=point.at,
        height=table.height,
        shim=_stack(table.shim),
        friction=table.friction,
        standby=table.standby,
        on=table.on or "",
        piece=table.piece or "",
        keep=table.keep,
    ).under(point, vehicle)


def _with_feet(supports: tuple[Support, ...], vehicle: Vehicle) -> tuple[Support, ...]:
    """Return the supports with the feet of what stands on an assembly: on the top of it, or on a place that lies lower.

    Where a top is not given, and on a lower place, nothing but the heights of the stands there tells: as on the floor
    the saddle that reaches highest is taken to touch.
    """
    tops = {body.name: body.top for body in vehicle.bodies}
    lower: dict[str, float] = {}
    for each in supports:
        if each.on and each.set_height is not None and not _on_top(each, tops):
            depth = each.at[2] - each.set_height
            lower[each.on] = min(depth, lower.get(each.on, depth))
    return tuple(
        replace(each, foot=tops[each.on] if _on_top(each, tops) else lower.get(each.on)) if each.on else each
        for each in supports
    )


def _on_top(support: Support, tops: Mapping[str, float | None]) -> bool:
    """Return whether a support stands on the top of its assembly; one without a set height is taken to."""
    top = tops[support.on]
    if top is None or support.set_height is None:
        return top is not None
    return support.at[2] - support.set_height > top - LEDGE


def _bearing(table: SupportTable, vehicle: Vehicle) -> Point:
    """Return the point that a support bears on, a nameless one where the job gives body and place."""
    if table.body is not None and table.at is not None:
        return Point(name="", body=table.body, at=table.at, limit=None, say="")
    return next(point for point in vehicle.points if point.name == table.under)


def _stack(shim: StackTable | float | None) -> Stack | None:
    match shim:
        case None:
            return None
        case StackTable():
            return Stack(height=shim.height, wood=shim.wood or "", crib=shim.crib)
        case _:
            return Stack(height=shim, wood="", crib=False)


def _stage(table: StageTable) -> Stage:
    """Return a stage, its pull worked out."""
    return Stage(
        name=table.name,
        in_place=table.in_place,
        cleared=table.cleared,
        undone=table.undone,
        done_up=table.done_up,
        off=table.off,
        on=table.on,
        any_order=table.any_order,
        bar=table.bar,
        pull=_pull(table.pull) if table.pull else None,
        unattended=table.unattended,
        moved=table.moved,
        lowered=table.lowered,
        raised=table.raised,
        lift_locked=table.lift_locked,
        confirm=table.confirm,
        set_anew=tuple(SetAnew(name, height) for name, height in table.set_),
        undone_in_order=table.undone_in_order,
        readings=tuple(_reading(each) for each in table.readings),
    )


def _reading(table: ReadingTable) -> StageReading:
    """Return what was found at a support, as a force: scales and gauges show a mass."""
    if table.load is None:
        return StageReading(table.support, None, 0.0, table.turns, table.lowered)
    pm = max(LOAD_SHARE * table.load, LOAD_LEAST) if table.pm is None else table.pm.on(table.load)
    return StageReading(table.support, table.load * GRAVITY, pm * GRAVITY, None, table.lowered)


def _pull(table: PullTable) -> Pull:
    if table.torque is not None and table.bar is not None:
        force, bar = table.torque / table.bar, table.bar
    else:
        force, bar = table.force or 0.0, 0.0
    return Pull(body=table.body, at=table.at, force=force, towards=table.towards, about=table.about, bar=bar)
