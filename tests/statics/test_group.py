"""One group solved: does it stand, how far from tipping, what does each support carry."""

from dataclasses import replace
from math import atan, inf, radians

import numpy as np
import pytest

from loadplan.model.answer import Balanced, Loose, Tips
from loadplan.model.job import Stage
from loadplan.statics import group
from loadplan.statics.group import glance, glance_between, lean_in_full, margins_in_full, solve
from loadplan.statics.sideways_resistance import Grip
from tests.statics import builders as make

MIDDLE = make.job([make.part((0.1, 0.05))], make.stands(make.SQUARE))


def test_what_stands_tells_loads_that_balance() -> None:
    """Loads and mount forces hold up the weight of every whole, and its moments."""
    job = make.rider((0.2, 0.3), (0.2, -0.3))
    frame, found = make.frame(job), make.group(job)
    assert isinstance(found.answer.proof, Balanced)
    loads = np.array([load for _, load in found.answer.proof.supports])
    forces = np.array([force for _, force in found.answer.proof.joints])
    assert (loads >= 0).all()
    assert loads @ frame.up + forces @ frame.stretch == pytest.approx(frame.load * frame.weight, abs=1e-6)
    assert found.forces == pytest.approx(tuple(forces))
    assert found.answer.balanced


def test_with_more_stands_than_are_looked_at_corner_by_corner_margins_are_those_of_the_floor_as_given(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """On a level floor with saddles as they were set there is but one corner: both ways tell the same."""
    frame = make.frame(MIDDLE)
    found = margins_in_full(frame, make.settings(frame))
    monkeypatch.setattr(group, "MOST_IN_FULL", 3)
    brief = margins_in_full(frame, make.settings(frame))
    assert found is not None
    assert brief == pytest.approx(found)
    assert 0.3 < found[0] < 0.4


def test_a_look_between_two_stages_and_one_at_many_stands_try_no_corner(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every corner of an uneven floor is 2 to the number of stands: these looks have to do without."""
    frame = make.frame(MIDDLE)
    settings = make.settings(frame, uneven=(0.01,) * 4)
    told = glance(frame, settings)

    def tried(*_: object) -> None:
        raise AssertionError("every corner was tried")

    monkeypatch.setattr(group, "_ranged", tried)
    monkeypatch.setattr(group, "MOST_IN_FULL", 3)
    for look in (glance_between, lean_in_full):
        found = look(frame, settings)
        assert make.expected(found) == pytest.approx(make.expected(told))
        assert found.worst_margins == pytest.approx(told.worst_margins)


def test_what_tips_tells_a_motion_that_lifts_nothing() -> None:
    """The centre 0.2 m beyond the edge between A and B: they stay, C and D rise, the weight sinks."""
    found = make.group(make.job([make.part((0.7, 0.0))], make.stands(make.SQUARE)))
    assert isinstance(found.answer.proof, Tips)
    ((body, motion),) = found.answer.proof.motions
    assert body == "unit"
    assert [motion.up_at(*at) for at in make.SQUARE] == pytest.approx([0, 0, 1, 1], abs=1e-9)
    assert motion.up_at(0.7, 0.0) < 0
    assert found.loads is found.motions is found.forces is None
    assert (found.margins, found.worst_margins, found.tip_angles) == ((None,), (None,), (None,))
    assert len(found.answer.modes) == 4
    assert not found.answer.robust


def test_of_several_ways_over_the_furthest_beyond_is_told() -> None:
    """Beyond two edges, by 0.1 and by 0.3 m."""
    found = make.group(make.job([make.part((0.6, 0.8))], make.stands(make.SQUARE)))
    assert isinstance(found.answer.proof, Tips)
    motion = found.answer.proof.motions[0][1]
    assert [motion.up_at(*at) for at in make.SQUARE] == pytest.approx([0, 1, 1, 0], abs=1e-9)


def test_what_is_free_tells_how() -> None:
    found = make.group(make.job([make.part()], make.stands([(-0.5, 0.0), (0.5, 0.0)])))
    assert isinstance(found.answer.proof, Loose)
    motion = found.answer.proof.motions[0][1]
    assert motion.up_at(-0.5, 0.0) == pytest.approx(0.0, abs=1e-9)
    assert motion.up_at(0.5, 0.0) == pytest.approx(0.0, abs=1e-9)
    assert abs(motion.rx) > 0.1
    assert found.answer.modes == ()


def test_a_body_on_nothing_is_free_to_sink() -> None:
    """On no supports at all it sinks as it is."""
    found = make.group(make.job([make.part()]))
    assert isinstance(found.answer.proof, Loose)
    assert found.answer.proof.motions[0][1].w != 0.0


@pytest.mark.parametrize(
    ("over", "kind"), [(0.0, Tips), (0.5e-6, Tips), (-0.5e-6, Tips), (2e-6, Balanced)], ids=["on", "in", "out", "off"]
)
def test_on_an_edge_and_within_a_thousandth_of_a_millimetre_of_it_a_unit_tips(over: float, kind: type) -> None:
    found = make.group(make.job([make.part((0.5 - over, 0.0))], make.stands(make.SQUARE)))
    assert isinstance(found.answer.proof, kind)


def test_margins_and_tip_angle_of_a_unit_on_four_stands() -> None:
    """By hand: 0.4 m to the nearest edge; h 0.3 m over the saddles; lean and slope take their share of the margin.

    It tilts by W x / (4 k a² − W h) and leans by h times that; the slope grows by 1 / (1 − W h / 4 k a²).
    """
    found = make.group(MIDDLE, slope=radians(2))
    assert found.margins == pytest.approx((0.4,))
    weight, resists = make.newton(100.0), 4 * 1e6 * 0.25
    lean = 0.3 * weight * 0.1 / (resists - weight * 0.3)
    slope = np.tan(radians(2)) / (1 - weight * 0.3 / resists)
    assert found.tip_angles == pytest.approx((atan((0.4 - lean) / 0.3),), rel=1e-9)
    assert found.worst_margins == pytest.approx((0.4 - lean - 0.3 * slope,), rel=1e-9)


def test_it_goes_over_by_its_own_lean() -> None:
    """Legs so soft that W h is more than 4 k a²: it balances as set, but has no settled state and no worst margin."""
    soft = replace(make.STAND, stiffness=280.0)
    found = make.group(make.job([make.part((0.1, 0.05))], make.stands(make.SQUARE, use=soft)))
    assert found.answer.balanced
    assert not found.answer.robust
    assert found.answer.sway is found.settled is None
    assert found.answer.pushes == found.answer.laid_on == ()
    assert found.worst_margins == found.tip_angles == (None,)
    assert found.loads is not None
    assert all(load.range is not None and load.range.least is not None for load in found.loads)


def test_an_uneven_floor_leans_it_further() -> None:
    """By hand: the two stands at one side 2 mm low and the others 2 mm high tilt it by 4 mm on 1 m, times 0.3 m."""
    weight, resists = make.newton(100.0), 4 * 1e6 * 0.25
    job = make.job([make.part((0.0, 0.0))], make.stands(make.SQUARE))
    found = make.group(job, uneven=(0.002,) * 4)
    growth = 1 / (1 - weight * 0.3 / resists)
    assert found.worst_margins == pytest.approx((0.5 - 0.3 * growth * 0.004 / 1.0,), rel=1e-6)


def test_a_stage_that_takes_weight_off_may_still_lean_as_with_it_on() -> None:
    """Half the weight came off the front: the lean before is that of both, further forward."""
    heavy = make.part((0.4, 0.0, 1.2), 100.0, name="lid")
    stages = [Stage("set", in_place=tuple("ABCD")), Stage("off", off=("lid",))]
    soft = replace(make.STAND, stiffness=5e4)
    job = make.job([make.part((0.1, 0.0)), heavy], make.stands(make.SQUARE, use=soft), stages=stages)
    alone, before = make.group(job), make.group(job, came_off=(heavy,))
    assert alone.settled == before.settled
    assert before.worst_margins[0] < alone.worst_margins[0] - 1e-3  # type: ignore[operator]
    assert before.tip_angles[0] < alone.tip_angles[0]  # type: ignore[operator]


def test_bounds_are_told_only_over_the_whole_tolerance() -> None:
    part = make.part((0.48, 0.0), at_pm=(0.025, 0.0, 0.0))
    found = make.group(make.job([part], make.stands(make.SQUARE)))
    assert isinstance(found.answer.proof, Balanced)
    assert not found.answer.robust
    assert found.loads is not None
    assert {(load.range.least, load.range.most) for load in found.loads if load.range} == {(None, None)}


def test_range_and_bounds_hold_what_is_expected() -> None:
    part = make.part((0.1, 0.05), mass_pm=5.0, at_pm=(0.02, 0.01, 0.0))
    found = make.group(make.job([part], make.stands(make.SQUARE)), uneven=(0.0005,) * 4)
    assert found.loads is not None
    for load in found.loads:
        span = load.range
        assert span is not None
        assert span.least is not None
        assert span.most is not None
        assert span.least <= span.low < load.expected < span.high <= span.most


def test_where_nothing_limits_a_load_there_is_no_most() -> None:
    """A jack between a cradle and what three mounts tie to it: an upper end of the range, but no bound."""
    parts = [make.part(name=name, body=name) for name in ("unit", "cradle")]
    joints = [make.mount(name, at) for name, at in zip("xyz", [(-0.2, 0.0), (0.2, 0.2), (0.2, -0.2)], strict=True)]
    jack = make.support("jack", (0.0, 0.0), on="cradle", use=make.JACK)
    found = make.group(make.job(parts, [*make.stands(make.SQUARE, body="cradle"), jack], joints=joints))
    assert found.loads is not None
    spans = [load.range for load in found.loads if load.range]
    assert [span.most is None for span in spans] == [False] * 4 + [True]
    assert spans[4].least == pytest.approx(0.0, abs=1e-9)


def test_what_the_lift_holds_is_not_pushed() -> None:
    held = make.group(make.job([make.part()], make.stands(make.SQUARE, use=make.ARM))).answer
    assert held.balanced
    assert held.pushes == ()


def test_no_snag_is_looked_for_at_a_body_on_the_lift() -> None:
    joint = make.bolts("bolts", at=((0.0, 0.0, 0.5),))
    told = make.group(MIDDLE, undone=(joint,), held=frozenset({"unit"})).answer
    assert told.snags == ()


def test_the_push_is_told_with_where_it_acts() -> None:
    found = make.group(MIDDLE, grips=(Grip(0.2, inf),) * 4, pushed=(("unit", (0.1, 0.05, 0.2)),)).answer
    (told,) = found.pushes
    assert found.sway is not None
    assert told.force == pytest.approx(0.2 * make.newton(100.0) * (1 - found.sway), rel=5e-3)
    assert (told.body, told.at, told.first) == ("unit", (0.1, 0.05, 0.2), "slides")


def test_sway_is_weight_times_height_over_rocking_stiffness() -> None:
    """By hand: m g h / 4 k a²."""
    found = make.group(make.job([make.part()], make.stands(make.SQUARE)))
    assert found.answer.sway == pytest.approx(make.newton(100.0) * 0.3 / (4 * 1e6 * 0.25))


def test_thirteen_supports_are_judged_by_warping_and_it_is_said() -> None:
    around = [(float(np.cos(angle)), float(np.sin(angle))) for angle in np.linspace(0, 5.8, 13)]
    for count, simplified in ((12, False), (13, True)):
        found = make.group(make.job([make.part()], make.stands(around[:count])), uneven=(0.001,) * count)
        assert found.answer.simplified == simplified
        assert found.loads is not None
        assert all(load.at_least < load.expected < load.at_most for load in found.loads)


@pytest.mark.parametrize("doubled", [0, 1, 2])
def test_two_stands_in_one_place_share_its_load(doubled: int) -> None:
    """By hand: shared by stiffness, bounded by nothing and the sum."""
    places = [(0, 0), (1, 0), (0, 1)]
    job = make.job([make.part((0.3, 0.3))], make.stands([*places, places[doubled]]))
    found, alone = make.group(job), make.group(make.job([make.part((0.3, 0.3))], make.stands(places)))
    assert found.loads is not None
    assert alone.loads is not None
    whole = alone.loads[doubled].expected
    for number in (doubled, 3):
        load = found.loads[number]
        assert load.expected == pytest.approx(whole / 2)
        assert load.range is not None
        assert (load.range.least, load.range.most) == (pytest.approx(0.0, abs=1e-9), pytest.approx(whole))


def test_gaps_are_metres_between_saddle_and_reference() -> None:
    """By hand: k 1e6 N/m, the first leg short by s = W / 4k: it and its diagonal lose k s / 4, so carry 3/16 W."""
    weight = make.newton(100.0)
    found = make.group(make.job([make.part()], make.stands(make.SQUARE)), gaps=(weight / 4e6, 0.0, 0.0, 0.0))
    assert make.expected(found) == pytest.approx([weight * share / 16 for share in (3, 5, 3, 5)])


def test_the_slope_of_the_floor_changes_the_worst_margin_only() -> None:
    frame = make.frame(MIDDLE)
    level, sloped = solve(frame, make.settings(frame)), solve(frame, make.settings(frame, slope=radians(40)))
    as_given = [
        [replace(mode, worst_margins=(), least_work=None) for mode in each.answer.modes] for each in (level, sloped)
    ]
    assert as_given[0] == as_given[1]
    for mode in sloped.answer.modes:
        assert dict(mode.worst_margins)["unit"] >= sloped.worst_margins[0]
    assert make.expected(level) == make.expected(sloped)
    assert (sloped.worst_margins[0] or 0.0) < (level.worst_margins[0] or 0.0)


def test_a_stage_may_take_a_weight_off_in_any_order() -> None:
    """30 kg at the front may still be on: the worst margin knows, what is expected does not."""
    parts = [make.part((0.0, 0.0), 70.0), make.part((1.0, 0.0), 30.0, name="lid")]
    stage = Stage("off", in_place=tuple("ABCD"), off=("lid",), any_order=True)
    found = make.group(make.job(parts, make.stands(make.SQUARE), stages=[stage]))
    assert found.margins == pytest.approx((0.5,))
    assert found.worst_margins == pytest.approx((0.2,))
    assert sum(make.expected(found)) == pytest.approx(make.newton(70.0))
