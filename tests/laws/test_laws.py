"""Laws that hold for every job, over random jobs of every family. All jobs are invented."""

from collections.abc import Iterator
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan import read_job
from loadplan.assess import assess
from loadplan.model.answer import BodyAnswer, Load, LoadRange, Statics
from loadplan.model.job import Job as Read
from loadplan.model.job import Support
from loadplan.model.vehicle import Joint
from tests.examples import examples
from tests.laws.changed import (
    in_us_units,
    mirrored,
    moved,
    quarter_turned,
    scaled,
    turned,
    with_more_tolerance,
    with_slope,
)
from tests.reference.random_jobs import FAMILIES, Job, write_job

pytestmark = pytest.mark.slow
"""Hundreds of random jobs a law: they run where they are asked for."""

G = 9.80665
PLAIN = [name for name in FAMILIES if name not in ("awkward", "rough")]
"""Families without places a hair apart or motions of whole radians, where rounding would decide."""

few = examples(20)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """Draw a random job: its family and its seed."""
    family = draw(st.sampled_from(PLAIN))
    return FAMILIES[family](Random(draw(st.integers(0, 10**6))))


def solved(job: Job) -> tuple[Read, tuple[Statics, ...]]:
    """Write, read and assess a job."""
    with TemporaryDirectory() as folder:
        read = read_job(write_job(job, Path(folder)))
    return read, tuple(stage.statics for stage in assess(read).stages)


def side_by_side(one: Job, other: Job) -> Iterator[tuple[Statics, Statics]]:
    """Solve two jobs and go through their stages together."""
    return zip(solved(one)[1], solved(other)[1], strict=True)


def loads(statics: Statics) -> dict[str, Load]:
    """Return the loads of supports whose group is balanced."""
    return {each.name: each.load for each in statics.supports if each.load is not None}


def expected(statics: Statics, factor: float = 1.0) -> dict[str, float]:
    """Return the expected loads [N] times a factor."""
    return {name: factor * load.expected for name, load in loads(statics).items()}


def weight(statics: Statics) -> float:
    """Return the weight of everything [N]: what "the same" is measured by."""
    return G * sum(body.mass for body in statics.bodies)


def known(value: float | None) -> float:
    """Return a number that compares, also where there is none."""
    return -1.0 if value is None else value


def spanned(load: Load) -> LoadRange:
    """Return the range of a load of a stage solved in full."""
    assert load.range is not None
    return load.range


def figures(body: BodyAnswer) -> tuple[float, ...]:
    """Return what a body's answer says of tipping."""
    return (float(body.balanced), known(body.margin), known(body.worst_margin), known(body.tip_angle))


def alike(one: Statics, other: Statics) -> None:
    """Hold that two stages say the same of every load, its range and bounds, and of every margin."""
    near = 2e-9 * weight(one)
    assert expected(one) == pytest.approx(expected(other), abs=near)
    for name, load in loads(one).items():
        span, its = spanned(load), spanned(loads(other)[name])
        assert (span.low, span.high) == pytest.approx((its.low, its.high), abs=near)
        assert known(span.least) == pytest.approx(known(its.least), abs=near)
        assert known(span.most) == pytest.approx(known(its.most), abs=near)
    for body, its_body in zip(one.bodies, other.bodies, strict=True):
        assert figures(body) == pytest.approx(figures(its_body), rel=1e-9, abs=1e-9)


@given(job=jobs())
@few
def test_loads_and_mounts_balance_every_rigid_whole(job: Job) -> None:
    """Forces and moments of every rigid whole come to nothing, and no support pulls."""
    read, stages = solved(job)
    places = {each.name: each for each in (*read.supports, *(read.lift.arms if read.lift else ()))}
    joints = {joint.name: joint for joint in read.vehicle.joints}
    for statics in stages:
        near = 1e-9 * weight(statics)
        for body in statics.bodies:
            whole = {body.name, *body.rigid_with}
            if body.balanced:
                acting = [(place.at, load * sign) for place, load, sign in _on_supports(statics, places, whole)]
                acting += [(joint.at[0], force * sign) for joint, force, sign in _on_mounts(statics, joints, whole)]
                acting += [(each.cg, -each.mass * G) for each in statics.bodies if each.name in whole]
                assert sum(force for _, force in acting) == pytest.approx(0, abs=near)
                assert sum(at[0] * force for at, force in acting) == pytest.approx(0, abs=3 * near)
                assert sum(at[1] * force for at, force in acting) == pytest.approx(0, abs=3 * near)
        assert all(load.expected >= 0 for load in loads(statics).values())


def _on_supports(statics: Statics, places: dict[str, Support], whole: set[str]) -> Iterator[tuple[Support, float, int]]:
    for name, load in loads(statics).items():
        place = places[name]
        yield place, load.expected, (place.body in whole) - (place.on in whole)


def _on_mounts(statics: Statics, joints: dict[str, Joint], whole: set[str]) -> Iterator[tuple[Joint, float, int]]:
    for each in statics.joints:
        joint = joints[each.name]
        if each.force is not None:
            yield joint, each.force, (joint.between[0] in whole) - (joint.between[1] in whole)


