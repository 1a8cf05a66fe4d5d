"""The register on paper: what is booked twice, a picture of the days a bay, and each job's pieces with bars."""

from collections.abc import Callable
from dataclasses import replace

from loadplan.errors import printable
from loadplan.planning.register.bookings import Register
from loadplan.report.drawing.pagination import (
    Block,
    draw_blocks,
    filled,
    folded,
    heading,
    paged,
    paragraph,
    points,
    space,
)
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.save_figure import document
from loadplan.report.drawing.style import EDGE, SHEET, Stroke
from loadplan.report.drawing.view import Box
from loadplan.report.sheet.floor_sheet import PaperSize
from loadplan.report.sheet.front_page import SheetPage
from loadplan.report.sheet.register_bay import bay_days, job_blocks
from loadplan.report.sheet.register_plan import bay_plan
from loadplan.report.text.register_page import NO_LIFT, summary, troubles
from loadplan.report.words.cautions import ONE_LINE
from loadplan.report.words.vocabulary import first_lift
from loadplan.units import System

MOST_PLANS = 40
"""Jobs whose plan is drawn: the first so many."""


def register_pdf(found: Register, units: System) -> bytes:
    """Print the register.

    Args:
        found: The register.
        units: The reader's units.

    Returns:
        Content of a PDF file on A4; equal for equal input.
    """
    paper = PaperSize.A4.paper
    pages = [filled(page, paper.room) for page in paged(_blocks(found, units, paper.width), paper.room)]
    drawn = [_drawn(paper, blocks, f"{place} of {len(pages)}") for place, blocks in enumerate(pages, start=1)]
    return document([((paper.wide, paper.high), draw) for draw in drawn], "Shop register")


def _blocks(found: Register, units: System, width: float) -> list[Block]:
    """Return the register from top to bottom: what is wrong across the jobs, then bay by bay."""
    blocks = [
        *paragraph(printable(summary(found)), points(17, bold=True), width),
        *paragraph(first_lift(units), points(12, bold=True), width),
    ]
    for title, texts in troubles(found, units).items():
        blocks += heading(title, points(13, bold=True), width)
        blocks += [block for text in texts for block in paragraph(printable(text), points(11), width, "•")]
    bays = list(dict.fromkeys(entry.bay for entry in found.entries))
    for bay in bays:
        blocks += [space(10), *heading(printable(bay or NO_LIFT), points(16, bold=True), width)]
        blocks.append(bay_days(found, bay))
        for number, entry in enumerate(found.entries):
            if entry.bay == bay:
                # A shop of hundreds of jobs gets its tables: their plans are in the sheets.
                shown = entry.job if number < MOST_PLANS else None
                plan = bay_plan(number, shown, width, units) if shown is not None else ()
                told = job_blocks(number, entry, width, units)
                # A plan stays on the page of its table.
                blocks += [*(replace(each, keeps=True) for each in told), *plan] if plan else told
    return blocks


def _drawn(paper: SheetPage, blocks: list[Block], name: str) -> Callable[[Paper], None]:
    """Return what draws one page: its blocks from the top down, and the cautions with the page's number."""

    def draw(leaf: Paper) -> None:
        pen = Pen(leaf, Layer.PAGE, None)
        page = leaf.page.grown(-paper.rim)
        replace(pen, layer=Layer.GROUND).box(leaf.page, SHEET, None)
        draw_blocks(pen, replace(page, bottom=page.bottom + paper.foot), blocks)
        foot = Box(page.left, page.bottom, page.right, page.bottom + paper.foot - 4)
        pen.line([(foot.left, foot.top), (foot.right, foot.top)], Stroke(EDGE, 1.2))
        small = points(9)
        pen.lines((foot.left, foot.top - 4), folded(ONE_LINE, small, foot.width), small)
        pen.words((foot.right, foot.bottom + 6), name, points(9, bold=True), "right")
        pen.words((foot.left, foot.bottom + 6), "Shop register", points(9, bold=True))

    return draw
