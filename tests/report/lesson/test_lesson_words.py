"""Where the words of a lesson lie: at what they name, and over no ring, cross or outline."""

from dataclasses import astuple
from functools import partial

import pytest
from matplotlib.axes import Axes
from matplotlib.colors import to_hex
from matplotlib.patches import Circle
from shapely import LineString, Point, box

from loadplan.report.drawing import text_boxes
from loadplan.report.drawing.label_placement import Ground, Placed, Wanted, place_labels
from loadplan.report.drawing.save_figure import drawing
from loadplan.report.drawing.style import LEADER
from loadplan.report.lesson.lesson_pictures import HELD, RIM_BEAD, PlanPicture
from loadplan.report.lesson.slide import WALL, Slide, draw_slide
from loadplan.report.lesson.trainer_set import Book
from tests.report.lesson.test_trainer_set import FRONT, book
from tests.report.painted import painted

NARROW = "shell-nose-off-prop"
"""Four stands close behind each other."""


def drawn_page(slide: Slide, told: Book) -> Axes:
    with drawing():
        return painted(WALL, partial(draw_slide, slide=slide, basis=told.basis, reader=told.reader))


@pytest.mark.parametrize("name", [NARROW, "us-units", "weighed-unit"])
def test_words_of_a_stand_lie_level_with_it_or_straight_over_it(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Far off a corner they are taken for the next stand's; or a line leads to their own."""
    seen: list[tuple[Wanted, Placed]] = []

    def placed(wanted: list[Wanted], ground: Ground) -> list[Placed]:
        found = place_labels(wanted, ground)
        seen.extend((one, other) for one, other in zip(wanted, found, strict=True) if one.rivals)
        return found

    monkeypatch.setattr(text_boxes, "place_labels", placed)
    told = book(name)
    for slide in told.slides:
        if isinstance(slide.picture, PlanPicture):
            drawn_page(slide, told)
    assert len(seen) > 20
    for label, spot in seen:
        # In px of the page, on which a letter is 14 high.
        beside = abs(spot.box.middle[1] - label.anchor.middle[1]) <= 26
        over = spot.box.left < label.anchor.right and spot.box.right > label.anchor.left
        assert beside or over or spot.leader


@pytest.mark.parametrize("name", [NARROW, "battery-pack-table"])
def test_letter_and_load_of_a_stand_cut_no_outline_of_the_unit(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The places of a table lie within the pack: words on their white ground across its edge would open it."""
    told = book(name)
    slide = next(each for each in told.slides if each.name == "who-carries-most-answer")
    cut: list[bool] = []

    def placed(wanted: list[Wanted], ground: Ground) -> list[Placed]:
        found = place_labels(wanted, ground)
        rims = [each for each in ground.lines if each.width == pytest.approx(2 * RIM_BEAD)]
        assert len(rims) > 40
        stands = [spot.box for label, spot in zip(wanted, found, strict=True) if label.rivals]
        cut.extend(any(words.overlap(rim) > 0 for rim in rims) for words in stands)
        return found

    monkeypatch.setattr(text_boxes, "place_labels", placed)
    drawn_page(slide, told)
    assert cut == [False] * 4


def test_the_letter_of_a_stand_lies_nearer_to_it_than_to_the_cross_where_one_was(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told = book(NARROW)
    slide = next(each for each in told.slides if each.name == "stand-a-is-taken-away-answer")
    anchors: list[tuple[Wanted, Placed]] = []

    def placed(wanted: list[Wanted], ground: Ground) -> list[Placed]:
        found = place_labels(wanted, ground)
        anchors.extend(zip(wanted, found, strict=True))
        return found

    monkeypatch.setattr(text_boxes, "place_labels", placed)
    ax = drawn_page(slide, told)
    strokes = [each.get_xydata() for each in ax.lines if to_hex(each.get_color()) == HELD.lower()]
    cross = LineString(strokes[0]).union(LineString(strokes[1]))
    assert len(anchors) == 3
    for label, spot in anchors:
        words = box(*astuple(spot.box))
        assert words.distance(box(*astuple(label.anchor))) < words.distance(cross)


@pytest.mark.parametrize("name", [FRONT, "heights-open", "drive-unit-on-oil"])
def test_nothing_is_written_over_a_ring_and_no_line_to_words_runs_over_one(name: str) -> None:
    told = book(name)
    ringed = 0
    for slide in told.slides:
        if not isinstance(slide.picture, PlanPicture):
            continue
        ax = drawn_page(slide, told)
        rings = [
            Point(each.center).buffer(each.radius)
            for each in ax.patches
            if isinstance(each, Circle) and to_hex(each.get_edgecolor()) == HELD.lower()
        ]
        ringed += len(rings)
        (word,) = (each for each in ax.texts if each.get_text() == "front")
        left, low = word.get_position()
        ground = box(left - 19, low - 4, left + 36, low + 14)
        assert not any(ring.intersects(ground) for ring in rings), slide.name
        lines = [
            LineString(each.get_xydata()) for each in ax.lines if to_hex(each.get_color()) == LEADER.colour.lower()
        ]
        for line in lines:
            ends = [Point(each) for each in line.coords]
            assert not any(ring.intersects(line) for ring in rings if not any(map(ring.contains, ends))), slide.name
    assert ringed > 4
