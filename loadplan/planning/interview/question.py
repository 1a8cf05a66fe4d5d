"""What a question is, and what answers to it may mean."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from enum import Enum
from typing import TypeAlias

from loadplan.model.vehicle import Place
from loadplan.units import System


class AnswerError(ValueError):
    """An answer that does not answer its question; its text says why, and what would."""


class Ask(Enum):
    """What a question asks for."""

    WORDS = "a line of words"
    CHOICE = "one of some words"
    SEVERAL = "some of some words, with commas between"
    YES_NO = "yes or no"
    WHOLE = "a whole number"
    DAYS = "a day, or a first and a last day"
    LENGTH = "a length"
    MASS = "a weight"
    WEIGHT = "a weight, and where it is from"
    LOAD = "a rating"
    MARK = "a rating, and whether it is for a pair or for each"
    SHARE = "a share in per cent"
    ALONG = "how far in front of or behind the front axle line"
    ACROSS = "how far left or right of the centre line"
    UP = "how far above or below the lift pads"
    SPAN = "two places along: from the one in front to the one behind"
    PLACE = "a place: along, across and up"
    BOX = "six edges: front to rear, left to right, top to bottom"
    SEAT = "what it is under, and a place: along, across and up"
    TIE = "mount or link, and its place"
    HEIGHTS = "saddle heights: from, to and step"
    FOOT = "a width, or two"
    OWNED = "how many, or their tags"
    SHIMS = "thicknesses, of what, and how many"
    PARTS = "names, each with its weight"
    USES = "what goes where"


@dataclass(frozen=True, slots=True)
class Edges:
    """The edges of a lump: the least and the greatest x, y, and z over the lift pads [m]."""

    low: Place
    high: Place


@dataclass(frozen=True, slots=True)
class Seat:
    """A place [m], z over the lift pads, and the lump that it is on, "" where not said."""

    lump: str
    place: Place


@dataclass(frozen=True, slots=True)
class Tie:
    """A mount or a link, "" where not said which, at a place [m]; a link's other end, None where not said."""

    kind: str
    place: Place
    to: Place | None


@dataclass(frozen=True, slots=True)
class Days:
    """A first day, and a last one where it was said."""

    first: date
    last: date | None


@dataclass(frozen=True, slots=True)
class Weight:
    """A mass with its plus or minus [kg]."""

    mass: float
    mass_pm: float


@dataclass(frozen=True, slots=True)
class Mark:
    """A rating [N], and whether it is for "pair" or "each", "" where not said."""

    rating: float
    rated_for: str


@dataclass(frozen=True, slots=True)
class HeightRange:
    """The lowest and the greatest saddle height, and the step, None where it has none [m]."""

    lowest: float
    highest: float
    step: float | None


@dataclass(frozen=True, slots=True)
class Foot:
    """A footprint, along and across [m]."""

    along: float
    across: float


@dataclass(frozen=True, slots=True)
class Owned:
    """How many there are, and their tags where they have some."""

    count: int
    tags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShimStock:
    """A kind of shim: its height [m], what it is of ("" for wood of any kind), how many, None where not said."""

    height: float
    of: str
    count: int | None


@dataclass(frozen=True, slots=True)
class NamedWeight:
    """Something that comes off; its mass [kg] is None for what was named before."""

    name: str
    mass: float | None


Value: TypeAlias = (
    str | bool | int | float | date | Place | tuple[float, float] | Edges | Seat | Tie | Days | Weight | Mark
    | HeightRange | Foot | Owned | tuple[ShimStock, ...] | tuple[NamedWeight, ...] | tuple[str, ...] | None
)  # fmt: skip
"""What an answer means, in SI; None where the thing is left open."""

Odd: TypeAlias = Callable[[Value, System], str]
"""Says what is odd about a value, nothing where it is not."""


def never_odd(_value: Value, _system: System) -> str:
    """Find nothing odd.

    Returns:
        Nothing.
    """
    return ""


@dataclass(frozen=True, slots=True)
class Question:
    """One question.

    Attributes:
        key: Under which its answer is kept.
        asks: The question.
        ask: What it asks for.
        hint: What to measure and where, with an example.
        default: What an empty answer means: "" leaves the thing open; None: it has to be answered.
        words: What may be chosen.
        least: Least value [SI].
        most: Greatest value [SI].
        odd: Says what is odd about a value that can be.
        group: What it is about; after each group the plan is drawn.
        tells: What has to be known before, told once.
        whole: What a share may be told as a part of [kg], 0 where only per cent will do.
        side: A word that may stand behind a length, since it has no other sense here; "" for none.
    """

    key: str
    asks: str
    ask: Ask
    hint: str = ""
    default: str | None = None
    words: tuple[str, ...] = ()
    least: float = -100.0
    most: float = 100.0
    odd: Odd = never_odd
    group: str = ""
    tells: str = ""
    whole: float = 0.0
    side: str = ""

    @property
    def example(self) -> str:
        """An answer as it is written, "" where the question has none."""
        in_quotes = re.search(r'such as "([^"]+)"', self.hint, re.IGNORECASE)
        found = in_quotes or re.search(r"such as (.+?)(?=[;:(]|\.(?:\s|$))", self.hint, re.IGNORECASE)
        return found[1].strip(" ,") if found else ""

    @property
    def is_listed(self) -> bool:
        """Whether what may be chosen is shown with numbers."""
        return bool(self.words) and self.ask in {Ask.CHOICE, Ask.SEVERAL, Ask.PARTS, Ask.USES}


Known: TypeAlias = Callable[[Question], Value]
"""What the answer to a question means, or its default where there is none yet."""
