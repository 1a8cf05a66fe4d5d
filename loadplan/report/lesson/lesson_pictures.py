"""The pictures of a lesson: plans drawn as everywhere, but with few and large words, and bars of what stands carry."""

from dataclasses import dataclass, replace
from enum import Enum
from itertools import combinations, pairwise
from math import hypot
from typing import TypeAlias, assert_never

from loadplan.model.answer import Load
from loadplan.model.job import Support
from loadplan.model.vehicle import PlanPoint
from loadplan.planning.whatif import Shot
from loadplan.report.drawing.label_placement import Ground, leader_beads
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import HAIRLINE, INK, SHEET, Stroke
from loadplan.report.drawing.text_boxes import Row, Tag, draw_tags, place_tags, tag_size, told_apart
from loadplan.report.drawing.text_width import broken, text_width
from loadplan.report.drawing.view import Box, View, view_of
from loadplan.report.lesson.lean_picture import LeanPicture, draw_lean
from loadplan.report.lesson.load_bars import BODY, BOLD, draw_bars
from loadplan.report.lesson.tilt_picture import TiltPicture, draw_tilt
from loadplan.report.pictures.plan_content import PlanContent, unit_scene, vehicle_scene
from loadplan.report.pictures.plan_shapes import Drawn, beads, draw_floor
from loadplan.report.pictures.signs import CG
from loadplan.report.pictures.tipping_edge import RigidShown
from loadplan.report.words.stage_tables import NONE, carried
from loadplan.report.words.vocabulary import Reader

HELD = "#B77800"
"""Colour of what the question is about; a thick ring or cross stands beside it."""

RIM = 32
"""Room round what is drawn, for words [px]."""

BESIDE, ABOVE = 34, 8
"""Further room at the sides, where most words go, and how much less there is above and below [px]."""

RING, HEAD, SHORTEST = 17, 9, 22
"""Radius of a ring, size of the head of an arrow, and least length of an arrow [px]."""

RIM_BEAD = 2.0
"""Half side of the boxes that keep words off an outline [px]."""

CROSS = 10
"""Half size of a cross [px]."""

NAME = 110
"""Widest line of a name that is no letter [px]."""


class Shown(Enum):
    """What a picture is about: the unit on its stands, or the vehicle on the lift."""

    UNIT = "unit"
    VEHICLE = "vehicle"


class PictureSide(Enum):
    """Whether it stands beside a question, and gives nothing away, or beside an answer."""

    QUESTION = "question"
    ANSWER = "answer"


@dataclass(frozen=True, slots=True)
class Ring:
    """A ring round a place [m]: this is what the question is about."""

    at: PlanPoint


@dataclass(frozen=True, slots=True)
class Cross:
    """A cross on a place [m] where nothing stands any more, with its words."""

    at: PlanPoint
    words: str


@dataclass(frozen=True, slots=True)
class Spot:
    """A disc on a place [m] where something lies, with its words."""

    at: PlanPoint
    words: str


@dataclass(frozen=True, slots=True)
class Arrow:
    """An arrow from one place to another [m]."""

    start: PlanPoint
    end: PlanPoint


Mark: TypeAlias = Ring | Cross | Spot | Arrow


@dataclass(frozen=True, slots=True)
class PlanPicture:
    """A plan.

    Attributes:
        shot: The step.
        shown: What of it.
        side: Beside a question or an answer.
        about: Assembly whose edges and loads are drawn, "" for all loads and the edges nearest to tipping.
        marks: What is drawn on it.
    """

    shot: Shot
    shown: Shown
    side: PictureSide
    about: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class BarPicture:
    """Bars of what stands carry, may carry on this floor, and could ever carry."""

    loads: tuple[tuple[Support, Load], ...]


Picture: TypeAlias = PlanPicture | BarPicture | TiltPicture | LeanPicture


