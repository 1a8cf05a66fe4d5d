"""Where one more support helps: by hand, from lines through stands and the centre's distance from them."""

from collections.abc import Sequence
from dataclasses import replace
from math import hypot, radians, tan

import numpy as np
import pytest

from loadplan.model.job import Job, Stage, Support
from loadplan.statics import one_more_support as one_more
from loadplan.statics.one_more_support import OneMoreQuestion, helping
from tests.statics import builders as make

MARGIN = 0.05

NEW = make.support("X", (0.0, 0.0))

SOFT = replace(make.STAND, stiffness=4e4)


def asked(job: Job, support: Support = NEW, margin: float = MARGIN) -> OneMoreQuestion:
    """The question about the last stage, everything as it was drawn."""
    state = make.state(job)
    gaps = {each.name: 0.0 for each in state.supports}
    return OneMoreQuestion(job, state, {}, gaps, support, margin)


def helps(of: OneMoreQuestion, *places: tuple[float, float]) -> list[bool]:
    return [bool(each) for each in helping(of, np.array(places))]


def on_stands(*places: Sequence[float], centre: tuple[float, float] = (0.0, 0.0), **more: object) -> Job:
    part = replace(make.part(centre), **more)  # type: ignore[arg-type]
    return make.job([part], make.stands(places))


def left_of(start: Sequence[float], end: Sequence[float], at: Sequence[float]) -> float:
    """How far a place is to the left of a line."""
    along, across = end[0] - start[0], end[1] - start[1]
    return (along * (at[1] - start[1]) - across * (at[0] - start[0])) / hypot(along, across)


def inside(centre: Sequence[float], *corners: Sequence[float]) -> float:
    """How far a centre is inside a polygon, its corners told in turn against the clock; below 0 outside."""
    turn = zip(corners, (*corners[1:], corners[0]), strict=True)
    return min(left_of(one, other, centre) for one, other in turn)


FRONT = ((0.5, -0.5), (0.5, 0.5))
"""Two stands across the front: it rocks over the line between them."""

GRID = [(x, y) for x in (-0.6, -0.3, -0.12, -0.08, 0.2) for y in (-0.4, -0.21, 0.0, 0.19, 0.45)]


def test_what_rocks_on_two_stands_is_held_by_a_third_that_has_the_centre_well_inside_the_three() -> None:
    wanted = [inside((0.0, 0.0), *FRONT, each) >= MARGIN if each[0] < 0 else False for each in GRID]
    assert helps(asked(on_stands(*FRONT)), *GRID) == wanted
    assert 3 < sum(wanted) < 20


def test_it_is_held_from_the_side_of_the_two_stands_on_which_its_weight_is() -> None:
    behind, before = ((-0.5, 0.0), (0.42, 0.0)), ((1.5, 0.0), (1.5, 0.3))
    centre = (0.4, 0.1)
    assert inside(centre, *FRONT, behind[0]) > MARGIN > inside(centre, *FRONT, behind[1])
    assert helps(asked(on_stands(*FRONT, centre=centre)), *behind, *before) == [True, False, False, False]
    assert helps(asked(on_stands(*FRONT, centre=(0.6, 0.0))), *behind, *before) == [False, False, True, True]


def test_the_margin_asked_for_is_met_where_it_is_just_met() -> None:
    """A third straight behind the middle, the centre 0.1 m off its line to each of the others or 0.1 m before it."""
    job = on_stands(*FRONT)
    far = (-0.1 - 1e-6, 0.0)
    edge = inside((0.0, 0.0), *FRONT, far)
    assert helps(asked(job, margin=edge - 1e-7), far) == [True]
    assert helps(asked(job, margin=edge + 1e-7), far) == [False]


def test_what_stands_on_one_is_held_by_no_one_more() -> None:
    assert helps(asked(on_stands((0.3, 0.0))), (-0.3, 0.0), (0.0, 0.2)) == [False, False]


