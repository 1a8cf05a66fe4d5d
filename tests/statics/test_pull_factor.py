"""A known pull, as a force or as a torque on a bar."""

from dataclasses import replace
from math import cos, inf, pi, radians, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from loadplan.model.disturbance import PullAnswer
from loadplan.model.job import Pull
from loadplan.model.vehicle import Place
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.group import solve
from loadplan.statics.mass import lumps
from loadplan.statics.pull_factor import pulled
from loadplan.statics.push_limit import Hold, stands, stands_each
from loadplan.statics.resting_state import Solved
from loadplan.statics.sideways_resistance import OILED, Grip
from tests.examples import examples
from tests.statics import builders as make
from tests.statics.test_push_limit import random_hold, rectangle


def rigid(frame: Frame) -> Frame:
    """The same group on stands and mounts that give next to nothing: it neither leans nor sways."""
    stiff = tuple(replace(each, equipment=replace(each.equipment, stiffness=1e13)) for each in frame.supports)
    return replace(frame, supports=stiff, mounts=tuple(replace(each, stiffness=1e13) for each in frame.mounts))


def answer(hold: Hold, pull: Pull) -> PullAnswer | None:
    frame = rigid(hold.frame)
    solved = solve(frame, make.settings(frame, grips=hold.grips))
    names = (each.name for each in frame.supports)
    return pulled(pull, (frame,), (solved,), dict(zip(names, hold.grips, strict=True)))


def force(at: Place, towards: Place, newton: float = 100.0) -> Pull:
    return Pull("unit", at, newton, towards, None, 0.0)


def torque(at: Place, about: Place, newton: float, bar: float) -> Pull:
    return Pull("unit", at, newton, None, about, bar)


def test_where_nobody_has_said_the_friction_the_factor_on_oil_is_told_too() -> None:
    """100 kg slide at friction times their weight, pulled at the height of the saddles; the cone's faces are flat."""
    job = make.job([make.part()], make.stands(make.SQUARE))
    at = (0.0, 0.0, 0.2)
    for said, friction in ((True, 0.4), (False, OILED)):
        hold = make.hold(job, at, (Grip(0.4, inf, said=said),) * 4)
        found = answer(hold, force(at, (1.0, 0.0, 0.0)))
        assert found is not None
        assert found.factor == pytest.approx(0.4 * make.newton(100.0) / 100.0, rel=0.01)
        assert found.oiled == pytest.approx(friction * make.newton(100.0) / 100.0, rel=0.01)


@examples(10)
@given(st.integers(0, 999), st.floats(0, 6.28))
def test_the_factor_on_a_level_force_is_the_push_that_can_be_stood(seed: int, angle: float) -> None:
    hold = random_hold(seed, heights=(0.3,))
    towards = (cos(angle), sin(angle), 0.0)
    found = answer(hold, force(hold.at, towards, 250.0))
    limit = stands(replace(hold, body=hold.frame.whole("unit")), towards)
    assume(found is not None)  # some go over by their own lean
    assert found is not None
    # What is followed step by step where saddles come off gives away up to 0.03 %.
    assert found.factor == pytest.approx(limit.force / 250.0, rel=4e-4)
    assert (found.first, found.about) == (limit.first, limit.about)
    assert (*found.towards, found.force) == pytest.approx((*towards, 250.0))


@examples(10)
@given(st.integers(0, 999), st.floats(0, 6.28))
def test_between_saddles_of_two_heights_the_factor_is_never_above_that_push(seed: int, angle: float) -> None:
    """What is followed on its springs is tilted about one height of its saddles, and comes out less at times."""
    hold = random_hold(seed)
    towards = (cos(angle), sin(angle), 0.0)
    found = answer(hold, force(hold.at, towards, 250.0))
    limit = stands(replace(hold, body=hold.frame.whole("unit")), towards)
    assume(found is not None)
    assert found is not None
    assert found.factor is not None
    assert found.factor <= limit.force / 250.0 * (1 + 1e-4)


def test_a_torque_is_a_force_at_the_end_of_the_bar() -> None:
    """By hand: 300 N·m at 0.6 m is 500 N sideways, and the couple: pulled at the bar's end, square to it.

    About an upright axis in the middle of a square, where every direction of the bar turns it alike but for the
    corners: no direction of a fine scan is weaker.
    """
    hold = rectangle(0.5, (0.3, 0.25, 0.3))
    found = answer(hold, torque((0.3, 0.25, 0.3), (0.0, 0.0, 1.0), 300 / 0.6, 0.6))
    assert found is not None
    assert found.force == pytest.approx(500.0)
    every = []
    for step in range(360):
        angle = radians(step)
        every.append(((0.3 + 0.6 * cos(angle), 0.25 + 0.6 * sin(angle), 0.3), (-sin(angle), cos(angle), 0.0)))
    scanned = stands_each(hold, tuple(every))
    assert found.factor == pytest.approx(min(scanned) / 500.0, rel=1e-3)
    assert found.towards[2] == pytest.approx(0.0)


