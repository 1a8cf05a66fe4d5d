"""The ways a group can go over."""

from dataclasses import replace
from math import inf

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from loadplan.model.job import Job
from loadplan.statics import tipping_modes
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.mode_axes import still
from loadplan.statics.null_space import null_space
from loadplan.statics.tipping_modes import (
    EDGE,
    free_motion,
    margins,
    over,
    rays,
    rotations,
    stands,
    ways,
    work,
)
from tests.examples import examples
from tests.statics import builders as make


def linked(count: int, mounts: int, seed: int) -> Job:
    """Two bodies on some stands, tied by some mounts."""
    rng = np.random.default_rng(seed)
    bodies = ["unit", "cradle"]
    supports = [
        make.support(f"s{number}", tuple(rng.uniform(-1, 1, 2).round(2)), body=bodies[number % 2])
        for number in range(count)
    ]
    joints = [make.mount(f"m{number}", tuple(rng.uniform(-0.5, 0.5, 2).round(2))) for number in range(mounts)]
    parts = [make.part(body=body, name=body) for body in bodies]
    return make.job(parts, supports, joints=joints)


def same_rays(one: Array, other: Array) -> bool:
    """Whether both hold the same motions in any order."""
    if one.shape != other.shape or not len(one):
        return one.shape == other.shape
    far = np.abs(one[:, None] - other).max(axis=2)
    return bool((far.min(axis=0) < 1e-7).all() and (far.min(axis=1) < 1e-7).all())


def without(frame: Frame, number: int) -> Frame:
    kept = [each for each in range(len(frame.supports)) if each != number]
    return replace(frame, supports=tuple(frame.supports[each] for each in kept), up=frame.up[kept])


grid = st.integers(-10, 10).map(lambda value: value / 10)


@examples(40)
@given(st.lists(st.tuples(grid, grid), min_size=3, max_size=12, unique=True), grid, grid)
def test_the_modes_of_one_body_are_the_edges_of_the_hull_of_its_supports(
    places: list[tuple[float, float]], x: float, y: float
) -> None:
    """McGhee and Frank, 1968. The margin in each: the distance of the centre of gravity to that edge (Qhull's)."""
    assume(np.linalg.matrix_rank(np.array(places) - places[0], tol=1e-9) == 2)
    frame = make.frame(make.job([make.part((x, y))], make.stands(places)))
    found = sorted(margins(frame, rays(frame))[:, 0])
    sides = np.unique(ConvexHull(places).equations.round(9), axis=0)
    assert found == pytest.approx(sorted(-(sides @ [x, y, 1.0])), abs=1e-8)


@examples(25)
@given(st.integers(5, 8), st.integers(1, 3), st.integers(0, 999))
def test_every_mode_is_an_extreme_ray(count: int, mounts: int, seed: int) -> None:
    """No mount stretched, no support shortened, and what stays put leaves no other motion."""
    frame = make.frame(linked(count, mounts, seed))
    assume(free_motion(frame) is None)
    for motion in rays(frame):
        up = frame.up @ motion
        assert np.abs(frame.stretch @ motion).max() < 1e-9
        assert up.min() > -1e-9
        held = np.vstack([frame.stretch, frame.up[up < 1e-8]])
        assert np.linalg.matrix_rank(held, tol=1e-7) == frame.load.size - 1
        assert rotations(motion[None]).max() == pytest.approx(1.0) or np.abs(motion).max() == pytest.approx(1.0)


@examples(25)
@given(st.integers(5, 8), st.integers(1, 3), st.integers(0, 999))
def test_losing_a_support_adds_the_modes_that_it_alone_stood_against(count: int, mounts: int, seed: int) -> None:
    """Against a fresh search without it."""
    frame = make.frame(linked(count, mounts, seed))
    assume(free_motion(frame) is None)
    found = ways(frame).without()
    for number in range(count):
        less = without(frame, number)
        if free_motion(less) is None:
            fresh = rays(less)
            assert same_rays(found[number], fresh[fresh @ frame.up[number] < -1e-9])


def test_a_twin_is_missed_by_nobody() -> None:
    frame = make.frame(make.job([make.part()], make.stands([*make.SQUARE, make.SQUARE[0], (0.0, 0.0)])))
    found = ways(frame)
    assert [len(each) for each in found.without()] == [0, 1, 1, 1, 0, 0]
    assert len(found.all_there) == 4


def test_the_work_is_the_binomial_of_what_the_mounts_leave() -> None:
    """One body: 3 motions, 2 supports stay put. Two bodies on two mounts: 4 motions, 3 stay put."""
    assert work(make.frame(make.job([make.part()], make.stands(make.SQUARE)))) == 6 * 3**2
    assert work(make.frame(linked(7, 2, 1))) == 35 * 4**2


@pytest.mark.parametrize(
    "places",
    [[], [(0, 0)], [(0, 0), (1, 0)], [(0, 0), (0.5, 0.0), (1, 0)], [(0, 0), (0, 0), (0, 0)], [(0, 0), (1, 1), (1, 1)]],
)
def test_on_fewer_than_three_places_or_in_a_line_a_body_is_free(places: list[tuple[float, float]]) -> None:
    """Even with the centre of gravity exactly above the line; the motion moves no support."""
    frame = make.frame(make.job([make.part((0.5, 0.0))], make.stands(places)))
    motion = free_motion(frame)
    assert motion is not None
    assert np.abs(frame.up @ motion).max(initial=0.0) < 1e-9
    assert np.abs(motion).max() == pytest.approx(1.0)
    assert not stands(frame)


