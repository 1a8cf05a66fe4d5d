"""Small mishaps: a support that goes, a hose left on, a jack that sinks."""

from dataclasses import replace
from math import hypot

import pytest

from loadplan.model.answer import LostSupport
from loadplan.statics.resting_state import Solved
from loadplan.statics.support_failure import SINKS
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


def test_the_least_upward_pull_at_an_undone_joint() -> None:
    """By hand: 0.4 m from the front edge; pulled at the back, 0.9 m from it: m g 0.4 / 0.9; not at the edge itself."""
    back, edge = make.bolts("back", at=((-0.4, 0.05, 0.5),)), make.bolts("edge", at=((0.5, 0.0, 0.5),))
    inner = make.bolts("inner", at=((-0.4, 0.05, 0.5), (-0.6, 0.05, 0.5)))
    told = make.group(MIDDLE, undone=(back, edge, inner, make.bolts("bare"))).answer.snags
    assert [(each.joint, each.body) for each in told] == [("back", "unit"), ("edge", "unit"), ("inner", "unit")]
    weight = make.newton(100.0)
    assert told[0].pull == pytest.approx(weight * 0.4 / 0.9)
    assert told[1].pull == pytest.approx(min(weight * 0.6 / 1.0, weight * 0.55 / 0.5, weight * 0.45 / 0.5))
    assert told[2].pull == pytest.approx(weight * 0.4 / 1.1)


def test_a_jack_is_let_sink_by_a_centimetre() -> None:
    """By hand: on four equal stands the sunk one and its diagonal lose k δ / 4, the others gain it."""
    soft = replace(make.STAND, stiffness=1e4)
    supports = list(make.stands(make.SQUARE, use=soft))
    supports[0] = replace(supports[0], equipment=replace(make.JACK, stiffness=1e4))
    found = make.group(make.job([make.part()], supports))
    (sunk,) = found.answer.sunk
    quarter, shift = make.newton(100.0) / 4, 1e4 * SINKS / 4
    assert sunk.support == "A"
    assert dict(sunk.loads) == pytest.approx({
        "A": quarter - shift,
        "B": quarter + shift,
        "C": quarter - shift,
        "D": quarter + shift,
    })
    ((body, tilt),) = sunk.tilts
    assert body == "unit"
    assert tilt == pytest.approx(hypot(SINKS / 4 / 0.5, SINKS / 4 / 0.5))


def test_what_locks_and_what_is_an_arm_does_not_sink() -> None:
    supports = [*make.stands(make.SQUARE), make.support("arm", (0.0, 0.0), use=make.ARM)]
    assert make.group(make.job([make.part()], supports)).answer.sunk == ()
