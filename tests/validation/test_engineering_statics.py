"""Baker and Haynes, Engineering Statics: Open and Interactive, chapters 7 and 9 (CC BY-NC-SA; figures only).

Cases by the xml:id of the example.
"""

from math import cos, radians, sin, tan
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


WEDGE, BLOCK, GRIP = radians(25), 10.0, 0.20
"""Angle of the wedge, weight of the block [lb], friction on both faces of the wedge."""


def pulled(pounds: float, towards: list[float], folder: Path) -> float:
    """Return how much of a pull [lb] slides a weight on four stands of the wedge's friction."""
    spots = {f"{x} {y}": [x, y, 0.0] for x in (-300, 300) for y in (-300, 300)}
    job = stand_job(spots, [lump("block", f"{pounds} lb", [0, 0, 0])])
    job["equipment"][0]["friction"] = GRIP
    job["stage"][0]["pull"] = {"body": "unit", "at": [0, 0, 0], "force": "1 lbf", "towards": towards}
    pull = solved(job, folder)[0].statics.pull
    assert pull is not None
    assert pull.factor is not None
    assert pull.first == "slides"
    return pull.factor


def roller(way: int, folder: Path) -> tuple[float, float, float]:
    """Return force of the roller, normal force and friction at the wedge's upper face [lb] when the block slides on it.

    No stand is a wedge, so the picture is turned by 25° until that face is level and square to our saddles. Beside it
    the block feels its weight and the roller, which now slant. The weight W is as much as W / cos 25° straight down and
    W tan 25° the roller's way; what the roller does beyond that is a pull, and our block must say when it slides under
    it: up the face (way 1), which presses it on, or down the face (way −1), which eases it.
    """
    down = BLOCK / cos(WEDGE)
    pull = pulled(down, [way * cos(WEDGE), 0, -way * sin(WEDGE)], folder)
    return BLOCK * tan(WEDGE) + way * pull, down + way * pull * sin(WEDGE), pull * cos(WEDGE)


def test_wedge_that_raises_a_block(tmp_path: Path) -> None:
    """Chapter_09 wedge-example: N2 = 12.17, F2 = 2.43 and P = 9.35 lb raise the block."""
    held, normal, friction = roller(1, tmp_path)
    assert normal == pytest.approx(12.17, abs=5e-3)
    assert friction == pytest.approx(2.43, abs=5e-3)
    assert held + pulled(BLOCK, [1, 0, 0], tmp_path) == pytest.approx(9.35, abs=5e-3)


def test_wedge_that_slips_out_again(tmp_path: Path) -> None:
    """Chapter_09, the exercise after it: P' = 0.436 lb keeps the wedge in; 25° with friction 0.2 do not hold alone."""
    held, _, _ = roller(-1, tmp_path)
    assert held - pulled(BLOCK, [-1, 0, 0], tmp_path) == pytest.approx(0.436, abs=5e-4)