def draw_picture(pen: Pen, box: Box, picture: Picture, reader: Reader) -> None:
    """Draw a picture.

    Args:
        pen: Draws it.
        box: Where.
        picture: What.
        reader: Who reads it.
    """
    match picture:
        case PlanPicture():
            _draw_plan(pen, box, picture, reader)
        case BarPicture(loads):
            draw_bars(pen, box, loads, reader)
        case TiltPicture():
            draw_tilt(pen, box, picture, reader)
        case LeanPicture():
            draw_lean(pen, box, picture, reader)
        case _:
            assert_never(picture)


def _draw_plan(pen: Pen, box: Box, picture: PlanPicture, reader: Reader) -> None:
    """Draw a plan with its marks, and beside what stands and is marked its few words."""
    scene = drawn_scene(picture)
    places = [*scene.extent, *(place for mark in picture.marks for place in _places(mark))]
    narrow = Box(box.left + BESIDE, box.bottom - ABOVE, box.right - BESIDE, box.top + ABOVE)
    view = replace(view_of(narrow, places, RIM), frame=box)
    replace(pen, layer=Layer.GROUND).box(box, SHEET, Stroke(HAIRLINE, 1.5))
    drawn = draw_floor(replace(pen, frame=box), view, scene)
    marked = [_mark(pen, view, mark) for mark in picture.marks]
    words = [tag for mark, place in zip(picture.marks, marked, strict=True) for tag in _mark_tags(mark, place, reader)]
    around = tuple(_with_marks(box, marked) for box in drawn.taken)
    gone = tuple(place for mark, place in zip(picture.marks, marked, strict=True) if isinstance(mark, Cross))
    letters = [replace(tag, rivals=(*tag.rivals, *gone)) for tag in _stand_tags(view, scene, around, reader)]
    taken = (*drawn.taken, *marked)
    ground = Ground(taken, (*drawn.lines, *_rims(view, scene)), box)
    rings = [place for mark, place in zip(picture.marks, marked, strict=True) if isinstance(mark, Ring)]
    tags = _off_rings([*letters, *_edge_tags(scene, drawn, reader), *words], ground, rings)
    placed = draw_tags(replace(pen, layer=Layer.LABELS), tags, ground)
    _front(pen, box, (*taken, *drawn.lines, *placed))


def _rims(view: View, scene: PlanContent) -> list[Box]:
    """Return small boxes along the outlines of the assemblies: words had better lie inside or outside of them."""
    rims = [view.page_all((*each.outline, *each.outline[:1])) for each in scene.bodies]
    return [
        Box(x, y, x, y).grown(RIM_BEAD)
        for rim in rims
        for (x, y) in (bead.middle for start, end in pairwise(rim) for bead in beads(start, end))
    ]


def _off_rings(tags: list[Tag], ground: Ground, rings: list[Box]) -> list[Tag]:
    """Return the tags without those whose line would run over a ring round something else: it would seem to name it.

    Only how far a unit is from tipping stands so far off, and where there is a ring the page tells that in words.
    """
    if not rings:
        return tags
    kept = []
    for tag, spot in zip(tags, place_tags(tags, ground), strict=True):
        others = [ring for ring in rings if not ring.overlap(tag.anchor.grown(1))]
        line = leader_beads(spot.leader) if spot.leader else []
        if tag.rivals or not any(bead.overlap(ring) for bead in line for ring in others):
            kept.append(tag)
    return kept


def drawn_scene(picture: PlanPicture) -> PlanContent:
    """Choose what a plan shows; beside a question without edges, loads, and how far anything is from tipping.

    Args:
        picture: The plan.

    Returns:
        What is drawn.
    """
    step = picture.shot.assessment, picture.shot.stage
    found = vehicle_scene(*step) if picture.shown is Shown.VEHICLE else None
    # Places that nobody asks about would take the room of the letters beside what is asked about.
    scene = _ringed_once(replace(found or unit_scene(*step), points=(), bare=()), picture)
    if picture.side is PictureSide.QUESTION:
        bare = tuple((support, None) for support, _ in scene.supports)
        return replace(scene, supports=bare, wholes=tuple(_without_edges(whole) for whole in scene.wholes))
    names = [whole.name for whole in scene.wholes if picture.about in [body.name for body in whole.bodies]]
    subject = names[0] if names else scene.critical
    wholes = tuple(whole if whole.name == subject else _without_edges(whole) for whole in scene.wholes)
    bodies = [body.name for whole in scene.wholes for body in whole.bodies if whole.name == subject]
    told = tuple((each, load if not names or each.body in bodies else None) for each, load in scene.supports)
    return replace(scene, critical=subject, wholes=wholes, supports=told)


