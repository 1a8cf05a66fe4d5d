"""The table of the floor sheet: each stand with its tag, place, set height, shim, and what it carries."""

from dataclasses import dataclass, replace
from typing import TypeAlias

from loadplan.checks.check_table import CHECK_OF
from loadplan.model.answer import Load
from loadplan.model.job import Support
from loadplan.model.verdict import Assessment, Measure, Quantity
from loadplan.report.drawing.pagination import THIN, Block, folded, paragraph, points, space
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import Type
from loadplan.report.drawing.text_width import LINE, text_width
from loadplan.report.drawing.view import Box
from loadplan.report.sheet.stand_marks import marked
from loadplan.report.words.stage_tables import NONE, equipment_words, from_chalk
from loadplan.report.words.tape_words import height_words, setting
from loadplan.report.words.vocabulary import Reader

HEADS = ("stand", "equipment, tag", "under", "set height", "shim", "most on this floor", "% of rating")
EQUIPMENT, UNDER = 1, 2
"""Columns of the equipment, and of the place, which takes what the others leave."""

ROOMY = 200
"""Least width of that column [px]; with less it stands under the row."""

NARROW = 96
"""Widest of the columns with names [px]."""

WIDER = (NARROW, 140, 190, 240)
"""Widths that are tried for the first of them [px]: long names in a narrow column make rows high."""

GAP = 12
"""Between two columns [px]."""

HEAD = points(10)
"""Type of the heads."""


@dataclass(frozen=True, slots=True)
class TableType:
    """Types of a table [pt]: of the set heights, of the other figures, and of the places."""

    height: float
    figure: float
    place: float

    def of(self, column: int) -> Type:
        """Return the type of a column."""
        if HEADS[column] == "set height":
            return points(self.height, bold=True)
        return points(self.place) if column in {EQUIPMENT, UNDER} else points(self.figure, bold=column == 0)


@dataclass(frozen=True, slots=True)
class _Row:
    """The words of a row, and the text on where the stand goes."""

    cells: tuple[str, ...]
    under: str


@dataclass(frozen=True, slots=True)
class _Layout:
    """Room across, width of each column, 0 for none [px], and the types."""

    width: float
    columns: tuple[float, ...]
    kind: TableType


Cells: TypeAlias = list[tuple[list[str], Type]]
"""The lines of each cell of a row, with their type."""


def table_blocks(assessment: Assessment, width: float, kind: TableType, reader: Reader) -> list[Block]:
    """Lay out the table of a job's stands.

    Args:
        assessment: The job, judged.
        width: Room [px].
        kind: Its types.
        reader: Who reads it.

    Returns:
        A block a stand, which repeats the heads where it begins a page.
    """
    marks = [each.name for each in marked(assessment.job)]
    if marks != [each.name for each in assessment.job.supports]:
        kind = replace(kind, figure=kind.place)  # beside long names there is less room
    rows = [
        _row(assessment, support, mark, reader) for support, mark in zip(assessment.job.supports, marks, strict=True)
    ]
    if not rows:
        return paragraph("No stands: nothing but the lift.", points(kind.figure), width)
    tried = [_laid_out(rows, _Layout(width, _widths(rows, width, kind, widest), kind)) for widest in WIDER]
    return min(tried, key=lambda blocks: sum(block.high for block in blocks))


def _laid_out(rows: list[_Row], layout: _Layout) -> list[Block]:
    """Return the heads and the rows of a table."""
    heads: Cells = [
        (folded(word, HEAD, max(wide, 1.0)) if wide else [], HEAD)
        for word, wide in zip(HEADS, layout.columns, strict=True)
    ]
    head = replace(_drawn(heads, layout), keeps=True)
    body = [_drawn(_cells(row, layout), layout, again=(head,), under=row.under) for row in rows]
    return [space(6), head, *body]


def _row(assessment: Assessment, support: Support, mark: str, reader: Reader) -> _Row:
    """Return the cells of a stand over all steps, and what it stands under."""
    loads = [load for stage in assessment.stages if (load := stage.statics.load(support.name))]
    place = support.point or f"{support.body}, {from_chalk(*support.at[:2], reader)}"
    under = f"{place}: {support.say}" if support.say else place
    cells = (
        reader.words(support.name if mark == support.name else f"{mark} {support.name}"),
        reader.words(equipment_words(support)),
        "",
        height_words(support, reader),
        setting(support.shim.height, reader.units) if support.shim else NONE,
        *_carried(assessment, support, loads, reader),
    )
    return _Row(cells, reader.words(under))


