"""Limits of weights by file and scales together: by hand, and that the truth is always inside them."""

from pathlib import Path

import numpy as np
import pytest

from loadplan.limits import GRAVITY
from loadplan.statics.weight_limits import weight_limits
from tests.checks.small_jobs import unit_job
from tests.statics.learning import response_of, scale, two_bodies

THREE = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}


def on_three(**more: object) -> dict[str, object]:
    """400 kg known to 80 kg, its place known exactly: a quarter on A, a quarter on B, half on C."""
    part = {"name": "block", "body": "unit", "mass": 400, "mass_pm": 80, "at": [0, 0, 500], "at_pm": 0}
    return unit_job(THREE, part=[part | more])  # type: ignore[arg-type]


def test_a_scale_bounds_the_mass_by_balance(tmp_path: Path) -> None:
    """By hand: A bears a quarter, 102 kg ± 1 kg, so it weighs 404 to 412 kg."""
    response = response_of(on_three(), tmp_path)
    found = weight_limits(response, (scale(response, "A", 102 * GRAVITY, GRAVITY),))
    assert found is not None
    assert (found.low[0], found.high[0]) == pytest.approx((404, 412), abs=1e-3)
    assert (found.low[1:], found.high[1:]) == (pytest.approx(0), pytest.approx(0))


def test_a_place_is_bounded_by_moments_over_the_mass(tmp_path: Path) -> None:
    """By hand: of 400 kg known exactly C bears (0.4 - x) / 0.8: 190 kg ± 2 kg puts x between 16 and 24 mm."""
    response = response_of(on_three(mass_pm=0, at_pm=60), tmp_path)
    found = weight_limits(response, (scale(response, "C", 190 * GRAVITY, 2 * GRAVITY),))
    assert found is not None
    assert (found.low[1], found.high[1]) == pytest.approx((0.016, 0.024), abs=1e-5)
    assert (found.low[2], found.high[2]) == pytest.approx((-0.06, 0.06), abs=1e-5)


def test_what_no_weights_inside_the_tolerances_do_has_no_limits(tmp_path: Path) -> None:
    response = response_of(on_three(), tmp_path)
    assert weight_limits(response, (scale(response, "A", 200 * GRAVITY, GRAVITY),)) is None


def test_without_a_scale_the_file_stands(tmp_path: Path) -> None:
    response = response_of(on_three(at_pm=60), tmp_path)
    found = weight_limits(response, ())
    assert found is not None
    assert (found.low, found.high) == (pytest.approx([320, -0.06, -0.06]), pytest.approx([480, 0.06, 0.06]))


def test_whatever_touches_the_truth_is_inside(tmp_path: Path) -> None:
    """Saddles a little off make stands carry more or less than planned: of that nothing is taken for granted."""
    response = response_of(two_bodies(), tmp_path)
    luck, figures = np.random.default_rng(5), 3 * len(response.weights)
    narrower = 0
    for _ in range(12):
        truth = response.given.copy()
        truth[:figures] += 2 * luck.choice([-1.0, 1.0, 0.5], figures) * response.spread[:figures]
        saddles = slice(figures, response.stiffness_from)
        truth[saddles] += luck.choice([-1.0, 1.0], response.stiffness_from - figures) * response.spread[saddles]
        loads = response.loads(truth[None, :], 0.0)[0]
        read = tuple(
            scale(response, name, max(float(load) + luck.uniform(-9, 9), 0.0), 10.0)
            for name, load in zip(response.supports, loads, strict=True)
        )
        found = weight_limits(response, read)
        assert found is not None
        assert (found.low <= truth[:figures]).all()
        assert (truth[:figures] <= found.high).all()
        given = response.given[:figures]
        narrower += bool(((found.high - found.low) < 3.9 * response.spread[:figures])[given > 50].any())
    assert narrower >= 6