@pytest.mark.parametrize("about", [(0.0, 1.0, 0.0), (1.0, 0.0, 0.0), (0.6, 0.0, 0.8)])
def test_the_force_is_square_to_axis_and_bar(about: Place) -> None:
    """It turns about the axis: forward and up about a level one to the left."""
    found = answer(rectangle(0.5, (0.3, 0.25, 0.3)), torque((0.3, 0.25, 0.3), about, 200.0, 0.5))
    assert found is not None
    assert sum(a * b for a, b in zip(found.towards, about, strict=True)) == pytest.approx(0.0, abs=1e-12)
    assert sum(each * each for each in found.towards) == pytest.approx(1.0)
    assert found.factor is not None


def test_where_nothing_limits_a_pull_there_is_no_factor() -> None:
    found = answer(rectangle(0.5, (0.3, 0.25, 0.4)), force((0.3, 0.25, 0.4), (0.0, 0.0, -1.0)))
    assert found is not None
    assert (found.factor, found.first) == (None, "holds")


def solved_groups(at: tuple[float, float]) -> tuple[PullAnswer | None, PullAnswer | None]:
    """A pull on each of two bodies that stand apart, the second with its weight at some place."""
    parts = [make.part((0.0, 0.0)), make.part(at, body="cradle", name="c")]
    corners = [(x + 3, y) for x, y in make.SQUARE]
    job = make.job(
        parts, [*make.stands(make.SQUARE), *(make.support(f"c{n}", p, body="cradle") for n, p in enumerate(corners))]
    )
    state = make.state(job)
    groups = frames(state, lumps(job, state))
    found: tuple[Solved, ...] = tuple(solve(frame, make.settings(frame)) for frame in groups)
    holds = dict.fromkeys((each.name for each in job.supports), make.settings(groups[0]).grips[0])
    first, second = (
        pulled(Pull(body, (0.0, 0.0, 0.2), 10.0, (1.0, 0.0, 0.0), None, 0.0), groups, found, holds)
        for body in ("unit", "cradle")
    )
    return first, second


def test_a_pull_is_judged_on_its_own_body_and_only_where_that_stands() -> None:
    for at, both in (((3.0, 0.0), True), ((9.0, 0.0), False)):
        first, second = solved_groups(at)
        assert first is not None
        assert first.body == "unit"
        assert (second is not None) == both


def test_a_stage_without_a_pull_has_no_answer() -> None:
    assert pulled(None, (), (), {}) is None


def test_a_bar_is_worst_where_it_points_away_from_the_nearest_edge() -> None:
    """With much grip a level bar's pull tips: the bar lies along the nearest edge's normal, pulled up or down.

    Centre 0.18 m from the right edge and much further from the left one; about the axis forward.
    """
    hold = rectangle(5.0, (0.42, 0.29, 0.0))
    found = answer(hold, torque((0.42, 0.29, 0.0), (1.0, 0.0, 0.0), 100.0, 0.5))
    assert found is not None
    assert found.first == "tips"
    angles = [pi * step / 180 for step in range(360)]
    every = [((0.42, 0.29 + 0.5 * cos(angle), 0.5 * sin(angle)), (0.0, -sin(angle), cos(angle))) for angle in angles]
    scanned = stands_each(hold, tuple(every))
    assert found.factor == pytest.approx(min(scanned) / 100.0, rel=1e-3)


def test_the_direction_of_the_bar_is_narrowed_down() -> None:
    """Against a scan at half a degree: no direction is weaker by more than a ten-thousandth."""
    for seed in (1, 2, 5):
        hold = random_hold(seed)
        x, y, z = hold.at
        found = answer(hold, torque(hold.at, (0.0, 0.0, 1.0), 100.0, 0.4))
        angles = [radians(step / 2) for step in range(720)]
        every = [((x + 0.4 * cos(a), y + 0.4 * sin(a), z), (-sin(a), cos(a), 0.0)) for a in angles]
        body = hold.frame.whole("unit")
        scanned = stands_each(replace(hold, body=body), tuple(every)).min() / 100.0
        assert found is not None
        assert found.factor is not None
        assert found.factor <= scanned * 1.0001
