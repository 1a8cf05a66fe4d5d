"""Every name and number of load chart and lowering belongs to what it stands beside, in every demo."""

from functools import partial
from itertools import pairwise

import pytest
from matplotlib.axes import Axes
from matplotlib.text import Text

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.answer import SetDownAnswer
from loadplan.model.verdict import Assessment
from loadplan.report.pictures.cg_walk import draw_walk
from loadplan.report.pictures.load_chart import draw_loads, loads_size
from loadplan.report.pictures.lowering_chart import draw_lowering
from loadplan.report.pictures.render import LOWERING_PAGE, PAGE
from loadplan.report.words.stage_tables import carried
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System
from tests.demo.jobs import names
from tests.report.painted import painted

QUICK = ("front-unit",)
ALL = [*QUICK, *(pytest.param(name, marks=pytest.mark.slow) for name in names() if name not in QUICK)]
SAME = 3.0
"""How far apart the lines of type of one row may stand [px]."""


def told(name: str) -> Assessment:
    return assess(read_job(shipped_folder("demo") / f"{name}.toml"))


def words(ax: Axes) -> list[Text]:
    return [each for each in ax.findobj(Text) if each.get_text()]


@pytest.mark.parametrize("name", ALL)
def test_in_each_row_of_the_load_chart_stands_what_that_stand_carries_step_by_step(name: str) -> None:
    whole = told(name)
    reader = reader_of(whole.job, System.METRIC)
    ax = painted(loads_size(whole), lambda paper: draw_loads(paper, whole, System.METRIC))
    texts = words(ax)
    supports = [*whole.job.supports, *(whole.job.lift.arms if whole.job.lift else ())]
    found = 0
    for support in supports:
        loads = [each.statics.load(support.name) for each in whole.stages if each.state.supports]
        wanted = [carried(load, reader) for load in loads if load is not None]
        called = [each for each in texts if each.get_text() == reader.words(support.name)]
        rows = [
            [
                each.get_text()
                for each in sorted(texts, key=lambda each: each.get_position()[0])
                if abs(each.get_position()[1] - one.get_position()[1]) < SAME and each is not one
            ]
            for one in called
        ]
        found += bool(rows)
        assert not rows or any([each for each in row if each in wanted] == wanted for row in rows), support.name
    assert found > len(supports) / 2


def shares(down: SetDownAnswer) -> dict[str, float]:
    """What each support still carries at the last level: an arm of what it carried, the stands of the whole [1]."""
    loads = dict(zip(down.lowering.supports, down.lowering.loads, strict=True))
    return {name: each[-1] / each[0] for name, each in loads.items() if each[0] > 0}


@pytest.mark.parametrize("name", ALL)
def test_each_name_of_a_lowering_stands_at_the_end_of_its_own_line(name: str) -> None:
    whole = told(name)
    for stage in whole.stages:
        if (down := stage.statics.set_down) is None:
            continue
        draw = partial(draw_lowering, assessment=whole, stage_index=stage.state.index, units=System.METRIC)
        ax = painted(LOWERING_PAGE, draw)
        leaders = [line for line in ax.lines if len(line.get_xdata()) == 3 and line.get_xdata()[2] > 900]
        curves = [line for line in ax.lines if len(line.get_xdata()) == len(down.lowering.levels)]
        assert leaders
        for leader in leaders:
            ends = [each.get_ydata()[-1] for each in curves if each.get_linestyle() == leader.get_linestyle()]
            assert any(end == pytest.approx(leader.get_ydata()[0]) for end in ends)
        # From the lowest to the highest, so that no two leaders cross; the names follow their lines.
        leaders.sort(key=lambda each: each.get_ydata()[2])
        assert [each.get_ydata()[0] for each in leaders] == sorted(each.get_ydata()[0] for each in leaders)
        beside = [each for each in words(ax) if each.get_position()[0] == pytest.approx(leaders[0].get_xdata()[2] + 8)]
        called: list[str] = []
        for leader in leaders:
            near = [each for each in beside if abs(each.get_position()[1] - leader.get_ydata()[2]) < 30]
            called.append(max(near, key=lambda each: each.get_position()[1]).get_text())
        known = [shares(down)[each.split(",")[0]] for each in called if each.split(",")[0] in shares(down)]
        assert len(known) >= len(called) - 1
        assert all(lower <= upper + 0.02 for lower, upper in pairwise(known))


def test_a_walk_to_and_fro_tells_every_step_and_each_place_once() -> None:
    """Nine steps, of which the vehicle is lighter and comes back: all of them have to be in the list."""
    whole = told("shell-nose-off")
    ax = painted(PAGE, lambda paper: draw_walk(paper, whole, System.METRIC))
    said = [each.get_text() for each in words(ax)]
    assert "and more" not in said
    listed = [each for each in said if each.startswith("Step") and ": " in each]
    assert any(each.startswith("Steps 1, 8 to 9: ") for each in listed)
    places = [each.split(": ")[1] for each in listed]
    assert len(places) == len(set(places))


@pytest.mark.parametrize("name", ALL)
def test_no_head_of_the_loads_is_cut_off(name: str) -> None:
    """A step called "Tail stand set, axle unit unbolted, fram…" may be any."""
    assessment = told(name)
    ax = painted(loads_size(assessment), lambda paper: draw_loads(paper, assessment, System.METRIC))
    assert not [each.get_text() for each in words(ax) if each.get_text().endswith("…")]
