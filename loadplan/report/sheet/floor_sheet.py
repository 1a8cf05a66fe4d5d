"""The floor sheet: the PDF that hangs at the bay. Page 1 sets the stands; then what to watch, the steps, the limits."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum

from loadplan.model.verdict import Assessment
from loadplan.report.drawing.matrix_code import draw_matrix_code
from loadplan.report.drawing.pagination import Block, draw_blocks, folded, paged, points
from loadplan.report.drawing.paper import PX, Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.picture_file import picture
from loadplan.report.drawing.save_figure import document
from loadplan.report.drawing.side_by_side import untold
from loadplan.report.drawing.style import EDGE, SHEET, Stroke
from loadplan.report.drawing.text_width import LINE, broken, text_width
from loadplan.report.drawing.view import XY, Box
from loadplan.report.sheet.front_page import SheetMark, SheetPage, front_blocks
from loadplan.report.sheet.last_page import last_blocks, proof_blocks
from loadplan.report.sheet.sheet_number import sheet_code, sheet_number
from loadplan.report.sheet.step_groups import step_groups
from loadplan.report.sheet.step_pages import step_blocks
from loadplan.report.sheet.watch_page import watch_blocks
from loadplan.report.words.cautions import ONE_LINE
from loadplan.report.words.vocabulary import reader_of
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


class SheetProof(Enum):
    """Whether the proof numbers are printed behind the sheet."""

    LEFT_OUT = "left out"
    PRINTED = "printed"


@dataclass(frozen=True, slots=True)
class SheetExtras:
    """What a sheet has besides.

    Attributes:
        proof: Whether the proof numbers are printed behind it.
        warns: What stands first on page 1, and at the foot of every page; "" for nothing.
    """

    proof: SheetProof = SheetProof.LEFT_OUT
    warns: str = ""


PLAIN = SheetExtras()
"""Nothing besides."""


def sheet_pdf(
    assessment: Assessment,
    size: PaperSize,
    units: System,
    extras: SheetExtras = PLAIN,
    told: Callable[[int, int], None] = untold,
) -> bytes:
    """Print the floor sheet of a job.

    Args:
        assessment: The job, judged.
        size: The paper.
        units: The reader's units.
        extras: What it has besides.
        told: Hears after each page how many are drawn, of how many.

    Returns:
        Content of a PDF file; equal for equal input.
    """
    reader, paper = reader_of(assessment.job, units), size.paper
    mark = SheetMark(sheet_number(assessment.job), reader.words(assessment.job.title), extras.warns)
    parts = [front_blocks(assessment, mark, paper, reader), watch_blocks(assessment, paper, reader)]
    parts += [step_blocks(assessment, stages, paper, reader) for stages in step_groups(assessment, reader)]
    parts += [last_blocks(assessment, paper, reader)]
    parts += [proof_blocks(assessment, paper, reader)] if extras.proof is SheetProof.PRINTED else []
    pages = [blocks for part in parts for blocks in paged(part, paper.room)]
    drawn = [draw_page(paper, blocks, mark, f"{place} of {len(pages)}") for place, blocks in enumerate(pages, start=1)]
    return document([((paper.wide, paper.high), draw) for draw in drawn], mark.title, told)


def first_page(assessment: Assessment, size: PaperSize, units: System) -> bytes:
    """Draw the first page of a floor sheet as a picture: for the manual, and to look at its layout in a test.

    Args:
        assessment: The job, judged.
        size: The paper.
        units: The reader's units.

    Returns:
        Content of an SVG file; equal for equal input.
    """
    reader, paper = reader_of(assessment.job, units), size.paper
    mark = SheetMark(sheet_number(assessment.job), reader.words(assessment.job.title))
    draw = draw_page(paper, paged(front_blocks(assessment, mark, paper, reader), paper.room)[0], mark, "1")
    return picture((paper.wide, paper.high), "svg", draw)


FOOT = points(9)
"""Type of the foot of each page."""

TITLES = (points(9, bold=True), FOOT)
"""Types of the title there: the first that has it whole."""

SHORT_WARNING = "Work began by another sheet: see page 1."


def draw_page(paper: SheetPage, blocks: list[Block], mark: SheetMark, name: str) -> Callable[[Paper], None]:
    """Return what draws one page: its blocks from the top down, and the foot.

    Args:
        paper: The paper.
        blocks: What stands on it; they fit.
        mark: What stands at its foot.
        name: Its number, of how many.

    Returns:
        Draws it.
    """

    def draw(leaf: Paper) -> None:
        pen = Pen(leaf, Layer.PAGE, None)
        page = leaf.page.grown(-paper.rim)
        replace(pen, layer=Layer.GROUND).box(leaf.page, SHEET, None)
        draw_blocks(pen, replace(page, bottom=page.bottom + paper.foot), blocks)
        _draw_foot(pen, replace(page, top=page.bottom + paper.foot), mark, name)

    return draw


def _draw_foot(pen: Pen, box: Box, mark: SheetMark, name: str) -> None:
    """Write the cautions in one line or two, the sheet's number, also as a code, and the page's."""
    small, strong = FOOT, points(9, bold=True)
    pen.line([(box.left, box.top - 4), (box.right, box.top - 4)], Stroke(EDGE, 1.2))
    code = Box(box.right - box.height + 4, box.bottom - 4, box.right, box.top - 8)
    draw_matrix_code(pen, code, sheet_code(mark.number))
    room = code.left - box.left - 8
    pen.lines((box.left, box.top - 8), folded(ONE_LINE, small, room), small)
    pen.words((box.left, box.bottom + 4), mark.said, strong)
    _draw_title(pen, (box.left + text_width(f"{mark.said} ", strong), box.bottom + 4), code.left - 8, mark)
    # The second line of the cautions is short: behind it the page's number leaves the last line to the title.
    pen.words((code.left - 8, box.top - 8 - 1.5 * LINE * small.size), name, strong, "right")


def _draw_title(pen: Pen, at: XY, right: float, mark: SheetMark) -> None:
    """Write the title behind the sheet's number, up to an edge, in lighter type before any of it is left out."""
    told, room = SHORT_WARNING if mark.warns else mark.title, right - at[0]
    kind = next((each for each in TITLES if text_width(told, each) <= room), TITLES[-1])
    pen.words(at, broken(told, kind, room, most=1)[0], kind)
