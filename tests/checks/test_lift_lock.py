"""Lift lock: what asks for it, and what answers."""

from dataclasses import replace

import pytest

from loadplan.checks import lift_lock
from loadplan.checks.case import Case
from loadplan.model.verdict import Finding, Verdict
from tests.checks.builders import LIFT_USE, STAGE, about, case, in_stage, lifted, load, support, words

PADS = ("pad 1", "pad 2", "pad 3", "pad 4")


def judge(judged: Case) -> Finding:
    return about(lift_lock.check(judged), "bay")


def undone(*, locked: bool, locks: bool = True) -> Case:
    judged = lifted(support("A"), hung=False)
    use = replace(LIFT_USE, lift=replace(LIFT_USE.lift, locks=locks))
    return replace(judged, state=replace(judged.state, lift_locked=locked), job=replace(judged.job, lift=use))


def test_with_bolts_off_it_has_to_stand_on_its_locks() -> None:
    assert judge(undone(locked=False)).verdict is Verdict.CAUTION
    assert words(judge(undone(locked=False)).says) == (
        "With mounts or bolts off, bay is not on its locks. Set it down on them first."
    )
    assert judge(undone(locked=True)).verdict is Verdict.HOLDS


def test_a_lift_without_locks_cannot_stand_on_them() -> None:
    for locked in (False, True):
        found = judge(undone(locked=locked, locks=False))
        assert found.verdict is Verdict.CAUTION
        assert "has no locks" in words(found.says)


def test_with_all_tight_and_somebody_there_it_need_not() -> None:
    assert judge(lifted(support("A"))).verdict is Verdict.HOLDS


@pytest.mark.parametrize("part", ["lump", "roof"])
def test_a_part_that_is_off_asks_for_it(part: str) -> None:
    judged = lifted(support("A"))
    off = replace(judged, state=replace(judged.state, on=judged.state.on - {part}))
    assert judge(off).verdict is Verdict.CAUTION
    assert "With parts off, bay" in words(judge(off).says)


def test_a_part_of_a_body_left_out_does_not() -> None:
    judged = lifted(support("A"))
    alone = replace(
        judged, job=replace(judged.job, bodies=("shell",)), state=replace(judged.state, on=frozenset({"roof"}))
    )
    assert judge(alone).verdict is Verdict.HOLDS


def test_loaded_off_its_locks_with_nobody_there_is_a_stop() -> None:
    judged = in_stage(lifted(support("A")), replace(STAGE, unattended=True))
    assert judge(judged).verdict is Verdict.STOP
    assert words(judge(judged).says).startswith("With nobody there, bay is not on its locks.")
    locked = replace(judged, state=replace(judged.state, lift_locked=True))
    assert judge(locked).verdict is Verdict.HOLDS
    empty = in_stage(lifted(support("A"), loads=dict.fromkeys(PADS, load(0.0)), hung=False), judged.state.stage)
    assert judge(empty).verdict is Verdict.HOLDS


def test_a_loaded_lift_without_locks_and_nobody_there_is_a_stop() -> None:
    alone = in_stage(undone(locked=True, locks=False), replace(STAGE, unattended=True))
    assert judge(alone).verdict is Verdict.STOP


def test_an_empty_lift_need_not_be_locked_but_an_unknown_load_counts() -> None:
    empty = lifted(support("A"), loads=dict.fromkeys(PADS, load(0.0)), hung=False)
    assert judge(empty).verdict is Verdict.HOLDS
    unknown = lifted(support("A"), loads=dict.fromkeys(PADS), hung=False)
    assert judge(unknown).verdict is Verdict.CAUTION


def test_without_a_lift_it_says_nothing() -> None:
    assert lift_lock.check(case(support("A"))) == []
    judged = lifted(support("A"))
    assert lift_lock.check(replace(judged, state=replace(judged.state, supports=judged.stands))) == []
