"""A bay in the register on paper: its days as a picture, and each of its jobs with a bar a piece of equipment."""

from dataclasses import replace
from datetime import date

from loadplan.errors import printable
from loadplan.model.verdict import Verdict
from loadplan.planning.register.bookings import Demand, Register
from loadplan.planning.register.job_entry import Entry, RegisterRow
from loadplan.report.drawing.pagination import THIN, Block, folded, paragraph, points, space
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import BODIES, EDGE, HAIRLINE, INK, Stroke
from loadplan.report.drawing.text_width import LINE, broken
from loadplan.report.drawing.view import Box
from loadplan.report.pictures.verdict_colours import livery
from loadplan.report.text.register_page import days, load_words, marked_words, place_words, share_of, stands_at
from loadplan.report.words.vocabulary import basis_words, shown_verdict, unsigned
from loadplan.units import System

LANE, AXIS = 24, 22
"""Height of a job's bar in the picture of a bay, and of the days above them [px]."""

MOST_MARKS = 8
"""Most days that are written over a picture."""

SHARES = (0.15, 0.23, 0.24, 0.09, 0.125, 0.165)
"""Width of each column of a job's table: stand, equipment, rating, most load, inspection due, bar."""

HEADS = ("stand", "equipment, tag", "rating as marked; counted", "most load", "inspected until", "% of rating counted")
SMALL, FIGURE = points(9), points(10.5)

FULL = 1.1
"""Share of the rating at the end of a bar's room."""


