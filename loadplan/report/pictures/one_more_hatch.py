"""Where one more stand would help, hatched in a plan; what it needs is always said with it."""

from dataclasses import replace

from loadplan.checks.one_more import CELL, ONLY, one_more
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import HATCH, LABEL, SHEET
from loadplan.report.drawing.text_width import LINE, broken, text_width
from loadplan.report.drawing.view import Box, View
from loadplan.report.pictures.plan_content import PlanContent
from loadplan.report.words.vocabulary import Reader

ABOVE = 40
"""Room below the words, for the scale bar [px]."""

WIDEST = 420
"""Width of the words at most [px]."""


def cells_of(assessment: Assessment, stage: StageAssessment, scene: PlanContent) -> tuple[PlanPoint, ...]:
    """Find where one more stand would help what a scene is about.

    Args:
        assessment: The job, judged.
        stage: The stage.
        scene: What is shown.

    Returns:
        Middles of the cells [m].
    """
    shown = {body.name for body in scene.bodies}
    found = one_more(assessment.job, stage.state, stage.statics)
    return tuple(cell for each in found if each.body in shown for cell in each.cells)


def draw_hatch(pen: Pen, view: View, cells: tuple[PlanPoint, ...], reader: Reader) -> list[Box]:
    """Hatch cells, a stroke through each and those in a row in one line, and say what they are.

    Args:
        pen: Draws inside the view's frame.
        view: Where.
        cells: Middles of the cells [m]; none draws nothing.
        reader: Who reads it.

    Returns:
        What the words cover.
    """
    left = {(round(x / CELL - 0.5), round(y / CELL - 0.5)) for x, y in cells}
    hatching = replace(pen, layer=Layer.REGION, frame=view.frame)
    for along, across in sorted(left):
        if (along - 1, across - 1) not in left:
            many = next(each for each in range(1, len(left) + 1) if (along + each, across + each) not in left)
            ends = ((along + step) * CELL for step in (0, many)), ((across + step) * CELL for step in (0, many))
            hatching.line([view.page(x, y) for x, y in zip(*ends, strict=True)], HATCH)
    return [_words(replace(pen, layer=Layer.LABELS), view, reader)] if left else []


def _words(pen: Pen, view: View, reader: Reader) -> Box:
    """Return what the words cover, written over the scale bar."""
    room = min(WIDEST, view.frame.width - 28)
    rows = broken(reader.words(f"hatched: one more stand there would help, {ONLY}"), LABEL, room, most=4)
    high, wide = len(rows) * LABEL.size * LINE, max(text_width(row, LABEL) for row in rows)
    left, bottom = view.frame.left + 14, view.frame.bottom + ABOVE
    box = Box(left - 4, bottom, left + wide + 8, bottom + high + 6)
    pen.box(box, f"{SHEET}E0", None)
    pen.lines((left, box.top - 3), rows, LABEL)
    return box
