"""Marks of what has to be off or tied up, such as hoses and harnesses, at their places on the plan."""

from dataclasses import replace

from loadplan.model.vehicle import PlanPoint, TieUp
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import INK, QUIET, Stroke
from loadplan.report.drawing.text_boxes import Tag
from loadplan.report.drawing.view import Box, View
from loadplan.report.pictures.plan_content import PlanContent
from loadplan.report.words.vocabulary import Reader

HALF = 9
"""Half the size of a mark [px]."""


def draw_ties(pen: Pen, view: View, scene: PlanContent) -> list[Box]:
    """Draw a square on its corner at each place.

    Args:
        pen: Draws it.
        view: Where.
        scene: What the plan shows.

    Returns:
        What the marks cover.
    """
    boxes = [_box(view, tie.at[:2]) for tie in _seen(view, scene)]
    for box in boxes:
        across, along = box.middle
        corners = [(across, box.top), (box.right, along), (across, box.bottom), (box.left, along), (across, box.top)]
        replace(pen, layer=Layer.STANDS).line(corners, Stroke(INK, 2.2))
    return boxes


def tie_tags(view: View, scene: PlanContent, reader: Reader) -> list[Tag]:
    """Write what has to be done beside each mark.

    Args:
        view: Where.
        scene: What the plan shows.
        reader: Who reads it.

    Returns:
        A tag a mark in the view.
    """
    return [
        Tag((((reader.words(f"{tie.name} {tie.what.value}"), QUIET),),), _box(view, tie.at[:2]), (0.0, 0.0))
        for tie in _seen(view, scene)
    ]


def _seen(view: View, scene: PlanContent) -> list[TieUp]:
    return [tie for tie in scene.ties if view.shows(*tie.at[:2])]


def _box(view: View, at: PlanPoint) -> Box:
    """Return what a mark covers."""
    across, along = view.page(*at)
    return Box(across - HALF, along - HALF, across + HALF, along + HALF)
