"""Rules for values that may be written in more than one way, or that hold together as one."""

from dataclasses import dataclass
from datetime import date
from math import hypot
from typing import Any

from loadplan.files.rule import Rule, RuleError
from loadplan.files.rules import AmountRule, Day, ListOf, Number, Words
from loadplan.model.vehicle import Place, PlanPoint
from loadplan.units import Kind, QuantityError, System, to_si

MOST_TAGS = 1000
"""Most tags with a date of their own."""

SHORTEST = 1e-6
"""Least length of a direction: below it nothing is meant."""


@dataclass(frozen=True, slots=True)
class MassSpread:
    """Plus or minus on a mass.

    Attributes:
        amount: Mass [kg], or share of the mass.
        of_mass: True where it is a share.
    """

    amount: float
    of_mass: bool

    def on(self, mass: float) -> float:
        """Return the spread [kg] on a mass [kg]."""
        return self.amount * mass if self.of_mass else self.amount


@dataclass(frozen=True, slots=True)
class MassSpreadRule(Rule):
    """A plus or minus on a mass, as a mass or in per cent of it.

    Attributes:
        mass: Rule of the mass.
    """

    mass: AmountRule

    def wants(self, system: System) -> str:
        """Return both forms."""
        return f'{self.mass.wants(system)}, or in per cent such as "10 %"'

    def read(self, value: object, system: System) -> MassSpread:
        """Return the spread.

        Raises:
            RuleError: If it is none.
        """
        if isinstance(value, str) and value.rstrip().endswith("%"):
            share = to_si(value, Kind.SHARE, system)
            if not 0 <= share < 1:
                raise RuleError(f'must be from "0 %" to less than "100 %", is {share:.4g} times the mass')
            return MassSpread(share, of_mass=True)
        return MassSpread(self.mass.read(value, system), of_mass=False)

    def schema(self) -> dict[str, Any]:
        """Return a number or a text."""
        return self.mass.schema()


@dataclass(frozen=True, slots=True)
class Spread(Rule):
    """A plus or minus on a place: one length for the three axes, or one each.

    Attributes:
        length: Rule of one.
    """

    length: AmountRule

    def wants(self, system: System) -> str:
        """Return both forms."""
        return f"{self.length.wants(system)}, or a list of three of them"

    def read(self, value: object, system: System) -> Place:
        """Return the spread along each axis [m]."""
        if isinstance(value, list):
            x, y, z = self._three.read(value, system)
            return x, y, z
        spread = self.length.read(value, system)
        return spread, spread, spread

    def schema(self) -> dict[str, Any]:
        """Return both forms."""
        return {"anyOf": [self.length.schema(), self._three.schema()]}

    @property
    def _three(self) -> ListOf:
        return ListOf(self.length, 3, 3, "lengths x, y, z", ("x", "y", "z"))


@dataclass(frozen=True, slots=True)
class Sides(Rule):
    """The sides of a square or a rectangle.

    Attributes:
        size: Rule of one side.
    """

    size: AmountRule

    def wants(self, system: System) -> str:
        """Return every form of a footprint."""
        return f"{self.size.wants(system)}, a list of two sides, or {{ circle = ... }}"

    def read(self, value: object, system: System) -> PlanPoint:
        """Return the sides along x and y [m]."""
        if isinstance(value, list):
            along_x, along_y = self._two.read(value, system)
            return along_x, along_y
        side = self.size.read(value, system)
        return side, side

    def schema(self) -> dict[str, Any]:
        """Return both forms."""
        return {"anyOf": [self.size.schema(), self._two.schema()]}

    @property
    def _two(self) -> ListOf:
        return ListOf(self.size, 2, 2, "sides along x and y", ("x", "y"))