def _carried(assessment: Assessment, support: Support, loads: list[Load], reader: Reader) -> tuple[str, str]:
    """Return the most that is carried on this floor over all steps, and its share of the rating."""
    if not loads:
        return NONE, NONE
    most = max(load.at_most for load in loads)
    shares = (most / support.equipment.rating_of_one, *_shares_of_piece(assessment, support))
    share = Quantity(max(shares), Measure.SHARE)
    asked = assessment.job.limits.rating_share
    return reader.load(most), reader.above(share, 1.0 if share.value > 1.0 else asked)


def _shares_of_piece(assessment: Assessment, support: Support) -> list[float]:
    """Return what one piece under several places, such as a table, carries of its rating in all: more than at one."""
    findings = (each for stage in assessment.stages for each in stage.findings if CHECK_OF[each.check].against_rating)
    mine = (each for each in findings if support.piece and each.subject == support.piece)
    return [each.value / each.limit for each in mine if each.measure is Measure.LOAD and each.value and each.limit]


def shim_words(assessment: Assessment, reader: Reader) -> str:
    """Tell of what each shim is.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        A sentence, "" without shims.
    """
    shims: dict[str, list[str]] = {}
    for each in marked(assessment.job):
        if each.shim and each.shim.wood:
            shims.setdefault(each.shim.wood, []).append(each.name)
    told = [f"{', '.join(letters)} {wood}" for wood, letters in shims.items()]
    return reader.words(f"Shims: {'; '.join(told)}.") if told else ""


def pair_words(assessment: Assessment, reader: Reader) -> str:
    """Tell of which stands only half of the rating as marked is counted.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        A sentence, "" where there are none.
    """
    halved = [each.name for each in marked(assessment.job) if each.equipment.rating_of_one < each.equipment.rating]
    return reader.words(f"Rated by the pair, half counts: {', '.join(halved)}.") if halved else ""


def _widths(rows: list[_Row], width: float, kind: TableType, widest: float) -> tuple[float, ...]:
    """Return the width of each column [px], 0 for the place where too little is left for it; of names the widest."""
    widths = [_natural(column, rows, kind, NARROW if column else widest) for column in range(len(HEADS))]
    left = width - sum(widths) + widths[UNDER] - GAP * (len(HEADS) - 1)
    widths[UNDER] = left if left >= ROOMY else 0.0
    spare = left if left < ROOMY else 0.0
    return tuple(each + (spare / len(widths) if number != UNDER else 0.0) for number, each in enumerate(widths))


def _natural(column: int, rows: list[_Row], kind: TableType, widest: float) -> float:
    """Return the width that a column asks for [px]: its widest cell, but at least the longest word of its head."""
    cells = max(text_width(row.cells[column], kind.of(column)) for row in rows)
    head = max(text_width(word, HEAD) for word in HEADS[column].split())
    return max(min(cells, widest) if column < UNDER else cells, head) + 2


def _cells(row: _Row, layout: _Layout) -> Cells:
    """Return the lines of each cell; none in a column that has no room."""
    texts = [row.under if number == UNDER else text for number, text in enumerate(row.cells)]
    return [
        (folded(text, layout.kind.of(number), width) if width else [], layout.kind.of(number))
        for number, (text, width) in enumerate(zip(texts, layout.columns, strict=True))
    ]


def _drawn(cells: Cells, layout: _Layout, *, again: tuple[Block, ...] = (), under: str = "") -> Block:
    """Return a row as a block; where the place has no column it stands under the row."""
    body = layout.kind.of(UNDER)
    below = folded(under, body, layout.width - GAP) if under and not layout.columns[UNDER] else []
    first = max(LINE * kind.size for _, kind in cells)
    upper = max(len(lines) * LINE * kind.size + _inset(lines, kind, first) for lines, kind in cells)

    def draw(pen: Pen, box: Box) -> None:
        left = box.left
        for (lines, kind), wide in zip(cells, layout.columns, strict=True):
            pen.lines((left, box.top - 2 - _inset(lines, kind, first)), lines, kind)
            left += wide + (GAP if wide else 0)
        pen.lines((box.left + GAP, box.top - 2 - upper), below, body)
        pen.line([(box.left, box.bottom), (box.right, box.bottom)], THIN)

    return Block(upper + len(below) * LINE * body.size + 3, draw, again=again)


def _inset(lines: list[str], kind: Type, first: float) -> float:
    """Return how far down a cell begins [px]: a single line on the line of the largest type, more lines at the top."""
    return (first - LINE * kind.size) / 2 if len(lines) < 2 else 0.0