def test_over_the_edge_of_three_stands_a_fourth_has_to_take_the_centre_in() -> None:
    three = ((0.4, -0.4), (0.4, 0.4), (-0.4, 0.4))
    centre = (-0.1, -0.1)
    places = [(-0.12, -0.12), (-0.15, -0.15), (-0.3, -0.3), (-0.8, 0.1), (-0.8, 0.2), (0.1, -0.8), (0.2, -0.8)]
    wanted = [inside(centre, *three, each) >= MARGIN for each in places]
    assert helps(asked(on_stands(*three, centre=centre)), *places) == wanted
    assert wanted == [False, True, True, True, False, True, False]


def test_tolerance_and_slope_narrow_where_it_helps() -> None:
    """By hand: 30 mm of doubt along, and 3 degrees over 0.3 m of height, both off each edge."""
    behind = [(-x, 0.0) for x in np.arange(0.05, 0.8, 0.01)]
    distance = np.array([inside((0.0, 0.0), *FRONT, each) for each in behind])
    along = np.array([0.5 / hypot(x - 0.5, 0.5) for x, _ in behind])
    doubted = on_stands(*FRONT, at_pm=(0.03, 0.0, 0.0))
    assert helps(asked(doubted), *behind) == list(distance - 0.03 * along >= MARGIN)
    slope = replace(make.NO_LIMITS, floor_slope=radians(3))
    sloped = replace(on_stands(*FRONT), limits=slope)
    assert helps(asked(sloped), *behind) == list(distance - 0.3 * tan(radians(3)) >= MARGIN)
    # A saddle 0.1 m lower is what it leans over.
    low = replace(NEW, at=(0.0, 0.0, 0.1))
    assert helps(asked(sloped, low), *behind) == list(distance - 0.4 * tan(radians(3)) >= MARGIN)
    high = replace(NEW, at=(0.0, 0.0, 0.3))
    assert helps(asked(sloped, high), *behind) == list(distance - 0.3 * tan(radians(3)) >= MARGIN)


def test_in_a_step_whose_parts_come_off_in_any_order_it_has_to_help_with_every_part_on() -> None:
    """Off, the centre is in the middle; with the block on, 0.2 m to the left."""
    parts = [make.part(), make.part((0.0, 0.4), name="block")]
    stage = Stage("off", in_place=("A", "B"), off=("block",), any_order=True)
    job = make.job(parts, make.stands(FRONT), stages=[stage])
    places = [(-0.6, y) for y in (-0.3, -0.1, 0.0, 0.1, 0.3, 0.5)]
    wanted = [min(inside(each, *FRONT, at) for each in ((0.0, 0.0), (0.0, 0.2))) >= MARGIN for at in places]
    assert helps(asked(job), *places) == wanted
    assert sum(wanted) not in {0, len(wanted)}


def hung() -> Job:
    """A cradle on four stands; on it a unit by one mount, on a stand of its own in front; under it a box on three."""
    parts = [make.part(name="c", mass=400.0, body="cradle"), make.part((0.1, 0.05)), make.part(name="b", body="box")]
    under = [make.mount(f"b{n}", at, ("box", "cradle")) for n, at in enumerate([(0.2, 0.2), (0.2, -0.2), (-0.4, 0.0)])]
    supports = [*make.stands(make.SQUARE, body="cradle"), make.support("E", (0.4, 0.0))]
    return make.job(parts, supports, joints=[make.mount("m", (-0.2, 0.0)), *under], bodies=("cradle", "unit", "box"))


def test_what_hangs_on_another_assembly_at_one_place_is_held_beside_its_centre() -> None:
    """Mount and front stand are on the line y = 0, the centre 50 mm to the left: it turns about new stand and either.

    By hand: over the line from the mount to the new stand it goes forward off the front stand, over that from the
    front stand to the new one it would have to lift the cradle, which is far heavier.
    """
    mount, centre = (-0.2, 0.0), (0.1, 0.05)
    places = [(0.1, y) for y in (0.3, 0.15, 0.09, 0.08, 0.06, -0.3)] + [(-0.15, 0.3), (0.35, 0.2), (0.0, 0.1)]
    wanted = [each[1] > 0 and left_of(each, mount, centre) >= 0.03 for each in places]
    assert helps(asked(hung(), margin=0.03), *places) == wanted
    assert wanted == [True, True, True, False, False, False, True, True, True]


