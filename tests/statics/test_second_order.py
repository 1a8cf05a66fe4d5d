"""Sway: by how much the tilt of a tall load on soft supports makes itself worse."""

from dataclasses import replace
from math import cos, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loadplan.model.job import Job
from loadplan.model.vehicle import Joint, Part
from loadplan.statics.contact_loads import settle, springs
from loadplan.statics.equilibrium import Frame
from loadplan.statics.second_order import Merged, levers, sway
from tests.statics import builders as make


def levers_of(frame: Frame) -> list[float]:
    """Weight times height of each whole [N m]."""
    settled = settle(springs(frame, {}), frame.load[None], np.zeros((1, len(frame.supports))))
    return [float(each) * frame.weight * frame.span for each in levers(frame, settled)]


def found(job: Job, loads: tuple[float, ...] = ()) -> float:
    """Sway of the only group, all its gaps 0."""
    frame = make.frame(job)
    held = springs(frame, {})
    settled = settle(held, frame.load[None], np.zeros((1, len(frame.supports))))
    touching = np.array(loads or settled.loads[0]) > 0
    share = sway(held, touching, levers(frame, settled))
    assert share is not None
    return share


def standing(height: float, mass: float = 100.0) -> list[Part]:
    return [make.part((0.0, 0.0, 0.2 + height), mass)]


@settings(derandomize=True, max_examples=15)
@given(st.floats(0.2, 0.8), st.floats(0.2, 0.8), st.floats(1e4, 1e6), st.floats(0, 1))
def test_four_equal_legs(along: float, across: float, stiffness: float, height: float) -> None:
    """By hand: W h over 4 k times the square of the shorter half: a tilt t moves the weight h t, the legs 4 k a² t."""
    corners = [(along, across), (along, -across), (-along, -across), (-along, across)]
    job = make.job(standing(height, 300.0), make.stands(corners, use=replace(make.STAND, stiffness=stiffness)))
    wanted = make.newton(300.0) * height / (4 * stiffness * min(along, across) ** 2)
    assert found(job) == pytest.approx(wanted, rel=1e-9)


@settings(derandomize=True, max_examples=15)
@given(st.floats(0.0, 3.2))
def test_a_diagonal_counts(turn: float) -> None:
    """One soft corner of four: the largest root of a 2 x 2 flexibility, larger than along either axis.

    By hand, legs at (±a, ±a), heave let go; and turning the legs about the upright changes nothing.
    """
    k, soft, a, height = 1e5, 2e4, 0.5, 1.0
    stiff = [soft, k, k, k]
    places = [(a, a), (a, -a), (-a, -a), (-a, a)]
    rows = np.array([(1.0, y, -x) for x, y in places])
    whole = (rows.T * stiff) @ rows
    rocking = whole[1:, 1:] - np.outer(whole[1:, 0], whole[0, 1:]) / whole[0, 0]
    wanted = make.newton(100.0) * height / np.linalg.eigvalsh(rocking)[0]
    turned = [(x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn)) for x, y in places]
    supports = [
        replace(each, equipment=replace(make.STAND, stiffness=stiffness))
        for each, stiffness in zip(make.stands(turned), stiff, strict=True)
    ]
    share = found(make.job(standing(height), supports))
    assert share == pytest.approx(wanted, rel=1e-9)
    assert share > 1.3 * make.newton(100.0) * height * np.linalg.inv(whole)[1, 1]


def test_a_bar_on_a_rotational_spring_falls_where_its_weight_times_height_is_the_spring() -> None:
    """Any text on elastic stability: W h = c. Here c is 2 k a² about the weak axis of a narrow base."""
    k, a = 1e5, 0.1
    corners = [(5.0, a), (5.0, -a), (-5.0, -a), (-5.0, a)]
    height = 4 * k * a**2 / make.newton(100.0)
    job = make.job(standing(height), make.stands(corners, use=replace(make.STAND, stiffness=k)))
    assert found(job) == pytest.approx(1.0, rel=1e-9)


def test_an_axis_beside_the_middle_of_the_legs_counts_what_heave_lets_go() -> None:
    """Two legs at one end, one at the other: stiffness about y is k1 k2 / (k1 + k2) d², by hand, heave free."""
    use = replace(make.STAND, stiffness=1e5)
    job = make.job([make.part((0.3, 0.0, 0.7), 100.0)], make.stands([(0.0, 5.0), (0.0, -5.0), (1.0, 0.0)], use=use))
    assert found(job) == pytest.approx(make.newton(100.0) * 0.5 / (2e5 * 1e5 / 3e5), rel=1e-9)


def test_what_has_lost_touch_does_not_resist() -> None:
    job = make.job(standing(0.5), make.stands(make.SQUARE))
    assert found(job, (1.0, 1.0, 1.0, 0.0)) > found(job, (1.0, 1.0, 1.0, 1.0))
    frame = make.frame(job)
    assert sway(springs(frame, {}), np.array([True, False, True, False]), np.array([0.1])) is None


