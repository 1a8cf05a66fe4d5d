"""The signs in the corners of a plan: read over whatever is drawn below them."""

import pytest
from matplotlib.colors import to_hex
from matplotlib.patches import Polygon
from matplotlib.text import Text

from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import SHEET
from loadplan.report.drawing.view import Box, view_of
from loadplan.report.pictures.title_block import draw_front, draw_scale
from loadplan.units import System
from tests.report.painted import painted


def test_no_chalk_line_strikes_out_the_word_front() -> None:
    view = view_of(Box(0.0, 0.0, 400.0, 400.0), [(0.0, 0.0), (1.0, 1.0)], rim=20)
    ax = painted((400.0, 400.0), lambda paper: draw_front(Pen(paper, Layer.PAGE, None), view))
    (word,) = (each for each in ax.findobj(Text) if each.get_text() == "front")
    grounds = [
        each for each in ax.patches if isinstance(each, Polygon) and to_hex(each.get_facecolor()) == SHEET.lower()
    ]
    assert any(each.get_path().contains_point(word.get_position()) for each in grounds)


LOW_LEFT, LOW_RIGHT = Box(0.0, 0.0, 200.0, 60.0), Box(201.0, 0.0, 400.0, 60.0)


@pytest.mark.parametrize("busy", [(), (LOW_LEFT,), (LOW_RIGHT,), (LOW_LEFT, LOW_RIGHT)])
def test_the_scale_bar_goes_to_a_corner_in_which_it_hides_no_stand_and_touches_no_edge(busy: tuple[Box, ...]) -> None:
    frame = Box(0.0, 0.0, 400.0, 400.0)
    view = view_of(frame, [(0.0, 0.0), (1.0, 1.0)], rim=20)
    room = draw_scale(Pen(Paper((400.0, 400.0)), Layer.PAGE, None), view, System.METRIC, busy)
    assert not any(room.overlap(each) for each in busy)
    assert frame.left <= room.left < room.right <= frame.right
    assert frame.bottom <= room.bottom < room.top <= frame.top
