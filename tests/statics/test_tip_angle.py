"""Tip angle: the floor slope at which a group goes over, about the line that it really turns about."""

from math import atan, cos, degrees, hypot, inf, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loadplan.model.job import Job
from loadplan.statics.lean import Lean, carried_moments, upright
from loadplan.statics.tip_angle import least_angles, tip_angles
from loadplan.statics.tipping_modes import rays
from tests.statics import builders as make


def tips_at(job: Job, tilt: tuple[float, float] = (0.0, 0.0)) -> float:
    """Tip angle [degrees] of the only whole, tilted."""
    frame = make.frame(job)
    (angle,) = least_angles(
        rays(frame), tip_angles(frame, rays(frame), Lean(np.array([[tilt]]), 1.0), np.zeros((1, 1)))
    )
    assert angle is not None
    return degrees(angle)


def test_the_critical_slope_of_a_five_twelve_thirteen_triangle() -> None:
    """Derived here: distance to the edge 0.25 m, height 0.60 m: atan(5/12) = 22.62 degrees, hanging or standing."""
    for height, angle in ((0.8, 22.6199), (-0.4, 22.6199), (0.2, 90.0)):
        job = make.job([make.part((0.25, 0.0, height), 300.0)], make.stands(make.SQUARE))
        assert tips_at(job) == pytest.approx(angle, abs=1e-4)


def test_a_lean_counts_towards_the_edge_that_it_leans_to() -> None:
    """By hand: 0.6 m high, nose down by 1/60: the centre of gravity moves 10 mm forward."""
    job = make.job([make.part((0.25, 0.0, 0.8), 300.0)], make.stands(make.SQUARE))
    assert tips_at(job, (0.0, 1 / 60)) == pytest.approx(degrees(atan(0.24 / 0.6)))
    assert tips_at(job, (0.0, -1 / 60)) == pytest.approx(degrees(atan(0.25 / 0.6)))


def slope_of_no_work(first: np.ndarray, second: np.ndarray, cg: np.ndarray) -> float:
    """Least slope [degrees] at which gravity, tilted in any direction, does no work in a turn about two points.

    From the triple product: the centre of gravity moves by e x p, and gravity is turned until that is level with it.
    """
    axis = (second - first) / np.linalg.norm(second - first)
    moves = np.cross(axis, cg - first)
    best = inf
    for turn in np.linspace(0, 2 * pi, 3601):
        across = moves[0] * cos(turn) + moves[1] * sin(turn)
        if across * moves[2] < 0:
            best = min(best, abs(moves[2] / across))
    return degrees(atan(best))


@settings(derandomize=True, max_examples=20)
@given(st.floats(-0.2, 0.2), st.floats(0.0, 0.3), st.floats(0.35, 0.8))
def test_an_inclined_axis_tips_where_gravity_does_no_work_about_it(low: float, high: float, top: float) -> None:
    """Three saddles at three heights; the least of the three edges, by the triple product."""
    saddles = [np.array(each) for each in [(0.5, 0.4, low), (0.5, -0.4, high), (-0.5, 0.0, 0.1)]]
    cg = np.array((0.2, 0.02, top))
    job = make.job([make.part(cg, 200.0)], make.stands(saddles))
    edges = [slope_of_no_work(saddles[one], saddles[other], cg) for one, other in ((0, 1), (1, 2), (2, 0))]
    assert tips_at(job) == pytest.approx(min(edges), rel=1e-5)


def test_of_more_than_two_places_the_pair_with_the_largest_arm_counts() -> None:
    """Three saddles along the front at z 0, 0.3 and 0: by the outer two the arm is the whole height."""
    places = [(0.5, 0.5, 0.0), (0.5, 0.0, 0.3), (0.5, -0.5, 0.0), (-0.5, 0.5, 0.0), (-0.5, -0.5, 0.0)]
    frame = make.frame(make.job([make.part((0.3, 0.0, 0.6), 100.0)], make.stands(places)))
    (angle,) = least_angles(
        rays(frame),
        tip_angles(frame, rays(frame), upright(frame), carried_moments(frame, np.zeros(len(frame.supports)))),
    )
    inclined = hypot(0.6 - 0.3, 0.2 * 0.6)
    assert angle == pytest.approx(atan(0.2 / max(0.6, inclined)))


