"""The last page of the floor sheet: what was assumed and not checked, and the limits with their sources."""

from dataclasses import fields

from loadplan.limits import Limits, limit_text
from loadplan.model.verdict import Assessment, Measure, Quantity
from loadplan.report.drawing.pagination import POINT, Block, fewest_pages, heading, paragraph, points, tables
from loadplan.report.drawing.style import INK, MONO, Type
from loadplan.report.drawing.text_width import text_width
from loadplan.report.sheet.front_page import SheetPage
from loadplan.report.text.proof import proof_page
from loadplan.report.words.number_format import write
from loadplan.report.words.vocabulary import Reader
from loadplan.units import Kind, System, from_si

MEASURES = {
    Kind.SHARE: Measure.SHARE,
    Kind.LENGTH: Measure.LENGTH,
    Kind.ANGLE: Measure.ANGLE,
    Kind.FORCE: Measure.FORCE,
}
"""What a limit measures, as sentences have it."""

SIZES = (10.5, 9.5)
"""Types of the lists [pt]: the first with which they take the fewest pages."""


def last_blocks(assessment: Assessment, paper: SheetPage, reader: Reader) -> list[Block]:
    """Lay out the page on what the sheet rests on.

    Args:
        assessment: The job, judged.
        paper: The paper.
        reader: Who reads it.

    Returns:
        What was assumed and not checked, and the limits with their sources.
    """
    lists = (
        ("Assumed", [reader.words(text) for text in assessment.assumed]),
        ("Not checked", [reader.sentence(says) for says in assessment.not_checked]),
        ("Limits, with their sources", _limits(assessment.job.limits, reader)),
    )
    tries = ([block for title, texts in lists for block in _list(title, texts, size, paper.width)] for size in SIZES)
    return fewest_pages(tries, paper.room)


def proof_blocks(assessment: Assessment, paper: SheetPage, reader: Reader) -> list[Block]:
    """Lay out the pages of the proof, for whoever adds up the loads himself.

    Args:
        assessment: The job, judged.
        paper: The paper.
        reader: Who reads it.

    Returns:
        A block a line.
    """
    figures = Type(paper.width / WIDEST / LETTER_WIDE, bold=False, colour=INK, family=MONO)
    return [
        *heading("Proof numbers", points(15, bold=True), paper.width),
        *tables(proof_page(assessment, reader.units).splitlines()[1:], figures),
    ]


def _list(title: str, texts: list[str], size: float, width: float) -> list[Block]:
    lines = [block for text in texts for block in paragraph(text, points(size), width, "•")]
    return [*heading(title, points(14, bold=True), width), *(lines or paragraph("Nothing.", points(size), width))]


def _limits(limits: Limits, reader: Reader) -> list[str]:
    """Return each limit; one that the job set itself has no other source."""
    usual = Limits()
    told = []
    for each in fields(limits):
        text, value = limit_text(each.name), getattr(limits, each.name)
        said = f"{value:g}" if text.kind is None else _exactly(value, text.kind, reader.units)
        source = text.source if value == getattr(usual, each.name) else "set by this job"
        told.append(reader.words(f"{text.words}: {said} ({source})"))
    return told


def _exactly(value: float, kind: Kind, units: System) -> str:
    """Return a limit in words, exactly: one of 5 mm in eighths of an inch would read as more than it is."""
    if kind is Kind.LENGTH and units is System.US:
        return f"{from_si(value, kind, units):.2f} in"
    return write(Quantity(value, MEASURES[kind]), units)


WIDEST = 100
"""Most characters of a line of the proof."""

LETTER_WIDE = text_width("0" * WIDEST, Type(POINT * 10, bold=False, colour=INK, family=MONO)) / WIDEST / (POINT * 10)
"""Width of a letter of the figures' font by its size."""
