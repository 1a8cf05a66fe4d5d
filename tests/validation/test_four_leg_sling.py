"""Four legs count as three at most: how a stiff load shares itself out.

- EN 818-4 working loads of chain slings by a catalogue's table "to EN 818-4", page 178: a two-leg sling at up to 45°
  counts 1.4 (2·cos 45°), three and four legs alike 2.1 (3·cos 45°); a sling maker's technical page says the same.
- techcon.eng.br, "4-leg slings: how many legs are loaded": about 700 kgf on nominally equal legs, load cells read 348,
  303, 23 and 18 kgf; two diagonal legs carry 94 %.

A stand pushes where a leg pulls: the same statics upside down.
"""

from math import cos, radians
from pathlib import Path

import pytest

from loadplan.model.verdict import StageAssessment
from tests.validation.cases import G, bounds, expected, lump, solved, stand_job

MEASURED = {"a": 348.0, "b": 23.0, "c": 303.0, "d": 18.0}
CORNERS = {"a": (500, 500), "b": (500, -500), "c": (-500, -500), "d": (-500, 500)}


def on_corners(at: tuple[float, float], folder: Path, short: float = 0.0) -> StageAssessment:
    """Return 692 kg on four corners, corners b and d lower by `short` [mm]."""
    places = {name: [*map(float, spot), 200.0] for name, spot in CORNERS.items()}
    job = stand_job(places, [lump("load", 692.0, [*at, 700])])
    for support in job["support"]:
        support["height"] = 400 - (short if support["name"] in "bd" else 0.0)
    return solved(job, folder)[0]


def measured_centre() -> tuple[float, float]:
    """Return where the load must have hung [mm], by moments of what the cells read."""
    total = sum(MEASURED.values())
    return tuple(sum(MEASURED[n] * CORNERS[n][axis] for n in MEASURED) / total for axis in (0, 1))  # type: ignore[return-value]


def test_four_legs_may_carry_like_two(tmp_path: Path) -> None:
    """The bound of a centred leg is half the load, twice its fair quarter: so the standard counts three legs of four.

    Counting four legs, each rated for its quarter, would be passed by as much as 100 %.
    """
    assert (round(2 * cos(radians(45)), 1), round(3 * cos(radians(45)), 1)) == (1.4, 2.1)
    stage = on_corners((0, 0), tmp_path)
    assert expected(stage) == pytest.approx(dict.fromkeys("abcd", 692 * G / 4), abs=1e-8)
    for least, most in bounds(stage).values():
        assert (least, most) == pytest.approx((0, 692 * G / 2), abs=1e-6)


def test_three_legs_cannot_shirk(tmp_path: Path) -> None:
    """Three legs are statically determinate: a centred load gives each its third, the bound says no more."""
    places = {"a": [600.0, 0.0, 200.0], "b": [-300.0, 519.615, 200.0], "c": [-300.0, -519.615, 200.0]}
    stage = solved(stand_job(places, [lump("load", 692.0, [0, 0, 700])]), tmp_path)[0]
    for least, most in bounds(stage).values():
        assert (least, most) == pytest.approx((692 * G / 3, 692 * G / 3), rel=1e-6)


def test_the_measured_legs_lie_inside_the_bounds(tmp_path: Path) -> None:
    """348, 23, 303, 18 kgf are possible, far from equal quarters of 173; the two of a diagonal carry 94 %."""
    stage = on_corners(measured_centre(), tmp_path)
    for name, (least, most) in bounds(stage).items():
        assert least is not None
        assert most is not None
        assert least / G - 1e-6 <= MEASURED[name] <= most / G + 1e-6
    assert (MEASURED["a"] + MEASURED["c"]) / 692 == pytest.approx(0.94, abs=0.005)
    assert max(expected(stage).values()) / G < 200


def test_one_length_difference_explains_all_four_readings(tmp_path: Path) -> None:
    """Four readings, one unknown: a diagonal short by s moves k·s/2 a leg; s from one leg gives the other three.

    Stands of 1000 N/mm: from 23 kgf measured and its share with equal legs, s = 2·(share − 23 kgf)·g/k.
    """
    equal = expected(on_corners(measured_centre(), tmp_path))
    short = 2 * (equal["b"] - MEASURED["b"] * G) / 1000
    loads = expected(on_corners(measured_centre(), tmp_path, short))
    assert {name: load / G for name, load in loads.items()} == pytest.approx(MEASURED, abs=1e-6)
