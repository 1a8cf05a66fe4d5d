"""Set-down: first touch and window, against a fine scan over the lowering."""

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from loadplan.model.job import Stage
from loadplan.statics.contact_loads import springs
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.set_down_window import BEYOND, DEEPEST, SetDown, SetDownWindow, crossing, hang
from tests.statics import builders as make
from tests.statics.lifted import BOLTS, CORNERS, MOUNTS, lifted

WEIGHT = make.newton(300.0)
DOWN = Stage("down", in_place=tuple("ABCD"))


def coming(*, gaps: tuple[float, ...] = (0.0,) * 4, bolted: bool = False, soft: float = 2.5e6) -> SetDown:
    """The unit over four stands with saddles that are lower by some gaps [m]."""
    supports = make.stands(CORNERS, use=replace(make.STAND, stiffness=soft))
    job = lifted([DOWN], supports=supports, joints=BOLTS if bolted else MOUNTS)
    frame = make.frame(job)
    preload = mount_preload(job)
    hung = hang(frame, preload)
    assert hung is not None
    arms = np.array([each.is_arm for each in frame.supports])
    low = np.append(gaps, np.zeros(4)) / frame.span
    return SetDown(frame, springs(frame, preload), low, ~arms, hung)


@pytest.mark.parametrize("bolted", [False, True])
@pytest.mark.parametrize("gaps", [(0.0, 0.0, 0.0, 0.0), (0.004, 0.0, 0.001, 0.002)])
def test_at_first_touch_no_stand_carries_and_just_below_it_one_does(bolted: bool, gaps: tuple[float, ...]) -> None:  # noqa: FBT001
    down = coming(bolted=bolted, gaps=gaps)
    at, past = down.loads(np.array([0.0, 1e-6]))
    assert at[:4] == pytest.approx(np.zeros(4), abs=1e-6)
    assert past[:4].max() > 1e-3
    assert at.sum() == pytest.approx(make.newton(1200.0))


@pytest.mark.parametrize("bolted", [False, True])
@pytest.mark.parametrize("gaps", [(0.0, 0.0, 0.0, 0.0), (0.004, 0.0, 0.001, 0.002)])
def test_the_window_is_where_a_fine_scan_finds_it(bolted: bool, gaps: tuple[float, ...]) -> None:  # noqa: FBT001
    """Start: the stands carry 90 % of the unit. End: the first arm is below 20 % of its load before. 10 µm steps."""
    down = coming(bolted=bolted, gaps=gaps)
    window = down.window(WEIGHT)
    levels = np.arange(0, 6000) * 1e-5
    loads = down.loads(levels)
    enough = loads[:, :4].sum(axis=1) >= 0.9 * WEIGHT
    empty = (loads[:, 4:] < 0.2 * loads[0, 4:]).any(axis=1)
    for edge, flags in ((window.start, enough), (window.end, empty)):
        assert flags.any()
        assert edge == pytest.approx(levels[flags.argmax()], abs=1.1e-5)


def test_at_the_edges_of_the_window_the_loads_are_what_they_are_to_be() -> None:
    down = coming()
    window = down.window(WEIGHT)
    assert window.start is not None
    assert window.end is not None
    before, start, end = down.loads(np.array([0.0, window.start, window.end]))
    assert start[:4].sum() == pytest.approx(0.9 * WEIGHT)
    assert (end[4:] / before[4:]).min() == pytest.approx(0.2)


def test_stands_so_soft_that_they_never_take_the_unit_have_no_start() -> None:
    """Four of 1 N/mm under 300 kg give way by 0.7 m: more than is looked for."""
    assert coming(soft=1e3).window(WEIGHT).start is None


def test_an_arm_that_carried_nothing_is_not_counted() -> None:
    """Five arms, the fifth under a corner that the others hold up: it stays at 0 and ends nothing."""
    down = coming()
    arms = down.frame.supports[4:]
    fifth = replace(arms[0], name="pad 5", at=(*arms[0].at[:2], 0.1))
    row = down.frame.up[4]
    frame = replace(down.frame, supports=(*down.frame.supports, fifth), up=np.vstack([down.frame.up, row]))
    held = springs(frame, {mount.name: 0.0 for mount in frame.mounts})
    idle = replace(held, stiffness=np.append(held.stiffness[:-1], 1e-9))
    more = replace(down, frame=frame, held=idle, gaps=np.append(down.gaps, 0.0), stands=np.append(down.stands, [False]))
    assert more.window(WEIGHT).end is not None


@pytest.mark.parametrize(
    ("start", "end", "middle"), [(0.007, 0.0125, 0.00975), (0.02, 0.01, None), (None, 0.01, None), (0.01, None, None)]
)
def test_the_middle_is_that_of_a_window_only(start: float | None, end: float | None, middle: float | None) -> None:
    assert SetDownWindow(start, end).middle == (None if middle is None else pytest.approx(middle))


@pytest.mark.parametrize("kink", [0.0, 0.0003, 0.00201, 0.0317, 0.256, 0.3, 0.4999])
def test_a_crossing_is_found_wherever_it_is(kink: float) -> None:
    assert crossing(lambda levels: levels - kink) == pytest.approx(kink, abs=1e-12)


def test_a_crossing_beyond_half_a_metre_is_none() -> None:
    assert crossing(lambda levels: levels - DEEPEST * 1.001) is None
    assert crossing(lambda levels: np.full(len(levels), -inf)) is None


def test_the_first_of_several_crossings_counts() -> None:
    """It is found by grids: what dips for less than a 65th of the depth looked into might be missed."""
    assert crossing(lambda levels: 0.0005 - np.abs(levels - 0.0015)) == pytest.approx(0.001)


def test_what_the_arms_alone_do_not_hold_does_not_hang() -> None:
    job = lifted([DOWN], joints=BOLTS, at=(8.0, 0.0))
    assert hang(make.frame(job), {}) is None


def test_hung_on_the_arms_alone_the_shell_goes_down_by_what_they_give() -> None:
    """900 + 300 kg on four arms of 400 N/mm: the mean of the pads sinks by W / 4k."""
    job = lifted([DOWN], joints=BOLTS)
    frame = make.frame(job)
    hung = hang(frame, {})
    assert hung is not None
    pads = [float(row @ hung) * frame.span for row, each in zip(frame.up, frame.supports, strict=True) if each.is_arm]
    assert sum(pads) / 4 == pytest.approx(-make.newton(1200.0) / 4 / 4e5)


def test_the_loads_over_the_lowering_are_told_from_first_touch_past_the_last_mark() -> None:
    down = coming()
    marks = (0.004, 0.0071, 0.009)
    told = down.lowering(marks)
    assert told.levels[0] == 0.0
    assert max(told.levels) == pytest.approx(BEYOND * 0.009)
    assert set(marks) <= set(told.levels)
    assert told.supports == ("A", "B", "C", "D", "pad 1", "pad 2", "pad 3", "pad 4")
    exact = down.loads(np.array([0.0071]))[0]
    assert [told.at(name, 0.0071) for name in told.supports] == pytest.approx(exact.tolist())
    assert list(told.levels) == sorted(told.levels)


def test_the_motions_over_the_lowering_go_down_with_the_arms() -> None:
    down = coming(bolted=True)
    before, after = (down.motions(level)["shell"].w for level in (0.0, 0.001))
    assert after < before
