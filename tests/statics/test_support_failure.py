"""A support that goes."""

from math import sqrt

import pytest

from loadplan.model.disturbance import LostSupport
from loadplan.statics.resting_state import Solved
from tests.statics import builders as make

MIDDLE = make.job([make.part((0.1, 0.05))], make.stands(make.SQUARE))


def lost(found: Solved, name: str) -> LostSupport:
    return next(each for each in found.answer.lost if each.support == name)


def test_on_three_stands_each_is_needed_and_what_it_turns_about_is_told() -> None:
    found = make.group(make.job([make.part((0.5, 0.3))], make.stands([(0, 0), (1, 0), (0.5, 1)])))
    assert [(each.balanced, each.turns_about) for each in found.answer.lost] == [
        (False, ("B", "C")),
        (False, ("A", "C")),
        (False, ("A", "B")),
    ]


def test_of_four_stands_those_at_the_far_side_can_go() -> None:
    """The centre in the triangle of A, B and D as in that of A, B and C: without A or B it turns about a diagonal."""
    found = make.group(MIDDLE)
    assert lost(found, "A") == LostSupport("A", balanced=False, turns_about=("B", "D"))
    assert lost(found, "C").balanced
    assert lost(found, "C").turns_about == ()


def test_what_is_left_to_tipping_is_the_distance_to_the_diagonal() -> None:
    """By hand: at (0.4, 0.3) in a square around (0, 0), what is left without the far corner ends at x + y = 0."""
    found = make.group(make.job([make.part((0.4, 0.3))], make.stands(make.SQUARE)))
    far = next(each for each in found.answer.lost if each.balanced and each.worst_margin)
    assert far.worst_margin == pytest.approx(0.7 / sqrt(2))
    assert [each.worst_margin for each in found.answer.lost if not each.balanced] == [None] * 2


def test_where_every_support_has_a_twin_none_is_missed() -> None:
    stands = make.stands(make.SQUARE)
    twins = [make.support(f"twin of {each.name}", each.at) for each in stands]
    found = make.group(make.job([make.part((0.1, 0.05))], [*stands, *twins]))
    assert [each.balanced for each in found.answer.lost] == [True] * 8


def test_a_twin_is_not_missed_and_arms_are_not_asked_about() -> None:
    twin = make.support("twin", make.SQUARE[0])
    arm = make.support("arm", (0.0, 0.0), use=make.ARM)
    found = make.group(make.job([make.part((0.1, 0.05))], [*make.stands(make.SQUARE), twin, arm]))
    assert lost(found, "A").balanced
    assert lost(found, "twin").balanced
    assert [each.support for each in found.answer.lost] == ["A", "B", "C", "D", "twin"]


def test_a_rider_that_loses_a_stand_turns_about_the_other_and_its_link() -> None:
    found = make.group(make.rider((0.2, 0.3), (0.2, -0.3)))
    assert lost(found, "e0").turns_about == ("e1", "link")
