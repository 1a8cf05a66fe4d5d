"""What the two pictures of a unit that goes over share: from where it is seen, and the letters of its stands."""

from math import radians

from loadplan.report.drawing.text_boxes import Row, Tag, told_apart
from loadplan.report.drawing.text_width import broken
from loadplan.report.lesson.load_bars import BOLD
from loadplan.report.pictures.axonometric_scene import SpaceScene
from loadplan.report.pictures.axonometric_shapes import SpaceDrawn
from loadplan.report.words.vocabulary import Reader

ASIDE = radians(25)
"""How far off the line that it turns about the viewer stands [rad]: a lean is seen from its end."""

NAME = 100
"""Widest line of a name that is no letter [px]."""


def stand_letters(scene: SpaceScene, drawn: SpaceDrawn, reader: Reader) -> list[Tag]:
    """Write the name of each stand beside it.

    Args:
        scene: The unit in space.
        drawn: What of it was drawn.
        reader: Who reads it.

    Returns:
        The words, of which none can be taken for another stand's.
    """
    tags: list[Tag] = []
    for shown, place in zip(scene.loads, drawn.stands, strict=True):
        lines = broken(reader.words(shown.support.name), BOLD, NAME, most=2)
        rows: tuple[Row, ...] = tuple(((line, BOLD),) for line in lines)
        tags.append(Tag(rows, place, (0.0, -0.5)))
    return told_apart(tags)
