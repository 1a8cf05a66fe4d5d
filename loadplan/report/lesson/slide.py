"""A page of a lesson, 16:9 on a white wall: heading, a picture or none, few words of 28 points and more, one last line.

It is laid out on a page of 480 by 270 px that is drawn 8/3 times as large, so that all that other drawings show at
16 px is read from the back row here, and no line is thinner than 2 points.
"""

from dataclasses import dataclass, replace

from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.report.drawing.paper import PX, Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import EDGE, SHEET, SOFT, Stroke, Type
from loadplan.report.drawing.text_width import LINE, broken, text_width
from loadplan.report.drawing.view import Box
from loadplan.report.lesson.lesson_pictures import Picture, draw_picture
from loadplan.report.lesson.load_bars import BODY, BOLD, STEP
from loadplan.report.lesson.verdict_band import draw_verdict, verdict_high
from loadplan.report.pictures.verdict_colours import livery
from loadplan.report.words.vocabulary import Reader, first_lift

WALL = (1280, 720)
"""Width and height of a page [px of 1/96 in]."""

PAPER = Box(0.0, 0.0, 480.0, 270.0)
"""The page as it is laid out [px]."""

ZOOM = WALL[0] / PAPER.width
"""How much larger it is drawn."""

RIM, GAP = 9, 10
"""Free rim, and gap between picture and words [px]."""

HEADING = Type(18, bold=True, colour=BODY.colour)
HEADING_HIGH, FOOT_HIGH = 31, 25
"""Room for heading and last line [px]."""

VERDICT_HIGH = 2 * STEP + 4
"""Room for the verdict on a page without a picture, and for the line below it [px]."""

PICTURES = (270, 235, 200, 165)
"""Widths of a picture [px]: the first beside which the words do not run over the foot."""


@dataclass(frozen=True, slots=True)
class Slide:
    """One page.

    Attributes:
        name: What its file is called.
        heading: One line.
        strong: The answer in a few words, "" for none.
        verdict: Verdict of the step that the answer shows, None on a page without an answer from the plan.
        lines: What else is said, a paragraph each.
        rows: A table, cell by cell; empty for none.
        picture: Beside the words, None for none: then the words take the whole width.
    """

    name: str
    heading: str
    strong: str
    verdict: Verdict | None
    lines: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    picture: Picture | None


def draw_slide(paper: Paper, slide: Slide, basis: Basis, reader: Reader) -> None:
    """Draw a page so that it fills the paper.

    Args:
        paper: A page of 16:9, 1280 px wide.
        slide: The page.
        basis: How good the weights are.
        reader: Who reads it.
    """
    paper.spread(PAPER)
    pen = Pen(paper, Layer.PAGE, None, ZOOM)
    replace(pen, layer=Layer.GROUND).box(PAPER, SHEET, None)
    box = Box(RIM, FOOT_HIGH, PAPER.right - RIM, _heading(pen, reader.words(slide.heading)))
    pen.words((RIM, 11), foot(basis), replace(BODY, colour=SOFT))
    pen.line([(RIM, FOOT_HIGH - 3), (PAPER.right - RIM, FOOT_HIGH - 3)], Stroke(EDGE, 1.0))
    seen, column = box, _column(box, slide, reader)
    if slide.verdict is not None:
        seen, column = _judged(pen, box, _Judged(slide, slide.verdict, basis), reader)
    if slide.picture:
        right = column.left - GAP if _says(slide) else seen.right
        draw_picture(pen, replace(seen, right=right, bottom=seen.bottom + 3), slide.picture, reader)
    _words(pen, column, slide, reader)


def parted(slide: Slide, reader: Reader) -> tuple[Slide, ...]:
    """Put the paragraphs of a page without picture or table on as many pages as they take.

    Args:
        slide: The page.
        reader: Who reads it.

    Returns:
        The page, or several of the same heading; the verdict stands on the first.
    """
    width = PAPER.width - 2 * RIM
    room = int((PAPER.top - HEADING_HIGH - FOOT_HIGH - VERDICT_HIGH) / STEP)
    pages: list[list[str]] = [[]]
    left = room
    for text in slide.lines:
        takes = len(_broken(text, BODY, width, reader))
        if takes > left and pages[-1]:
            pages.append([])
            left = room
        pages[-1].append(text)
        left -= takes
    first = replace(slide, lines=tuple(pages[0]))
    more = (
        replace(slide, name=f"{slide.name}-{number}", verdict=None, lines=tuple(lines))
        for number, lines in enumerate(pages[1:], start=2)
    )
    return first, *more