@given(job=jobs())
@few
def test_mirror_the_job_and_the_loads_mirror(job: Job) -> None:
    """Left and right changed over: the same loads under the same names, and roll the other way."""
    for plain, mirror in side_by_side(job, mirrored(job)):
        alike(plain, mirror)
        for body, its in zip(plain.bodies, mirror.bodies, strict=True):
            if body.motion is not None and its.motion is not None:
                assert (body.motion.w, body.motion.rx, body.motion.ry) == pytest.approx(
                    (its.motion.w, -its.motion.rx, its.motion.ry), abs=1e-8
                )


@given(job=jobs(), x=st.integers(-3000, 3000), y=st.integers(-2000, 2000))
@few
def test_move_the_origin_and_nothing_changes(job: Job, x: int, y: int) -> None:
    """Axes may start anywhere."""
    for plain, other in side_by_side(job, moved(job, x, y)):
        alike(plain, other)


@given(job=jobs())
@few
def test_turn_the_axes_by_a_quarter_and_nothing_changes(job: Job) -> None:
    """Forward may become left; boxes of tolerance turn with it."""
    for plain, other in side_by_side(job, quarter_turned(job)):
        alike(plain, other)


@given(job=jobs(), degrees=st.integers(1, 359))
@few
def test_turn_the_axes_by_any_angle_and_loads_and_margins_stay(job: Job, degrees: int) -> None:
    """Only what hangs on boxes of tolerance along x and y may change."""
    for plain, other in side_by_side(job, turned(job, degrees)):
        assert expected(plain) == pytest.approx(expected(other), abs=2e-9 * weight(plain))
        for body, its in zip(plain.bodies, other.bodies, strict=True):
            assert known(body.margin) == pytest.approx(known(its.margin), abs=1e-9)
            assert known(body.tip_angle) == pytest.approx(known(its.tip_angle), abs=1e-9)


@given(job=jobs())
@few
def test_metric_and_us_files_say_the_same(job: Job) -> None:
    """Units are a way of writing."""
    for metric, us in side_by_side(job, in_us_units(job)):
        alike(metric, us)


@given(job=jobs(), factor=st.sampled_from([0.5, 2.0, 3.0]))
@few
def test_twice_the_mass_on_twice_the_stiffness_is_twice_the_load(job: Job, factor: float) -> None:
    """Masses and stiffnesses by one factor: loads by that factor, margins and motions unchanged."""
    for plain, other in side_by_side(job, scaled(job, factor)):
        assert expected(plain, factor) == pytest.approx(expected(other), abs=2e-9 * weight(other))
        for body, its in zip(plain.bodies, other.bodies, strict=True):
            assert figures(body) == pytest.approx(figures(its), rel=1e-9, abs=1e-9)


@given(job=jobs(), factor=st.sampled_from([1.1, 1.5, 3.0]))
@few
def test_more_tolerance_is_never_better(job: Job, factor: float) -> None:
    """Worst margins fall, bounds widen, what was not robust stays so; what is as given stays as it was."""
    for plain, loose in side_by_side(job, with_more_tolerance(job, factor)):
        assert expected(plain) == pytest.approx(expected(loose), abs=2e-9 * weight(plain))
        _no_better(plain, loose)


@given(job=jobs(), slope=st.sampled_from([0.7, 2.0, 6.0]))
@few
def test_more_slope_is_never_better(job: Job, slope: float) -> None:
    """A steeper floor than 0.6° never helps."""
    for plain, steep in side_by_side(job, with_slope(job, slope)):
        _no_better(plain, steep)


def _no_better(plain: Statics, worse: Statics) -> None:
    """Hold that balance, margins and bounds are no better; what has no figure gets none."""
    near = 1e-8 * weight(plain)
    for group, its in zip(plain.groups, worse.groups, strict=True):
        assert group.balanced == its.balanced
        assert group.robust or not its.robust
    for body, its_body in zip(plain.bodies, worse.bodies, strict=True):
        assert known(its_body.margin) == pytest.approx(known(body.margin), abs=1e-12)
        assert (its_body.worst_margin is None) == (body.worst_margin is None)
        assert _at_most(its_body.worst_margin, body.worst_margin, 1e-12)
    for name, load in loads(plain).items():
        span, its_span = spanned(load), spanned(loads(worse)[name])
        assert _at_most(its_span.least, span.least, near)
        assert its_span.most is None or (span.most is not None and its_span.most >= span.most - near)


def _at_most(value: float | None, limit: float | None, near: float) -> bool:
    return value is None or (limit is not None and value <= limit + near)


@given(job=jobs())
@few
def test_bound_holds_range_and_range_holds_expected(job: Job) -> None:
    """Least <= low <= expected <= high <= most, and the worst margin is no better than the one as given."""
    for statics in solved(job)[1]:
        near = 1e-8 * weight(statics)
        for load in loads(statics).values():
            span = spanned(load)
            assert span.low - near <= load.expected <= span.high + near
            if span.least is not None:
                assert span.least - near <= span.low
                assert span.most is None or span.high <= span.most + near
        for body in statics.bodies:
            if body.worst_margin is not None and body.margin is not None:
                assert body.worst_margin <= body.margin + 1e-12
