"""The first page of the floor sheet in blocks: verdict, job, plan, table, what to watch, cautions, signatures."""

from dataclasses import dataclass

from loadplan.model.verdict import Assessment, Verdict
from loadplan.report.drawing.pagination import THIN, Block, folded, heading, paged, paragraph, points, space
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import INK, Stroke, Type
from loadplan.report.drawing.text_width import LINE
from loadplan.report.drawing.view import Box
from loadplan.report.pictures.verdict_colours import livery
from loadplan.report.sheet.stand_table import table_blocks
from loadplan.report.sheet.tape_plan import plan_blocks
from loadplan.report.words.cautions import cautions
from loadplan.report.words.stage_tables import window_words
from loadplan.report.words.top_findings import foremost
from loadplan.report.words.vocabulary import FIRST_LIFT, Reader, basis_words, shown_verdict, unsigned

ENDS, INSET = 36, 14
"""Width of the texture at each end of the band, and free room beside its words [px]."""

LEAST = 0.39
"""Share of the page that the plan has at least where a long reason leaves it less than half: on less, it misleads."""

SLACK = 1.0
"""What a page that is filled to the last line leaves free [px]: sums of heights are rounded."""

WORST = 3
"""Findings on the first page."""

SMALL = (14.0, 13.0, 12.0)
"""Types of what stands below the table [pt]: the first with which it takes the fewest pages."""

SIGNED = ("Set by", "Checked by", "Lift operator", "Time")
"""Who signs."""


@dataclass(frozen=True, slots=True)
class SheetPage:
    """The paper that a sheet is printed on: page, free room on every side, and foot of each page [px]."""

    wide: float
    high: float
    rim: float = 38.0
    foot: float = 64.0

    @property
    def width(self) -> float:
        """Width of what is printed [px]."""
        return self.wide - 2 * self.rim

    @property
    def room(self) -> float:
        """Height of what is printed over the foot [px]."""
        return self.high - 2 * self.rim - self.foot


def front_blocks(assessment: Assessment, number: str, paper: SheetPage, reader: Reader) -> list[Block]:
    """Lay out the first page.

    Args:
        assessment: The job, judged.
        number: Number of the sheet.
        paper: The paper.
        reader: Who reads it.

    Returns:
        Its blocks, in order.
    """
    tries = [_front(assessment, (number, small), paper, reader) for small in SMALL]
    return min(tries, key=lambda blocks: len(paged(blocks, paper.room)))


def _front(assessment: Assessment, told: tuple[str, float], paper: SheetPage, reader: Reader) -> list[Block]:
    """Return the blocks of the first page; the plan takes the room that the others leave."""
    number, small = told
    heads = [band(assessment, reader, paper.width), *_about(assessment, number, paper.width, reader)]
    left = paper.room - SLACK - sum(block.high for block in heads)
    half = min(paper.high / 2, left) if left > LEAST * paper.high else paper.high / 2
    return [
        *heads,
        *plan_blocks(assessment, (paper.width, half), reader),
        *table_blocks(assessment, paper.width, reader),
        *_lower(assessment, paper.width, reader),
        *_worst(assessment, small, paper.width, reader),
        *_cautions(assessment, small, paper.width, reader),
        *_signatures(assessment, small, paper.width),
    ]


def verdict_band(texts: list[tuple[str, Type]], verdict: Verdict, width: float) -> Block:
    """Return a band in a verdict's colour and texture, with its word and lines under it.

    Args:
        texts: The verdict as it is shown and what stands under it, each with its type.
        verdict: The verdict.
        width: Room [px].

    Returns:
        One block.
    """
    look = livery(verdict)
    room = width - 2 * (ENDS + INSET)
    lines = [(line, kind) for text, kind in texts for line in folded(text, kind, room)]

    def draw(pen: Pen, box: Box) -> None:
        pen.box(box, look.fill, Stroke(INK, 1.5))
        for left in (box.left, box.right - ENDS):
            pen.texture(Box(left, box.bottom, left + ENDS, box.top), look.hatch * 2, look.text)
        top = box.top - INSET / 2
        for line, kind in lines:
            step = LINE * kind.size
            pen.words((box.left + ENDS + INSET, top - step / 2), line, Type(kind.size, kind.bold, look.text))
            top -= step

    return Block(sum(LINE * kind.size for _, kind in lines) + INSET, draw)


