"""Elevations, the loads over the steps, the walk of the centre of gravity: what they show of small made-up jobs."""

import re
from dataclasses import replace
from functools import partial
from math import degrees
from pathlib import Path

import pytest
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.lines import Line2D
from matplotlib.text import Text

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.verdict import Assessment
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import POINTS_PER_PX, SENTENCE, STRONG
from loadplan.report.drawing.text_width import text_width
from loadplan.report.drawing.view import Box, view_of
from loadplan.report.pictures.axonometric_stands import stand_solids
from loadplan.report.pictures.cg_walk import draw_walk, lift_walk, unit_bodies, unit_walk
from loadplan.report.pictures.elevation import NARROW, _lines, draw_elevation
from loadplan.report.pictures.elevation_levels import levels_of, undrawn
from loadplan.report.pictures.elevation_shapes import Sight, ViewSide, draw_upright
from loadplan.report.pictures.load_chart import draw_loads, loads_size
from loadplan.report.pictures.plan_content import unit_scene
from loadplan.report.pictures.render import (
    PAGE,
    drawn_files,
    elevation_picture,
    loads_picture,
    picture_tasks,
    walk_picture,
)
from loadplan.report.words.vocabulary import FIRST_LIFT
from loadplan.units import System
from tests.checks.small_jobs import judged
from tests.files.test_feet import stacked
from tests.report.painted import painted


@pytest.fixture(scope="module")
def told() -> Assessment:
    return assess(read_job(shipped_folder("demo") / "front-unit.toml"))


def drawn(told: Assessment, stage: int, seen: ViewSide) -> Axes:
    return painted(PAGE, lambda paper: draw_elevation(paper, told, stage, seen, System.METRIC))


def words(ax: Axes) -> list[str]:
    return [each.get_text() for each in ax.findobj(Text) if each.get_text()]


def on_the_page(ax: Axes, size: tuple[int, int]) -> bool:
    renderer = FigureCanvasAgg(ax.get_figure()).get_renderer()
    boxes = [each.get_window_extent(renderer) for each in ax.findobj(Text) if each.get_text()]
    return all(box.x0 >= 0 and box.y0 >= 0 and box.x1 <= size[0] and box.y1 <= size[1] for box in boxes)


def test_a_unit_stands_as_high_as_its_highest_saddle(told: Assessment) -> None:
    stage = told.stages[1]
    levels = levels_of(told.job, stage)
    a = next(each for each in told.job.supports if each.name == "A")
    assert levels.top(a) == pytest.approx(0.330)
    stands = [each for each in stage.state.supports if each.set_height is not None]
    assert levels.rise("cradle") == pytest.approx(max(each.set_height - each.at[2] for each in stands))


def test_stands_have_their_letters_and_heights(told: Assessment) -> None:
    said = words(drawn(told, 1, ViewSide.SIDE))
    assert {"A, B", "330 mm", "E", "440 mm", "+ 12 mm", "front", "back"} <= set(said)
    assert {"left", "right"} <= set(words(drawn(told, 1, ViewSide.FRONT)))


def test_a_stand_on_an_assembly_stands_as_high_as_that_and_is_told_as_it_is_set(tmp_path: Path) -> None:
    """By hand: a cradle 10 mm over where its file has it, its top at 510; a stand of 200 mm on that reaches 710."""
    raw = stacked(dict.fromkeys("EFG", 200.0), bottom=380)
    for each in raw["support"][:4]:
        each["height"] = 410
    told = judged(raw, tmp_path)
    levels = levels_of(told.job, told.stages[0])
    on_top = next(each for each in told.job.supports if each.name == "E")
    assert (levels.foot(on_top), levels.top(on_top)) == pytest.approx((0.510, 0.710))
    assert "200 mm" in words(drawn(told, 0, ViewSide.SIDE))
    stood = stand_solids(on_top, levels.top(on_top), levels.foot(on_top))[0].solid
    heights = [corner[2] for corner in stood.corners]
    assert (min(heights), max(heights)) == pytest.approx((0.510, 0.710))
    unknown = replace(on_top, foot=None)
    assert levels.top(unknown) == pytest.approx(0.710)
    assert levels.foot(unknown) == pytest.approx(0.510)
    assert levels.foot(told.job.supports[0]) == 0.0