def _ringed_once(scene: PlanContent, picture: PlanPicture) -> PlanContent:
    """Return a scene in which no stand that has a ring of the question has one of its step's findings, too."""
    rings = [mark.at for mark in picture.marks if isinstance(mark, Ring)]
    ringed = {support.name for support, _ in scene.supports if support.at[:2] in rings}
    stands = tuple(each for each in scene.faults.stands if each[0] not in ringed)
    return replace(scene, faults=replace(scene.faults, stands=stands))


def _front(pen: Pen, box: Box, busy: tuple[Box, ...]) -> None:
    """Write which way is the front at the top, or in a lower corner where it would cover something."""
    wide = 20 + text_width("front", BODY)
    lower = box.bottom + 12
    places = [(box.middle[0] - wide / 2, box.top - 12), (box.left + 8, lower), (box.right - wide - 8, lower)]
    rooms = [Box(left - 2, middle - 10, left + wide, middle + 12) for left, middle in places]
    room = min(rooms, key=lambda each: sum(map(each.overlap, busy)))
    left, middle = room.left + 2, room.bottom + 10
    pen.box(Box(room.left, middle - 9, room.right, middle + 9), SHEET, None)
    pen.area([(left, middle - 6), (left + 12, middle - 6), (left + 6, middle + 6)], INK, None)
    pen.words((left + 17, middle), "front", BODY)


def _without_edges(whole: RigidShown) -> RigidShown:
    return replace(whole, edges=(), free=None)


def _with_marks(box: Box, marked: list[Box]) -> Box:
    """Return a stand's box with what is marked on it: its words go beside both."""
    for mark in marked:
        if mark.holds(box.middle) or box.holds(mark.middle):
            box = Box(
                min(box.left, mark.left),
                min(box.bottom, mark.bottom),
                max(box.right, mark.right),
                max(box.top, mark.top),
            )
    return box


def _stand_tags(view: View, scene: PlanContent, around: tuple[Box, ...], reader: Reader) -> list[Tag]:
    """Return letter and load beside each stand, for a pad of the lift the load alone."""
    middle = view.frame.middle
    tags = []
    for (support, load), box in zip(scene.supports, around, strict=False):
        # Rather a little lower or higher beside it, away from the next stand, than at its corner towards that.
        away = _sign(box.middle[0] - middle[0]), 2.0 * _sign(box.middle[1] - middle[1])
        tags.append(Tag(_rows(support, load, reader), box, away))
    close = _close(tags)
    return [_in_one_line(tag) if close else tag for tag in told_apart(tags) if tag.rows]


def _close(tags: list[Tag]) -> bool:
    """Return whether stands stand so close behind each other that two lines beside one would reach the next."""
    return any(
        one.away[0] == other.away[0]
        and 0 < abs(one.anchor.middle[1] - other.anchor.middle[1]) < max(tag_size(one)[1], tag_size(other)[1])
        for one, other in combinations(tags, 2)
        if len(one.rows) > 1
    )


def _in_one_line(tag: Tag) -> Tag:
    return replace(tag, rows=(tuple(piece for row in tag.rows for piece in row),)) if len(tag.rows) == 2 else tag


def _rows(support: Support, load: Load | None, reader: Reader) -> tuple[Row, ...]:
    """Return the lines beside a stand: name and load; beside a pad of the lift the load alone."""
    told = carried(load, reader)
    bears: Row = () if told == NONE else ((told, BODY),)
    if support.is_arm:
        return (bears,) if bears else ()
    lines = broken(reader.words(support.name), BOLD, NAME, most=2)
    rows = tuple(((line, BOLD),) for line in lines)
    return (*rows, bears) if bears else rows