def bay_days(found: Register, bay: str) -> Block:
    """Draw the days of a bay: a bar a job, in its verdict's colour; days on which two jobs want the lift are ringed.

    Args:
        found: The register.
        bay: The bay, "" for jobs without a lift.

    Returns:
        One block.
    """
    here = [(number, entry) for number, entry in enumerate(found.entries) if entry.bay == bay]
    first, last = min(entry.first for _, entry in here), max(entry.last for _, entry in here)
    whole = (last - first).days + 1

    def draw(pen: Pen, box: Box) -> None:
        part = box.width / whole
        for day in range(0, whole, max(1, -(-whole // MOST_MARKS))):
            x = box.left + day * part
            replace(pen, layer=Layer.FLOOR).line([(x, box.bottom), (x, box.top)], Stroke(HAIRLINE, 1.0))
            pen.words((x + 2, box.top - AXIS / 2), date.fromordinal(first.toordinal() + day).isoformat(), SMALL)
        for lane, (number, entry) in enumerate(here):
            top = box.top - AXIS - lane * LANE
            left = box.left + (entry.first - first).days * part
            right = box.left + ((entry.last - first).days + 1) * part
            _job_bar(pen, Box(left, top - LANE + 4, right, top), box.right, (number, entry))
        for clash in found.clashes:
            if clash.ask is Demand.LIFT and any(number in clash.entries for number, _ in here):
                left = box.left + max((clash.first - first).days, 0) * part
                right = box.left + min((clash.last - first).days + 1, whole) * part
                if left < right:
                    ring = Box(left, box.bottom + 2, right, box.top - AXIS + 2)
                    pen.box(ring, None, Stroke(livery(Verdict.STOP).line, 2.5, (4, 2)))

    return Block(AXIS + LANE * len(here) + 8, draw)


def _job_bar(pen: Pen, bar: Box, edge: float, job: tuple[int, Entry]) -> None:
    """Draw the days of a job; its words stand in the bar, or beside it where that is too short."""
    number, entry = job
    look = livery(entry.verdict)
    pen.box(bar, look.fill, Stroke(INK, 1.2))
    # In grey a stop is as dark as what holds, so it is said, too.
    verdict = f"{entry.verdict.name}: " if entry.verdict > Verdict.NOTE else ""
    words = f"{number + 1}  {verdict}{printable(entry.title)}"
    inside = broken(words, FIGURE, bar.width - 12, most=1)[0]
    if inside == words or edge - bar.right < bar.width:
        pen.words((bar.left + 6, bar.middle[1]), inside, replace(FIGURE, colour=look.text))
    else:
        pen.words((bar.right + 6, bar.middle[1]), broken(words, FIGURE, edge - bar.right - 10, most=1)[0], FIGURE)


def job_blocks(number: int, entry: Entry, width: float, units: System) -> list[Block]:
    """Lay out a job: its verdict, what it takes with a bar a piece, what is to be said of it, and who signs.

    Args:
        number: Its number in the register, from 0.
        entry: The job.
        width: Room [px].
        units: The reader's units.

    Returns:
        Its blocks; they stay together where they can.
    """
    look = livery(entry.verdict)
    shown = points(12, bold=True, colour=look.line)
    about = f"{entry.vehicle}; {days(entry.first, entry.last)}; weights: {basis_words(entry.basis)}; {entry.file}"
    blocks = [
        space(8),
        *paragraph(f"{number + 1}  {printable(entry.title)}", points(13, bold=True), width),
        *paragraph(shown_verdict(entry.verdict, entry.basis), shown, width),
        *paragraph(printable(about), points(10.5), width),
        *(paragraph(printable(stands_at(entry)), points(10.5, bold=True), width) if entry.standing else ()),
        _row(HEADS, None, width),
        *(_piece(row, width, units) for row in entry.rows),
    ]
    blocks += [block for each in entry.remarks for block in paragraph(printable(each), points(10.5), width, "•")]
    why_not = unsigned(entry.verdict, entry.basis)
    sign = paragraph(why_not, points(10.5, bold=True), width) if why_not else [_signature(width)]
    return [*(replace(each, keeps=True) for each in blocks), *sign]


def _piece(row: RegisterRow, width: float, units: System) -> Block:
    """Return a row of a job's table."""
    equipment = f"{row.equipment}, {row.tag}" if row.tag else row.equipment
    marked, counted = marked_words(row, units), load_words(row.counted, units)
    cells = (
        printable(place_words(row)),
        printable(equipment),
        marked if marked in (counted, f"{counted} each") else f"{marked}; {counted}",
        load_words(row.most, units),
        row.due.isoformat() if row.due else "-",
        share_of(row),
    )
    return _row(cells, row.share, width)


def _row(cells: tuple[str, ...], share: float | None, width: float) -> Block:
    """Return words in columns; in the last a bar of the share stands beside its figure."""
    kind = SMALL if cells is HEADS else FIGURE
    told = [folded(cell, kind, part * width - 8) for cell, part in zip(cells, SHARES, strict=True)]

    def draw(pen: Pen, box: Box) -> None:
        left = box.left
        for lines, part in zip(told, SHARES, strict=True):
            pen.lines((left, box.top - 1), lines, kind)
            left += part * width
        if share is not None:
            _bar(pen, Box(left - SHARES[-1] * width + 46, box.top - 18, box.right, box.top - 4), share)
        pen.line([(box.left, box.bottom), (box.right, box.bottom)], THIN)

    return Block(LINE * kind.size * max(map(len, told)) + 4, draw)


def _bar(pen: Pen, room: Box, share: float) -> None:
    """Draw a share of a rating, with a line at the whole of it; above that in the colour of a stop."""
    part = min(share / FULL, 1.0) * room.width
    pen.box(room, None, Stroke(HAIRLINE, 1.0))
    fill = livery(Verdict.STOP).fill if share > 1.0 else BODIES[1]
    pen.box(Box(room.left, room.bottom, room.left + part, room.top), fill, Stroke(EDGE, 1.0))
    x = room.left + room.width / FULL
    pen.line([(x, room.bottom - 2), (x, room.top + 2)], Stroke(INK, 2.0))


def _signature(width: float) -> Block:
    """Return two lines to sign on."""

    def draw(pen: Pen, box: Box) -> None:
        for who, left in (("Set by", box.left), ("Checked by", box.left + width / 2)):
            pen.words((left, box.bottom + 10), who, FIGURE)
            pen.line([(left + 80, box.bottom + 4), (left + width / 2 - 20, box.bottom + 4)], Stroke(INK, 1.2))

    return Block(40, draw)