def test_the_angle_is_the_one_that_was_computed(told: Assessment) -> None:
    angle = next(each.tip_angle for each in told.stages[1].statics.bodies if each.name == "powertrain")
    assert angle
    assert f"tilts {degrees(angle):.0f} degrees before it goes" in words(drawn(told, 1, ViewSide.SIDE))


def test_the_triangle_of_a_single_body_is_drawn_to_scale_where_its_edge_is_seen_end_on() -> None:
    unit = assess(read_job(shipped_folder("demo") / "us-units.toml"))
    stage = unit.stages[0]
    (body,) = stage.statics.bodies
    scene, levels = unit_scene(unit, stage), levels_of(unit.job, stage)
    for seen, shown in ((ViewSide.SIDE, True), (ViewSide.FRONT, False)):
        sight = Sight(seen, scene, levels, unit.job)
        view = view_of(Box(0, 0, 800, 600), sight.extent, rim=50)
        pen = Pen(Paper(PAGE), Layer.PAGE, view.frame)
        (centre,) = draw_upright(pen, view, sight).centres
        assert centre.angle == (pytest.approx(body.tip_angle, abs=1e-4) if shown else None)


def test_where_the_lift_decides_no_height_is_made_up(told: Assessment) -> None:
    said = words(drawn(told, 1, ViewSide.SIDE))
    assert "to touch" in said
    assert any("the lift decides" in each for each in said)
    assert not any(each.startswith("shell: CG") and "high" in each for each in said)


def test_an_assembly_without_bottom_or_top_is_told(told: Assessment) -> None:
    body = replace(told.job.vehicle.bodies[0], top=None)
    assert undrawn((body,)) == [f"Not drawn, since outline, bottom or top is not given: {body.name}."]
    assert undrawn(told.job.vehicle.bodies) == []


@pytest.mark.parametrize("seen", ViewSide)
def test_nothing_that_is_written_lies_outside_the_page(told: Assessment, seen: ViewSide) -> None:
    assert on_the_page(drawn(told, 1, seen), PAGE)


def test_loads_stand_over_their_bars_with_the_lines_of_their_rating(told: Assessment) -> None:
    ax = painted(loads_size(told), lambda paper: draw_loads(paper, told, System.METRIC))
    said = words(ax)
    assert {"A", "tail prop", "sill front left", "157 kg", "nothing"} <= set(said)
    assert on_the_page(ax, loads_size(told))


def test_the_walk_goes_where_the_parts_leave_it(told: Assessment) -> None:
    stops = unit_walk(told)
    assert [stop.steps for stop in stops] == [(1, 3), (4, 5), (6, 9)]
    assert stops[0].at == pytest.approx(stops[2].at)
    assert stops[1].mass < stops[0].mass
    assert lift_walk(told)[-1].mass == pytest.approx(told.stages[-1].statics.lift.mass)  # type: ignore[union-attr]
    ax = painted(PAGE, lambda paper: draw_walk(paper, told, System.METRIC))
    assert "1 to 3, 6 to 9" in words(ax)
    assert on_the_page(ax, PAGE)


def test_the_pictures_over_all_steps_come_only_with_all_steps(told: Assessment) -> None:
    assert not {"loads.svg", "walk.svg"} & set(drawn_files(told, picture_tasks(told, [1], "svg", System.METRIC)))


def test_the_same_pictures_give_the_same_bytes(told: Assessment) -> None:
    for picture in (
        lambda: elevation_picture(told, (1, ViewSide.SIDE), "svg", System.METRIC),
        lambda: loads_picture(told, "svg", System.METRIC),
        lambda: walk_picture(told, "svg", System.METRIC),
    ):
        assert picture() == picture()


def test_a_table_is_drawn_as_one_piece_with_a_saddle_at_each_place() -> None:
    told = assess(read_job(shipped_folder("demo") / "battery-pack-table.toml"))
    ax = drawn(told, 3, ViewSide.SIDE)
    assert {"T1, T2", "T3, T4"} <= set(words(ax))
    legs = [line for line in ax.lines if line.get_linewidth() == pytest.approx(3.0 * 0.75) and crooked(line)]
    assert len(legs) == 2


def crooked(line: Line2D) -> bool:
    (left, right), (low, high) = line.get_xdata(), line.get_ydata()
    return left != right and low != high


