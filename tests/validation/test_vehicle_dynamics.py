"""Jazar, Vehicle Dynamics: Theory and Application, chapter 2 "Forward vehicle dynamics", pages 41 and 90.

The book's example on page 44 is left out: its own equation does not give its printed answer.
"""

from pathlib import Path

import pytest

from tests.validation.cases import G, end_loads, expected, lump, pairs_along_x, solved, stand_job


def test_car_parked_level(tmp_path: Path) -> None:
    """Example 40, equations 2.15 to 2.20: l = 2.34 m, 2000 N a front wheel, 1800 N a rear one: a1 1.1084, a2 1.2316 m.

    Forward: with the centre of gravity at the printed place each wheel carries the given load.
    """
    job = stand_job(pairs_along_x({"front": 0.0, "rear": -2340.0}), [lump("car", "7600 N", [-1108.421, 0, 500])])
    stage = solved(job, tmp_path)[0]
    loads = expected(stage)
    assert loads["front left"] == pytest.approx(2000, abs=0.01)
    assert loads["front right"] == pytest.approx(2000, abs=0.01)
    assert loads["rear left"] == pytest.approx(1800, abs=0.01)
    assert loads["rear right"] == pytest.approx(1800, abs=0.01)
    to_front = 2.34 * (loads["rear left"] + loads["rear right"]) / 7600
    assert to_front == pytest.approx(1.1084, abs=5e-5)
    assert 2.34 - to_front == pytest.approx(1.2316, abs=5e-5)
    assert stage.statics.bodies[0].cg[0] == pytest.approx(-to_front, abs=1e-6)


@pytest.mark.parametrize(
    ("mass", "to_front", "to_rear", "front", "rear"),
    [(1765.0, 1220.0, 1620.0, 9876.7, 7438.0), (1245.0, 1100.0, 1323.0, 6668.8, 5544.7)],
)
def test_axle_loads(mass: float, to_front: float, to_rear: float, front: float, rear: float, tmp_path: Path) -> None:
    """Exercises 1 and 2, page 90 (not printed; derived with g = 9.81 by F1 = m g a2 / l)."""
    job = stand_job(
        pairs_along_x({"front": 0.0, "rear": -to_front - to_rear}), [lump("car", mass, [-to_front, 0, 500])]
    )
    loads = end_loads(solved(job, tmp_path)[0])
    assert loads["front"] / G * 9.81 == pytest.approx(front, abs=0.06)
    assert loads["rear"] / G * 9.81 == pytest.approx(rear, abs=0.06)
