"""Rules for single values and for lists of them."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import Enum
from typing import Any

from loadplan.files.fault_wording import choice, nearest, shown
from loadplan.files.rule import Rule, RuleError
from loadplan.units import Kind, QuantityError, System, bare_unit, from_si, named, to_si, wanted


@dataclass(frozen=True, slots=True)
class AmountRule(Rule):
    """A quantity with its unit, read into SI.

    Attributes:
        kind: What it is.
        least: Least value [SI].
        most: Greatest value [SI].
        above: True where it must be greater than `least`, not equal to it.
    """

    kind: Kind
    least: float
    most: float
    above: bool = False

    def wants(self, system: System) -> str:
        """Return which quantity, and its range in the file's units."""
        return f"{wanted(self.kind, system)}, {self._range(system)}"

    def read(self, value: object, system: System) -> float:
        """Return a number, or a text with a unit, in SI.

        Raises:
            RuleError: If it breaks the rule.
        """
        si = to_si(value, self.kind, system)
        if si > self.most or si < self.least or (self.above and si == self.least):
            raise RuleError(f"must be {named(self.kind)} {self._range(system)}, is {shown(value)}")
        return si

    def schema(self) -> dict[str, Any]:
        """Return a number or a text."""
        return {"type": ["number", "string"], "description": f"{self.kind.value}: bare, or a text with its unit"}

    def _range(self, system: System) -> str:
        unit = bare_unit(self.kind, system).removeprefix("1")
        most = f"{from_si(self.most, self.kind, system):.6g} {unit}".strip()
        least = f"{from_si(self.least, self.kind, system):.6g}"
        return f"greater than {least}, at most {most}" if self.above else f"from {least} to {most}"


@dataclass(frozen=True, slots=True)
class Words(Rule):
    """A text on one line.

    Attributes:
        longest: Most characters.
        shortest: Fewest characters.
    """

    longest: int = 100
    shortest: int = 1

    def wants(self, system: System) -> str:  # noqa: ARG002 - the same in both systems
        """Return how long it may be."""
        return f"a text in quotes of {self.shortest} to {self.longest} characters"

    def read(self, value: object, system: System) -> str:
        """Return a text without control characters; spaces around it go.

        Raises:
            RuleError: If it breaks the rule.
        """
        if not isinstance(value, str) or not self.shortest <= len(value.strip()) <= self.longest:
            raise self.refuse(value, system)
        if not value.isprintable():
            raise RuleError(f"must be one line without control characters, is {shown(value)}")
        return value.strip()

    def schema(self) -> dict[str, Any]:
        """Return a text."""
        return {"type": "string", "minLength": self.shortest, "maxLength": self.longest}


@dataclass(frozen=True, slots=True)
class Choice(Rule):
    """One of a few words, read as a member of an enum.

    Attributes:
        words: (word, what it means) of each.
    """

    words: tuple[tuple[str, Enum], ...]

    def wants(self, system: System) -> str:  # noqa: ARG002 - the same in both systems
        """Return the words."""
        return choice([word for word, _ in self.words])

    def read(self, value: object, system: System) -> Enum:
        """Return the word's meaning.

        Raises:
            RuleError: If it breaks the rule.
        """
        for word, meaning in self.words:
            if value == word:
                return meaning
        raise RuleError(f"{self.refuse(value, system)}{nearest(value, [word for word, _ in self.words])}")

    def schema(self) -> dict[str, Any]:
        """Return the words."""
        return {"enum": [word for word, _ in self.words]}


@dataclass(frozen=True, slots=True)
class OneOf(Rule):
    """One of a few words, kept as it is.

    Attributes:
        words: The words.
    """

    words: tuple[str, ...]

    def wants(self, system: System) -> str:  # noqa: ARG002 - the same in both systems
        """Return the words."""
        return choice(list(self.words))

    def read(self, value: object, system: System) -> str:
        """Return the word.

        Raises:
            RuleError: If it is none of them.
        """
        if isinstance(value, str) and value in self.words:
            return value
        raise RuleError(f"{self.refuse(value, system)}{nearest(value, list(self.words))}")

    def schema(self) -> dict[str, Any]:
        """Return the words."""
        return {"enum": list(self.words)}


@dataclass(frozen=True, slots=True)
class Flag(Rule):
    """Yes or no."""

    def wants(self, system: System) -> str:  # noqa: ARG002 - the same in both systems
        """Return both."""
        return "true or false, without quotes"

    def read(self, value: object, system: System) -> bool:
        """Return true or false."""
        if not isinstance(value, bool):
            raise self.refuse(value, system)
        return value

    def schema(self) -> dict[str, Any]:
        """Return its JSON type."""
        return {"type": "boolean"}


