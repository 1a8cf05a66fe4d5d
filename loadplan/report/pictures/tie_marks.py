"""Marks of what has to be off or tied up, such as hoses and harnesses, at their places in plans and views."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from loadplan.model.vehicle import TieUp
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import QUIET
from loadplan.report.drawing.text_boxes import Tag, told_apart
from loadplan.report.drawing.view import XY, Box
from loadplan.report.pictures.plan_content import PlanContent
from loadplan.report.pictures.signs import TIE, tie_sign
from loadplan.report.words.vocabulary import Reader


@dataclass(frozen=True, slots=True)
class TieMark:
    """What has to be off or tied up, and what its mark covers on the page."""

    tie: TieUp
    box: Box


def marks_in(frame: Box, scene: PlanContent, place: Callable[[TieUp], XY]) -> tuple[TieMark, ...]:
    """Find the marks that lie in the frame of a drawing.

    Args:
        frame: The frame [px].
        scene: What the drawing shows.
        place: Says where on the page [px] a tie is.

    Returns:
        A mark each.
    """
    found = ((tie, place(tie)) for tie in scene.ties)
    return tuple(TieMark(tie, Box(x, y, x, y).grown(TIE)) for tie, (x, y) in found if frame.holds((x, y)))


def draw_ties(pen: Pen, marks: tuple[TieMark, ...]) -> list[Box]:
    """Draw a square on its corner at each place.

    Args:
        pen: Draws it.
        marks: The marks.

    Returns:
        What they cover.
    """
    for mark in marks:
        tie_sign(replace(pen, layer=Layer.STANDS), mark.box.middle)
    return [mark.box for mark in marks]


def tie_tags(marks: tuple[TieMark, ...], reader: Reader) -> list[Tag]:
    """Write what has to be done beside each mark.

    Args:
        marks: The marks.
        reader: Who reads it.

    Returns:
        A tag a mark.
    """
    return told_apart([
        Tag((((reader.words(f"{mark.tie.name} {mark.tie.what.value}"), QUIET),),), mark.box, (0.0, 0.0))
        for mark in marks
    ])