def test_a_mount_that_lies_low_counts() -> None:
    """A rider on one mount at z 0 and two saddles at z 0.3: about mount and saddle the axis rises to the saddle."""
    parts = [make.part((0.0, 0.0, 0.6), 100.0, name="u"), make.part((0.0, 0.0, 0.1), 400.0, name="c", body="cradle")]
    corners = [(x * 2, y * 2, 0.0) for x, y in make.SQUARE]
    own = [make.support("E", (0.4, 0.4, 0.3)), make.support("F", (0.4, -0.4, 0.3))]
    joint = make.mount("low", (-0.4, 0.0))
    joints = [type(joint)(joint.name, joint.kind, joint.between, ((-0.4, 0.0, 0.0),), joint.stiffness)]
    frame = make.frame(make.job(parts, [*make.stands(corners, body="cradle"), *own], joints=joints))
    angles = least_angles(
        rays(frame),
        tip_angles(frame, rays(frame), upright(frame), carried_moments(frame, np.zeros(len(frame.supports)))),
    )
    wanted = slope_of_no_work(np.array((-0.4, 0.0, 0.0)), np.array((0.4, 0.4, 0.3)), np.array((0.0, 0.0, 0.6)))
    assert angles[frame.whole("unit")] == pytest.approx(radians(wanted), rel=1e-5)
    assert tan(angles[frame.whole("unit")] or 0.0) < 0.178 / 0.45


def test_what_is_mounted_high_turns_about_the_stands_below() -> None:
    """By hand: two of 100 kg, 0.2 m inside the edge, 0.3 and 0.9 m over it: both at atan(0.2 / 0.6), not sooner."""
    parts = [make.part((0.3, 0.0, 0.9), 100.0, name="u"), make.part((0.3, 0.0, 0.3), 100.0, name="c", body="cradle")]
    corners = [(x, y, 0.0) for x, y in make.SQUARE]
    mounts = [make.mount(name, at) for name, at in (("a", (0.4, 0.3)), ("b", (0.4, -0.3)), ("c", (-0.4, 0.0)))]
    frame = make.frame(make.job(parts, make.stands(corners, body="cradle"), joints=mounts))
    angles = least_angles(
        rays(frame),
        tip_angles(frame, rays(frame), upright(frame), carried_moments(frame, np.zeros(len(frame.supports)))),
    )
    assert angles == pytest.approx([atan(0.2 / 0.6)] * 2)


def test_an_assembly_that_leans_carries_the_stands_on_it_along() -> None:
    """By hand: a cradle 0.5 m to its edge, nose down by 0.02, 100 kg on it 0.8 m over its saddles, both on the middle.

    All of it turns about the front two: 200 kg at 0.5 m, less 100 kg whose saddles went 16 mm forward, over a lever of
    100 kg at 1.0 m. On stands on the floor those 16 mm would not count.
    """
    parts = [make.part((0.0, 0.0, 1.0), 100.0, name="u"), make.part((0.0, 0.0, 0.0), 100.0, name="c", body="cradle")]
    floor = [make.support(name, (*at, 0.0), body="cradle") for name, at in zip("ABCD", make.SQUARE, strict=True)]
    inside = [(0.6 * x, 0.6 * y, 0.8) for x, y in make.SQUARE]
    own = [make.support(name, at, on="cradle") for name, at in zip("EFGH", inside, strict=True)]
    frame = make.frame(make.job(parts, [*floor, *own]))
    lean = Lean(np.array([[[0.0, 0.02] if "cradle" in each else [0.0, 0.0] for each in frame.wholes]]), 1.0)
    loads = np.array([1 / 4] * 4 + [1 / 8] * 4)
    angles = least_angles(rays(frame), tip_angles(frame, rays(frame), lean, carried_moments(frame, loads)))
    assert angles[frame.whole("cradle")] == pytest.approx(atan((200 * 0.5 - 100 * 0.8 * 0.02) / 100.0))
