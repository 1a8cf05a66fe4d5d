"""The tables of a vehicle file, as users write them."""

from collections.abc import Iterator
from typing import Annotated

from loadplan.files.compound import MassSpread
from loadplan.files.outline import trouble
from loadplan.files.rules import Choice
from loadplan.files.shape import Shape
from loadplan.files.values import (
    At,
    Date,
    Force,
    Length,
    Mass,
    MassTolerance,
    Name,
    Names,
    Outline,
    Pair,
    Places,
    PlaceSpread,
    Say,
    Stiffness,
    YesNo,
)
from loadplan.model.vehicle import Basis, JointKind

VEHICLE_SCHEMA = "loadplan-vehicle-1"

Known = Annotated[Basis, Choice(tuple((b.words, b) for b in (Basis.WEIGHED, Basis.DATA_SHEET, Basis.GUESS)))]
"""How good the figures are, poorest last."""

Tie = Annotated[JointKind, Choice(tuple((kind.value, kind) for kind in JointKind))]


class VehicleHead(Shape):
    """What stands in a vehicle file outside its tables."""

    name: Name | None = None
    example: YesNo = False
    known: Known | None = None


class WeighedTable(Shape):
    """What the scales said of a body with all its parts on."""

    mass: Mass
    mass_pm: MassTolerance | None = None
    cg: At
    cg_pm: PlaceSpread | None = None
    date: Date | None = None

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield a tolerance that leaves no weight."""
        yield from spread_complaints("weighed.mass_pm", self.mass, self.mass_pm)


class BodyTable(Shape):
    """One `[[body]]`."""

    name: Name
    outline: Outline = ()
    bottom: Length | None = None
    top: Length | None = None
    weighed: WeighedTable | None = None
    known: Known | None = None

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield an outline that crosses itself and a top below the bottom."""
        if self.outline and (wrong := trouble(self.outline)):
            yield "outline", wrong
        if self.bottom is not None and self.top is not None and self.top <= self.bottom:
            yield "top", "must be higher than bottom: both are heights z in the vehicle's axes"
        if self.weighed:
            yield from self.weighed.complaints()


class PartTable(Shape):
    """One `[[part]]`."""

    name: Name
    body: Name
    mass: Mass
    mass_pm: MassTolerance | None = None
    at: At
    at_pm: PlaceSpread | None = None
    after: Names = ()
    known: Known | None = None

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield a tolerance that leaves no weight."""
        yield from spread_complaints("mass_pm", self.mass, self.mass_pm)


class JointTable(Shape):
    """One `[[joint]]`."""

    name: Name
    kind: Tie
    between: Pair
    at: Places = ()
    stiffness: Stiffness | None = None

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield what the kind of joint needs or cannot have."""
        if self.between[0] == self.between[1]:
            yield "between", "must name two different bodies"
        if self.kind is JointKind.MOUNT and not self.at:
            yield "at", "is missing: a mount needs its place [x, y, z]"
        if self.kind is JointKind.MOUNT and len(self.at) > 1:
            yield "at", "must be one place [x, y, z]: a mount is one spring at one point; write a mount for each"
        if self.kind is JointKind.BOLTED and self.stiffness is not None:
            yield "stiffness", 'is for a mount: joints of kind "bolted" are rigid, so leave it out'


class PointTable(Shape):
    """One `[[point]]`."""

    name: Name
    body: Name
    at: At
    limit: Force | None = None
    say: Say = ""


def spread_complaints(key: str, mass: float, spread: MassSpread | None) -> Iterator[tuple[str, str]]:
    """Tell of a tolerance that leaves no weight.

    Args:
        key: Its key.
        mass: Mass [kg].
        spread: Plus or minus on it.

    Yields:
        Key, and what is wrong with it.
    """
    if spread is not None and spread.on(mass) >= mass:
        yield key, "must be less than the mass: else there might be nothing there"
