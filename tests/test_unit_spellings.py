"""Every spelling of a unit that users' files hang on."""

from itertools import product
from math import radians

import pytest

from loadplan.units import Kind, QuantityError, System, to_si

EXACT = 1e-15
"""Relative tolerance: three roundings of a double."""

SPELLINGS = {
    (Kind.LENGTH, 0.001): "mm millimetre millimetres millimeter millimeters",
    (Kind.LENGTH, 0.01): "cm centimetre centimetres centimeter centimeters",
    (Kind.LENGTH, 1.0): "m metre metres meter meters",
    (Kind.LENGTH, 0.0254): 'in inch inches " ″',
    (Kind.LENGTH, 0.3048): "ft foot feet ' ′",
    (Kind.MASS, 1.0): "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes",
    (Kind.MASS, 0.001): "g gram grams gramme grammes",
    (Kind.MASS, 1000.0): "t tonne tonnes metric_ton metric_tons metric_tonne metric_tonnes",
    (Kind.MASS, 0.45359237): "lb lbs pound pounds lbm",
    (Kind.MASS, 0.45359237 / 16): "oz ounce ounces",
    (Kind.MASS, 907.18474): "short_ton short_tons us_ton us_tons",
    (Kind.MASS, 1016.0469088): "long_ton long_tons uk_ton uk_tons imperial_ton imperial_tons",
    (Kind.FORCE, 1.0): "n newton newtons",
    (Kind.FORCE, 10.0): "dan decanewton decanewtons",
    (Kind.FORCE, 1000.0): "kn kilonewton kilonewtons",
    (Kind.FORCE, 4.4482216152605): "lbf lbsf pound_force pounds_force",
    (Kind.FORCE, 4448.2216152605): "kip kips",
    (Kind.FORCE, 9.80665): "kgf kp kilogram_force kilograms_force kilopond kiloponds",
    (Kind.ANGLE, radians(1)): "deg degs degree degrees °",
    (Kind.ANGLE, 1.0): "rad radian radians",
    (Kind.STRESS, 1.0): "pa n/m² n/m2",
    (Kind.STRESS, 1e3): "kpa",
    (Kind.STRESS, 1e6): "mpa n/mm² n/mm2",
    (Kind.STRESS, 4.4482216152605 / 0.0254**2): "psi lbf/in² lbf/in2",
    (Kind.SHARE, 0.01): "% percent pct",
}
COMPOUND_FORCES = {
    1.0: "n newton newtons",
    1000.0: "kn",
    10.0: "dan",
    4.4482216152605: "lbf lb lbs pound pounds",
    9.80665: "kgf kg kp",
}
COMPOUND_LENGTHS = {
    0.001: "mm",
    0.01: "cm",
    1.0: "m metre meter metres meters",
    0.0254: "in inch inches",
    0.3048: "ft foot feet",
}


@pytest.mark.parametrize(("kind", "each"), SPELLINGS, ids=str)
def test_no_spelling_is_lost(kind: Kind, each: float) -> None:
    """Users' files hang on the spellings. Sizes: NIST SP 811 (2008), appendix B.8."""
    for spelling in SPELLINGS[kind, each].split():
        for written in (spelling, spelling.upper(), spelling.replace("_", " "), spelling.replace("_", "-")):
            if written != "T":
                assert to_si(f"1 {written}", kind, System.METRIC) == pytest.approx(each, rel=EXACT), written


@pytest.mark.parametrize(("force", "length"), list(product(COMPOUND_FORCES, COMPOUND_LENGTHS)))
def test_any_force_goes_with_any_length(force: float, length: float) -> None:
    for push, arm in product(COMPOUND_FORCES[force].split(), COMPOUND_LENGTHS[length].split()):
        stiffness = to_si(f"1 {push}/{arm}", Kind.STIFFNESS, System.METRIC)
        assert stiffness == pytest.approx(force / length, rel=EXACT)
        for torque in (f"{push} {arm}", f"{arm} {push}", f"{push}·{arm}", f"{arm}-{push}"):
            assert to_si(f"1 {torque}", Kind.TORQUE, System.METRIC) == pytest.approx(force * length, rel=EXACT), torque


@pytest.mark.parametrize("text", ["3 tons", "3 tonn", "3 tn", "3 Ton", "3 TN"])
def test_no_spelling_of_a_ton_alone_is_taken(text: str) -> None:
    for system in System:
        with pytest.raises(QuantityError, match="is ambiguous"):
            to_si(text, Kind.MASS, system)
