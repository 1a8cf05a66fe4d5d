"""The one door for units: against an independent registry of units, and the laws that it must keep.

The judge is pint; its registry takes the same definitions (inch 0.0254 m, pound 0.45359237 kg,
standard gravity 9.80665 m/s²) from its own table.
"""

from math import atan, inf, nan, radians
from re import escape

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.limits import GRAVITY
from loadplan.units import Kind, QuantityError, System, bare_unit, from_si, named, to_si, wanted

JUDGE = pint.UnitRegistry()
EXACT = 1e-15
"""Relative tolerance: three roundings of a double."""

SPELT = {
    Kind.LENGTH: {
        "mm": "mm",
        "millimeters": "mm",
        "MM": "mm",
        "cm": "cm",
        "m": "m",
        "metres": "m",
        "in": "inch",
        "in.": "inch",
        "inches": "inch",
        '"': "inch",
        "″": "inch",
        "ft": "foot",
        "feet": "foot",
        "'": "foot",
    },
    Kind.MASS: {
        "kg": "kg",
        "kgs": "kg",
        "kilograms": "kg",
        "g": "g",
        "t": "tonne",
        "tonne": "tonne",
        "metric tons": "tonne",
        "lb": "lb",
        "lbs": "lb",
        "LBS.": "lb",
        "pounds": "lb",
        "oz": "oz",
        "short_ton": "short_ton",
        "short tons": "short_ton",
        "short-ton": "short_ton",
        "long_ton": "long_ton",
        "N": "newton / standard_gravity",
        "lbf": "lbf / standard_gravity",
    },
    Kind.FORCE: {
        "N": "N",
        "newtons": "N",
        "kN": "kN",
        "daN": "decanewton",
        "lbf": "lbf",
        "pounds-force": "lbf",
        "kip": "kip",
        "kgf": "kgf",
        "kp": "kgf",
        "kg": "kg * standard_gravity",
        "lb": "lb * standard_gravity",
        "tonne": "tonne * standard_gravity",
        "short_ton": "short_ton * standard_gravity",
    },
    Kind.STIFFNESS: {
        "N/mm": "N / mm",
        "N / mm": "N / mm",
        "N per mm": "N / mm",
        "kN/m": "kN / m",
        "N/m": "N / m",
        "kN/mm": "kN / mm",
        "lbf/in": "lbf / inch",
        "lb/in": "lbf / inch",
        "lbs./in.": "lbf / inch",
        "lb/ft": "lbf / foot",
        "kgf/mm": "kgf / mm",
        "kg/mm": "kgf / mm",
    },
    Kind.TORQUE: {
        "N·m": "N * m",
        "Nm": "N * m",
        "N*m": "N * m",
        "N m": "N * m",
        "kN·m": "kN * m",
        "N·mm": "N * mm",
        "lbf·ft": "lbf * foot",
        "lb-ft": "lbf * foot",
        "ft-lb": "lbf * foot",
        "ft·lbf": "lbf * foot",
        "ft lbs": "lbf * foot",
        "in-lb": "lbf * inch",
        "kgf·m": "kgf * m",
        "m·kg": "kgf * m",
    },
    Kind.ANGLE: {"deg": "degree", "°": "degree", "degrees": "degree", "rad": "radian"},
    Kind.STRESS: {"MPa": "MPa", "N/mm²": "N / mm ** 2", "kPa": "kPa", "Pa": "Pa", "psi": "psi", "lbf/in2": "psi"},
    Kind.SHARE: {"%": "percent", "percent": "percent"},
}
SPELT[Kind.LOAD] = {**SPELT[Kind.FORCE]}
BASE = {
    Kind.LENGTH: "m",
    Kind.MASS: "kg",
    Kind.LOAD: "N",
    Kind.FORCE: "N",
    Kind.STIFFNESS: "N / m",
    Kind.ANGLE: "radian",
    Kind.TORQUE: "N * m",
    Kind.STRESS: "Pa",
    Kind.SHARE: "",
}
WRITTEN = [(kind, ours, judges) for kind, rows in SPELT.items() for ours, judges in rows.items()]
NUMBERS = st.floats(-1e9, 1e9, allow_subnormal=False).filter(lambda number: number == 0 or abs(number) > 1e-9)


