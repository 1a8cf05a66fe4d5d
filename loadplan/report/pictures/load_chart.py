"""The loads over the steps: a row a stand, a column a step, each load as a bar against the rating of one piece."""

from dataclasses import dataclass, replace

from loadplan.model.answer import Load
from loadplan.model.job import Job, Support
from loadplan.model.verdict import Assessment, StageAssessment, Verdict
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import BODIES, EDGE, HAIRLINE, INK, LABEL, QUIET, SHEET, STRONG, TITLE, Stroke, Type
from loadplan.report.drawing.text_width import broken
from loadplan.report.drawing.view import Box
from loadplan.report.pictures.title_block import CAUTION_HIGH, draw_caution
from loadplan.report.pictures.verdict_colours import livery
from loadplan.report.words.stage_tables import carried
from loadplan.report.words.vocabulary import Reader, first_lift, reader_of, shown_verdict
from loadplan.units import System

NAMES, CELL, ROW, HEAD, RIM = 270, 132, 66, 216, 24
"""Room for the names, for a step, for a stand, for the heads, and free rim [px]."""

FOOT = 112
"""Room below the rows [px]."""

NAMED, CARRIED, HEADS = Type(21, bold=True, colour=INK), Type(21, bold=False, colour=INK), replace(QUIET, size=17)
"""Types of a stand's name, of its loads, and of the heads: read at half the size, too."""

FULL = 1.1
"""Share of the rating at the end of a bar's room."""


def loads_size(assessment: Assessment) -> tuple[int, int]:
    """Return how large a page the loads of a job take.

    Args:
        assessment: The job, judged.

    Returns:
        Width and height [px].
    """
    rows = len(_supports(assessment.job))
    wide = max(NAMES + CELL * len(assessment.stages) + 2 * RIM, 900)
    return wide, HEAD + ROW * rows + 2 * RIM + FOOT


def draw_loads(paper: Paper, assessment: Assessment, units: System) -> None:
    """Draw what each stand and arm carries in each step so that it fills the page.

    Args:
        paper: A page of the size that `loads_size` says, or larger.
        assessment: The job, judged.
        units: The reader's units.
    """
    reader = reader_of(assessment.job, units)
    page = paper.page
    pen = Pen(paper, Layer.PAGE, None)
    replace(pen, layer=Layer.GROUND).box(page, SHEET, None)
    _title(pen, page, assessment, reader)
    top = page.top - HEAD
    for column, stage in enumerate(assessment.stages):
        left = page.left + RIM + NAMES + column * CELL
        _head(pen, Box(left, top, left + CELL, page.top - 92), stage, reader)
    for number, support in enumerate(_supports(assessment.job)):
        row = Box(page.left + RIM, top - (number + 1) * ROW, page.right - RIM, top - number * ROW)
        _row(pen, row, (assessment, support), reader)


def _supports(job: Job) -> tuple[Support, ...]:
    return (*job.supports, *(job.lift.arms if job.lift else ()))


def _title(pen: Pen, page: Box, assessment: Assessment, reader: Reader) -> None:
    """Write title, verdict and first lift on top, and at the foot how to read the bars, and the caution."""
    shown = f"{shown_verdict(assessment.verdict, assessment.basis)}; weights: {assessment.basis.words}."
    room = page.width - 2 * RIM
    pen.words(
        (page.left + RIM, page.top - 24), broken(reader.words(assessment.job.title), TITLE, room, most=1)[0], TITLE
    )
    pen.words((page.left + RIM, page.top - 50), broken(shown, STRONG, room, most=1)[0], STRONG)
    pen.words((page.left + RIM, page.top - 72), broken(first_lift(reader.units), LABEL, room, most=1)[0], LABEL)
    limits = assessment.job.limits
    said = (
        f"Black: carries. Grey: most on this floor. Lines: {100 * limits.rating_share:.0f} % of the rating of one "
        f"({100 * limits.arm_share:.0f} % for an arm of the lift), and the whole rating."
    )
    pen.lines((page.left + RIM, page.bottom + FOOT), broken(said, LABEL, room, most=2), LABEL)
    draw_caution(pen, Box(page.left + RIM, page.bottom, page.right - RIM, page.bottom + CAUTION_HIGH))


