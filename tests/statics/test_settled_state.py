"""The settled state: the weights' own overturning, followed from the first-order state."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loadplan.model.job import Job
from loadplan.statics.contact_loads import Settled, Springs, settle, springs
from loadplan.statics.mass import Array
from loadplan.statics.second_order import levers
from loadplan.statics.settled_state import Leaning, Standing, settled_state
from tests.statics import builders as make


def standing(job: Job, gaps: tuple[float, ...] = ()) -> Standing:
    """The only group of a job in its first-order state."""
    frame = make.frame(job)
    held = springs(frame, {})
    low = np.array(gaps or (0.0,) * len(frame.supports)) / frame.span
    first = settle(held, frame.load[None], low[None])
    return Standing(held, low, frame.load, first, levers(frame, first))


def settled(job: Job, gaps: tuple[float, ...] = ()) -> Leaning:
    found = settled_state(standing(job, gaps))
    assert found is not None
    return found


def tall(x: float, height: float, stiffness: float = 1e5) -> Job:
    """100 kg over four stands at (±0.5, ±0.5)."""
    use = replace(make.STAND, stiffness=stiffness)
    return make.job([make.part((x, 0.0, 0.2 + height), 100.0)], make.stands(make.SQUARE, use=use))


@settings(derandomize=True, max_examples=15)
@given(st.floats(-0.2, 0.2), st.floats(0.0, 2.0))
def test_a_tilt_grows_by_one_over_one_less_sway(x: float, height: float) -> None:
    """Derived here: (c − W h) t = W x about one axis, c = 4 k a²; as W h / c is the sway, t = t1 / (1 − sway)."""
    job = tall(x, height)
    first = standing(job).first.motions[0]
    found = settled(job)
    share = make.newton(100.0) * height / (4 * 1e5 * 0.25)
    assert found.sway == pytest.approx(share, rel=1e-9, abs=1e-12)
    assert found.motions == pytest.approx(first / np.array([1.0, 1.0, 1.0 - share]), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(("height", "stands"), [(0.99, True), (1.01, False)])
def test_it_goes_over_by_its_own_lean_from_a_sway_of_one_on(height: float, stands: bool) -> None:  # noqa: FBT001
    """The rigid bar on a rotational spring: W h = c at height 1."""
    limit = 4 * 1e5 * 0.25 / make.newton(100.0)
    assert (settled_state(standing(tall(0.0, height * limit))) is not None) is stands


def test_what_hangs_rests_as_in_first_order() -> None:
    job = tall(0.1, -0.5)
    assert settled(job).motions == pytest.approx(standing(job).first.motions[0])


def beside(x: float, height: float) -> Job:
    """100 kg leaning forward over four stands, and a fifth stand on the line through its middle."""
    use = replace(make.STAND, stiffness=1e5)
    return make.job([make.part((0.1, 0.0, 0.2 + height), 100.0)], make.stands([*make.SQUARE, (x, 0.0)], use=use))


def depth(job: Job, motions: Array) -> float:
    """How far the body sinks at the fifth stand [m]."""
    frame = make.frame(job)
    return float(-(frame.up @ motions)[4]) * frame.span


def fifth(gap: float) -> tuple[float, ...]:
    return (0.0, 0.0, 0.0, 0.0, gap)


def test_a_low_stand_catches_the_lean() -> None:
    """Set between where the body sinks in first order and where its own overturning takes it: it comes to carry."""
    job = beside(0.8, 4.0)
    alone = standing(job, fifth(1.0)), settled(job, fifth(1.0))
    between = fifth((depth(job, alone[0].first.motions[0]) + depth(job, alone[1].motions)) / 2)
    assert standing(job, between).first.loads[0][4] == 0.0
    found = settled(job, between)
    assert found.touching[4]
    assert found.tilts[0, 1] < alone[1].tilts[0, 1]
    assert in_balance(standing(job, between), found) < 1e-9


def test_one_that_just_touches_carries_where_the_lean_presses_it() -> None:
    """Brought up to touch in the first-order state: in front of the middle it carries, behind it does not."""
    for x, carries in ((0.8, True), (-0.8, False)):
        job = beside(x, 2.0)
        touch = depth(job, standing(job, fifth(1.0)).first.motions[0])
        assert settled(job, fifth(touch)).touching[4] == carries


def test_a_table_that_rocks_on_a_diagonal_has_no_settled_state() -> None:
    """Two corners much lower, the centre of gravity on the other diagonal: nothing resists, so none is told."""
    assert settled_state(standing(tall(0.0, 0.5), (0.0, 0.02, 0.0, 0.02))) is None


def in_balance(of: Standing, found: Leaning) -> float:
    """Return the force out of balance, as a share of the weight, with every weight's moment against its tilt."""
    pressed = np.maximum(-of.held.up @ found.motions - of.gaps, 0.0) * of.held.stiffness
    forces = of.held.preload - of.held.mount_stiffness * (of.held.stretch @ found.motions)
    moments = np.kron(np.maximum(of.overturning, 0.0), [0.0, 1.0, 1.0]) * found.motions
    left = of.load - pressed @ of.held.up - forces @ of.held.stretch - moments
    return float(np.abs(left).max())