@pytest.mark.parametrize(("kind", "ours", "judges"), WRITTEN)
def test_the_table_agrees_with_an_independent_one(kind: Kind, ours: str, judges: str) -> None:
    expected = JUDGE.Quantity(7.25, judges).to(BASE[kind]).magnitude
    assert to_si(f"7.25 {ours}", kind, System.METRIC) == pytest.approx(expected, rel=EXACT)
    assert to_si(f"7.25{ours}", kind, System.METRIC) == pytest.approx(expected, rel=EXACT)


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize("system", System)
def test_every_spelling_of_a_bare_unit_reads_as_the_bare_number(kind: Kind, system: System) -> None:
    unit = bare_unit(kind, system)
    if kind is not Kind.SHARE:
        assert to_si(f"12.5 {unit}", kind, system) == to_si(12.5, kind, system)
    assert wanted(kind, system).startswith(named(kind))


@pytest.mark.parametrize(
    ("kind", "metric", "us"),
    [
        (Kind.LENGTH, 0.001, 0.0254),
        (Kind.MASS, 1.0, 0.45359237),
        (Kind.LOAD, GRAVITY, 0.45359237 * GRAVITY),
        (Kind.FORCE, 1.0, 4.4482216152605),
        (Kind.STIFFNESS, 1000.0, 4.4482216152605 / 0.0254),
        (Kind.ANGLE, radians(1), radians(1)),
        (Kind.TORQUE, 1.0, 4.4482216152605 * 0.3048),
        (Kind.SHARE, 1.0, 1.0),
    ],
)
def test_bare_numbers_are_in_the_units_of_the_file(kind: Kind, metric: float, us: float) -> None:
    """Pound-force 4.4482216152605 N exactly: NIST SP 811 (2008), appendix B.8."""
    assert to_si(1, kind, System.METRIC) == pytest.approx(metric, rel=EXACT)
    assert to_si(1, kind, System.US) == pytest.approx(us, rel=EXACT)


@given(number=NUMBERS, kind=st.sampled_from(Kind), system=st.sampled_from(System))
def test_what_goes_in_comes_out(number: float, kind: Kind, system: System) -> None:
    assert from_si(to_si(number, kind, system), kind, system) == pytest.approx(number, rel=1e-14)


@given(number=NUMBERS, kind=st.sampled_from([kind for kind in Kind if kind is not Kind.SHARE]))
def test_metric_and_us_agree(number: float, kind: Kind) -> None:
    si = to_si(number, kind, System.METRIC)
    us = from_si(si, kind, System.US)
    assert to_si(us, kind, System.US) == pytest.approx(si, rel=1e-14)
    assert to_si(f"{us!r} {bare_unit(kind, System.US)}", kind, System.METRIC) == pytest.approx(si, rel=1e-14)


@given(number=st.floats(-1e6, 1e6), mass_unit=st.sampled_from(["kg", "lb", "tonne", "short_ton"]))
def test_a_mass_written_for_a_force_weighs_it(number: float, mass_unit: str) -> None:
    text = f"{number!r} {mass_unit}"
    force = to_si(text, Kind.FORCE, System.METRIC)
    assert force == pytest.approx(to_si(text, Kind.MASS, System.US) * GRAVITY, rel=1e-14, abs=1e-300)
    assert force == to_si(text, Kind.LOAD, System.US)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("7 1/2 in", 7.5), ("7-1/2 in", 7.5), ("1/2 in", 0.5), ('13 3/8"', 13.375), ("-1/4 in", -0.25), ("5. in", 5.0),
        ("-2 1/4 in", -2.25), ("−3 in", -3.0), ("+3 in", 3.0), (".5 in", 0.5), ("1e1 in", 10.0), ("  7.5   in ", 7.5),
    ],
)  # fmt: skip
def test_numbers_as_people_write_them(text: str, inches: float) -> None:
    assert to_si(text, Kind.LENGTH, System.METRIC) == pytest.approx(inches * 0.0254, rel=EXACT)


def test_plain_lengths_and_ratings_are_exact() -> None:
    """Rounding must not make 350 mm a different setting from 0.35 m, or 7.5 in from 190.5 mm."""
    assert to_si(350, Kind.LENGTH, System.METRIC) == 0.35
    assert to_si("7.5 in", Kind.LENGTH, System.METRIC) == 0.1905 == to_si(190.5, Kind.LENGTH, System.METRIC)
    assert to_si("3 tonne", Kind.LOAD, System.METRIC) == 29419.95


