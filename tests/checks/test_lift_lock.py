"""Lift lock: what asks for it, and what answers."""

from dataclasses import replace

import pytest

from loadplan.checks import lift_lock
from loadplan.checks.case import Case
from loadplan.model.plan_cure import LiftLocked
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
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


def test_what_is_told_is_what_asks_for_the_locks_and_what_answers() -> None:
    """Off its locks it is set down on them; where there are none that cannot be done."""
    still = judge(lifted(support("A")))
    assert words(still.says) == "Nothing is undone yet that asks for the lift's locks."
    assert (still.check, still.subject, still.value, still.limit, still.cures) == (
        *(CheckName.LIFT_LOCK, "bay", None, None),
        (),
    )
    assert still.measure is Measure.LENGTH
    off = judge(undone(locked=False))
    assert off.cures == (LiftLocked(),)
    on = judge(undone(locked=True))
    assert (words(on.says), on.cures) == ("bay stands on its locks.", ())
    none = judge(undone(locked=False, locks=False))
    assert words(none.says) == (
        "With mounts or bolts off, bay has no locks, only oil or a nut holds it. "
        "Put stands under the vehicle that lock."
    )
    assert none.cures == ()
    empty = judge(lifted(support("A"), loads=dict.fromkeys(PADS, load(0.0)), hung=False))
    assert (words(empty.says), empty.cures) == ("bay carries nothing.", ())


def test_all_that_asks_for_the_locks_is_named() -> None:
    judged = in_stage(undone(locked=False), replace(STAGE, unattended=True))
    judged = replace(judged, state=replace(judged.state, on=frozenset({"lump"})))
    assert words(judge(judged).says).startswith("With mounts or bolts off, parts off and nobody there, bay is not on")


def test_one_loaded_arm_is_enough() -> None:
    loads = dict.fromkeys(PADS, load(0.0)) | {"pad 3": load(1.0)}
    assert judge(lifted(support("A"), loads=loads, hung=False)).verdict is Verdict.CAUTION
