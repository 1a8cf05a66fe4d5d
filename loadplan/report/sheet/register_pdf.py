"""The register on paper, A4: the same lines as on a terminal, a block of them kept together where it fits."""

from collections.abc import Callable, Iterator, Sequence

from matplotlib.axes import Axes

from loadplan.planning.register.bookings import Register
from loadplan.report.drawing.page_axes import PX, page_of
from loadplan.report.drawing.save_figure import document
from loadplan.report.drawing.style import INK, POINTS_PER_PX
from loadplan.report.pictures.verdict_colours import livery
from loadplan.report.text.register_page import Block, RegisterLine, register_blocks
from loadplan.report.words.cautions import ONE_LINE
from loadplan.report.words.columns import WIDTH, indented
from loadplan.units import System

FONT = "DejaVu Sans Mono"
"""Comes with matplotlib; every letter as wide as the next, so that columns stay columns."""

LETTER = 1233 / 2048
"""Width of a letter of that font by its size."""

PAGE = (210 / 25.4 * PX, 297 / 25.4 * PX)
"""Width and height of the sheet [px]: A4."""

MARGIN = 12 / 25.4 * PX
"""Free edge [px]."""

SIZE = (PAGE[0] - 2 * MARGIN) / LETTER / WIDTH
"""Size of the type [px]: the widest line fills the sheet."""

LEADING = 1.3 * SIZE
"""Distance of lines [px]."""

FOOT = tuple(indented("", ONE_LINE, WIDTH))
"""What stands at the foot of each sheet, over its number."""

LINES = int((PAGE[1] - 2 * MARGIN) / LEADING) - 2 - len(FOOT)
"""Lines of a sheet; the others are left for its foot."""


def register_pdf(found: Register, units: System) -> bytes:
    """Print the register.

    Args:
        found: The register.
        units: The reader's units.

    Returns:
        Content of a PDF file; equal for equal input.
    """
    blocks = [block for block in register_blocks(found, units) if tuple(line.text for line in block) != FOOT]
    sheets = list(_sheets(blocks))
    feet = [f"Sheet {number} of {len(sheets)}" for number in range(1, len(sheets) + 1)]
    return document([(PAGE, _drawn(lines, foot)) for lines, foot in zip(sheets, feet, strict=True)], "Shop register")


def _sheets(blocks: Sequence[Block]) -> Iterator[list[RegisterLine]]:
    """Yield the lines of each sheet; a block longer than a sheet goes on over the next."""
    lines: list[RegisterLine] = []
    for block in blocks:
        if lines and len(lines) + 1 + len(block) > LINES:
            yield lines
            lines = []
        lines += [RegisterLine(""), *block] if lines else block
        while len(lines) > LINES:
            yield lines[:LINES]
            lines = lines[LINES:]
    if lines:
        yield lines


def _drawn(lines: list[RegisterLine], foot: str) -> Callable[[Axes], None]:
    """Return what draws one page: its lines from the top down, and below them the foot."""

    def draw(ax: Axes) -> None:
        page = page_of(ax)
        for number, line in enumerate(lines):
            _write(ax, line, page.top - MARGIN - (number + 1) * LEADING)
        for number, text in enumerate((*FOOT, foot.rjust(WIDTH))):
            _write(ax, RegisterLine(text), MARGIN + (len(FOOT) - number) * LEADING)

    return draw


def _write(ax: Axes, line: RegisterLine, y: float) -> None:
    """Write a line at a height [px]: headings bold, verdicts bold in their colour."""
    if line.text.strip():
        ax.text(
            MARGIN,
            y,
            line.text,
            size=SIZE * POINTS_PER_PX,
            family=FONT,
            weight="bold" if line.heading or line.verdict is not None else "normal",
            color=INK if line.verdict is None else livery(line.verdict).line,
        )
