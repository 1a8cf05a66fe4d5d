"""The view in space: all is there and at its height, no words cover anything, and colour blames what is at fault."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import combinations
from math import radians

import pytest
from matplotlib.axes import Axes
from matplotlib.text import Text

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.verdict import Assessment, Verdict
from loadplan.report.drawing.axonometric_projection import Projection
from loadplan.report.drawing.depth_order import depth_order, in_front
from loadplan.report.drawing.label_placement import Ground, Placed, Wanted, place_labels
from loadplan.report.drawing.text_boxes import Tag, tag_size
from loadplan.report.pictures import axonometric_view
from loadplan.report.pictures.axonometric_scene import LONGEST, SpaceScene, solids_of, unit_space, vehicle_space
from loadplan.report.pictures.axonometric_stands import SolidKind
from loadplan.report.pictures.axonometric_view import AZIMUTH, ELEVATION, azimuths_round, draw_axonometric
from loadplan.report.pictures.render import PAGE, drawn_files, picture_tasks, space_picture
from loadplan.report.pictures.verdict_colours import UNBLAMED, livery
from loadplan.units import System
from tests.demo.jobs import names
from tests.report.builders import ROCKS, assessment, finding
from tests.report.painted import painted


@cache
def told(name: str) -> Assessment:
    return assess(read_job(shipped_folder("demo") / f"{name}.toml"))


def shown_apart(name: str) -> Iterator[int]:
    """The steps of a job that show something else than those before."""
    seen = set()
    for index, stage in enumerate(told(name).stages):
        shows = stage.state.bodies, stage.state.on, stage.state.supports, stage.state.done_up, stage.verdict
        if shows not in seen:
            seen.add(shows)
            yield index


EVERY = [(name, index) for name in names() for index in shown_apart(name)]


def drawn(whole: Assessment, index: int, azimuth: float = AZIMUTH) -> Axes:
    return painted(PAGE, lambda paper: draw_axonometric(paper, whole, (index, azimuth), System.METRIC))


def words(ax: Axes) -> list[str]:
    return [each.get_text() for each in ax.findobj(Text) if each.get_text()]


def spaces(whole: Assessment, index: int) -> list[SpaceScene]:
    stage = whole.stages[index]
    found = [unit_space(whole, stage), vehicle_space(whole, stage)]
    return [each for each in found if each is not None]


def placed(
    monkeypatch: pytest.MonkeyPatch, whole: Assessment, view: tuple[int, float]
) -> list[tuple[list[Placed], Ground]]:
    """Where the words of both pictures went, and what they must not cover."""
    found: list[tuple[list[Placed], Ground]] = []

    def note(_: object, tags: list[Tag], ground: Ground) -> None:
        wanted = [Wanted(tag_size(tag), tag.anchor, tag.away) for tag in tags]
        found.append((place_labels(wanted, ground), ground))

    monkeypatch.setattr(axonometric_view, "draw_tags", note)
    drawn(whole, *view)
    return found


def no_words_cover(found: list[tuple[list[Placed], Ground]]) -> None:
    for labels, ground in found:
        boxes = [each.box for each in labels]
        assert not [(one, other) for one, other in combinations(boxes, 2) if one.overlap(other) > 0]
        assert not [(box, taken) for box in boxes for taken in ground.taken if box.overlap(taken) > 0]
        assert all(ground.frame.grown(1).overlap(box) == pytest.approx(box.width * box.height) for box in boxes)


@pytest.mark.parametrize(("name", "index"), EVERY)
def test_no_words_cover_each_other_or_what_they_name(name: str, index: int, monkeypatch: pytest.MonkeyPatch) -> None:
    no_words_cover(placed(monkeypatch, told(name), (index, AZIMUTH)))


@pytest.mark.slow
@pytest.mark.parametrize("azimuth", [each for each in azimuths_round(30) if each != 30])
@pytest.mark.parametrize(("name", "index"), EVERY)
def test_nor_do_they_from_any_side(name: str, index: int, azimuth: float, monkeypatch: pytest.MonkeyPatch) -> None:
    no_words_cover(placed(monkeypatch, told(name), (index, radians(azimuth))))


@pytest.mark.parametrize(("name", "index"), EVERY)
def test_every_stand_is_there_once_from_the_floor_to_its_set_height(name: str, index: int) -> None:
    whole = told(name)
    scenes = spaces(whole, index)
    for support in whole.stages[index].state.supports:
        (scene,) = [each for each in scenes if support.name in {one.support.name for one in each.loads}]
        kinds = (SolidKind.STAND, SolidKind.SHIM, SolidKind.SADDLE)
        corners = [
            corner
            for each in scene.solids
            if each.name == support.name and each.kind in kinds
            for corner in each.solid.corners
        ]
        if support.is_arm:
            continue
        assert max(corner[2] for corner in corners) == pytest.approx(scene.levels.top(support))
        if support.set_height is not None:
            assert max(corner[2] for corner in corners) == pytest.approx(support.set_height)
        if not support.piece:
            assert min(corner[2] for corner in corners) == 0.0


@pytest.mark.parametrize(("name", "index"), EVERY)
@pytest.mark.parametrize("azimuth", [30, *(pytest.param(each, marks=pytest.mark.slow) for each in (120, 210, 300))])
def test_what_is_in_front_is_painted_later(name: str, index: int, azimuth: int) -> None:
    projection = Projection(radians(azimuth), ELEVATION)
    for scene in spaces(told(name), index):
        solids = solids_of(scene)
        place = {number: rank for rank, number in enumerate(depth_order(solids, projection))}
        wrong = [
            (scene.solids[one].name, scene.solids[other].name)
            for one, other in combinations(range(len(solids)), 2)
            if (side := in_front(solids[one], solids[other], projection)) and (place[one] > place[other]) != (side > 0)
        ]
        assert not wrong


def test_an_arrow_is_as_long_as_its_load_and_means_the_same_in_every_step() -> None:
    """The greatest load of all nine steps has the longest arrow; the others are shorter as their loads are."""
    whole = told("front-unit")
    unit = set("ABCDEF")
    greatest = max(
        each.load.expected
        for stage in whole.stages
        for each in stage.statics.supports
        if each.load and each.name in unit
    )
    for index in (0, 1):
        scene = unit_space(whole, whole.stages[index])
        side = max(scene.floor[0][0] - scene.floor[2][0], scene.floor[0][1] - scene.floor[2][1])
        assert {each.support.name for each in scene.loads} <= unit
        for shown in scene.loads:
            assert shown.load is not None
            long = LONGEST * side * shown.load.expected / greatest
            assert shown.tail[2] - shown.tip[2] == pytest.approx(long)
            assert shown.tip == pytest.approx((*shown.support.at[:2], shown.support.set_height or 0.0))


def test_the_centre_of_gravity_hangs_over_its_place_in_plan_and_the_edge_is_as_far_as_the_margin() -> None:
    whole = told("battery-pack-stands")
    scene = unit_space(whole, whole.stages[1])
    (centre,) = scene.centres
    (body,) = centre.whole.bodies
    assert centre.plumb == pytest.approx((*body.cg[:2], 0.0))
    assert centre.at[2] == pytest.approx(body.cg[2] + scene.levels.rise(body.name))
    assert centre.foot is not None
    far = [mine - theirs for mine, theirs in zip(centre.plumb, centre.foot, strict=True)]
    assert sum(each * each for each in far) ** 0.5 == pytest.approx(body.margin)
    stands = {support.at[:2] for support in whole.stages[1].state.supports if not support.is_arm}
    assert len(centre.edge) == 2
    assert all(any(corner[:2] == pytest.approx(each) for each in stands) for corner in centre.edge)


@pytest.mark.parametrize(
    ("job", "index", "name"), [("battery-pack-stands", 1, "battery pack"), ("front-unit", 3, "powertrain")]
)
def test_the_big_number_is_the_worst_case_and_as_given_stands_below(job: str, index: int, name: str) -> None:
    """In the second one the least as given is about other places than the least in the worst case."""
    whole = told(job)
    (body,) = [each for each in whole.stages[index].statics.bodies if each.name == name]
    assert body.worst_margin is not None
    assert body.margin is not None
    said = words(drawn(whole, index))
    assert f"{body.worst_margin * 1000:.0f} mm to tipping" in said
    assert f"worst case; {body.margin * 1000:.0f} mm as given" in said


def test_what_hangs_on_the_lift_is_left_out_with_a_note_and_stands_in_the_small_picture() -> None:
    whole = told("front-unit")
    unit, vehicle = spaces(whole, 3)
    assert "shell" not in {each.name for each in unit.solids}
    assert "shell" in {each.name for each in vehicle.solids}
    said = " ".join(words(drawn(whole, 3)))
    assert "The shell is left out here, and drawn in the small picture." in said


def test_a_part_that_is_off_is_gone() -> None:
    whole = told("front-unit")
    before, after = (unit_space(whole, whole.stages[index]) for index in (1, 3))
    assert "gearbox with oil" in {each.name for each in before.solids}
    assert "gearbox with oil" not in {each.name for each in after.solids}


def test_a_table_is_one_piece_with_a_saddle_at_each_place() -> None:
    whole = told("battery-pack-table")
    scene = unit_space(whole, whole.stages[1])
    assert {each.name for each in scene.solids if each.kind is SolidKind.TABLE} == {"table"}
    assert sorted(each.name for each in scene.solids if each.kind is SolidKind.SADDLE) == ["T1", "T2", "T3", "T4"]


def test_colour_stands_on_the_jack_that_is_at_fault_and_on_nothing_else() -> None:
    whole = told("drive-unit-on-oil")
    scene = unit_space(whole, whole.stages[1])
    faults = scene.content.faults
    assert {each.name: faults.stand(each.name) for each in scene.solids if each.kind is SolidKind.STAND} == {
        "A": UNBLAMED,
        "B": UNBLAMED,
        "C": UNBLAMED,
        "D": livery(Verdict.CAUTION),
    }
    assert {faults.edge(each.whole) for each in scene.centres} == {UNBLAMED}


def test_a_pull_that_is_not_stood_blames_the_pull_and_what_it_pulls_over() -> None:
    stage = replace(
        told("battery-pack-stands").stages[1],
        findings=(finding("pull", Verdict.STOP, "battery pack", ("Do not pull.",)),),
    )
    scene = unit_space(told("battery-pack-stands"), stage)
    (centre,) = scene.centres
    assert scene.content.faults.edge(centre.whole) == livery(Verdict.STOP)
    assert scene.content.faults.pull == livery(Verdict.STOP)
    assert scene.content.faults.stands == ()


def test_of_a_group_that_goes_over_only_the_whole_that_goes_first_is_blamed() -> None:
    whole = told("rocking-on-two-stands")
    scene = unit_space(whole, whole.stages[1])
    faults = scene.content.faults
    assert {each.whole.name: faults.edge(each.whole) for each in scene.centres} == {
        "subframe": UNBLAMED,
        "powertrain": livery(Verdict.STOP),
    }
    assert all(each.edge for each in scene.centres if each.whole.free)


def test_a_unit_that_is_free_to_rock_says_so() -> None:
    assert "free to rock" in words(drawn(assessment(), ROCKS))


@pytest.mark.slow
def test_eight_views_go_once_round_and_are_named_by_their_azimuth() -> None:
    files = drawn_files(assessment(), picture_tasks(assessment(), [1], "svg", System.METRIC, azimuths_round(-10)))
    assert [each.rpartition("-")[2] for each in files if "-space-" in each] == [
        f"{azimuth}.svg" for azimuth in ("350", "035", "080", "125", "170", "215", "260", "305")
    ]
    assert len({files[each] for each in files if "-space-" in each}) == 8


def test_the_same_step_gives_the_same_bytes() -> None:
    whole = assessment()
    pictures = {space_picture(whole, (1, AZIMUTH), "svg", System.METRIC) for _ in range(2)}
    assert len(pictures) == 1
