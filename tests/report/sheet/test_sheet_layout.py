"""Every page of every demo's sheet: no words over words or signs, nothing in small type."""

from collections.abc import Callable, Sequence
from itertools import combinations
from pathlib import Path

import pytest
from matplotlib.text import Text

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.report.drawing import text_boxes
from loadplan.report.drawing.label_placement import Ground, Placed, Wanted, place_labels
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import Type
from loadplan.report.drawing.text_width import text_width
from loadplan.report.drawing.view import Box, View
from loadplan.report.pictures.plan_shapes import support_box
from loadplan.report.pictures.title_block import draw_scale
from loadplan.report.sheet import floor_sheet, tape_plan
from loadplan.report.sheet.floor_sheet import PaperSize, first_page, sheet_pdf
from loadplan.report.words.vocabulary import Reader
from loadplan.units import System
from tests.report.painted import painted

LEAST = 9.0
"""Smallest type on paper [pt]: what is read at arm's length; common practice, no source."""

Page = tuple[tuple[float, float], Callable[[Paper], None]]

JOBS = sorted(path.stem for path in shipped_folder("demo").glob("*.toml") if "[[stage" in path.read_text())


def drawn(job: str, monkeypatch: pytest.MonkeyPatch) -> tuple[list[list[Text]], list[str]]:
    """Return the words on each page of a demo's sheet, and which labels cover something."""
    covering: list[str] = []
    pages: list[Page] = []

    def placed(wanted: list[Wanted], ground: Ground) -> list[Placed]:
        found = place_labels(wanted, ground)
        boxes = [*(each.box for each in found)]
        covering.extend(f"{one} over {other}" for one, other in combinations(boxes, 2) if one.overlap(other))
        covering.extend(f"{one} over {sign}" for one in boxes for sign in ground.taken if one.overlap(sign))
        return found

    def kept(given: Sequence[Page], *_title_and_listener: object) -> bytes:
        pages.extend(given)
        return b""

    monkeypatch.setattr(text_boxes, "place_labels", placed)
    monkeypatch.setattr(floor_sheet, "document", kept)
    sheet_pdf(assess(read_job(Path(shipped_folder("demo") / f"{job}.toml"))), PaperSize.A4, System.METRIC)
    return [_words(page) for page in pages], covering


def _words(page: Page) -> list[Text]:
    return [each for each in painted(*page).findobj(Text) if each.get_text()]


def _box(words: Text) -> Box:
    """Return what the letters of a line cover, a little less than their height: descenders may touch the next line."""
    size = words.get_fontsize() * 4 / 3
    wide = text_width(words.get_text(), Type(size, bold=words.get_fontweight() == "bold", colour=""))
    x, y = words.get_position()
    left = x - wide * {"left": 0.0, "center": 0.5, "right": 1.0}[words.get_horizontalalignment()]
    return Box(left, y, left + wide, y + 0.66 * size)


@pytest.mark.slow
@pytest.mark.parametrize("job", JOBS)
def test_no_words_lie_over_words_or_signs_and_none_are_small(job: str, monkeypatch: pytest.MonkeyPatch) -> None:
    pages, covering = drawn(job, monkeypatch)
    assert pages
    assert not covering
    for page in pages:
        boxes = [(each.get_text(), _box(each)) for each in page]
        assert not [(one[0], other[0]) for one, other in combinations(boxes, 2) if one[1].overlap(other[1])]
        assert not [each.get_text() for each in page if each.get_fontsize() < LEAST]


def test_the_scale_bar_of_the_first_page_keeps_off_the_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten px, 2.6 mm: closer it is taken for a part of the stand; common practice, no source."""
    apart: list[float] = []

    def drawn_scale(pen: Pen, view: View, units: System, busy: Sequence[Box]) -> Box:
        room = draw_scale(pen, view, units, busy)
        # What a scale bar covers has 8 px below the bar itself.
        stands = [support_box(view, each) for each in job.supports if view.shows(*each.at[:2])]
        apart.extend(max(room.bottom + 8 - each.top, each.bottom - room.top) for each in stands if _beside(room, each))
        return room

    job = read_job(Path(shipped_folder("demo") / "front-unit.toml"))
    monkeypatch.setattr(tape_plan, "draw_scale", drawn_scale)
    sheet_pdf(assess(job), PaperSize.A4, System.METRIC)
    assert apart
    assert min(apart) >= 10


@pytest.mark.parametrize(("job", "notes"), [("heights-open", 1), ("battery-pack-stands", 0)])
def test_the_note_on_the_axle_line_covers_no_stand(job: str, notes: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """On the lower page of letter paper it lay over the corner of a stand; with room for it the line may be in view."""
    found: list[tuple[Box, Box]] = []
    really = tape_plan._draw_axle_note

    def note(pen: Pen, view: View, reader: Reader) -> list[Box]:
        boxes = really(pen, view, reader)
        found.extend((box, support_box(view, each)) for box in boxes for each in plan.supports)
        return boxes

    plan = read_job(Path(shipped_folder("demo") / f"{job}.toml"))
    monkeypatch.setattr(tape_plan, "_draw_axle_note", note)
    first_page(assess(plan), PaperSize.LETTER, System.METRIC)
    assert len(found) == notes * len(plan.supports)
    assert not [each for each, stand in found if each.overlap(stand)]


def _beside(one: Box, other: Box) -> bool:
    return one.left < other.right and other.left < one.right
