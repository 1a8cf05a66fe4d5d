"""Outlines cut into convex pieces: nothing is lost, nothing counted twice, and each piece is convex."""

from math import cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.report.drawing.axonometric_projection import Projection
from loadplan.report.drawing.convex_parts import convex_parts
from loadplan.report.drawing.convex_solid import prisms, turned_left
from loadplan.report.drawing.view import Corners

NOTCHED: Corners = ((0, 0), (3, 0), (3, 2), (2, 2), (2, 1), (1, 1), (1, 2), (0, 2))
"""A block with a notch from behind: 6 less 1 [m²]."""


def area(corners: Corners) -> float:
    return sum(x * v - u * y for (x, y), (u, v) in zip(corners, (*corners[1:], corners[0]), strict=True)) / 2


def is_convex(corners: Corners) -> bool:
    threes = zip(corners, (*corners[1:], corners[0]), (*corners[2:], *corners[:2]), strict=True)
    return all((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) >= -1e-9 for a, b, c in threes)


def pieces(outline: Corners) -> list[Corners]:
    return [tuple(outline[number] for number in piece) for piece in convex_parts(outline)]


def test_a_notch_is_cut_round() -> None:
    found = pieces(NOTCHED)
    assert all(map(is_convex, found))
    assert sum(map(area, found)) == pytest.approx(area(NOTCHED)) == pytest.approx(5.0)
    assert len(found) == 3


@given(reaches=st.lists(st.floats(0.2, 3.0), min_size=3, max_size=14))
def test_any_star_is_cut_into_convex_pieces_that_make_it_up(reaches: list[float]) -> None:
    turns = [2 * pi * number / len(reaches) for number in range(len(reaches))]
    star = tuple((reach * cos(turn), reach * sin(turn)) for reach, turn in zip(reaches, turns, strict=True))
    found = pieces(star)
    assert all(map(is_convex, found))
    assert sum(map(area, found)) == pytest.approx(area(star))


def test_the_prisms_of_a_shape_have_its_edges_and_no_others() -> None:
    """By hand: 8 corners, so 8 edges above, 8 below and 8 upright; of the sides only those of the outline are seen."""
    made = prisms(NOTCHED, convex_parts(NOTCHED), (0.0, 1.0))
    edges = {frozenset((edge.start, edge.end)) for solid in made for edge in solid.edges}
    assert len(edges) == sum(len(solid.edges) for solid in made) == 24
    sides = [face for solid in made for face in solid.faces[2:] if not face.inner]
    assert len(sides) == 8
    from_the_side = Projection(0.0, 0.0)
    seen = [face for face in sides if face.is_seen(from_the_side)]
    assert {corner[0] for face in seen for corner in face.corners} == {3, 1}


def test_an_outline_that_was_written_clockwise_is_turned() -> None:
    assert turned_left(tuple(reversed(NOTCHED))) == NOTCHED
    assert turned_left(NOTCHED) == NOTCHED
