"""What is told of a stand that is set anew, and what is done to the plan, by small records."""

from dataclasses import replace

import pytest

from loadplan.checks.case import Case
from loadplan.checks.resetting import raise_cures, reset_cures, reset_words, touched_follow
from loadplan.model.job import Stack, Support
from loadplan.model.plan_cure import StandsRaised
from loadplan.model.shop import Equipment, Heights
from loadplan.model.step_change import Raising
from loadplan.statics.levelling import Reset
from tests.checks.builders import STAND, case, shim, support, words

SCREW = replace(STAND, heights=Heights(0.3, 0.5, ()))
BARE = replace(STAND, heights=None)


def stand(equipment: Equipment = STAND, height: float | None = 0.35, lies: Stack | None = None) -> Support:
    return replace(support("A", equipment), height=height, shim=lies)


def told(of: Support, change: float, *, free: bool = False) -> str:
    judged = case(of)
    judged = judged if free else replace(judged, before=None)
    return words(reset_words(judged, "unit", Reset(of, change, 0.0)))


@pytest.mark.parametrize(
    ("of", "change", "act"),
    [
        # Settings are 290, 310, 330, 350 mm and so on up to 430.
        (stand(), 0.02, "raise A by 0.02 m (set to 0.37 m, no shim)"),
        (stand(), 0.025, "raise A by 0.025 m (set to 0.37 m, shim 0.005 m)"),
        (stand(), -0.015, "lower A by 0.015 m (set to 0.33 m, shim 0.005 m)"),
        (stand(lies=shim()), 0.02, "raise A by 0.02 m (set to 0.37 m, shim 0.012 m)"),
        (stand(), 0.1, "raise A by 0.1 m (set to 0.43 m, shim 0.02 m)"),
        # What a tape does not show, a tenth of a millimetre, makes no other setting and no shim.
        (stand(), 0.01992, "raise A by 0.01992 m (set to 0.37 m, no shim)"),
        (stand(), 0.01988, "raise A by 0.01988 m (set to 0.35 m, shim 0.01988 m)"),
        (stand(), 0.02008, "raise A by 0.02008 m (set to 0.37 m, no shim)"),
        # What turns is turned, as far as it goes; what lies on it is left there.
        (stand(SCREW), 0.15, "raise A by 0.15 m"),
        (stand(SCREW, lies=shim()), 0.15008, "raise A by 0.1501 m"),
        (stand(SCREW), 0.1502, "raise A by 0.1502 m (set to 0.5 m, shim 0.0002 m)"),
        (stand(SCREW), 0.16, "raise A by 0.16 m (set to 0.5 m, shim 0.01 m)"),
        (stand(SCREW), -0.05008, "lower A by 0.05008 m"),
        (stand(SCREW, lies=shim(0.06)), -0.06, "lower A by 0.06 m (set to 0.35 m, no shim)"),
        (stand(BARE), 0.02, "raise A by 0.02 m"),
        (stand(height=None), 0.02, "raise A by 0.02 m"),
        (replace(stand(), standby=True), 0.02, "raise A by 0.02 m"),
    ],
)
def test_a_stand_is_told_its_setting_and_shim(of: Support, change: float, act: str) -> None:
    assert told(of, change) == f" Before the weight comes on: {act}."
    assert told(of, change, free=True) == f" Do not touch A. Take the weight back first. Then {act}."


def on_stands(*gaps: float, **more: object) -> Case:
    """A, B and so on, each so much lower than the highest."""
    names = "ABCD"[: len(gaps)]
    judged = case(*(support(name) for name in names))
    answers = tuple(replace(each, gap=gap) for each, gap in zip(judged.statics.supports, gaps, strict=True))
    return replace(judged, statics=replace(judged.statics, supports=answers), **more)  # type: ignore[arg-type]


def but(judged: Case, name: str, **more: object) -> Case:
    """The same with one of its stands otherwise."""
    supports = tuple(
        replace(each, **more) if each.name == name else each  # type: ignore[arg-type]
        for each in judged.state.supports
    )
    return replace(judged, state=replace(judged.state, supports=supports))


UP = (Raising("A", 0.01),)


def test_a_reset_is_one_change_of_the_plan() -> None:
    judged = on_stands(0.0, 0.0)
    assert reset_cures(judged, Reset(judged.stands[0], 0.01, 0.0)) == (StandsRaised(UP),)
    assert reset_cures(judged, None) == ()
    assert raise_cures(judged, UP) == (StandsRaised(UP),)
    both = (*UP, Raising("B", 0.02))
    assert raise_cures(judged, both) == (StandsRaised(both),)


def test_what_is_brought_up_to_touch_is_not_raised_by_a_number() -> None:
    touching = but(on_stands(0.0, 0.0), "A", height=None)
    assert raise_cures(touching, UP) == ()
    assert raise_cures(touching, (Raising("B", 0.01), *UP)) == ()


@pytest.mark.parametrize(
    ("gaps", "raises", "follow"),
    [
        # D touches, at the height at which the highest of A, B and C holds the unit.
        ((0.0, 0.0, 0.0, 0.0), UP, "follows"),
        ((0.004, 0.0, 0.0, 0.0), (Raising("A", 0.004),), "stays"),
        ((0.004, 0.0, 0.0, 0.0), (Raising("A", 0.00408),), "stays"),
        ((0.004, 0.0, 0.0, 0.0), (Raising("A", 0.00412),), "follows"),
        ((0.0, 0.0, 0.0, 0.0), (Raising("A", -0.01),), "stays"),
        ((0.0, 0.02, 0.02, 0.02), (Raising("A", -0.01),), "follows"),
        ((0.001, 0.001, 0.001, 0.001), UP, "follows"),
    ],
)
def test_what_touches_follows_the_highest_that_is_set(
    gaps: tuple[float, ...], raises: tuple[Raising, ...], follow: str
) -> None:
    judged = but(on_stands(*gaps), "D", height=None)
    assert touched_follow(judged, raises) is (follow == "follows")
    assert raise_cures(judged, raises) == (() if follow == "follows" else (StandsRaised(raises),))


def test_nothing_follows_where_nothing_touches_or_only_stands_by() -> None:
    assert not touched_follow(on_stands(0.0, 0.0), UP)
    for more in ({"standby": True}, {"on": "shell"}):
        assert not touched_follow(but(on_stands(0.0, 0.0), "B", height=None, **more), UP)
    # What stands on an assembly holds the unit up over that one alone.
    stacked = but(but(on_stands(0.0, 0.0, 0.0), "C", height=None), "A", on="shell")
    assert not touched_follow(stacked, UP)
    assert touched_follow(stacked, (Raising("B", 0.01),))
    assert not touched_follow(but(on_stands(0.0), "A", height=None), ())
