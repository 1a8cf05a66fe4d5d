"""The plan of one stage: the unit on its stands seen from above, to scale, front up."""

from dataclasses import replace

from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.label_placement import Ground
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import HAIRLINE, QUIET, SHEET, Stroke
from loadplan.report.drawing.text_boxes import draw_tags
from loadplan.report.drawing.text_width import text_width
from loadplan.report.drawing.view import Box, View, view_of
from loadplan.report.pictures.one_more_hatch import cells_of, draw_hatch
from loadplan.report.pictures.picture_key import KEY, draw_key, key_high, key_of
from loadplan.report.pictures.plan_content import PlanContent, unit_scene, vehicle_scene
from loadplan.report.pictures.plan_labels import edge_tags, mount_tags, small_stand_tags, stand_tags
from loadplan.report.pictures.plan_shapes import Drawn, draw_floor
from loadplan.report.pictures.rulers import draw_rulers
from loadplan.report.pictures.tie_marks import draw_ties, marks_in, tie_tags
from loadplan.report.pictures.title_block import (
    RIM,
    distances_high,
    draw_distances,
    draw_front,
    draw_scale,
    draw_surround,
)
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.units import System

SIDE = 340
"""Width of the column beside the drawing [px]."""

ASIDE = 50
"""Further room beside the unit, for letters and loads [px]."""

LEFT_RULER, LOWER_RULER = 150, 82
"""Room for the rulers [px]."""


def draw_plan(paper: Paper, assessment: Assessment, stage_index: int, units: System) -> None:
    """Draw the plan of one stage so that it fills the page.

    Args:
        paper: A page of some 1200 px or more in width.
        assessment: The job, judged.
        stage_index: Number of the stage, from 0.
        units: The reader's units.
    """
    stage = assessment.stages[stage_index]
    reader = reader_of(assessment.job, units)
    pen = Pen(paper, Layer.PAGE, None)
    middle = draw_surround(pen, paper.page, assessment, stage, reader)
    draw_unit(pen, replace(middle, right=middle.right - SIDE - RIM), assessment, stage, reader)
    _beside(pen, replace(middle, left=middle.right - SIDE), assessment, stage, reader)


def draw_unit(pen: Pen, box: Box, assessment: Assessment, stage: StageAssessment, reader: Reader) -> None:
    """Draw the unit of a stage on its stands, with its rulers.

    Args:
        pen: Draws it.
        box: Where.
        assessment: The job, judged.
        stage: The stage.
        reader: Who reads it.
    """
    scene = unit_scene(assessment, stage)
    frame = replace(box, left=box.left + LEFT_RULER, bottom=box.bottom + LOWER_RULER)
    view = view_of(frame, scene.extent, rim=70, aside=ASIDE)
    drawn = _floor(pen, view, scene)
    draw_rulers(pen, view, [support for support, _ in scene.supports], reader)
    corners = [draw_front(pen, view), *_chalk_words(pen, view, reader)]
    corners.append(draw_scale(pen, view, reader.units, (*drawn.taken, *drawn.lines, *corners)))
    marks = marks_in(frame, scene, lambda tie: view.page(*tie.at[:2]))
    corners += draw_ties(pen, marks)
    corners += draw_hatch(pen, view, cells_of(assessment, stage, scene), reader)
    tags = [
        *stand_tags(view, scene, drawn, reader),
        *edge_tags(scene, drawn, reader),
        *mount_tags(view, (*scene.mounts, *scene.links), reader),
        *tie_tags(marks, reader),
    ]
    draw_tags(replace(pen, layer=Layer.LABELS), tags, Ground((*drawn.taken, *corners), drawn.lines, frame))


def _beside(pen: Pen, box: Box, assessment: Assessment, stage: StageAssessment, reader: Reader) -> None:
    """Draw the whole vehicle, small, and the key."""
    scene = vehicle_scene(assessment, stage)
    signs = key_of(KEY, unit_scene(assessment, stage), scene)
    if scene is None:
        draw_key(pen, box, reader, signs)
        return
    key = replace(box, top=box.bottom + key_high(signs, box.width, reader))
    told = replace(box, top=key.top + distances_high(scene, box.width, reader))
    draw_key(pen, key, reader, signs)
    draw_distances(pen, told, scene, reader)
    frame = replace(box, bottom=told.top + 6)
    view = view_of(frame, scene.extent, rim=16)
    drawn = _floor(pen, view, scene)
    tags = small_stand_tags(view, scene, drawn, reader)
    draw_tags(replace(pen, layer=Layer.LABELS), tags, Ground(drawn.taken, drawn.lines, frame))


def _floor(pen: Pen, view: View, scene: PlanContent) -> Drawn:
    replace(pen, layer=Layer.GROUND).box(view.frame, SHEET, Stroke(HAIRLINE, 1.5))
    return draw_floor(replace(pen, frame=view.frame), view, scene)


def _chalk_words(pen: Pen, view: View, reader: Reader) -> list[Box]:
    """Return what the names of the chalk lines cover, written at the ends of the lines."""
    across, along = view.page(0.0, 0.0)
    frame = view.frame
    taken = []
    if frame.bottom + 30 < along < frame.top - 30:
        wide = text_width("axle line", QUIET)
        pen.words((frame.right - 6, along + 12), "axle line", QUIET, "right")
        taken.append(Box(frame.right - 12 - wide, along - 2, frame.right, along + 24))
    if frame.left + 100 < across < frame.right - 100:
        words, above = reader.words("centre line"), replace(pen, layer=Layer.LABELS)
        wide = text_width(words, QUIET)
        above.box(Box(across + 4, frame.top - 22, across + 8 + wide, frame.top - 2), SHEET, None)
        above.words((across + 6, frame.top - 12), words, QUIET)
        taken.append(Box(across, frame.top - 26, across + 12 + wide, frame.top))
    return taken
