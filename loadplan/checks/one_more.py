"""One more: where one more stand would help a body that tips, or comes too near to it.

No check of its own: it takes too long to be asked at every look, and is asked for pictures, the machine output, the
live plan and planning. What it tells is geometry: whether the sheet metal there bears a stand, only the maker knows.
"""

from dataclasses import dataclass
from typing import assert_never

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from loadplan.checks.footprint import ROUNDING, Area, area
from loadplan.checks.piece import pieces
from loadplan.model.answer import BodyAnswer, Statics
from loadplan.model.job import Job, State, Support
from loadplan.model.shop import Circle, Equipment, EquipmentKind, Footprint, RatedFor, Square
from loadplan.model.vehicle import PlanPoint
from loadplan.statics.mass import Array
from loadplan.statics.one_more_support import OneMoreQuestion, helping
from loadplan.statics.unsolved import UNSOLVED
from loadplan.statics.worst_margin import Flags

CELL = 0.025
"""Side of the cells in which places are told [m]."""

STIFFNESS = 2.5e6
"""Of the stand that is tried [N/m]: what a stand has where the shop's file says nothing."""

USUAL = Square(0.2, 0.2)
"""Base of the stand that is tried where the shop has none left [m]."""

MIDDLE = Circle(0.0)
"""Stands for a base that is not known, and for a pad: what must not be covered."""

NAME = "\0one more"
"""Name of the stand that is tried, which no user's can have."""

ONLY = "only where the maker gives a bearing place"
"""Is said with every place that is told."""


@dataclass(frozen=True, slots=True)
class OneMore:
    """Where one more stand would help one body.

    Attributes:
        body: The body.
        cells: Middles of the cells [m], from the back on, from right to left; empty where no place would do.
    """

    body: str
    cells: tuple[PlanPoint, ...]


def one_more(job: Job, state: State, statics: Statics) -> tuple[OneMore, ...]:
    """Find where one more stand would help the bodies of a stage that tip, or whose worst margin is too small.

    Args:
        job: The job.
        state: The stage's state.
        statics: What was computed about it.

    Returns:
        One record a body of which the outline is known, in the job's order; none where all stand well, or the unit is
        rolled.
    """
    if state.stage.moved:
        return ()
    margin = job.limits.margin
    lacking = [each for each in statics.bodies if _lacks(statics, each, margin)]
    shapes = [(each.name, _outline(job, state, each.name)) for each in lacking]
    return tuple(
        OneMore(name, _cells(job, state, statics, (name, shape))) for name, shape in shapes if not shape.is_empty
    )


def _lacks(statics: Statics, body: BodyAnswer, margin: float) -> bool:
    """Return whether a body tips, may tip, goes over by its own lean, or has less worst margin than asked for [m]."""
    group = statics.group_of(body.name)
    if not group.balanced:
        return True
    if body.worst_margin is not None:
        return body.worst_margin < margin
    return group.sway is None and body.margin is not None


def _cells(job: Job, state: State, statics: Statics, shown: tuple[str, BaseGeometry]) -> tuple[PlanPoint, ...]:
    """Return the middles of the cells of a body whose four corners all do."""
    body, outline = shown
    least_x, least_y, most_x, most_y = (round(each / CELL) for each in outline.bounds)
    numbers = np.arange(least_x, most_x + 1), np.arange(least_y, most_y + 1)
    corners = CELL * np.stack(np.meshgrid(*numbers, indexing="ij"), axis=-1).astype(float)
    good: Flags = shapely.intersects_xy(outline, corners[..., 0], corners[..., 1])
    good[good] = _clear(job, state, corners[good])
    good = _of_whole_cells(good)
    if good.any():
        try:
            good[good] = helping(_question(job, state, statics, body), corners[good])
        except UNSOLVED:
            return ()
    return tuple((float(x), float(y)) for x, y in corners[:-1, :-1][_whole_cells(good)] + CELL / 2)


def _whole_cells(good: Flags) -> Flags:
    """Return which cells have four good corners, each at the place of its corner furthest back and furthest right."""
    whole: Flags = good[:-1, :-1] & good[1:, :-1] & good[:-1, 1:] & good[1:, 1:]
    return whole


def _of_whole_cells(good: Flags) -> Flags:
    """Return which corners belong to a cell whose four corners are all good: the others need no look."""
    wide = np.pad(_whole_cells(good), 1)
    kept: Flags = wide[:-1, :-1] | wide[1:, :-1] | wide[:-1, 1:] | wide[1:, 1:]
    return kept


