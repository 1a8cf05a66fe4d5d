"""Worst margins, against every corner of the tolerances, every allowed subset, and the slope to every side."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from math import inf, radians, tan
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.model.job import Job, Stage
from loadplan.statics import worst_margin as worst_module
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array, off_before
from loadplan.statics.minimum_cut import Needs
from loadplan.statics.tipping_modes import free_motion, margins, rays, rotations
from loadplan.statics.unsolved import TooManyError
from loadplan.statics.worst_margin import worst
from tests.examples import examples
from tests.statics import builders as make


class Found(NamedTuple):
    margins: list[float]
    work: float


def corners(frame: Frame) -> tuple[Array, Array]:
    """Every mass (c, p) and place (c, p, 3) at an end of its tolerance."""
    options = []
    for lump in frame.lumps:
        ends = [sorted({at - pm, at + pm}) for at, pm in zip(lump.at, lump.at_pm, strict=True)]
        options.append(np.array(list(product(sorted({lump.low, lump.high}), *ends))))
    chosen = np.indices([len(each) for each in options]).reshape(len(options), -1)
    every = np.stack([each[number] for each, number in zip(options, chosen, strict=True)], axis=1)
    return every[:, :, 0], every[:, :, 1:]


def subsets(frame: Frame, needs: Needs) -> Iterator[Array]:
    """Every way (p) in which any order may have the optional lumps: 1 counts, 0 does not."""
    for bits in product((0, 1), repeat=sum(lump.optional for lump in frame.lumps)):
        row, waiting = np.ones(len(frame.lumps)), iter(bits)
        for number, lump in enumerate(frame.lumps):
            if lump.optional:
                row[number] = next(waiting)
        off = [bool(row[number]) == (lump.sign < 0) and lump.optional for number, lump in enumerate(frame.lumps)]
        if all(off[other] for part, other in needs if off[part]):
            yield row


def brute(frame: Frame, motions: Array, slope: float, needs: Needs) -> Found:
    """The definition: y b less tan(slope) Sum |m h| ||rot||, over m ||rot|| of one whole, at its least."""
    turned, own = rotations(motions), np.eye(len(frame.wholes))[frame.whole_of]
    heave, rx, ry = np.array([
        [(moved.w, moved.rx, moved.ry) for moved in (frame.motion(each, whole) for whole in frame.whole_of)]
        for each in motions
    ]).transpose(2, 0, 1)
    masses, places = corners(frame)
    x, y, z = places[:, None].transpose(3, 0, 1, 2)
    up = heave + rx * y - ry * x
    least, work = np.full(len(frame.wholes), inf), inf
    for row in subsets(frame, needs):
        weigh = masses * row * [lump.sign for lump in frame.lumps]
        swing = tan(slope) * np.abs((weigh * (z[:, 0] - frame.base[frame.whole_of])) @ own) @ turned.T
        left = (weigh[:, None] * up).sum(axis=2) - swing
        bottom = (weigh @ own)[:, None] * turned
        work = min(work, float(left.min()))
        ratio = np.where(turned > 1e-9, left[:, :, None] / np.maximum(bottom, 1e-12), inf)
        least = np.minimum(least, ratio.min(axis=(0, 1)))
    return Found(least.tolist(), work)


def random_job(seed: int, *, weighed: bool, hanging: bool, ordered: bool = True) -> Job:
    """Two to four parts on one or two bodies; some come off in any order, or one after another."""
    rng = np.random.default_rng(seed)
    two = bool(rng.integers(2))
    bodies = ["unit", "cradle"] if two else ["unit"]

    def part(name: str, body: str, **more: object) -> object:
        pm = [float(rng.choice([0.0, 0.02])) for _ in range(3)]
        low = -0.3 if hanging else 0.25
        at = (*rng.uniform(-0.2, 0.2, 2), rng.uniform(low, 0.6))
        mass = float(10 ** rng.uniform(0.3, 2))
        return make.part(at, mass, name=name, body=body, mass_pm=0.1 * mass, at_pm=(pm[0], pm[1], pm[2]), **more)  # type: ignore[arg-type]

    parts = [part(f"{body} block", body) for body in bodies]
    parts += [part("lid", "unit"), part("cap", str(rng.choice(bodies)), after=("lid",) if ordered else ())]
    whole = {"unit": make.weighed(400.0, (0.02, 0.01, 0.4), mass_pm=5.0, cg_pm=(0.01, 0.0, 0.02))} if weighed else None
    if weighed:
        parts = parts[1:]
    supports = [*make.stands(make.SQUARE, body=bodies[-1])]
    joints = []
    if two:
        supports += [make.support("E", (0.3, 0.3)), make.support("F", (0.3, -0.3))]
        joints = [make.mount("m", (-0.3, 0.0, 0.3))]
    stage = Stage("off", in_place=tuple(each.name for each in supports), off=("lid", "cap"), any_order=True)
    return make.job(parts, supports, joints=joints, whole=whole, stages=[stage])  # type: ignore[arg-type]


@examples(80)
@given(st.integers(0, 9999), st.booleans(), st.booleans(), st.booleans(), st.sampled_from([0.0, 0.6, 5.0]))
def test_the_worst_margin_is_the_least_over_corners_subsets_and_slope(
    seed: int,
    weighed: bool,  # noqa: FBT001
    hanging: bool,  # noqa: FBT001
    ordered: bool,  # noqa: FBT001
    degrees: float,
) -> None:
    job = random_job(seed, weighed=weighed, hanging=hanging, ordered=ordered)
    frame = make.frame(job)
    assert free_motion(frame) is None
    motions, needs = rays(frame), off_before(job, frame.lumps)
    found, wanted = (
        worst(frame, motions, make.floor(frame, radians(degrees)), needs),
        brute(frame, motions, radians(degrees), needs),
    )
    assert found.margins.tolist() == pytest.approx(wanted.margins, abs=1e-9)
    assert found.robust == (wanted.work > 0 and min(wanted.margins) > 1e-6)


def hung(count: int, *, ordered: bool = False) -> Job:
    """A shell on four stands with bodies below it, each on three mounts, its centre of gravity under them."""
    parts = [make.part((0.0, 0.0, 0.9), 500.0, name="shell", body="shell")]
    joints, off = [], []
    for number in range(count):
        body, x = f"body {number}", 0.04 * number - 0.2
        parts.append(make.part((x, 0.1, 0.1), 20.0, name=body, body=body, at_pm=(0.01, 0.01, 0.4)))
        parts.append(make.part((x, -0.1, 0.7), 3.0, name=f"lid {number}", body=body))
        parts.append(make.part((x, 0.2, 0.1), 3.0, name=f"cap {number}", body=body, after=(f"lid {number}",)))
        off += [f"lid {number}", f"cap {number}"]
        joints += [
            make.mount(f"mount {number} {place}", (x + dx, dy, 0.5), (body, "shell"))
            for place, (dx, dy) in enumerate([(0.1, 0.1), (-0.1, 0.1), (0.0, -0.1)])
        ]
    stages = [Stage("off", in_place=tuple("ABCD"), off=tuple(off) if ordered else (), any_order=True)]
    return make.job(parts, make.stands(make.SQUARE, body="shell"), joints=joints, stages=stages)


def test_bodies_that_hang_each_take_their_own_worst_side() -> None:
    """Two of them, with three lumps each, against every combination of corners and sides by hand of a whole.

    Each whole's share is the least of both signs of its own moment: a body whose weight lies below its mounts
    swings the other way.
    """
    job = hung(2)
    frame, slope = make.frame(job), radians(3)
    motions = rays(frame)
    turned = rotations(motions)
    least = inf
    for number, motion in enumerate(motions):
        work = 0.0
        for whole in range(len(frame.wholes)):
            own = [lump for lump, each in zip(frame.lumps, frame.whole_of, strict=True) if each == whole]
            moved = frame.motion(motion, whole)
            reach = [abs(moved.rx) * lump.at_pm[1] + abs(moved.ry) * lump.at_pm[0] for lump in own]
            level = sum(
                lump.mass * (moved.up_at(lump.at[0], lump.at[1]) - less) for lump, less in zip(own, reach, strict=True)
            )
            over = sum(lump.mass * (lump.at[2] - frame.base[whole]) for lump in own)
            most = abs(over) + sum(lump.mass * lump.at_pm[2] for lump in own)
            work += level - tan(slope) * turned[number, whole] * most
        least = min(least, work / (500.0 * turned[number, 0]))
    assert worst(frame, motions, make.floor(frame, slope), ()).margins[0] == pytest.approx(least, abs=1e-9)


def test_many_hanging_bodies_are_judged_without_trying_every_combination() -> None:
    """Nineteen bodies: 2^19 combinations of sides would never end."""
    frame = make.frame(hung(19))
    assert worst(frame, rays(frame), make.floor(frame, radians(0.6)), ()).robust


def test_more_bodies_that_swing_and_shed_parts_in_order_than_can_be_combined_are_refused() -> None:
    job = hung(worst_module.MOST_SIDED + 1, ordered=True)
    frame = make.frame(job)
    with pytest.raises(TooManyError):
        worst(frame, rays(frame), make.floor(frame, radians(0.6)), off_before(job, frame.lumps))


def test_bodies_that_swing_and_shed_parts_in_order_are_no_worse_than_every_order() -> None:
    """Without the order there are more subsets, so the margin can only be smaller; level, sides do not matter."""
    job = hung(2, ordered=True)
    frame = make.frame(job)
    motions, needs = rays(frame), off_before(job, frame.lumps)
    for slope in (0.0, radians(2)):
        in_order = worst(frame, motions, make.floor(frame, slope), needs).margins
        assert (in_order >= worst(frame, motions, make.floor(frame, slope), ()).margins - 1e-12).all()


def test_without_tolerance_and_slope_the_worst_margin_is_the_margin() -> None:
    frame = make.frame(make.job([make.part((0.1, 0.2))], make.stands(make.SQUARE)))
    motions = rays(frame)
    assert worst(frame, motions, make.floor(frame, 0.0), ()).margins == pytest.approx(
        margins(frame, motions).min(axis=0)
    )


@examples(15)
@given(st.integers(0, 9999), st.floats(1.0, 1.5), st.floats(0, 3))
def test_more_tolerance_or_slope_never_improves_the_worst_margin(seed: int, more: float, degrees: float) -> None:
    job = random_job(seed, weighed=False, hanging=True)
    parts = tuple(
        replace(part, mass_pm=part.mass_pm * more, at_pm=tuple(each * more for each in part.at_pm))  # type: ignore[arg-type]
        for part in job.vehicle.parts
    )
    wider = make.frame(replace(job, vehicle=replace(job.vehicle, parts=parts)))
    frame = make.frame(job)
    motions, needs = rays(frame), off_before(job, frame.lumps)
    before = worst(frame, motions, make.floor(frame, radians(degrees)), needs)
    for of, slope in ((wider, degrees), (frame, degrees * more)):
        after = worst(of, motions, make.floor(of, radians(slope)), needs)
        assert (after.margins <= before.margins + 1e-12).all()
        assert before.robust or not after.robust


def test_over_an_edge_by_tolerance_alone_is_not_robust() -> None:
    """Centre 20 mm inside; 25 mm of doubt."""
    part = make.part((0.48, 0.0), at_pm=(0.025, 0.0, 0.0))
    frame = make.frame(make.job([part], make.stands(make.SQUARE)))
    found = worst(frame, rays(frame), make.floor(frame, 0.0), ())
    assert found.margins[0] == pytest.approx(-0.005)
    assert not found.robust


def test_a_margin_that_only_just_holds_is_not_robust() -> None:
    """Half a thousandth of a millimetre inside the edge at the end of the tolerance: work is left, but not enough."""
    part = make.part((0.48 - 0.5e-6, 0.0), at_pm=(0.02, 0.0, 0.0))
    frame = make.frame(make.job([part], make.stands(make.SQUARE)))
    found = worst(frame, rays(frame), make.floor(frame, 0.0), ())
    assert found.margins[0] == pytest.approx(0.5e-6, abs=1e-12)
    assert not found.robust


def test_a_light_part_far_back_pays_for_a_heavy_one_that_has_to_be_off_before_it() -> None:
    """By hand, distances behind the front edge: 100 kg 0.5 m; 20 kg 0.45 m; 2 kg 1.9 m, off only after; 1 kg −1 m.

    Worst is the last still on and both others off: (50 − 1) / 101; with all on (50 + 9 + 3.8 − 1) / 123.
    """
    parts = [
        make.part((0.0, 0.0), 100.0, name="block"),
        make.part((0.05, 0.0), 20.0, name="heavy"),
        make.part((-1.4, 0.0), 2.0, name="light", after=("heavy",)),
        make.part((1.5, 0.0), 1.0, name="nose"),
    ]
    stage = Stage("off", in_place=tuple("ABCD"), off=("heavy", "light", "nose"), any_order=True)
    job = make.job(parts, make.stands([(0.5, 3.0), (0.5, -3.0), (-9.0, -3.0), (-9.0, 3.0)]), stages=[stage])
    frame = make.frame(job)
    found = worst(frame, rays(frame), make.floor(frame, 0.0), off_before(job, frame.lumps))
    assert found.margins[0] == pytest.approx(49 / 101)
