"""How far out stands have to go: by hand, from how far the line through them has to move."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from math import cos, radians, sqrt

import pytest

from loadplan.model.answer import Motion, Statics
from loadplan.model.job import Job, Support
from loadplan.statics import wider_stance as wider
from loadplan.statics.contact_loads import NoEquilibriumError
from loadplan.statics.tipping_modes import work
from loadplan.statics.wider_stance import STEP, WiderQuestion, further_out, least_worst_margin, moved_out
from tests.statics import builders as make

FORWARD = Motion(0.0, 0.0, 1.0)
"""It goes down in front."""


@cache
def solved(job: Job) -> Statics:
    return make.solved(job)[-1]


def near(centre: float = 0.465, margin: float = 0.05, outline: float = 0.0, more: tuple[Support, ...] = ()) -> Job:
    """A unit on a square of stands, its centre so far forward; under an outline that ends so far in front."""
    standing = make.stands(make.SQUARE)
    if outline:
        rim = ((outline, 0.6), (outline, -0.6), (-0.6, -0.6), (-0.6, 0.6))
        standing = tuple(replace(each, outline=rim) for each in standing)
    return make.job([make.part((centre, 0.0))], [*standing, *more], limits=replace(make.NO_LIMITS, margin=margin))


def asked(job: Job, stands: tuple[str, ...] = ("A", "B"), told: Mapping[str, float] | None = None) -> WiderQuestion:
    statics = solved(job)
    margins = told or {each.name: each.worst_margin or 0.0 for each in statics.bodies}
    return WiderQuestion(job, make.state(job), statics.gaps, statics.groups[0], "unit", margins, FORWARD, stands)


def test_stands_go_out_square_to_the_line_to_the_side_that_goes_down() -> None:
    of = asked(near())
    assert of.margin == solved(near()).body("unit").worst_margin
    forward = {each.name: each.at for each in moved_out(of, 0.1)}
    assert forward == {
        "A": pytest.approx((0.6, 0.5, 0.2)),
        "B": pytest.approx((0.6, -0.5, 0.2)),
        "C": (-0.5, -0.5, 0.2),
        "D": (-0.5, 0.5, 0.2),
    }
    # Nose down and right side down, one as much as the other twice over.
    skew = replace(of, motion=Motion(3.0, 2.0, 2.0), stands=("B",))
    out = {each.name: each.at for each in moved_out(skew, 0.1)}
    assert out["B"] == pytest.approx((0.5 + 0.1 / sqrt(2), -0.5 - 0.1 / sqrt(2), 0.2))
    assert out["A"] == (0.5, 0.5, 0.2)


@pytest.mark.parametrize(
    ("centre", "margin", "out"),
    [
        (0.465, 0.05, 0.02),
        (0.465, 0.054, 0.02),
        (0.465, 0.058, 0.03),
        (0.3, 0.498, 0.30),
        (0.3, 0.51, None),
        (0.465, 0.034, 0.01),
    ],
    ids=["15 mm", "19 mm", "23 mm", "all that is tried", "more than is tried", "nothing"],
)
def test_both_stands_of_the_line_out_give_as_much_margin(centre: float, margin: float, out: float | None) -> None:
    """On stiff stands it leans by less than a millimetre."""
    found = further_out(asked(near(centre, margin)))
    assert found == (None if out is None else pytest.approx(out))


def test_one_stand_of_the_line_gives_half_as_much_and_turns_the_line() -> None:
    """By hand: A out by d, the line is 0.5 + d / 2 in front of the middle, and turned by d over a metre."""
    of = asked(near(0.465, 0.1), ("A",))
    by_hand = [number * STEP for number in range(1, 31) if (0.035 + number * STEP / 2) * cos(number * STEP) >= 0.1]
    assert by_hand[0] == pytest.approx(0.14)
    assert further_out(of) == pytest.approx(by_hand[0])


@pytest.mark.parametrize(("outline", "out"), [(0.505, None), (0.515, None), (0.5201, 0.02), (0.9, 0.02)])
def test_stands_stay_under_what_they_hold(outline: float, out: float | None) -> None:
    assert further_out(asked(near(outline=outline))) == (None if out is None else pytest.approx(out))


def test_what_is_told_holds_when_it_is_solved_and_a_step_less_does_not() -> None:
    """A tall one on soft stands, on a floor that is neither level nor even: the lean asks for a step more."""
    soft = replace(make.STAND, stiffness=2e5)
    limits = replace(make.NO_LIMITS, uneven_touch=0.001, floor_slope=radians(0.6), margin=0.13)
    part = make.part((0.38, 0.02, 0.8), 300.0, at_pm=(0.01, 0.01, 0.01), mass_pm=10.0)
    job = make.job([part], make.stands(make.SQUARE, use=soft), limits=limits)
    of = asked(job)
    out = further_out(of)
    assert out is not None
    assert out > limits.margin - of.margin
    for distance, holds in ((out, True), (out - STEP, False)):
        state = replace(of.state, supports=moved_out(of, distance))
        margin = least_worst_margin(job, state, of.gaps, "unit")
        assert margin is not None
        assert (margin >= limits.margin) is holds


def test_where_the_margin_told_is_not_found_again_no_distance_is() -> None:
    """With more supports than every corner of a floor is looked at for, the stage may have told of more than this."""
    middle = tuple(make.support(f"m{n}", (-0.1 * n, 0.0)) for n in range(5))
    job = near(more=middle)
    margin = solved(job).body("unit").worst_margin
    assert margin is not None
    assert further_out(asked(job, told={"unit": margin + 0.9e-4})) == pytest.approx(0.02)
    assert further_out(asked(job, told={"unit": margin + 1.2e-4})) is None
    assert further_out(asked(job, told={"unit": margin - 1.2e-4})) is None
    # With fewer it is believed.
    assert further_out(asked(near(), told={"unit": margin - 1.2e-4})) == pytest.approx(0.02)


def test_what_would_take_long_is_not_sought(monkeypatch: pytest.MonkeyPatch) -> None:
    of, frame = asked(near()), make.frame(near())
    monkeypatch.setattr(wider, "MOST_WORK", work(frame))
    assert further_out(of) == pytest.approx(0.02)
    assert least_worst_margin(of.job, of.state, of.gaps, "unit") == pytest.approx(of.margin, abs=1e-9)
    monkeypatch.setattr(wider, "MOST_WORK", work(frame) - 1)
    assert further_out(of) is None
    assert least_worst_margin(of.job, of.state, of.gaps, "unit") is None


def test_what_cannot_be_computed_has_no_distance(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> None:
        raise NoEquilibriumError

    of = asked(near())
    monkeypatch.setattr(wider, "margins_in_full", fails)
    assert further_out(of) is None
    assert least_worst_margin(of.job, of.state, of.gaps, "unit") is None