def _outline(job: Job, state: State, body: str) -> BaseGeometry:
    """Return the outlines together of a body and of its parts that are sure to be on; empty where none is known."""
    sure = state.on.difference(state.may_be_on)
    corners = [each.outline for each in job.vehicle.bodies if each.name == body]
    corners += [each.outline for each in job.vehicle.parts if each.body == body and each.name in sure]
    shapes = [shapely.Polygon(each) for each in corners if len(each) > 2]
    return unary_union([each for each in shapes if each.is_valid])


def _question(job: Job, state: State, statics: Statics, body: str) -> OneMoreQuestion:
    """Return what is asked for one body: where one more stand would hold it."""
    return OneMoreQuestion(
        job=job,
        state=state,
        motions={each.name: each.motion for each in statics.bodies if each.motion is not None},
        gaps=statics.gaps,
        support=Support(NAME, _stand(_base(job, state)), "", body, (0.0, 0.0, _height(job, state, statics, body))),
        margin=job.limits.margin,
    )


def _height(job: Job, state: State, statics: Statics, body: str) -> float:
    """Return how high its saddle is taken to be [m]: as the lowest under the rigid whole, else as the bottom."""
    whole = {body, *statics.body(body).rigid_with}
    saddles = [each.at[2] for each in state.bearing if each.body in whole]
    bottoms = [each.bottom for each in job.vehicle.bodies if each.name == body and each.bottom is not None]
    mounts = [place[2] for joint in state.done_up if set(joint.between) & whole for place in joint.at]
    return min(saddles or bottoms or mounts or [0.0])


def _stand(base: Footprint) -> Equipment:
    """Return the stand that is tried, with the stiffness of one unsaid."""
    return Equipment(
        name="stand",
        kind=EquipmentKind.STAND,
        rating=1.0,
        rated_for=RatedFor.EACH,
        heights=None,
        base=base,
        saddle=None,
        stiffness=STIFFNESS,
    )


def _base(job: Job, state: State) -> Footprint:
    """Return the base of the stand that is tried: the smallest of the shop's stands that are free."""
    used = [piece.equipment.name for piece in pieces(each for each in state.supports if not each.is_arm)]
    free = [
        each
        for each in job.shop.equipment
        if each.kind is EquipmentKind.STAND
        and each.base is not None
        and (each.usable_count is None or each.usable_count > used.count(each.name))
    ]
    bases = [each.base for each in free if each.base is not None]
    return min(bases, key=_size, default=USUAL)


def _size(base: Footprint) -> float:
    """Return the floor that a base covers [m²]."""
    shape = area(base, (0.0, 0.0))
    return float(shape.core.buffer(shape.reach).area)


def _clear(job: Job, state: State, places: Array) -> Flags:
    """Return at which places (p, 2) the base would stand clear of bases, posts and pads."""
    base = _base(job, state)
    clear: Flags = np.ones(len(places), dtype=bool)
    for taken in _taken(job, state):
        clear &= ~_meets(base, places, taken)
    return clear


def _taken(job: Job, state: State) -> list[Area]:
    """Return what stands on the floor already, and the places where pads come down; what is not known is its middle."""
    standing = (each for each in state.supports if not each.on and each.equipment.kind is not EquipmentKind.HOIST)
    taken = [area(piece.equipment.base or MIDDLE, piece.centre) for piece in pieces(standing)]
    use = job.lift
    if use is not None and use.columns is not None and use.lift.posts is not None:
        side = use.lift.posts.size
        taken += [area(Square(side, side), (use.columns, y)) for y in use.lift.posts.y]
    return taken


def _meets(base: Footprint, places: Array, taken: Area) -> Flags:
    """Return at which places (p, 2) a base shares floor with what is taken, or covers a bare middle, its rim too."""
    match base:
        case Square(along_x=length, along_y=width):
            half = np.array([length / 2, width / 2])
            cores, own = shapely.box(*(places - half).T, *(places + half).T), 0.0
        case Circle(diameter=diameter):
            cores, own = shapely.points(places), diameter / 2
        case _:
            assert_never(base)
    reach = own + taken.reach
    apart = shapely.distance(cores, taken.core)
    if isinstance(taken.core, shapely.Point) and taken.reach == 0:
        bare: Flags = apart <= reach
        return bare
    if reach == 0:
        shared: Flags = shapely.area(shapely.intersection(cores, taken.core)) > ROUNDING
        return shared
    near: Flags = apart < reach - ROUNDING
    return near
