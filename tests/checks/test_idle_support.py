"""Idle support, with each of the cases that are none."""

from dataclasses import replace

import pytest

from loadplan.checks import idle_support
from loadplan.checks.case import NOTHING
from loadplan.limits import GRAVITY
from loadplan.model.answer import Motion, SupportAnswer
from loadplan.model.shop import Heights
from loadplan.model.verdict import Finding, Verdict
from tests.checks.builders import (
    HOIST,
    STAGE,
    STAND,
    about,
    body_answer,
    case,
    findings,
    in_stage,
    lifted,
    load,
    support,
    with_body,
    words,
)

IDLE = {"A": load(0.0, 0.0, 90.0)}
HAIR = NOTHING * 100 * GRAVITY


def test_a_support_that_carries_nothing_is_a_caution() -> None:
    found = about(idle_support.check(case(support("A"), loads=IDLE)), "A")
    assert (found.verdict, found.value, found.limit) == (Verdict.CAUTION, 0.0, 0.0)
    assert words(found.says) == "A carries nothing. Do not touch A. Take the weight back first."


def test_a_millionth_of_the_weight_is_nothing_and_more_is_something() -> None:
    nothing = case(support("A"), loads={"A": load(HAIR, HAIR)})
    something = case(support("A"), loads={"A": load(HAIR * 1.001, HAIR * 1.001)})
    assert about(idle_support.check(nothing), "A").verdict is Verdict.CAUTION
    assert about(idle_support.check(something), "A").verdict is Verdict.HOLDS


def test_one_that_may_come_loose_is_a_note() -> None:
    judged = case(support("A"), loads={"A": load(100.0, HAIR)})
    found = about(idle_support.check(judged), "A")
    assert found.verdict is Verdict.NOTE
    assert words(found.says).startswith("A carries 100 N, told as mass as set, but may come loose on an uneven floor")


def test_one_that_always_carries_holds() -> None:
    found = about(idle_support.check(case(support("A"), loads={"A": load(100.0, 40.0)})), "A")
    assert found.verdict is Verdict.HOLDS
    assert words(found.says) == "A carries at least 40 N, told as mass on this floor."


def test_a_standby_may_carry_nothing() -> None:
    standby = replace(support("A"), standby=True)
    assert about(idle_support.check(case(standby, loads=IDLE)), "A").verdict is Verdict.HOLDS
    loaded = about(idle_support.check(case(standby, loads={"A": load(50.0, 0.0)})), "A")
    assert loaded.verdict is Verdict.HOLDS
    assert words(loaded.says) == "A is a standby and carries 50 N, told as mass."


def test_while_its_body_hangs_on_the_lift_it_may_carry_nothing() -> None:
    hung, free = lifted(support("A"), loads=IDLE), lifted(support("A"), loads=IDLE, hung=False)
    assert about(idle_support.check(hung), "A").verdict is Verdict.HOLDS
    assert about(idle_support.check(free), "A").verdict is Verdict.CAUTION


def test_brought_up_to_touch_it_carries_nothing_yet_in_that_stage_only() -> None:
    touching = case(replace(support("A"), height=None), loads=IDLE)
    placed = replace(STAGE, in_place=("A",))
    assert about(idle_support.check(in_stage(touching, placed)), "A").verdict is Verdict.NOTE
    assert about(idle_support.check(touching), "A").verdict is Verdict.CAUTION


def test_one_set_to_a_height_is_a_caution_in_the_stage_that_puts_it_in_place() -> None:
    judged = in_stage(case(support("A"), loads=IDLE), replace(STAGE, in_place=("A",)))
    assert about(idle_support.check(judged), "A").verdict is Verdict.CAUTION


def test_arms_are_told_by_the_lift_and_unknown_loads_by_balance() -> None:
    judged = lifted(support("A"), loads={"A": None, "pad 1": load(0.0)}, hung=False)
    assert idle_support.check(judged) == []


def unbolted(air: float, *, stepped: bool = False, hoist: bool = False) -> Finding:
    equipment = HOIST if hoist else replace(STAND, heights=STAND.heights if stepped else Heights(0.2, 0.5, ()))
    free = lifted(support("A", equipment, (0.5, 0.0)), loads=IDLE, hung=False)
    judged = replace(free, before=lifted().state)
    # The unit has come down by 4 mm at A by turning its nose down, and the saddle is lower by that and the air.
    judged = with_body(judged, replace(body_answer("unit"), motion=Motion(0.0, 0.0, 0.008)))
    gaps = (SupportAnswer("A", 0.004 + air, IDLE["A"]), *judged.statics.supports[1:])
    return about(idle_support.check(replace(judged, statics=replace(judged.statics, supports=gaps))), "A")


def test_before_unbolting_the_cure_is_the_air_under_the_body_in_whole_millimetres() -> None:
    told = words(unbolted(0.0016).says)
    assert told == (
        "A carries nothing. Before unbolting: raise A about 0.002 m. If it still turns by hand, plan without it."
    )
    # Raised by just the air it would touch, and still carry nothing.
    assert "about 0.003 m" in words(unbolted(0.002).says)
    assert "about 0.001 m" in words(unbolted(0.0).says)


def test_a_stand_with_steps_is_shimmed_and_a_hoist_taken_up() -> None:
    assert "shim up A about 0.003 m" in words(unbolted(0.0025, stepped=True).says)
    assert "take up A about 0.003 m" in words(unbolted(0.0025, hoist=True).says)


def test_each_support_has_its_own_finding() -> None:
    assert len(findings(idle_support.check(case(support("A"), support("B"))))) == 2


def test_one_that_the_next_step_takes_away_may_carry_nothing_and_one_that_a_later_step_does_may_not() -> None:
    judged = case(support("A"), loads=IDLE)
    stages = (STAGE, STAGE, replace(STAGE, name="away", cleared=("A",)))
    next_step = replace(judged, job=replace(judged.job, stages=stages))
    later = replace(judged, job=replace(judged.job, stages=(*stages[:2], STAGE, stages[2])))
    assert about(idle_support.check(next_step), "A").verdict is Verdict.HOLDS
    assert about(idle_support.check(later), "A").verdict is Verdict.CAUTION


def test_it_is_raised_by_the_air_under_its_own_place() -> None:
    """By hand: 3 mm up and a turn of 0.01 about x, 0.5 m to its left: 8 mm of air, and the next millimetre touches."""
    judged = case(replace(support("A", STAND, (0.0, 0.5)), height=0.35), loads=IDLE)
    judged = with_body(judged, replace(body_answer("unit"), motion=Motion(0.003, 0.01, 0.0)))
    found = about(idle_support.check(replace(judged, before=None)), "A")
    (raising,) = (each for cure in found.cures for each in cure.raises)
    assert raising.by == pytest.approx(0.009)
