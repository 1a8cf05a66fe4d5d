"""The pictures of a lesson: plans drawn as everywhere, but with few and large words, and bars of what stands carry."""

from dataclasses import dataclass, replace
from enum import Enum
from math import hypot
from typing import TypeAlias, assert_never

from loadplan.model.answer import Load
from loadplan.model.job import Support
from loadplan.model.vehicle import PlanPoint
from loadplan.planning.whatif import Shot
from loadplan.report.figures import NONE, carried
from loadplan.report.floor import CG, Drawn, draw_floor
from loadplan.report.ink import HAIRLINE, INK, SHEET, Livery, Stroke, Type, livery
from loadplan.report.labels import Ground
from loadplan.report.lettering import broken
from loadplan.report.margins import draw_front
from loadplan.report.pen import Layer, Pen
from loadplan.report.scene import Scene, unit_scene, vehicle_scene
from loadplan.report.tags import Row, Tag, draw_tags
from loadplan.report.view import Box, View, view_of
from loadplan.report.ways import past_or_short
from loadplan.report.words import Reader

BODY = Type(14, bold=False, colour=INK)
"""The smallest lettering of a lesson: 28 points on paper."""

BOLD = replace(BODY, bold=True)
HELD = "#B77800"
"""Colour of what the question is about; a thick ring or cross stands beside it."""

RIM = 26
"""Room round what is drawn, for words [px]."""

RING, HEAD = 17, 9
"""Radius of a ring, size of the head of an arrow [px]."""

NAME = 110
"""Widest line of a name that is no letter [px]."""


class Shown(Enum):
    """What a picture is about: the unit on its stands, or the vehicle on the lift."""

    UNIT = "unit"
    VEHICLE = "vehicle"


