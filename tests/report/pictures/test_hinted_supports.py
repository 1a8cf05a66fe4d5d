"""Pads and stands of the other plan: small squares that words keep off, whole or not at all, and told in the key."""

import pytest
from matplotlib.text import Text

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.verdict import Assessment
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.view import Box, View
from loadplan.report.pictures.plan_content import unit_scene
from loadplan.report.pictures.plan_shapes import draw_floor
from loadplan.report.pictures.plan_view import draw_plan
from loadplan.report.pictures.render import PAGE
from loadplan.units import System
from tests.report.painted import painted

FRAME = Box(0.0, 0.0, 400.0, 400.0)
SCALE = 200.0
SQUARE = 0.06 * SCALE


@pytest.fixture(scope="module")
def told() -> Assessment:
    return assess(read_job(shipped_folder("demo") / "front-unit.toml"))


def covered(told: Assessment, off: float) -> list[Box]:
    """Return what keeps words off, with the first pad so far inside the upper rim of the frame [px]."""
    scene = unit_scene(told, told.stages[0])
    x, y, _ = scene.bare[0].at
    view = View(FRAME, (x - (FRAME.height / 2 - off) / SCALE, y), SCALE)
    return list(draw_floor(Pen(Paper((FRAME.width, FRAME.height)), Layer.PAGE, FRAME), view, scene).lines)


def squares(boxes: list[Box], off: float) -> list[Box]:
    middle = FRAME.width / 2, FRAME.top - off
    return [each for each in boxes if each.middle == pytest.approx(middle) and each.width >= SQUARE]


def test_words_keep_off_the_whole_of_a_pad_of_the_other_plan(told: Assessment) -> None:
    assert len(squares(covered(told, 40.0), 40.0)) == 1


def test_a_pad_that_the_frame_would_cut_through_is_left_out(told: Assessment) -> None:
    """Half a square at the rim is taken for a part of something that is not there."""
    assert squares(covered(told, 0.4 * SQUARE), 0.4 * SQUARE) == []


def test_the_key_says_what_the_squares_are_where_there_are_any(told: Assessment) -> None:
    ax = painted(PAGE, lambda paper: draw_plan(paper, told, 0, System.METRIC))
    assert "pad or stand of the other plan" in {each.get_text() for each in ax.findobj(Text)}
