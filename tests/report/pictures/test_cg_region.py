"""Where a centre of gravity may lie: for one body the support polygon, for several the modes' half planes."""

from dataclasses import replace
from itertools import combinations, pairwise
from math import hypot

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import MultiPoint, Point, Polygon

from loadplan.model.answer import Mode, Motion
from loadplan.report.drawing.label_placement import Ground, Wanted, place_labels
from loadplan.report.drawing.view import Box, view_of
from loadplan.report.pictures.cg_region import HalfPlane, axis, chord, clipped, half_plane
from loadplan.report.pictures.plan_content import unit_scene, vehicle_scene
from loadplan.report.pictures.rulers import spread
from loadplan.report.words.stage_tables import wholes
from tests.report.builders import CGS, MASSES, ROCKS, TIPS, assessment

PLANE = st.builds(HalfPlane, st.floats(-1, 1), st.just(1.0), st.just(0.0)) | st.builds(
    lambda far, angle: HalfPlane(far, *angle),
    st.floats(-1, 1),
    st.sampled_from([(0.6, 0.8), (-0.6, 0.8), (0.8, -0.6), (0.0, 1.0), (-1.0, 0.0)]),
)
GROUND = ((2.0, 2.0), (2.0, -2.0), (-2.0, -2.0), (-2.0, 2.0))


@given(planes=st.lists(PLANE, max_size=6), place=st.tuples(st.floats(-1.9, 1.9), st.floats(-1.9, 1.9)))
def test_what_is_left_holds_the_places_on_the_right_side_of_every_edge(
    planes: list[HalfPlane], place: tuple[float, float]
) -> None:
    far = min((plane.distance(place) for plane in planes), default=1.0)
    assume(abs(far) > 1e-6)
    left = clipped(GROUND, planes)
    inside = len(left) > 2 and Polygon(left).contains(Point(place))
    assert inside == (far > 0)


def test_for_one_body_the_region_is_the_support_polygon() -> None:
    stage = assessment().stages[1]
    scene = vehicle_scene(assessment(), stage)
    assert scene is not None
    (shell,) = scene.wholes
    ground = ((5.0, 5.0), (5.0, -5.0), (-5.0, -5.0), (-5.0, 5.0))
    left = clipped(ground, [edge.line for edge in shell.edges])
    hull = MultiPoint([support.at[:2] for support, _ in scene.supports]).convex_hull
    assert Polygon(left).symmetric_difference(hull).area < 1e-9


def test_on_an_edge_of_its_region_the_work_of_that_mode_is_gone() -> None:
    stage = assessment().stages[1]
    for whole in unit_scene(assessment(), stage).wholes:
        name = whole.bodies[0].name
        modes = [mode for group in stage.statics.groups for mode in group.modes if name in dict(mode.margins)]
        for mode in modes:
            x, y = half_plane(mode, name, whole.cg).foot(whole.cg)
            moved = {**{body: CGS[body][:2] for body in MASSES}, name: (x, y)}
            work = sum(MASSES[body] * motion.up_at(*moved[body]) for body, motion in mode.motions)
            assert work == pytest.approx(0.0, abs=1e-9)


def test_the_margin_is_the_distance_from_the_edge() -> None:
    stage = assessment().stages[1]
    powertrain = unit_scene(assessment(), stage).wholes[1]
    edge = powertrain.nearest
    assert edge is not None
    assert edge.margin == pytest.approx(edge.line.distance(powertrain.cg))
    assert edge.margin == pytest.approx(
        hypot(*(a - b for a, b in zip(powertrain.cg, edge.line.foot(powertrain.cg), strict=True)))
    )


def test_what_hangs_together_by_bolts_is_one_with_one_centre_of_gravity() -> None:
    stage = assessment().stages[0]
    scene = vehicle_scene(assessment(), stage)
    assert scene is not None
    whole = next(each for each in scene.wholes if len(each.bodies) == 2)
    mass = MASSES["shell"] + MASSES["subframe"]
    assert whole.name == "shell and subframe"
    assert whole.cg[0] == pytest.approx(
        (MASSES["shell"] * CGS["shell"][0] + MASSES["subframe"] * CGS["subframe"][0]) / mass
    )
    assert [tuple(body.name for body in each) for each in wholes(stage)] == [("shell", "subframe"), ("powertrain",)]


def test_the_first_to_go_is_the_free_one_then_the_one_past_its_edge_then_the_nearest() -> None:
    whole = assessment()
    critical = [unit_scene(whole, stage).critical for stage in whole.stages]
    assert [critical[k] for k in (1, ROCKS, TIPS)] == ["powertrain", "powertrain", "powertrain"]


