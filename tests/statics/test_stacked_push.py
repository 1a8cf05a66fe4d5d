"""A push on a unit that stands on an assembly: all give way on their springs, until no state with the push is left."""

from dataclasses import replace

import pytest

from loadplan.limits import GRAVITY
from loadplan.model.disturbance import PushAnswer
from loadplan.statics.sideways_resistance import Grip
from tests.statics import builders as make

WEIGHT = 200 * GRAVITY
LEVER = 1.2
"""Height of the push over the saddles on the floor [m]."""

FLOOR = ((0.5, 1.0, 0.0), (0.5, -1.0, 0.0), (0.3, 1.0, 0.0), (0.3, -1.0, 0.0), (-0.7, 1.0, 0.0), (-0.7, -1.0, 0.0))


def push(stiffness: float, friction: float = 5.0) -> PushAnswer:
    """Push on 100 kg, 1.2 m high, that stand at 0.9 m on a cradle of 100 kg, 0.1 m high; all on the middle.

    The cradle stands on three pairs of stands [N/m], 0.5 and 0.3 m before the middle and 0.7 m behind it.
    """
    parts = [make.part((0.0, 0.0, LEVER), 100.0, name="u"), make.part((0.0, 0.0, 0.1), 100.0, name="c", body="cradle")]
    soft, hard = replace(make.STAND, stiffness=stiffness), replace(make.STAND, stiffness=1e9)
    floor = [make.support(name, at, body="cradle", use=soft) for name, at in zip("ABCDEF", FLOOR, strict=True)]
    own = [
        make.support(name, (x, 2 * y, 0.9), on="cradle", use=hard)
        for name, (x, y) in zip("GHIJ", make.SQUARE, strict=True)
    ]
    solved = make.group(make.job(parts, [*floor, *own]), grips=(Grip(friction, float("inf")),) * 10)
    return next(each for each in solved.answer.pushes if each.body == "unit")


@pytest.mark.parametrize("stiffness", [80e3, 120e3, 300e3])
def test_the_softer_the_stands_below_are_the_sooner_a_stack_tips(stiffness: float) -> None:
    """By hand: it goes where the second pair comes off, with all of the weight on the two in front.

    There it leans by W / 2k over the 0.2 m between the pairs, and its weights' own overturning by that, g (10 + 120 kg
    m), is off the W 0.5 m that the push at 1.2 m has to overcome. The sway as it stands would take off an eighth of it.
    """
    lean = WEIGHT / (2 * stiffness) / 0.2
    told = push(stiffness)
    assert told.first == "tips"
    assert told.force == pytest.approx((WEIGHT * 0.5 - 130 * GRAVITY * lean) / LEVER, rel=2e-3)


def test_hard_stands_leave_what_the_weights_hold() -> None:
    assert push(1e9).force == pytest.approx(WEIGHT * 0.5 / LEVER, rel=1e-3)


def test_what_slides_first_is_left_to_friction() -> None:
    told = push(1e9, friction=0.3)
    assert told.first == "slides"
    assert told.force == pytest.approx(0.3 * 100 * GRAVITY, rel=6e-3)


def tied(friction: float) -> dict[str, PushAnswer]:
    """The same on hard stands, one of the upper stands of which goes down to the floor."""
    parts = [make.part((0.0, 0.0, LEVER), 100.0, name="u"), make.part((0.0, 0.0, 0.1), 100.0, name="c", body="cradle")]
    floor = [make.support(name, at, body="cradle") for name, at in zip("ABCDEF", FLOOR, strict=True)]
    own = [
        make.support(name, (x, 2 * y, 0.9), on="" if name == "G" else "cradle")
        for name, (x, y) in zip("GHIJ", make.SQUARE, strict=True)
    ]
    solved = make.group(make.job(parts, [*floor, *own]), grips=(Grip(friction, float("inf")),) * 10)
    return {each.body: each for each in solved.answer.pushes}


def test_less_is_told_where_a_unit_ties_the_floor_and_an_assembly() -> None:
    """What slides by itself on 100 kg is told by 0.85 of that, what is tied by 0.4 of all that holds it at most."""
    told = tied(0.3)
    assert told["unit"].force < 0.86 * 0.3 * 100 * GRAVITY
    assert told["cradle"].force < 0.41 * 0.3 * WEIGHT
