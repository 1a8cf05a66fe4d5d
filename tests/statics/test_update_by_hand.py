"""Weights from readings where all is linear, by hand: a mass on three stands, of which one bears a half."""

from collections.abc import Mapping
from dataclasses import replace
from math import sqrt

import numpy as np
import pytest

from loadplan.limits import GRAVITY
from loadplan.model.job import Job
from loadplan.statics import weight_update
from loadplan.statics.load_response import LoadResponse
from loadplan.statics.weight_update import (
    FINEST,
    FittedWeights,
    WeighedLoad,
    fit_weights,
    rows_of,
    spread_with,
    suspects,
    touch_for_certain,
)
from tests.statics import builders as make
from tests.statics.learning import scale
from tests.statics.test_load_response import on_arms_and_stands, response, two_groups

THREE = ((0.5, 0.5), (0.5, -0.5), (-0.5, 0.0))
"""A and B bear a quarter each of what lies in the middle, C a half."""

SHARES = {"A": 0.25, "B": 0.25, "C": 0.5}

SPREAD = 4.0
"""Standard uncertainty of the mass [kg]."""


def block(at_pm: float = 0.0, *, x: float = 0.0) -> Job:
    return make.job([make.part((x, 0.0), mass_pm=2 * SPREAD, at_pm=(at_pm, at_pm, 0.0))], make.stands(THREE))


def reads(of: LoadResponse, pm: float = 10.0, **heavier: float) -> tuple[WeighedLoad, ...]:
    """Scales that read as if it were so many kilograms heavier than the 100 kg of the file."""
    return tuple(scale(of, name, SHARES[name] * make.newton(100.0 + more), pm) for name, more in heavier.items())


@pytest.mark.parametrize("name", ["A", "C"])
@pytest.mark.parametrize(("heavier", "pm"), [(2.0, 10.0), (-3.0, 40.0), (0.0, 10.0)])
def test_one_scale_moves_the_mass_by_its_share_of_what_is_known(name: str, heavier: float, pm: float) -> None:
    """File: s = 4 kg. Scale: its plus or minus halved, over how much of the mass it bears. The mean weighs both."""
    of = response(block())
    found = fit_weights(of, reads(of, pm, **{name: heavier}))
    by_scale = pm / 2 / (SHARES[name] * GRAVITY)
    known = 1 / (1 / SPREAD**2 + 1 / by_scale**2)
    assert found.unknowns[0] == pytest.approx(100.0 + heavier * known / by_scale**2, rel=1e-9)
    assert found.unknowns[1:] == pytest.approx(of.given[1:])
    assert found.covariance[0, 0] * SPREAD**2 == pytest.approx(known, rel=1e-6)
    assert found.covariance[1:, 1:] == pytest.approx(np.eye(len(of.given) - 1), abs=1e-9)
    assert found.misfits == pytest.approx([heavier / sqrt(SPREAD**2 + by_scale**2)], abs=1e-6)
    assert found.squares == pytest.approx(heavier**2 / (SPREAD**2 + by_scale**2), abs=1e-6)


def fitted(squares: float, *misfits: float) -> FittedWeights:
    return FittedWeights(np.zeros(1), np.eye(1), squares, np.array(misfits))


@pytest.mark.parametrize(
    ("found", "agrees"),
    [
        (fitted(1.955**2, 1.955), True),
        (fitted(1.965**2, -1.965), False),
        (fitted(5.98, 1.0, -2.0), True),
        (fitted(6.00, 1.0, -2.0), False),
        (fitted(9.0), True),
    ],
    ids=["one", "one too far", "two", "two too far", "none"],
)
def test_readings_agree_unless_chance_is_less_than_one_in_twenty(found: FittedWeights, *, agrees: bool) -> None:
    """The normal law has 5 % beyond 1.960 standard deviations; chi-squared of two degrees of freedom beyond 5.991."""
    assert found.consistent is agrees


