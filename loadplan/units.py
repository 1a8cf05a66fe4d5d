"""The one door for units: what users write becomes SI here, and SI becomes what they read.

Factors stand as a numerator and a denominator, so that 7.5 in is 0.1905 m to the last bit.
Inch and pound: international yard and pound agreement of 1959. Standard gravity: 3rd CGPM, 1901.
"""

import re
from enum import Enum
from math import atan, isfinite, isinf, pi
from typing import TypeAlias

Factor: TypeAlias = tuple[float, float]
"""Numerator and denominator: a value in the unit, times the one, by the other, is SI."""

LONGEST = 60
"""Longest text that is read as a quantity [characters]."""


class QuantityError(ValueError):
    """A quantity that cannot be read; its text says what is wrong and what would be right."""


class System(Enum):
    """The unit system of a file, or of a reader."""

    METRIC = "metric"
    US = "us"


class Kind(Enum):
    """What a quantity is, and so what its bare number means and which units fit.

    A LOAD is a force in SI whose bare number is a mass: a rating, the load on a scale.
    """

    LENGTH = "length"
    MASS = "mass"
    LOAD = "mass or force"
    FORCE = "force"
    STIFFNESS = "stiffness"
    ANGLE = "angle"
    TORQUE = "torque"
    STRESS = "stress"
    SHARE = "share"


def to_si(value: object, kind: Kind, system: System) -> float:
    """Read a quantity as a user writes it.

    Args:
        value: A number in the file's units, or a text with its unit.
        kind: What it has to be.
        system: Units of a bare number.

    Returns:
        The quantity in SI, finite.

    Raises:
        QuantityError: If it is no such quantity; the text says what would be right.

    Example:
        >>> to_si("7 1/2 in", Kind.LENGTH, System.METRIC), to_si(7.5, Kind.LENGTH, System.US)
        (0.1905, 0.1905)
        >>> to_si("3 tonne", Kind.LOAD, System.US)
        29419.95
    """
    if isinstance(value, str):
        si = _read_text(value, kind, system)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        si = _read_text_unit(_finite(value), bare_unit(kind, system), kind)
    else:
        raise QuantityError(f"must be {wanted(kind, system)}")
    if not isfinite(si):  # what was written is a number, only not in SI
        raise QuantityError("is too large a number")
    return si


def from_si(value: float, kind: Kind, system: System) -> float:
    """Turn a quantity in SI into the number that a reader of that unit system expects.

    Args:
        value: Quantity in SI.
        kind: What it is; a LOAD is told as the mass that weighs it.
        system: Units of the reader.

    Returns:
        The number in `bare_unit(kind, system)`.

    Example:
        >>> from_si(0.1905, Kind.LENGTH, System.US), from_si(29419.95, Kind.LOAD, System.METRIC)
        (7.5, 3000.0)
    """
    dimension, factor = _UNITS[_canonical(bare_unit(kind, system))]
    up, down = _times(factor, _SCALES[kind][dimension])
    return value * down / up


def bare_unit(kind: Kind, system: System) -> str:
    """Name the unit of a bare number.

    Args:
        kind: What the quantity is.
        system: Unit system of file or reader.

    Returns:
        The unit's symbol; for a share "1".

    Example:
        >>> bare_unit(Kind.STIFFNESS, System.US)
        'lbf/in'
    """
    metric, us = _BARE[kind]
    return metric if system is System.METRIC else us


def named(kind: Kind) -> str:
    """Name a kind with its article.

    Args:
        kind: What the quantity is.

    Returns:
        Such as "a length" or "an angle".
    """
    return f"{'an' if kind is Kind.ANGLE else 'a'} {kind.value}"


def wanted(kind: Kind, system: System) -> str:
    """Say in words what a quantity of this kind looks like.

    Args:
        kind: What the quantity is.
        system: Unit system of the file.

    Returns:
        A phrase such as 'a length: a number in mm, or a text such as "7.5 in"'.
    """
    if kind is Kind.SHARE:
        return 'a share: a number such as 0.75, or a text such as "75 %"'
    return f'{named(kind)}: a number in {bare_unit(kind, system)}, or a text such as "{_EXAMPLES[kind]}"'


def _times(*factors: Factor) -> Factor:
    up, down = 1.0, 1.0
    for each_up, each_down in factors:
        up, down = up * each_up, down * each_down
    return up, down


def _over(factor: Factor, divisor: Factor) -> Factor:
    return factor[0] * divisor[1], factor[1] * divisor[0]


