"""The least and the most that each support could carry."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from loadplan.model.job import Stage
from loadplan.statics import load_bounds as load_bounds_module
from loadplan.statics.equilibrium import Frame
from loadplan.statics.load_bounds import load_bounds
from loadplan.statics.mass import Array
from loadplan.statics.simplex import NoAnswerError
from loadplan.statics.tipping_modes import rays, stands
from loadplan.statics.unsolved import UnsolvedError
from loadplan.statics.worst_margin import worst
from tests.examples import examples
from tests.statics import builders as make
from tests.statics.test_contact_loads import RECTANGLE, SIX, UNIT, table


def by_highs(frame: Frame) -> Array:
    """The definition as one programme a bound (2, n): r >= 0, f free, m in [low, high], m xlo <= s <= m xhi."""
    n, m, p = len(frame.supports), len(frame.mounts), len(frame.lumps)
    total = sum(lump.sign * lump.mass for lump in frame.lumps if lump.counts)
    equal = np.zeros((frame.load.size, n + m + 3 * p))
    equal[:, :n], equal[:, n : n + m] = frame.up.T, frame.stretch.T
    under = np.zeros((4 * p, n + m + 3 * p))
    box: list[tuple[float | None, float | None]] = [(0.0, None)] * n + [(None, None)] * m
    for number, (lump, whole) in enumerate(zip(frame.lumps, frame.whole_of, strict=True)):
        mass, along, across = (n + m + part * p + number for part in range(3))
        equal[3 * whole, mass] = equal[3 * whole + 1, across] = -lump.sign
        equal[3 * whole + 2, along] = lump.sign
        for axis, moment in enumerate((along, across)):
            for side, sign in enumerate((1.0, -1.0)):
                end = (lump.at[axis] + sign * lump.at_pm[axis] - frame.middle[axis]) / frame.span
                under[4 * number + 2 * axis + side, [moment, mass]] = sign, -sign * end
        box.append((0.0 if lump.optional else lump.low / total, lump.high / total))
    box += [(None, None)] * (2 * p)
    tight = {"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10}
    found = np.empty((2, n))
    for row, sign in enumerate((1.0, -1.0)):
        for number in range(n):
            value = np.zeros(equal.shape[1])
            value[number] = sign
            answer = linprog(value, under, np.zeros(4 * p), equal, np.zeros(len(equal)), box, "highs", options=tight)
            assert answer.status in (0, 3)
            found[row, number] = sign * answer.fun if answer.status == 0 else np.inf
    return found


@pytest.mark.parametrize(
    ("places", "at", "least", "most"),
    [
        (RECTANGLE, (0.42, 0.29), (0, 408, 952, 0), (1020, 1428, 1972, 1020)),
        (SIX, (0.42, 0.29), (0, 0, 0, 0, 0, 0), (1020, 1428, 1972, 1020, 1428, 1972)),
        (RECTANGLE, (0.12, 0.04), (2448, 408, 0, 0), (2720, 680, 272, 272)),
    ],
    ids=["A1", "A2", "A3"],
)
def test_four_and_six_stands(
    places: tuple[tuple[float, float], ...],
    at: tuple[float, float],
    least: tuple[float, ...],
    most: tuple[float, ...],
) -> None:
    """Derived here by a linear programme solved as fractions [N]: weights exactly known."""
    frame = make.frame(table(places, at))
    found = load_bounds(frame, rays(frame))
    assert found.least * frame.weight == pytest.approx(least, abs=1e-6)
    assert found.most * frame.weight == pytest.approx(most, abs=1e-6)


def test_a_doubtful_centre_inside_the_box_can_be_worse_than_at_its_corners() -> None:
    """By hand: over a stand in the middle of a side, the most is more than at any corner of the box.

    Six stands as A2, the centre somewhere within 60 mm of a point 60 mm beside the fifth: that stand may bear all.
    """
    part = make.part((0.3, 0.06), UNIT, at_pm=(0.06, 0.06, 0.0))
    frame = make.frame(make.job([part], make.stands(((0.0, -0.1), (0.6, -0.1), *SIX[2:4], (0.3, 0.06), SIX[5]))))
    assert load_bounds(frame, rays(frame)).most[4] == pytest.approx(1.0)


def random_frame(seed: int) -> Frame | None:
    """A group that stands over its whole tolerance, or None; some parts may be gone, some stands on the cradle."""
    rng = np.random.default_rng(seed)
    bodies = ["unit", "cradle"][: int(rng.integers(1, 3))]
    supports = [
        make.support(f"s{number}", tuple(rng.uniform(-0.7, 0.7, 2).round(2)), body=str(rng.choice(bodies)))
        for number in range(int(rng.integers(4, 10)))
    ]
    if len(bodies) > 1 and rng.random() < 0.3:
        supports.append(make.support("on", (0.2, 0.1), body="unit", on="cradle"))
    joints = [
        make.mount(f"m{number}", tuple(rng.uniform(-0.4, 0.4, 2)))
        for number in range(int(rng.integers(1, 4)) if len(bodies) > 1 else 0)
    ]
    parts = [
        make.part(
            tuple(rng.uniform(-0.25, 0.25, 2)),
            float(rng.uniform(5, 100)),
            name=f"{body} {number}",
            body=body,
            mass_pm=float(rng.choice([0.0, 1.0])),
            at_pm=(float(rng.choice([0.0, 0.02])), 0.01, 0.0),
        )
        for body in bodies
        for number in range(3)
    ]
    whole = {"unit": make.weighed(400.0, (0.0, 0.05, 0.4), mass_pm=4.0, cg_pm=(0.01, 0.02, 0.0))}
    stage = Stage("off", tuple(each.name for each in supports), off=("unit 1",), any_order=bool(rng.integers(2)))
    job = make.job(parts, supports, joints=joints, stages=[stage], whole=whole if rng.random() < 0.3 else None)
    frame = make.frame(job)
    return frame if stands(frame) and worst(frame, rays(frame), make.floor(frame, 0.0), ()).robust else None


def test_random_groups_agree_with_highs() -> None:
    """To 1e-9 of the weight, HiGHS at tolerances of 1e-10; also where nothing limits a load."""
    frames = [frame for seed in range(60) if (frame := random_frame(seed))]
    assert len(frames) > 12
    endless = 0
    for frame in frames:
        found, wanted = load_bounds(frame, rays(frame)), by_highs(frame)
        assert found.least == pytest.approx(wanted[0], abs=1e-9)
        assert found.most == pytest.approx(wanted[1], abs=1e-9)
        endless += int(np.isinf(found.most).any())
    assert endless


def test_a_jack_that_presses_against_a_mount_has_no_upper_bound() -> None:
    """Between cradle and unit: what the jack pushes up the mounts pull down; the floor's loads stay bounded."""
    parts = [make.part(name=name, body=name) for name in ("unit", "cradle")]
    joints = [make.mount(name, at) for name, at in zip("xyz", [(-0.2, 0.0), (0.2, 0.2), (0.2, -0.2)], strict=True)]
    jack = make.support("jack", (0.0, 0.0), on="cradle", use=make.JACK)
    frame = make.frame(make.job(parts, [*make.stands(make.SQUARE, body="cradle"), jack], joints=joints))
    found = load_bounds(frame, rays(frame))
    assert np.isinf(found.most).tolist() == [False] * 4 + [True]
    assert found.least[4] == pytest.approx(0.0, abs=1e-12)