def band(assessment: Assessment, reader: Reader, width: float) -> Block:
    """Return the verdict on the whole job with its basis and its reason.

    Args:
        assessment: The job, judged.
        reader: Who reads it.
        width: Room [px].

    Returns:
        One block.
    """
    worst = foremost(assessment, reader)
    reason = f"Because, step {worst[0].worst + 1}: {worst[0].text}" if worst else "Every check holds; read the notes."
    texts = [
        (shown_verdict(assessment.verdict, assessment.basis), points(40, bold=True)),
        (f"Weights: {basis_words(assessment.basis)}.", points(16, bold=True)),
        (reason, points(16)),
        (FIRST_LIFT, points(14, bold=True)),
    ]
    return verdict_band(texts, assessment.verdict, width)


def _about(assessment: Assessment, number: str, width: float, reader: Reader) -> list[Block]:
    """Return what the sheet is about: title, vehicle, lift, days, number."""
    job = assessment.job
    until = f" to {job.until.isoformat()}" if job.until else ""
    bay = f"; {job.lift.lift.name}" if job.lift else "; no lift"
    about = f"{job.vehicle.name}{bay}; {job.date.isoformat()}{until}"
    return [
        *heading(reader.words(job.title), points(20, bold=True), width),
        *paragraph(reader.words(about), points(14), width),
        *paragraph(f"Sheet {number}: void if the plan changes.", points(14, bold=True), width),
        space(6),
    ]


def _lower(assessment: Assessment, width: float, reader: Reader) -> list[Block]:
    """Return the line on how far to lower, one for each time that something is set down."""
    up = "Then 2 in up: stop." if reader.units.value == "us" else "Then 50 mm up: stop."
    windows = [stage for stage in assessment.stages if stage.statics.set_down]
    lines = []
    for stage in windows:
        down = stage.statics.set_down
        if down:
            step = f"Step {stage.state.index + 1}: lower" if len(windows) > 1 else "Lower"
            lines.append(f"{step} {window_words(down.start, down.end, reader)}. {up}")
    return [
        space(8),
        *(block for line in lines for block in paragraph(line, points(18, bold=True), width)),
    ]


def _worst(assessment: Assessment, small: float, width: float, reader: Reader) -> list[Block]:
    """Return what to look at first, as many lines as there is room for, and what is not checked."""
    said = foremost(assessment, reader)
    blocks = heading("What to look at first" if said else "No caution, no stop.", points(16, bold=True), width)
    for line in said[:WORST]:
        text = f"{line.verdict.name}, {line.steps}: {line.text}"
        blocks += paragraph(text, points(small), width, "•")
    if len(said) > WORST:
        blocks += paragraph(f"And {len(said) - WORST} more: see the pages of the steps.", points(small), width)
    unchecked = " ".join(reader.sentence(says) for says in assessment.not_checked) or "nothing."
    return [*blocks, space(6), *paragraph(f"Not checked: {unchecked}", points(small), width)]


def _cautions(assessment: Assessment, small: float, width: float, reader: Reader) -> list[Block]:
    blocks = heading("Cautions", points(16, bold=True), width)
    for number, text in enumerate(cautions(assessment.basis, reader.units), start=1):
        blocks += paragraph(text, points(small, bold=number in BOLD), width, str(number))
    return blocks


def _signatures(assessment: Assessment, small: float, width: float) -> list[Block]:
    """Return where to sign, or why nobody does."""
    reason = unsigned(assessment.verdict, assessment.basis)
    if reason:
        return [space(8), *paragraph(reason, points(small, bold=True), width)]
    return [space(10), Block(SIGN_HIGH, _draw_signatures)]


def _draw_signatures(pen: Pen, box: Box) -> None:
    part = box.width / len(SIGNED)
    for number, who in enumerate(SIGNED):
        left = box.left + number * part
        pen.line([(left, box.bottom + 28), (left + part - 16, box.bottom + 28)], Stroke(INK, 1.5))
        pen.words((left, box.bottom + 12), who, points(12))
    pen.line([(box.left, box.top), (box.right, box.top)], THIN)


SIGN_HIGH = 84
"""Room for the signatures [px]."""

BOLD = (2, 8)
"""Cautions in bold type: those on which somebody's life hangs at once."""
