"""The lowering: its window, its shares, what it says beside each line; drawn from real small jobs and the demo."""

from dataclasses import replace

import matplotlib as mpl
import pytest
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.text import Text

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.verdict import Assessment
from loadplan.report.drawing.graph import Graph
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.view import Box
from loadplan.report.pictures.lowering_chart import draw_lowering
from loadplan.report.pictures.render import LOWERING_PAGE, drawn_files, lowering_picture, picture_tasks
from loadplan.units import System
from tests.report.painted import painted


@pytest.fixture(scope="module")
def set_down() -> Assessment:
    return assess(read_job(shipped_folder("demo") / "front-unit.toml"))


def drawn(told: Assessment, units: System = System.METRIC) -> Axes:
    return painted(LOWERING_PAGE, lambda paper: draw_lowering(paper, told, 0, units))


def words(ax: Axes) -> list[str]:
    return [each.get_text() for each in ax.findobj(Text) if each.get_text()]


def with_window(told: Assessment, start: float | None, end: float | None, *, given: bool = True) -> Assessment:
    stage = told.stages[0]
    down = stage.statics.set_down
    assert down is not None
    changed = replace(stage, statics=replace(stage.statics, set_down=replace(down, start=start, end=end, given=given)))
    return replace(told, stages=(changed, *told.stages[1:]))


def test_window_lowering_and_every_arm_are_named_and_rounded_into_the_window(set_down: Assessment) -> None:
    said = words(drawn(set_down))
    assert {"at least 7 mm", "at most 16 mm", "8 mm planned"} <= set(said)
    assert {"stands", "sill front left, sill front right", "sill rear left, sill rear right"} <= set(said)
    assert any("% of the unit's weight" in each for each in said)
    assert {"90 %: stands have the unit", "20 %: an arm is nearly empty"} <= set(said)


def test_loads_stand_beside_the_lines(set_down: Assessment) -> None:
    down = set_down.stages[0].statics.set_down
    assert down is not None
    loads = dict(zip(down.lowering.supports, down.lowering.loads, strict=True))
    at = down.lowering.levels.index(down.lowered)
    stands = sum(loads[name][at] for name in "ABCDEF") / 9.80665
    said = words(drawn(set_down))
    assert f"0 kg, then {stands:.0f} kg" in said
    assert "load at touch, then at 8 mm" in said


def test_the_window_is_shaded_only_where_there_is_one(set_down: Assessment) -> None:
    def shaded(told: Assessment) -> list[float]:
        fills = [each for each in drawn(told).patches if each.get_facecolor()[:3] == mpl.colors.to_rgb("#DDE3E8")]
        return [each.get_extents().width for each in fills]

    assert len(shaded(set_down)) == 1
    assert shaded(with_window(set_down, 0.020, 0.015)) == []
    assert shaded(with_window(set_down, None, 0.015)) == []
    (half,) = shaded(with_window(set_down, 0.010, 0.015))
    (full,) = shaded(with_window(set_down, 0.005, 0.015))
    assert full == pytest.approx(2 * half)
    (open_end,) = shaded(with_window(set_down, 0.005, None))
    assert open_end > full


def test_a_lowering_that_was_taken_does_not_read_as_planned(set_down: Assessment) -> None:
    assert "8 mm taken" in words(drawn(with_window(set_down, 0.007, 0.016, given=False)))


def test_in_us_units_everything_is_in_inches_and_pounds(set_down: Assessment) -> None:
    said = words(drawn(set_down, System.US))
    assert "at least 3/8 in" in said
    assert not [each for each in said if each.endswith((" mm", " kg")) and "With" not in each]


def test_a_place_in_the_graph_is_in_proportion() -> None:
    graph = Graph(Box(100, 50, 300, 250), 0.02, 2.0)
    assert (graph.x(0.0), graph.x(0.005), graph.x(0.02)) == pytest.approx((100, 150, 300))
    assert (graph.y(0.0), graph.y(0.5), graph.y(2.0)) == pytest.approx((50, 100, 250))


def test_only_a_step_in_which_something_is_set_down_has_the_picture(set_down: Assessment) -> None:
    files = drawn_files(set_down, picture_tasks(set_down, [0, 1], "svg", System.METRIC))
    assert [each for each in files if "lowering" in each] == [
        "step-01-set-down-on-the-stands-still-bolted-lowering.svg"
    ]
    with pytest.raises(ValueError, match="Tail stand set"):
        draw_lowering(Paper(LOWERING_PAGE), set_down, 1, System.METRIC)


def test_the_same_lowering_gives_the_same_bytes(set_down: Assessment) -> None:
    first, second = (lowering_picture(set_down, 0, "svg", System.METRIC) for _ in range(2))
    assert first == second


def test_nothing_that_is_written_lies_outside_the_page(set_down: Assessment) -> None:
    ax = drawn(set_down)
    renderer = FigureCanvasAgg(ax.get_figure()).get_renderer()
    for each in ax.findobj(Text):
        if each.get_text():
            box = each.get_window_extent(renderer)
            assert box.x0 >= 0
            assert box.y0 >= 0
            assert box.x1 <= LOWERING_PAGE[0]
            assert box.y1 <= LOWERING_PAGE[1]
