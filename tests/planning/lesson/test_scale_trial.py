"""The bench trial: a tray on four blocks against moments taken by hand."""

from datetime import date

import pytest

from loadplan.assess import assess
from loadplan.limits import GRAVITY
from loadplan.model.shop import Square
from loadplan.planning.lesson.scale_trial import BRICK, LONG, TRAY, WIDE, ScaleTrial, bench_trial, tray_job


@pytest.fixture(scope="module")
def bench() -> ScaleTrial:
    return bench_trial()


def test_in_the_middle_each_carries_a_quarter(bench: ScaleTrial) -> None:
    assert [load for _, load in bench.trials[0].loads] == pytest.approx([(TRAY + BRICK) * GRAVITY / 4] * 4)


def test_near_a_corner_three_carry_by_moments_and_the_fourth_nothing(bench: ScaleTrial) -> None:
    """The brick is LONG / 5 and 2 WIDE / 25 from D: B holds a fifth of it, C two twenty-fifths, D the rest."""
    loads = dict(bench.trials[2].loads)
    assert loads["A"] == pytest.approx(0.0, abs=1e-6)
    assert loads["B"] == pytest.approx((TRAY / 2 + BRICK / 5) * GRAVITY)
    assert loads["C"] == pytest.approx((TRAY / 2 + BRICK * 2 / 25) * GRAVITY)
    assert sum(loads.values()) == pytest.approx((TRAY + BRICK) * GRAVITY)
    assert bench.trials[2].inside > 0.04


def test_a_card_lets_two_blocks_carry_it_all(bench: ScaleTrial) -> None:
    assert bench.pair == pytest.approx((TRAY + BRICK) * GRAVITY / 2)


def test_a_millimetre_decides_where_the_brick_tips_it(bench: ScaleTrial) -> None:
    stand = [
        assess(tray_job((0.0, WIDE / 2 + bench.overhang + over))).stages[0].statics.groups[0].balanced
        for over in (-0.001, 0.001)
    ]
    assert stand == [True, False]


def test_other_weights_come_out_of_the_shares(bench: ScaleTrial) -> None:
    for trial, shares in zip(bench.trials, bench.own, strict=True):
        supports = assess(tray_job(trial.at, 1.1, 4.3)).stages[0].statics.supports
        reckoned = [(1.1 * tray + 4.3 * brick) * GRAVITY for tray, brick in shares]
        assert [each.load.expected for each in supports if each.load] == pytest.approx(reckoned, abs=1e-6)


def test_the_least_brick_just_lifts_the_block(bench: ScaleTrial) -> None:
    jobs = [tray_job(bench.trials[2].at, 1.0, bench.least * share) for share in (1.01, 0.99)]
    loads = [assess(job).stages[0].statics.supports[0].load for job in jobs]
    assert [load.expected < 1e-6 for load in loads if load] == [True, False]


def test_the_blocks_are_where_the_page_says() -> None:
    places = {each.at[:2] for each in tray_job((0.0, 0.0)).supports}
    assert places == {(x * LONG / 2, y * WIDE / 2) for x in (-1, 1) for y in (-1, 1)}


def test_the_tray_lies_on_its_four_blocks_and_the_brick_where_it_is_put() -> None:
    """Blocks 360 apart along and 300 across, A ahead on the left; the tray reaches 30 over them all round."""
    job = tray_job((0.05, -0.02), 1.5, 2.5)
    assert [(each.name, each.at, each.body) for each in job.supports] == [
        ("A", (0.18, 0.15, 0.0), "tray"),
        ("B", (0.18, -0.15, 0.0), "tray"),
        ("C", (-0.18, 0.15, 0.0), "tray"),
        ("D", (-0.18, -0.15, 0.0), "tray"),
    ]
    (tray,) = job.vehicle.bodies
    assert tray.outline == ((0.21, 0.18), (0.21, -0.18), (-0.21, -0.18), (-0.21, 0.18))
    assert (tray.name, tray.bottom, tray.top, job.bodies) == ("tray", 0.0, 0.02, ("tray",))
    assert [(each.name, each.mass, each.mass_pm, each.at, each.at_pm) for each in job.vehicle.parts] == [
        ("empty tray", 1.5, 0.0, (0.0, 0.0, 0.01), (0.0, 0.0, 0.0)),
        ("brick", 2.5, 0.0, (0.05, -0.02, 0.04), (0.0, 0.0, 0.0)),
    ]
    assert [each.mass for each in tray_job((0.0, 0.0)).vehicle.parts] == [0.6, 3.0]
    (stage,) = job.stages
    assert (stage.name, stage.in_place) == ("On the scales", tuple("ABCD"))
    assert (job.title, job.vehicle.name, job.vehicle.example) == ("Bench trial: a tray on four blocks", "tray", True)
    assert (job.limits.uneven, job.limits.uneven_touch, job.limits.floor_slope) == (0.0, 0.0, 0.0)
    assert (job.source, job.us_units, job.lift, job.until, job.assumed) == ("", False, None, None, ())
    # The same on whichever day it is tried.
    assert (job.date, job.shop.lifts, job.shop.shims, job.vehicle.points) == (date(2000, 1, 1), (), (), ())
    (scale,) = job.shop.equipment
    assert {each.equipment for each in job.supports} == {scale}
    assert (scale.name, scale.rating, scale.stiffness) == ("block on a kitchen scale", 50.0, 20e3)
    assert (scale.base, scale.saddle) == (Square(0.06, 0.06), Square(0.03, 0.03))