def in_small_steps(of: Standing, steps: int) -> Array | None:
    """Follow the same path by brute force: the factor in small steps, Newton at each; None where it goes over."""
    diagonal = np.kron(np.maximum(of.overturning, 0.0), [0.0, 1.0, 1.0])
    motion = of.first.motions[0]
    held = of.held
    for factor in np.linspace(0.0, 1.0, steps + 1)[1:]:
        for _ in range(60):
            pressed = -held.up @ motion - of.gaps
            touching = pressed > 0
            tangent = held.up[touching].T @ (held.stiffness[touching, None] * held.up[touching])
            tangent += held.stretch.T @ (held.mount_stiffness[:, None] * held.stretch) - factor * np.diag(diagonal)
            if np.linalg.eigvalsh(tangent)[0] <= 0:
                return None
            forces = held.preload - held.mount_stiffness * (held.stretch @ motion)
            left = of.load - (np.maximum(pressed, 0.0) * held.stiffness) @ held.up - forces @ held.stretch
            step = np.linalg.solve(tangent, left - factor * diagonal * motion)
            motion = motion - step
            if np.abs(step).max() < 1e-13:
                break
    return motion


def scene(seed: int) -> Standing | None:
    """A random group on springs, one whole or a second one on mounts and a stand of its own; None where it tips."""
    random = np.random.default_rng(seed)
    count, wholes = int(random.integers(3, 7)), int(random.integers(1, 3))
    up = np.zeros((count, 3 * wholes))
    places = random.uniform(-1, 1, (count, 2))
    up[:, :3] = np.column_stack([np.ones(count), places[:, 1], -places[:, 0]])
    stretch = np.zeros((0, 3 * wholes))
    if wholes == 2:
        mounts = random.uniform(-1, 1, (3, 2))
        row = np.column_stack([np.ones(3), mounts[:, 1], -mounts[:, 0]])
        stretch = np.hstack([-row, row])
        up = np.vstack([up, [[0, 0, 0, 1, 0.3, -0.2]]])
    held = Springs(
        up, stretch, random.uniform(50, 300, len(up)), random.uniform(20, 80, len(stretch)), np.zeros(len(stretch))
    )
    shares = random.dirichlet(np.ones(wholes))
    cgs = random.uniform(-0.3, 0.3, (wholes, 2))
    load = np.concatenate([share * np.array([1.0, y, -x]) for share, (x, y) in zip(shares, cgs, strict=True)])
    gaps = random.choice([0.0, 0.002, 0.005, 0.02], len(up))
    try:
        first = settle(held, load[None], gaps[None])
    except Exception:  # noqa: BLE001 - whatever does not stand is left out
        return None
    carried = wholes == 1 or first.loads[0][-1] > 1e-9
    return (
        Standing(held, gaps, load, first, random.uniform(0, 60, wholes) * shares) if carried and fits(first) else None
    )


