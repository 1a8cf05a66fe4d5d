"""A stand with nothing above it, a part that is off and a link, in every picture and on every page."""

from pathlib import Path
from typing import Any

import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.model.vehicle import Part
from loadplan.model.verdict import Assessment, Verdict
from loadplan.planning.placement.layout_space import space
from loadplan.report.drawing.paper import Paper
from loadplan.report.json_output import to_dict
from loadplan.report.pictures.elevation import draw_elevation
from loadplan.report.pictures.elevation_shapes import ViewSide
from loadplan.report.pictures.plan_content import unit_scene
from loadplan.report.pictures.plan_view import draw_plan
from loadplan.report.pictures.render import PAGE
from loadplan.report.pictures.signs import FAULT
from loadplan.report.sheet.step_pages import _loads, _unknown
from loadplan.report.text.terminal_colour import Colours
from loadplan.report.text.terminal_page import page
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System
from tests.board.desk import opened
from tests.files.toml_text import JOBS
from tests.report.painted import painted

JOB = JOBS / "gearbox-off.toml"
NOTHING = "carries nothing: nothing above it"


@pytest.fixture(scope="module")
def judged() -> Assessment:
    return assess(read_job(JOB))


def drawn(judged: Assessment, stage: int, side: ViewSide | None = None) -> Any:  # noqa: ANN401 - axes
    def draw(paper: Paper) -> None:
        if side is None:
            draw_plan(paper, judged, stage, System.METRIC)
        else:
            draw_elevation(paper, judged, stage, side, System.METRIC)

    return painted(PAGE, draw)


def crosses(ax: Any) -> int:  # noqa: ANN401 - axes
    """Return how many stands are crossed out: two lines each, the key's apart."""
    found = sum(line.get_color() == FAULT and line.get_linewidth() == 3.0 * 0.75 for line in ax.lines) // 2
    return found - 1  # one stands in the key, which says what it means


def test_both_stands_under_air_are_a_stop_and_nothing_else_is(judged: Assessment) -> None:
    stops = [
        [each.subject for each in stage.findings if each.check == "bearing" and each.verdict is Verdict.STOP]
        for stage in judged.stages
    ]
    assert stops == [["H"], ["G", "H"]]


def test_the_machine_output_says_that_they_are_not_there(judged: Assessment) -> None:
    stage: Any = to_dict(judged, System.METRIC)["stages"][1]  # type: ignore[index, call-overload]
    told = {each["name"]: (each["there"], each["load_n"] is None) for each in stage["supports"]}
    assert {name for name, each in told.items() if each == (False, True)} == {"G", "H"}
    assert {name for name, each in told.items() if each == (True, False)} == set("ABCDEF")
    assert [(each["name"], each["there"], each["force_n"]) for each in stage["joints"]] == [("roll link", False, None)]


def test_the_page_says_why_they_carry_nothing(judged: Assessment) -> None:
    lines = page(judged, System.METRIC, Colours.PLAIN).splitlines()
    rows = [line.split()[0] for line in lines if "nothing: nothing above it" in line]
    assert rows == ["H", "G", "H"]


def test_the_sheet_says_so_too(judged: Assessment) -> None:
    stage, reader = judged.stages[1], reader_of(judged.job, System.METRIC)
    assert _loads(stage, stage, reader) == []
    told = " ".join(_unknown(stage, reader))
    assert "G and H carry nothing: nothing above it." in told
    assert "No loads for A, B, C, D, E and F" in told


@pytest.mark.parametrize(("stage", "under_air"), [(0, 1), (1, 2)])
def test_the_plan_crosses_them_out_in_the_colour_of_a_fault(judged: Assessment, stage: int, under_air: int) -> None:
    ax = drawn(judged, stage)
    assert [each.get_text() for each in ax.texts].count(NOTHING) == under_air
    assert crosses(ax) == under_air


@pytest.mark.parametrize("side", ViewSide)
def test_so_does_each_elevation(judged: Assessment, side: ViewSide) -> None:
    assert [crosses(drawn(judged, stage, side)) for stage in (0, 1)] == [1, 2]


def outlined(judged: Assessment, stage: int) -> tuple[Part, ...]:
    return unit_scene(judged, judged.stages[stage]).parts


def test_a_part_with_an_outline_is_drawn_until_it_is_off(judged: Assessment) -> None:
    """The gearbox is one shape more in the first step's pictures than in the second's, where it is gone."""
    assert [[part.name for part in outlined(judged, stage)] for stage in (0, 1)] == [["gearbox"], []]
    for side in ViewSide:
        shapes = [len(drawn(judged, stage, side).patches) for stage in (0, 1)]
        assert shapes[0] > shapes[1]


def test_a_link_is_drawn_as_a_rod_with_its_name(judged: Assessment) -> None:
    scene = unit_scene(judged, judged.stages[0])
    assert ([each.name for each in scene.links], scene.mounts) == (["roll link"], ())
    assert "roll link" in [each.get_text() for each in drawn(judged, 0).texts]


def test_the_live_plan_says_so(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(JOB.read_text("utf-8"), "utf-8")
    stands = {each["name"]: each["load"] for each in opened(tmp_path, tmp_path / "job.toml").show(1)["stands"]}
    assert {name for name, load in stands.items() if load == NOTHING} == {"G", "H"}
    assert stands["A"] == ""


def test_a_stand_that_is_planned_under_what_comes_off_goes_with_it(judged: Assessment) -> None:
    found = space(judged.job)
    off = next(place for place, stage in enumerate(judged.job.stages) if "gearbox" in stage.off)
    goes = {point.name: found.goes_with_part(point) for point in found.points}
    assert {"block front", "block rear", "front left"} <= {name for name, step in goes.items() if step is None}
    assert goes.get("gearbox pan", off) == off
