"""The first page of the floor sheet: all that is needed to set the stands. Verdict, job, plan with tapes, table."""

from dataclasses import dataclass, replace

from loadplan.checks.lock_window import brings_stands_up
from loadplan.model.verdict import Assessment, Verdict
from loadplan.report.drawing.pagination import Block, draw_blocks, fewest_pages, paragraph, points, space
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import Type
from loadplan.report.drawing.view import Box
from loadplan.report.sheet.sheet_band import headed_again, job_band
from loadplan.report.sheet.stand_table import TableType, pair_words, shim_words, table_blocks
from loadplan.report.sheet.tape_plan import plan_block, plan_words
from loadplan.report.words.lock_words import lock_words
from loadplan.report.words.stage_tables import window_words
from loadplan.report.words.vocabulary import Reader, shown_verdict
from loadplan.units import System

BESIDE, APART = 186, 12
"""Width of the column beside the plan, and free room between the two [px]."""

LEAST = 0.3
"""Share of the page that the plan has at least: on less, it misleads."""

MOST = 0.5
"""Share of the page that the plan has at most."""

SLACK = 1.0
"""What a page that is filled to the last line leaves free [px]: sums of heights are rounded."""

TYPES = (TableType(17, 12.5, 10.5), TableType(15, 12, 9.5), TableType(14, 11, 9), TableType(13, 10, 8.5))
"""Types of the table [pt]: the first with which the page holds it all."""


@dataclass(frozen=True, slots=True)
class SheetPage:
    """The paper that a sheet is printed on: page, free room on every side, and foot of each page [px]."""

    wide: float
    high: float
    rim: float = 36.0
    foot: float = 64.0

    @property
    def width(self) -> float:
        """Width of what is printed [px]."""
        return self.wide - 2 * self.rim

    @property
    def room(self) -> float:
        """Height of what is printed over the foot [px]."""
        return self.high - 2 * self.rim - self.foot


@dataclass(frozen=True, slots=True)
class SheetMark:
    """By which sheet every page is known.

    Attributes:
        number: The sheet's number.
        title: The sheet's title.
        warns: What stands first on page 1; each foot says so in short in place of the title; "" for nothing.
        kind: What it is.
    """

    number: str
    title: str
    warns: str = ""
    kind: str = "Sheet {}, void if the plan changes."

    @property
    def said(self) -> str:
        """What it is, with its number."""
        return self.kind.format(self.number)


def front_blocks(assessment: Assessment, mark: SheetMark, paper: SheetPage, reader: Reader) -> list[Block]:
    """Lay out the first page.

    Args:
        assessment: The job, judged.
        mark: By which sheet it is known.
        paper: The paper.
        reader: Who reads it.

    Returns:
        Its blocks, in order.
    """
    tries = (_front(assessment, (mark, kind), paper, reader) for kind in TYPES)
    return fewest_pages(tries, paper.room)


def _front(assessment: Assessment, told: tuple[SheetMark, TableType], paper: SheetPage, reader: Reader) -> list[Block]:
    """Return the blocks of the first page; the plan takes the room that the others leave."""
    mark, kind = told
    heads = [job_band(assessment, reader, paper.width), *_about(assessment, mark, paper.width, reader)]
    table = table_blocks(assessment, paper.width, kind, reader)
    beside = _beside(assessment, points(kind.place), reader)
    left = paper.room - SLACK - sum(block.high for block in (*heads, *table))
    least = max(LEAST * paper.high, sum(block.high for block in beside))
    high = min(max(left, least), max(MOST * paper.high, least))
    blocks = [*heads, _plan(assessment, high, beside, reader), *table]
    again = f"{shown_verdict(assessment.verdict, assessment.basis)}: setting the stands, continued"
    return headed_again(blocks, again, assessment.verdict, paper.width)


def _plan(assessment: Assessment, high: float, beside: list[Block], reader: Reader) -> Block:
    """Return the plan with the words that belong to it in a column on its right."""
    plan = plan_block(assessment, high, reader)

    def draw(pen: Pen, box: Box) -> None:
        plan.draw(pen, replace(box, right=box.right - BESIDE - APART))
        draw_blocks(pen, replace(box, left=box.right - BESIDE), beside)

    return Block(high, draw)


def _about(assessment: Assessment, mark: SheetMark, width: float, reader: Reader) -> list[Block]:
    """Return what the sheet is about: title, vehicle, lift, days, number."""
    job = assessment.job
    until = f" to {job.until.isoformat()}" if job.until else ""
    bay = f"; {job.lift.lift.name}" if job.lift else "; no lift"
    about = f"{job.vehicle.name}{bay}; {job.date.isoformat()}{until}"
    return [
        space(4),
        *(paragraph(mark.warns, points(11, bold=True), width) if mark.warns else ()),
        *paragraph(reader.words(job.title), points(15, bold=True), width),
        *paragraph(reader.words(f"{about}. Sheet {mark.number}: void if the plan changes."), points(10.5), width),
        space(5),
    ]


def _beside(assessment: Assessment, small: Type, reader: Reader) -> list[Block]:
    """Return what stands beside the plan: how far to lower, what tapes and heights mean, shims, ratings by the pair."""
    stops = assessment.verdict is Verdict.STOP
    # Large letters are read as an order: under a stop the only one is not to.
    large = Type(small.size * LARGER, bold=True, colour=small.colour)
    kind = small if stops else large
    told = [f"{PLANNED}{line[0].lower()}{line[1:]}" if stops else line for line in lowering(assessment, reader)]
    ahead = NOT_LOWERED if stops else CAUTION_FIRST if told and assessment.verdict is Verdict.CAUTION else ""
    first = paragraph(ahead, large, BESIDE) if ahead else ()
    lower = [block for line in told for block in paragraph(line, kind, BESIDE)]
    texts = (*plan_words(assessment, reader), shim_words(assessment, reader), pair_words(assessment, reader))
    words = [block for text in texts if text for block in (*paragraph(text, small, BESIDE), space(5))]
    return [*first, *lower, space(8), *words]


def lowering(assessment: Assessment, reader: Reader) -> list[str]:
    """Tell how far to lower, or to bring the stands up, a line for each time that something is set down.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        The lines.
    """
    up = f"Unbolt. Then vehicle {'2 in' if reader.units is System.US else '50 mm'} up: stop, look."
    downs = [(stage, down) for stage in assessment.stages if (down := stage.statics.set_down)]
    told = []
    for stage, down in downs:
        if brings_stands_up(assessment.job, stage.state):
            act = "the lift stays on its lock, bring the stands up"
        else:
            act = "lower vehicle"
        act = f"Step {stage.state.index + 1}: {act}" if len(downs) > 1 else f"{act[0].upper()}{act[1:]}"
        locks = lock_words(assessment.job, stage, reader)
        told.append(f"{act} past first touch: {window_words(down.start, down.end, reader)}.{locks} {up}")
    return told


NOT_LOWERED = "Stop: set nothing down by this plan. Change the plan first."
"""What stands in place of how far to lower, and over it."""

CAUTION_FIRST = "First what the caution asks."
"""What stands over how far to lower under a caution: "unbolt" by itself reads as leave to."""

PLANNED = "Planned, and not to be done: "
"""What goes before how far to lower where nothing is to be."""

LARGER = 1.25
"""How much larger how far to lower is written than the rest beside the plan."""
