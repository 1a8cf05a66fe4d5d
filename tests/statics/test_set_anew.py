"""Saddle heights set anew while the unit stands on them: what is unloaded first, and the listed order of undoing."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job, SetAnew, Stage
from loadplan.model.step_change import Severity, StepChange, Trouble
from tests.statics import builders as make
from tests.statics.test_undoing_order import rear_mounts, told

STIFF = make.STAND.stiffness
WEIGHT = make.newton(100.0)


def clearing(*between: Stage) -> Job:
    """100 kg at (0.1, 0.1) on four set stands at ±0.5 m, of which C at the far corner is taken away at the end."""
    supports = [make.support(name, at, height=0.35) for name, at in zip("ABCD", make.SQUARE, strict=True)]
    stages = [Stage("down", in_place=tuple("ABCD")), *between, Stage("C away", cleared=("C",))]
    return make.job([make.part((0.1, 0.1))], supports, stages=stages)


def last(job: Job) -> StepChange:
    return make.solved(job)[-1].change


def test_set_anew_in_an_earlier_stage_as_told_it_is_cured() -> None:
    """C carries 0.15 W; with B 0.6 W / k higher nothing, and half of that with half."""
    (loaded,) = last(clearing()).unloadings
    assert loaded.raising is not None
    (cured,) = last(clearing(Stage("B up", set_anew=(SetAnew("B", 0.35 + loaded.raising.by),)))).unloadings
    assert cured.load == pytest.approx(0.0, abs=1e-6 * WEIGHT)
    (half,) = last(clearing(Stage("B up", set_anew=(SetAnew("B", 0.35 + loaded.raising.by / 2),)))).unloadings
    assert half.load == pytest.approx(0.075 * WEIGHT)


def test_set_anew_in_the_same_stage_cures_it_too() -> None:
    job = clearing()
    away = replace(job.stages[-1], set_anew=(SetAnew("B", 0.35 + 0.6 * WEIGHT / STIFF),))
    (cured,) = last(replace(job, stages=(job.stages[0], away))).unloadings
    assert cured.load == pytest.approx(0.0, abs=1e-6 * WEIGHT)


def test_a_stand_set_higher_shifts_the_reference_and_nothing_else_moves() -> None:
    """B 1 mm up under three others: its gap becomes 0, theirs 1 mm, and by k d / 4 what each carries changes."""
    rise = 0.0001
    before, after = make.solved(clearing(Stage("B up", set_anew=(SetAnew("B", 0.35 + rise),))))[:2]
    assert after.gaps == pytest.approx({"A": rise, "B": 0.0, "C": rise, "D": rise}, abs=1e-12)
    for name, sign in zip("ABCD", (-1, 1, -1, 1), strict=True):
        was, now = before.load(name), after.load(name)
        assert was is not None
        assert now is not None
        assert now.expected - was.expected == pytest.approx(sign * STIFF * rise / 4)


def test_a_stand_set_lower_lets_its_place_sink_and_one_set_higher_lifts_it() -> None:
    """On four equal springs a saddle moved by d moves the body there by 3/4 d, across from it and beside it by 1/4."""
    for by in (0.0001, -0.0001):
        job = clearing(Stage("B set", set_anew=(SetAnew("B", 0.35 + by),)))
        sunk = {each.place: each.fall for each in make.solved(job)[1].change.drops}
        # What is left of d, a quarter at each corner by turns, is the warp that a rigid body does not follow.
        assert sunk["B"] == pytest.approx(-0.75 * by, abs=1e-12)
        assert sunk["D"] == pytest.approx(0.25 * by, abs=1e-12)
        assert (sunk["A"], sunk["C"]) == pytest.approx((-0.25 * by, -0.25 * by), abs=1e-12)


def test_the_listed_order_is_judged_where_the_stage_says_so() -> None:
    """200 kg at the right rear: the right mount has to come off last."""
    job = rear_mounts((-0.2, -0.3))
    for undone, severity in ((("left", "right"), Severity.FINE), (("right", "left"), Severity.OVER)):
        stage = replace(job.stages[1], undone=undone, undone_in_order=True)
        found = told(replace(job, stages=(job.stages[0], stage)))
        assert found.listed
        assert found.order == undone
        assert found.worst.severity is severity
        assert (found.worst.trouble is Trouble.BALANCE) is (severity is Severity.OVER)
