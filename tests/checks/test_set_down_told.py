"""Set-down: what is told of locks, of joints that still hold, and of how far to go instead. Made-up answers."""

from dataclasses import replace

import pytest

from loadplan.checks import set_down
from loadplan.checks.case import Case
from loadplan.model.job import Stage
from loadplan.model.lowering import Lowering, PartedBody
from loadplan.model.plan_cure import LiftLowered
from loadplan.model.verdict import Measure, Verdict
from tests.checks.builders import lifted, support, words
from tests.checks.test_set_down import LEVELS, coming_down, told


@pytest.mark.parametrize(
    ("lowered", "given", "cures"), [(0.002, True, 1), (0.012, True, 1), (0.006, True, 0), (0.006, False, 1)]
)
def test_what_is_outside_the_window_is_cured_midway_inside_it(lowered: float, *, given: bool, cures: int) -> None:
    assert told(coming_down(lowered, given=given)).cures == (LiftLowered(pytest.approx(0.007)),) * cures


@pytest.mark.parametrize("lowered", [0.004, 0.010])
def test_on_either_end_of_its_window_it_is_not_lowered_otherwise_for_the_locks(lowered: float) -> None:
    coming = coming_down(lowered)
    locked = told(replace(coming, state=replace(coming.state, lift_locked=True)))
    assert locked.verdict is Verdict.CAUTION
    assert locked.cures == ()


def test_of_two_arms_that_are_nearly_empty_the_emptier_one_is_told_first() -> None:
    coming = coming_down(0.012)
    assert coming.statics.set_down is not None
    loads = {"pad 1": (1000.0, 900.0, 500.0, 200.0, 100.0), "pad 2": (1000.0, 950.0, 700.0, 150.0, 0.0)}
    lowering = Lowering(LEVELS, ("A", *loads), ((0.0,) * 5, *loads.values()))
    down = replace(coming.statics.set_down, lowering=lowering)
    arms = tuple(each for each in coming.state.supports if each.name in {"A", "pad 1", "pad 2"})
    both = replace(coming, statics=replace(coming.statics, set_down=down), state=replace(coming.state, supports=arms))
    assert "first at pad 2" in words(told(both).says)


def test_locks_further_apart_than_the_window_are_told_with_what_to_do_instead() -> None:
    coming = coming_down(0.006)
    says = words(told(replace(coming, state=replace(coming.state, lift_locked=True))).says)
    assert (
        " Its locks are 0.09 m apart, so hardly one lies there: leave it on a lock and bring the stands up "
        "(write raised instead of lowered)." in says
    )


def test_a_window_that_is_one_level_is_told_as_such() -> None:
    found = told(coming_down(0.006, start=0.006, end=0.006))
    assert words(found.says).startswith("Lower at least 0.006 m past first touch, at most 0.006 m; 0.006 m is planned.")
    assert (found.verdict, found.measure) == (Verdict.HOLDS, Measure.LENGTH)


@pytest.mark.parametrize(
    ("held", "drop", "says"),
    [
        (10.0, 0.002, ", bolts still hold 10 N, told as mass, and it drops by 0.002 m when they are undone."),
        (0.0, 0.0, ", bolts still hold 0 N, told as mass, and it drops by 0 m when they are undone."),
        (-10.0, None, ", bolts press it down by 10 N, told as mass."),
        (None, -0.001, ", and it drops by 0 m when they are undone."),
    ],
)
def test_of_each_body_it_is_told_what_joints_hold_and_how_far_it_drops(
    held: float | None, drop: float | None, says: str
) -> None:
    coming = coming_down(0.006)
    assert coming.statics.set_down is not None
    down = replace(coming.statics.set_down, parted=(PartedBody("unit", 90.0, held, ("bolts",), drop),))
    found = words(told(replace(coming, statics=replace(coming.statics, set_down=down))).says)
    assert found.endswith(f" Unit: its stands carry 90 N, told as mass{says}")


def test_what_a_later_step_lowers_does_not_count_yet() -> None:
    up, down = Stage("up", raised=0.006), Stage("down", lowered=0.006)
    coming = coming_down(0.006)
    found = told(replace(coming, state=replace(coming.state, index=0), job=replace(coming.job, stages=(up, down))))
    assert words(found.says).startswith("Bring the stands up")


PLANNED = "Lower at least 0.004 m past first touch, at most 0.01 m; {} m is planned."
OFF = "the vehicle comes off its pads, first at pad 1."


def brought_up(coming: Case) -> Case:
    """The same with the stands brought up, and the lift left where it is."""
    stages = (Stage("up", raised=0.006), Stage("later"))
    return replace(coming, job=replace(coming.job, stages=stages), state=replace(coming.state, index=1))


def guessed(coming: Case) -> Case:
    use = coming.job.lift
    assert use is not None
    return replace(coming, job=replace(coming.job, lift=replace(use, lift=replace(use.lift, stiffness_assumed=True))))


