"""Which settings would leave a stand idle: what a stage sets anew stays what it says, whatever is asked about."""

from dataclasses import replace

import numpy as np

from loadplan.model.job import Job, SetAnew, Stage, Support
from loadplan.planning.settings.idle_forecast import _counted, troubles_expected
from tests.statics.builders import SQUARE, frame, job, part, stands, state


def unit(*set_anew: SetAnew) -> Job:
    """100 kg in the middle of four hard stands, all set to 350 mm; a second step may set some anew."""
    supports = tuple(replace(each, height=0.35) for each in stands(SQUARE))
    stages = [Stage("down", in_place=("A", "B", "C", "D")), Stage("later", set_anew=set_anew)]
    return job([part()], supports, stages=stages)


def expected(made: Job, rises: list[float]) -> float:
    """Troubles with saddles so high over what is planned, over 150 mm [m]."""
    (found,) = troubles_expected(made, ("A", "B", "C", "D"), np.array([rises]) + 0.15)
    return float(found)


def test_a_level_setting_leaves_nothing_idle() -> None:
    assert expected(unit(), [0.0] * 4) == 0


def test_a_stand_set_lower_is_idle_in_both_steps_and_so_is_none_that_a_step_sets_so() -> None:
    """10 mm lower, B carries nothing, and so does D across from it, which carries half of what B would."""
    low = expected(unit(), [0.0, -0.01, 0.0, 0.0])
    assert low >= 2
    assert expected(unit(SetAnew("B", 0.34)), [0.0] * 4) == low / 2
    assert expected(unit(SetAnew("B", 0.36)), [0.01] * 4) == 0


def both_at_once(supports: tuple[Support, ...], names: tuple[str, ...]) -> list[float]:
    """Troubles of the unit with all saddles asked about as planned, and with all 20 mm higher."""
    made = job([part()], supports)
    rises = np.array([[0.15] * len(names), [0.17] * len(names)])
    return [float(each) for each in troubles_expected(made, names, rises)]


def test_each_setting_is_seen_by_itself() -> None:
    """The fourth is brought up to touch, and so lies as high as the highest of the others, however high that is."""
    a, b, c, d = (replace(each, height=0.35) for each in stands(SQUARE))
    assert both_at_once((a, b, c, replace(d, height=None)), ("A", "B", "C")) == [0.0, 0.0]


def test_where_no_stand_is_set_to_a_height_nothing_asked_is_off() -> None:
    assert both_at_once(stands(SQUARE), ()) == [0.0, 0.0]


def test_a_body_that_nothing_holds_up_is_no_matter_of_heights() -> None:
    """One body stands level, the other has no stand: only the first is counted, and a stand of it is idle."""
    supports = tuple(replace(each, height=0.35) for each in stands(SQUARE))
    stages = [Stage("down", in_place=("A", "B", "C", "D"))]
    made = job([part(), part(name="far", body="far")], supports, stages=stages)
    rises = np.array([[0.15] * 4, [0.15, 0.14, 0.15, 0.15]])
    assert [bool(each) for each in troubles_expected(made, ("A", "B", "C", "D"), rises)] == [False, True]


def test_what_tips_is_no_matter_of_heights() -> None:
    a, b, *_ = (replace(each, height=0.35) for each in stands(SQUARE))
    assert both_at_once((a, b), ("A", "B")) == [0.0, 0.0]


def test_a_stand_that_the_next_step_takes_away_or_that_stands_by_may_carry_nothing() -> None:
    """A stand that is brought up to touch in this step is no fault of the setting either."""
    a, b, c, d = (replace(each, height=0.35) for each in stands(SQUARE))
    supports = (a, b, replace(c, standby=True), replace(d, height=None))
    stages = [Stage("down", in_place=("A", "B", "C", "D")), Stage("later"), Stage("B away", cleared=("B",))]
    made = job([part()], supports, stages=stages)
    assert _counted(made, state(made, 0), frame(made, 0)) == [True, True, False, False]
    assert _counted(made, state(made, 1), frame(made, 1)) == [True, False, False, True]
