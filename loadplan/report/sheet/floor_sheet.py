"""The floor sheet: the PDF that hangs at the bay. First page, a page a step, and what it rests on."""

from collections.abc import Callable
from dataclasses import replace
from enum import Enum

from matplotlib.axes import Axes

from loadplan.model.verdict import Assessment
from loadplan.report.drawing.page_axes import PX, page_of
from loadplan.report.drawing.pagination import Block, draw_blocks, folded, paged, points
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.save_figure import document, picture
from loadplan.report.drawing.style import EDGE, SHEET, Stroke
from loadplan.report.drawing.text_width import broken
from loadplan.report.drawing.view import Box
from loadplan.report.sheet.front_page import SheetPage, front_blocks
from loadplan.report.sheet.sheet_number import sheet_number
from loadplan.report.sheet.step_pages import last_blocks, step_blocks
from loadplan.report.words.cautions import ONE_LINE
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.units import System

INCH = 25.4
"""mm an inch."""


class PaperSize(Enum):
    """Paper that a sheet is printed on."""

    A4 = "A4"
    A3 = "A3"
    LETTER = "letter"

    @property
    def paper(self) -> SheetPage:
        """Its page, upright."""
        wide, high = {"A4": (210 / INCH, 297 / INCH), "A3": (297 / INCH, 420 / INCH), "letter": (8.5, 11.0)}[self.value]
        return SheetPage(wide * PX, high * PX)


def sheet_pdf(assessment: Assessment, size: PaperSize, units: System) -> bytes:
    """Print the floor sheet of a job.

    Args:
        assessment: The job, judged.
        size: The paper.
        units: The reader's units.

    Returns:
        Content of a PDF file; equal for equal input.
    """
    reader, paper = reader_of(assessment.job, units), size.paper
    parts = [front_blocks(assessment, sheet_number(assessment.job), paper, reader)]
    parts += [step_blocks(assessment, stage, paper, reader) for stage in assessment.stages]
    parts += [last_blocks(assessment, paper.width, reader)]
    drawn = _pages(assessment, parts, paper, reader)
    return document([((paper.wide, paper.high), draw) for draw in drawn], reader.words(assessment.job.title))


def first_page(assessment: Assessment, size: PaperSize, units: System) -> bytes:
    """Draw the first page of a floor sheet, to be shown on a screen.

    Args:
        assessment: The job, judged.
        size: The paper.
        units: The reader's units.

    Returns:
        Content of an SVG file; equal for equal input.
    """
    reader, paper = reader_of(assessment.job, units), size.paper
    front = front_blocks(assessment, sheet_number(assessment.job), paper, reader)
    empty: list[list[Block]] = [[] for _ in range(len(assessment.stages) + 1)]
    draw = _pages(assessment, [front, *empty], paper, reader)[0]
    return picture((paper.wide, paper.high), "svg", draw)


def _pages(
    assessment: Assessment, parts: list[list[Block]], paper: SheetPage, reader: Reader
) -> list[Callable[[Axes], None]]:
    """Return what draws each page: a part begins a page, and runs on as far as it must."""
    pages = [
        (_name(index, part), blocks)
        for index, part_blocks in enumerate(parts)
        for part, blocks in enumerate(paged(part_blocks, paper.room))
    ]
    foot = f"Sheet {sheet_number(assessment.job)}, void if the plan changes. {reader.words(assessment.job.title)}"
    return [_drawn(paper, blocks, foot, f"page {name} of {len(parts)}") for name, blocks in pages]


def _name(index: int, part: int) -> str:
    """Return a page's number; what runs on has a letter behind it: 1, 1b, 1c, and 1.27 when letters are at an end."""
    letters = "bcdefghijklmnopqrstuvwxyz"
    behind = letters[part - 1] if 0 < part <= len(letters) else f".{part}" if part else ""
    return f"{index + 1}{behind}"


def _drawn(paper: SheetPage, blocks: list[Block], foot: str, name: str) -> Callable[[Axes], None]:
    """Return what draws one page: its blocks from the top down, and the foot."""

    def draw(ax: Axes) -> None:
        pen = Pen(ax, Layer.PAGE, None)
        page = page_of(ax).grown(-paper.rim)
        replace(pen, layer=Layer.GROUND).box(page_of(ax), SHEET, None)
        draw_blocks(pen, replace(page, bottom=page.bottom + paper.foot), blocks)
        _foot(pen, replace(page, top=page.bottom + paper.foot), foot, name)

    return draw


def _foot(pen: Pen, box: Box, foot: str, name: str) -> None:
    """Write the cautions in one line or two, the sheet's number, and the page's."""
    small, strong = points(8), points(9, bold=True)
    pen.line([(box.left, box.top - 8), (box.right, box.top - 8)], Stroke(EDGE, 1.2))
    lines = folded(ONE_LINE, small, box.width)
    pen.lines((box.left, box.top - 12), lines, small)
    room = box.width - 160
    pen.words((box.left, box.bottom + 6), broken(foot, strong, room, most=1)[0], strong)
    pen.words((box.right, box.bottom + 6), name, strong, "right")
