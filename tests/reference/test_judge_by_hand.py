"""The judge itself, held against values derived by hand, before it judges anything.

Sources: see each test. "Derived" values were worked out on paper for this project and recomputed.
"""

from itertools import product
from math import atan, degrees, sqrt
from typing import Any

import numpy as np
import pytest

from tests.reference import exact, scenes, tolerance
from tests.reference.figures import QUICK, Figures
from tests.reference.group import base_of
from tests.reference.leaning import upright
from tests.reference.random_jobs import random_job
from tests.reference.solver import judge

G = 9.80665
Spot = tuple[float, float]


def unit_on(spots: list[Spot], mass: float, at: Spot) -> dict[str, Any]:
    """Return a job: one body with one part on equal stands brought up to touch, names by number."""
    return {
        "body": [{"name": "unit"}],
        "part": [{"name": "unit", "body": "unit", "mass": mass, "mass_pm": 0, "at": [*at, 600], "at_pm": 0}],
        "equipment": [{"name": "stand", "kind": "stand", "rating": 9999, "rated_for": "each", "stiffness": 1000}],
        "support": [
            {"name": str(number), "use": "stand", "body": "unit", "at": [*spot, 200]}
            for number, spot in enumerate(spots)
        ],
        "stage": [{"name": "stands", "in_place": [str(number) for number in range(len(spots))]}],
    }


def loads(stage: Figures, share_of: float) -> list[float]:
    """Return the expected loads scaled to a total."""
    values = np.array(list(stage.expected.values()))
    return list(values / values.sum() * share_of)


def test_four_piers_with_the_load_off_centre_lift_one_off() -> None:
    """100 t at (2, 1) ft on piers at (±3, ±2) ft: 58.33, 25, 0, 16.67 by moments about the three that carry."""
    stage = judge(unit_on([(3, 2), (3, -2), (-3, -2), (-3, 2)], 100, (2, 1)))[0]
    assert loads(stage, 100) == pytest.approx([175 / 3, 25, 0, 50 / 3], abs=1e-9)


@pytest.mark.parametrize(
    ("at", "expected"),
    [((100, 60), [870, 630, 330, 570]), ((200, 150), [1200, 600, 0, 600]), ((300, 150), [1500, 600, 0, 300])],
)
def test_four_stands_inside_on_and_outside_the_kern(at: Spot, expected: list[float]) -> None:
    """Derived: W/4·(1 ± x/a ± y/b) inside the rhombus |x|/a + |y|/b = 1; three stands by moments outside."""
    stage = judge(unit_on([(400, 300), (400, -300), (-400, -300), (-400, 300)], 240, at))[0]
    assert loads(stage, 2400) == pytest.approx(expected, abs=1e-8)


@pytest.mark.parametrize(("short", "expected"), [(0.5, [0.875, 1.125, 0.875, 1.125]), (3.9, [0.025, 1.975] * 2)])
def test_a_short_leg_and_its_diagonal_lose_a_quarter_each(short: float, expected: list[float]) -> None:
    """Derived: warping (1, −1, 1, −1); k·short/4 goes from the short leg and its diagonal to the other two."""
    job = unit_on([(1000, 1000), (1000, -1000), (-1000, -1000), (-1000, 1000)], 4000 / G, (0, 0))
    for number, support in enumerate(job["support"]):
        support["height"] = 400 - (short if number == 0 else 0)
    assert loads(judge(job)[0], 4) == pytest.approx(expected, abs=1e-9)


def test_five_stands_askew() -> None:
    """Derived by the 3x3 system of equal and of unequal springs; W = 3000 at (550, 420)."""
    spots: list[Spot] = [(0, 400), (200, 0), (200, 800), (1100, 100), (1100, 700)]
    job = unit_on(spots, 300, (550, 420))
    assert loads(judge(job)[0], 3000) == pytest.approx([559.233, 526.913, 622.913, 609.470, 681.470], abs=1e-3)
    job["equipment"].append(job["equipment"][0] | {"name": "stiff", "stiffness": 2000})
    job["support"][1]["use"] = job["support"][4]["use"] = "stiff"
    assert loads(judge(job)[0], 3000) == pytest.approx([455.125, 768.583, 508.486, 360.505, 907.301], abs=1e-3)