def test_what_hangs_on_mounts_alone_leans_over_the_new_saddle() -> None:
    """On two mounts across the rear, the centre 0.3 m before them and 50 mm over a saddle that is above the mounts."""
    parts = [make.part(name="c", mass=4000.0, body="cradle"), make.part((0.1, 0.0))]
    ties = [make.mount(f"m{n}", (-0.2, y)) for n, y in enumerate((0.4, -0.4))]
    job = make.job(parts, make.stands([(4.0, 4.0), (4.0, -4.0), (-4.0, -4.0), (-4.0, 4.0)], body="cradle"), joints=ties)
    steep = replace(job, limits=replace(make.NO_LIMITS, floor_slope=radians(45)))
    high = replace(NEW, at=(0.0, 0.0, 0.45))
    assert helps(asked(steep, high, 0.24), (0.4, 0.0)) == [True]
    assert helps(asked(steep, high, 0.26), (0.4, 0.0)) == [False]


def test_a_group_that_stands_and_is_too_near_its_edge_is_helped_by_a_wider_stance() -> None:
    """Stiff stands: a lean of parts of a millimetre, so that a margin 5 mm off what is asked is no matter of it."""
    three = ((0.4, -0.4), (0.4, 0.4), (-0.4, 0.4))
    centre = (0.02, 0.02)
    places = [(-0.4, -0.4), (-0.1, -0.1), (-0.01, -0.01), (-0.012, 0.02), (-0.5, 0.3), (-0.5, 0.4)]
    margins = [inside(centre, *three, each) for each in places]
    assert all(abs(each - MARGIN) > 0.003 for each in margins)
    wanted = [each >= MARGIN for each in margins]
    assert helps(asked(on_stands(*three, centre=centre)), *places) == wanted
    assert sum(wanted) not in {0, len(wanted)}
    assert helps(asked(on_stands(*three, centre=centre)), (0.3, 0.3)) == [False]


def soft(height: float = 0.9) -> Job:
    """A tall unit on three soft stands, its centre just inside."""
    part = make.part((0.02, 0.02, height), 100.0, at_pm=(0.005, 0.005, 0.01))
    places = ((0.4, -0.4), (0.4, 0.4), (-0.4, 0.4))
    limits = replace(make.NO_LIMITS, uneven_touch=0.001, floor_slope=radians(0.6))
    return make.job([part], make.stands(places, use=SOFT), limits=limits)


def test_what_it_says_of_a_place_is_what_comes_out_where_the_stand_is_brought_up_there() -> None:
    """Across the bound, a unit that leans by centimetres: the stand put there in a step of its own, all solved."""
    job = soft()
    (statics,) = make.solved(job)
    motions = {each.name: each.motion for each in statics.bodies if each.motion is not None}
    new = replace(NEW, equipment=SOFT)
    of = OneMoreQuestion(job, make.state(job), motions, statics.gaps, new, MARGIN)
    found = []
    for place in [(-0.05, -0.05), (-0.12, -0.12)]:
        there = replace(new, at=(*place, 0.2))
        more = replace(job, supports=(*job.supports, there), stages=(*job.stages, Stage("more", in_place=("X",))))
        margin = make.solved(more)[-1].body("unit").worst_margin
        found.append(margin)
        assert helps(of, place) == [margin is not None and margin >= MARGIN], (place, margin)
    assert [each is not None and each >= MARGIN for each in found] == [False, True], found


def test_motions_are_looked_at_a_few_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = helps(asked(on_stands(*FRONT, at_pm=(0.02, 0.0, 0.0))), *GRID)
    monkeypatch.setattr(one_more, "AT_ONCE", 3)
    assert helps(asked(on_stands(*FRONT, at_pm=(0.02, 0.0, 0.0))), *GRID) == whole
