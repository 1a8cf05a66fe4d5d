"""OpenStax, University Physics Volume 1, chapter 12 "Static equilibrium and elasticity" (CC BY-NC-SA; figures only).

The book uses g = 9.8 m/s²: loads are compared as masses. A support of a beam is a symmetric pair of stands.
A ladder's wall is a push at its top.
"""

from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin, sqrt
from pathlib import Path

import pytest

from loadplan.model.verdict import StageAssessment
from tests.reference.random_jobs import Job
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


@dataclass(frozen=True)
class Leaning:
    """A ladder on level ground against a smooth wall at x = 0: foot [mm], height of its top [mm], what it weighs."""

    foot: float
    top: float
    parts: list[Job]

    def pushed(self, friction: float, folder: Path) -> StageAssessment:
        """Push it off the wall at its top with 1 N, on rails at its foot and, to stand without the wall, under its top.

        What the wall does is that push. It reaches what the wall needs when the rail under the top is out of work: then
        the ladder begins to turn about its foot, unless its foot slides before.
        """
        job = stand_job(pairs_along_x({"foot": -self.foot, "top": 0.0}), self.parts)
        job["equipment"][0]["friction"] = friction
        job["stage"][0]["pull"] = {"body": "unit", "at": [0, 0, 200 + self.top], "force": 1, "towards": [-1, 0, 0]}
        return solved(job, folder)[0]


def answer_of(stage: StageAssessment) -> tuple[str, float]:
    """Return what happens first, and the push [N] at which it does."""
    pull = stage.statics.pull
    assert pull is not None
    assert pull.factor is not None
    return pull.first, pull.factor * pull.force


def test_ladder_against_a_smooth_wall(tmp_path: Path) -> None:
    """Example 12.5: 5.0 m, 400.0 N, at 53°: wall 150.7 N, friction coefficient 0.377, resultant 427.4 N at 69.3°.

    The angle is 69.35°; the book cuts it off.
    """
    along, up = cos(radians(53)), sin(radians(53))
    ladder = Leaning(5000 * along, 5000 * up, [lump("ladder", "400 N", [-2500 * along, 0, 200 + 2500 * up])])
    stage = ladder.pushed(0.38, tmp_path)
    first, wall = answer_of(stage)
    weight = sum(end_loads(stage).values())
    assert (first, weight) == ("tips", pytest.approx(400.0, abs=1e-9))
    assert wall == pytest.approx(150.7, abs=0.05)
    assert hypot(weight, wall) == pytest.approx(427.4, abs=0.1)
    assert degrees(atan2(weight, wall)) == pytest.approx(69.35, abs=0.01)
    first, held = answer_of(ladder.pushed(0.374, tmp_path))
    assert (first, held) == ("slides", pytest.approx(0.374 * 400, rel=1e-9))
    assert answer_of(ladder.pushed(0.3765, tmp_path))[0] == "slides"
    assert answer_of(ladder.pushed(0.3775, tmp_path))[0] == "tips"


def test_ladder_with_a_person_on_it(tmp_path: Path) -> None:
    """Section 12.2, problem: 6.00 m, 10.0 kg at 2.00 m, foot 2.00 m off, 70.0 kg at 3.00 m: 784 N, friction 132.8 N."""
    top = 1000 * sqrt(6.0**2 - 2.0**2)
    on_it = {"ladder": (10.0, 2 / 6), "person": (70.0, 3 / 6)}
    parts = [lump(name, mass, [-2000 * (1 - up), 0, 200 + top * up]) for name, (mass, up) in on_it.items()]
    stage = Leaning(2000, top, parts).pushed(0.5, tmp_path)
    first, friction = answer_of(stage)
    assert first == "tips"
    assert sum(end_loads(stage).values()) / G * BOOK_G == pytest.approx(784, abs=0.01)
    # The book rounds; the push tilts what it pushes, which takes half a thousandth off.
    assert friction / G * BOOK_G == pytest.approx(132.8, rel=1e-3)