def test_a_slope_may_be_written_in_per_cent() -> None:
    assert to_si("1 %", Kind.ANGLE, System.METRIC) == pytest.approx(atan(0.01))


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("text", ["3 ton", "3 tons", "3 TON", "3 T"])
def test_a_ton_alone_is_refused_with_its_three_meanings(text: str, system: System) -> None:
    with pytest.raises(QuantityError, match=r"ambiguous.*short ton.*long ton.*tonne"):
        to_si(text, Kind.LOAD, system)


def test_a_small_t_is_a_tonne_in_metric_files_only() -> None:
    assert to_si("3 t", Kind.MASS, System.METRIC) == 3000
    with pytest.raises(QuantityError, match="ambiguous"):
        to_si("3 t", Kind.MASS, System.US)


@pytest.mark.parametrize(
    ("value", "kind", "told"),
    [
        (nan, Kind.LENGTH, "finite"),
        (inf, Kind.MASS, "finite"),
        (-inf, Kind.FORCE, "finite"),
        (10**400, Kind.MASS, "too large"),
        (1e308, Kind.LOAD, "too large a number"),
        ("1e999 mm", Kind.LENGTH, "too large a number"),
        ("nan mm", Kind.LENGTH, "must be a length"),
        ("inf mm", Kind.LENGTH, "must be a length"),
        (True, Kind.MASS, "must be a mass"),
        (None, Kind.MASS, "must be a mass"),
        ([1], Kind.MASS, "must be a mass"),
        ("", Kind.MASS, "must be a mass"),
        ("kg", Kind.MASS, "must be a mass"),
        ("7.5", Kind.LENGTH, "has no unit"),
        ("7,5 mm", Kind.LENGTH, "comma"),
        ("1,500 lb", Kind.MASS, "comma"),
        ("1/0 in", Kind.LENGTH, "must be a length"),
        ("3 kg", Kind.LENGTH, '"kg" is a unit of mass: in or mm'),
        ("3 mm", Kind.ANGLE, '"mm" is a unit of length: % or deg'),
        ("3 kN", Kind.STIFFNESS, '"kN" is a unit of force: lbf/in or N/mm'),
        ("3 furlong", Kind.LENGTH, 'unknown unit, "furlong"'),
        ("3 mm mm", Kind.LENGTH, "unknown unit"),
        ("3 nm", Kind.LENGTH, "unit of torque"),
        ("7" * 100 + " mm", Kind.LENGTH, "103 characters"),
    ],
)  # fmt: skip
def test_what_is_no_such_quantity_says_what_would_be_right(value: object, kind: Kind, told: str) -> None:
    with pytest.raises(QuantityError, match=escape(told)):
        to_si(value, kind, System.METRIC)


@given(st.text(max_size=80), st.sampled_from(Kind), st.sampled_from(System))
def test_any_text_is_a_finite_quantity_or_an_error(text: str, kind: Kind, system: System) -> None:
    try:
        value = to_si(text, kind, system)
    except QuantityError:
        return
    assert abs(value) < inf


@pytest.mark.parametrize("text", ["A\nB", "5 m\nm", "1,5\n", "5\u202emm", "3 ton\x00"])
def test_what_is_refused_is_told_on_one_line(text: str) -> None:
    with pytest.raises(QuantityError) as refused:
        to_si(text, Kind.LENGTH, System.METRIC)
    assert str(refused.value).isprintable()


@pytest.mark.parametrize(
    ("kind", "example"),
    [
        (Kind.LENGTH, "7.5 in"), (Kind.MASS, "152 kg"), (Kind.LOAD, "3 tonne"), (Kind.FORCE, "6000 N"),
        (Kind.STIFFNESS, "350 N/mm"), (Kind.ANGLE, "10 deg"), (Kind.TORQUE, "250 N·m"), (Kind.STRESS, "4.3 MPa"),
        (Kind.SHARE, "75 %"),
    ],
)  # fmt: skip
def test_what_is_wanted_comes_with_an_example_that_reads(kind: Kind, example: str) -> None:
    assert f'"{example}"' in wanted(kind, System.METRIC)
    assert to_si(example, kind, System.METRIC) > 0


