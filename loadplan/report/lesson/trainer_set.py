"""The trainer's set of one job: pages as pictures and as a PDF, an animation, and a run sheet."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from loadplan.model.vehicle import Basis
from loadplan.planning.lesson.scale_trial import ScaleTrial
from loadplan.report.drawing.animation import Reel, joined
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.save_figure import document_and_pictures
from loadplan.report.drawing.side_by_side import ALONE, Helpers, untold
from loadplan.report.lesson.lesson_film import parts_slides, stand_slides
from loadplan.report.lesson.lesson_pages import Pair, pair_of
from loadplan.report.lesson.lesson_plan import Lesson
from loadplan.report.lesson.lesson_question import QuestionTold
from loadplan.report.lesson.questions.cg_shift import CgShift
from loadplan.report.lesson.run_sheet import BY_HAND, CLOSING, LESSON, OPENING, Item, item_of, run_sheet, shared_out
from loadplan.report.lesson.scale_trial_pages import HEADING, bench_pages
from loadplan.report.lesson.slide import INCHES, WALL, Slide, draw_slide, parted
from loadplan.report.words.cautions import cautions
from loadplan.report.words.tipping_direction import past_or_short
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.units import System

DOTS = 72
"""Dots an inch of the animation: 960 by 540."""


@dataclass(frozen=True, slots=True)
class Book:
    """All pages of a lesson, and its run sheet.

    Attributes:
        title: Title of the job.
        slides: The pages in order.
        items: The lines of the run sheet.
        shift: The parts that come off in the animation, None where none do.
        film: What the animation asks and answers; empty for none.
        left_out: What this job cannot ask, and why.
        basis: How good the weights are.
        reader: Who reads it.
    """

    title: str
    slides: tuple[Slide, ...]
    items: tuple[Item, ...]
    shift: CgShift | None
    film: tuple[QuestionTold, ...]
    left_out: tuple[str, ...]
    basis: Basis
    reader: Reader


def lesson_files(
    lesson: Lesson,
    bench: ScaleTrial,
    units: System,
    told: Callable[[int, int], None] = untold,
    helpers: Helpers = ALONE,
) -> dict[str, bytes]:
    """Draw and write a lesson.

    Args:
        lesson: The questions.
        bench: The bench trial.
        units: The reader's units.
        told: Hears after each page how many are drawn, of how many.
        helpers: Processes that share the work.

    Returns:
        Each file by its name: `lesson.pdf`, `run-sheet.txt`, each page as PNG and SVG, and `stands-away.gif` where
        there is something from which a stand can be taken away. Equal for equal input.
    """
    book = book_of(lesson, bench, units)
    pages = [_drawn(slide, book) for slide in book.slides]
    sheet = run_sheet(book.title, book.items, book.left_out, book.basis, book.reader)
    title = book.reader.words(f"Lesson: {book.title}")
    # The pages are one document, which one process draws; the animation's frames are drawn beside it.
    frames = helpers.begin(Reel(INCHES, DOTS).still, list(enumerate(film_frames(book)))) if book.film else None
    pdf, pictures = document_and_pictures([(WALL, page) for page in pages], title, ("png", "svg"), told)
    files = {"lesson.pdf": pdf, "run-sheet.txt": sheet.encode("utf-8")}
    for number, (slide, drawn) in enumerate(zip(book.slides, pictures, strict=True), start=1):
        for file_format, content in drawn.items():
            files[f"page-{number:02d}-{slide.name}.{file_format}"] = content
    if frames:
        files["stands-away.gif"] = joined(frames.finish())
    return files


def book_of(lesson: Lesson, bench: ScaleTrial, units: System) -> Book:
    """Put a lesson on pages, each question before its answer.

    Args:
        lesson: The questions.
        bench: The bench trial.
        units: The reader's units.

    Returns:
        Pages and run sheet; no two pages have the same name.
    """
    job, basis = lesson.assessment.job, lesson.assessment.basis
    reader = reader_of(job, units)
    told = [answer.told(reader) for answer in lesson.answers]
    pairs = [pair_of(each) for each in told]
    left_out = _left_out(lesson)
    listed = tuple(f"{number} {text}" for number, text in enumerate(cautions(basis, units), start=1))
    cover = Slide("cautions", job.title, "", None, listed, (), None)
    hand = bench_pages(bench, reader)
    end = _end(lesson, told, reader)
    ends = parted(end, reader)
    return Book(
        title=job.title,
        slides=(cover, *(slide for pair in pairs for slide in (pair.ask, pair.answer)), *hand, *ends),
        items=_items(pairs, hand, end, len(ends)),
        shift=next((each for each in lesson.answers if isinstance(each, CgShift)), None),
        film=tuple(case for each in told for case in each.film),
        left_out=left_out,
        basis=basis,
        reader=reader,
    )


def _left_out(lesson: Lesson) -> tuple[str, ...]:
    """Return what this job cannot ask, a sentence each reason."""
    whys: dict[str, list[str]] = {}
    for each in lesson.left_out:
        whys.setdefault(each.why, []).append(each.topic.rstrip("?").lower())
    return tuple(f"{'; '.join(topics)} ({why})." for why, topics in whys.items())


def _topics_left_out(lesson: Lesson) -> list[str]:
    """Return what this job cannot ask in one line: why is the trainer's matter, and stands on the run sheet."""
    topics = "; ".join(each.topic.rstrip("?").lower() for each in lesson.left_out)
    return [f"Left out here (why: run sheet): {topics}."] if topics else []