def named(monkeypatch: pytest.MonkeyPatch, fits: Mapping[str, FittedWeights], *, known: bool = False) -> str:
    """The readings that contradict, as what is left fits so."""
    of = response(block())
    tried: list[str] = []

    def fit(_: LoadResponse, read: tuple[WeighedLoad, ...]) -> FittedWeights:
        tried.append("".join(each.reading.support for each in read))
        return fits[tried[-1]]

    monkeypatch.setattr(weight_update, "fit_weights", fit)
    read = reads(of, A=0.0, B=0.0, C=0.0)
    found = suspects(of, read, fits["ABC"] if known else None)
    assert ("ABC" in tried) is not known
    return "".join(each.reading.support for each in found)


@pytest.mark.parametrize("known", [False, True])
@pytest.mark.parametrize(
    ("fits", "wrong"),
    [
        ({"ABC": fitted(7.0, 1.0, -2.0, 1.5)}, ""),
        ({"ABC": fitted(9.0, 1.0, -2.0, 1.5), "AC": fitted(5.0, 2.0, 1.0)}, "B"),
        ({"ABC": fitted(9.0, 1.0, 2.0, 2.5), "AB": fitted(8.0, -2.0, 1.0), "B": fitted(0.1, 0.3)}, "CA"),
        ({"ABC": fitted(9.0, 3.0, 2.0, -3.0)}, "AC"),
        ({"ABC": fitted(9.0, 3.0, 2.0, -3.0 * (1 - 5e-7))}, "AC"),
        ({"ABC": fitted(9.0, 3.0, 2.0, -3.0 * (1 - 5e-6)), "BC": fitted(0.0, 0.0, 0.0)}, "A"),
        (
            {
                "ABC": fitted(9.0, 1.0, 2.0, 2.5),
                "AB": fitted(8.0, -2.0, 1.0),
                "B": fitted(5.0, 2.3),
            },
            "CAB",
        ),
    ],
    ids=["none", "one", "two", "alike", "as good as alike", "not alike", "all"],
)
def test_the_one_that_is_furthest_off_is_set_aside_until_the_rest_agrees(
    fits: Mapping[str, FittedWeights], wrong: str, monkeypatch: pytest.MonkeyPatch, *, known: bool
) -> None:
    assert named(monkeypatch, fits, known=known) == wrong


def test_a_scale_is_as_coarse_as_it_says_and_never_finer_than_the_finest() -> None:
    of = response(block())
    coarse, exact = reads(of, 10.0, A=0.0) + reads(of, 0.1, A=0.0)
    assert (coarse.spread, exact.spread) == (5.0, FINEST / 2)
    assert (coarse.blunted(30.0).reading.pm, exact.blunted(30.0).reading.pm) == (300.0, 30 * FINEST)
    assert coarse.blunted(30.0).reading.load == coarse.reading.load


def test_rows_are_what_a_spread_of_each_unknown_changes_over_that_of_the_scale() -> None:
    """By hand: 4 kg, 10 mm along and across; the stands' heights tell nothing of a body on three."""
    of = response(block(0.02))
    rows = rows_of(of, reads(of, A=0.0, C=0.0), of.given)
    heavier, forward, left = (np.array(each) for each in ((0.25, 0.5), (0.5, -1.0), (0.5, 0.0)))
    assert rows[:, 0] == pytest.approx(heavier * SPREAD * GRAVITY / 5.0, rel=1e-6)
    assert rows[:, 1] == pytest.approx(forward * make.newton(100.0) * 0.01 / 5.0 * np.array([1.0, 1.0]), rel=1e-6)
    assert rows[:, 2] == pytest.approx(left * make.newton(100.0) * 0.01 / 5.0 * 2.0, rel=1e-6)
    assert rows[:, 3:] == pytest.approx(0.0, abs=1e-6)
    assert rows_of(of, (), of.given).shape == (0, len(of.given))


