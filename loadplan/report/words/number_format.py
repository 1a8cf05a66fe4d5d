"""Numbers in words: SI quantities written in the reader's units, rounded by one rule.

The rule: three significant figures, but never finer than 1 mm, 1 kg (0.1 kg below 10), 1 N, 1 degree (0.1 below 10),
1 %, 0.1 MPa; in US units 1/8 in (whatever the size: it is a tape), 1 lb (0.1 below 10), 1 lbf (0.1 below 10), 1 psi.
Lengths that somebody measures out with a tape are told to 5 mm. What is not nothing is never told as nothing
("under 1 mm"); less than a thousandth of the last place is nothing. In a caution or a stop a number stays on its
side of what it was held against: 49.6 mm against 50 mm reads 49 mm.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, floor, gcd, isclose, log10, radians
from types import MappingProxyType

from loadplan.model.job import Job
from loadplan.model.verdict import CheckName, Finding, Measure, Quantity, Sentence, Verdict
from loadplan.units import Kind, System, from_si

EIGHTH = 0.125
"""Finest mark that people read off a tape in inches [in]."""

ROUNDED = 1e-12
"""Two numbers that differ by less than this share of them are one, computed in two ways."""

READS = " reads "
"""What stands before a load that a scale read; the sum of several is rounded as any figure."""

NOISE = 1e-3
"""Share of the last place below which a number is rounding noise of the solver."""


def units_of(job: Job) -> System:
    """Return the units that a job file is written in.

    Args:
        job: The job.

    Returns:
        Its units.
    """
    return System.US if job.us_units else System.METRIC


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

    def round_up(self, value: float) -> float:
        """Return a value [SI] rounded to no less than it is, in the unit."""
        shown = value / self.size
        step = self._step(shown)
        return ceil(shown / step - NOISE) * step

    def round_down(self, value: float) -> float:
        """Return a value [SI] rounded to no more than it is, in the unit."""
        shown = value / self.size
        step = self._step(shown)
        return floor(shown / step + NOISE) * step

    def tell(self, shown: float) -> str:
        """Return a rounded number with its unit."""
        number = _eighths(shown) if self.finest == EIGHTH else _decimal(shown)
        return f"{number} {self.one if abs(shown) == 1 else self.many}"

    def _step(self, shown: float) -> float:
        if self.exact:
            return self.finest
        finest = self.finest if abs(shown) >= 10 else self.finest_small
        return max(finest, 10.0 ** (floor(log10(abs(shown))) - 2)) if shown else finest


def write(quantity: Quantity, units: System) -> str:
    """Write a quantity with its unit.

    Args:
        quantity: Value [SI] and what it measures.
        units: The reader's units.

    Returns:
        Number and unit.

    Example:
        >>> load = Quantity(1700.0, Measure.LOAD)
        >>> write(load, System.METRIC), write(load, System.US)
        ('173 kg', '382 lb')
        >>> length = Quantity(0.060, Measure.LENGTH)
        >>> write(length, System.METRIC), write(length, System.US)
        ('60 mm', '2 3/8 in')
    """
    ruler = ruler_of(quantity.measure, units)
    shown = ruler.round(quantity.value)
    return ruler.tell(shown) if shown else _tell_small(ruler, quantity.value) or ruler.tell(shown)


def write_beside(quantity: Quantity, limit: float, units: System) -> str:
    """Write a quantity so that the rounding does not carry it to or over its limit.

    Args:
        quantity: Value [SI] and what it measures.
        limit: What it was held against [SI].
        units: The reader's units.

    Returns:
        Number and unit.

    Example:
        >>> write_beside(Quantity(0.0496, Measure.LENGTH), 0.050, System.METRIC)
        '49 mm'
        >>> write_beside(Quantity(1.002, Measure.SHARE), 1.0, System.METRIC)
        '101 %'
    """
    ruler = ruler_of(quantity.measure, units)
    apart = ruler.round_apart(quantity.value, limit)
    if apart == ruler.round(quantity.value):
        return write(quantity, units)
    return ruler.tell(apart)


def write_read(newtons: float, units: System) -> str:
    """Write what a scale read, as it was read: a slip of the key shows, and paper says what the scale said.

    Args:
        newtons: What it read [N].
        units: The reader's units.

    Returns:
        Number and unit, to a tenth where it has one.

    Example:
        >>> write_read(22800.5, System.METRIC), write_read(1475.9, System.METRIC), write_read(1000.0, System.US)
        ('2325 kg', '150.5 kg', '224.8 lb')
    """
    ruler = ruler_of(Measure.LOAD, units)
    return ruler.tell(floor(newtons / ruler.size * 10 + 0.5) / 10)


def _as_read(finding: Finding, units: System) -> Sentence:
    """Return what a finding says, with what a scale read in words already: the plan's figures are rounded, not that."""
    says = finding.in_full
    if finding.check is not CheckName.READING:
        return says
    before = ("", *says)
    return tuple(
        write_read(piece.value, units)
        if isinstance(piece, Quantity) and isinstance(said, str) and said.endswith(READS)
        else piece
        for said, piece in zip(before, says, strict=False)
    )


