"""The kinds of values that files hold, each with its sane bounds."""

from datetime import date
from math import pi
from typing import Annotated, TypeAlias

from pydantic import Discriminator, Tag

from loadplan.files.compound import Axis, ByName, MassSpread, MassSpreadRule, OneOrMore, Sides, Spread
from loadplan.files.rules import AmountRule, Day, Flag, ListOf, Number, WholeNumber, Words
from loadplan.limits import GRAVITY
from loadplan.model.vehicle import Place, PlanPoint
from loadplan.units import Kind

FARTHEST = 100.0
"""Greatest length that is read [m]; a vehicle has some 5 m."""

HEAVIEST = 100_000.0
"""Greatest mass that is read [kg]; a vehicle has some 2 t."""

LIGHTEST = 0.001
"""Least mass that is read [kg], so that no weight is lost in rounding."""

STIFFEST = 1e12
"""Greatest stiffness that is read [N/m]; a stand has some 2.5e6."""

SOFTEST = 1.0
"""Least stiffness that is read [N/m], so that no spring is lost in rounding."""

STRONGEST = HEAVIEST * GRAVITY
"""Greatest force that is read [N]."""

_LENGTH = AmountRule(Kind.LENGTH, -FARTHEST, FARTHEST)
_SIZE = AmountRule(Kind.LENGTH, 0.0, FARTHEST, above=True)
_UP_TO = AmountRule(Kind.LENGTH, 0.0, FARTHEST)
_PLACE = ListOf(_LENGTH, 3, 3, "lengths x, y, z", ("x", "y", "z"))
_CORNER = ListOf(_LENGTH, 2, 2, "lengths x, y", ("x", "y"))
_NAME = Words()
_NAMES = ListOf(_NAME, 0, 1000, "names")
_DAY = Day()

Length: TypeAlias = Annotated[float, _LENGTH]
Size: TypeAlias = Annotated[float, _SIZE]
UpTo: TypeAlias = Annotated[float, _UP_TO]
"""A length of 0 or more [m]."""
Mass: TypeAlias = Annotated[float, AmountRule(Kind.MASS, LIGHTEST, HEAVIEST)]
ScaleLoad: TypeAlias = Annotated[float, AmountRule(Kind.MASS, 0.0, HEAVIEST)]
"""What a scale reads [kg], 0 or more."""
Rating: TypeAlias = Annotated[float, AmountRule(Kind.LOAD, LIGHTEST * GRAVITY, STRONGEST)]
Force: TypeAlias = Annotated[float, AmountRule(Kind.FORCE, 0.0, STRONGEST)]
Push: TypeAlias = Annotated[float, AmountRule(Kind.FORCE, 0.0, STRONGEST, above=True)]
Stiffness: TypeAlias = Annotated[float, AmountRule(Kind.STIFFNESS, SOFTEST, STIFFEST)]
Torque: TypeAlias = Annotated[float, AmountRule(Kind.TORQUE, 0.0, STRONGEST, above=True)]
Share: TypeAlias = Annotated[float, AmountRule(Kind.SHARE, 0.0, 1.0, above=True)]
Slope: TypeAlias = Annotated[float, AmountRule(Kind.ANGLE, 0.0, pi / 4)]
Friction: TypeAlias = Annotated[float, Number(0.0, 2.0)]

At: TypeAlias = Annotated[Place, _PLACE]
Places: TypeAlias = Annotated[tuple[Place, ...], OneOrMore(_PLACE, 100, "places")]
PlaceSpread: TypeAlias = Annotated[Place, Spread(_UP_TO)]
MassTolerance: TypeAlias = Annotated[MassSpread, MassSpreadRule(AmountRule(Kind.MASS, 0.0, HEAVIEST))]
Direction: TypeAlias = Annotated[Place, Axis()]
Outline: TypeAlias = Annotated[tuple[PlanPoint, ...], ListOf(_CORNER, 3, 200, "corners [x, y]")]
Rectangle: TypeAlias = Annotated[PlanPoint, Sides(_SIZE)]
Sizes: TypeAlias = Annotated[tuple[float, ...], OneOrMore(_SIZE, 200, "heights")]
Ys: TypeAlias = Annotated[tuple[float, ...], OneOrMore(_LENGTH, 20, "lengths")]

Name: TypeAlias = Annotated[str, _NAME]
Text: TypeAlias = Annotated[str, Words(longest=300)]
Say: TypeAlias = Annotated[str, Words(longest=300, shortest=0)]
Names: TypeAlias = Annotated[tuple[str, ...], _NAMES]
SomeNames: TypeAlias = Annotated[tuple[str, ...], ListOf(_NAME, 1, 1000, "names")]
Pair: TypeAlias = Annotated[tuple[str, str], ListOf(_NAME, 2, 2, "names")]
SetHeights: TypeAlias = Annotated[tuple[tuple[str, float], ...], ByName(_SIZE, 100, "saddle heights")]
Boxes: TypeAlias = Annotated[tuple[str, ...], ListOf(Words(longest=300), 0, 50, "texts")]
YesNo: TypeAlias = Annotated[bool, Flag()]
Date: TypeAlias = Annotated[date, _DAY]
Count: TypeAlias = Annotated[int, WholeNumber(1, 10_000)]
Months: TypeAlias = Annotated[int, WholeNumber(1, 1200)]
Arms: TypeAlias = Annotated[int, WholeNumber(1, 12)]

TABLE = "~table"
BARE = "~bare"


def _form(value: object) -> str:
    """Return the form of a value that may be written bare or as a table."""
    return TABLE if isinstance(value, dict) else BARE


TABLE_OR_BARE = Discriminator(_form)
"""Parts `{ circle = 260 }` from `200`."""
AsTable = Tag(TABLE)
AsBare = Tag(BARE)
