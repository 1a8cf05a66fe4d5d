"""Level: the whole tilt, not one axis of it."""

from dataclasses import replace
from math import cos, radians, sin

import pytest

from loadplan.checks import level
from loadplan.model.answer import Motion
from loadplan.model.verdict import Measure, Verdict
from tests.checks.builders import about, body_answer, case, lifted, support, with_body, words


@pytest.mark.parametrize(
    ("tilt", "verdict"),
    [(0.999, Verdict.HOLDS), (1.001, Verdict.CAUTION), (4.999, Verdict.CAUTION), (5.001, Verdict.STOP)],
)
def test_the_whole_tilt_is_held_against_the_limit(tilt: float, verdict: Verdict) -> None:
    motion = Motion(0.0, radians(tilt) * cos(1.0), radians(tilt) * sin(1.0))
    found = about(level.check(with_body(case(), replace(body_answer("unit"), motion=motion))), "unit")
    assert (found.verdict, found.measure) == (verdict, Measure.ANGLE)
    assert found.value == pytest.approx(radians(tilt))


def test_on_the_limit_it_holds() -> None:
    motion = Motion(0.0, 0.0, radians(1))
    found = about(level.check(with_body(case(), replace(body_answer("unit"), motion=motion))), "unit")
    assert (found.verdict, found.limit) == (Verdict.HOLDS, radians(1))


def test_the_caution_names_the_low_side_and_a_cure_for_who_holds_the_weight() -> None:
    tilted = replace(body_answer("unit"), motion=Motion(0.0, -0.03, 0.0))
    free = with_body(case(), tilted)
    assert words(about(level.check(free), "unit").says) == (
        "The unit stands 0.03 rad out of level, left low. Do not touch the stands. Take the weight back first."
    )
    early = words(about(level.check(replace(free, before=None)), "unit").says)
    assert early.endswith("raise or shim the stands at the left.")
    hung = words(about(level.check(with_body(lifted(), tilted)), "unit").says)
    assert hung.endswith("Before lifting: pack the lift pads at the left.")
    set_down = words(about(level.check(with_body(lifted(support("A")), tilted)), "unit").says)
    assert set_down.endswith("Before unbolting: raise or shim the stands at the left.")


def test_what_is_not_balanced_has_no_tilt() -> None:
    answer = replace(body_answer("unit"), motion=Motion(0.0, 0.1, 0.0))
    assert level.check(with_body(case(), replace(answer, balanced=False))) == []
    assert level.check(with_body(case(), replace(answer, motion=None))) == []
