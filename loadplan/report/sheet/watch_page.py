"""The second page of the floor sheet: what to watch, boxes to tick before and at touch, cautions, signatures."""

from loadplan.model.verdict import Assessment
from loadplan.report.drawing.axonometric_projection import Projection
from loadplan.report.drawing.pagination import THIN, Block, fewest_pages, heading, paragraph, points, space
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import INK, Stroke
from loadplan.report.drawing.view import Box
from loadplan.report.pictures.axonometric_view import AZIMUTH, ELEVATION, TurnedStep, draw_unit_in_space
from loadplan.report.sheet.front_page import SLACK, SheetPage
from loadplan.report.sheet.tick_boxes import tick_blocks
from loadplan.report.words.cautions import boxes, cautions
from loadplan.report.words.nearest_to_tipping import nearest_in_job
from loadplan.report.words.top_findings import foremost
from loadplan.report.words.vocabulary import Reader, unsigned

SIZES = (12.0, 11.0, 10.0)
"""Types of what is said on the page [pt]: the first with which it takes the fewest pages."""

SIGNED = ("Set by", "Checked by", "Lift operator", "Time")
"""Who signs."""

SIGN_HIGH = 84
"""Room for the signatures [px]."""

LEAST, MOST, CAPTION = 240.0, 420.0, 30.0
"""Least and greatest height of the picture where the page has room for one, and room for its caption [px]."""

BOLD = (2, 8)
"""Cautions in bold type: those on which somebody's life hangs at once."""


def watch_blocks(assessment: Assessment, paper: SheetPage, reader: Reader) -> list[Block]:
    """Lay out the second page.

    Args:
        assessment: The job, judged.
        paper: The paper.
        reader: Who reads it.

    Returns:
        Its blocks, in order.
    """
    tries = (_watch(assessment, size, paper.width, reader) for size in SIZES)
    blocks = fewest_pages(tries, paper.room)
    left = paper.room - SLACK - sum(block.high for block in blocks) - CAPTION
    shown = _shown(assessment)
    if shown is None or left < LEAST:
        return blocks
    said = f"Step {shown.stage.state.index + 1}, the nearest to tipping, seen from in front and a little from the left."
    picture = Block(min(left, MOST), lambda pen, box: draw_unit_in_space(pen, box, shown, reader))
    return [*blocks, *heading(said, points(11, bold=True), paper.width), picture]


def _shown(assessment: Assessment) -> TurnedStep | None:
    """Return the step that is nearest to tipping, to be seen in space; None where nothing can tip."""
    near = nearest_in_job(assessment)
    return TurnedStep(assessment, assessment.stages[near.stage], Projection(AZIMUTH, ELEVATION)) if near else None


def _watch(assessment: Assessment, size: float, width: float, reader: Reader) -> list[Block]:
    """Return the page's blocks with one size of type [pt]."""
    said = foremost(assessment, reader)
    blocks = heading("What to watch" if said else "No caution, no stop.", points(15, bold=True), width)
    for line in said:
        blocks += paragraph(f"{line.verdict.name}, {line.steps}: {line.text}", points(size), width, "•")
    unchecked = " ".join(reader.sentence(says) for says in assessment.not_checked) or "nothing."
    first = assessment.stages[0]
    return [
        *blocks,
        space(6),
        *paragraph(f"Not checked: {unchecked}", points(size), width),
        space(8),
        *tick_blocks(boxes(assessment.job, first, reader.units), width, reader),
        *_cautions(assessment, size, width, reader),
        *_signatures(assessment, size, width),
    ]


def _cautions(assessment: Assessment, size: float, width: float, reader: Reader) -> list[Block]:
    blocks = heading("Cautions", points(15, bold=True), width)
    for number, text in enumerate(cautions(assessment.basis, reader.units), start=1):
        blocks += paragraph(text, points(size, bold=number in BOLD), width, str(number))
    return blocks


def _signatures(assessment: Assessment, size: float, width: float) -> list[Block]:
    """Return where to sign, or why nobody does."""
    reason = unsigned(assessment.verdict, assessment.basis)
    if reason:
        return [space(8), *paragraph(reason, points(size, bold=True), width)]
    return [space(10), Block(SIGN_HIGH, _draw_signatures)]


def _draw_signatures(pen: Pen, box: Box) -> None:
    part = box.width / len(SIGNED)
    for number, who in enumerate(SIGNED):
        left = box.left + number * part
        pen.line([(left, box.bottom + 28), (left + part - 16, box.bottom + 28)], Stroke(INK, 1.5))
        pen.words((left, box.bottom + 12), who, points(12))
    pen.line([(box.left, box.top), (box.right, box.top)], THIN)