@dataclass(frozen=True, slots=True)
class OneOrMore(Rule):
    """One item, or a list of them.

    Attributes:
        item: Rule of one.
        most: Most items.
        what: Plural of what they are.
    """

    item: Rule
    most: int
    what: str

    def wants(self, system: System) -> str:
        """Return both forms."""
        return f"{self.item.wants(system)}, or a list of up to {self.most} {self.what}"

    def read(self, value: object, system: System) -> tuple[Any, ...]:
        """Return the items."""
        if self._is_one(value):
            return (self.item.read(value, system),)
        return ListOf(self.item, 1, self.most, self.what).read(value, system)

    def schema(self) -> dict[str, Any]:
        """Return both forms."""
        return {"anyOf": [self.item.schema(), ListOf(self.item, 1, self.most, self.what).schema()]}

    def _is_one(self, value: object) -> bool:
        """Return whether it is one item: of places, the one whose items are no lists."""
        if not isinstance(value, list):
            return True
        return isinstance(self.item, ListOf) and not any(isinstance(each, list) for each in value)


@dataclass(frozen=True, slots=True)
class Axis(Rule):
    """A direction in space, as three numbers of any length but nothing."""

    def wants(self, system: System) -> str:  # noqa: ARG002 - the same in both systems
        """Return what three numbers are wanted."""
        return "a list of three numbers that are not all 0, such as [1, 0, 0]"

    def read(self, value: object, system: System) -> Place:
        """Return the unit vector.

        Raises:
            RuleError: If it has no length.
        """
        x, y, z = ListOf(Number(-1e6, 1e6), 3, 3, "numbers", ("x", "y", "z")).read(value, system)
        length = hypot(x, y, z)
        if length < SHORTEST:
            raise RuleError(f"must be {self.wants(system)}")
        return x / length, y / length, z / length

    def schema(self) -> dict[str, Any]:
        """Return three numbers."""
        return {"type": "array", "items": {"type": "number"}, "minItems": 3, "maxItems": 3}


@dataclass(frozen=True, slots=True)
class ByName(Rule):
    """A table with one value for each name.

    Attributes:
        item: Rule of each value.
        most: Most names.
        what: Plural of what the values are.
    """

    item: Rule
    most: int
    what: str

    def wants(self, system: System) -> str:
        """Return an example, and what each value is."""
        return f"a table of {self.what} by name such as {{ G = 412 }}, each {self.item.wants(system)}"

    def read(self, value: object, system: System) -> tuple[tuple[str, Any], ...]:
        """Return (name, value) of each; an error names it.

        Raises:
            RuleError: If it breaks the rule.
        """
        if not isinstance(value, dict) or not 0 < len(value) <= self.most:
            raise self.refuse(value, system)
        return tuple((Words().read(name, system), self._read_item(name, each, system)) for name, each in value.items())

    def schema(self) -> dict[str, Any]:
        """Return an object of such values."""
        return {"type": "object", "additionalProperties": self.item.schema(), "minProperties": 1}

    def _read_item(self, name: str, value: object, system: System) -> object:
        try:
            return self.item.read(value, system)
        except (RuleError, QuantityError) as error:
            raise RuleError(f"{name} {error}") from None


class Inspections(Rule):
    """Days of inspection: one for every piece, or a table with one for each tag."""

    def wants(self, system: System) -> str:
        """Return both forms."""
        return f"{Day().wants(system)}, or a table with a date for each tag, such as {{ S1 = 2026-06-02 }}"

    def read(self, value: object, system: System) -> tuple[tuple[str, date], ...]:
        """Return (tag, day) of each; the tag "" stands for every piece."""
        if isinstance(value, dict) and 0 < len(value) <= MOST_TAGS:
            return tuple((Words().read(tag, system), Day().read(day, system)) for tag, day in value.items())
        if isinstance(value, dict):
            raise self.refuse(value, system)
        return (("", Day().read(value, system)),)

    def schema(self) -> dict[str, Any]:
        """Return both forms."""
        return {"anyOf": [Day().schema(), {"type": "object", "additionalProperties": Day().schema()}]}
