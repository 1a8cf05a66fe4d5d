"""What a prop may come to carry, by moments about the front pads."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job, Stage
from loadplan.model.vehicle import Point
from loadplan.statics.prop_load import PROP, prop_load
from tests.statics import builders as make

PADS = ((0.7, 0.7), (0.7, -0.7), (-0.7, 0.7), (-0.7, -0.7))


def on_the_lift(x: float, **doubt: object) -> Job:
    part = replace(make.part((x, 0.0), 1000.0, body="shell"), **doubt)  # type: ignore[arg-type]
    return make.job([part], stages=[Stage("up")], lift=make.lift_use(PADS))


def carried(job: Job, at: tuple[float, float]) -> float | None:
    return prop_load(job, make.state(job), Point("rear", "shell", (*at, 0.2), None, ""))


@pytest.mark.parametrize(("x", "back"), [(0.0, -2.0), (-0.3, -2.0), (-0.3, -1.0)])
def test_at_most_it_carries_all_that_turns_about_the_front_pads(x: float, back: float) -> None:
    job = on_the_lift(x)
    assert carried(job, (back, 0.0)) == pytest.approx(make.newton(1000.0) * (0.7 - x) / (0.7 - back))


def test_doubt_about_weight_and_place_adds_to_it() -> None:
    job = on_the_lift(0.0, mass_pm=50.0, at_pm=(0.1, 0.0, 0.0))
    assert carried(job, (-2.0, 0.0)) == pytest.approx(make.newton(1050.0) * 0.8 / 2.7)


def test_in_front_it_turns_about_the_rear_pads_and_a_stand_of_the_same_name_is_another() -> None:
    job = on_the_lift(0.2)
    assert carried(job, (1.8, 0.0)) == pytest.approx(make.newton(1000.0) * 0.9 / 2.5)
    other = make.support(PROP, (-3.0, 0.0), body="shell")
    beside = replace(job, supports=(other,), stages=(Stage("up", (PROP,)),))
    assert carried(beside, (1.8, 0.0)) == pytest.approx(make.newton(1000.0) * 3.2 / 4.8)
