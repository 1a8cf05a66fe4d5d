"""The record on paper: what was done of a job, step by step, with times, names, readings and the sheets' numbers."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import groupby
from types import MappingProxyType

from loadplan.checks.phrases import names
from loadplan.model.hung_photograph import HungPhotograph, SmallPicture
from loadplan.model.verdict import Assessment
from loadplan.model.work_record import Deed, RecordEntry, WorkRecord
from loadplan.report.drawing.pagination import Block, folded, heading, paged, paragraph, points, space
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.save_figure import document
from loadplan.report.drawing.text_width import LINE
from loadplan.report.drawing.view import Box
from loadplan.report.sheet.floor_sheet import PaperSize, draw_page
from loadplan.report.sheet.front_page import SheetMark
from loadplan.report.sheet.sheet_number import sheet_numbers
from loadplan.report.words.number_format import units_of
from loadplan.report.words.older_lines import meant_by
from loadplan.report.words.record_words import (
    SheetNumbers,
    entry_words,
    learnt_lines,
    length_words,
    moment,
    record_doubts,
    standing_words,
)
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.report.words.work_list import WorkPart, work_list
from loadplan.units import System

WHEN, WHO = 118, 110
"""Width of the columns of time and name [px]."""

PICTURE = 192
"""Longest side of a photograph on paper [px]: 51 mm."""

NONE: Mapping[HungPhotograph, SmallPicture | str] = MappingProxyType({})

ROW = points(10.5)
STRONG = frozenset({Deed.MOVED, Deed.PLAN_CHANGED, Deed.FORGOTTEN, Deed.SHORT, Deed.UNTOLD})
"""What is printed in strong letters."""

NOBODY = "no name"


def record_pdf(
    assessment: Assessment,
    record: WorkRecord,
    size: PaperSize,
    units: System,
    photographs: Mapping[HungPhotograph, SmallPicture | str] = NONE,
) -> bytes:
    """Print what was done of a job.

    Args:
        assessment: The job as it is planned now, judged.
        record: What was done.
        size: The paper.
        units: The reader's units.
        photographs: Each that hangs on a step, small; or why it cannot be shown.

    Returns:
        Content of a PDF file; equal for equal input.
    """
    reader, paper, numbers = reader_of(assessment.job, units), size.paper, sheet_numbers(assessment.job, record)
    blocks = _head(assessment, record, numbers, paper.width, reader)
    for step, entries in groupby(record.entries, lambda each: each.step):
        blocks += _step(assessment, step, list(entries), _RecordColumns(paper.width, reader, photographs))
    blocks += _open_boxes(assessment, record, paper.width, reader)
    pages = paged(blocks, paper.room)
    mark = SheetMark(numbers.now, reader.words(assessment.job.title), kind="Record; the plan is sheet {} now.")
    drawn = [draw_page(paper, each, mark, f"{place} of {len(pages)}") for place, each in enumerate(pages, start=1)]
    return document([((paper.wide, paper.high), draw) for draw in drawn], mark.title)


def _head(
    assessment: Assessment, record: WorkRecord, numbers: SheetNumbers, width: float, reader: Reader
) -> list[Block]:
    """Return what it is a record of, where the job stands, by whom and by which sheets it was done."""
    job, standing = assessment.job, record.standing
    blocks = paragraph(f"What was done: {reader.words(job.title)}", points(17, bold=True), width)
    if standing is None or record.began is None:
        return blocks + paragraph("Nothing is in the record yet.", points(12), width)
    steps = [stage.state.name for stage in assessment.stages]
    who = list(dict.fromkeys(each.who for each in record.entries if each.who))
    sheets = list(dict.fromkeys(each.sheet for each in record.entries))
    told = [
        f"Begun {moment(record.began.at)}. Now: {reader.words(standing_words(standing, steps))}.",
        f"By {reader.words(names(who)).removesuffix('.')}." if who else "Nobody gave a name.",
        f"By sheet {names(sheets)}. {length_words(record)}",
    ]
    blocks += [block for text in told for block in paragraph(text, points(12), width)]
    strong = points(12, bold=True)
    return blocks + [block for text in record_doubts(record, numbers) for block in paragraph(text, strong, width)]


@dataclass(frozen=True, slots=True)
class _RecordColumns:
    """Where entries are printed.

    Attributes:
        width: Width of the page [px].
        reader: Who reads it.
        photographs: Each that hangs on a step, small; or why it cannot be shown.
    """

    width: float
    reader: Reader
    photographs: Mapping[HungPhotograph, SmallPicture | str]


def _step(assessment: Assessment, step: str, entries: list[RecordEntry], room: _RecordColumns) -> list[Block]:
    """Return what was done in a run of one step, a line an entry, and under it the photograph that it hangs up."""
    width, reader = room.width, room.reader
    steps = [stage.state.name for stage in assessment.stages]
    place = f"Step {steps.index(step) + 1}: " if step in steps else "A step the plan no longer has: "
    title = place + reader.words(step) if step else "The whole job"
    blocks = [space(6), *heading(title, points(13, bold=True), width)]
    for entry in entries:
        if entry.deed is Deed.PHOTOGRAPHED:
            hung = HungPhotograph(entry.words, entry.picture)
            shown = room.photographs.get(hung, "")
            why = shown if isinstance(shown, str) else ""
            blocks.append(replace(_row(entry, width, reader, why), keeps=not why))
            blocks += [] if isinstance(shown, str) else [_picture(shown)]
        else:
            blocks.append(_row(entry, width, reader))
    return blocks


def _picture(shown: SmallPicture) -> Block:
    """Return a photograph as it stands under its line."""
    wide, high = (side * PICTURE / max(shown.width, shown.height) for side in (shown.width, shown.height))

    def draw(pen: Pen, box: Box) -> None:
        left = box.left + WHEN + WHO
        pen.picture(
            Box(left, box.bottom + 4, left + wide, box.bottom + 4 + high), shown.width, shown.height, shown.colours
        )

    return Block(high + 8, draw)


def _row(entry: RecordEntry, width: float, reader: Reader, why: str = "") -> Block:
    """Return one entry: when, who, what; and why nothing of it is shown, "" for nothing."""
    strong = points(10.5, bold=entry.deed in STRONG)
    said = entry_words(entry, reader)
    told = folded(f"{said} ({why})" if why else said, strong, width - WHEN - WHO)
    who = folded(reader.words(entry.who) or NOBODY, ROW, WHO - 8)

    def draw(pen: Pen, box: Box) -> None:
        middle = box.top - LINE * ROW.size / 2
        pen.words((box.left, middle), moment(entry.at), ROW)
        pen.lines((box.left + WHEN, box.top), who, ROW)
        pen.lines((box.left + WHEN + WHO, box.top), told, strong)

    return Block(LINE * ROW.size * max(len(told), len(who)) + 2, draw)


def _open_boxes(assessment: Assessment, record: WorkRecord, width: float, reader: Reader) -> list[Block]:
    """Return which lines of the steps that were begun nobody ticked."""
    # A record keeps lines in the job's own units, whatever it is printed in.
    own = reader_of(assessment.job, units_of(assessment.job))
    begun = {each.step for each in record.entries}
    learnt = learnt_lines(assessment.job, record, own)
    blocks: list[Block] = []
    for stage in assessment.stages:
        parts = work_list(assessment.job, stage, own)
        ticked = record.ticked(stage.state.name, meant_by(line for part in parts for line in part.lines))
        left = [
            replace(part, lines=tuple(reader.words(line) for line in part.lines if line not in ticked | learnt))
            for part in parts
        ]
        if any(part.lines for part in left) and stage.state.name in begun:
            blocks += heading(f"Step {stage.state.index + 1}", points(11, bold=True), width)
            blocks += [block for text in _by_part(left) for block in paragraph(text, points(10.5), width, "•")]
    return [space(8), *heading("Not ticked", points(13, bold=True), width), *blocks] if blocks else []


def _by_part(parts: list[WorkPart]) -> list[str]:
    """Return the lines of each part as one, and those about one stand as one: what they have in common is told once."""
    found: dict[str, list[str]] = {}
    for part in parts:
        for line in part.lines:
            about, colon, told = line.partition(": ")
            within = not colon or about == part.heading
            said = about if about.lower().startswith(part.heading.lower()) else f"{part.heading}, {about}"
            found.setdefault(part.heading if within else said, []).append(told if colon else line)
    return [f"{said}: {'; '.join(told)}" for said, told in found.items()]
