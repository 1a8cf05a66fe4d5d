"""The table of the floor sheet: each stand with its tag, place, set height, shim, and what it carries."""

from dataclasses import dataclass, replace
from typing import TypeAlias

from loadplan.model.answer import Load
from loadplan.model.job import Support
from loadplan.model.verdict import Assessment, Measure, Quantity
from loadplan.report.drawing.pagination import THIN, Block, folded, paragraph, points, space
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import Type
from loadplan.report.drawing.text_width import LINE, text_width
from loadplan.report.drawing.view import Box
from loadplan.report.words.stage_tables import NONE, from_chalk
from loadplan.report.words.tape_words import height_words, setting
from loadplan.report.words.vocabulary import Reader

HEADS = ("stand", "tag", "under", "set height", "shim", "carries", "most", "% of rating")
UNDER = 2
"""Column of the place, which takes what the others leave."""

ROOMY = 240
"""Least width of that column [px]; with less it stands under the row."""

NARROW = 110
"""Widest of the columns with names [px]."""

GAP = 12
"""Between two columns [px]."""

BODY, HEAD, SET = points(16), points(12), points(20, bold=True)


@dataclass(frozen=True, slots=True)
class _Row:
    """The words of a row, and the text on where the stand goes."""

    cells: tuple[str, ...]
    under: str


@dataclass(frozen=True, slots=True)
class _Layout:
    """Room across, and width of each column, 0 for none [px]."""

    width: float
    columns: tuple[float, ...]


Cells: TypeAlias = list[tuple[list[str], Type]]
"""The lines of each cell of a row, with their type."""


def table_blocks(assessment: Assessment, width: float, reader: Reader) -> list[Block]:
    """Lay out the table of a job's stands.

    Args:
        assessment: The job, judged.
        width: Room [px].
        reader: Who reads it.

    Returns:
        A block a stand, which repeats the heads where it begins a page.
    """
    rows = [_row(assessment, support, reader) for support in assessment.job.supports]
    if not rows:
        return paragraph("No stands: nothing but the lift.", BODY, width)
    layout = _Layout(width, _widths(rows, width))
    heads: Cells = [
        (folded(word, HEAD, max(wide, 1.0)) if wide else [], HEAD)
        for word, wide in zip(HEADS, layout.columns, strict=True)
    ]
    head = replace(_drawn(heads, layout), keeps=True)
    body = [_drawn(_cells(row, layout.columns), layout, again=(head,), under=row.under) for row in rows]
    note = "carries, most: the largest of all steps, most with the unevenness of this floor. % of rating: of the most."
    return [space(8), head, *body, *paragraph(note, points(12), width), *_equipment(assessment, width, reader)]


def _row(assessment: Assessment, support: Support, reader: Reader) -> _Row:
    """Return the cells of a stand over all steps, and what it stands under."""
    loads = [load for stage in assessment.stages if (load := stage.statics.load(support.name))]
    place = support.point or f"{support.body}, {from_chalk(*support.at[:2], reader)}"
    under = f"{place}: {support.say}" if support.say else place
    wood = f"; shim: {support.shim.wood}" if support.shim and support.shim.wood else ""
    cells = (
        reader.words(support.name),
        reader.words(support.tag) or NONE,
        "",
        height_words(support, reader),
        setting(support.shim.height, reader.units) if support.shim else NONE,
        *_carried(assessment, support, loads, reader),
    )
    return _Row(cells, reader.words(under + wood))


def _carried(assessment: Assessment, support: Support, loads: list[Load], reader: Reader) -> tuple[str, str, str]:
    """Return the most that is carried as expected and on this floor over all steps, and its share of the rating."""
    if not loads:
        return NONE, NONE, NONE
    most = max(load.at_most for load in loads)
    share = Quantity(most / support.equipment.rating_of_one, Measure.SHARE)
    asked = assessment.job.limits.rating_share
    told = reader.above(share, 1.0 if share.value > 1.0 else asked)
    return reader.load(max(load.expected for load in loads)), reader.load(most), told


def _equipment(assessment: Assessment, width: float, reader: Reader) -> list[Block]:
    """Return which piece of equipment each stand is."""
    kinds: dict[str, list[str]] = {}
    for support in assessment.job.supports:
        kinds.setdefault(support.equipment.name, []).append(support.name)
    told = "; ".join(f"{name}: {', '.join(letters)}" for name, letters in kinds.items())
    return paragraph(reader.words(f"Equipment: {told}."), points(14), width)


def _widths(rows: list[_Row], width: float) -> tuple[float, ...]:
    widths = [_natural(column, rows) for column in range(len(HEADS))]
    left = width - sum(widths) + widths[UNDER] - GAP * (len(HEADS) - 1)
    widths[UNDER] = left if left >= ROOMY else 0.0
    spare = left if left < ROOMY else 0.0
    return tuple(each + (spare / len(widths) if number != UNDER else 0.0) for number, each in enumerate(widths))


def _natural(column: int, rows: list[_Row]) -> float:
    """Return the width that a column asks for [px]: its widest cell, but at least the longest word of its head."""
    cells = max(text_width(row.cells[column], _type(column)) for row in rows)
    head = max(text_width(word, HEAD) for word in HEADS[column].split())
    return max(min(cells, NARROW) if column < UNDER else cells, head) + 2


def _type(column: int) -> Type:
    return SET if HEADS[column] == "set height" else BODY if column else points(16, bold=True)


def _cells(row: _Row, widths: tuple[float, ...]) -> Cells:
    texts = [row.under if number == UNDER else text for number, text in enumerate(row.cells)]
    return [
        (folded(text, _type(number), width) if width else [], _type(number))
        for number, (text, width) in enumerate(zip(texts, widths, strict=True))
    ]


def _drawn(cells: Cells, layout: _Layout, *, again: tuple[Block, ...] = (), under: str = "") -> Block:
    """Return a row as a block; where the place has no column it stands under the row."""
    below = folded(under, BODY, layout.width - GAP) if under and not layout.columns[UNDER] else []
    first = max(LINE * kind.size for _, kind in cells)
    upper = max(len(lines) * LINE * kind.size + (first - LINE * kind.size) / 2 for lines, kind in cells)

    def draw(pen: Pen, box: Box) -> None:
        left = box.left
        for (lines, kind), wide in zip(cells, layout.columns, strict=True):
            pen.lines((left, box.top - 2 - (first - LINE * kind.size) / 2), lines, kind)
            left += wide + (GAP if wide else 0)
        pen.lines((box.left + GAP, box.top - 2 - upper), below, BODY)
        pen.line([(box.left, box.bottom), (box.right, box.bottom)], THIN)

    return Block(upper + len(below) * LINE * BODY.size + 6, draw, again=again)
