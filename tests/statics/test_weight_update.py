"""Weights from readings, with what the files say as prior knowledge."""

from math import sqrt
from pathlib import Path

import numpy as np
import pytest

from loadplan.limits import GRAVITY
from loadplan.statics.weight_update import fit_weights, rows_of, suspects, touch_for_certain
from tests.checks.small_jobs import lifted_job, unit_job
from tests.statics.learning import drawn, response_of, scale, two_bodies

THREE = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}


def on_three(**more: object) -> dict[str, object]:
    """400 kg on three stands, known to 8 kg, and hardly known where."""
    part = {"name": "block", "body": "unit", "mass": 400, "mass_pm": 8, "at": [0, 0, 500], "at_pm": 200}
    return unit_job(THREE, part=[part | more])  # type: ignore[arg-type]


def test_a_file_and_scales_weigh_in_by_their_squares(tmp_path: Path) -> None:
    """Holds JCGM 100, 5.1.2, and the weighted mean: 400 kg ± 8 kg by the file, 412 kg ± 2 √3 kg by three scales."""
    response = response_of(on_three(), tmp_path)
    loads = {"A": 103, "B": 103, "C": 206}
    read = tuple(scale(response, name, load * GRAVITY, 2 * GRAVITY) for name, load in loads.items())
    found = fit_weights(response, read)
    by_file, by_scales = 1 / 8**2, 1 / (2 * sqrt(3)) ** 2
    assert found.unknowns[0] == pytest.approx((400 * by_file + 412 * by_scales) / (by_file + by_scales), rel=1e-5)
    pm = 2 * sqrt(found.covariance[0, 0]) * response.spread[0]
    assert pm == pytest.approx(1 / sqrt(by_file + by_scales), rel=1e-3)
    assert found.consistent


def test_without_readings_the_file_stands(tmp_path: Path) -> None:
    response = response_of(on_three(), tmp_path)
    found = fit_weights(response, ())
    assert found.unknowns == pytest.approx(response.given)
    assert found.covariance == pytest.approx(np.eye(len(response.given)))
    assert found.consistent


def test_nothing_is_known_worse_than_before(tmp_path: Path) -> None:
    response = response_of(two_bodies(), tmp_path)
    for seed in range(5):
        told = drawn(response, ["A", "B", "E"], 10.0, np.random.default_rng(seed))
        found = fit_weights(response, told.read)
        assert (np.diag(found.covariance) <= 1 + 1e-12).all()


def test_a_scale_that_says_it_is_exact_is_not_believed_wholly(tmp_path: Path) -> None:
    response = response_of(on_three(), tmp_path)
    # Half of the 0.5 N that every scale is taken to be off: common practice, no source.
    assert scale(response, "A", 1.0, 0.0).spread == pytest.approx(0.25)


def test_a_stand_that_the_plan_has_idle_is_found_to_carry(tmp_path: Path) -> None:
    """Four stands, D set 3 mm low: by the plan it carries nothing. Truly it stands 3 mm higher than that."""
    places = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 300, 200], "D": [-400, -300, 200]}
    part = {"name": "block", "body": "unit", "mass": 400, "mass_pm": 8, "at": [0, 20, 500], "at_pm": 10}
    raw = unit_job(places, part=[part], limits={"uneven": 3})  # type: ignore[arg-type]
    for each in raw["support"]:
        each["height"] = 347 if each["name"] == "D" else 350
    response = response_of(raw, tmp_path)
    number = response.supports.index("D")
    truth = response.given.copy()
    truth[3 * len(response.weights) + number] = -0.003
    loads = response.loads(truth[None, :], 0.0)[0]
    assert response.loads(response.given[None, :], 0.0)[0][number] == 0 < loads[number]
    read = tuple(scale(response, name, float(loads[response.supports.index(name)]), 4.0) for name in "ABCD")
    assert fit_weights(response, read).consistent


def test_a_reading_that_contradicts_is_named(tmp_path: Path) -> None:
    """400 kg known to 8 kg and 5 mm: A and C fit, B reads 40 kg too much."""
    response = response_of(on_three(at_pm=5), tmp_path)
    loads = {"A": 100, "B": 140, "C": 200}
    read = tuple(scale(response, name, load * GRAVITY, 1 * GRAVITY) for name, load in loads.items())
    assert not fit_weights(response, read).consistent
    assert suspects(response, read)[0].reading.support == "B"
    fitting = (read[0], read[2])
    assert suspects(response, fitting) == ()


