"""How much further down the arms were as something was read, than the stage has them. Made-up states."""

from dataclasses import replace

import pytest

from loadplan.model.job import StageReading
from loadplan.model.lowering import Lowering, SetDownAnswer
from loadplan.statics.expected_reading import further_down
from tests.checks import builders

DOWN = SetDownAnswer(("unit",), 1000.0, 0.004, 0.01, 0.010, given=True, drop=None, lowering=Lowering((), (), ()))


@pytest.mark.parametrize(
    ("read", "stage", "window", "further"),
    [
        (None, 0.004, True, 0.0),
        (None, None, False, 0.0),
        (0.014, 0.012, True, 0.004),
        (0.014, None, True, 0.004),
        (0.014, 0.012, False, 0.002),
        (0.008, 0.012, False, -0.004),
        (0.014, None, False, None),
    ],
)
def test_it_is_what_was_read_less_what_was_solved_or_planned(
    read: float | None,
    stage: float | None,
    window: bool,  # noqa: FBT001
    further: float | None,
) -> None:
    judged = builders.lifted(builders.support("A"))
    state = replace(judged.state, lowered=stage)
    statics = replace(judged.statics, set_down=DOWN if window else None)
    told = further_down(state, statics, StageReading("A", 100.0, lowered=read))
    assert told == (None if further is None else pytest.approx(further))
