"""The steps of a swap: what each changes in the job, and what it tells."""

from dataclasses import replace

import pytest

from loadplan.model.job import SetAnew, Stack, Stage, StageReading
from loadplan.planning.mending.swap_stages import (
    Planned,
    SwapParts,
    arrival,
    departure,
    leaving,
    lowering,
    own_lowering,
    raising,
    with_steps,
)
from tests.checks.builders import words
from tests.planning.mending.plans import JACK, RATCHET, SCREW, plan, stand

GOES = stand("D", "rear right")
COMES = replace(GOES, name="D2", tag="S5", shim=Stack(0.012, "steel", crib=False))
HELPER = replace(stand("F", "middle right", JACK), tag="J1", height=None)
PARTS = SwapParts(1, GOES, COMES, HELPER, 0.31)
ALONE = replace(PARTS, helper=None)


def told(planned: Planned) -> tuple[Stage, str]:
    return planned.stage, words(planned.says)


def test_the_helper_comes_is_raised_and_goes() -> None:
    assert told(arrival(PARTS)) == (
        Stage("Swap D: F set", in_place=("F",)),
        "Set F, jack J1, under middle right, and bring it up to just touch.",
    )
    shimmed = replace(PARTS, helper=replace(HELPER, shim=Stack(0.006, "", crib=False)))
    assert told(arrival(shimmed))[1] == (
        "Set F, jack J1, under middle right with a shim of 0.006 m, and bring it up to just touch."
    )
    assert told(raising(PARTS, 0.0041234567)) == (
        Stage("Swap D: F raised", set_anew=(SetAnew("F", 0.314123),)),
        "Raise F by 0.004123 m, to 0.3141 m, until D turns by hand.",
    )
    assert told(leaving(PARTS)) == (Stage("Swap D: F away", cleared=("F",)), "Take F away.")


@pytest.mark.parametrize("parts", [PARTS, replace(PARTS, comes=None), replace(ALONE, comes=None)])
def test_the_stand_goes_by_itself_where_something_helps_or_nothing_comes(parts: SwapParts) -> None:
    assert told(departure(parts)) == (
        Stage("Swap D: D away", cleared=("D",)),
        "Take D away, which carries nothing.",
    )


def test_where_nothing_helps_what_comes_is_set_in_the_same_step() -> None:
    stage = Stage("Swap D: D2 for D", in_place=("D2",), cleared=("D",))
    says = "Take D away, which carries nothing. Set D2, ratchet stand S5, under rear right, "
    assert told(departure(ALONE)) == (stage, f"{says}set to 0.33 m with a shim of 0.012 m steel.")
    touching = replace(COMES, height=None, point="", tag="")
    assert told(departure(replace(ALONE, comes=touching))) == (
        stage,
        "Take D away, which carries nothing. Set D2, ratchet stand, at the same place, brought up to just touch.",
    )
    bare = replace(COMES, shim=None)
    assert told(departure(replace(ALONE, comes=bare))) == (stage, f"{says}set to 0.33 m with no shim.")


def test_what_comes_is_set_before_the_helper_is_lowered() -> None:
    lowered = SetAnew("F", 0.312346)
    assert told(lowering(PARTS, 0.31234567)) == (
        Stage("Swap D: F lowered", in_place=("D2",), set_anew=(lowered,)),
        "Set D2, ratchet stand S5, under rear right, set to 0.33 m with a shim of 0.012 m steel. "
        "Then lower F to 0.3123 m, until it turns by hand.",
    )
    assert told(lowering(replace(PARTS, comes=None), 0.31234567)) == (
        Stage("Swap D: F lowered", set_anew=(lowered,)),
        "Lower F to 0.3123 m, until it turns by hand.",
    )


def test_a_stand_that_turns_is_lowered_itself() -> None:
    assert told(own_lowering(PARTS, 0.32700049)) == (
        Stage("Swap D: D lowered", set_anew=(SetAnew("D", 0.327),)),
        "Lower D to 0.327 m, until it turns by hand.",
    )


BEHIND = (
    Stage("read", readings=(StageReading("D", 100.0), StageReading("A", 200.0)), set_anew=(SetAnew("D", 0.34),)),
    Stage("away", cleared=("D", "C"), set_anew=(SetAnew("D", 0.35), SetAnew("A", 0.36))),
    Stage("back", in_place=("D", "C"), readings=(StageReading("D", 100.0),)),
    Stage("anew", cleared=("D",), set_anew=(SetAnew("D", 0.37),)),
)
JOB = replace(plan(), stages=(*plan().stages[:2], *BEHIND))
STEPS = (Planned(Stage("one"), ()), Planned(Stage("two"), ()))


def test_the_steps_stand_behind_the_one_in_which_they_begin_and_what_comes_for_what_goes() -> None:
    made = with_steps(JOB, PARTS, STEPS)
    assert made.supports == (*JOB.supports, HELPER, COMES)
    assert made.stages == (
        *JOB.stages[:2],
        *(Stage("one"), Stage("two")),
        Stage("read", readings=(StageReading("A", 200.0),), set_anew=(SetAnew("D2", 0.34),)),
        Stage("away", cleared=("D2", "C"), set_anew=(SetAnew("D2", 0.35), SetAnew("A", 0.36))),
        Stage("back", in_place=("D2", "C")),
        Stage("anew", cleared=("D2",), set_anew=(SetAnew("D2", 0.37),)),
    )
    assert with_steps(JOB, ALONE, ()).supports == (*JOB.supports, COMES)


def test_where_nothing_comes_the_stand_is_not_asked_for_until_it_is_put_in_place_again() -> None:
    made = with_steps(JOB, replace(ALONE, index=0, comes=None), STEPS)
    assert made.supports == JOB.supports
    assert made.stages == (
        JOB.stages[0],
        *(Stage("one"), Stage("two")),
        JOB.stages[1],
        Stage("read", readings=(StageReading("A", 200.0),)),
        Stage("away", cleared=("C",), set_anew=(SetAnew("A", 0.36),)),
        *BEHIND[2:],
    )


def test_a_screw_stand_is_told_with_its_tag() -> None:
    other = replace(PARTS, helper=stand("F", "middle left", SCREW), comes=replace(COMES, equipment=RATCHET))
    assert words(arrival(other).says).startswith("Set F, screw stand, under middle left, and")
