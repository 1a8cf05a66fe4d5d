"""Set-down: what is told of locks, of joints that still hold, and of how far to go instead. Made-up answers."""

from dataclasses import replace

import pytest

from loadplan.model.job import Stage
from loadplan.model.lowering import Lowering, PartedBody
from loadplan.model.plan_cure import LiftLowered
from loadplan.model.verdict import Measure, Verdict
from tests.checks.builders import words
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
