"""What was weighed, for people and for machines."""

from collections.abc import Mapping, Sequence
from math import degrees
from types import MappingProxyType
from typing import assert_never

from loadplan.checks.phrases import names
from loadplan.model.readings import (
    COORDINATES,
    Advice,
    Estimate,
    Further,
    MeasuredAmount,
    Reading,
    Readings,
    UnknownKind,
    Weighing,
)
from loadplan.model.vehicle import Basis, Weighed
from loadplan.model.verdict import Measure, Quantity
from loadplan.report.json_output import MM, Plain
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import WIDTH, Align, Column, indented, table, wrap
from loadplan.report.words.number_format import ruler_of, write
from loadplan.report.words.vocabulary import Reader
from loadplan.statics.next_reading import RAISED
from loadplan.units import System

NAMES: Mapping[MeasuredAmount, str] = MappingProxyType({
    MeasuredAmount.MASS: "weight",
    MeasuredAmount.X: "centre of gravity, front or back",
    MeasuredAmount.Y: "centre of gravity, left or right",
    MeasuredAmount.Z: "height of the centre of gravity",
})
"""What people call what is weighed."""

UNKNOWN = "these readings do not tell"

SHARED = (
    "Weighed as one unit: each assembly has its share by how uncertain the file was of it, and together they are what "
    "was weighed."
)

OWN_HEIGHT = "The height was not weighed: what the file said of it stays, with what it may be off."


def weighing_dict(weighing: Weighing) -> dict[str, Plain]:
    """Turn what was weighed into the machine output.

    Args:
        weighing: What was weighed.

    Returns:
        An object of kg and mm; null for what the readings do not determine, and for every plus or minus where they
        contradict each other.
    """
    mass, x, y, z = (
        _plain(each, unit, told=weighing.consistent is not False)
        for each, unit in zip((weighing.mass, *weighing.cg), (1.0, MM, MM, MM), strict=True)
    )
    return {
        "schema": "loadplan-weighing-1",
        "mass_kg": mass,
        "cg_mm": {"x": x, "y": y, "z": z},
        "consistent": weighing.consistent,
    }


