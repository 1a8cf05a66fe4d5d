"""A text as a code of black and white squares (ISO/IEC 18004) that a phone reads."""

import segno

from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import SHEET
from loadplan.report.drawing.view import Box

QUIET_ZONE = 4
"""Free modules on every side that the standard asks for."""

BLACK = "#000000"
"""Readers want as much contrast as there is."""


def draw_matrix_code(pen: Pen, box: Box, text: str) -> None:
    """Draw the code of a text, with its quiet zone, as large as a box lets it.

    Args:
        pen: Draws it.
        box: Where.
        text: Capitals, figures, blanks and " $%*+-./:", which take the least room.
    """
    rows = [list(row) for row in segno.make_qr(text, error="m").matrix_iter(border=QUIET_ZONE)]
    module = min(box.width, box.height) / len(rows)
    pen.box(Box(box.left, box.top - module * len(rows), box.left + module * len(rows), box.top), SHEET, None)
    runs = [
        Box(box.left + start * module, top - module, box.left + end * module, top)
        for top, row in ((box.top - number * module, row) for number, row in enumerate(rows))
        for start, end in _dark_runs(row)
    ]
    pen.cells(runs, BLACK)


def _dark_runs(row: list[int]) -> list[tuple[int, int]]:
    """Return where dark modules lie side by side in a row: first, and the one behind the last."""
    framed = [0, *row, 0]
    edges = [place for place in range(len(row) + 1) if framed[place] != framed[place + 1]]
    return list(zip(edges[::2], edges[1::2], strict=True))