class Side(Enum):
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
        marks: What is drawn on it.
    """

    shot: Shot
    shown: Shown
    side: Side
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class BarPicture:
    """Bars of what stands carry, may carry on this floor, and could ever carry."""

    loads: tuple[tuple[Support, Load], ...]


Picture: TypeAlias = PlanPicture | BarPicture


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
            _draw_bars(pen, box, loads, reader)
        case _:
            assert_never(picture)


def _draw_plan(pen: Pen, box: Box, picture: PlanPicture, reader: Reader) -> None:
    scene = _scene(picture)
    view = view_of(box, [*scene.extent, *(place for mark in picture.marks for place in _places(mark))], RIM)
    look = livery(picture.shot.stage.verdict)
    replace(pen, layer=Layer.GROUND).box(box, SHEET, Stroke(HAIRLINE, 1.5))
    drawn = draw_floor(replace(pen, frame=box), view, scene, look)
    marked = [_mark(pen, view, mark) for mark in picture.marks]
    words = [tag for mark, place in zip(picture.marks, marked, strict=True) for tag in _mark_tags(mark, place, reader)]
    tags = [*words, *_edge_tags(scene, drawn, look, reader), *_stand_tags(view, scene, drawn, reader)]
    taken = (*drawn.taken, *marked, draw_front(pen, view))
    draw_tags(replace(pen, layer=Layer.LABELS), tags, Ground(taken, drawn.lines, box))


def _scene(picture: PlanPicture) -> Scene:
    """Return what is shown; beside a question without edges, loads, and how far anything is from tipping."""
    told = picture.shot.assessment, picture.shot.stage
    found = vehicle_scene(*told) if picture.shown is Shown.VEHICLE else None
    scene = replace(found or unit_scene(*told), points=())
    if picture.side is Side.ANSWER:
        return scene
    wholes = tuple(replace(whole, edges=(), free=None) for whole in scene.wholes)
    return replace(scene, supports=tuple((support, None) for support, _ in scene.supports), wholes=wholes)


def _stand_tags(view: View, scene: Scene, drawn: Drawn, reader: Reader) -> list[Tag]:
    """Return letter and load beside each stand, for a pad of the lift the load alone."""
    middle = view.frame.middle
    tags = []
    for (support, load), box in zip(scene.supports, drawn.taken, strict=False):
        rows = _rows(support, load, reader)
        if rows:
            tags.append(Tag(rows, box, (_sign(box.middle[0] - middle[0]), 0.3 * _sign(box.middle[1] - middle[1]))))
    return tags


def _rows(support: Support, load: Load | None, reader: Reader) -> tuple[Row, ...]:
    told = carried(load, reader)
    bears: Row = () if told == NONE else ((told, BODY),)
    if support.is_arm:
        return (bears,) if bears else ()
    lines = broken(reader.words(support.name), BOLD, NAME, most=2)
    if len(lines) == 1 and len(lines[0]) <= SHORT:
        return (((lines[0], BOLD), *bears),)
    rows = tuple(((line, BOLD),) for line in lines)
    return (*rows, bears) if bears else rows


def _edge_tags(scene: Scene, drawn: Drawn, look: Livery, reader: Reader) -> list[Tag]:
    """Return how far what is nearest to tipping is from it."""
    lettering = replace(BOLD, colour=look.line)
    return [
        Tag((((past_or_short(whole.nearest.margin, reader), lettering),),), anchor, (0.0, 0.0))
        for whole, anchor in drawn.edges
        if whole.name == scene.critical and whole.nearest and not whole.free
    ]


def _places(mark: Mark) -> tuple[PlanPoint, ...]:
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
            pen.line([(x - 10, y - 10), (x + 10, y + 10)], Stroke(HELD, 4.0))
            pen.line([(x - 10, y + 10), (x + 10, y - 10)], Stroke(HELD, 4.0))
        case Spot():
            pen.disc((x, y), CG, HELD, Stroke(INK, 1.6))
        case Arrow(_, end):
            _arrow(pen, (x, y), view.page(*end))
        case _:
            assert_never(mark)
    return Box(x - RING, y - RING, x + RING, y + RING)


def _arrow(pen: Pen, start: PlanPoint, end: PlanPoint) -> None:
    far = hypot(end[0] - start[0], end[1] - start[1])
    if far < 1:
        return
    ahead = (end[0] - start[0]) / far, (end[1] - start[1]) / far
    neck = end[0] - HEAD * ahead[0], end[1] - HEAD * ahead[1]
    pen.line([start, neck], Stroke(HELD, 4.0))
    aside = -0.6 * HEAD * ahead[1], 0.6 * HEAD * ahead[0]
    corners = [end, (neck[0] + aside[0], neck[1] + aside[1]), (neck[0] - aside[0], neck[1] - aside[1])]
    pen.area(corners, HELD, Stroke(HELD, 1.0))


def _mark_tags(mark: Mark, box: Box, reader: Reader) -> list[Tag]:
    match mark:
        case Cross(_, words) | Spot(_, words):
            return [Tag((((reader.words(words), BOLD),),), box, (0.0, 0.0))] if words else []
        case Ring() | Arrow():
            return []
        case _:
            assert_never(mark)


def _draw_bars(pen: Pen, box: Box, loads: tuple[tuple[Support, Load], ...], reader: Reader) -> None:
    """Draw a row a stand: black what it carries, grey what it may on this floor, a line what it could ever."""
    key = 3 * BODY.size * 1.3
    tall = min((box.height - key - 6) / len(loads), 38)
    left, room = box.left + LETTERS, box.width - LETTERS - 8
    scale = room / max(max(load.high, load.most or 0.0, load.expected) for _, load in loads)
    for number, (support, load) in enumerate(loads):
        top = box.top - number * tall
        _bar(pen, Box(left, top - tall + 18, left + room, top - 2), load, scale)
        pen.words((box.left, top - tall / 2 + 8), broken(reader.words(support.name), BOLD, LETTERS - 4, 1)[0], BOLD)
        pen.words((left, top - tall + 9), _told(load, reader), BODY)
    pen.lines(
        (box.left, box.bottom + key), ["black: carries", "grey: most on this floor", "line: most it could ever"], BODY
    )


def _bar(pen: Pen, row: Box, load: Load, scale: float) -> None:
    middle = row.middle[1]
    if load.most is not None:
        pen.line([(row.left, middle), (row.left + load.most * scale, middle)], Stroke(INK, 1.6))
        end = row.left + load.most * scale
        pen.line([(end, row.bottom), (end, row.top)], Stroke(INK, 1.6))
    pen.box(replace(row, right=row.left + load.high * scale), "#CBD4DB", Stroke(INK, 1.2))
    pen.box(replace(row, right=row.left + load.expected * scale, bottom=row.bottom + 3, top=row.top - 3), INK, None)


def _told(load: Load, reader: Reader) -> str:
    most = NONE if load.most is None else reader.load(load.most)
    return f"{carried(load, reader)} · {reader.load(load.high)} · {most}"


def _sign(value: float) -> float:
    return (value > 0) - (value < 0)


LETTERS = 44
"""Room for the names of the stands beside the bars [px]."""

SHORT = 3
"""Most characters of a name that has its load beside it."""
