"""Pile caps on three piles: a rigid cap on three equal springs, so plain statics decides.

Derived here by the pile group formula of any text on foundations, V/n + V·ex·x/Σx² + V·ey·y/Σy² (kN, m; here a
thousandth in N), and for a triangular cap by moments: two ways that must agree with the program, and with each other.
"""

from pathlib import Path

import pytest

from tests.validation.cases import expected, lump, solved, stand_job

PILES = {"P1": [-900.0, -522.0, 200.0], "P2": [900.0, -522.0, 200.0], "P3": [0.0, 1044.0, 200.0]}


def by_formula(load: float, ex: float, ey: float) -> dict[str, float]:
    """Return V/n + V·ex·x/Σx² + V·ey·y/Σy² of each pile, the formula of a pile group."""
    xx = sum(at[0] ** 2 for at in PILES.values())
    yy = sum(at[1] ** 2 for at in PILES.values())
    return {name: load / 3 + load * ex * at[0] / xx + load * ey * at[1] / yy for name, at in PILES.items()}


@pytest.mark.parametrize(
    ("load", "moment_x", "moment_y", "derived"),
    [
        (2583.726, 100.0, 100.0, (773.758, 884.869, 925.099)),
        (400.3345, 17.64, -2.913, (129.431, 126.194, 144.709)),
    ],
)
def test_three_piles(load: float, moment_x: float, moment_y: float, derived: tuple[float, ...], tmp_path: Path) -> None:
    """Derived: Σx² = 1.62, Σy² = 1.634904 m²; eccentricities 38.7 mm both ways, and 44.06 and −7.3 mm."""
    assert sum(at[0] ** 2 for at in PILES.values()) == pytest.approx(1.62e6)
    assert sum(at[1] ** 2 for at in PILES.values()) == pytest.approx(1.634904e6)
    ex, ey = 1000 * moment_y / load, 1000 * moment_x / load
    stage = solved(stand_job(PILES, [lump("column", f"{load} N", [ex, ey, 700])]), tmp_path)[0]
    loads = expected(stage)
    assert loads == pytest.approx(by_formula(load, ex, ey), abs=1e-9)
    assert tuple(loads.values()) == pytest.approx(derived, abs=1e-3)


def test_triangular_cap(tmp_path: Path) -> None:
    """2500 kN, 1045 mm from the single pile and 515 mm from the line of the two: 825.321 and twice 837.3395 kN."""
    piles = {"single": [1045.0, 0.0, 200.0], "twin 1": [-515.0, 450.0, 200.0], "twin 2": [-515.0, -450.0, 200.0]}
    loads = expected(solved(stand_job(piles, [lump("column", "2500 N", [0, 0, 700])]), tmp_path)[0])
    assert loads["single"] == pytest.approx(825.321, abs=1e-3)
    assert [loads["twin 1"], loads["twin 2"]] == pytest.approx([837.3395, 837.3395], abs=1e-3)
