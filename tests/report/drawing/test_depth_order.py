"""Depth order: what is painted last where solids cover each other is what a line of sight meets first."""

import random
from math import asin, radians, sqrt

import pytest

from loadplan.report.drawing.axonometric_projection import XYZ, Projection
from loadplan.report.drawing.convex_solid import Solid, covers, frustum
from loadplan.report.drawing.depth_order import depth_order, in_front
from tests.report.drawing.solids import box, scattered, seen_first

FRONT = Projection(0.0, radians(25))


def middle_depth(solid: Solid, projection: Projection) -> float:
    return sum(map(projection.depth, solid.corners)) / len(solid.corners)


PLATE = box((-4.0, -0.5, 0.0), (2.0, 0.5, 0.1))
STAND = box((-3.0, -0.2, 0.1), (-2.6, 0.2, 1.0))
"""A stand at the far end of a long plate, whose middle is nearer."""

RAIL = box((0.0, -3.0, 0.0), (0.2, 3.0, 0.2))
POST = box((0.5, -3.0, 0.0), (0.7, -2.8, 2.0))
BEHIND = box((-0.6, -3.0, 0.0), (-0.2, -2.5, 3.0))


@pytest.mark.parametrize(
    ("back", "front", "projection"),
    [
        (PLATE, STAND, FRONT),
        (box((0.0, 0.0, 0.0), (6.0, 1.0, 0.3)), box((0.0, 0.0, 0.3), (0.3, 1.0, 0.5)), FRONT),
        (box((-0.1, -3.0, 0.0), (0.0, 3.0, 0.5)), box((0.1, 2.0, 0.0), (0.3, 2.6, 0.5)), Projection(-0.9, 0.3)),
    ],
    ids=["a stand on a plate", "a block on a rail", "a block before a long wall"],
)
def test_the_plane_between_two_solids_says_which_is_behind_where_their_middles_say_the_other(
    back: Solid, front: Solid, projection: Projection
) -> None:
    assert middle_depth(back, projection) > middle_depth(front, projection)
    assert in_front(front, back, projection) == 1
    assert in_front(back, front, projection) == -1
    assert depth_order([front, back], projection) == (1, 0)
    assert depth_order([back, front], projection) == (0, 1)


def test_what_does_not_cover_each_other_has_no_order() -> None:
    assert in_front(POST, BEHIND, Projection(radians(90), 0.0)) == 0
    assert in_front(RAIL, box((5.0, 8.0, 0.0), (6.0, 9.0, 1.0)), FRONT) == 0


def test_corners_that_fit_into_each_other_on_the_page_cover_nothing() -> None:
    """Seen from above two triangles over one square, one high, one low: their boxes overlap, they do not."""
    above = Projection(0.0, radians(90))
    low = frustum(((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)), ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)), (0.0, 0.2))
    corner = ((1.0, 0.2), (1.0, 1.0), (0.2, 1.0))
    assert in_front(frustum(corner, corner, (1.0, 2.0)), low, above) == 0


def test_two_ridges_across_each_other_have_a_plane_between_them_that_is_a_face_of_neither() -> None:
    """By hand: |y| + |z| <= 1 along x, and over it |x| + |z - 2.05| <= 1 along y; only z = 1 to 1.05 is between."""
    diamond = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))
    bar = frustum(diamond, diamond, (-3.0, 3.0))
    along_x = bar.moved(lambda place: (place[2], place[0], place[1]))
    along_y = bar.moved(lambda place: (place[1], place[2], place[0] + 2.05))
    assert in_front(along_y, along_x, FRONT) == 1
    assert in_front(along_x, along_y, FRONT) == -1


def test_what_stands_in_glass_is_painted_before_the_glass() -> None:
    square = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    glass = frustum(square, square, (0.5, 2.0), glass=True)
    stand = box((1.5, 1.5, 0.0), (1.8, 1.8, 0.8))
    part = frustum(((0.2, 0.2), (0.9, 0.2), (0.9, 0.9)), ((0.2, 0.2), (0.9, 0.2), (0.9, 0.9)), (1.0, 1.5), glass=True)
    for azimuth in range(0, 360, 30):
        order = depth_order([glass, stand, part], Projection(radians(azimuth), radians(25)))
        assert order[-1] == 0
    out_in_front = box((1.5, 1.5, 0.0), (2.6, 1.8, 0.8))
    assert depth_order([out_in_front, glass], FRONT) == (0, 1)
    assert depth_order([glass, out_in_front], FRONT) == (1, 0)


@pytest.mark.parametrize("seed", range(12))
def test_what_is_painted_last_at_a_place_is_what_a_line_of_sight_meets_first(seed: int) -> None:
    """Against another way to the same answer: each place of the page on its own, the line cut by every face."""
    draw = random.Random(1000 + seed)
    solids = scattered(seed, 16)
    projection = Projection(draw.uniform(0, 6.28), draw.uniform(0.05, 1.4))
    order = depth_order(solids, projection)
    both = 0
    for _ in range(250):
        start: XYZ = draw.uniform(0, 3), draw.uniform(0, 3), draw.uniform(0, 2)
        flat = projection.project(start)
        painted = [number for number in order if covers(solids[number], projection, flat)]
        assert seen_first(solids, start, projection) == (painted[-1] if painted else None)
        both += len(painted) > 1
    assert both > 5, "the places hardly ever lie on two solids"


def test_three_beams_in_a_circle_are_painted_all_the_same() -> None:
    """Along x, y and z, each before the next as seen along (1, 1, 1): a circle has no order, and none is left out."""
    beams = [
        box((-1.5, -0.1, 0.9), (2.5, 0.1, 1.1)),
        box((0.9, -1.5, -0.1), (1.1, 2.5, 0.1)),
        box((-0.1, 0.9, -1.5), (0.1, 1.1, 2.5)),
    ]
    isometric = Projection(radians(45), asin(1 / sqrt(3)))
    assert [in_front(beams[one], beams[one - 2], isometric) for one in range(3)] == [1, 1, 1]
    assert sorted(depth_order(beams, isometric)) == [0, 1, 2]
