"""Lost support: a note for each that tips it."""

from dataclasses import replace

import pytest

from loadplan.checks import lost_support
from loadplan.model.answer import Tips
from loadplan.model.disturbance import LostSupport
from loadplan.model.verdict import CheckName, Measure, Verdict
from tests.checks.builders import about, case, lifted, support, with_group, words

GONE = (
    LostSupport("A", balanced=False, turns_about=("B", "C")),
    LostSupport("B", balanced=True, turns_about=()),
    LostSupport("C", balanced=False, turns_about=()),
)


def test_one_that_tips_it_is_a_note_with_the_way_and_another_holds() -> None:
    judged = case(support("A"), support("B"), support("C"))
    told = lost_support.check(with_group(judged, replace(judged.statics.groups[0], lost=GONE)))
    assert about(told, "A").verdict is Verdict.NOTE
    assert words(about(told, "A").says) == "If A goes, the unit goes over, turning about B and C."
    assert (about(told, "A").limit, about(told, "B").limit) == (None, 0.05)
    assert about(told, "B").verdict is Verdict.HOLDS
    assert words(about(told, "B").says) == "If B goes, the others still hold the unit."
    assert words(about(told, "C").says) == "If C goes, the unit goes over, with nothing to hold it."


@pytest.mark.parametrize(
    ("left", "verdict", "says"),
    [
        (0.050, Verdict.HOLDS, "If A goes, the others still hold the unit."),
        (0.049, Verdict.NOTE, "If A goes, the unit may go by the jolt: 0.049 m left to tipping."),
        (0.0, Verdict.NOTE, "If A goes, the unit may go by the jolt: nothing left to tipping."),
        (-0.01, Verdict.NOTE, "may go by the jolt: nothing left to tipping."),
        (None, Verdict.HOLDS, "If A goes, the others still hold the unit."),
    ],
)
def test_one_that_leaves_little_to_tipping_is_a_note(left: float | None, verdict: Verdict, says: str) -> None:
    judged = case(support("A"), support("B"))
    lost = LostSupport("A", balanced=True, turns_about=(), worst_margin=left)
    told = lost_support.check(with_group(judged, replace(judged.statics.groups[0], lost=(lost,))))
    assert about(told, "A").verdict is verdict
    assert (about(told, "A").value, about(told, "A").limit) == (left, 0.05)
    assert (about(told, "A").check, about(told, "A").measure) == (CheckName.LOST_SUPPORT, Measure.LENGTH)
    assert says in words(about(told, "A").says)


def test_linked_bodies_go_over_together() -> None:
    judged = lifted(support("A"))
    told = lost_support.check(with_group(judged, replace(judged.statics.groups[0], lost=GONE[:1])))
    assert words(about(told, "A").says) == "If A goes, the unit and shell go over, turning about B and C."


def test_what_does_not_stand_has_nothing_to_lose() -> None:
    judged = case(support("A"))
    tipping = replace(judged.statics.groups[0], lost=GONE, proof=Tips(()))
    assert lost_support.check(with_group(judged, tipping)) == []
