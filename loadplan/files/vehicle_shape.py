"""The tables of a vehicle file, as users write them."""

from collections.abc import Iterator
from math import dist
from typing import Annotated, assert_never

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
from loadplan.model.vehicle import Basis, JointKind, TieState

VEHICLE_SCHEMA = "loadplan-vehicle-1"

SHORTEST_LINK = 0.001
"""Least distance between the ends of a link [m]: a shorter one has no line to hold along; no source."""

Known = Annotated[Basis, Choice(tuple((b.words, b) for b in (Basis.WEIGHED, Basis.DATA_SHEET, Basis.GUESS)))]
"""How good the figures are, poorest last."""

KindOfJoint = Annotated[JointKind, Choice(tuple((kind.value, kind) for kind in JointKind))]

TieAs = Annotated[TieState, Choice(tuple((each.value, each) for each in TieState))]
"""What has to be done with it."""


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
        yield from form_complaints(self)
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
    outline: Outline = ()
    bottom: Length | None = None
    top: Length | None = None

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield a tolerance that leaves no weight, an outline that crosses itself and a top below the bottom."""
        yield from spread_complaints("mass_pm", self.mass, self.mass_pm)
        yield from form_complaints(self)


class JointTable(Shape):
    """One `[[joint]]`."""

    name: Name
    kind: KindOfJoint
    between: Pair
    at: Places = ()
    to: At | None = None
    stiffness: Stiffness | None = None
    limit: Force | None = None
    part: Name | None = None

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield what the kind of joint needs or cannot have."""
        if self.between[0] == self.between[1]:
            yield "between", "must name two different bodies"
        match self.kind:
            case JointKind.MOUNT:
                yield from self._of_mount()
            case JointKind.LINK:
                yield from self._of_link()
            case JointKind.BOLTED:
                yield from self._of_bolts()
            case _:
                assert_never(self.kind)

    def _of_mount(self) -> Iterator[tuple[str, str]]:
        """Yield a mount that is nowhere, at more than one place, or that has a second end."""
        if not self.at:
            yield "at", "is missing: a mount needs its place [x, y, z]"
        if len(self.at) > 1:
            yield "at", "must be one place [x, y, z]: a mount is one spring at one point; write a mount for each"
        if self.to is not None:
            yield "to", 'is for a rod with a joint at each end, of kind "link": a mount has one place, so leave it out'

    def _of_link(self) -> Iterator[tuple[str, str]]:
        """Yield a link that lacks an end, has more than two, or both at one place."""
        if len(self.at) != 1:
            told = "must be one place" if self.at else "is missing: a link needs one place"
            yield "at", f"{told} [x, y, z], its end on the first of between"
        if self.to is None:
            yield "to", "is missing: a link needs the place [x, y, z] of its end on the second of between"
        elif len(self.at) == 1 and dist(self.at[0], self.to) < SHORTEST_LINK:
            yield "to", "must be another place than at: a link holds along the line between its two ends"

    def _of_bolts(self) -> Iterator[tuple[str, str]]:
        """Yield what only springs and rods have."""
        if self.stiffness is not None:
            yield "stiffness", 'is for a mount: joints of kind "bolted" are rigid, so leave it out'
        if self.limit is not None:
            yield "limit", 'is for a mount or a link: what joints of kind "bolted" carry is not computed'
        if self.to is not None:
            yield "to", 'is for a rod with a joint at each end, of kind "link", so leave it out'


class PointTable(Shape):
    """One `[[point]]`."""

    name: Name
    body: Name
    at: At
    limit: Force | None = None
    say: Say = ""
    part: Name | None = None


class TieTable(Shape):
    """One `[[tie]]`."""

    name: Name
    body: Name
    at: At
    what: TieAs
    before: Names = ()
    say: Say = ""


def form_complaints(table: BodyTable | PartTable) -> Iterator[tuple[str, str]]:
    """Tell of an outline that crosses itself and a top below the bottom.

    Args:
        table: A body, or a part.

    Yields:
        Key, and what is wrong with it.
    """
    if table.outline and (wrong := trouble(table.outline)):
        yield "outline", wrong
    if table.bottom is not None and table.top is not None and table.top <= table.bottom:
        yield "top", "must be higher than bottom: both are heights z in the vehicle's axes"


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
