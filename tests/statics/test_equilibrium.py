"""The equations of one group."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.model.answer import Motion
from loadplan.model.job import Stage
from loadplan.statics.equilibrium import _share_about, frames
from loadplan.statics.mass import lumps
from tests.examples import examples
from tests.statics import builders as make


def groups(*joints: object, **changes: object) -> list[tuple[tuple[str, ...], ...]]:
    """Wholes of every group of three bodies with these joints."""
    parts = [make.part(name=name, body=name) for name in ("shell", "cradle", "unit")]
    job = make.job(parts, joints=joints, **changes)  # type: ignore[arg-type]
    state = make.state(job)
    return [each.wholes for each in frames(state, lumps(job, state))]


def test_bolts_make_one_whole_and_mounts_one_group() -> None:
    bolted = make.bolts("bolts", ("unit", "shell"))
    mounted = make.mount("mount", (0, 0), ("cradle", "unit"))
    assert groups() == [(("shell",),), (("cradle",),), (("unit",),)]
    assert groups(bolted) == [(("shell", "unit"),), (("cradle",),)]
    assert groups(mounted) == [(("shell",),), (("cradle",), ("unit",))]
    assert groups(bolted, mounted) == [(("shell", "unit"), ("cradle",))]


def test_a_support_on_another_body_makes_one_group() -> None:
    beam = make.support("beam", (0, 0), body="unit", on="shell")
    assert groups(supports=[beam]) == [(("shell",), ("unit",)), (("cradle",),)]


def test_an_undone_joint_ties_nothing() -> None:
    bolted = make.bolts("bolts", ("unit", "shell"))
    assert len(groups(bolted, stages=[Stage("apart", undone=("bolts",))])) == 3


def test_inside_one_whole_a_mount_and_a_support_carry_nothing() -> None:
    joints = [make.bolts("bolts", ("unit", "cradle")), make.mount("mount", (0, 0), ("unit", "cradle"))]
    parts = [make.part(name=name, body=name) for name in ("unit", "cradle")]
    inside = make.support("inside", (0, 0), body="unit", on="cradle")
    frame = make.frame(make.job(parts, [inside, make.support("A", (1, 0))], joints=joints))
    assert frame.wholes == (("unit", "cradle"),)
    assert (frame.mounts, frame.idle, [each.name for each in frame.supports]) == ((), ("inside",), ["A"])


def test_the_height_of_a_whole_is_told_over_its_lowest_saddle() -> None:
    """With none: over its mounts; what merely stands on it does not count."""
    parts = [make.part(name=name, body=name) for name in ("unit", "cradle")]
    supports = [
        make.support("A", (0, 0, 0.25), body="cradle"),
        make.support("B", (1, 0, 0.22), body="cradle"),
        make.support("C", (1, 0, 0.1), body="unit", on="cradle"),
    ]
    joints = [make.mount("low", (0, 0, 0.3)), make.mount("high", (1, 0, 0.6))]
    assert make.frame(make.job(parts, supports, joints=joints)).base.tolist() == pytest.approx([0.1, 0.22])
    assert make.frame(make.job(parts, supports[:2], joints=joints)).base.tolist() == pytest.approx([0.3, 0.22])


def test_a_whole_that_hangs_on_nothing_has_height_zero() -> None:
    assert make.frame(make.job([make.part()])).base.tolist() == [0.0]


@pytest.mark.parametrize("count", [1, 3])
def test_supports_in_one_place_have_a_span_of_one(count: int) -> None:
    frame = make.frame(make.job([make.part()], make.stands([(0.2, 0.1)] * count)))
    assert (frame.span, *frame.middle) == pytest.approx((1.0, 0.2, 0.1))


def test_without_supports_the_span_is_that_of_the_weights() -> None:
    parts = [make.part((0, 0), name="a"), make.part((3, 1), name="b")]
    assert make.frame(make.job(parts)).span == pytest.approx(1.5)


coordinates = st.floats(-3, 3)


@examples(20)
@given(
    st.lists(st.tuples(coordinates, coordinates), min_size=2, max_size=5), st.lists(coordinates, min_size=3, max_size=3)
)
def test_a_scaled_motion_moves_every_saddle_as_the_motion_in_metres_does(
    places: list[tuple[float, float]], scaled: list[float]
) -> None:
    frame = make.frame(make.job([make.part()], make.stands(places)))
    motion = frame.motion(np.array(scaled), 0)
    assert frame.motions(np.array(scaled)) == (("unit", motion),)
    for row, (x, y) in zip(frame.up, places, strict=True):
        assert motion.up_at(x, y) == pytest.approx(frame.span * float(row @ scaled), abs=1e-9)


def test_each_whole_has_its_own_motion_and_what_lies_between_moves_by_their_difference() -> None:
    parts = [make.part(name=name, body=name) for name in ("unit", "cradle")]
    supports = [*make.stands(make.SQUARE, body="cradle"), make.support("on", (0.4, 0.3), on="cradle")]
    frame = make.frame(make.job(parts, supports, joints=[make.mount("m", (0.2, -0.1), ("cradle", "unit"))]))
    scaled = np.array([0.1, 0.2, 0.3, -0.4, 0.5, -0.6])
    motions = dict(frame.motions(scaled))
    assert (frame.whole("unit"), frame.whole("cradle"), list(motions)) == (0, 1, ["unit", "cradle"])
    assert frame.span * frame.up[:4] @ scaled == pytest.approx([motions["cradle"].up_at(*at) for at in make.SQUARE])
    apart = motions["unit"].up_at(0.4, 0.3) - motions["cradle"].up_at(0.4, 0.3)
    assert frame.span * float(frame.up[4] @ scaled) == pytest.approx(apart)
    stretch = motions["cradle"].up_at(0.2, -0.1) - motions["unit"].up_at(0.2, -0.1)
    assert frame.span * float(frame.stretch[0] @ scaled) == pytest.approx(stretch)


def test_the_load_is_the_weight_at_the_centre_of_gravity() -> None:
    """Weight 1 and moments about the middle, in spans; what a stage took off does not weigh."""
    parts = [make.part((0.1, 0.2), 100.0), make.part((5, 5), 30.0, name="lid")]
    stage = Stage("off", in_place=("A", "B", "C", "D"), off=("lid",), any_order=True)
    frame = make.frame(make.job(parts, make.stands(make.SQUARE), stages=[stage]))
    assert frame.weight == pytest.approx(make.newton(100.0))
    assert frame.load.tolist() == pytest.approx([1.0, 0.4, -0.2])


def test_up_at_is_heave_plus_roll_to_the_left_less_pitch_forward() -> None:
    assert Motion(1.0, 0.1, 0.01).up_at(2.0, 3.0) == pytest.approx(1.0 + 0.3 - 0.02)


def test_a_rod_that_begins_on_the_line_of_the_mounts_counts_whole() -> None:
    """There an upright force would turn nothing either, so that there is nothing to compare its lever with."""
    mounts = [np.array([0.0, side, 0.5]) for side in (-0.4, 0.4)]
    start = np.array([0.0, 0.1, 0.3])
    assert _share_about(start, start + np.array([1.0, 0.0, 0.0]), mounts) == pytest.approx(1.0)
    beside = start + np.array([0.5, 0.0, 0.0])
    assert _share_about(beside, beside + np.array([0.0, 0.0, 1.0]), mounts) == pytest.approx(1.0)
    assert _share_about(beside, beside + np.array([1.0, 0.0, 0.0]), mounts) == pytest.approx(0.2 / 0.5)
