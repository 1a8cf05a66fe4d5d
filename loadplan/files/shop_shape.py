"""The tables of a shop file, as users write them."""

from collections.abc import Iterator
from datetime import date
from typing import Annotated

from pydantic import Field

from loadplan.files.compound import Inspections
from loadplan.files.fault_wording import listed, quoted, shown
from loadplan.files.names import SHOWN, repeated
from loadplan.files.rules import Choice, OneOf
from loadplan.files.shape import Shape
from loadplan.files.values import (
    TABLE_OR_BARE,
    Arms,
    AsBare,
    AsTable,
    Count,
    Friction,
    Months,
    Name,
    Names,
    Rating,
    Rectangle,
    Size,
    Sizes,
    Stiffness,
    UpTo,
    YesNo,
    Ys,
)
from loadplan.limits import TOP_FRICTION
from loadplan.model.shop import EquipmentKind, RatedFor

SHOP_SCHEMA = "loadplan-shop-1"

MOST_SETTINGS = 2000
"""Most heights that one piece of equipment can be set to."""

_KINDS = (EquipmentKind.STAND, EquipmentKind.JACK, EquipmentKind.TABLE, EquipmentKind.HOIST)
Kind = Annotated[EquipmentKind, Choice(tuple((kind.value, kind) for kind in _KINDS))]
Top = Annotated[str, OneOf(tuple(TOP_FRICTION))]
For = Annotated[RatedFor, Choice(tuple((each.value, each) for each in (RatedFor.PAIR, RatedFor.EACH)))]


class ShopHead(Shape):
    """What stands in a shop file outside its tables: nothing but its schema and units."""


class HeightsTable(Shape):
    """The heights from the lowest to the highest, in steps or stepless."""

    from_: UpTo = Field(alias="from")
    to: Size
    step: Size | None = None

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield a range that is none, and steps without number."""
        if self.to < self.from_:
            yield "heights.to", "must not be below from"
        elif self.step and (self.to - self.from_) / self.step > MOST_SETTINGS:
            yield "heights.step", f"makes more than {MOST_SETTINGS} settings: leave it out for stepless"


class CircleTable(Shape):
    """A round footprint."""

    circle: Size


Footing = Annotated[Annotated[CircleTable, AsTable] | Annotated[Rectangle, AsBare], TABLE_OR_BARE]
Settings = Annotated[Annotated[HeightsTable, AsTable] | Annotated[Sizes, AsBare], TABLE_OR_BARE]


class EquipmentTable(Shape):
    """One `[[equipment]]`."""

    name: Name
    kind: Kind
    rating: Rating
    rated_for: For = RatedFor.UNSAID
    heights: Settings | None = None
    base: Footing | None = None
    saddle: Footing | None = None
    stiffness: Stiffness | None = None
    friction: Friction | None = None
    top: Top | None = None
    count: Count | None = None
    tags: Names = ()
    out_of_use: Names = ()
    locks: YesNo | None = None
    wheels: YesNo = False
    inspected: Annotated[tuple[tuple[str, date], ...], Inspections()] = ()
    inspect_months: Months | None = None

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield tags that do not fit together."""
        if isinstance(self.heights, HeightsTable):
            yield from self.heights.complaints()
        yield from self._repeated_tags()
        tagged = (("out_of_use", self.out_of_use), ("inspected", tuple(tag for tag, _ in self.inspected if tag)))
        for key, tags in tagged:
            if strange := [tag for tag in tags if tag not in self.tags]:
                yield key, f"names {listed(quoted(strange), SHOWN)}, not listed in tags"
        if self.count is not None and len(self.tags) > self.count:
            yield "tags", f"names {len(self.tags)} pieces, more than count = {self.count}"

    def _repeated_tags(self) -> Iterator[tuple[str, str]]:
        """Yield the tags that stand twice in a list."""
        for key, tags in (("tags", self.tags), ("out_of_use", self.out_of_use)):
            for tag in repeated(tags):
                yield key, f"names {shown(tag)} twice"


class PostsTable(Shape):
    """The posts of a lift."""

    y: Ys
    size: Size


class LiftTable(Shape):
    """One `[[lift]]` of a shop."""

    name: Name
    rating: Rating
    arms: Arms
    arm_rating: Rating | None = None
    rise: Size | None = None
    ceiling: Size | None = None
    locks: YesNo | None = None
    lock_step: UpTo | None = None
    posts: PostsTable | None = None
    stiffness: Stiffness | None = None


class ShimTable(Shape):
    """One `[[shim]]`."""

    height: Size
    wood: Name | None = None
    count: Count | None = None
