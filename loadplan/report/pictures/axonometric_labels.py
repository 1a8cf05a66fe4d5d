"""The words in a view in space: letter and load of each stand, the distance to each edge, chalk lines, the front."""

from dataclasses import replace

from loadplan.checks.phrases import force, names
from loadplan.report.drawing.axonometric_projection import Projection
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import INK, LABEL, LETTER, LOAD, QUIET, SHEET, STRONG, Stroke, Type
from loadplan.report.drawing.text_boxes import Row, Tag, told_apart
from loadplan.report.drawing.text_width import broken, text_width
from loadplan.report.drawing.view import Box
from loadplan.report.pictures.axonometric_scene import ShownCentre, SpaceScene
from loadplan.report.pictures.axonometric_shapes import SpaceDrawn
from loadplan.report.pictures.axonometric_sight import Seen
from loadplan.report.pictures.plan_labels import BEARS_NOTHING, SHORT, SMALL, UNHELD, WIDEST, stand_carries
from loadplan.report.words.number_format import write_sentence
from loadplan.report.words.stage_tables import NONE
from loadplan.report.words.tipping_direction import past_or_short
from loadplan.report.words.vocabulary import Reader

LONG = 160
"""Widest line of a name that is no letter [px]: two stands may differ in their last word, so it is not cut."""

POINTER = 32.0
"""Length of the arrow to the front [px]."""


def load_tags(drawn: SpaceDrawn, scene: SpaceScene, reader: Reader) -> list[Tag]:
    """Write letter and load beside each stand.

    Args:
        drawn: What is on the page.
        scene: What is shown.
        reader: Who reads it.

    Returns:
        A tag a support.
    """
    rows = [_letter_and_load(scene, number, reader) for number in range(len(drawn.stands))]
    return told_apart([Tag(each, box, (0.0, -0.5)) for each, box in zip(rows, drawn.stands, strict=True)])


def small_load_tags(drawn: SpaceDrawn, scene: SpaceScene, reader: Reader) -> list[Tag]:
    """Write what each pad of the lift carries, and the names of the stands, small.

    Args:
        drawn: What is on the page.
        scene: What is shown.
        reader: Who reads it.

    Returns:
        A tag a support.
    """
    tags = []
    for shown, box in zip(scene.loads, drawn.stands, strict=True):
        told = stand_carries(scene.content, shown.support, shown.load, reader)
        strong = replace(STRONG, colour=scene.content.faults.stand(shown.support.name).line)
        rows: tuple[Row, ...] = () if told == NONE else (((told, strong),),)
        if not shown.support.is_arm or not rows:
            rows += tuple(((line, LABEL),) for line in broken(reader.words(shown.support.name), LABEL, SMALL, most=3))
        tags.append(Tag(rows, box, (0.0, 0.0)))
    return told_apart(tags)


def centre_tags(drawn: SpaceDrawn, scene: SpaceScene, reader: Reader) -> list[Tag]:
    """Write how far each rigid whole is from going over, and what it turns about.

    Args:
        drawn: What is on the page.
        scene: What is shown.
        reader: Who reads it.

    Returns:
        A tag a rigid whole, the nearest to going over first.
    """
    ordered = sorted(drawn.centres, key=lambda each: each[0].whole.name != scene.content.critical)
    return [Tag(_centre_rows(scene, centre, reader), box, (0.0, 1.0)) for centre, box in ordered]


def chalk_tags(seen: Seen, scene: SpaceScene, reader: Reader) -> list[Tag]:
    """Write the names of the chalk lines at their ends.

    Args:
        seen: From where the scene is seen.
        scene: What is shown.
        reader: Who reads it.

    Returns:
        A tag a line that lies on the floor drawn.
    """
    tags = []
    for line, name in zip(scene.chalk, ("axle line", "centre line"), strict=True):
        if line:
            # At the end that is further down on the page: nothing stands before it.
            x, y = min(seen.page_all(line), key=lambda end: end[1])
            tags.append(Tag((((reader.words(name), QUIET),),), Box(x - 1, y - 1, x + 1, y + 1), (0.0, -1.0)))
    return tags


