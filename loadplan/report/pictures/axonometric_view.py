"""The step in space: an axonometric view of the unit on its stands, to be turned; beside it the vehicle on the lift."""

from dataclasses import dataclass, replace
from math import degrees, radians

from loadplan.checks.phrases import names, several
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.axonometric_projection import XYZ, Projection
from loadplan.report.drawing.label_placement import Ground
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import HAIRLINE, LABEL, SHEET, Stroke
from loadplan.report.drawing.text_boxes import ROOMY, draw_tags, in_small_type, shortened
from loadplan.report.drawing.text_width import LINE, broken
from loadplan.report.drawing.view import Box, View, view_of
from loadplan.report.pictures.axonometric_labels import (
    centre_tags,
    chalk_tags,
    front_arrow,
    load_tags,
    pull_tags,
    small_load_tags,
)
from loadplan.report.pictures.axonometric_scene import SpaceScene, unit_space, vehicle_space
from loadplan.report.pictures.axonometric_shapes import draw_space
from loadplan.report.pictures.axonometric_sight import Seen
from loadplan.report.pictures.elevation_levels import undrawn
from loadplan.report.pictures.picture_key import SPACE_KEY, draw_key, key_high, key_of
from loadplan.report.pictures.tie_marks import draw_ties, marks_in, tie_tags
from loadplan.report.pictures.title_block import RIM, draw_surround
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.units import System

AZIMUTH = radians(30)
"""From where a step is seen unless said otherwise [rad]: from in front, a little from the left, so that no stand of a
rectangle stands behind another."""

ELEVATION = radians(25)
"""How high over the floor the viewer stands [rad]: the floor is seen, and heights stay long."""

TURNS = 8
"""How many views go once round."""

SIDE = 340
"""Width of the column beside the drawing [px]."""

ASIDE, ROUND = 90, 56
"""Room for words beside what is drawn, and above and below it [px]."""


@dataclass(frozen=True, slots=True)
class TurnedStep:
    """A step of a job, and from where it is seen."""

    assessment: Assessment
    stage: StageAssessment
    projection: Projection


def azimuths_round(first: float) -> tuple[float, ...]:
    """List eight azimuths that go once round.

    Args:
        first: The first of them [degrees], any number: from the front towards the left.

    Returns:
        Azimuths [degrees], each 45 further, from 0 to below 360.

    Example:
        >>> azimuths_round(-10)
        (350.0, 35.0, 80.0, 125.0, 170.0, 215.0, 260.0, 305.0)
    """
    return tuple((first + number * 360 / TURNS) % 360.0 for number in range(TURNS))


def draw_axonometric(paper: Paper, assessment: Assessment, step: tuple[int, float], units: System) -> None:
    """Draw one stage in space so that it fills the page.

    Args:
        paper: A page of some 1200 px or more in width.
        assessment: The job, judged.
        step: Number of the stage, from 0, and azimuth from which it is seen [rad].
        units: The reader's units.
    """
    stage = assessment.stages[step[0]]
    reader = reader_of(assessment.job, units)
    pen = Pen(paper, Layer.PAGE, None)
    middle = draw_surround(pen, paper.page, assessment, stage, reader)
    shown = TurnedStep(assessment, stage, Projection(step[1], ELEVATION))
    _main(pen, replace(middle, right=middle.right - SIDE - RIM), shown, reader)
    _beside(pen, replace(middle, left=middle.right - SIDE), shown, reader)


def _main(pen: Pen, box: Box, shown: TurnedStep, reader: Reader) -> None:
    """Draw the unit, large, with what the picture leaves out told below it."""
    scene = unit_space(shown.assessment, shown.stage)
    rows = [row for note in _notes(scene, shown) for row in broken(reader.words(note), LABEL, box.width, most=2)]
    high = LABEL.size * LINE * len(rows)
    pen.lines((box.left, box.bottom + high), rows, LABEL)
    draw_unit_in_space(pen, replace(box, bottom=box.bottom + high + 4), shown, reader)