def test_in_the_small_view_every_angle_is_told_and_nothing_is_wider_than_the_view() -> None:
    told = assess(read_job(shipped_folder("demo") / "battery-pack-table.toml"))
    ax = drawn(told, 0, ViewSide.SIDE)
    assert on_the_page(ax, PAGE)
    renderer = FigureCanvasAgg(ax.get_figure()).get_renderer()
    wide = {each.get_text(): each.get_window_extent(renderer).width for each in ax.findobj(Text)}
    beside = [line for line in wide if re.search(r"CG|over its saddles|before it goes", line)]
    assert all(part in " ".join(beside) for part in ("over its saddles", "66 degrees before"))
    assert max(wide[line] for line in beside) <= NARROW


def test_the_unit_of_a_walk_is_what_any_step_parts_from_the_vehicle() -> None:
    told = assess(read_job(shipped_folder("demo") / "shell-nose-off-prop.toml"))
    assert unit_bodies(told) == {"front axle unit"}


def test_loads_and_walk_have_the_basis_and_the_first_lift(told: Assessment) -> None:
    for draw, size in ((draw_loads, loads_size(told)), (draw_walk, PAGE)):
        said = words(painted(size, partial(draw, assessment=told, units=System.METRIC)))
        assert FIRST_LIFT in said
        assert "FOR PRACTICE: HOLDS ON PAPER; weights: example." in said


def test_a_long_reason_is_written_smaller_and_not_cut() -> None:
    told = assess(read_job(shipped_folder("demo") / "shell-nose-off.toml"))
    said = words(drawn(told, 3, ViewSide.SIDE))
    band = [line for line in said if "…" in line]
    assert band == []
    assert any(line.endswith("the prop carries up to 780 kg.") for line in said)


def test_a_long_reason_makes_the_band_higher_not_the_words_small() -> None:
    told = assess(read_job(shipped_folder("demo") / "shell-nose-off.toml"))
    ax = drawn(told, 3, ViewSide.SIDE)
    reason = [each for each in ax.findobj(Text) if "has moved" in each.get_text()]
    assert reason
    assert {each.get_fontsize() for each in reason} == {SENTENCE.size * POINTS_PER_PX}


def test_the_load_chart_says_the_verdict_once_and_marks_steps_at_fault() -> None:
    told = assess(read_job(shipped_folder("demo") / "drive-unit-on-oil.toml"))
    ax = painted(loads_size(told), lambda paper: draw_loads(paper, told, System.METRIC))
    assert sum("FOR PRACTICE: CAUTION" in each for each in words(ax)) == 1
    assert "2 CAUTION" in words(ax)
    assert "8" in words(ax)


def test_what_hangs_on_mounts_is_high_over_these() -> None:
    told = assess(read_job(shipped_folder("demo") / "shell-nose-off.toml"))
    said = words(drawn(told, 3, ViewSide.SIDE))
    assert any(each.endswith("over its mounts") for each in said)
    assert "How high the shell and powertrain are, the lift decides: drawn raised clear of the unit." in said


def test_what_is_only_tied_to_what_rocks_is_not_blamed() -> None:
    told = assess(read_job(shipped_folder("demo") / "rocking-on-two-stands.toml"))
    said = words(drawn(told, 1, ViewSide.SIDE))
    assert said.count("free to rock") == 1
    assert said.count("tilt not known") == 1
    assert not any("in balance" in each for each in said)


def test_from_in_front_pads_of_two_heights_say_which_are_meant(told: Assessment) -> None:
    """One behind the other they lie at one place: "lift pads 350 mm" beside "lift pads 355 mm" tells nobody which."""
    words = {each.get_text() for each in drawn(told, 0, ViewSide.FRONT).findobj(Text)}
    assert {"front lift pads", "rear lift pads"} <= words
    assert "lift pads" not in words
    assert "lift pads" in {each.get_text() for each in drawn(told, 0, ViewSide.SIDE).findobj(Text)}


def test_a_height_is_not_parted_from_what_it_is() -> None:
    """A last word alone on a line, "high", was taken for the worst of it."""
    kind = STRONG
    told = "shell and battery pack: CG 783 mm high"
    assert _lines(told, kind, 2 * text_width(told, kind)) == [told]
    assert _lines(told, kind, 0.9 * text_width(told, kind)) == ["shell and battery pack:", "CG 783 mm high"]
