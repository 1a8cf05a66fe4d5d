"""A triangular table on three legs, derived here by moments about its sides."""

from math import hypot, sqrt
from pathlib import Path

import pytest

from tests.validation.cases import bounds, expected, lump, solved, stand_job

LEGS = {"A": [0.0, 0.0, 200.0], "B": [900.0, 0.0, 200.0], "C": [450.0, 450 * sqrt(3), 200.0]}
LOAD_AT = (875 / 3, 50 * sqrt(74) / 3)


def test_equilateral_top_with_500_n_off_its_middle(tmp_path: Path) -> None:
    """Side 900 mm; 500 N at 325 mm from A and 625 mm from B: RC = 500·√74/3^3.5 = 91.973, RA 291.976, RB 116.050 N."""
    assert hypot(*LOAD_AT) == pytest.approx(325, abs=1e-9)
    assert hypot(900 - LOAD_AT[0], LOAD_AT[1]) == pytest.approx(625, abs=1e-9)
    stage = solved(stand_job(LEGS, [lump("load", "500 N", [*LOAD_AT, 700])]), tmp_path)[0]
    loads = expected(stage)
    assert loads["C"] == pytest.approx(500 * sqrt(74) / 3**3.5, abs=1e-8)
    assert loads == pytest.approx({"A": 291.976, "B": 116.050, "C": 91.973}, abs=1e-3)


def test_three_legs_leave_no_choice(tmp_path: Path) -> None:
    """Statically determinate: the least and the most that a leg could carry are what it carries."""
    stage = solved(stand_job(LEGS, [lump("load", "500 N", [*LOAD_AT, 700])]), tmp_path)[0]
    for name, load in expected(stage).items():
        assert bounds(stage)[name] == pytest.approx((load, load), abs=1e-6)
