"""The picture of a tilt in a lesson: the unit in space, turned about its edge until it goes over by itself."""

from dataclasses import dataclass, replace

from loadplan.model.answer import Mode
from loadplan.planning.whatif import Shot
from loadplan.report.drawing.axonometric_projection import XYZ, Projection
from loadplan.report.drawing.label_placement import Ground
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import HAIRLINE, SHEET, Stroke
from loadplan.report.drawing.text_boxes import Tag, draw_tags
from loadplan.report.drawing.view import Box
from loadplan.report.lesson.load_bars import BOLD
from loadplan.report.lesson.stand_letters import ASIDE, stand_letters
from loadplan.report.pictures.axonometric_scene import SpaceScene, unit_space
from loadplan.report.pictures.axonometric_shapes import draw_space
from loadplan.report.pictures.axonometric_sight import Seen, arrow
from loadplan.report.pictures.axonometric_tilt import azimuth_along, body_moves, tilted
from loadplan.report.pictures.axonometric_view import AZIMUTH, ELEVATION, fitted
from loadplan.report.words.vocabulary import Reader

PULL = 0.25
"""Length of the arrow of a pull [m]."""


@dataclass(frozen=True, slots=True)
class TiltPicture:
    """A unit tilted about an edge by the angle at which it goes over that edge.

    Attributes:
        shot: The step.
        mode: The way it goes over, with its tip angle.
        body: The body that is pulled up.
        at: Where [m].
        words: What stands beside the pull.
    """

    shot: Shot
    mode: Mode
    body: str
    at: XYZ
    words: str


def draw_tilt(pen: Pen, box: Box, picture: TiltPicture, reader: Reader) -> None:
    """Draw a tilt.

    Args:
        pen: Draws it.
        box: Where.
        picture: What.
        reader: Who reads it.
    """
    stage = picture.shot.stage
    level = unit_space(picture.shot.assessment, stage)
    scene = tilted(level, picture.mode)
    projection = Projection(azimuth_along(picture.mode, AZIMUTH, ASIDE), ELEVATION)
    start = _pulled(level, picture)
    end = start[0], start[1], start[2] + PULL
    replace(pen, layer=Layer.GROUND).box(box, SHEET, Stroke(HAIRLINE, 1.5))
    seen = Seen(fitted(box, [*scene.places, end], projection), projection)
    drawn = draw_space(replace(pen, frame=box), seen, scene)
    over = replace(pen, layer=Layer.LABELS, frame=box)
    pulled = arrow(over, seen.page(start), seen.page(end))
    tags = [Tag((((reader.words(picture.words), BOLD),),), seen.box((end,)), (0.0, 1.0))]
    # A stand's letter on what is pulled up would be read as its name.
    raised = [seen.box(each.solid.corners) for each in scene.solids if each.body == picture.body]
    draw_tags(
        over,
        [*tags, *stand_letters(scene, drawn, reader)],
        Ground((*drawn.taken, *pulled), (*drawn.lines, *raised), box),
    )


def _pulled(level: SpaceScene, picture: TiltPicture) -> XYZ:
    """Return where the pull takes hold once the body is tilted [m]."""
    x, y, z = picture.at
    place = x, y, z + level.levels.rise(picture.body)
    moves = body_moves(level, picture.mode)
    return moves[picture.body](place) if picture.body in moves else place