def test_where_a_step_as_wide_as_the_spread_tips_it_a_shorter_one_still_finds_the_mass() -> None:
    """The centre 30 mm behind the front stands, known to 100 mm."""
    of = response(block(0.2, x=0.47))
    carried = dict(zip(of.supports, of.loads(of.given[None, :], 0.0)[0], strict=True))
    read = tuple(scale(of, name, 1.02 * float(carried[name]), 4.0) for name in "AB")
    found = fit_weights(of, read)
    assert found.consistent
    assert found.unknowns[0] > of.given[0]
    now = dict(zip(of.supports, of.loads(found.unknowns[None, :], 0.0)[0], strict=True))
    assert [float(now[name]) for name in "AB"] == pytest.approx([1.02 * float(carried[name]) for name in "AB"], abs=1.0)


def fifth(gap: float) -> LoadResponse:
    """A stand in the middle of four that is set so much too low, give or take 3 mm."""
    middle = make.support("M", (0.0, 0.0), height=0.35)
    limits = replace(make.NO_LIMITS, uneven=0.003)
    job = make.job([make.part(mass=400.0)], [*make.stands(make.SQUARE), middle], limits=limits)
    return response(job, M=gap)


@pytest.mark.parametrize(("load", "seen"), [(20.0, False), (20.1, True)])
def test_a_scale_under_an_idle_stand_counts_where_it_reads_more_than_twice_what_it_may_be_off(
    load: float, *, seen: bool
) -> None:
    """Else nothing would make it carry: what changes a little does not reach it."""
    of = fifth(0.003)
    row = rows_of(of, (scale(of, "M", load, 10.0),), of.given)[0]
    assert bool(row.any()) is seen


def test_an_idle_stand_that_is_found_to_carry_stands_higher_than_set() -> None:
    """By hand, four of k and the fifth: its load (W - 4 k g) / 5, so 300 N leave a gap of (W - 1500 N) / 4 k."""
    of = fifth(0.003)
    found = fit_weights(of, (scale(of, "M", 300.0, 1.0),))
    assert found.consistent
    number = of.supports.index("M") + 3 * len(of.weights)
    gap = (make.newton(400.0) - 5 * 300.0) / 4e6
    assert 0.003 + found.unknowns[number] == pytest.approx(gap, abs=2e-6)


def test_what_carries_for_certain_is_above_nothing_by_more_than_its_plus_or_minus() -> None:
    """C bears 0.5 - x of 981 N: 25 N or 15 N, where the place may take 20 N off, k = 2."""
    for x, certain in ((0.475, True), (0.485, False)):
        of = response(block(0.02, x=x))
        assert touch_for_certain(of, fit_weights(of, ()), (scale(of, "A", 1.0, 1.0),)) is certain
    of = response(on_arms_and_stands())
    found = fit_weights(of, ())
    down, away = (scale(of, "B", 1.0, 1.0, lower) for lower in (0.0, 0.02))
    assert touch_for_certain(of, found, (down,))
    assert not touch_for_certain(of, found, (down, away))
    assert not touch_for_certain(of, found, (away, down))
    of = response(two_groups(), falls="other")
    of = replace(of, spread=np.zeros_like(of.spread))
    assert touch_for_certain(of, fit_weights(of, ()), (scale(of, "A", 1.0, 1.0),))


def test_what_would_be_known_if_more_were_read() -> None:
    """By hand: independent information adds up; a plus or minus is two standard uncertainties."""
    known = FittedWeights(np.zeros(2), np.diag([1.0, 0.25]), 0.0, np.zeros(0))
    price = np.array([3.0, 4.0])
    assert spread_with(known, np.zeros((0, 2)), price) == pytest.approx(2 * sqrt(9 + 4))
    assert spread_with(known, np.array([[2.0, 0.0]]), price) == pytest.approx(2 * sqrt(9 / 5 + 4))
    assert spread_with(known, np.array([[2.0, 0.0], [0.0, 6.0]]), price) == pytest.approx(2 * sqrt(9 / 5 + 16 / 40))
    assert spread_with(known, np.array([[1.0, 1.0]]), np.array([1.0, 0.0])) == pytest.approx(2 * sqrt(1 - 1 / 2.25))