def test_three_legs_of_a_triangular_table() -> None:
    """Equilateral top of 900 mm, 500 N at 325 mm from A and 625 mm from B: RA 291.976, RB 116.050, RC 91.973 N."""
    at = (875 / 3, 50 * sqrt(74) / 3)
    stage = judge(unit_on([(0, 0), (900, 0), (450, 450 * sqrt(3))], 50, at))[0]
    assert loads(stage, 500) == pytest.approx([291.976, 116.050, 91.973], abs=1e-3)


def test_six_stands_one_of_them_low_and_bounds_by_triples() -> None:
    """Six stands, one 4 mm low, W = 3400 N; loads and bounds worked out for this project by three solvers.

    Loads 374, 1054, 997.333, 317.333, 0, 657.333; bounds 0 to 1020, 1428, 1972, 1020, 1428, 1972.
    """
    spots: list[Spot] = [(0, 0), (600, 0), (600, 500), (0, 500), (300, 0), (300, 500)]
    job = unit_on(spots, 3400 / G, (420, 290))
    for number, support in enumerate(job["support"]):
        support["height"] = 400 - (4 if number == 4 else 0)
    stage = judge(job)[0]
    expected = [374, 1054, 997.3333333, 317.3333333, 0, 657.3333333]
    assert list(stage.expected.values()) == pytest.approx(expected, abs=1e-6)
    assert list(stage.most.values()) == pytest.approx([1020, 1428, 1972, 1020, 1428, 1972], abs=1e-5)
    assert list(stage.least.values()) == pytest.approx([0] * 6, abs=1e-5)


def test_margin_and_tip_angle_of_one_body() -> None:
    """Derived: 5-12-13 triangle: 250 mm inside the edge, 600 mm over it: atan(250 / 600) = 22.62°.

    On stands so hard that it does not lean: no saddle gives by more than a thousandth of a micrometre.
    """
    job = unit_on([(-500, -500), (-500, 500), (1000, -250), (1000, 250)], 300, (-250, 0))
    job["part"][0]["at"][2] = 800
    job["equipment"][0]["stiffness"] = 1e9
    job["limits"] = {"uneven": 0, "uneven_touch": 0}
    stage = judge(job)[0]
    assert stage.margin["unit"] == pytest.approx(250, abs=1e-9)
    assert stage.tip_angle["unit"] == pytest.approx(degrees(atan(250 / 600)), abs=1e-4)
    assert stage.tip_angle["unit"] == pytest.approx(22.62, abs=5e-3)
    assert stage.worst_margin["unit"] == pytest.approx(250 - 600 * np.tan(np.radians(0.6)), abs=1e-4)


def test_a_hinge_of_two_mounts_and_one_stand_holds_only_on_the_stands_side() -> None:
    """Derived: a beam of 100 kg on two mounts at x = 0 and a stand at x = 400, its weight at x = 100 or x = −1."""
    job = unit_on([(-500, -500), (-500, 500), (500, 500), (500, -500)], 50, (0, 0))
    job["body"].append({"name": "beam"})
    job["part"].append({"name": "beam", "body": "beam", "mass": 100, "mass_pm": 0, "at": [100, 0, 500], "at_pm": 0})
    job["joint"] = [
        {"name": f"mount {y}", "kind": "mount", "between": ["beam", "unit"], "at": [0, y, 400]} for y in (-200, 200)
    ]
    job["support"].append({"name": "E", "use": "stand", "body": "beam", "at": [400, 0, 300]})
    job["stage"][0]["in_place"].append("E")
    stage = judge(job)[0]
    assert stage.balanced == {"unit": True, "beam": True}
    assert stage.margin["beam"] == pytest.approx(100, abs=1e-9)
    job["part"][1]["at"][0] = -1
    assert judge(job)[0].balanced == {"unit": False, "beam": False}
    job["part"][1]["at"][0] = 0
    assert judge(job)[0].balanced == {"unit": False, "beam": False}
    job["stage"][0]["in_place"].remove("E")
    stage = judge(job)[0]
    assert not stage.balanced["beam"]
    assert not stage.rays["unit", "beam"]


def test_two_stands_are_free_even_with_the_weight_exactly_above() -> None:
    """A body on two stands, or on three in a line, is free to turn."""
    assert not judge(unit_on([(0, 0), (400, 0)], 100, (200, 0)))[0].balanced["unit"]
    assert not judge(unit_on([(0, 0), (400, 0), (800, 0)], 100, (300, 0)))[0].balanced["unit"]


