"""The most that a support carries with each mass and centre of gravity at its worst inside tolerance."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.limits import GRAVITY
from loadplan.model.job import Stage
from loadplan.model.vehicle import Place
from loadplan.statics.contact_loads import settle, springs
from loadplan.statics.edge_of_tolerance import LeanAndSlope, most_at_edge
from loadplan.statics.equilibrium import Frame
from loadplan.statics.uneven_floor import load_range
from tests.examples import examples
from tests.statics import builders as make

THREE = [(0.4, 0.3), (0.4, -0.3), (-0.4, 0.0)]

FIVE = [(0.5, 0.4), (0.5, -0.4), (-0.5, 0.4), (-0.5, -0.4), (0.1, 0.45)]

OFF = (0.02, 0.03, 0.0)
"""How far each centre may be off [m]."""


def most(frame: Frame, off: float = 0.0, *, tilt: tuple[float, float] = (0.0, 0.0), slope: float = 0.0) -> list[float]:
    """What each support carries at most [kg], its saddles off by so much [m], leaning or on a slope [rad]."""
    lean = LeanAndSlope(np.tile(tilt, (len(frame.wholes), 1)), slope)
    held, count = springs(frame, {}), len(frame.supports)
    ends = load_range(held, frame.load[None], np.zeros(count), np.full(count, off / frame.span))
    return [float(each) for each in most_at_edge(frame, held, ends, lean) * frame.weight / GRAVITY]


@pytest.mark.parametrize(
    ("mass_pm", "at_pm", "front", "rear"),
    [
        (0.0, (0.0, 0.0, 0.0), 75.0, 150.0),
        # By levers: C carries m (400 + x) / 800, the front pair the rest, each m (400 - x) / 1600 and m y / 600.
        (0.0, (0.08, 0.0, 0.0), 90.0, 180.0),
        (30.0, (0.08, 0.0, 0.0), 99.0, 198.0),
        (0.0, (0.0, 0.05, 0.0), 100.0, 150.0),
        (0.0, (0.0, 0.0, 0.3), 75.0, 150.0),
    ],
)
def test_on_three_stands_it_is_that_of_the_levers(mass_pm: float, at_pm: Place, front: float, rear: float) -> None:
    frame = make.frame(make.job([make.part(mass=300.0, mass_pm=mass_pm, at_pm=at_pm)], make.stands(THREE)))
    assert most(frame) == pytest.approx([front, front, rear], rel=1e-9)
    # On three stands a floor changes nothing.
    assert most(frame, 0.001) == pytest.approx([front, front, rear], rel=1e-9)


@pytest.mark.parametrize(
    ("tilt", "slope", "expected"),
    [
        # 500 mm over the saddles, 0.02 rad move the lump by 10 mm: C carries 300 (400 + 10) / 800.
        ((0.0, 0.02), 0.0, [76.875, 76.875, 150.0]),
        ((0.0, -0.02), 0.0, [75.0, 75.0, 153.75]),
        ((0.02, 0.0), 0.0, [75.0, 80.0, 150.0]),
        ((0.0, 0.0), 0.02, [81.875, 81.875, 153.75]),
    ],
)
def test_a_lean_moves_the_centre_its_way_and_a_slope_any_way(
    tilt: tuple[float, float], slope: float, expected: list[float]
) -> None:
    frame = make.frame(make.job([make.part(mass=300.0)], make.stands(THREE)))
    high = 0.5 - float(frame.lowest[0])
    tilt, slope = (tilt[0] * 0.5 / high, tilt[1] * 0.5 / high), slope * 0.5 / high
    assert most(frame, tilt=tilt, slope=slope) == pytest.approx(expected, rel=1e-9)


def test_what_lies_far_out_counts_as_heavy_on_one_side_and_light_on_the_other() -> None:
    """By levers: all masses at their most come to 1.1 · 150 on each side; one at its most, one at its least to 180."""
    lumps = [make.part((0.0, y), mass=150.0, name=name, mass_pm=15.0) for y, name in ((0.6, "left"), (-0.6, "right"))]
    frame = make.frame(make.job(lumps, make.stands([(0.4, 0.3), (-0.4, 0.3), (0.0, -0.3)])))
    assert most(frame)[2] == pytest.approx(165.0 * 1.5 - 135.0 * 0.5)


def test_a_part_taken_from_what_was_weighed_whole_counts_with_its_own_error() -> None:
    """By levers, C carries of 300 kg at 0, less 60 kg within 100 mm of 200 mm behind it.

    (300·400 - 60 (400 + 200)) / 800 with both as given, and 60·100 / 800 more where the part lay furthest to the front.
    """
    whole = {"unit": make.weighed(300.0, (0.0, 0.0, 0.5))}
    taken = make.part((-0.2, 0.0), mass=60.0, name="taken", at_pm=(0.1, 0.0, 0.0))
    stages = [Stage("on stands", in_place=("A", "B", "C"), off=("taken",))]
    job = make.job([taken], make.stands(THREE), whole=whole, stages=stages)
    assert most(make.frame(job))[2] == pytest.approx((300 * 400 - 60 * 600 + 60 * 100) / 800)


@examples(20)
@given(st.integers(0, 9999))
def test_it_is_the_most_of_every_corner_of_the_tolerance(seed: int) -> None:
    """On more stands than balance needs, each mass and centre by itself at its least and most: 512 corners."""
    rng = np.random.default_rng(seed)
    parts = [
        make.part(rng.uniform(-0.3, 0.3, 2).tolist(), float(rng.uniform(50, 150)), name=name, mass_pm=5.0, at_pm=OFF)
        for name in ("one", "two", "three")
    ]
    frame = make.frame(make.job(parts, make.stands(FIVE)))
    at, mass = np.array([each.at[:2] for each in frame.lumps]), np.array([each.mass for each in frame.lumps])
    signs = np.array(list(product((-1.0, 1.0), repeat=9))).reshape(-1, 3, 3)
    x, y = np.moveaxis((at + signs[:, :, 1:] * OFF[:2] - frame.middle) / frame.span, 2, 0)
    rows = (mass + 5.0 * signs[:, :, 0])[:, :, None] * np.stack([np.ones_like(x), y, -x], axis=2)
    levels = rows.sum(axis=1) * GRAVITY / frame.weight
    loads = settle(springs(frame, {}), levels, np.zeros((len(levels), len(FIVE)))).loads
    bound = np.array(most(frame)) * GRAVITY / frame.weight
    assert (loads <= bound * (1 + 1e-9) + 1e-12).all()
    assert bound.tolist() == pytest.approx(loads.max(axis=0).tolist(), rel=1e-9)