def test_out_of_balance_only_an_edge_that_is_passed_is_drawn() -> None:
    whole = assessment()
    scene = unit_scene(whole, whole.stages[TIPS])
    assert all(each.nearest is not None and each.nearest.margin < 0 for each in scene.wholes)
    powertrain = unit_scene(whole, whole.stages[1]).wholes[1]
    assert powertrain.nearest is not None
    assert replace(powertrain, balanced=False).nearest is None
    rocking = unit_scene(whole, whole.stages[ROCKS])
    assert [each.nearest for each in rocking.wholes] == [None, None]
    assert rocking.wholes[1].free == Motion(-0.27, 0.0, 1.0)


def test_the_axis_of_a_free_motion_stays_where_it_is() -> None:
    motion = Motion(-0.27, 0.4, 1.0)
    line = axis(motion)
    x, y = line.foot((0.3, 0.2))
    assert motion.up_at(x, y) == pytest.approx(0.0)


def test_a_chord_is_what_lies_inside() -> None:
    ends = chord(GROUND, HalfPlane(0.5, 1.0, 0.0))
    assert ends is not None
    assert sorted(ends, key=lambda end: end[1]) == [pytest.approx((-0.5, -2.0)), pytest.approx((-0.5, 2.0))]
    assert chord(GROUND, HalfPlane(5.0, 1.0, 0.0)) is None
    rim = chord(GROUND, HalfPlane(2.0, 1.0, 0.0))
    assert rim is not None
    assert sorted(rim, key=lambda end: end[1]) == [pytest.approx((-2.0, -2.0)), pytest.approx((-2.0, 2.0))]


def test_a_mode_that_does_not_turn_a_body_gives_it_no_half_plane() -> None:
    mode = Mode(("E",), ("unit",), (("unit", Motion(0.0, 0.0, -1.0)),), 1.0, (("unit", 0.1),))
    assert half_plane(mode, "unit", (0.0, 0.0)).distance((0.0, 0.0)) == pytest.approx(0.1)


def test_forward_is_up_and_left_is_left() -> None:
    view = view_of(Box(0, 0, 800, 600), [(1.0, 1.0), (-1.0, -1.0)], 50)
    assert view.page(1.0, 0.0)[1] > view.page(0.0, 0.0)[1]
    assert view.page(0.0, 1.0)[0] < view.page(0.0, 0.0)[0]
    assert view.page(0.0, 0.0) == pytest.approx((400.0, 300.0))
    corners = [view.page(*corner) for corner in view.floor()]
    assert {round(x) for x, _ in corners} == {0, 800}
    assert {round(y) for _, y in corners} == {0, 600}


@given(
    wanted=st.lists(st.floats(0, 1000), min_size=1, max_size=12).map(sorted),
    size=st.floats(5, 60),
)
def test_spread_words_do_not_overlap_and_keep_their_order_and_room(wanted: list[float], size: float) -> None:
    places = spread(wanted, [size] * len(wanted), (0.0, 1000.0))
    assert all(after - before >= size - 1e-6 for before, after in pairwise(places))
    assert places[0] >= size / 2 - 1e-6
    assert places[-1] <= 1000 - size / 2 + 1e-6


@given(anchors=st.lists(st.tuples(st.integers(1, 7), st.integers(1, 5)), min_size=1, max_size=8, unique=True))
def test_labels_cover_neither_each_other_nor_what_they_name(anchors: list[tuple[int, int]]) -> None:
    boxes = tuple(Box(x * 150 - 30, y * 150 - 30, x * 150 + 30, y * 150 + 30) for x, y in anchors)
    placed = place_labels(
        [Wanted((120, 34), each, (0.0, 0.0)) for each in boxes], Ground(boxes, (), Box(0, 0, 1200, 900))
    )
    found = [spot.box for spot in placed]
    assert all(first.overlap(second) == 0 for first, second in combinations([*found, *boxes], 2))


def test_a_label_far_from_what_it_names_has_a_line_to_it() -> None:
    anchor = Box(300, 300, 320, 320)
    wall = Box(200, 200, 420, 420)
    near, far = (
        place_labels([Wanted((80, 30), anchor, (0.0, 0.0))], Ground(taken, (), Box(0, 0, 800, 800)))[0]
        for taken in ((anchor,), (wall,))
    )
    assert near.leader is None
    assert far.leader is not None
    assert Point(far.leader[1]).distance(Point(anchor.middle)) == 0