def fits(first: Settled) -> bool:
    return bool(np.abs(first.motions).max() < 0.5)


@pytest.mark.slow
def test_random_groups_settle_where_small_steps_lead() -> None:
    """Brute force on random groups, as a second way to follow the path; most change contact or go over."""
    changed = over = stood = 0
    for seed in range(200):
        of = scene(seed)
        if of is None:
            continue
        found, wanted = settled_state(of), in_small_steps(of, 60)
        assert (found is None) == (wanted is None), seed
        if found is None or wanted is None:
            over += 1
            continue
        stood += 1
        changed += bool((found.touching != (of.first.loads[0] > 0)).any())
        assert found.motions == pytest.approx(wanted, rel=1e-7, abs=1e-9)
        assert in_balance(of, found) < 1e-9
    assert min(stood, over) > 10
    assert changed > 1


def by_every_contact(of: Standing) -> Array | None:
    """The motions of one whole, from every set of supports that could carry: by the one that agrees with itself."""
    held, found = of.held, []
    for each in product((False, True), repeat=len(of.gaps)):
        touching = np.array(each)
        up = held.up[touching]
        tangent = up.T @ (held.stiffness[touching, None] * up) - np.diag([
            0.0,
            *[max(float(of.overturning[0]), 0.0)] * 2,
        ])
        if np.linalg.eigvalsh(tangent).min() <= 1e-9 * np.abs(tangent).max():
            continue
        motions = np.linalg.solve(tangent, -of.load - up.T @ (held.stiffness[touching] * of.gaps[touching]))
        if ((-held.up @ motions - of.gaps > 0) == touching).all():
            found.append(motions)
    assert len(found) <= 1
    return found[0] if found else None


@pytest.mark.parametrize(
    ("at", "height", "gaps"),
    [
        ((0.0, 0.0), 5.0, (0.0, 0.0, 0.0, 0.0, 0.01)),
        ((0.21, 0.2), 10.0, (0.0, 0.0, 0.0, 0.0, 1.0)),
        ((0.21, -0.2), 10.0, (0.0, 0.0, 0.0, 0.0, 1.0)),
        ((0.24, 0.0), 10.0, (0.0, 0.0, 0.0, 0.0, 0.006)),
        ((0.24, 0.02), 10.0, (0.0, 0.0, 0.0, 0.0, 0.0061)),
        ((-0.1, 0.03), 20.0, (0.0, 0.0, 0.0, 0.0, 0.001)),
        ((0.0, 0.0), 15.0, (0.001, 0.0, 0.0, 0.0, 0.0)),
        ((0.0, 0.1), 15.0, (0.001, 0.0, 0.002, 0.0, 0.004)),
        ((0.3, 0.0), 3.0, (0.0, 0.0, 0.0, 0.0, 0.0)),
        ((0.0, 0.0), -0.3, (0.002, 0.0, 0.0, 0.0, 0.02)),
    ],
)
def test_it_settles_where_every_saddle_that_carries_is_pressed_and_no_other_is(
    at: tuple[float, float], height: float, gaps: tuple[float, ...]
) -> None:
    """Five soft stands; as it leans some come off, and others come to carry."""
    use = replace(make.STAND, stiffness=1e5)
    job = make.job([make.part((*at, 0.2 + height), 100.0)], make.stands([*make.SQUARE, (0.8, 0.1)], use=use))
    of = standing(job, gaps)
    wanted, found = by_every_contact(of), settled_state(of)
    assert (found is None) is (wanted is None)
    if found is not None:
        assert found.motions == pytest.approx(wanted, rel=1e-7, abs=1e-10)
        assert list(found.touching) == list(-of.held.up @ found.motions - of.gaps > 0)
        up = of.held.up[found.touching]
        stiff = up.T @ (of.held.stiffness[found.touching, None] * up)
        topples = np.diag([0.0, *[max(float(of.overturning[0]), 0.0)] * 2])
        share = np.linalg.eigvals(np.linalg.solve(stiff, topples)).real.max()
        assert found.sway == pytest.approx(share, rel=1e-6, abs=1e-9)
