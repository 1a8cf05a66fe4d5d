"""What costs most of a margin: found again by hand, one part known exactly at a time. Made-up jobs."""

from dataclasses import replace

import pytest

from loadplan.assess import assess
from loadplan.model.job import Job
from loadplan.model.verdict import Unknown
from loadplan.statics.margin_sensitivity import TRIED, unknowns
from tests.statics.builders import job, part, solved, stands, state, weighed

SQUARE = stands([(0.5, 0.5), (0.5, -0.5), (-0.5, -0.5), (-0.5, 0.5)])


def found(made: Job) -> tuple[Unknown, ...]:
    return unknowns(made, state(made), solved(made)[-1].groups[0], "unit")


def worst(made: Job) -> float:
    margin = assess(made).stages[-1].statics.bodies[0].worst_margin
    assert margin is not None
    return margin


def exact(made: Job, name: str) -> Job:
    parts = tuple(
        replace(each, mass_pm=0.0, at_pm=(0.0, 0.0, 0.0)) if each.name == name else each for each in made.vehicle.parts
    )
    return replace(made, vehicle=replace(made.vehicle, parts=parts))


def test_a_part_wins_back_what_its_place_may_be_off_in_its_share_of_the_mass() -> None:
    """By hand: 60 of 100 kg, 50 mm along x, the way it goes over: 30 mm."""
    made = job([part((0.1, 0.0), 60.0, name="a", at_pm=(0.05, 0.0, 0.0)), part((0.1, 0.0), 40.0, name="b")], SQUARE)
    (only,) = found(made)
    assert (only.body, only.part) == ("unit", "a")
    assert only.gain == pytest.approx(0.03, abs=1e-9)


def test_what_costs_most_comes_first_and_three_are_told() -> None:
    parts = [part((0.1, 0.0), 20.0, name=f"p{n}", at_pm=(0.01 * n, 0.0, 0.0)) for n in range(6)]
    assert [each.part for each in found(job(parts, SQUARE))] == ["p5", "p4", "p3"]


def test_each_gain_is_that_of_judging_the_job_again() -> None:
    parts = [
        part((0.03 * n - 0.25, 0.01 * n), 15.0 + 3 * n, name=f"p{n}", mass_pm=1.0 + n, at_pm=(0.02, 0.03, 0.02))
        for n in range(2 * TRIED)
    ]
    made = job(parts, SQUARE)
    again = {each.name: worst(exact(made, each.name)) - worst(made) for each in made.vehicle.parts}
    ranked = sorted(again, key=lambda name: -again[name])[:3]
    assert [each.part for each in found(made)] == ranked
    assert [each.gain for each in found(made)] == pytest.approx(
        [again[name] for name in ranked], rel=5e-3
    )  # its lean stays


def test_a_body_weighed_whole_is_told_as_a_whole() -> None:
    whole = {"unit": weighed(200.0, (0.1, 0.0, 0.5), mass_pm=2.0, cg_pm=(0.02, 0.02, 0.02))}
    (only,) = found(job([part()], SQUARE, whole=whole))
    assert (only.part, only.gain) == ("", pytest.approx(0.02, rel=1e-3))


def test_where_all_is_exact_nothing_is_won() -> None:
    assert found(job([part()], SQUARE)) == ()


def test_the_job_tells_it_where_its_margin_is_least() -> None:
    parts = [part((0.1, 0.0), 60.0, name="a", at_pm=(0.05, 0.0, 0.0)), part((0.3, 0.0), 40.0, name="b")]
    made = job(parts, SQUARE)
    stages = (made.stages[0], replace(made.stages[0], name="off", in_place=(), off=("b",)))
    narrowest = assess(replace(made, stages=stages)).narrowest
    assert narrowest is not None
    assert (narrowest.stage, narrowest.body) == (0, "unit")
    assert narrowest.worst_margin == pytest.approx(0.5 - 0.18 - 0.03, abs=1e-4)  # it leans a little
    assert [each.part for each in narrowest.unknowns] == ["a"]


def test_where_nothing_is_balanced_there_is_no_such_place() -> None:
    assert assess(job([part((2.0, 0.0))], SQUARE)).narrowest is None
