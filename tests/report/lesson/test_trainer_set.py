"""The trainer's set: what is on its pages, in which order, how large, and that it is the same each time."""

import re
import struct
from dataclasses import astuple, replace
from functools import partial
from io import BytesIO
from itertools import permutations
from math import atan2, hypot

import pytest
from matplotlib.colors import to_hex
from matplotlib.patches import Patch
from pypdf import PdfReader
from shapely import LineString, box

from loadplan.model.verdict import Verdict
from loadplan.planning.lesson.scale_trial import bench_trial
from loadplan.report.drawing import text_boxes
from loadplan.report.drawing.animation import film
from loadplan.report.drawing.label_placement import Ground, Placed, Wanted, place_labels
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.save_figure import document, drawing
from loadplan.report.lesson.lean_picture import LeanPicture
from loadplan.report.lesson.lesson_film import parts_slides, stand_slides
from loadplan.report.lesson.lesson_pictures import HEAD, HELD, Arrow, PlanPicture, Spot
from loadplan.report.lesson.questions.corner_load import CornerLoad
from loadplan.report.lesson.questions.forgotten_hose import ForgottenHose
from loadplan.report.lesson.questions.four_point_support import FourPointSupport
from loadplan.report.lesson.questions.load_distribution import LoadDistribution
from loadplan.report.lesson.questions.missing_stand import MissingStand
from loadplan.report.lesson.run_sheet import LESSON, run_sheet, shared_out
from loadplan.report.lesson.slide import INCHES, PAPER, RIM, WALL, Slide, draw_slide, foot, parted
from loadplan.report.lesson.trainer_set import Book, book_of, film_frames, lesson_files
from loadplan.report.words.cautions import cautions
from loadplan.report.words.vocabulary import FIRST_LIFT, shown_verdict
from loadplan.units import System
from tests.report.lessons import lesson, question
from tests.report.painted import painted

FRONT, ROCKING = "front-unit", "rocking-on-two-stands"
ALL = (FRONT, "us-units", "battery-pack-table", ROCKING, "heights-open")


def book(name: str) -> Book:
    units = System.US if lesson(name).assessment.job.us_units else System.METRIC
    return book_of(lesson(name), bench_trial(), units)


@pytest.fixture(scope="module")
def pages() -> list[str]:
    """The pages of the demo's lesson.pdf as text, without blanks: where lines break is not what is asked."""
    told = book(FRONT)
    pdf = document(
        [(WALL, lambda paper, slide=slide: draw_slide(paper, slide, told.basis, told.reader)) for slide in told.slides],
        "x",
    )
    reader = PdfReader(BytesIO(pdf), strict=True)
    assert {tuple(map(float, page.mediabox[2:])) for page in reader.pages} == {(960.0, 540.0)}
    return [squeezed(page.extract_text()) for page in reader.pages]


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    return lesson_files(lesson(ROCKING), bench_trial(), System.METRIC)


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_the_first_page_has_all_cautions_and_every_page_basis_and_a_line(pages: list[str]) -> None:
    told = book(FRONT)
    assert all(squeezed(text) in pages[0] for text in cautions(told.basis, System.METRIC))
    assert squeezed(told.title) in pages[0]
    assert all(squeezed(foot(told.basis)) in page for page in pages)


def test_every_answer_has_its_steps_verdict_with_the_weights_and_what_it_rests_on(pages: list[str]) -> None:
    told = book(FRONT)
    for slide, page in zip(told.slides, pages, strict=True):
        each_word = [shown_verdict(each, told.basis) for each in Verdict]
        shown = [word for word in each_word if squeezed(word) in page]
        assert shown == ([] if slide.verdict is None else [shown_verdict(slide.verdict, told.basis)]), slide.name
        assert not shown or squeezed(f"weights: {told.basis.words}") in page
        assert (squeezed(FIRST_LIFT) in page) == bool(shown)
    judged = [slide.name for slide in told.slides if slide.verdict is not None]
    answers = [slide.name for slide in told.slides if slide.name.endswith("-answer") and "by-hand" not in slide.name]
    assert judged == [*answers, "end"]