def weighing_page(
    readings: Readings, weighing: Weighing, units: System, shares: Sequence[tuple[str, Weighed]] = ()
) -> str:
    """Write what was weighed for people.

    Args:
        readings: The readings.
        weighing: What they come to.
        units: The reader's units.
        shares: (assembly, what it was written down as) where it was written.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    reader = Reader(units, frozenset())
    told = [_agreement(weighing), *_doubts(weighing), _how_sure(readings, weighing, reader)]
    if weighing.advice and weighing.consistent is not False:
        told.append(_advice(weighing.advice, reader))
    lines = [*wrap(reader.words(readings.title), WIDTH), "", *table(_columns(weighing, reader), WIDTH), ""]
    lines += [line for text in told for line in wrap(reader.words(text), WIDTH)]
    lines += _shared(shares, weighing, reader)
    if readings.assumed:
        lines += ["", "Assumed:"]
        lines += [line for text in readings.assumed for line in indented("  - ", reader.words(text), WIDTH)]
    lines += caution_lines(Basis.WEIGHED, units)
    return "\n".join(lines) + "\n"


def _plain(estimate: Estimate | None, unit: float, *, told: bool) -> Plain:
    """Return an estimate in a unit; without its plus or minus where that is not told."""
    if estimate is None:
        return None
    return {"value": estimate.value / unit, "pm": estimate.pm / unit if told else None}


def _how_sure(readings: Readings, weighing: Weighing, reader: Reader) -> str:
    """Return what plus or minus means, or why there is none."""
    if weighing.consistent is False:
        return "No plus or minus is told: what contradicts itself is sure of nothing."
    return (
        "Plus or minus encloses the truth in nineteen of twenty weighings like this, with every place within "
        f"{reader.length(readings.tape)} of where the file has it (tape)."
    )


def _shared(shares: Sequence[tuple[str, Weighed]], weighing: Weighing, reader: Reader) -> list[str]:
    """Return what each assembly was written down as."""
    if not shares:
        return []
    told = (
        Column("written as weighed", tuple(reader.words(name) for name, _ in shares), Align.LEFT),
        Column("weight", tuple(reader.mass(each.mass) for _, each in shares), Align.RIGHT),
        Column(
            "+/-", tuple(spread_words(MeasuredAmount.MASS, each.mass_pm, reader) for _, each in shares), Align.RIGHT
        ),
        *(
            Column(word, tuple(_either(each, axis, reader) for _, each in shares), Align.RIGHT)
            for axis, word in enumerate(("front +, back -", "left +, right -", "height"))
        ),
    )
    lines = ["", *table(told, WIDTH), ""]
    if len(shares) > 1:
        lines += wrap(SHARED, WIDTH)
    return lines if weighing.height else [*lines, *wrap(reader.words(OWN_HEIGHT), WIDTH)]


def _either(share: Weighed, axis: int, reader: Reader) -> str:
    """Return one coordinate with its plus or minus."""
    sign = "-" if share.cg[axis] < 0 else ""
    return (
        f"{sign}{reader.length(abs(share.cg[axis]))} +/- {spread_words(COORDINATES[axis], share.cg_pm[axis], reader)}"
    )


def _columns(weighing: Weighing, reader: Reader) -> tuple[Column, ...]:
    """Return what was found as columns: most likely value, and how far off it may be."""
    found = list(zip(MeasuredAmount, (weighing.mass, *weighing.cg), strict=True))
    values = tuple(UNKNOWN if each is None else _value(amount, each.value, reader) for amount, each in found)
    spreads = tuple(
        "-"
        if each is None or amount in weighing.taken or weighing.consistent is False
        else spread_words(amount, each.pm, reader)
        for amount, each in found
    )
    return (
        Column("", tuple(reader.words(NAMES[amount]) for amount in MeasuredAmount), Align.LEFT),
        Column("most likely", tuple(reader.words(each) for each in values), Align.LEFT),
        Column("plus or minus", spreads, Align.RIGHT),
    )


def _value(amount: MeasuredAmount, value: float, reader: Reader) -> str:
    """Return a value in words: a mass [kg], or a place as from axle line, centre line or floor [m]."""
    match amount:
        case MeasuredAmount.MASS:
            return reader.mass(value)
        case MeasuredAmount.X:
            return _beside(value, ("in front of", "behind"), "axle line", reader)
        case MeasuredAmount.Y:
            return _beside(value, ("left of", "right of"), "centre line", reader)
        case MeasuredAmount.Z:
            return reader.length(value)
        case _:
            assert_never(amount)


def _beside(value: float, sides: tuple[str, str], line: str, reader: Reader) -> str:
    if ruler_of(Measure.LENGTH, reader.units).round(value) == 0:
        return f"on the {line}"
    return f"{reader.length(abs(value))} {sides[0] if value > 0 else sides[1]} the {line}"


def spread_words(amount: MeasuredAmount, pm: float, reader: Reader) -> str:
    """Write an uncertainty, rounded up, so that it still encloses the truth.

    Args:
        amount: What it is of.
        pm: Plus or minus [kg or m].
        reader: Who reads it.

    Returns:
        Number and unit.
    """
    measure = Measure.MASS if amount is MeasuredAmount.MASS else Measure.LENGTH
    ruler = ruler_of(measure, reader.units)
    shown = ruler.round(pm)
    if shown * ruler.size < pm:
        shown += ruler.finest_small if shown < 10 else ruler.finest
    return write(Quantity(shown * ruler.size, measure), reader.units)


def _agreement(weighing: Weighing) -> str:
    """Return whether the readings agree, and which one fits worst where they do not."""
    if weighing.consistent is None:
        return "No reading is to spare, so nothing would show if one were wrong."
    if weighing.consistent:
        return "The readings agree with each other."
    told = names([_named(each) for each in weighing.suspects])
    if len(weighing.suspects) == 1:
        return f"THE READINGS CONTRADICT EACH OTHER. What fits worst is {told}: read it again, and measure its place."
    return f"THE READINGS CONTRADICT EACH OTHER. One of these is wrong, and they do not tell which: {told}."


def _named(reading: Reading) -> str:
    """Return which reading it is, as one would point at it."""
    of_set = f"set {reading.of_set + 1}"
    match reading.kind:
        case UnknownKind.LOAD:
            return f"place {reading.place + 1} of {of_set}"
        case UnknownKind.NOSE_UP:
            return f"the tilt nose_up of {of_set}"
        case UnknownKind.LEFT_UP:
            return f"the tilt left_up of {of_set}"
        case UnknownKind.HOOK:
            return f"the place of the hook in {of_set}, or how level it hung"
        case UnknownKind.TAPE:
            return "where the places are"
        case _:
            assert_never(reading.kind)


def _doubts(weighing: Weighing) -> list[str]:
    """Return what was taken from the file, and what reads as a pull."""
    doubts = [
        f"{NAMES[amount].capitalize()}: taken from the file, not measured, because all places of a set are in one line."
        for amount in weighing.taken
    ]
    pulling = [
        f"{_named(each).capitalize()} would have to pull the unit down: a place or a reading is wrong."
        for each in weighing.pulling
    ]
    return doubts + pulling


def _advice(advice: Advice, reader: Reader) -> str:
    """Return which reading more would help most, and how exactly its amount would be known then."""
    then = spread_words(advice.amount, advice.then, reader)
    before = "" if advice.now is None else spread_words(advice.amount, advice.now, reader)
    if before == then:
        return f"Reading more would hardly help: the {NAMES[advice.amount]} is known to {then}."
    now = f"now known to {before}" if before else "not known yet"
    return (
        f"What would help most: {_further(advice)}. The {NAMES[advice.amount]}, {now}, would be known to about {then}."
    )


def _further(advice: Advice) -> str:
    """Return which reading more it is."""
    again = f"read set {advice.of_set + 1} again with the"
    match advice.further:
        case Further.SCALE:
            return f"a scale under place {advice.place + 1} of set {advice.of_set + 1}, which is not weighed"
        case Further.NOSE_UP:
            return f"{again} front raised by {degrees(RAISED):.0f} degrees"
        case Further.LEFT_UP:
            return f"{again} left side raised by {degrees(RAISED):.0f} degrees"
        case Further.HOOK:
            return "hang it level from one hook with a crane scale, and measure where the hook holds"
        case _:
            assert_never(advice.further)
