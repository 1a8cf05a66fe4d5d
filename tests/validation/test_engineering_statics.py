"""Baker and Haynes, Engineering Statics: Open and Interactive, chapter 7 (CC BY-NC-SA; figures only).

Cases by the xml:id of the example.
"""

from pathlib import Path

import pytest

from loadplan.model.verdict import StageAssessment
from tests.validation.cases import EXACT, FOOT, INCH, G, end_loads, lump, pairs_along_x, solved, stand_job

POUND = 0.45359237


def test_beam_reactions(tmp_path: Path) -> None:
    """Chapter_07-example-beam-reactions: A = 196.7 lb, B = 393.3 lb.

    12 lb/in from 0 to 10 in (120 lb at 5 in), pin A at 10 in, 100 lb at 16, 150 lb at 22, 100 lb at 28 in over
    roller B, 12 lb/in from 34 to 44 in (120 lb at 39 in). By moments about A: B = (600 + 1800 + 1800 + 3480 − 600)/18.
    """
    loads_at = {"first stretch": (120, 5), "one": (100, 16), "two": (150, 22), "three": (100, 28), "last": (120, 39)}
    parts = [lump(name, f"{load} lb", [x * INCH, 0, 300]) for name, (load, x) in loads_at.items()]
    ends = pairs_along_x({"A": 10 * INCH, "B": 28 * INCH})
    loads = end_loads(solved(stand_job(ends, parts), tmp_path)[0])
    assert loads["A"] / G / POUND == pytest.approx(196.7, abs=0.05)
    assert loads["B"] / G / POUND == pytest.approx(393.3, abs=0.05)
    assert loads["B"] / G / POUND == pytest.approx(7080 / 18, abs=1e-9)
    assert sum(loads.values()) / G / POUND == pytest.approx(590, abs=1e-9)


@pytest.mark.parametrize(("origin", "printed"), [(0.0, 0.8), (2000.0, -1.2)])
def test_simple_centre_of_gravity(origin: float, printed: float, tmp_path: Path) -> None:
    """Chapter_07 simple-center-of-gravity: 50 N at 0, 10 N at 1.2, 30 N at 2.0 m: 0.8 m; from the last box −1.2 m."""
    weights = {"first": ("50 N", 0), "second": ("10 N", 1200), "third": ("30 N", 2000)}
    parts = [lump(name, weight, [x - origin, 0, 300]) for name, (weight, x) in weights.items()]
    ends = pairs_along_x({"a": -origin, "b": 2000 - origin})
    stage = solved(stand_job(ends, parts), tmp_path)[0]
    assert stage.statics.bodies[0].cg[0] == pytest.approx(printed, abs=1e-12)
    assert stage.statics.bodies[0].mass * G == pytest.approx(90, abs=1e-9)


def test_block_with_a_hole_and_a_wedge(tmp_path: Path) -> None:
    """Chapter_07 3d-center-of-mass: ΣW 26 633 lb, centre (−3.22, 2.59, 3.37) ft, by taking the hole's weight away.

    Block 27 000 lb at (−3, 2, 4.5) ft and wedge 5 916 lb at (−4, 4.67, 1) ft weighed together; the core of 6 283 lb at
    (−3, 2, 6) ft comes off. ΣWx = −85 814, ΣWy = 69 042, ΣWz = 89 717 ft·lb as printed.
    """
    stage = _block(tmp_path)
    body = stage.statics.bodies[0]
    pounds = body.mass / POUND
    assert pounds == pytest.approx(26633, abs=1e-6)
    feet = [value * 1000 / FOOT for value in body.cg]
    assert feet == pytest.approx([-3.22, 2.59, 3.37], abs=0.005)
    assert [pounds * value for value in feet] == pytest.approx([-85814, 69042, 89717], abs=20)


def _block(folder: Path) -> StageAssessment:
    weights = {"block": (27000, (-3, 2, 4.5)), "wedge": (5916, (-4, 4.67, 1))}
    total = sum(weight for weight, _ in weights.values())
    middle = [sum(weight * at[axis] for weight, at in weights.values()) / total * FOOT for axis in range(3)]
    parts = [
        lump("rest", f"{total - 6283} lb", middle),
        lump("core", "6283 lb", [-3 * FOOT, 2 * FOOT, 6 * FOOT]),
    ]
    spots = {f"{x} {y}": [x * FOOT, y * FOOT, 0.0] for x in (-6, 0) for y in (-1, 6)}
    job = stand_job(spots, parts)
    weighed = {"mass": f"{total} lb", "cg": middle, "mass_pm": EXACT["mass_pm"], "cg_pm": [0, 0, 0]}
    job["body"][0]["weighed"] = weighed
    job["stage"].append({"name": "core out", "off": ["core"]})
    return solved(job, folder)[1]
