"""A step on the page from the side and in space: what it shows, says, and tilts about."""

from math import hypot, radians
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.model.verdict import Assessment
from loadplan.report.pictures.elevation_shapes import ViewSide
from loadplan.report.pictures.live_side_view import SideView, Turned, first_to_go, side_view_words
from loadplan.report.pictures.plan_content import hangs_something, margin_is_on_the_lift, unit_scene, whole_scene
from loadplan.report.pictures.render import side_view_picture
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System

BOLTED, RAISED = 0, 2


@pytest.fixture(scope="module")
def demo() -> Assessment:
    return assess(read_job(Path("demo/front-unit.toml")))


def _drawn(demo: Assessment, looked: ViewSide | Turned, *, around: bool = False) -> str:
    view = SideView(demo, demo.stages[RAISED], looked, around)
    return side_view_picture(view, (760.0, 560.0), reader_of(demo.job, System.METRIC)).decode()


def test_where_the_margin_is_about_the_vehicle_that_is_drawn_too(demo: Assessment) -> None:
    bolted, raised = demo.stages[BOLTED], demo.stages[RAISED]
    assert margin_is_on_the_lift(demo, bolted)
    assert not margin_is_on_the_lift(demo, raised)
    assert hangs_something(demo, raised)
    assert unit_scene(demo, bolted).critical not in {each.name for each in unit_scene(demo, bolted).wholes}
    assert whole_scene(demo, bolted).critical in {each.name for each in whole_scene(demo, bolted).wholes}


def test_each_side_is_another_drawing_and_says_what_it_leaves_out(demo: Assessment) -> None:
    looks = (ViewSide.SIDE, ViewSide.FRONT, Turned(radians(30)), Turned(radians(45)))
    assert len({_drawn(demo, look) for look in looks}) == len(looks)
    said = side_view_words(SideView(demo, demo.stages[RAISED], ViewSide.SIDE, around=False))
    assert said[0].startswith("Seen from the left")
    assert "Left out: shell." in said
    said = side_view_words(SideView(demo, demo.stages[RAISED], Turned(radians(45)), around=True))
    assert said[0] == "Seen from 45 degrees to the left of straight ahead."
    assert "Left out: shell." not in said
    assert "sill rear left" in _drawn(demo, Turned(radians(45)), around=True)


def test_let_go_it_tilts_about_the_edge_that_is_nearest_in_the_worst_case(demo: Assessment) -> None:
    stage = demo.stages[RAISED]
    mode = first_to_go(demo, stage)
    assert mode is not None
    least = min(left for group in stage.statics.groups for each in group.modes for _, left in each.worst_margins)
    assert min(left for _, left in mode.worst_margins) == pytest.approx(least)
    assert max(hypot(motion.rx, motion.ry) for _, motion in mode.motions) > 0
    assert _drawn(demo, Turned(radians(30), radians(5))) != _drawn(demo, Turned(radians(30)))
    said = side_view_words(SideView(demo, stage, Turned(radians(30), radians(5)), around=False))
    assert said[0].startswith("Tilted by 5 degrees")


def test_a_narrow_drawing_keeps_letters_and_the_nearest_distance(demo: Assessment) -> None:
    view = SideView(demo, demo.stages[RAISED], Turned(radians(30)), around=False)
    narrow = side_view_picture(view, (330.0, 240.0), reader_of(demo.job, System.METRIC)).decode()
    assert "mm to tipping" in narrow
    assert "axle line" in _drawn(demo, Turned(radians(30)))
    assert "axle line" not in narrow
