"""The picture of a unit that leans and goes: in space, turned about its edge by some angle."""

from dataclasses import dataclass, replace
from math import radians

from loadplan.model.answer import Mode
from loadplan.planning.whatif import Shot
from loadplan.report.drawing.axonometric_projection import Projection
from loadplan.report.drawing.label_placement import Ground
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import HAIRLINE, SHEET, Stroke
from loadplan.report.drawing.text_boxes import draw_tags
from loadplan.report.drawing.view import Box
from loadplan.report.lesson.stand_letters import ASIDE, stand_letters
from loadplan.report.pictures.axonometric_scene import unit_space
from loadplan.report.pictures.axonometric_shapes import draw_space
from loadplan.report.pictures.axonometric_sight import Seen
from loadplan.report.pictures.axonometric_tilt import azimuth_along, body_moves, tilted
from loadplan.report.pictures.axonometric_view import AZIMUTH, ELEVATION, fitted
from loadplan.report.words.vocabulary import Reader

FURTHEST = radians(30)
"""How far the last picture leans [rad]."""


@dataclass(frozen=True, slots=True)
class LeanPicture:
    """A unit that goes over, on its way.

    Attributes:
        shot: The step.
        mode: The way it goes over.
        share: How far it has gone, from 0 to 1.
    """

    shot: Shot
    mode: Mode
    share: float


def way_it_goes(shot: Shot) -> Mode | None:
    """Find the way in which what a step shows goes over.

    Args:
        shot: The step.

    Returns:
        The mode that is furthest past its edge; None where it stands, or is free to rock.
    """
    modes = [mode for group in shot.stage.statics.groups for mode in group.modes if mode.work <= 0]
    return min(modes, key=lambda mode: min(margin for _, margin in mode.margins), default=None)


def draw_lean(pen: Pen, box: Box, picture: LeanPicture, reader: Reader) -> None:
    """Draw a unit on its way over, in a frame that is the same for the whole way.

    Args:
        pen: Draws it.
        box: Where.
        picture: What.
        reader: Who reads it.
    """
    stage = picture.shot.stage
    level = unit_space(picture.shot.assessment, stage)
    scene = tilted(level, replace(picture.mode, tip_angle=picture.share * FURTHEST))
    gone = body_moves(level, picture.mode)
    furthest = tilted(level, replace(picture.mode, tip_angle=FURTHEST))
    projection = Projection(azimuth_along(picture.mode, AZIMUTH, ASIDE), ELEVATION)
    replace(pen, layer=Layer.GROUND).box(box, SHEET, Stroke(HAIRLINE, 1.5))
    seen = Seen(fitted(box, [*level.places, *furthest.places], projection), projection)
    drawn = draw_space(replace(pen, frame=box), seen, scene)
    # A stand's letter on what leans would be read as its name; for the whole way, so that letters do not jump about.
    leaning = [seen.box(each.solid.corners) for way in (level, furthest) for each in way.solids if each.body in gone]
    ground = Ground(drawn.taken, (*drawn.lines, *leaning), box)
    draw_tags(replace(pen, layer=Layer.LABELS, frame=box), stand_letters(scene, drawn, reader), ground)
