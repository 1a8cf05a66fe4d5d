"""Sway: by how much the tilt of a tall load on soft supports makes itself worse."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.model.job import Job
from loadplan.statics.contact_loads import settle, springs
from loadplan.statics.second_order import sway
from tests.examples import examples
from tests.statics import builders as make


def found(job: Job, heights: tuple[float, ...], loads: tuple[float, ...] = ()) -> float:
    """Sway of the only group with centres of gravity at some heights [m] over the saddles."""
    frame = make.frame(job)
    held = springs(frame, {})
    settled = np.array(loads) if loads else settle(held, frame.load[None], np.zeros((1, len(frame.supports)))).loads[0]
    return sway(held, settled, frame.load[::3] * np.array(heights) / frame.span)


@examples(15)
@given(st.floats(0.2, 0.8), st.floats(0.2, 0.8), st.floats(1e4, 1e6), st.floats(0, 1))
def test_four_equal_legs(along: float, across: float, stiffness: float, height: float) -> None:
    """By hand: W h over 4 k times the square of the shorter half: a tilt t moves the weight h t, the legs 4 k a² t."""
    corners = [(along, across), (along, -across), (-along, -across), (-along, across)]
    job = make.job([make.part(mass=300.0)], make.stands(corners, use=replace(make.STAND, stiffness=stiffness)))
    wanted = make.newton(300.0) * height / (4 * stiffness * min(along, across) ** 2)
    assert found(job, (height,)) == pytest.approx(wanted, rel=1e-9)


def test_an_axis_beside_the_middle_of_the_legs_counts_what_heave_lets_go() -> None:
    """Two stiff legs and one three times as soft: k1 = 2, k2 = 1 (per axis), stiffness about y is k1 k2/(k1+k2) d².

    By hand for two springs at a distance d along x, heave free.
    """
    use = [replace(make.STAND, stiffness=each) for each in (1e5, 1e5, 1e5)]
    places = [(0.0, 5.0), (0.0, -5.0), (1.0, 0.0)]
    supports = [replace(each, equipment=kind) for each, kind in zip(make.stands(places), use, strict=True)]
    job = make.job([make.part((0.3, 0.0), 100.0)], supports)
    wanted = make.newton(100.0) * 0.5 / (2e5 * 1e5 / 3e5)
    assert found(job, (0.5,)) == pytest.approx(wanted, rel=1e-9)


def test_what_has_lost_touch_does_not_resist() -> None:
    corners = make.stands(make.SQUARE)
    job = make.job([make.part()], corners)
    assert found(job, (0.5,), (1.0, 1.0, 1.0, 0.0)) > found(job, (0.5,), (1.0, 1.0, 1.0, 1.0))
    assert found(job, (0.5,), (1.0, 0.0, 1.0, 0.0)) > 1e3


def test_what_hangs_does_not_sway() -> None:
    assert found(make.job([make.part()], make.stands(make.SQUARE)), (-0.5,)) == pytest.approx(0.0)


def test_a_soft_mount_lets_the_rider_sway() -> None:
    """A rider on four soft mounts on a cradle on hard stands: as on four legs, of which the cradle's add little."""
    parts = [make.part((0.0, 0.0), 200.0), make.part((0.0, 0.0), 50.0, name="c", body="cradle")]
    hard = replace(make.STAND, stiffness=1e9)
    joints = [make.mount(f"m{number}", (x / 2, y / 2), stiffness=1e4) for number, (x, y) in enumerate(make.SQUARE)]
    job = make.job(parts, make.stands(make.SQUARE, body="cradle", use=hard), joints=joints)
    wanted = make.newton(200.0) * 0.4 / (4 * 1e4 * 0.25**2)
    assert found(job, (0.4, 0.0)) == pytest.approx(wanted, rel=1e-3)


def test_linked_bodies_sway_together() -> None:
    """By hand for symmetric legs and mounts: the largest root of G / K with K = ((m, −m), (−m, m + s)) about each axis.

    M and s are four times stiffness times half the distance squared of mounts and stands, G weight times height.
    """
    parts = [make.part((0.0, 0.0), 200.0), make.part((0.0, 0.0), 150.0, name="c", body="cradle")]
    soft = replace(make.STAND, stiffness=2e4)
    joints = [make.mount(f"m{number}", (x / 2, y / 4), stiffness=1e4) for number, (x, y) in enumerate(make.SQUARE)]
    job = make.job(parts, make.stands([(x, y / 2) for x, y in make.SQUARE], body="cradle", use=soft), joints=joints)
    weights = np.sqrt([make.newton(200.0) * 0.6, make.newton(150.0) * 0.3])
    roots = []
    for mounts, stands in ((4 * 1e4 * 0.25**2, 4 * 2e4 * 0.5**2), (4 * 1e4 * 0.125**2, 4 * 2e4 * 0.25**2)):
        stiff = np.array([[mounts, -mounts], [-mounts, mounts + stands]])
        roots.append(np.linalg.eigvalsh(weights[:, None] * np.linalg.inv(stiff) * weights).max())
    assert found(job, (0.6, 0.3)) == pytest.approx(max(roots), rel=1e-9)
