"""Numbers in words: SI quantities written in the reader's units, rounded by one rule.

The rule: three significant figures, but never finer than 1 mm, 1 kg (0.1 kg below 10), 1 N, 0.1 degree,
1 %, 0.1 N/mm²; in US units 1/8 in (whatever the size: it is a tape), 1 lb (0.1 below 10), 1 lbf (0.1 below 10),
1 psi. Lengths that somebody measures out with a tape are told to 5 mm. What is not nothing is never told as
nothing ("under 1 mm"); less than a thousandth of the last place is nothing. In a caution or a stop the number
found stays on its side of its limit: 49.6 mm against 50 mm reads 49 mm.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from math import ceil, floor, gcd, log10, radians
from types import MappingProxyType

from loadplan.limits import GRAVITY
from loadplan.model.job import Job
from loadplan.model.verdict import Finding, Measure, Quantity, Sentence, Verdict

INCH = 0.0254
"""Inch [m] (international yard and pound agreement, 1959)."""

POUND = 0.45359237
"""Pound [kg] (international yard and pound agreement, 1959)."""

EIGHTH = 0.125
"""Finest mark that people read off a tape in inches [in]."""

NOISE = 1e-3
"""Share of the last place below which a number is rounding noise of the solver."""


class Units(Enum):
    """The reader's units."""

    METRIC = "metric"
    US = "us"


def units_of(job: Job) -> Units:
    """Return the units that a job file is written in.

    Args:
        job: The job.

    Returns:
        Its units.
    """
    return Units.US if job.us_units else Units.METRIC


@dataclass(frozen=True, slots=True)
class Ruler:
    """How one measure is read in one system of units.

    Attributes:
        one: Word behind the number 1.
        many: Word behind any other number.
        size: Size of the unit in SI.
        finest: Finest step told.
        finest_small: Finest step told below 10.
        exact: True where it is told to the finest step whatever its size: counts, and eighths on a tape.
    """

    one: str
    many: str
    size: float
    finest: float
    finest_small: float
    exact: bool

    def round(self, value: float) -> float:
        """Return a value [SI] rounded to what is told of it, in the unit."""
        shown = value / self.size
        step = self._step(shown)
        return floor(shown / step + 0.5) * step

    def round_apart(self, value: float, limit: float) -> float:
        """Return a value [SI] rounded so that it stays on its side of a limit [SI], in the unit."""
        shown, bound = self.round(value), self.round(limit)
        exact = value / self.size
        step = self._step(exact)
        if value < limit and shown >= bound:
            return min(floor(exact / step), ceil(bound / step - NOISE) - 1) * step
        if value > limit and shown <= bound:
            return max(ceil(exact / step), floor(bound / step + NOISE) + 1) * step
        return shown

    def tell(self, shown: float) -> str:
        """Return a rounded number with its unit."""
        number = _eighths(shown) if self.finest == EIGHTH else _decimal(shown)
        return f"{number} {self.one if abs(shown) == 1 else self.many}"

    def _step(self, shown: float) -> float:
        if self.exact:
            return self.finest
        finest = self.finest if abs(shown) >= 10 else self.finest_small
        return max(finest, 10.0 ** (floor(log10(abs(shown))) - 2)) if shown else finest


def write(quantity: Quantity, units: Units) -> str:
    """Write a quantity with its unit.

    Args:
        quantity: Value [SI] and what it measures.
        units: The reader's units.

    Returns:
        Number and unit.

    Example:
        >>> load = Quantity(1700.0, Measure.LOAD)
        >>> write(load, Units.METRIC), write(load, Units.US)
        ('173 kg', '382 lb')
        >>> length = Quantity(0.060, Measure.LENGTH)
        >>> write(length, Units.METRIC), write(length, Units.US)
        ('60 mm', '2 3/8 in')
    """
    ruler = ruler_of(quantity.measure, units)
    return _tell_small(ruler, quantity.value) or ruler.tell(ruler.round(quantity.value))


def write_beside(quantity: Quantity, limit: float, units: Units) -> str:
    """Write a quantity so that the rounding does not carry it to or over its limit.

    Args:
        quantity: Value [SI] and what it measures.
        limit: What it was held against [SI].
        units: The reader's units.

    Returns:
        Number and unit.

    Example:
        >>> write_beside(Quantity(0.0496, Measure.LENGTH), 0.050, Units.METRIC)
        '49 mm'
        >>> write_beside(Quantity(1.002, Measure.SHARE), 1.0, Units.METRIC)
        '101 %'
    """
    ruler = ruler_of(quantity.measure, units)
    apart = ruler.round_apart(quantity.value, limit)
    if apart == ruler.round(quantity.value):
        return write(quantity, units)
    return ruler.tell(apart)