def _edge_tags(scene: PlanContent, drawn: Drawn, reader: Reader) -> list[Tag]:
    """Return how far what is nearest to tipping is from it; what goes over is told in words."""
    return [
        Tag(
            _at_worst(scene, whole, whole.nearest.left, reader),
            anchor,
            (0.0, 0.0),
        )
        for whole, anchor in drawn.edges
        if whole.name == scene.critical and whole.nearest and whole.nearest.left > 0
    ]


def _at_worst(scene: PlanContent, whole: RigidShown, left: float, reader: Reader) -> tuple[Row, ...]:
    """Return how far a rigid whole is from going over in the worst case, and that it is that."""
    colour = scene.faults.edge(whole).line
    return ((reader.length(left), replace(BOLD, colour=colour)),), (("at worst", replace(BODY, colour=colour)),)


def _places(mark: Mark) -> tuple[PlanPoint, ...]:
    """Return the places [m] that have to be in the view."""
    match mark:
        case Ring(at) | Cross(at) | Spot(at):
            return (at,)
        case Arrow(start, end):
            return start, end
        case _:
            assert_never(mark)


def _mark(pen: Pen, view: View, mark: Mark) -> Box:
    """Return what a mark covers, drawn."""
    pen = replace(pen, layer=Layer.CENTRES)
    x, y = view.page(*_places(mark)[0])
    match mark:
        case Ring():
            pen.disc((x, y), RING, None, Stroke(HELD, 4.0))
        case Cross():
            pen.line([(x - CROSS, y - CROSS), (x + CROSS, y + CROSS)], Stroke(HELD, 4.0))
            pen.line([(x - CROSS, y + CROSS), (x + CROSS, y - CROSS)], Stroke(HELD, 4.0))
        case Spot():
            pen.disc((x, y), CG, HELD, Stroke(INK, 1.6))
        case Arrow(_, end):
            return _arrow(pen, (x, y), view.page(*end))
        case _:
            assert_never(mark)
    # A disc is no larger than the saddle below it: words beside a larger box would stand nearer to the next stand.
    return Box(x, y, x, y).grown(CG if isinstance(mark, Spot) else CROSS if isinstance(mark, Cross) else RING)


def _arrow(pen: Pen, start: PlanPoint, end: PlanPoint) -> Box:
    """Return what an arrow [px] covers, drawn; one too short to show a direction is left out."""
    far = hypot(end[0] - start[0], end[1] - start[1])
    if far < 1:
        return Box(*end, *end)
    ahead = (end[0] - start[0]) / far, (end[1] - start[1]) / far
    # A head without a shaft is a triangle that points three ways: the tip is true, how far it is is told in words.
    long = max(far, SHORTEST)
    start = end[0] - long * ahead[0], end[1] - long * ahead[1]
    neck = end[0] - HEAD * ahead[0], end[1] - HEAD * ahead[1]
    pen.line([start, neck], Stroke(HELD, 4.0))
    aside = -0.6 * HEAD * ahead[1], 0.6 * HEAD * ahead[0]
    corners = [end, (neck[0] + aside[0], neck[1] + aside[1]), (neck[0] - aside[0], neck[1] - aside[1])]
    pen.area(corners, HELD, Stroke(HELD, 1.0))
    across, along = sorted((start[0], end[0])), sorted((start[1], end[1]))
    return Box(across[0], along[0], across[1], along[1]).grown(0.6 * HEAD)


def _mark_tags(mark: Mark, box: Box, reader: Reader) -> list[Tag]:
    """Return the words of a mark beside what it covers."""
    match mark:
        case Cross(_, words) | Spot(_, words):
            return [Tag((((reader.words(words), BOLD),),), box, (0.0, 0.0))] if words else []
        case Ring() | Arrow():
            return []
        case _:
            assert_never(mark)


def _sign(value: float) -> float:
    return (value > 0) - (value < 0)
