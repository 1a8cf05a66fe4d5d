"""Which settings would leave a stand idle: what a stage sets anew stays what it says, whatever is asked about."""

from dataclasses import replace

import numpy as np

from loadplan.model.job import Job, SetAnew, Stage
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


def test_a_stand_that_the_next_step_takes_away_or_that_stands_by_may_carry_nothing() -> None:
    """A stand that is brought up to touch in this step is no fault of the setting either."""
    a, b, c, d = (replace(each, height=0.35) for each in stands(SQUARE))
    supports = (a, b, replace(c, standby=True), replace(d, height=None))
    stages = [Stage("down", in_place=("A", "B", "C", "D")), Stage("later"), Stage("B away", cleared=("B",))]
    made = job([part()], supports, stages=stages)
    assert _counted(made, state(made, 0), frame(made, 0)) == [True, True, False, False]
    assert _counted(made, state(made, 1), frame(made, 1)) == [True, False, False, True]