def draw_unit_in_space(pen: Pen, frame: Box, shown: TurnedStep, reader: Reader) -> None:
    """Draw the unit of a step in space.

    Args:
        pen: Draws it.
        frame: Where.
        shown: The step, and from where it is seen.
        reader: Who reads it.
    """
    scene = unit_space(shown.assessment, shown.stage)
    seen = Seen(fitted(frame, scene.places, shown.projection), shown.projection)
    draw_scene_in_space(pen, seen, scene, reader)


def draw_scene_in_space(pen: Pen, seen: Seen, scene: SpaceScene, reader: Reader) -> None:
    """Draw a scene with its words.

    Args:
        pen: Draws it.
        seen: From where it is seen, and where on the page.
        scene: What is shown.
        reader: Who reads it.
    """
    frame = seen.view.frame
    drawn = draw_space(_ground(pen, frame), seen, scene)
    corner = front_arrow(replace(pen, layer=Layer.LABELS), frame, seen.projection)
    marks = marks_in(frame, scene.content, lambda tie: seen.page(scene.tie(tie)))
    covered = draw_ties(pen, marks)
    wide = frame.width >= ROOMY
    centres, loads = centre_tags(drawn, scene, reader), load_tags(drawn, scene, reader)
    tags = [
        *(centres if wide else shortened(centres)),
        *(loads if wide else in_small_type(loads)),
        *pull_tags(seen, scene, reader),
        *((*tie_tags(marks, reader), *chalk_tags(seen, scene, reader)) if wide else ()),
    ]
    draw_tags(replace(pen, layer=Layer.LABELS), tags, Ground((*drawn.taken, *covered, corner), drawn.lines, frame))


def _beside(pen: Pen, box: Box, shown: TurnedStep, reader: Reader) -> None:
    """Draw the whole vehicle on the lift, small, and the key."""
    scene = vehicle_space(shown.assessment, shown.stage)
    signs = key_of(SPACE_KEY, unit_space(shown.assessment, shown.stage).content, scene.content if scene else None)
    if scene is None:
        draw_key(pen, box, reader, signs)
        return
    key = replace(box, top=box.bottom + key_high(signs, box.width, reader))
    draw_key(pen, key, reader, signs)
    frame = replace(box, bottom=key.top + 6)
    seen = Seen(fitted(frame, scene.places, shown.projection), shown.projection)
    drawn = draw_space(_ground(pen, frame), seen, scene)
    tags = small_load_tags(drawn, scene, reader)
    draw_tags(replace(pen, layer=Layer.LABELS), tags, Ground(drawn.taken, drawn.lines, frame))


def fitted(frame: Box, places: list[XYZ], projection: Projection) -> View:
    """Return the view that shows all places as large as the frame lets it, with room for words.

    Args:
        frame: Where on the page.
        places: Places to show [m].
        projection: From where they are seen.

    Returns:
        The view; its places are up and left on the page [m].
    """
    flat = [(up, -right) for right, up in map(projection.project, places)]
    share = min(1.0, frame.width / 900)
    return view_of(frame, flat, ROUND * share, (ASIDE - ROUND) * share)


def _ground(pen: Pen, frame: Box) -> Pen:
    replace(pen, layer=Layer.GROUND).box(frame, SHEET, Stroke(HAIRLINE, 1.5))
    return replace(pen, frame=frame)


def _notes(scene: SpaceScene, shown: TurnedStep) -> list[str]:
    """Return what the picture leaves out or takes for granted, a sentence each."""
    around = [body.name for body in scene.content.around]
    lift = f"The {names(around)} {several(around, 'is', 'are')} left out here, and drawn in the small picture."
    seen = f"Seen from {degrees(shown.projection.azimuth) % 360:.0f} degrees to the left of straight ahead."
    return [
        seen,
        *([lift] if around else []),
        *scene.levels.told,
        *undrawn((*scene.content.bodies, *scene.content.around)),
    ]