def _head(pen: Pen, box: Box, stage: StageAssessment, reader: Reader) -> None:
    """Write number and name of a step; one that stops or cautions says so in its colour."""
    number = replace(TITLE, size=22, colour=livery(stage.verdict).line if stage.verdict > Verdict.NOTE else INK)
    word = f" {stage.verdict.name}" if stage.verdict > Verdict.NOTE else ""
    bottom = pen.lines((box.left, box.top), [f"{stage.state.index + 1}{word}"], number)
    lines = broken(reader.words(stage.state.name), HEADS, box.width - 14, most=4)
    pen.lines((box.left, bottom), lines, HEADS)


def _row(pen: Pen, box: Box, told: tuple[Assessment, Support], reader: Reader) -> None:
    """Draw what one support carries in each step, beside its name and rating."""
    assessment, support = told
    pen.line([(box.left, box.top), (box.right, box.top)], Stroke(HAIRLINE, 1.5))
    rating = reader.load(support.equipment.rating_of_one)
    pen.words((box.left, box.top - 19), broken(reader.words(support.name), NAMED, NAMES - 12, most=1)[0], NAMED)
    said = broken(reader.words(f"{support.equipment.name}, {rating}"), HEADS, NAMES - 12, most=1)
    pen.words((box.left, box.top - 46), said[0], HEADS)
    asked = assessment.job.limits.arm_share if support.is_arm else assessment.job.limits.rating_share
    for column, stage in enumerate(assessment.stages):
        left = box.left + NAMES + column * CELL
        if support.name in {each.name for each in stage.state.supports}:
            cell = Box(left, box.bottom, left + CELL - 14, box.top)
            load = stage.statics.load(support.name)
            bare = "not balanced" if stage.state.bears(support) else "nothing above it"
            words = bare if load is None else carried(load, reader)
            _cell(pen, cell, _Bar(load, support.equipment.rating_of_one, asked, words))


@dataclass(frozen=True, slots=True)
class _Bar:
    """What a bar shows: a load, the rating of one [N], the share of it [1] above which it is a caution, and words."""

    load: Load | None
    rating: float
    asked: float
    words: str


def _fill(shown: _Bar) -> str:
    """Return the colour of a bar: that of its fault above what is asked or above the rating."""
    most = shown.load.at_most if shown.load else 0.0
    if most > shown.rating:
        return livery(Verdict.STOP).fill
    return livery(Verdict.CAUTION).fill if most > shown.asked * shown.rating else BODIES[1]


def _cell(pen: Pen, box: Box, shown: _Bar) -> None:
    """Draw one load: its words over its bar; what is out of its room has an arrow at its end."""
    load, rating, asked = shown.load, shown.rating, shown.asked
    pen.words((box.left, box.top - 18), shown.words, CARRIED)
    bar = Box(box.left, box.bottom + 7, box.right, box.bottom + 28)
    pen.box(bar, None, Stroke(HAIRLINE, 1.0))
    if load:
        for newtons, fill, inset in ((load.at_most, _fill(shown), 0.0), (load.expected, INK, 5.0)):
            share = min(max(newtons, 0.0) / rating / FULL, 1.0)
            part = Box(bar.left, bar.bottom + inset, bar.left + share * bar.width, bar.top - inset)
            pen.box(part, fill, Stroke(EDGE, 1.0) if not inset else None)
        if load.at_most > FULL * rating:
            y = bar.middle[1]
            pen.area([(bar.right, y + 9), (bar.right + 9, y), (bar.right, y - 9)], INK, None)
    for share, stroke in ((asked, Stroke(INK, 1.2, (2, 2))), (1.0, Stroke(INK, 2.0))):
        x = bar.left + share / FULL * bar.width
        pen.line([(x, bar.bottom - 3), (x, bar.top + 3)], stroke)
