"""Readings of scales, and what a unit weighs by them."""

from dataclasses import dataclass
from enum import Enum
from math import radians

from loadplan.model.vehicle import Place

COVERAGE = 2.0
"""Expanded uncertainty is this many standard deviations: about 95 % (JCGM 100, 6.3.3)."""

TILT_PM = radians(0.1)
"""Plus or minus on a tilt of which nobody says it: a digital level; common practice, no source."""

ACROSS_PM = radians(0.2)
"""Plus or minus on the tilt that a tilted set does not give: it is held level by eye; common practice, no source."""


class Held(Enum):
    """How a unit is held while it is weighed."""

    STANDS = "stands on its places"
    HANGS = "hangs from one place, its attitude known: the centre of gravity lies under it"
    HANGS_ASKEW = "hangs from one place, its attitude not known: only its weight counts"


@dataclass(frozen=True, slots=True)
class ScalePlace:
    """One place that holds the unit.

    Attributes:
        at: Where it touches, in the unit's own axes [m]; z is 0 where a level set leaves it out.
        load: Reading [kg]; None where it is not weighed.
        pm: Plus or minus on the reading, expanded (k = 2) [kg].
    """

    at: Place
    load: float | None
    pm: float


@dataclass(frozen=True, slots=True)
class ReadingSet:
    """Readings taken at one attitude, with every place that holds the unit.

    Attributes:
        held: How the unit is held.
        places: At least one; hanging: exactly one.
        nose_up: Tilt, front up [rad].
        left_up: Tilt, left side up [rad].
        nose_up_pm: Plus or minus on it, expanded (k = 2) [rad].
        left_up_pm: Plus or minus on it, expanded (k = 2) [rad].
        tape: Plus or minus on each coordinate of its places, expanded (k = 2) [m]. A place that stands in several
            sets was measured once.
    """

    held: Held
    places: tuple[ScalePlace, ...]
    nose_up: float = 0.0
    left_up: float = 0.0
    nose_up_pm: float = 0.0
    left_up_pm: float = 0.0
    tape: float = 0.0


@dataclass(frozen=True, slots=True)
class Readings:
    """A file of readings.

    Attributes:
        title: Title.
        sets: In the file's order.
        tape: Plus or minus on each coordinate of the places, expanded (k = 2) [m].
        us_units: True where the file is written in US units.
        assumed: One sentence for each value that the file left out and that was assumed.
    """

    title: str
    sets: tuple[ReadingSet, ...]
    tape: float
    us_units: bool
    assumed: tuple[str, ...]


class MeasuredAmount(Enum):
    """What weighing finds."""

    MASS = "mass"
    X = "x"
    Y = "y"
    Z = "z"


COORDINATES = (MeasuredAmount.X, MeasuredAmount.Y, MeasuredAmount.Z)
"""Those of the centre of gravity."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with its uncertainty [kg or m].

    Attributes:
        value: Most likely value.
        pm: Plus or minus, expanded (k = 2): about 95 % of repeated weighings would enclose the truth.
    """

    value: float
    pm: float


class UnknownKind(Enum):
    """What was read."""

    LOAD = "the load at a place"
    NOSE_UP = "the tilt, front up"
    LEFT_UP = "the tilt, left side up"
    HOOK = "where the hook holds"
    TAPE = "where the places are"


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading.

    Attributes:
        kind: What was read.
        of_set: Number of its set, from 0.
        place: Number of its place in the set, from 0.
    """

    kind: UnknownKind
    of_set: int
    place: int


class Further(Enum):
    """A further reading that could be taken."""

    SCALE = "one more scale, at a place that is not weighed"
    NOSE_UP = "the same, front raised"
    LEFT_UP = "the same, left side raised"
    HOOK = "hung level from a hook"


@dataclass(frozen=True, slots=True)
class Advice:
    """The further reading that would cut the largest uncertainty most.

    Attributes:
        further: What to read.
        of_set: Number of the set that it repeats or adds to, from 0.
        place: Number of the place to weigh, from 0; 0 where none is meant.
        amount: What is least certain.
        now: Its uncertainty now, expanded [kg or m]; None where it is not known at all.
        then: Its uncertainty with that reading.
    """

    further: Further
    of_set: int
    place: int
    amount: MeasuredAmount
    now: float | None
    then: float


@dataclass(frozen=True, slots=True)
class Weighing:
    """What the readings come to.

    Attributes:
        mass: Mass [kg]; None where the readings do not determine it.
        cg: Centre of gravity along x, y, z [m]; None where the readings do not determine it.
        consistent: Whether the readings agree inside their tolerances (chi-squared at 95 %); None where none is to
            spare.
        suspects: Where they do not agree: the reading that fits worst, several where they cannot be told apart.
        taken: Coordinates known only because all places stand in one line: taken from where they stand, not measured.
        pulling: Places that would have to pull the unit down for the readings to be right.
        advice: None where no further reading would help much.
    """

    mass: Estimate | None
    cg: tuple[Estimate | None, Estimate | None, Estimate | None]
    consistent: bool | None
    suspects: tuple[Reading, ...]
    taken: tuple[MeasuredAmount, ...]
    pulling: tuple[Reading, ...]
    advice: Advice | None

    @property
    def height(self) -> Estimate | None:
        """Height of the centre of gravity [m]; None where it was not measured."""
        return None if MeasuredAmount.Z in self.taken else self.cg[2]