def write_window(least: float, most: float, units: System) -> tuple[str, str]:
    """Write the ends of a range of lengths so that both are inside it.

    Args:
        least: Least length [m].
        most: Most length [m].
        units: The reader's units; millimetres where no mark of a tape in inches is inside.

    Returns:
        Both ends.

    Example:
        >>> write_window(0.0074, 0.0126, System.METRIC), write_window(0.0074, 0.0126, System.US)
        (('8 mm', '12 mm'), ('3/8 in', '3/8 in'))
        >>> write_window(0.0100, 0.0120, System.US)
        ('10 mm', '12 mm')
    """
    ruler = ruler_of(Measure.LENGTH, units)
    low, high = ruler.round_up(least), ruler.round_down(most)
    if low > high and units is System.US:
        return write_window(least, most, System.METRIC)
    return (ruler.tell(low), ruler.tell(high)) if low <= high else (ruler.tell(high), ruler.tell(low))


def write_tape(length: float, units: System) -> str:
    """Write a length that somebody measures out: to 5 mm, or to 1/8 in.

    Args:
        length: Length [m].
        units: The reader's units.

    Returns:
        Number and unit.

    Example:
        >>> write_tape(0.3312, System.METRIC), write_tape(0.3312, System.US)
        ('330 mm', '13 in')
    """
    match units:
        case System.METRIC:
            return f"{floor(length / 0.005 + 0.5) * 5} mm"
        case System.US:
            ruler = ruler_of(Measure.LENGTH, units)
            return ruler.tell(ruler.round(length))


def write_sentence(says: Sentence, units: System) -> str:
    """Write a sentence with its quantities.

    Args:
        says: Words and quantities.
        units: The reader's units.

    Returns:
        The sentence.
    """
    return "".join(piece if isinstance(piece, str) else write(piece, units) for piece in said_once(says, units))


def said_once(says: Sentence, units: System) -> Sentence:
    """Leave out a load in brackets behind the force that it tells once more, where both read alike: 24 lbf and 24 lb.

    Args:
        says: Words and quantities.
        units: The reader's units.

    Returns:
        The sentence.

    Example:
        >>> pull = (Quantity(100.0, Measure.FORCE), " (", Quantity(100.0, Measure.LOAD), ") more")
        >>> write_sentence(pull, System.METRIC), write_sentence(pull, System.US)
        ('100 N (10 kg) more', '22 lbf more')
    """
    if units is System.METRIC:
        return says
    kept = list(says)
    for place in range(len(kept) - 3, 0, -1):
        before, opening, load, closing = kept[place - 1 : place + 3]
        if _is_again(before, load) and opening == " (" and isinstance(closing, str) and closing.startswith(")"):
            kept[place : place + 3] = [closing[1:]]
    return tuple(kept)


def _is_again(force: str | Quantity, load: str | Quantity) -> bool:
    """Return whether a load is the force before it, told as mass."""
    return (
        isinstance(force, Quantity)
        and isinstance(load, Quantity)
        and (force.measure, load.measure, load.value) == (Measure.FORCE, Measure.LOAD, force.value)
    )


def write_finding(finding: Finding, units: System) -> str:
    """Write what a finding says; in a caution or a stop every number stays on its side of its limit.

    Args:
        finding: The finding.
        units: The reader's units.

    Returns:
        The sentence.
    """
    read = _as_read(finding, units)
    if finding.verdict not in {Verdict.CAUTION, Verdict.STOP}:
        return write_sentence(read, units)
    says = said_once(read, units)
    return "".join(piece if isinstance(piece, str) else _write_apart(piece, finding, units) for piece in says)


