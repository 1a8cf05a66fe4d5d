"""What a phone's drawings say, and where: little, no words out of their frame, and no scale bar beside an outline."""

from collections.abc import Sequence
from itertools import combinations, pairwise
from math import radians
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.board.verdict_cells import distances
from loadplan.files import read_job, shipped_folder
from loadplan.model.verdict import Assessment
from loadplan.report.drawing.label_placement import Ground, Placed, Wanted, place_labels
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.view import Box, View
from loadplan.report.pictures import live_plan
from loadplan.report.pictures.elevation_shapes import ViewSide
from loadplan.report.pictures.live_plan import LivePage, draw_live, live_of
from loadplan.report.pictures.live_side_view import SideView, Turned
from loadplan.report.pictures.plan_shapes import beads, support_box
from loadplan.report.pictures.render import live_picture, side_view_picture
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System

PHONE = 390.0, 320.0
ROOM = 304.0, 214.0
"""What a phone of 390 px has left for the plan while the sheet is half up."""

LOOKS = (*ViewSide, Turned(radians(30)))


@pytest.fixture(scope="module")
def told() -> Assessment:
    return assess(read_job(shipped_folder("demo") / "front-unit.toml"))


def side(told: Assessment, looked: ViewSide | Turned, size: tuple[float, float]) -> str:
    view = SideView(told, told.stages[2], looked, around=False)
    return side_view_picture(view, size, reader_of(told.job, System.METRIC)).decode()


def test_a_phones_side_views_name_stands_and_tell_the_tilt_and_no_heights(told: Assessment) -> None:
    for looked in ViewSide:
        phone, desk = side(told, looked, PHONE), side(told, looked, (760.0, 560.0))
        assert "before it goes" in phone
        assert "A, " in phone or ", A" in phone
        assert "330 mm" in desk
        assert "330 mm" not in phone
        assert "CG " not in phone


@pytest.mark.parametrize("looked", LOOKS)
def test_no_word_of_a_phones_view_leaves_it(
    told: Assessment, looked: ViewSide | Turned, monkeypatch: pytest.MonkeyPatch
) -> None:
    placed: list[tuple[Placed, Box]] = []

    def hear(wanted: list[Wanted], ground: Ground) -> list[Placed]:
        found = place_labels(wanted, ground)
        placed.extend((each, ground.frame) for each in found)
        return found

    monkeypatch.setattr("loadplan.report.drawing.text_boxes.place_labels", hear)
    side(told, looked, PHONE)
    assert placed
    assert all(
        frame.grown(0.01).overlap(each.box) == pytest.approx(each.box.width * each.box.height, rel=1e-6)
        for each, frame in placed
    )


def test_the_scale_bar_of_a_live_plan_keeps_off_the_outlines(monkeypatch: pytest.MonkeyPatch) -> None:
    """The van's outline runs through every corner of the drawing."""
    told = assess(read_job(shipped_folder("demo") / "battery-pack-stands.toml"))
    rooms: list[Box] = []
    really = live_plan.draw_scale

    def hear(pen: Pen, view: View, units: System, busy: Sequence[Box] = ()) -> Box:
        rooms.append(really(pen, view, units, busy))
        return rooms[-1]

    monkeypatch.setattr(live_plan, "draw_scale", hear)
    for size in (PHONE, (390.0, 420.0), (760.0, 560.0)):
        live = live_of(told, told.stages[2], LivePage(size, everything=False), System.METRIC)
        draw_live(Paper(size), live)
        bodies = [each for each in (*live.scene.bodies, *live.scene.around) if each.outline]
        rims = [live.view.page_all((*each.outline, each.outline[0])) for each in bodies]
        edges = [box for rim in rims for start, end in pairwise(rim) for box in beads(start, end)]
        assert not any(rooms[-1].overlap(box) for box in edges)


