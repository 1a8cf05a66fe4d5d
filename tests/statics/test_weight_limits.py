"""Limits of weights by file and scales together: by hand, and that the truth is always inside them."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from loadplan.limits import GRAVITY
from loadplan.model.job import Stage
from loadplan.statics.weight_limits import WeightLimits, limits_together, weight_limits
from loadplan.statics.weight_update import FINEST
from tests.checks.small_jobs import unit_job
from tests.statics import builders as make
from tests.statics.learning import response_of, scale, two_bodies
from tests.statics.test_load_response import hung, on_arms_and_stands, response, two_groups

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


KG = GRAVITY


def kept(found: WeightLimits | None, weight: int = 0, figure: int = 0) -> tuple[float, float]:
    """Least and most of a figure: mass, x or y."""
    assert found is not None
    return float(found.low[3 * weight + figure]), float(found.high[3 * weight + figure])


def test_where_the_moment_is_known_a_place_is_furthest_with_the_mass_that_lets_it() -> None:
    """By hand: C bears 150 kg ± 1 kg of 400 kg ± 10 kg; over its 0.8 m that leaves 35.2 to 44.8 kg m forward.

    To the other side of the middle the same: the lighter it is the further it lies.
    """
    triangle = ((0.4, 0.3), (0.4, -0.3), (-0.4, 0.0))
    block = replace(make.part(mass=400.0), mass_pm=10.0, at_pm=(0.2, 0.0, 0.0))
    for way in (1, -1):
        of = response(make.job([block], make.stands([(way * x, y) for x, y in triangle])))
        found = weight_limits(of, (scale(of, "C", 150 * KG, KG),))
        ends = sorted((way * 35.2 / 410, way * 44.8 / 390))
        assert kept(found, figure=1) == pytest.approx(ends, abs=1e-6)
        assert kept(found) == pytest.approx((390, 410), abs=1e-4)
        assert kept(found, figure=2) == pytest.approx((0, 0), abs=1e-6)
        aside = replace(block, at_pm=(0.0, 0.2, 0.0))
        of = response(make.job([aside], make.stands([(y, way * x) for x, y in triangle])))
        found = weight_limits(of, (scale(of, "C", 150 * KG, KG),))
        assert kept(found, figure=2) == pytest.approx(ends, abs=1e-6)
        assert kept(found, figure=1) == pytest.approx((0, 0), abs=1e-6)


def test_what_may_weigh_nothing_lies_anywhere_inside_its_file() -> None:
    """The other is bounded by what the scales say of both.

    By hand, front and rear off by f and r, 2 kg at most each: m ≤ 20 + f + r, and 0.05 m ≤ 0.5 (f - r): 240 / 11 kg.
    """
    parts = [
        make.part((0.1, 0.0), 20.0, mass_pm=25.0, at_pm=(0.05, 0.02, 0.0)),
        make.part(mass=300.0, name="block", mass_pm=20.0),
    ]
    of = response(make.job(parts, make.stands(make.SQUARE)))
    total = [scale(of, name, 75 * KG, KG) for name in "ABCD"]
    found = weight_limits(of, tuple(total))
    assert kept(found) == pytest.approx((0, 240 / 11), abs=1e-4)
    assert kept(found, figure=1) == pytest.approx((0.05, 0.15))
    assert kept(found, figure=2) == pytest.approx((-0.02, 0.02))
    assert kept(found, 1) == pytest.approx((280, 304), abs=1e-4)


def test_what_scales_say_of_several_weights_together_is_narrower_than_of_each() -> None:
    """Two of 100 kg ± 20 kg, one 0.2 m forward, one as far back; both together weigh 210 kg ± 4 kg."""
    parts = [make.part((0.2, 0.0), mass_pm=20.0), make.part((-0.2, 0.0), name="other", mass_pm=20.0)]
    of = response(make.job(parts, make.stands(make.SQUARE)))
    read = tuple(scale(of, name, 52.5 * KG, KG) for name in "ABCD")
    found = limits_together(of, read, [(0, 1), (1,)])
    assert kept(found) == pytest.approx((206, 214), abs=1e-3)
    # Front and rear scales differ by 4 kg at most, over half a metre each: 2 kg m of at least 206 kg.
    assert kept(found, figure=1) == pytest.approx((-2 / 206, 2 / 206), abs=1e-5)
    assert kept(found, figure=2) == pytest.approx((0, 0), abs=1e-6)
    # The rear one: half of the sum, and 2.5 times half of by how much the rear scales read more.
    assert kept(found, 1) == pytest.approx((100, 110), abs=1e-3)


def test_scales_tell_of_each_other_only_where_the_lift_stood_alike() -> None:
    """Two arms across one diagonal, two stands across the other: it weighs twice what one of each carries."""
    of = response(on_arms_and_stands())
    doubted = replace(of, weights=(replace(of.weights[0], mass_pm=100.0),))
    for other, wanted in ((0.0, (976, 984)), (0.001, (900, 1100))):
        read = scale(of, "pad 1", 200 * KG, KG), scale(of, "B", 290 * KG, KG, other)
        assert kept(weight_limits(doubted, read)) == pytest.approx(wanted, abs=1e-3)
        assert kept(weight_limits(doubted, read[::-1])) == pytest.approx(wanted, abs=1e-3)
    both = [scale(of, "pad 1", 200 * KG, KG, low) for low in (0.0, 0.002)]
    both += [scale(of, "B", 290 * KG, KG), scale(of, "B", 293 * KG, KG, 0.002)]
    assert kept(weight_limits(doubted, tuple(both))) == pytest.approx((982, 984), abs=1e-3)


def test_a_scale_that_says_it_is_exact_is_taken_for_the_finest_there_is() -> None:
    of = response(make.job([make.part(mass_pm=20.0)], make.stands(make.SQUARE)))
    read = tuple(scale(of, name, 26 * KG, 0.0) for name in "ABCD")
    assert kept(weight_limits(of, read)) == pytest.approx((104 - 4 * FINEST / KG, 104 + 4 * FINEST / KG), abs=1e-4)


def test_forces_between_assemblies_are_left_open_and_their_sum_is_not() -> None:
    """A unit of 300 kg ± 20 kg under a shell of 900 kg: stands and arms are read, and may share as they like."""
    of = response(hung())
    read = [scale(of, name, 40 * KG, KG) for name in "ABCD"]
    read += [scale(of, f"pad {number}", 262.5 * KG, KG) for number in range(1, 5)]
    assert kept(weight_limits(of, tuple(read))) == pytest.approx((302, 318), abs=1e-3)
    # Of one assembly's scales alone nothing follows: mounts hold the rest.
    assert kept(weight_limits(of, tuple(read[:4]))) == pytest.approx((280, 320))


def test_each_group_is_balanced_by_its_own_scales_and_a_part_that_is_off_lightens_its_whole() -> None:
    of = response(two_groups())
    carried = {"f0": 31.5, "f1": 9.45, "f2": 22.05}
    found = weight_limits(of, tuple(scale(of, name, load * KG, 0.5 * KG) for name, load in carried.items()))
    assert kept(found) == pytest.approx((61.5, 64.5), abs=1e-3)
    assert kept(found, 1) == pytest.approx((92, 108))
    assert kept(found, 2) == pytest.approx((38, 42))
    lid = make.part((0.0, 0.0), 40.0, name="lid", mass_pm=10.0)
    stages = [Stage("all", tuple("ABCD")), Stage("off", off=("lid",))]
    whole = {"unit": make.weighed(150.0, (0.0, 0.0, 0.4))}
    of = response(make.job([lid, make.part()], make.stands(make.SQUARE), stages=stages, whole=whole))
    names = [each.part for each in of.weights]
    found = weight_limits(of, tuple(scale(of, name, 26.25 * KG, 3 * KG) for name in "ABCD"))
    assert kept(found, names.index("lid")) == pytest.approx((33, 50), abs=1e-3)
