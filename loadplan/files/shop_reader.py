"""Reading a shop: its tables become equipment, lifts and shims in SI."""

from dataclasses import dataclass

from loadplan.files.shape import TableRows, read_rows
from loadplan.files.shop_shape import CircleTable, EquipmentTable, HeightsTable, LiftTable, ShimTable
from loadplan.files.toml_source import Source
from loadplan.limits import TOP_FRICTION
from loadplan.model.shop import (
    Circle,
    Equipment,
    EquipmentKind,
    Footprint,
    Heights,
    Lift,
    Posts,
    Shim,
    Shop,
    Square,
)
from loadplan.model.vehicle import PlanPoint

MOST_EQUIPMENT = 500
MOST_LIFTS = 50
MOST_SHIMS = 200

SHOP_TABLES = ("equipment", "lift", "shim")

STIFFNESSES = {
    EquipmentKind.STAND: 2500e3,
    EquipmentKind.JACK: 1500e3,
    EquipmentKind.TABLE: 1500e3,
    EquipmentKind.HOIST: 1000e3,
    EquipmentKind.ARM: 400e3,
}
"""Stiffness of equipment that the file leaves out [N/m]; common practice, no source."""

LOCKING = frozenset((EquipmentKind.STAND, EquipmentKind.TABLE))
"""Equipment that is held mechanically where the file does not say; the others hang on oil or a chain brake."""


@dataclass(frozen=True, slots=True)
class ShopFile:
    """A shop as far as its file could be read.

    Attributes:
        source: The file.
        equipment: `[[equipment]]`.
        lifts: `[[lift]]`.
        shims: `[[shim]]`.
    """

    source: Source
    equipment: TableRows[EquipmentTable]
    lifts: TableRows[LiftTable]
    shims: TableRows[ShimTable]


def read_shop_tables(source: Source) -> ShopFile:
    """Read the tables of a shop, and note what is wrong in them.

    Args:
        source: The file.

    Returns:
        The shop as far as it could be read.
    """
    return ShopFile(
        source=source,
        equipment=read_rows(source, "equipment", EquipmentTable, MOST_EQUIPMENT),
        lifts=read_rows(source, "lift", LiftTable, MOST_LIFTS),
        shims=read_rows(source, "shim", ShimTable, MOST_SHIMS),
    )


def shop_noun(file: ShopFile) -> Shop:
    """Make the shop of its file.

    Args:
        file: The shop as far as it could be read.

    Returns:
        The shop; tables with faults are left out of it.
    """
    return Shop(
        equipment=tuple(_equipment(table) for table in file.equipment.tables),
        lifts=tuple(_lift(table) for table in file.lifts.tables),
        shims=tuple(Shim(table.height, table.wood or "", table.count) for table in file.shims.tables),
    )


def _equipment(table: EquipmentTable) -> Equipment:
    """Return equipment, what it leaves out filled in from its kind."""
    return Equipment(
        name=table.name,
        kind=table.kind,
        rating=table.rating,
        rated_for=table.rated_for,
        heights=_heights(table.heights),
        base=_footprint(table.base),
        saddle=_footprint(table.saddle),
        stiffness=table.stiffness or STIFFNESSES[table.kind],
        friction=TOP_FRICTION[table.top] if table.friction is None and table.top else table.friction,
        count=table.count or len(table.tags) or None,
        tags=table.tags,
        out_of_use=table.out_of_use,
        locks=table.kind in LOCKING if table.locks is None else table.locks,
        wheels=table.wheels,
        inspected=table.inspected,
        inspect_months=table.inspect_months,
    )


def _heights(heights: HeightsTable | tuple[float, ...] | None) -> Heights | None:
    """Return what equipment can be set to: any height between two, or a list of settings."""
    if heights is None:
        return None
    if isinstance(heights, HeightsTable):
        if heights.step is None:
            return Heights(heights.from_, heights.to, ())
        settings = _steps(heights, heights.step)
    else:
        settings = tuple(sorted(set(heights)))
    return Heights(settings[0], settings[-1], settings)


def _steps(heights: HeightsTable, step: float) -> tuple[float, ...]:
    """Return the settings from the lowest, a step apart, to the highest."""
    # A millionth of a step: 290 to 430 by 20 keeps its 430 whatever rounding does in inches.
    count = int((heights.to - heights.from_) / step + 1e-6)
    return tuple(heights.from_ + number * step for number in range(count + 1))


def _footprint(footprint: CircleTable | PlanPoint | None) -> Footprint | None:
    match footprint:
        case None:
            return None
        case CircleTable():
            return Circle(footprint.circle)
        case _:
            return Square(*footprint)


def _lift(table: LiftTable) -> Lift:
    """Return a lift; arms whose rating is not given share that of the lift."""
    return Lift(
        name=table.name,
        rating=table.rating,
        arms=table.arms,
        arm_rating=table.arm_rating or table.rating / table.arms,
        rise=table.rise,
        ceiling=table.ceiling,
        locks=bool(table.locks),
        lock_step=table.lock_step,
        posts=Posts(table.posts.y, table.posts.size) if table.posts else None,
        stiffness=table.stiffness or STIFFNESSES[EquipmentKind.ARM],
        stiffness_assumed=table.stiffness is None,
    )