_G: Factor = (980665, 100000)
_MM: Factor = (1, 1000)
_INCH: Factor = (127, 5000)
_FOOT: Factor = (381, 1250)
_POUND: Factor = (45359237, 100000000)
_POUND_FORCE = _times(_POUND, _G)
_ONE: Factor = (1, 1)
_PLAIN: dict[Kind, tuple[tuple[str, Factor], ...]] = {
    Kind.LENGTH: (
        ("mm millimetre millimetres millimeter millimeters", _MM),
        ("cm centimetre centimetres centimeter centimeters", (1, 100)),
        ("m metre metres meter meters", _ONE),
        ('in inch inches " ″', _INCH),
        ("ft foot feet ' ′", _FOOT),
    ),
    Kind.MASS: (
        ("kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes", _ONE),
        ("g gram grams gramme grammes", (1, 1000)),
        ("t tonne tonnes metric_ton metric_tons metric_tonne metric_tonnes", (1000, 1)),
        ("lb lbs pound pounds lbm", _POUND),
        ("oz ounce ounces", _times(_POUND, (1, 16))),
        ("short_ton short_tons us_ton us_tons", _times(_POUND, (2000, 1))),
        ("long_ton long_tons uk_ton uk_tons imperial_ton imperial_tons", _times(_POUND, (2240, 1))),
    ),
    Kind.FORCE: (
        ("n newton newtons", _ONE),
        ("dan decanewton decanewtons", (10, 1)),
        ("kn kilonewton kilonewtons", (1000, 1)),
        ("lbf lbsf pound_force pounds_force", _POUND_FORCE),
        ("kip kips", _times(_POUND_FORCE, (1000, 1))),
        ("kgf kp kilogram_force kilograms_force kilopond kiloponds", _G),
    ),
    Kind.ANGLE: (("deg degs degree degrees °", (pi / 180, 1)), ("rad radian radians", _ONE)),
    Kind.STRESS: (
        ("pa n/m2", _ONE),
        ("kpa", (1000, 1)),
        ("mpa n/mm2", (1000000, 1)),
        ("psi lbf/in2", _over(_POUND_FORCE, _times(_INCH, _INCH))),
    ),
    Kind.SHARE: (("% percent pct", (1, 100)), ("1", _ONE)),
}
# In stiffness and torque, shops write "lb" and "kg" where a force is meant: springs in lb/in, wrenches in ft-lb.
_COMPOUND_FORCES: tuple[tuple[str, Factor], ...] = (
    ("n newton newtons", _ONE),
    ("kn", (1000, 1)),
    ("dan", (10, 1)),
    ("lbf lb lbs pound pounds", _POUND_FORCE),
    ("kgf kg kp", _G),
)
_COMPOUND_LENGTHS: tuple[tuple[str, Factor], ...] = (
    ("mm", _MM),
    ("cm", (1, 100)),
    ("m metre meter metres meters", _ONE),
    ("in inch inches", _INCH),
    ("ft foot feet", _FOOT),
)


def _plain_units() -> dict[str, tuple[Kind, Factor]]:
    return {
        spelling: (dimension, factor)
        for dimension, rows in _PLAIN.items()
        for spellings, factor in rows
        for spelling in spellings.split()
    }


def _compound_units() -> dict[str, tuple[Kind, Factor]]:
    """Return every spelling of a stiffness and a torque: each force with each length, in either order."""
    units: dict[str, tuple[Kind, Factor]] = {}
    forces = [(name, factor) for names, factor in _COMPOUND_FORCES for name in names.split()]
    lengths = [(name, factor) for names, factor in _COMPOUND_LENGTHS for name in names.split()]
    for (force, push), (length, arm) in ((f, a) for f in forces for a in lengths):
        units[f"{force}/{length}"] = (Kind.STIFFNESS, _over(push, arm))
        for torque in (f"{force}_{length}", f"{length}_{force}", f"{force}{length}", f"{length}{force}"):
            units[torque] = (Kind.TORQUE, _times(push, arm))
    return units


_UNITS = _compound_units() | _plain_units()
_AMBIGUOUS = frozenset(("ton", "tons", "tonn", "tn"))
_BARE: dict[Kind, tuple[str, str]] = {
    Kind.LENGTH: ("mm", "in"),
    Kind.MASS: ("kg", "lb"),
    Kind.LOAD: ("kg", "lb"),
    Kind.FORCE: ("N", "lbf"),
    Kind.STIFFNESS: ("N/mm", "lbf/in"),
    Kind.ANGLE: ("deg", "deg"),
    Kind.TORQUE: ("N·m", "lbf·ft"),
    Kind.STRESS: ("MPa", "psi"),
    Kind.SHARE: ("1", "1"),
}
_EXAMPLES: dict[Kind, str] = {
    Kind.LENGTH: "7.5 in",
    Kind.MASS: "152 kg",
    Kind.LOAD: "3 tonne",
    Kind.FORCE: "6000 N",
    Kind.STIFFNESS: "350 N/mm",
    Kind.ANGLE: "10 deg",
    Kind.TORQUE: "250 N·m",
    Kind.STRESS: "4.3 MPa",
    Kind.SHARE: "75 %",
}
# What each kind accepts, and what turns SI of that dimension into SI of the kind.
_SCALES: dict[Kind, dict[Kind, Factor]] = {kind: {kind: _ONE} for kind in Kind} | {
    Kind.MASS: {Kind.MASS: _ONE, Kind.FORCE: _over(_ONE, _G)},
    Kind.LOAD: {Kind.MASS: _G, Kind.FORCE: _ONE},
    Kind.FORCE: {Kind.FORCE: _ONE, Kind.MASS: _G},
    Kind.ANGLE: {Kind.ANGLE: _ONE, Kind.SHARE: _ONE},
}
_FRACTION = re.compile(
    r"(?P<sign>[+-]?)(?:(?P<whole>[0-9]+)(?: +| ?- ?))?(?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+)(?P<unit>.*)"
)
_DECIMAL = re.compile(r"(?P<number>[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)(?P<unit>.*)")