def _write_apart(quantity: Quantity, finding: Finding, units: System) -> str:
    """Return a quantity in words that keep it apart from what it was held against."""
    if quantity.value == finding.value and finding.limit is not None and quantity.measure is finding.measure:
        return write_beside(quantity, finding.limit, units)
    ruler = ruler_of(quantity.measure, units)
    said = (other for other in finding.in_full if isinstance(other, Quantity))
    others = [other for other in said if other.measure is quantity.measure]
    round_ones = [other.value for other in others if _is_round(ruler, other.value)]
    # What differs by the rounding of a computation alone (a load, and the most that it comes to) is one number.
    limits = [value for value in round_ones if not isclose(value, quantity.value, rel_tol=ROUNDED)]
    alike = [limit for limit in limits if ruler.round(limit) == ruler.round(quantity.value)]
    return write_beside(quantity, alike[0], units) if alike else write(quantity, units)


def _is_round(ruler: Ruler, value: float) -> bool:
    """Return whether a number is told exactly, as limits and ratings are and what was found is not."""
    return bool(value) and isclose(ruler.round(value), value / ruler.size, rel_tol=1e-9)


def ruler_of(measure: Measure, units: System) -> Ruler:
    """Return how a measure is read.

    Args:
        measure: What a number measures.
        units: The reader's units.

    Returns:
        Unit, its size, and how finely it is told.
    """
    match units:
        case System.METRIC:
            return METRIC[measure]
        case System.US:
            return US[measure]


def _size(kind: Kind, system: System) -> float:
    """Return the size in SI of the unit in which a reader reads that kind."""
    return 1 / from_si(1.0, kind, system)


EITHER: Mapping[Measure, Ruler] = MappingProxyType({
    Measure.ANGLE: Ruler("degree", "degrees", radians(1), 1, 0.1, exact=False),
    Measure.SHARE: Ruler("%", "%", 0.01, 1, 1, exact=False),
    Measure.COUNT: Ruler("piece", "pieces", 1.0, 1, 1, exact=True),
    Measure.DAYS: Ruler("day", "days", 1.0, 1, 1, exact=True),
})
"""What reads the same in both systems."""

METRIC: Mapping[Measure, Ruler] = MappingProxyType({
    **EITHER,
    Measure.LENGTH: Ruler("mm", "mm", _size(Kind.LENGTH, System.METRIC), 1, 1, exact=False),
    Measure.LOAD: Ruler("kg", "kg", _size(Kind.LOAD, System.METRIC), 1, 0.1, exact=False),
    Measure.MASS: Ruler("kg", "kg", _size(Kind.MASS, System.METRIC), 1, 0.1, exact=False),
    Measure.FORCE: Ruler("N", "N", _size(Kind.FORCE, System.METRIC), 1, 1, exact=False),
    Measure.STRESS: Ruler("MPa", "MPa", _size(Kind.STRESS, System.METRIC), 0.1, 0.1, exact=False),
})
"""How a metric reader reads each measure."""

US: Mapping[Measure, Ruler] = MappingProxyType({
    **EITHER,
    Measure.LENGTH: Ruler("in", "in", _size(Kind.LENGTH, System.US), EIGHTH, EIGHTH, exact=True),
    Measure.LOAD: Ruler("lb", "lb", _size(Kind.LOAD, System.US), 1, 0.1, exact=False),
    Measure.MASS: Ruler("lb", "lb", _size(Kind.MASS, System.US), 1, 0.1, exact=False),
    Measure.FORCE: Ruler("lbf", "lbf", _size(Kind.FORCE, System.US), 1, 0.1, exact=False),
    Measure.STRESS: Ruler("psi", "psi", _size(Kind.STRESS, System.US), 1, 1, exact=False),
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
    """Return a number to a tenth, without a zero behind the point, and never "-0"."""
    text = f"{shown:.1f}"
    text = text.removesuffix(".0")
    return "0" if text == "-0" else text


def _eighths(shown: float) -> str:
    """Return a number in whole ones and eighths, the fraction in lowest terms; never "-0"."""
    whole, eighths = divmod(round(abs(shown) * 8), 8)
    sign = "-" if shown < 0 and whole + eighths else ""
    if not eighths:
        return f"{sign}{whole}"
    shared = gcd(eighths, 8)
    fraction = f"{eighths // shared}/{8 // shared}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"