def write_tape(length: float, units: Units) -> str:
    """Write a length that somebody measures out: to 5 mm, or to 1/8 in.

    Args:
        length: Length [m].
        units: The reader's units.

    Returns:
        Number and unit.

    Example:
        >>> write_tape(0.3312, Units.METRIC), write_tape(0.3312, Units.US)
        ('330 mm', '13 in')
    """
    match units:
        case Units.METRIC:
            return f"{floor(length / 0.005 + 0.5) * 5} mm"
        case Units.US:
            ruler = ruler_of(Measure.LENGTH, units)
            return ruler.tell(ruler.round(length))


def write_sentence(says: Sentence, units: Units) -> str:
    """Write a sentence with its quantities.

    Args:
        says: Words and quantities.
        units: The reader's units.

    Returns:
        The sentence.
    """
    return "".join(piece if isinstance(piece, str) else write(piece, units) for piece in says)


def write_finding(finding: Finding, units: Units) -> str:
    """Write what a finding says; a caution's or stop's number stays on its side of the limit.

    Args:
        finding: The finding.
        units: The reader's units.

    Returns:
        The sentence.
    """
    judged = finding.verdict in {Verdict.CAUTION, Verdict.STOP}
    found = Quantity(finding.value, finding.measure) if judged and finding.value is not None else None
    if found is None or finding.limit is None:
        return write_sentence(finding.says, units)
    beside = write_beside(found, finding.limit, units)
    return "".join(beside if piece == found else write_sentence((piece,), units) for piece in finding.says)


def ruler_of(measure: Measure, units: Units) -> Ruler:
    """Return how a measure is read.

    Args:
        measure: What a number measures.
        units: The reader's units.

    Returns:
        Unit, its size, and how finely it is told.
    """
    match units:
        case Units.METRIC:
            return METRIC[measure]
        case Units.US:
            return US[measure]


EITHER: Mapping[Measure, Ruler] = MappingProxyType({
    Measure.ANGLE: Ruler("degree", "degrees", radians(1), 0.1, 0.1, exact=False),
    Measure.SHARE: Ruler("%", "%", 0.01, 1, 1, exact=False),
    Measure.COUNT: Ruler("piece", "pieces", 1.0, 1, 1, exact=True),
    Measure.DAYS: Ruler("day", "days", 1.0, 1, 1, exact=True),
})
"""What reads the same in both systems."""

METRIC: Mapping[Measure, Ruler] = MappingProxyType({
    **EITHER,
    Measure.LENGTH: Ruler("mm", "mm", 1e-3, 1, 1, exact=False),
    Measure.LOAD: Ruler("kg", "kg", GRAVITY, 1, 0.1, exact=False),
    Measure.MASS: Ruler("kg", "kg", 1.0, 1, 0.1, exact=False),
    Measure.FORCE: Ruler("N", "N", 1.0, 1, 1, exact=False),
    Measure.STRESS: Ruler("N/mm²", "N/mm²", 1e6, 0.1, 0.1, exact=False),
})
"""How a metric reader reads each measure."""

US: Mapping[Measure, Ruler] = MappingProxyType({
    **EITHER,
    Measure.LENGTH: Ruler("in", "in", INCH, EIGHTH, EIGHTH, exact=True),
    Measure.LOAD: Ruler("lb", "lb", POUND * GRAVITY, 1, 0.1, exact=False),
    Measure.MASS: Ruler("lb", "lb", POUND, 1, 0.1, exact=False),
    Measure.FORCE: Ruler("lbf", "lbf", POUND * GRAVITY, 1, 0.1, exact=False),
    Measure.STRESS: Ruler("psi", "psi", POUND * GRAVITY / INCH**2, 1, 1, exact=False),
})
"""How an American reader reads each measure."""


def _tell_small(ruler: Ruler, value: float) -> str:
    """Return words for a number that would round to nothing and is not; "" for any other."""
    shown = value / ruler.size
    step = ruler.finest_small
    if ruler.round(value) or abs(shown) < step * NOISE:
        return ""
    return f"under {ruler.tell(step)}" if shown > 0 else ruler.tell(-step)


def _decimal(shown: float) -> str:
    text = f"{shown:.1f}"
    text = text.removesuffix(".0")
    return "0" if text == "-0" else text


def _eighths(shown: float) -> str:
    whole, eighths = divmod(round(abs(shown) * 8), 8)
    sign = "-" if shown < 0 and whole + eighths else ""
    if not eighths:
        return f"{sign}{whole}"
    shared = gcd(eighths, 8)
    fraction = f"{eighths // shared}/{8 // shared}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"
