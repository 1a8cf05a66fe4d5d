"""A rigid body on springs that all stay in touch: the pile-group formula and its matrix form (derived here).

R_i = k_i (a + b x_i + c y_i) with a, b, c from ΣR = W, ΣR x = W x_W, ΣR y = W y_W; general pile-cap texts (with unequal
stiffness: Den Hartog). Six stands and five askew ones: worked out for this project, all supports loaded.
"""

from pathlib import Path

import numpy as np
import pytest

from tests.validation.cases import expected, lump, solved, stand_job

SIX = [(0, 0), (0, 800), (700, 0), (700, 800), (1500, 0), (1500, 800)]
FIVE = [(0, 400), (200, 0), (200, 800), (1100, 100), (1100, 700)]


def by_matrix(spots: list[tuple[int, int]], stiffness: list[float], at: tuple[float, float]) -> list[float]:
    """Return R_i = k_i (a + b x_i + c y_i) for W = 3000 N by the 3 x 3 system."""
    rows = np.array([[1, x, y] for x, y in spots], dtype=float)
    weighted = rows * np.array(stiffness)[:, None]
    plane = np.linalg.solve(rows.T @ weighted, 3000 * np.array([1, *at]))
    return list(weighted @ plane)


def loads_of(
    spots: list[tuple[int, int]], stiffness: list[float], at: tuple[float, float], folder: Path
) -> list[float]:
    """Return the loads of stands of these stiffnesses [thousand N/mm] under 3000 N."""
    job = stand_job({str(n): [x, y, 200.0] for n, (x, y) in enumerate(spots)}, [lump("load", "3000 N", [*at, 700])])
    job["equipment"] = [
        job["equipment"][0] | {"name": f"stand {value}", "stiffness": 1000 * value} for value in set(stiffness)
    ]
    for support, value in zip(job["support"], stiffness, strict=True):
        support["use"] = f"stand {value}"
    return list(expected(solved(job, folder)[0]).values())


@pytest.mark.parametrize(
    ("spots", "stiffness", "at", "loads"),
    [
        (SIX, [1.0] * 6, (600, 450), [567.678, 692.678, 443.417, 568.417, 301.405, 426.405]),
        (FIVE, [1.0] * 5, (550, 420), [559.233, 526.913, 622.913, 609.470, 681.470]),
        (FIVE, [1.0, 2.0, 1.0, 1.0, 2.0], (550, 420), [455.125, 768.583, 508.486, 360.505, 907.301]),
    ],
)
def test_all_supports_loaded(
    spots: list[tuple[int, int]],
    stiffness: list[float],
    at: tuple[float, float],
    loads: list[float],
    tmp_path: Path,
) -> None:
    """Six stands, centroid (733.3, 400) mm; five askew (Ixy ≠ 0) with equal and with unequal springs."""
    found = loads_of(spots, stiffness, at, tmp_path)
    assert found == pytest.approx(by_matrix(spots, stiffness, at), abs=1e-9)
    assert found == pytest.approx(loads, abs=1e-3)


def test_one_low_stand_of_six_lifts_off(tmp_path: Path) -> None:
    """3400 N, one of six stands 4 mm low: 374, 1054, 997.333, 317.333, 0, 657.333 N (three solvers agreed)."""
    spots = [(0, 0), (600, 0), (600, 500), (0, 500), (300, 0), (300, 500)]
    places = {str(n): [x, y, 200.0] for n, (x, y) in enumerate(spots)}
    job = stand_job(places, [lump("load", "3400 N", [420, 290, 700])])
    for support in job["support"]:
        support["height"] = 396 if support["name"] == "4" else 400
    loads = list(expected(solved(job, tmp_path)[0]).values())
    assert loads == pytest.approx([374, 1054, 2992 / 3, 952 / 3, 0, 1972 / 3], abs=1e-6)


def test_a_stand_inside_the_polygon_lifts_off_though_all_is_balanced(tmp_path: Path) -> None:
    """3400 N at (120, 40) mm on stands at the corners of 600 x 500 mm: 2448, 680, 0, 272 N; 40 mm to tipping."""
    places = {"a": [0.0, 0.0, 200.0], "b": [600.0, 0.0, 200.0], "c": [600.0, 500.0, 200.0], "d": [0.0, 500.0, 200.0]}
    stage = solved(stand_job(places, [lump("load", "3400 N", [120, 40, 700])]), tmp_path)[0]
    assert list(expected(stage).values()) == pytest.approx([2448, 680, 0, 272], abs=1e-8)
    assert stage.statics.bodies[0].margin == pytest.approx(0.040, abs=1e-12)
