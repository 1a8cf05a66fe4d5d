"""The pages of the floor sheet after the first: one a step, and one on what it all rests on."""

from dataclasses import dataclass, fields

from loadplan.checks.phrases import names, several
from loadplan.limits import Limits, limit_text
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment, Measure, Quantity, StageAssessment, Verdict
from loadplan.report.drawing.pagination import POINT, Block, folded, heading, paged, paragraph, points, space, tables
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import INK, MONO, Stroke, Type
from loadplan.report.drawing.text_width import LINE, text_width
from loadplan.report.drawing.view import Box
from loadplan.report.pictures.plan_view import draw_unit
from loadplan.report.sheet.front_page import SLACK, SheetPage, verdict_band
from loadplan.report.text.proof import proof_page
from loadplan.report.words.cautions import boxes
from loadplan.report.words.findings import stage_lines
from loadplan.report.words.number_format import write
from loadplan.report.words.stage_tables import UNDER_AIR, carried, deeds
from loadplan.report.words.vocabulary import FIRST_LIFT, Reader, basis_words, shown_verdict
from loadplan.units import Kind

PLAN = 0.64
"""Height of a step's plan by the page's width."""

TIGHT = ((0.56, 12.0), (0.56, 11.0))
"""Least height of the plan so that the step stays on one page, by the page's width, and type of the findings [pt]."""

TICK, ABREAST = 20, 2
"""Side of a box to tick [px], and how many stand side by side."""

MEASURES = {
    Kind.SHARE: Measure.SHARE,
    Kind.LENGTH: Measure.LENGTH,
    Kind.ANGLE: Measure.ANGLE,
    Kind.FORCE: Measure.FORCE,
}
"""What a limit measures, as sentences have it."""


def step_blocks(assessment: Assessment, stage: StageAssessment, paper: SheetPage, reader: Reader) -> list[Block]:
    """Lay out the page of one step.

    Args:
        assessment: The job, judged.
        stage: The step.
        paper: The paper.
        reader: Who reads it.

    Returns:
        Its blocks, in order.
    """
    tries = [_step(assessment, stage, _Room(paper, least, small), reader) for least, small in TIGHT]
    return min(tries, key=lambda blocks: len(paged(blocks, paper.room)))


@dataclass(frozen=True, slots=True)
class _Room:
    """The paper, the least share of its width that the plan is high [1], and the type of the findings [pt]."""

    paper: SheetPage
    least: float
    small: float


def _step(assessment: Assessment, stage: StageAssessment, room: _Room, reader: Reader) -> list[Block]:
    """Return the blocks of a step's page; the plan takes the room that the others leave."""
    paper = room.paper
    width = paper.width
    title = f"Step {stage.state.index + 1} of {len(assessment.stages)}: {reader.words(stage.state.name)}"
    shown = shown_verdict(stage.verdict, assessment.basis)
    basis = f"Weights: {basis_words(assessment.basis)}. {FIRST_LIFT}"
    texts = [(shown, points(24, bold=True)), (title, points(20, bold=True)), (basis, points(12))]
    said = [block for text in deeds(stage.state, reader) for block in paragraph(text, points(16), width)]
    above = [
        verdict_band(texts, stage.verdict, width),
        space(8),
        *(said or paragraph("Nothing comes off, nothing is undone.", points(16), width)),
        space(8),
    ]
    below = [
        space(8),
        *paragraph(_loads(stage, reader), points(14), width),
        *_boxes(assessment.job, stage, width, reader),
        *_findings(stage, room.small, width, reader),
    ]
    left = paper.room - SLACK - sum(block.high for block in (*above, *below))
    high = min(left, PLAN * paper.wide) if left > room.least * paper.wide else PLAN * paper.wide
    return [*above, Block(high, lambda pen, box: draw_unit(pen, box, assessment, stage, reader)), *below]


