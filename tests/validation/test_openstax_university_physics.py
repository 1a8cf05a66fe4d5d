"""OpenStax, University Physics Volume 1, chapter 12 "Static equilibrium and elasticity" (CC BY-NC-SA; figures only).

The book uses g = 9.8 m/s²: loads are compared as masses. A support of a beam is a symmetric pair of stands.
"""

from pathlib import Path

import pytest

from tests.validation.cases import G, end_loads, lump, pairs_along_x, solved, stand_job

BOOK_G = 9.8


def test_car_with_52_per_cent_on_its_front_wheels(tmp_path: Path) -> None:
    """Example 12.1: wheelbase 2.5 m, 52 % in front; the centre of gravity is 1.3 m ahead of the rear axle."""
    job = stand_job(pairs_along_x({"front": 0.0, "rear": -2500.0}), [lump("car", 1000, [-2500 + 1300, 0, 550])])
    stage = solved(job, tmp_path)[0]
    loads = end_loads(stage)
    assert loads["front"] / sum(loads.values()) == pytest.approx(0.52, abs=1e-12)
    assert loads["rear"] / sum(loads.values()) == pytest.approx(0.48, abs=1e-12)
    assert stage.statics.bodies[0].margin == pytest.approx(0.3, abs=1e-12)


def test_scaffold_on_two_ropes(tmp_path: Path) -> None:
    """Section 12.2, Check Your Understanding: 6.0 m, 70.0 kg, a person of 50 kg 1.5 m from one end: 710.5 and 465.5 N.

    The book prints 711.0 and 466.0 N, rounded up; as masses 72.5 and 47.5 kg.
    """
    parts = [lump("scaffold", 70.0, [3000, 0, 300]), lump("person", 50.0, [1500, 0, 1200])]
    loads = end_loads(solved(stand_job(pairs_along_x({"near": 0.0, "far": 6000.0}), parts), tmp_path)[0])
    assert loads["near"] / G == pytest.approx(72.5, abs=1e-9)
    assert loads["far"] / G == pytest.approx(47.5, abs=1e-9)
    assert loads["near"] / G * BOOK_G == pytest.approx(711.0, abs=0.51)
    assert loads["far"] / G * BOOK_G == pytest.approx(466.0, abs=0.51)


def test_painter_and_his_equipment(tmp_path: Path) -> None:
    """Section 12.2, problem: scaffold 40.0 kg, painter 80.0 kg, equipment 16.0 kg: left 888.5, right 444.3 N."""
    parts = [
        lump("scaffold", 40.0, [3000, 0, 300]),
        lump("painter", 80.0, [1000, 0, 1200]),
        lump("equipment", 16.0, [4500, 0, 500]),
    ]
    loads = end_loads(solved(stand_job(pairs_along_x({"left": 0.0, "right": 6000.0}), parts), tmp_path)[0])
    assert loads["left"] / G * BOOK_G == pytest.approx(888.5, abs=0.06)
    assert loads["right"] / G * BOOK_G == pytest.approx(444.3, abs=0.06)
    assert loads["left"] == pytest.approx(2 * loads["right"], rel=1e-12)


@pytest.mark.parametrize(("mass", "stands"), [(19.9, True), (20.0, False), (20.1, False)])
def test_plank_tips_when_20_kg_stand_on_its_free_end(mass: float, stands: object, tmp_path: Path) -> None:
    """Section 12.2, problem: plank 30 kg, 6.0 m, 1.8 m of it overhanging: 30·(4.2 − 3.0)/1.8 = 20 kg (derived)."""
    parts = [lump("plank", 30.0, [3000, 0, 300]), lump("mass", mass, [6000, 0, 300])]
    stage = solved(stand_job(pairs_along_x({"far": 0.0, "edge": 4200.0}), parts), tmp_path)[0]
    body = stage.statics.bodies[0]
    assert body.balanced is stands
    if body.balanced:
        assert body.margin == pytest.approx((30 * 1.2 - mass * 1.8) / (30 + mass), abs=1e-12)
    else:
        assert body.margin is None
