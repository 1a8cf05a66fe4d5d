"""Undoing: what is said of the order in which joints come off."""

from dataclasses import replace

import pytest

from loadplan.checks import undoing
from loadplan.checks.case import Case
from loadplan.model.job import Stage
from loadplan.model.step_change import Halfway, Severity, StepChange, Trouble, Undoing
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from tests.checks.builders import BOLTS, about, lifted, not_checked, support, words

ORDER = ("left", "right")
FINE = Halfway(Severity.FINE, Trouble.DROP, ("left",), ("A",), 0.001)
NEAR = Halfway(Severity.NEAR, Trouble.RATING, ("left",), ("A",), 0.8)
DROPS = Halfway(Severity.NEAR, Trouble.DROP, ("left",), ("A",), 0.006)
GOES = Halfway(Severity.OVER, Trouble.BALANCE, ("left",), ("unit",), None)


def told(worst: Halfway, *, every: bool = True, alike: bool = True, listed: bool = False) -> Finding:
    found = Undoing(ORDER, every_order=every, alike=alike, listed=listed, worst=worst)
    base = lifted(support("A"), hung=False)
    judged = replace(base, statics=replace(base.statics, change=StepChange(undoing=found)))
    return about(undoing.check(judged), "left, right")


def test_where_every_order_holds_it_says_so() -> None:
    assert told(FINE).verdict is Verdict.HOLDS
    assert words(told(FINE).says) == "left and right may come off in any order."


def test_where_not_every_order_holds_the_one_that_does_is_a_note() -> None:
    found = told(FINE, every=False, alike=False)
    assert found.verdict is Verdict.NOTE
    assert words(found.says) == "Undo left, then right: not every order holds."


def test_a_state_near_its_limit_in_every_order_is_a_caution() -> None:
    found = told(NEAR)
    assert (found.verdict, found.value, found.limit) == (Verdict.CAUTION, 0.8, 0.75)
    assert words(found.says).startswith("With only left off A carries up to 0.8 1 of its rating.")
    assert "Undo left, then right" in words(told(NEAR, every=False, alike=False).says)
    assert told(DROPS).limit == 0.005
    assert "it drops by 0.006 m at A. Bring the stand there up" in words(told(DROPS).says)


def test_what_a_stand_could_carry_on_another_floor_is_a_caution() -> None:
    bound = replace(NEAR, trouble=Trouble.BOUND, value=1.2)
    assert (told(bound).verdict, told(bound).value, told(bound).limit) == (Verdict.CAUTION, 1.2, 1.0)
    assert words(told(bound).says).startswith("With only left off A could on another floor carry 1.2 1 of its rating.")
    endless = words(told(replace(bound, value=None)).says)
    assert endless.startswith("With only left off nothing limits what A could carry on another floor.")


def test_where_no_order_holds_it_is_a_stop() -> None:
    found = told(GOES, every=False)
    assert found.verdict is Verdict.STOP
    assert words(found.says).startswith(
        "In no order may they come off one by one: with only left off the unit goes over, or may"
    )
    assert (told(replace(NEAR, severity=Severity.OVER)).limit, told(replace(DROPS, severity=Severity.OVER)).limit) == (
        1.0,
        0.02,
    )


def test_the_listed_order_is_judged_where_the_job_says_so() -> None:
    found = told(GOES, every=False, alike=False, listed=True)
    assert found.verdict is Verdict.STOP
    assert words(found.says).startswith("Undone as listed, left, then right: with only left off the unit goes over")
    assert told(FINE, every=False, alike=False, listed=True).verdict is Verdict.HOLDS


def unjudged(*names: str) -> Case:
    base = lifted(support("A"), hung=False)
    joints = tuple(replace(BOLTS, name=name) for name in names)
    before = replace(base.state, done_up=joints, undone=())
    state = replace(base.state, undone=joints, stage=Stage("step", undone=names))
    return replace(base, state=state, before=before)


@pytest.mark.parametrize(("names", "says"), [(("left",), 0), (("left", "right"), 1)])
def test_what_was_too_much_to_look_at_is_told_as_not_checked(names: tuple[str, ...], says: int) -> None:
    told = not_checked(undoing.check(unjudged(*names)))
    assert len(told) == says
    why = "are too many to look at, or cannot be computed."
    assert all(each.endswith(f"come off is not checked: the states in between {why}") for each in told)


def test_only_what_the_step_itself_undoes_counts_among_what_was_too_much_to_look_at() -> None:
    made = unjudged("left", "right")
    assert made.before is not None
    left, right = made.state.undone
    assert not_checked(undoing.check(replace(made, before=None)))[0].startswith(
        "step: the order in which left and right"
    )
    # The right one was undone before already; or it is on a body that is gone, and not among what is undone.
    assert undoing.check(replace(made, before=replace(made.before, done_up=(left,)))) == []
    assert undoing.check(replace(made, state=replace(made.state, undone=(left,)))) == []
    assert not_checked(undoing.check(replace(made, before=replace(made.before, done_up=(right, left))))) != []


@pytest.mark.parametrize(
    ("worst", "says"),
    [
        (GOES, "the unit goes over, or may inside the tolerance of its weights."),
        (replace(NEAR, severity=Severity.OVER), "A carries up to 0.8 1 of its rating."),
        (
            *(replace(NEAR, severity=Severity.OVER, trouble=Trouble.BOUND, value=1.2),),
            "A could on another floor carry 1.2 1 of its rating.",
        ),
        (replace(DROPS, severity=Severity.OVER), "it drops by 0.006 m at A."),
    ],
)
def test_what_no_order_avoids_is_told_with_what_helps(worst: Halfway, says: str) -> None:
    helps = " Hold it by a jack or hoist while they come off, or set one more stand before."
    if worst.trouble is Trouble.DROP:
        helps = " Bring the stand there up before the first comes off, or hold it by a jack."
    begins = "In no order may they come off one by one: with only left off "
    assert words(told(worst, every=False).says) == f"{begins}{says}{helps}"


def test_all_that_goes_over_is_named() -> None:
    both = words(told(replace(GOES, subjects=("unit", "cradle")), every=False).says)
    assert "with only left off the unit and cradle go over, or may inside the tolerance of their weights." in both


def test_the_mildest_order_is_told_where_not_every_one_is_as_mild() -> None:
    begins = "With only left off A carries up to 0.8 1 of its rating."
    helps = " Hold it by a jack or hoist while they come off, or set one more stand before."
    assert words(told(NEAR, alike=False).says) == (f"{begins} Undo left, then right, that is the mildest order.{helps}")
    assert words(told(NEAR).says) == f"{begins}{helps}"


def test_what_happens_on_the_way_is_told_whole() -> None:
    listed = told(GOES, every=False, alike=False, listed=True)
    assert words(listed.says) == (
        "Undone as listed, left, then right: with only left off the unit goes over, or may inside the tolerance of its "
        "weights. Another order may hold: leave out undone_in_order to see."
    )
    assert (listed.check, listed.measure, listed.value, listed.limit) == (
        *(CheckName.UNDOING, Measure.LENGTH),
        *(None, None),
    )
    assert told(NEAR).measure is Measure.SHARE
    assert told(replace(NEAR, trouble=Trouble.BOUND)).measure is Measure.SHARE
    assert told(DROPS).measure is Measure.LENGTH
    nothing = replace(DROPS, trouble=Trouble.NONE, value=None)
    assert words(told(nothing).says).startswith("With only left off it drops by 0 m at A.")
    unread = words(told(replace(NEAR, value=None)).says)
    assert unread.startswith("With only left off A carries up to 0 1 of its rating.")