def last_blocks(assessment: Assessment, width: float, reader: Reader) -> list[Block]:
    """Lay out the pages on what the sheet rests on.

    Args:
        assessment: The job, judged.
        width: Room [px].
        reader: Who reads it.

    Returns:
        What was assumed and not checked, the limits with their sources, the proof numbers.
    """
    assumed = [reader.words(text) for text in assessment.assumed]
    unchecked = [reader.sentence(says) for says in assessment.not_checked]
    figures = Type(width / WIDEST / LETTER_WIDE, bold=False, colour=INK, family=MONO)
    return [
        *_list("Assumed", assumed, width),
        *_list("Not checked", unchecked, width),
        *_list("Limits, with their sources", _limits(assessment.job.limits, reader), width),
        *heading("Proof numbers", points(16, bold=True), width),
        *tables(proof_page(assessment, reader.units).splitlines()[1:], figures),
    ]


def _loads(stage: StageAssessment, reader: Reader) -> str:
    """Return what every support carries in a step, and the most on this floor."""
    loads = [(reader.words(each.name), each.load) for each in stage.statics.supports]
    told = [f"{name} {carried(load, reader)} (most {reader.load(load.at_most)})" for name, load in loads if load]
    in_air = [reader.words(each.name) for each in stage.state.supports if not stage.state.bears(each)]
    without = [name for name, load in loads if load is None and name not in in_air]
    said = [f"Carries: {'; '.join(told)}."] if told else []
    said += [f"No loads for {names(without)}: what they bear is not in balance."] if without else []
    said += [f"{names(in_air)} {several(in_air, 'carries', 'carry')} {UNDER_AIR}."] if in_air else []
    return " ".join(said) or "Nothing stands under anything."


def _boxes(job: Job, stage: StageAssessment, width: float, reader: Reader) -> list[Block]:
    blocks: list[Block] = []
    for each in boxes(job, stage, reader.units):
        blocks += heading(each.heading, points(14, bold=True), width)
        items = [reader.words(item) for item in each.items]
        blocks += [_ticks(items[number : number + ABREAST], width) for number in range(0, len(items), ABREAST)]
    return blocks


def _ticks(texts: list[str], width: float) -> Block:
    """Return boxes to tick, side by side."""
    lettering, part = points(14), width / ABREAST
    told = [folded(text, lettering, part - 2 * TICK) for text in texts]

    def draw(pen: Pen, box: Box) -> None:
        middle = box.top - LINE * lettering.size / 2
        for number, lines in enumerate(told):
            left = box.left + number * part
            pen.box(Box(left, middle - TICK / 2, left + TICK, middle + TICK / 2), None, Stroke(INK, 1.8))
            pen.lines((left + 1.6 * TICK, box.top), lines, lettering)

    return Block(LINE * lettering.size * max(map(len, told)) + 5, draw)


def _findings(stage: StageAssessment, small: float, width: float, reader: Reader) -> list[Block]:
    """Return the findings of a step, the worst first."""
    said = sorted(stage_lines(stage, reader), key=lambda line: -line.verdict)
    if not said:
        return heading("Every check of this step holds.", points(14, bold=True), width)
    blocks = heading("Findings", points(14, bold=True), width)
    for line in said:
        word = line.verdict.name if line.verdict > Verdict.NOTE else "note"
        blocks += paragraph(f"{word}, {line.check}: {line.text}", points(small), width, "•")
    return blocks


def _list(title: str, texts: list[str], width: float) -> list[Block]:
    lines = [block for text in texts for block in paragraph(text, points(11), width, "•")]
    return [*heading(title, points(16, bold=True), width), *(lines or paragraph("Nothing.", points(11), width))]


def _limits(limits: Limits, reader: Reader) -> list[str]:
    """Return each limit; one that the job set itself has no other source."""
    usual = Limits()
    told = []
    for each in fields(limits):
        text, value = limit_text(each.name), getattr(limits, each.name)
        said = f"{value:g}" if text.kind is None else write(Quantity(value, MEASURES[text.kind]), reader.units)
        source = text.source if value == getattr(usual, each.name) else "set by this job"
        told.append(reader.words(f"{text.words}: {said} ({source})"))
    return told


WIDEST = 100
"""Most characters of a line of the proof."""

LETTER_WIDE = text_width("0" * WIDEST, Type(POINT * 10, bold=False, colour=INK, family=MONO)) / WIDEST / (POINT * 10)
"""Width of a letter of the figures' font by its size."""