@pytest.mark.parametrize("height", [None, 350])
def test_the_set_down_moves_load_from_soft_arms_to_stiff_stands(height: float | None) -> None:
    """Derived: lowered by 2 mm past first touch, stands in series with arms take k_s·k_a/(k_s + k_a)·2 mm each.

    A shell of 400 kg on four arms of 400 N/mm, a body bolted below it on four stands of 1000 N/mm, all symmetric.
    First touch is where it hangs, with stands brought up to it; with set ones 500 kg / (4 · 400 N/mm) above.
    """
    spots = [(500, 500), (500, -500), (-500, -500), (-500, 500)]
    job = unit_on([(float(x), float(y)) for x, y in spots], 100, (0, 0))
    job["body"].append({"name": "shell"})
    job["part"].append({"name": "shell", "body": "shell", "mass": 400, "mass_pm": 0, "at": [0, 0, 700], "at_pm": 0})
    job["joint"] = [{"name": "bolts", "kind": "bolted", "between": ["unit", "shell"], "at": [0, 0, 300]}]
    job["point"] = [{"name": f"pad {x} {y}", "body": "shell", "at": [2 * x, 2 * y, 200]} for x, y in spots]
    job["lift"] = {"use": "bay", "body": "shell", "pads": [point["name"] for point in job["point"]]}
    job["shop"] = {"equipment": job.pop("equipment"), "lift": [{"name": "bay", "rating": 4000, "arms": 4}]}
    job["stage"][0]["lowered"] = 2
    for support in job["support"]:
        support |= {} if height is None else {"height": height}
    stage = judge(job, QUICK)[0]
    assert [stage.expected[str(n)] for n in range(4)] == pytest.approx([2 * 1000 * 400 / 1400] * 4, abs=1e-6)
    assert stage.set_down.level == pytest.approx(2 - (500 * G / 1600 if height else 0), abs=1e-9)


@pytest.mark.slow
def test_farkas_programme_and_rays_agree() -> None:
    """The cone's least work is below 0 exactly where some ray's is; the programme knows nothing of rays."""
    tipped = 0
    for seed in range(54):
        for stage in judge(random_job(seed), QUICK):
            for names, rays in stage.rays.items():
                if rays:
                    least = tolerance.farkas_work(stage.frames[names], stage.weights[names])
                    assert (least < -1e-9) == any(ray.work < 0 for ray in rays)
                    tipped += least < -1e-9
    assert tipped > 5


def test_worst_ratio_by_bisection_and_by_programme_agree() -> None:
    """Two methods for the worst margin: corners and bisection, and Charnes and Cooper's linear programme."""
    compared = 0
    for seed in (0, 3, 11, 28, 12, 17):
        job = random_job(seed)
        for stage in judge(job, QUICK)[:2]:
            for names, frame in stage.frames.items():
                if stage.balanced[names[0]] and len(frame.scene.subsets) == 1:
                    _compare_worst(stage, names, scenes.read_plan(job).slope)
                    compared += 1
    assert compared > 4


def _compare_worst(stage: Figures, names: tuple[str, ...], slope: float) -> None:
    frame = stage.frames[names]
    bases = {whole: base_of(frame, whole) or 0.0 for whole in frame.wholes}
    for place, whole in enumerate(frame.wholes):
        values = [
            tolerance.worst_by_programme(frame, ray, whole, (slope, dict(zip(turning, signs, strict=True)), bases))
            for ray in stage.rays[names]
            if ray.turns[place]
            for turning in [[number for number, turn in enumerate(ray.turns) if turn]]
            for signs in product((-1, 1), repeat=len(turning))
        ]
        if values:
            floor = tolerance.Floor(slope, bases, upright(frame))
            assert tolerance.worst_ratio(frame, stage.rays[names], whole, floor) == pytest.approx(min(values), abs=1e-5)


def test_null_space_is_exact() -> None:
    """(1, 2, 3) and (2, 4, 6.5) leave (−2, 1, 0) free."""
    rows = [tuple(exact.exact(value) for value in row) for row in ((1.0, 2.0, 3.0), (2.0, 4.0, 6.5))]
    assert [[int(value) for value in row] for row in exact.null_space(rows, 3)] == [[-2, 1, 0]]