def _end(lesson: Lesson, told: list[QuestionTold], reader: Reader) -> Slide:
    """Return the last page: what to take along, and what this job cannot ask."""
    lines = (
        *_nearest(lesson, reader),
        *(line for each in told for line in each.take_along),
        f"Raise {'50 mm' if reader.units is System.METRIC else '2 in'}, stop, walk round, look.",
        *_topics_left_out(lesson),
    )
    return Slide("end", "To take along", "", lesson.assessment.verdict, lines, (), None)


def _nearest(lesson: Lesson, reader: Reader) -> list[str]:
    """Return where the job comes nearest to tipping."""
    found = lesson.assessment.narrowest
    if found is None:
        return []
    where = f"In step {found.stage + 1} the {found.body} is nearest to tipping"
    return [f"{where}: {past_or_short(found.worst_margin, reader)} at worst."]


def _items(pairs: list[Pair], hand: tuple[Slide, ...], end: Slide, pages: int) -> tuple[Item, ...]:
    """Return the lines of the run sheet: the questions share the minutes that the rest leaves."""
    first = Item(
        "Cautions", OPENING, "page 1", ("Who has seen a unit move that should not?",), ("All eight, read out.",)
    )
    shares = shared_out(LESSON - OPENING - BY_HAND - CLOSING, max(len(pairs), 1))
    asked = [
        item_of(pair.ask.heading, minutes, (2 * number + 2, 2 * number + 3), (pair.ask, pair.answer))
        for number, (pair, minutes) in enumerate(zip(pairs, shares, strict=False))
    ]
    after = 2 * len(pairs) + 2
    trial = item_of(HEADING, BY_HAND + (0 if pairs else sum(shares)), (after, after + len(hand) - 1), hand)
    end_page = after + len(hand)
    show = f"page {end_page}" if pages == 1 else f"pages {end_page} to {end_page + pages - 1}"
    last = Item("To take along", CLOSING, show, ("What does each take along?",), end.lines)
    return first, *asked, trial, last


def _drawn(slide: Slide, book: Book) -> Callable[[Paper], None]:
    return partial(draw_slide, slide=slide, basis=book.basis, reader=book.reader)


def film_frames(book: Book) -> list[tuple[float, Callable[[Paper], None]]]:
    """List what the animation shows: parts come off and the centre of gravity walks, then each stand goes in turn.

    Args:
        book: What is asked, who reads it, and how good the weights are.

    Returns:
        Seconds and what draws it, for each frame.
    """
    slides = list(parts_slides(book.shift, book.reader)) if book.shift else []
    slides += [each for told in book.film for each in stand_slides(told)]
    return [(seconds, _drawn(slide, book)) for seconds, slide in slides]
