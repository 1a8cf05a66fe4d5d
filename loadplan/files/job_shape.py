"""The tables of a job file, as users write them."""

from collections.abc import Iterator, Mapping
from dataclasses import fields
from types import MappingProxyType
from typing import Annotated, Any

from pydantic import Field, create_model

from loadplan.files.names import repeated
from loadplan.files.shape import Shape
from loadplan.files.values import (
    TABLE_OR_BARE,
    AsBare,
    AsTable,
    At,
    Boxes,
    Date,
    Direction,
    Force,
    Friction,
    Length,
    MassTolerance,
    Name,
    Names,
    Push,
    ScaleLoad,
    SetHeights,
    Share,
    Size,
    Slope,
    SomeNames,
    Text,
    Torque,
    UpTo,
    YesNo,
)
from loadplan.files.vehicle_shape import Known
from loadplan.limits import Limits, limit_text
from loadplan.units import Kind

JOB_SCHEMA = "loadplan-job-1"

MOST_READINGS = 100
"""Most readings of one stage: a dozen places at eight lowerings."""


class JobHead(Shape):
    """What stands in a job file outside its tables; the last three where it holds its vehicle itself."""

    title: Text | None = None
    vehicle: Text | None = None
    shop: Text | None = None
    date: Date | None = None
    until: Date | None = None
    bodies: SomeNames = ()
    name: Name | None = None
    example: YesNo | None = None
    known: Known | None = None

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield days in the wrong order, and keys that belong in the vehicle's own file."""
        if self.date and self.until and self.until < self.date:
            yield "until", f"must not be before date = {self.date}, is {self.until}"
        for key in ("name", "example", "known"):
            if self.vehicle is not None and getattr(self, key) is not None:
                yield key, "belongs in the vehicle's file, because vehicle names one"


_LIMIT_RULES: Mapping[Kind | None, Any] = MappingProxyType({
    Kind.SHARE: Share | None,
    Kind.LENGTH: UpTo | None,
    Kind.ANGLE: Slope | None,
    Kind.FORCE: Force | None,
    None: Friction | None,
})
"""How a limit is read, by what it measures."""

_LIMIT_KEYS: dict[str, Any] = {each.name: (_LIMIT_RULES[limit_text(each.name).kind], None) for each in fields(Limits)}

LimitsTable = create_model(
    "LimitsTable",
    __base__=Shape,
    __doc__="`[limits]`: each stands in for a default of `loadplan.limits.Limits`.",
    **_LIMIT_KEYS,
)


class LiftUseTable(Shape):
    """`[lift]` of a job: how the lift is used."""

    use: Name
    body: Name
    columns: Length | None = None
    pads: SomeNames
    in_place: YesNo = True


class StackTable(Shape):
    """What lies between a saddle and the body."""

    height: Size
    wood: Name | None = None
    crib: YesNo = False


Stacked = Annotated[Annotated[StackTable, AsTable] | Annotated[Size, AsBare], TABLE_OR_BARE]


class SupportTable(Shape):
    """One `[[support]]`."""

    name: Name
    use: Name
    tag: Name | None = None
    under: Name | None = None
    body: Name | None = None
    at: At | None = None
    height: Size | None = None
    shim: Stacked | None = None
    friction: Friction | None = None
    standby: YesNo = False
    on: Name | None = None
    piece: Name | None = None
    keep: YesNo = False

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield a place that is said twice, or not at all."""
        if self.under is not None:
            if self.body is not None:
                yield "body", "must not stand beside under: a point says its body itself"
            if self.at is not None:
                yield "at", "must not stand beside under: a point says its place itself"
        elif self.body is None and self.at is None:
            yield "under", "is missing: name a point, or give body and at = [x, y, z]"
        elif self.body is None:
            yield "body", "is missing: a place at = [x, y, z] needs its body"
        elif self.at is None:
            yield "at", "is missing: a body needs the place at = [x, y, z] on it"


class PullTable(Shape):
    """A known pull: a force, or a torque on a bar."""

    body: Name
    at: At
    force: Push | None = None
    towards: Direction | None = None
    torque: Torque | None = None
    about: Direction | None = None
    bar: Size | None = None

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield what is missing to a force or a torque, and what belongs to the other."""
        if (self.force is None) == (self.torque is None):
            yield "pull", "must have either force and towards, or torque, about and bar"
            return
        force = self.force is not None
        for key in ("towards",) if force else ("about", "bar"):
            if getattr(self, key) is None:
                yield f"pull.{key}", f"is missing: a {'force' if force else 'torque'} needs it"
        for key in ("about", "bar") if force else ("towards",):
            if getattr(self, key) is not None:
                yield f"pull.{key}", f"does not go with a {'force' if force else 'torque'}"