def test_every_page_says_all_that_its_slide_says(pages: list[str]) -> None:
    told = book(FRONT)
    for slide, page in zip(told.slides, pages, strict=True):
        texts = (slide.heading, slide.strong, *slide.lines, *(cell for row in slide.rows for cell in row))
        assert [text for text in texts if squeezed(told.reader.words(text)) not in page] == []


def test_each_question_comes_before_its_answer_and_does_not_give_it_away(pages: list[str]) -> None:
    slides = book(FRONT).slides
    asked = [number for number, slide in enumerate(slides) if slide.name.endswith("-question")]
    assert len(asked) == 10
    for number in asked:
        assert slides[number + 1].name == slides[number].name.replace("-question", "-answer")
        assert squeezed(slides[number + 1].strong) not in pages[number]


def test_the_answers_are_the_numbers_of_the_job(pages: list[str]) -> None:
    reader = book(FRONT).reader
    carry = question(FRONT, LoadDistribution)
    assert all(squeezed(f"{name} {reader.load(load)}") in pages[2].replace(":", "") for name, load in carry.loads)
    idle = question(FRONT, CornerLoad)
    assert idle.answer.worst_margin is not None
    assert squeezed(reader.length(idle.answer.worst_margin)) in pages[8]
    assert squeezed(f"{idle.idle.name} carries nothing") in pages[8]
    for support, load in question(FRONT, FourPointSupport).loads:
        assert load.range is not None
        assert load.range.most is not None
        bar = f"{reader.load(load.expected)} · {reader.load(load.range.high)} · {reader.load(load.range.most)}"
        assert squeezed(bar) in pages[10], support.name
    assert squeezed(reader.load(question(FRONT, ForgottenHose).pull)) in pages[18]


def test_a_stand_that_goes_is_told_with_the_others(pages: list[str]) -> None:
    taken = question(FRONT, MissingStand)
    needed = [each.stand.name for each in taken.away if not each.stands and each is not taken.subject]
    assert needed == ["B"]
    assert squeezed("Over it goes without B, too.") in pages[4]
    assert squeezed("Never without A or B.") in pages[-1]


@pytest.mark.slow
@pytest.mark.parametrize("name", ALL)
def test_letters_have_28_points_lines_2_and_nothing_sticks_out(name: str) -> None:
    told = book(name)
    for slide in told.slides:
        with drawing():
            ax = painted(WALL, partial(draw_slide, slide=slide, basis=told.basis, reader=told.reader))
            texts = [each for each in ax.get_children() if hasattr(each, "get_text") and each.get_text()]
            boxes = [each.get_window_extent().transformed(ax.transData.inverted()) for each in texts]
        assert min(each.get_fontsize() for each in texts) >= 27.999
        assert min(box.y0 for box in boxes) >= PAPER.bottom
        assert max(box.x1 for box in boxes) <= PAPER.right, slide.name
        assert not [each.get_text() for each in texts if "…" in each.get_text()]
        rows = [box for each, box in zip(texts, boxes, strict=True) if each.get_text() != foot(told.basis)]
        assert min(box.y0 for box in rows) >= 22, f"{slide.name}: words run into the last line"
        widths = [each.get_linewidth() for each in ax.lines]
        widths += [each.get_linewidth() for each in ax.patches if _has_rim(each)]
        assert min(widths, default=2.0) >= 1.999


def _has_rim(patch: Patch) -> bool:
    return patch.get_linewidth() > 0 and patch.get_edgecolor()[3] > 0


def test_the_set_is_complete_and_the_same_each_time(files: dict[str, bytes]) -> None:
    assert lesson_files(lesson(ROCKING), bench_trial(), System.METRIC) == files
    assert {"lesson.pdf", "run-sheet.txt"} <= set(files)
    pictures = sorted(name for name in files if name.startswith("page-"))
    assert len(pictures) == 2 * len(book(ROCKING).slides)
    assert PdfReader(BytesIO(files["lesson.pdf"])).metadata.title.startswith("Lesson: Clutch: front unit out")
    assert "stands-away.gif" not in files


def test_what_is_left_out_is_on_the_last_page_and_the_run_sheet() -> None:
    told = book(ROCKING)
    sheet = run_sheet(told.title, told.items, told.left_out, told.basis, told.reader)
    for topic in ("who carries most", "a part comes off", "a pull on a bar"):
        assert any(topic in line for line in told.slides[-1].lines)
        assert squeezed(topic) in squeezed(sheet)