def lowered_job() -> dict[str, object]:
    """A shell of 800 kg and a unit of 400 kg in one, on four arms and four stands, set down by 4 mm."""
    raw = lifted_job()
    raw["part"] = [each | {"mass_pm": "5 %", "at_pm": 20} for each in raw["part"]]
    raw["stage"] = [raw["stage"][0] | {"lowered": 4}, raw["stage"][1]]
    return raw


def test_lowerings_tell_how_soft_the_arms_are(tmp_path: Path) -> None:
    """Scales under two stands at four lowerings: arms that are 1.4 times as stiff as given show as such."""
    response = response_of(lowered_job(), tmp_path, stiffness_open=True)
    truth = response.given.copy()
    truth[response.stiffness_from] = np.log(1.4)
    read = []
    for lower in (-0.002, 0.0, 0.002, 0.004):
        loads = response.loads(truth[None, :], lower)[0]
        read += [scale(response, name, float(loads[response.supports.index(name)]), 5.0, lower) for name in "AD"]
    found = fit_weights(response, tuple(read))
    left = sqrt(found.covariance[response.stiffness_from, response.stiffness_from])
    off = found.unknowns[response.stiffness_from] - np.log(1.4)
    assert left < 0.3
    assert abs(off) <= 2 * left * response.spread[response.stiffness_from]
    assert abs(off) < 0.05


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 2])
def test_plus_or_minus_covers_the_truth_as_often_as_it_says(tmp_path: Path, seed: int) -> None:
    """With k = 2, normal, 95.45 % of draws (JCGM 100, table G.1): here within 95 % ± 1.5 % over all figures."""
    response = response_of(two_bodies(), tmp_path)
    luck = np.random.default_rng(seed)
    held, fits = [], []
    figures = 3 * len(response.weights)
    for _ in range(500):
        told = drawn(response, list("ABCDEF"), 20.0, luck)
        found = fit_weights(response, told.read)
        pm = 2 * np.sqrt(np.diag(found.covariance)) * response.spread
        held.append((np.abs(found.unknowns - told.truth) <= pm)[:figures])
        fits.append(found.consistent)
    assert np.mean(held) == pytest.approx(0.95, abs=0.015)
    # Each figure by itself: three standard deviations of 500 draws are 0.03.
    assert np.mean(held, axis=0) == pytest.approx(np.full(figures, 0.9545), abs=0.035)
    assert np.mean(fits) >= 0.93


@pytest.mark.slow
def test_plus_or_minus_of_a_lowering_covers_the_truth_too(tmp_path: Path) -> None:
    """The same with scales under two stands at three lowerings; how soft arms are where all touched for certain."""
    raw = lowered_job()
    raw["limits"] = {"uneven": 1, "uneven_touch": 0.5}
    response = response_of(raw, tmp_path, stiffness_open=True)
    luck = np.random.default_rng(3)
    weights, arms, fits = [], [], []
    for _ in range(250):
        told = drawn(response, ["A", "D"], 20.0, luck, (-0.001, 0.0, 0.002))
        found = fit_weights(response, told.read)
        pm = 2 * np.sqrt(np.diag(found.covariance)) * response.spread
        held = np.abs(found.unknowns - told.truth) <= pm
        weights.append(held[: 3 * len(response.weights)])
        fits.append(found.consistent)
        if found.consistent and touch_for_certain(response, found, told.read):
            arms.append(held[response.stiffness_from])
    assert np.mean(weights) == pytest.approx(0.9545, abs=0.02)
    assert np.mean(fits) >= 0.92
    # Three standard deviations of a hundred draws or so are 0.06.
    assert len(arms) >= 50
    assert np.mean(arms) >= 0.9


@pytest.mark.slow
def test_a_biased_reading_is_named(tmp_path: Path) -> None:
    """A bias of eight standard deviations of what shows of it (Baarda 1968: the least detectable is some four)."""
    response = response_of(two_bodies(), tmp_path)
    luck = np.random.default_rng(4)
    named = 0
    for number in range(120):
        told = drawn(response, list("ABCDEF"), 20.0, luck)
        rows = rows_of(response, told.read, response.given)
        seen = np.diag(np.linalg.inv(np.eye(len(told.read)) + rows @ rows.T))
        which = number % len(told.read)
        off = 8 / sqrt(seen[which]) * told.read[which].spread
        honest = told.read[which].reading
        biased = scale(response, honest.support, (honest.load or 0.0) + off, honest.pm)
        read = (*told.read[:which], biased, *told.read[which + 1 :])
        named += honest.support in [each.reading.support for each in suspects(response, read)]
    assert named >= 0.95 * 120