class ReadingTable(Shape):
    """What was found in a stage at one support: by a scale, or by a hand that turned it or could not."""

    support: Name
    load: ScaleLoad | None = None
    pm: MassTolerance | None = None
    turns: YesNo | None = None
    lowered: UpTo | None = None

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield what is read twice or not at all, and a plus or minus on what a hand feels."""
        if self.load is None and self.turns is None:
            yield "load", "is missing: give what the scale reads, or turns = true or false for a hand"
        elif self.load is not None and self.turns is not None:
            yield "turns", "must not stand beside load: write a reading for the scale and one for the hand"
        elif self.load is None and self.pm is not None:
            yield "pm", "is for what a scale reads: leave it out where a hand tried it"


class StageTable(Shape):
    """One `[[stage]]`."""

    name: Name
    in_place: Names = ()
    cleared: Names = ()
    undone: Names = ()
    done_up: Names = ()
    off: Names = ()
    on: Names = ()
    any_order: YesNo = False
    bar: YesNo = False
    pull: PullTable | None = None
    unattended: YesNo = False
    moved: YesNo = False
    lowered: UpTo | None = None
    raised: UpTo | None = None
    lift_locked: YesNo | None = None
    confirm: Boxes = ()
    set_: SetHeights = Field(default=(), alias="set")
    undone_in_order: YesNo = False
    readings: tuple[ReadingTable, ...] = ()

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield names in opposite lists or listed twice, a lift that goes both ways, and an order of fewer than two."""
        if self.lowered is not None and self.raised is not None:
            yield "raised", "must not stand beside lowered: write the one that is done"
        for one, other in (("in_place", "cleared"), ("undone", "done_up"), ("off", "on")):
            both = set(getattr(self, one)) & set(getattr(self, other))
            for name in sorted(both):
                yield other, f'must not name "{name}", which {one} of the same stage names too'
        lists = {key: getattr(self, key) for key in ("in_place", "cleared", "undone", "done_up", "off", "on")}
        yield from ((key, f'names "{name}" twice') for key, those in lists.items() for name in repeated(those))
        for name in sorted({name for name, _ in self.set_} & set(self.cleared)):
            yield "set", f'must not name "{name}", which cleared of the same stage names too'
        if self.undone_in_order and len(self.undone) < 2:
            yield "undone_in_order", "says nothing: undone of the same stage names fewer than two"
        if self.pull:
            yield from self.pull.complaints()
        yield from self._of_readings()

    def _of_readings(self) -> Iterator[tuple[str, str]]:
        """Yield readings that do not fit together, each under its number, and one place read twice alike."""
        if len(self.readings) > MOST_READINGS:
            yield "readings", f"has {len(self.readings)}: at most {MOST_READINGS} are read"
        seen = set[tuple[str, bool, float | None]]()
        for number, each in enumerate(self.readings, 1):
            yield from ((f"readings.{number}.{key}", told) for key, told in each.complaints())
            what = (each.support, each.load is None, each.lowered)
            if what in seen:
                told = f'names "{each.support}" a second time: a reading there is given once for each lowered'
                yield f"readings.{number}.support", told
            seen.add(what)