@pytest.mark.parametrize("name", ALL)
def test_the_run_sheet_fills_45_minutes_and_its_lines_fit(name: str) -> None:
    told = book(name)
    sheet = run_sheet(told.title, told.items, told.left_out, told.basis, told.reader)
    assert sum(item.minutes for item in told.items) == LESSON == 45
    assert max(map(len, sheet.splitlines())) <= 92
    assert f"to {LESSON} min" in sheet
    shown = [int(number) for item in told.items for number in re.findall(r"\d+", item.show)]
    assert (shown[0], shown[-1]) == (1, len(told.slides))
    assert len({slide.name for slide in told.slides}) == len(told.slides)


def test_minutes_are_shared_out_whole() -> None:
    assert shared_out(28, 9) == (4, 3, 3, 3, 3, 3, 3, 3, 3)
    assert sum(shared_out(28, 5)) == 28


def test_what_still_stands_is_no_leave_to_take_a_stand_away(pages: list[str]) -> None:
    assert "noleavetotakeitaway" in "".join(squeezed(text) for each in book(FRONT).film for text in each.answer)
    assert "itstandsonpaper:noleavetotakeitaway." in pages[4]


def test_the_animation_asks_before_it_answers_and_moves_in_frames_of_one_size() -> None:
    """Four stands: a guess of 3 seconds, five pictures of a unit on its way where it goes over, the answer for 4.

    GIF89a (Graphics Interchange Format, version 89a): logical screen, delays in 1/100 s, size of each image.
    """
    frames = film_frames(book("heights-open"))
    told = film(INCHES, 24, frames)
    assert film(INCHES, 24, frames) == told
    assert struct.unpack("<HH", told[6:10]) == (320, 180)
    delays = re.findall(rb"\x21\xf9\x04.(..).\x00", told, re.DOTALL)
    stood = [struct.unpack("<H", each)[0] for each in delays]
    asked = "".join({300: "a", 50: "m", 400: "l"}[each] for each in stood)
    assert re.fullmatch("(a(m{5})?l){4}", asked)
    assert "m" in asked
    sizes = re.findall(rb"\x21\xf9\x04....\x00\x2c....(....)", told, re.DOTALL)
    assert {struct.unpack("<HH", each) for each in sizes} == {(320, 180)}
    assert len(sizes) == len(delays)


def test_parts_come_off_one_by_one_and_the_centre_of_gravity_walks() -> None:
    """The last place is that of the step in which all of them are off, up to what a tenth of a millimetre leaves."""
    told = book(FRONT)
    assert told.shift is not None
    slides = [slide for _, slide in parts_slides(told.shift, told.reader)]
    assert len(slides) == len(told.shift.parts) + 1
    spots = [mark for slide in slides for mark in slide.picture.marks if isinstance(mark, Spot)]
    assert spots[0].at == told.shift.was.cg[:2]
    assert spots[-1].at == pytest.approx(told.shift.now.cg[:2], abs=1e-4)


def test_letters_of_stands_keep_their_place_while_a_unit_leans_and_lie_beside_it() -> None:
    told = book("us-units")
    leaning = [slide for _, slide in stand_slides(told.film[0]) if isinstance(slide.picture, LeanPicture)]
    seen = []
    for slide in leaning:
        with drawing():
            ax = painted(WALL, partial(draw_slide, slide=slide, basis=told.basis, reader=told.reader))
        seen.append({each.get_text(): each.get_position() for each in ax.texts if each.get_text() in "BCD"})
    assert len(seen) == 5
    for letter, place in seen[0].items():
        assert [each[letter] for each in seen] == [pytest.approx(place, abs=10.0)] * 5, letter
    assert set(seen[0]) == {"B", "C", "D"}