def test_what_hangs_does_not_sway() -> None:
    assert found(make.job(standing(-0.5), make.stands(make.SQUARE))) == 0.0


def test_saddles_at_several_heights_count_by_what_they_carry() -> None:
    """By hand: m g z less Σ F z: two saddles at 0.2 and two at 0.4 with a quarter each lift the pivot to 0.3."""
    places = [(0.5, 0.5, 0.4), (0.5, -0.5, 0.4), (-0.5, -0.5, 0.2), (-0.5, 0.5, 0.2)]
    frame = make.frame(make.job([make.part((0.0, 0.0, 0.8), 100.0)], make.stands(places)))
    assert levers_of(frame) == pytest.approx([make.newton(100.0) * 0.5])


def four_mounts(x_span: float, y_span: float, stiffness: float) -> list[Joint]:
    return [
        make.mount(f"m{number}", (2 * x_span * x, 2 * y_span * y), stiffness=stiffness)
        for number, (x, y) in enumerate(make.SQUARE)
    ]


def riding(own: tuple[tuple[float, float], ...] = (), stiffness: float = 1e4) -> Job:
    """A rider on four mounts at z 0.4 on a cradle on four stands, and perhaps on stands of its own."""
    parts = [make.part((0.0, 0.0, 1.0), 200.0), make.part((0.0, 0.0, 0.5), 150.0, name="c", body="cradle")]
    soft = replace(make.STAND, stiffness=2e4)
    mine = [make.support(f"E{number}", (*at, 0.4), use=soft) for number, at in enumerate(own)]
    joints = four_mounts(0.25, 0.125, stiffness)
    return make.job(
        parts, [*make.stands([(x, y / 2) for x, y in make.SQUARE], body="cradle", use=soft), *mine], joints=joints
    )


STIFF = 2e5
"""Mounts [N/m] of which the rider's 1177 N m take away 9 %: 4 k b² = 12500 N m a radian."""


def test_what_only_hangs_in_its_own_mounts_counts_as_rigid_with_what_holds_it() -> None:
    """By hand: both weights over the saddles against the stands alone, 4 k b²; the mounts change nothing."""
    job = riding(stiffness=STIFF)
    frame = make.frame(job)
    merged = Merged.of(springs(frame, {}), np.ones(len(frame.supports), dtype=bool), np.zeros(2))
    assert merged.rides.tolist() == [True, False]
    wanted = make.newton(200.0) * 0.8 + make.newton(150.0) * 0.3
    assert found(job) == pytest.approx(wanted / (4 * 2e4 * 0.25**2), rel=1e-9)


def test_what_stands_too_high_over_mounts_too_soft_sways_by_itself() -> None:
    """By hand: W h = 1177 N m on 4 k b² = 625 N m a radian goes over whatever the cradle stands on."""
    assert found(riding()) > make.newton(200.0) * 0.6 / (4 * 1e4 * 0.125**2) > 1.0


def test_what_stands_on_a_saddle_of_its_own_sways_by_itself() -> None:
    """By hand about x: the largest root of G against K = ((m + e, −m), (−m, m + s)); e from one stand in the middle: 0.

    m, s are four times stiffness times half the distance squared of mounts and stands. The middle stand carries part of
    the rider's weight at the mounts' height, so that weight times height stays what it is.
    """
    share = found(riding(((0.0, 0.0),)))
    m, s = 4 * 1e4 * 0.125**2, 4 * 2e4 * 0.25**2
    frame = make.frame(riding(((0.0, 0.0),)))
    rider, cradle = levers_of(frame)
    assert rider == pytest.approx(make.newton(200.0) * 0.6)
    roots = np.sqrt([rider, cradle])
    wanted = np.linalg.eigvalsh(roots[:, None] * np.linalg.inv([[m, -m], [-m, m + s]]) * roots).max()
    assert share == pytest.approx(wanted, rel=1e-9)


def test_a_rider_on_mounts_to_two_wholes_or_on_two_mounts_stands_for_itself() -> None:
    frame = make.frame(riding())
    held = springs(frame, {})
    everything = np.ones(len(frame.supports), dtype=bool)
    two = replace(held, stretch=held.stretch[:2], mount_stiffness=held.mount_stiffness[:2], preload=held.preload[:2])
    assert not Merged.of(two, everything, np.zeros(2)).rides.any()
    third = np.pad(held.stretch, ((0, 0), (0, 3)))
    third[0, 6:], third[0, 3:6] = third[0, 3:6], 0.0
    wider = replace(held, up=np.pad(held.up, ((0, 0), (0, 3))), stretch=third)
    assert not Merged.of(wider, everything, np.zeros(3)).rides.any()