@pytest.mark.parametrize(
    ("coming", "says"),
    [
        (
            coming_down(0.002),
            f"{PLANNED.format(0.002)} That is too little: the stands carry less than 0.9 1 of the unit, and it drops "
            "by 0.003 m when unbolted. Lower further before unbolting.",
        ),
        (
            brought_up(coming_down(0.002)),
            f"{PLANNED.format(0.002)} That is too little: the stands carry less than 0.9 1 of the unit, and it drops "
            "by 0.003 m when unbolted. Bring the stands up further before unbolting.",
        ),
        (coming_down(0.012), f"{PLANNED.format(0.012)} That is too far: {OFF} Stop lowering before that."),
        (brought_up(coming_down(0.012)), f"{PLANNED.format(0.012)} That is too far: {OFF} Stop before that."),
        (
            guessed(coming_down(0.012)),
            f"{PLANNED.format(0.012)} That is too far: {OFF} How far an arm gives was assumed: measure it under load. "
            "Stop lowering before that.",
        ),
        (
            coming_down(0.006, start=None),
            "Lower as far as it goes, and the stands do not carry 0.9 1; 0.006 m is planned. "
            "Set it down in two goes, or bring the stands up.",
        ),
        (
            coming_down(0.012, start=0.011),
            "Lower 0.011 m past first touch for the stands to carry 0.9 1, but an arm of the lift is nearly empty from "
            f"0.01 m on; 0.012 m is planned. T{OFF[1:]} Set it down in two goes, or bring the stands up.",
        ),
        (
            coming_down(0.002, 0.0041, None),
            "Lower at least 0.005 m past first touch; 0.002 m is planned. That is too little: the stands carry less "
            "than 0.9 1 of the unit, and it drops by 0.003 m when unbolted. Lower further before unbolting.",
        ),
        (
            coming_down(0.006, 0.0041, 0.0059),
            "Lower at least 0.005 m past first touch, at most 0.005 m; 0.006 m is planned. That is too far: "
            "the vehicle comes off its pads, first at pad 1. Stop lowering before that.",
        ),
    ],
)
def test_too_little_too_far_and_neither_are_told_by_what_is_moved(coming: Case, says: str) -> None:
    told_ = words(told(coming).says)
    assert told_ == (
        says if coming.job.stages[0].raised is None else f"Bring the stands up{says.removeprefix('Lower')}"
    )


def test_a_window_one_millimetre_wide_is_cured_to_that_millimetre() -> None:
    assert told(coming_down(0.002, 0.0041, 0.0059)).cures == (LiftLowered(pytest.approx(0.005)),)


def test_locks_are_not_told_where_no_level_would_do() -> None:
    coming = coming_down(0.006, start=0.011)
    assert " Its locks" not in words(told(replace(coming, state=replace(coming.state, lift_locked=True))).says)


def test_which_pad_empties_first_is_told_by_the_end_of_the_window() -> None:
    """At 6 mm pad 1 has lost most, at 10 mm, where the window ends, pad 2 has."""
    coming = coming_down(0.006)
    assert coming.statics.set_down is not None
    loads = {"pad 1": (1000.0, 900.0, 500.0, 300.0, 250.0), "pad 2": (1000.0, 950.0, 700.0, 210.0, 0.0)}
    lowering = Lowering(LEVELS, ("A", *loads), ((0.0,) * 5, *loads.values()))
    arms = tuple(each for each in coming.state.supports if each.name in {"A", "pad 1", "pad 2"})
    for end, first in ((0.010, "; more, and the vehicle comes off its pads, first at pad 2."), (None, ".")):
        down = replace(coming.statics.set_down, lowering=lowering, end=end)
        found = told(
            replace(coming, statics=replace(coming.statics, set_down=down), state=replace(coming.state, supports=arms))
        )
        assert words(found.says).endswith(f" Less, and the unit drops when unbolted{first}")


def test_each_body_is_told_after_the_other() -> None:
    coming = coming_down(0.006)
    assert coming.statics.set_down is not None
    parted = (PartedBody("unit", 90.0, 10.0, ("bolts",), None), PartedBody("cradle", 50.0, None, (), 0.001))
    down = replace(coming.statics.set_down, parted=parted)
    assert words(told(replace(coming, statics=replace(coming.statics, set_down=down))).says).endswith(
        " Unit: its stands carry 90 N, told as mass, bolts still hold 10 N, told as mass."
        " Cradle: its stands carry 50 N, told as mass, and it drops by 0.001 m when they are undone."
    )


def test_where_the_lift_holds_nothing_any_more_nothing_is_left_unchecked() -> None:
    away = lifted(support("A"))
    away = replace(away, state=replace(away.state, supports=away.stands))
    assert set_down.check(away) == []