@pytest.mark.parametrize("name", [FRONT, "us-units", "battery-pack-stands"])
def test_no_line_to_what_words_name_touches_other_words(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nor do words cover each other, on any page."""
    pages: list[list[Placed]] = []

    def placed(wanted: list[Wanted], ground: Ground) -> list[Placed]:
        pages.append(place_labels(wanted, ground))
        return pages[-1]

    monkeypatch.setattr(text_boxes, "place_labels", placed)
    told = book(name)
    for slide in told.slides:
        draw_slide(Paper(WALL), slide, told.basis, told.reader)
    assert sum(map(len, pages)) > 20
    for page in pages:
        for one, other in permutations(page, 2):
            assert not one.box.overlap(other.box)
            assert one.leader is None or not LineString(one.leader).intersects(box(*astuple(other.box)))


@pytest.mark.parametrize("name", ALL)
def test_what_to_take_along_stands_on_one_page(name: str) -> None:
    """Why a question is left out is the trainer's matter: the run sheet has it."""
    told = book(name)
    assert [slide.name for slide in told.slides if slide.heading == "To take along"] == ["end"]
    assert told.slides[-1].name == "end"
    sheet = squeezed(run_sheet(told.title, told.items, told.left_out, told.basis, told.reader))
    assert all(squeezed(each.why) in sheet for each in lesson(name).left_out)


def test_a_picture_without_words_takes_the_whole_width() -> None:
    """While a unit leans nothing is said: the drawing reaches into the right half of the page."""
    told = book("us-units")
    leaning = next(slide for _, slide in stand_slides(told.film[0]) if isinstance(slide.picture, LeanPicture))
    with drawing():
        ax = painted(WALL, partial(draw_slide, slide=leaning, basis=told.basis, reader=told.reader))
    frames = [each.get_path().get_extents(each.get_patch_transform()) for each in ax.patches]
    assert max(each.x1 for each in frames if each.width < PAPER.width) == pytest.approx(PAPER.right - RIM)


@pytest.mark.parametrize("name", [FRONT, "us-units", "battery-pack-stands"])
def test_the_word_for_the_front_cuts_no_edge_in_two(name: str) -> None:
    """Bold edges are the widest lines of a plan: two pieces of one would be read as two edges."""
    told = book(name)
    for slide in told.slides:
        if not isinstance(slide.picture, PlanPicture):
            continue
        with drawing():
            ax = painted(WALL, partial(draw_slide, slide=slide, basis=told.basis, reader=told.reader))
        (word,) = (each for each in ax.texts if each.get_text() == "front")
        left, low = word.get_position()
        room = box(left - 17, low, left + 30, low + 10)
        edges = [LineString(each.get_xydata()) for each in ax.lines if each.get_linewidth() > 8]
        assert not any(each.intersects(room) for each in edges), slide.name


def test_a_short_walk_is_an_arrow_with_a_shaft_whose_tip_is_where_it_ends() -> None:
    """The centre of gravity of the demo in US units walks 3/8 in: shorter on the page than the head of an arrow."""
    told = book("us-units")
    (slide,) = (each for each in told.slides if each.name == "parts-come-off-answer")
    assert isinstance(slide.picture, PlanPicture)
    (mark,) = (each for each in slide.picture.marks if isinstance(each, Arrow))
    with drawing():
        ax = painted(WALL, partial(draw_slide, slide=slide, basis=told.basis, reader=told.reader))
    shafts = [each.get_xydata() for each in ax.lines if to_hex(each.get_color()) == HELD.lower()]
    ((start, neck),) = shafts
    assert hypot(*(neck - start)) >= HEAD
    # Forward is up on the page, and left is left.
    ahead, left = mark.end[0] - mark.start[0], mark.end[1] - mark.start[1]
    assert atan2(*(neck - start)[::-1]) == pytest.approx(atan2(ahead, -left), abs=1e-6)


def test_paragraphs_that_would_run_into_the_verdict_go_onto_another_page() -> None:
    reader = book(FRONT).reader
    page = Slide("end", "To take along", "", Verdict.HOLDS, tuple(f"Number {each}." for each in range(20)), (), None)
    parts = parted(page, reader)
    assert [each.name for each in parts] == ["end", "end-2", "end-3"]
    assert tuple(line for each in parts for line in each.lines) == page.lines
    assert [each.verdict for each in parts] == [Verdict.HOLDS, None, None]
    assert parted(replace(page, lines=page.lines[:3]), reader) == (replace(page, lines=page.lines[:3]),)