@pytest.mark.parametrize(
    ("kind", "called", "metric", "us"),
    [
        (Kind.LENGTH, "a length", "mm", "in"),
        (Kind.MASS, "a mass", "kg", "lb"),
        (Kind.LOAD, "a mass or force", "kg", "lb"),
        (Kind.FORCE, "a force", "N", "lbf"),
        (Kind.STIFFNESS, "a stiffness", "N/mm", "lbf/in"),
        (Kind.ANGLE, "an angle", "deg", "deg"),
        (Kind.TORQUE, "a torque", "N·m", "lbf·ft"),
        (Kind.STRESS, "a stress", "MPa", "psi"),
        (Kind.SHARE, "a share", "1", "1"),
    ],
)
def test_a_kind_is_called_so_and_written_so(kind: Kind, called: str, metric: str, us: str) -> None:
    assert named(kind) == called
    for system, unit in ((System("metric"), metric), (System("us"), us)):
        assert bare_unit(kind, system) == unit
        told = wanted(kind, system)
        assert told.startswith(f"{called}: a ")
        assert kind is Kind.SHARE or f" in {unit}, " in told
        with pytest.raises(QuantityError) as refused:
            to_si(None, kind, system)
        assert str(refused.value) == f"must be {told}"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("7.5", 'has no unit, "7.5": write the number without quotes, or with its unit such as "7.5 in"'),
        ("7,5 mm", 'has a comma in its number, "7,5 mm": write a point, and nothing between thousands'),
        ("3 furlong", 'has an unknown unit, "furlong": in or mm would be right'),
        ("3 kg", 'must be a length, but "kg" is a unit of mass: in or mm would be right'),
        ("in", 'must be a length: a number in mm, or a text such as "7.5 in", is "in"'),
        ("1e999 mm", 'is too large a number, "1e999 mm"'),
        (
            "3 ton",
            'is ambiguous, "3 ton": write short ton (2000 lb), long ton (2240 lb) or tonne (1000 kg)',
        ),
        ("100x200 mm", "has two sizes: write them as a list, [100, 200 mm]"),
        ("100 X 200 mm", "has two sizes: write them as a list, [100, 200 mm]"),
        ("1.5 × .5 in", "has two sizes: write them as a list, [1.5, .5 in]"),
        ("A\x00B", 'must be a length: a number in mm, or a text such as "7.5 in", is "A?B"'),
        (10**400, "is too large a number"),
        (
            "7" * 58 + " mm",
            'must be a length: a number in mm, or a text such as "7.5 in"; what stands there has 61 characters',
        ),
    ],
)
def test_a_refusal_says_what_is_there_and_what_would_be_right(text: object, told: str) -> None:
    with pytest.raises(QuantityError) as refused:
        to_si(text, Kind.LENGTH, System.METRIC)
    assert str(refused.value) == told


@pytest.mark.parametrize(
    ("value", "kind", "told"),
    [
        (1e308, Kind.LOAD, "is too large a number"),
        ("0.75", Kind.SHARE, 'has no unit, "0.75": write the number without quotes, or with its unit such as "75 %"'),
    ],
)
def test_a_refusal_fits_the_kind(value: object, kind: Kind, told: str) -> None:
    with pytest.raises(QuantityError) as refused:
        to_si(value, kind, System.US)
    assert str(refused.value) == told


def test_a_text_of_sixty_characters_is_read_and_a_longer_one_is_not() -> None:
    text = "1" + " " * 56 + " mm"
    assert to_si(text, Kind.LENGTH, System.METRIC) == 0.001
    with pytest.raises(QuantityError, match="what stands there has 61 characters"):
        to_si(f"{text} ", Kind.LENGTH, System.METRIC)


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("-3 mm", -3.0), ("+3 mm", 3.0), ("− 3 mm", None), ("-1/2 in", -12.7), ("-1 1/2 in", -38.1), ("1-1/2 in", 38.1),
        ("1 - 1/2 in", 38.1), (".5 in", 12.7), ("5. mm", 5.0), ("1e2 mm", 100.0), ("1E-1 m", 100.0), ("3mm.", 3.0),
        ("3 MM", 3.0), ("  3   mm ", 3.0), ("0/3 in", 0.0), ("3/0 in", None), ("e3 mm", None), ("--3 mm", None),
    ],
)  # fmt: skip
def test_a_number_in_front_of_its_unit(text: str, millimetres: float | None) -> None:
    if millimetres is None:
        with pytest.raises(QuantityError, match="must be a length"):
            to_si(text, Kind.LENGTH, System.METRIC)
    else:
        assert to_si(text, Kind.LENGTH, System.METRIC) == pytest.approx(millimetres / 1000, rel=EXACT)