@dataclass(frozen=True, slots=True)
class WholeNumber(Rule):
    """A whole number.

    Attributes:
        least: Least value.
        most: Greatest value.
    """

    least: int
    most: int

    def wants(self, system: System) -> str:  # noqa: ARG002 - the same in both systems
        """Return its range."""
        return f"a whole number from {self.least} to {self.most}"

    def read(self, value: object, system: System) -> int:
        """Return a whole number."""
        if isinstance(value, bool) or not isinstance(value, int) or not self.least <= value <= self.most:
            raise self.refuse(value, system)
        return value

    def schema(self) -> dict[str, Any]:
        """Return its JSON type."""
        return {"type": "integer", "minimum": self.least, "maximum": self.most}


@dataclass(frozen=True, slots=True)
class Number(Rule):
    """A number without a unit.

    Attributes:
        least: Least value.
        most: Greatest value.
    """

    least: float
    most: float

    def wants(self, system: System) -> str:  # noqa: ARG002 - the same in both systems
        """Return its range."""
        return f"a number from {self.least:g} to {self.most:g}"

    def read(self, value: object, system: System) -> float:
        """Return a finite number."""
        if isinstance(value, bool) or not isinstance(value, int | float) or not self.least <= value <= self.most:
            raise self.refuse(value, system)
        return float(value)

    def schema(self) -> dict[str, Any]:
        """Return its JSON type."""
        return {"type": "number", "minimum": self.least, "maximum": self.most}


@dataclass(frozen=True, slots=True)
class Day(Rule):
    """A date."""

    def wants(self, system: System) -> str:  # noqa: ARG002 - the same in both systems
        """Return one."""
        return "a date such as 2026-11-20"

    def read(self, value: object, system: System) -> date:
        """Return a TOML date, or one in quotes."""
        if isinstance(value, date) and not isinstance(value, datetime):
            return value
        if isinstance(value, str) and len(value) == len("2026-11-20"):
            try:
                return date.fromisoformat(value)
            except ValueError:
                raise self.refuse(value, system) from None
        raise self.refuse(value, system)

    def schema(self) -> dict[str, Any]:
        """Return its JSON type."""
        return {"type": "string", "format": "date"}


@dataclass(frozen=True, slots=True)
class DateAndTime(Rule):
    """A date and time with its time zone."""

    def wants(self, system: System) -> str:  # noqa: ARG002 - the same in both systems
        """Return one."""
        return "a date and time with its zone such as 2026-11-20T14:05:00+01:00"

    def read(self, value: object, system: System) -> datetime:
        """Return a TOML date and time.

        Raises:
            RuleError: If it is none, or says no zone.
        """
        if isinstance(value, datetime) and value.tzinfo is not None:
            return value
        raise self.refuse(value, system)

    def schema(self) -> dict[str, Any]:
        """Return its JSON type."""
        return {"type": "string", "format": "date-time"}


@dataclass(frozen=True, slots=True)
class ListOf(Rule):
    """A list whose items follow one rule.

    Attributes:
        item: Rule of each.
        fewest: Fewest items.
        most: Most items.
        what: Plural of what the items are.
        names: What an error calls each, where they are not just numbered.
    """

    item: Rule
    fewest: int
    most: int
    what: str
    names: tuple[str, ...] = ()

    def wants(self, system: System) -> str:  # noqa: ARG002 - the same in both systems
        """Return how many of what."""
        count = str(self.fewest) if self.fewest == self.most else f"{self.fewest} to {self.most}"
        return f"a list of {count} {self.what} in square brackets"

    def read(self, value: object, system: System) -> tuple[Any, ...]:
        """Return every item; an error names the item.

        Raises:
            RuleError: If it breaks the rule.
        """
        if not isinstance(value, list):
            raise self.refuse(value, system)
        if not self.fewest <= len(value) <= self.most:
            raise RuleError(f"must be {self.wants(system)}; has {len(value)}")
        return tuple(self._read_item(number, each, system) for number, each in enumerate(value))

    def schema(self) -> dict[str, Any]:
        """Return its items and their number."""
        return {"type": "array", "items": self.item.schema(), "minItems": self.fewest, "maxItems": self.most}

    def _read_item(self, number: int, value: object, system: System) -> object:
        try:
            return self.item.read(value, system)
        except (RuleError, QuantityError) as error:
            name = self.names[number] if self.names else f"item {number + 1}"
            raise RuleError(f"{name} {error}") from None