def test_a_body_hinged_on_one_mount_line_is_free() -> None:
    """Two mounts, or three in a line, leave it one rotation."""
    parts = [make.part(name=name, body=name) for name in ("unit", "cradle")]
    supports = make.stands(make.SQUARE, body="cradle")
    for count in (2, 3):
        joints = [make.mount(f"m{number}", (0.1 * number, 0.1 * number)) for number in range(count)]
        frame = make.frame(make.job(parts, supports, joints=joints))
        motion = free_motion(frame)
        assert motion is not None
        assert np.abs(frame.stretch @ motion).max() < 1e-9
        assert still(frame, motion) == tuple(each.name for each in joints)
    joints = [make.mount(name, at) for name, at in zip("xyz", [(0, 0), (0.1, 0), (0, 0.1)], strict=True)]
    assert free_motion(make.frame(make.job(parts, supports, joints=joints))) is None


@pytest.mark.parametrize(
    ("over", "standing"), [(0.0, False), (0.0009e-3, False), (-0.1, False), (0.0011e-3, True), (0.1, True)]
)
def test_a_centre_of_gravity_within_a_thousandth_of_a_millimetre_of_an_edge_tips(over: float, standing: bool) -> None:  # noqa: FBT001
    frame = make.frame(make.job([make.part((0.5 - over, 0.0))], make.stands(make.SQUARE)))
    assert stands(frame) is standing
    assert (margins(frame, rays(frame)).min() > EDGE) == standing


def test_what_goes_straight_down_goes_before_what_turns_however_far_over() -> None:
    """The centre lies 0.2 m beyond an edge; without any support it would sink as it is."""
    frame = make.frame(make.job([make.part((0.7, 0.0))], make.stands(make.SQUARE)))
    motions = rays(frame)
    beyond = over(frame, motions)
    assert beyond is not None
    assert motions[margins(frame, motions)[:, 0].argmin()] == pytest.approx(beyond)
    down = np.array([-1.0, 0.0, 0.0])
    for order in ([beyond, down], [down, beyond]):
        assert over(frame, np.array(order)) == pytest.approx(down)
    assert over(frame, -down[None, :]) is None


def test_a_mode_that_does_not_rotate_a_whole_says_nothing_of_its_margin() -> None:
    """A unit on three stands on a cradle on three stands: when the unit goes over alone, the cradle stays."""
    parts = [make.part((0.2, 0.2), name=name, body=name) for name in ("unit", "cradle")]
    corners = [(0, 0), (1, 0), (0, 1)]
    on = [make.support(name, at, on="cradle") for name, at in zip("DEF", corners, strict=True)]
    frame = make.frame(make.job(parts, [*make.stands(corners, body="cradle"), *on]))
    reach = margins(frame, rays(frame))
    assert np.isinf(reach[:, 1]).sum() == 3
    assert np.isfinite(reach[:, 0]).all()
    assert (reach > 0).all()


def test_the_null_space_of_nothing_is_everything() -> None:
    assert null_space(np.zeros((0, 3)), 3).tolist() == np.eye(3).tolist()
    assert null_space(np.eye(3)[:1], 3).shape == (2, 3)


def test_the_least_of_no_modes_is_endless() -> None:
    assert margins(make.frame(linked(5, 1, 0)), np.zeros((0, 6))).min(initial=inf) == inf


@pytest.mark.parametrize("chunk", [1, 3, 5])
def test_ways_are_the_same_however_many_subsets_are_looked_at_together(
    chunk: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Five stands: ten pairs."""
    frame = make.frame(make.job([make.part()], make.stands([*make.SQUARE, (0.1, 0.2)])))
    whole = tipping_modes.ways(frame)
    monkeypatch.setattr(tipping_modes, "CHUNK", chunk)
    again = tipping_modes.ways(frame)
    pairs = [(again.all_there, whole.all_there), *zip(again.without(), whole.without(), strict=True)]
    for one, other in pairs:
        assert np.array(sorted(one.round(9).tolist())) == pytest.approx(np.array(sorted(other.round(9).tolist())))
    assert len(again.all_there) == 4


def test_without_a_corner_it_goes_over_what_that_held_and_without_the_middle_over_nothing_more() -> None:
    """By hand: without A over the line from B to D; the twin of C is missed by nobody, the middle neither."""
    places = [*make.SQUARE, make.SQUARE[2], (0.0, 0.0)]
    frame = make.frame(make.job([make.part()], make.stands(places)))
    found = tipping_modes.ways(frame).without()
    assert [len(each) for each in found] == [1, 1, 0, 1, 0, 0]
    for number in (0, 1, 3):
        for motion in found[number]:
            moved = frame.up @ motion
            assert moved[number] < -0.1
            assert np.delete(moved, number).min() > -1e-9
