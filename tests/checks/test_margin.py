"""Margin and tip angle, on the limit and beside it."""

from dataclasses import replace
from math import nextafter, radians

import pytest

from loadplan.checks import margin
from loadplan.model.answer import BodyAnswer, Mode, Motion
from loadplan.model.verdict import Finding, Measure, Verdict
from tests.checks.builders import about, body_answer, case, lifted, support, with_body, with_group, words

ENOUGH = replace(body_answer("unit"), margin=0.1, worst_margin=0.05, tip_angle=radians(10))


def judge(body: BodyAnswer) -> Finding:
    return about(margin.check(with_body(case(support("A")), body)), "unit")


def test_on_both_limits_it_holds() -> None:
    found = judge(ENOUGH)
    assert (found.verdict, found.value, found.limit, found.measure) == (Verdict.HOLDS, 0.05, 0.05, Measure.LENGTH)
    assert words(found.says) == (
        "The unit is 0.1 m from tipping as given and 0.05 m in the worst case, and tilts by 0.1745 rad before it goes."
    )


@pytest.mark.parametrize("worst", [nextafter(0.05, 0), 0.0, -0.02])
def test_less_than_the_margin_asked_for_is_a_caution(worst: float) -> None:
    found = judge(replace(ENOUGH, worst_margin=worst))
    assert (found.verdict, found.value, found.limit, found.measure) == (Verdict.CAUTION, worst, 0.05, Measure.LENGTH)


def test_less_than_the_tip_angle_asked_for_is_a_caution() -> None:
    slope = nextafter(radians(10), 0)
    found = judge(replace(ENOUGH, tip_angle=slope))
    assert (found.verdict, found.value, found.limit) == (Verdict.CAUTION, slope, radians(10))
    assert found.measure is Measure.ANGLE


def test_a_worst_margin_that_is_not_known_is_a_caution() -> None:
    found = judge(replace(ENOUGH, worst_margin=None))
    assert (found.verdict, found.value) == (Verdict.CAUTION, None)


def test_a_slope_that_is_not_known_is_left_out() -> None:
    found = judge(replace(ENOUGH, tip_angle=None))
    assert found.verdict is Verdict.HOLDS
    assert "tilts" not in words(found.says)


def test_a_body_that_no_mode_rotates_has_no_finding() -> None:
    assert margin.check(with_body(case(), replace(ENOUGH, margin=None, worst_margin=None))) == []


def test_a_body_that_is_not_balanced_has_no_finding() -> None:
    assert margin.check(with_body(case(), replace(ENOUGH, balanced=False))) == []


def test_a_worst_case_over_the_edge_is_told_in_words_not_by_a_sign() -> None:
    told = words(judge(replace(ENOUGH, worst_margin=-0.005)).says)
    assert "0.1 m from tipping as given and 0.005 m past the edge in the worst case" in told


def test_bodies_bolted_together_share_one_finding() -> None:
    judged = with_body(lifted(support("A")), replace(body_answer("unit"), rigid_with=("shell",)))
    judged = with_body(judged, replace(body_answer("shell"), rigid_with=("unit",)))
    assert [each.subject for each in margin.check(judged) if isinstance(each, Finding)] == ["unit"]


def test_the_caution_names_the_nearest_edge_and_a_cure() -> None:
    judged = with_body(case(support("A")), replace(ENOUGH, worst_margin=0.03))
    motions = [Motion(0.0, -1.0, 0.0), Motion(0.0, 0.0, -1.0)]
    far, near = (
        Mode(names, ("unit",), (("unit", motion),), 1.0, (("unit", distance),))
        for names, motion, distance in zip([("A", "B"), ("C", "D")], motions, (0.2, 0.1), strict=True)
    )
    judged = with_group(judged, replace(judged.statics.groups[0], modes=(far, near)))
    told = words(about(margin.check(judged), "unit").says)
    assert told == (
        "The unit is only 0.1 m from tipping as given and 0.03 m in the worst case to the back, turning about C and D, "
        "and tilts by 0.1745 rad before it goes (asked for: 0.05 m in the worst case, 0.1745 rad). "
        "Do not touch the stands. Take the weight back first. Then set a stand further out, or one more, under its "
        "back end."
    )