def _says(slide: Slide) -> bool:
    """Return whether a page has words beside its picture, which else takes the whole width."""
    return bool(slide.strong or slide.lines or slide.rows)


def _column(box: Box, slide: Slide, reader: Reader) -> Box:
    """Return the room for the words: beside the picture, which gives way until they fit, or all of it."""
    if not slide.picture:
        return box
    columns = [replace(box, left=RIM + wide + GAP) for wide in PICTURES]
    fits = (each for each in columns if STEP * _rows(slide, each.width, reader) <= each.height)
    return next(fits, columns[-1])


@dataclass(frozen=True, slots=True)
class _Judged:
    """A page with the verdict that it shows, and how good the weights are."""

    slide: Slide
    verdict: Verdict
    basis: Basis


def _judged(pen: Pen, box: Box, told: _Judged, reader: Reader) -> tuple[Box, Box]:
    """Return what the verdict leaves for picture and words: below the words, or below all where they need the room."""
    slide, verdict, basis = told.slide, told.verdict, told.basis
    under = broken(first_lift(reader.units), BODY, box.width, most=2)
    over = replace(box, bottom=box.bottom + STEP * len(under))
    pen.lines((box.left, over.bottom - 1), under, BODY)
    column = _column(over, slide, reader)
    high = verdict_high(column.width, verdict, basis)
    if STEP * _rows(slide, column.width, reader) + high <= over.height:
        draw_verdict(pen, column, verdict, basis)
        return over, replace(column, bottom=column.bottom + high)
    draw_verdict(pen, over, verdict, basis)
    left = replace(over, bottom=over.bottom + verdict_high(over.width, verdict, basis))
    return left, _column(left, slide, reader)


def foot(basis: Basis) -> str:
    """Return the last line of each page: how good the weights are, and the cautions in short.

    Args:
        basis: How good the weights are.

    Returns:
        One line.
    """
    weights = "For practice (example)" if basis is Basis.EXAMPLE else f"Weights: {basis.words}"
    return f"{weights}. Makers' words first. If it moves: stop."


def _heading(pen: Pen, text: str) -> float:
    """Return how far down the heading reaches: a long one is written smaller, in two lines."""
    width = PAPER.width - 2 * RIM
    if text_width(text, HEADING) <= width:
        pen.words((RIM, PAPER.top - 15), text, HEADING)
        return PAPER.top - HEADING_HIGH
    lines = broken(text, BOLD, width, most=2)
    low = pen.lines((RIM, PAPER.top - 4), lines, BOLD)
    return min(low, PAPER.top - HEADING_HIGH)


def _words(pen: Pen, box: Box, slide: Slide, reader: Reader) -> None:
    """Write what a page says from the top down; paragraphs stand apart as far as there is room."""
    bold = BOLD if slide.verdict is None else replace(BOLD, colour=livery(slide.verdict).line)
    strong = _broken(slide.strong, bold, box.width, reader) if slide.strong else []
    paragraphs = [_broken(text, BODY, box.width, reader) for text in slide.lines]
    rows = _rows(slide, box.width, reader)
    gap = max(0.0, min(4.0, (box.height - rows * STEP) / (len(paragraphs) + 2)))
    top = pen.lines((box.left, box.top), strong, bold) - gap * bool(strong)
    for row in slide.rows:
        _row(pen, (box.left, top), row, box.width)
        top -= STEP
    top -= gap * bool(slide.rows)
    for lines in paragraphs:
        top = pen.lines((box.left, top), lines, BODY) - gap


def _rows(slide: Slide, width: float, reader: Reader) -> int:
    """Return how many lines a page's words take."""
    texts = [*((slide.strong, BOLD),) * bool(slide.strong), *((text, BODY) for text in slide.lines)]
    return len(slide.rows) + sum(len(_broken(text, kind, width, reader)) for text, kind in texts)


def _broken(text: str, lettering: Type, width: float, reader: Reader) -> list[str]:
    return broken(reader.words(text), lettering, width, most=MOST)


def _row(pen: Pen, corner: tuple[float, float], cells: tuple[str, ...], width: float) -> None:
    left, top = corner
    step = width / len(cells)
    for number, cell in enumerate(cells):
        pen.words((left + number * step, top - BODY.size * LINE / 2), cell, BODY if number else BOLD)


MOST = 9
"""Most lines of a paragraph."""

INCHES = WALL[0] / PX, WALL[1] / PX
"""Width and height of a page [in]."""