def test_a_phones_plan_tells_in_short_how_far_the_nearest_is(told: Assessment) -> None:
    """The band above it says the rest; the same words switch to as given, as short."""
    phone = live_of(told, told.stages[2], LivePage(ROOM, everything=False), System.METRIC)
    drawn = live_picture(phone).decode()
    assert "284 mm at worst" in drawn
    assert "837 mm" not in drawn
    assert {"worst": "284 mm at worst", "given": "306 mm as given"} in distances(phone)
    desk = live_of(told, told.stages[2], LivePage((760.0, 560.0), everything=False), System.METRIC)
    assert {"worst": "284 mm to tipping, worst case", "given": "306 mm to tipping, as given"} in distances(desk)
    assert "837 mm to tipping, worst case" in live_picture(desk).decode()


@pytest.mark.parametrize("name", ["front-unit", "shell-nose-off-prop", "us-units"])
def test_no_words_of_a_phones_plan_lie_on_a_stand(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    job = assess(read_job(shipped_folder("demo") / f"{name}.toml"))
    words: list[Box] = []

    def hear(wanted: list[Wanted], ground: Ground) -> list[Placed]:
        found = place_labels(wanted, ground)
        words[:] = [each.box for each in found]
        return found

    monkeypatch.setattr(live_plan, "place_labels", hear)
    for stage in job.stages:
        live = live_of(job, stage, LivePage(ROOM, everything=False), System.METRIC)
        live_picture(live)
        stands = [support_box(live.view, support) for support, _ in live.scene.supports]
        assert not [stage.state.stage.name for each in words for stand in stands if each.overlap(stand) > 1]


LONGEST = 40
"""Letters of the longest names that shops were seen to write."""


@pytest.mark.parametrize("room", [ROOM, (730.0, 364.0), (923.0, 617.0)])
def test_long_names_leave_a_live_plan_its_stands_and_their_loads(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, room: tuple[float, float]
) -> None:
    """In one row such a name covers the stands beside it, and on a phone its load is out of the frame."""
    for name in ("front-unit.toml", "shop.toml"):
        (tmp_path / name).write_bytes((shipped_folder("demo") / name).read_bytes())
    path = tmp_path / "front-unit.toml"
    text = path.read_text("utf-8")
    for letter in "ABCDEF":
        text = text.replace(f'"{letter}"', f'"{f"{letter} under the front of the cradle, right hand side"[:LONGEST]}"')
    path.write_text(text, "utf-8")
    job = assess(read_job(path))
    words: list[tuple[Wanted, Placed]] = []

    def hear(wanted: list[Wanted], ground: Ground) -> list[Placed]:
        found = place_labels(wanted, ground)
        words[:] = zip(wanted, found, strict=True)
        return found

    monkeypatch.setattr(live_plan, "place_labels", hear)
    live = live_of(job, job.stages[2], LivePage(room, everything=False), System.METRIC)
    drawn = live_picture(live).decode()
    stands = len(live.scene.supports)
    tags = [spot.box for _, spot in words[:stands]]
    assert all(live.view.frame.grown(1).overlap(each) == pytest.approx(each.width * each.height) for each in tags)
    assert all(each.width <= 145 for each in tags)
    assert all(f">{letter} under" in drawn for letter in "ABCDEF")
    assert not [1 for one, other in combinations(tags, 2) if one.overlap(other) > 1]


def test_a_base_no_wider_than_its_saddle_is_not_drawn_round_it(told: Assessment) -> None:
    """On a phone the tail stand of a whole van would be a blot; nearer, it has its base."""
    number = next(n for n, each in enumerate(told.job.supports) if each.name == "tail stand")
    for size, shapes in ((ROOM, 1), ((2400.0, 2400.0), 2)):
        live = live_of(told, told.stages[1], LivePage(size, everything=True), System.METRIC)
        drawn = live_picture(live).decode()
        group = drawn[drawn.index(f'id="stand-{number}"') :]
        assert group[: group.index("\n   </g>")].count("<path") == shapes