def test_a_part_that_may_be_gone_weighs_anything_up_to_its_most() -> None:
    """Three stands carry 100 kg in the middle; 30 kg, in doubt by 3, over the first one may still be on."""
    parts = [make.part((0.0, 0.0), 90.0), make.part((2.0, 0.0), 30.0, mass_pm=3.0, name="lid")]
    corners = [(2.0, 0.0), (-1.0, 1.0), (-1.0, -1.0)]
    stage = Stage("off", in_place=("A", "B", "C"), off=("lid",), any_order=True)
    frame = make.frame(make.job(parts, make.stands(corners), stages=[stage]))
    found = load_bounds(frame, rays(frame))
    assert found.least * 90 == pytest.approx([30, 30, 30])
    assert found.most * 90 == pytest.approx([63, 30, 30])


@examples(15)
@given(st.integers(0, 60), st.floats(1.0, 1.3))
def test_more_tolerance_never_narrows_the_bounds(seed: int, more: float) -> None:
    frame = random_frame(seed)
    if frame is None:
        return
    lumps = tuple(
        replace(
            each,
            low=each.mass - more * (each.mass - each.low),
            high=each.mass + more * (each.high - each.mass),
            at_pm=(each.at_pm[0] * more, each.at_pm[1] * more, each.at_pm[2]),
        )
        for each in frame.lumps
    )
    wider = replace(frame, lumps=lumps)
    if worst(wider, rays(wider), make.floor(wider, 0.0), ()).robust:
        before, after = load_bounds(frame, rays(frame)), load_bounds(wider, rays(wider))
        assert (after.least <= before.least + 1e-10).all()
        assert (after.most >= before.most - 1e-10).all()


def test_what_tips_has_no_bounds() -> None:
    """By hand: 30 mm beyond the axis x = 0."""
    frame = make.frame(table(RECTANGLE, (-0.03, 0.04)))
    with pytest.raises(UnsolvedError):
        load_bounds(frame, rays(frame))


HUNDREDTH = (1e-5, 1e-5, 1e-5)

SYMMETRIC = {
    "four": ([(-0.5, 0.4), (-0.5, -0.4), (0.5, 0.4), (0.5, -0.4)], 0.0),
    "six": ([(-0.5, 0.5), (-0.5, -0.5), (0.6, 0.5), (0.6, -0.5), (0.0, 0.5), (0.0, -0.5)], 0.05),
}


@pytest.mark.parametrize("name", SYMMETRIC)
def test_a_symmetric_unit_known_to_a_hundredth_of_a_millimetre_has_bounds(name: str) -> None:
    """By hand for four: two across from each other can carry it all, so each carries from nothing to one half.

    Of such jobs the search among corners goes round for ever in some.
    """
    places, ahead = SYMMETRIC[name]
    frame = make.frame(make.job([make.part((ahead, 0.0), at_pm=HUNDREDTH)], make.stands(places)))
    found = load_bounds(frame, rays(frame))
    least, most = by_highs(frame)
    assert found.least == pytest.approx(np.maximum(least, 0.0), abs=1e-8)
    assert found.most == pytest.approx(most, abs=1e-8)
    if name == "four":
        assert found.least == pytest.approx(np.zeros(4), abs=1e-8)
        assert found.most == pytest.approx(np.full(4, 0.5), abs=5e-5)


@pytest.mark.parametrize("seed", range(12))
def test_where_the_search_does_not_settle_highs_answers_the_same(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    frame = random_frame(seed)
    if frame is None:
        return
    settled = load_bounds(frame, rays(frame))

    def endless(*_: object) -> None:
        raise NoAnswerError

    monkeypatch.setattr(load_bounds_module, "best", endless)
    instead = load_bounds(frame, rays(frame))
    assert instead.least == pytest.approx(settled.least, abs=1e-8)
    assert instead.most == pytest.approx(settled.most, abs=1e-8)