def pull_tags(seen: Seen, scene: SpaceScene, reader: Reader) -> list[Tag]:
    """Write how hard the pull of a step is.

    Args:
        seen: From where the scene is seen.
        scene: What is shown.
        reader: Who reads it.

    Returns:
        A tag, none without a pull.
    """
    if scene.pull is None:
        return []
    words = f"pull {write_sentence(force(scene.pull.force), reader.units)}"
    strong = replace(STRONG, colour=scene.content.faults.pull.line)
    return [Tag((((words, strong),),), seen.box((scene.pull.tail,)), (0.0, 0.0))]


def front_arrow(pen: Pen, frame: Box, projection: Projection) -> Box:
    """Draw an arrow to the vehicle's front, as it lies on the floor, in the upper left corner.

    Args:
        pen: Draws it.
        frame: Frame of the drawing.
        projection: From where it is seen.

    Returns:
        What it covers [px].
    """
    wide = max(text_width("front", STRONG), 2 * POINTER) + 16
    box = Box(frame.left + 2, frame.top - 2 * POINTER - 34, frame.left + 2 + wide, frame.top - 2)
    middle = box.middle[0], box.top - POINTER - 6

    def place(ahead: float, left: float) -> tuple[float, float]:
        right, up = projection.project((ahead * POINTER, left * POINTER, 0.0))
        return middle[0] + right, middle[1] + up

    pen.box(box, SHEET, None)
    pen.line([place(-1.0, 0.0), place(0.3, 0.0)], Stroke(INK, 3.0))
    pen.area([place(1.0, 0.0), place(0.2, 0.4), place(0.2, -0.4)], INK, None)
    pen.words((box.middle[0], box.bottom + 10), "front", STRONG, "center")
    return box


def _letter_and_load(scene: SpaceScene, number: int, reader: Reader) -> tuple[Row, ...]:
    """Return a letter with its load beside it, a longer name with its load below."""
    shown = scene.loads[number]
    colour = scene.content.faults.stand(shown.support.name).line
    told = stand_carries(scene.content, shown.support, shown.load, reader)
    bears: Row = (
        ()
        if told == NONE
        else ((told, UNHELD if told == BEARS_NOTHING else replace(LOAD, colour=colour, bold=colour != INK)),)
    )
    name = reader.words(shown.support.name)
    if len(name) <= SHORT:
        return (((name, replace(LETTER, colour=colour)), *bears),)
    lettering = Type(STRONG.size, bold=True, colour=colour)
    rows = tuple(((line, lettering),) for line in broken(name, lettering, LONG, most=3))
    return (*rows, bears) if bears else rows


def _centre_rows(scene: SpaceScene, centre: ShownCentre, reader: Reader) -> tuple[Row, ...]:
    """Return the lines beside a centre of gravity: whose it is, worst case first, and as given, about what."""
    whole = centre.whole
    strong = Type(20, bold=True, colour=scene.content.faults.edge(whole).line)
    texts = [(reader.words(whole.name), STRONG)]
    about = reader.words(f"about {names(whole.nearest.about)}") if whole.nearest and whole.nearest.about else ""
    if whole.free:
        texts += [("free to rock", strong)]
    elif whole.nearest is None:
        texts += [(reader.words(f"goes over only with the {whole.carrier}"), LABEL)] if whole.carrier else []
    elif whole.nearest.margin <= 0 or not whole.balanced:
        texts += [(past_or_short(whole.nearest.margin, reader), strong), (about, LABEL)]
    else:
        worst = min((body.worst_margin for body in whole.bodies if body.worst_margin is not None), default=None)
        # As given it may be nearest another way than the one that is drawn, which is the worst case's.
        margins = [body.margin for body in whole.bodies if body.margin is not None]
        given = past_or_short(min(margins, default=whole.nearest.margin), reader)
        far = given if worst is None else past_or_short(worst, reader)
        how = "as given" if worst is None else f"worst case; {given} as given"
        texts += [
            (far if worst is not None and worst <= 0 else f"{far} to tipping", strong),
            (how, LABEL),
            (about, LABEL),
        ]
    return tuple(((line, kind),) for text, kind in texts if text for line in broken(text, kind, WIDEST, most=3))
