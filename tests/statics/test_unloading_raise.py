"""Unloading: what a stand carries that is taken away, and what takes it from it, by hand."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job, Stage, Support
from loadplan.model.step_change import Unloading
from loadplan.statics import stage_sequence
from tests.statics import builders as make
from tests.statics.lifted import BOLTS, CORNERS, lifted

STIFF = make.STAND.stiffness
WEIGHT = make.newton(100.0)
CG = (0.1, 0.1)


def on_four(*changed: Support, last: Stage | None = None) -> Job:
    """100 kg at (0.1, 0.1) on four set stands at ±0.5 m; then C, at the far corner, is taken away."""
    usual = [make.support(name, at, height=0.35) for name, at in zip("ABCD", make.SQUARE, strict=True)]
    other = {each.name: each for each in changed}
    stages = [Stage("down", in_place=tuple("ABCD")), last or Stage("C away", cleared=("C",))]
    return make.job([make.part(CG)], [other.get(each.name, each) for each in usual], stages=stages)


def the(job: Job) -> Unloading:
    (only,) = make.solved(job)[-1].change.unloadings
    return only


def raised(name: str, by: float) -> Support:
    return make.support(name, dict(zip("ABCD", make.SQUARE, strict=True))[name], height=0.35 + by)


def test_what_it_carries_and_which_stand_takes_it() -> None:
    """On four equal springs r = W (1/4 + cx x + cy y): 0.15 W at C.

    Raised by d, the stand beside it takes k d / 4 from C and from the stand across: nothing is left at 0.6 W / k. The
    other neighbour does the same, so the first in the job's order is told.
    """
    told = the(on_four())
    assert told.load == pytest.approx(0.15 * WEIGHT)
    assert told.raising is not None
    assert told.raising.support == "B"
    assert told.raising.by == pytest.approx(0.6 * WEIGHT / STIFF, rel=1e-6)


def test_raised_before_as_told_it_carries_nothing() -> None:
    by = 0.6 * WEIGHT / STIFF
    assert the(on_four(raised("B", by))).load == pytest.approx(0.0, abs=1e-6 * WEIGHT)
    assert the(on_four(raised("B", by / 2))).load == pytest.approx(0.075 * WEIGHT)
    assert the(on_four(raised("B", by * 1.01))).raising is None


def test_a_stand_across_does_not_help_and_one_that_goes_too_is_not_raised() -> None:
    """With A and B cleared as well only D is left to raise; the stand across would press C harder."""
    job = on_four(last=Stage("away", cleared=("B", "C")))
    told = {each.support: each for each in make.solved(job)[-1].change.unloadings}
    assert told["C"].raising is not None
    assert told["C"].raising.support == "D"
    assert list(told) == ["B", "C"]


def test_of_three_stands_no_other_can_take_the_load() -> None:
    places = ((0.5, 0.5), (0.5, -0.5), (-0.5, 0.0))
    stages = [Stage("down", in_place=tuple("ABC")), Stage("C away", cleared=("C",))]
    told = the(make.job([make.part()], make.stands(places), stages=stages))
    assert told.load == pytest.approx(WEIGHT / 2)
    assert told.raising is None


def test_a_stand_that_just_touches_as_the_other_goes_is_what_has_to_be_raised() -> None:
    """E, run up at C's place in the same step, carries nothing yet.

    C carries nothing when the corner is back at its file's height. A corner's saddle that is lower by g carries k g / 4
    less there, so E alone has to be higher than the reference by g = 4/3 of C's 0.15 W / k; it begins 0.15 W / k lower.
    """
    beside = make.support("E", (-0.5, -0.5))
    last = Stage("E for C", in_place=("E",), cleared=("C",))
    job = on_four(last=last)
    told = the(replace(job, supports=(*job.supports, beside)))
    assert told.load == pytest.approx(0.15 * WEIGHT)
    assert told.raising is not None
    assert told.raising.support == "E"
    assert told.raising.by == pytest.approx((4 / 3 + 1) * 0.15 * WEIGHT / STIFF, rel=1e-6)


def test_parts_that_come_off_in_the_stage_are_off_while_it_is_asked() -> None:
    """40 kg over C come off with it: their weight no longer counts."""
    job = on_four(last=Stage("C away", cleared=("C",), off=("tail",)))
    heavy = make.job([make.part(CG), make.part((-0.5, -0.5), 40.0, name="tail")], job.supports, stages=job.stages)
    assert the(heavy).load == pytest.approx(0.15 * WEIGHT)


def test_what_the_lift_or_a_hoist_holds_from_then_on_is_not_asked() -> None:
    down = Stage("down", in_place=tuple("ABCD"), lowered=0.004)
    job = lifted([down, Stage("away", cleared=tuple("ABCD"))], joints=BOLTS)
    assert make.solved(job)[-1].change.unloadings == ()
    hook = make.support("hook", CORNERS[0], use=make.HOIST)
    hung = on_four(last=Stage("hung", in_place=("hook",), cleared=("C",)))
    assert make.solved(replace(hung, supports=(*hung.supports, hook)))[-1].change.unloadings == ()


def test_with_too_much_to_look_at_its_load_is_not_known_and_the_job_is_judged(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a part off as C goes, the four stands have not been solved so before."""
    monkeypatch.setattr(stage_sequence, "MOST_ON_THE_WAY", 0)
    job = on_four(last=Stage("C away", cleared=("C",), off=("tail",)))
    heavy = make.job([make.part(CG), make.part((-0.5, -0.5), 40.0, name="tail")], job.supports, stages=job.stages)
    assert the(heavy) == Unloading("C", None, None)