def _read_text(text: str, kind: Kind, system: System) -> float:
    """Return a quantity in SI from a text that has to say its unit.

    Raises:
        QuantityError: If it cannot be read, or may be read in two ways.
    """
    tidy = " ".join(text.replace("−", "-").split())
    if len(text) > LONGEST:
        raise QuantityError(f"must be {wanted(kind, system)}; what stands there has {len(text)} characters")
    if "," in tidy:
        raise QuantityError(f"has a comma in its number, {_shown(text)}: write a point, and nothing between thousands")
    number, unit = _split(tidy)
    if number is None:
        raise QuantityError(f"must be {wanted(kind, system)}, is {_shown(text)}")
    if isinf(number):
        raise QuantityError(f"is too large a number, {_shown(text)}")
    if not unit:
        raise QuantityError(
            f"has no unit, {_shown(text)}: write the number without quotes, or with its unit such as "
            f'"{_EXAMPLES[kind]}"'
        )
    _refuse_tons(unit, text, system)
    return _read_text_unit(_finite(number), unit, kind)


def _split(text: str) -> tuple[float | None, str]:
    """Return number and unit; None where no number leads."""
    if found := _FRACTION.fullmatch(text):
        if float(found["bottom"]) == 0:
            return None, ""
        number = float(found["whole"] or 0) + float(found["top"]) / float(found["bottom"])
        return (-number if found["sign"] == "-" else number), found["unit"].strip()
    if found := _DECIMAL.fullmatch(text):
        return float(found["number"]), found["unit"].strip()
    return None, ""


def _refuse_tons(unit: str, text: str, system: System) -> None:
    unclear = _canonical(unit) in _AMBIGUOUS or unit == "T" or (unit == "t" and system is System.US)
    if unclear:
        raise QuantityError(
            f"is ambiguous, {_shown(text)}: write short ton (2000 lb), long ton (2240 lb) or tonne (1000 kg)"
        )


def _read_text_unit(number: float, unit: str, kind: Kind) -> float:
    """Return a number of a unit in SI; a slope in per cent becomes its angle.

    Raises:
        QuantityError: If the unit is unknown, or one of something else.
    """
    if re.match(r"[x×*] ?[0-9.]", unit, re.IGNORECASE):
        raise QuantityError(f"has two sizes: write them as a list, [{number:g}, {unit[1:].strip()}]")
    if _canonical(unit) not in _UNITS:
        raise QuantityError(f"has an unknown unit, {_shown(unit)}: {_fitting(kind)} would be right")
    dimension, factor = _UNITS[_canonical(unit)]
    if dimension not in _SCALES[kind]:
        found = f"{_shown(unit)} is a unit of {dimension.value}"
        raise QuantityError(f"must be {named(kind)}, but {found}: {_fitting(kind)} would be right")
    up, down = _times(factor, _SCALES[kind][dimension])
    if (kind, dimension) == (Kind.ANGLE, Kind.SHARE):
        return atan(number * up / down)
    return number * up / down


def _canonical(unit: str) -> str:
    """Return a unit spelt as the table spells it: small letters, one joiner, 2 for a square, no full stop."""
    small = unit.lower().replace(" per ", "/").replace("²", "2").rstrip(".")
    return re.sub(r"[ ]*[·⋅•*_ -][ ]*", "_", re.sub(r" *\.?/ *", "/", small))


def _fitting(kind: Kind) -> str:
    fit = {_BARE[each][0] for each in _SCALES[kind]} | {_BARE[each][1] for each in _SCALES[kind]}
    return " or ".join("%" if each == "1" else each for each in sorted(fit, key=str.lower))


def _finite(number: float) -> float:
    try:
        value = float(number)
    except OverflowError:
        raise QuantityError("is too large a number") from None
    if not isfinite(value):
        raise QuantityError(f"must be a finite number, is {value}")
    return value


def _shown(text: str) -> str:
    """Return a text in quotes, on one line."""
    kept = "".join(each if each.isprintable() else "?" for each in text)
    return f'"{kept}"'
