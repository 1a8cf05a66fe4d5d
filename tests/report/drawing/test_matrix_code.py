"""The code on a sheet, module by module."""

from matplotlib.patches import PathPatch

from loadplan.report.drawing.matrix_code import QUIET_ZONE, draw_matrix_code
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.view import Box
from tests.report.painted import painted

FINDER = ("1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111")
"""Finder pattern of ISO/IEC 18004, 6.3.3.1: in three corners of the symbol."""


def test_the_code_has_its_finder_patterns_and_its_quiet_zone() -> None:
    room = Box(0.0, 0.0, 290.0, 290.0)
    code = "LOADPLAN F54AB5AD"
    ax = painted((290.0, 290.0), lambda paper: draw_matrix_code(Pen(paper, Layer.PAGE, None), room, code))
    path = next(each.get_path() for each in ax.get_children() if isinstance(each, PathPatch))
    boxes = [path.vertices[place : place + 5] for place in range(0, len(path.vertices), 5)]
    side = 21 + 2 * QUIET_ZONE
    module = 290.0 / side
    rows = [["0"] * side for _ in range(side)]
    for corners in boxes:
        top = round((290.0 - corners[:, 1].max()) / module)
        for place in range(round(corners[:, 0].min() / module), round(corners[:, 0].max() / module)):
            rows[top][place] = "1"
    told = ["".join(row) for row in rows]
    last = side - QUIET_ZONE - 7
    for top, left in ((QUIET_ZONE, QUIET_ZONE), (QUIET_ZONE, last), (last, QUIET_ZONE)):
        assert tuple(row[left : left + 7] for row in told[top : top + 7]) == FINDER
    assert set("".join(told[:QUIET_ZONE] + told[-QUIET_ZONE:])) == {"0"}
