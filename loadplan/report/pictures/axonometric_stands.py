"""Stands, tables, arms and posts in space: each as convex solids, from its base to its set height, with its shim."""

from dataclasses import dataclass
from enum import Enum
from math import cos, hypot, pi, sin

from loadplan.checks.piece import Piece
from loadplan.model.job import Job, Support
from loadplan.model.shop import Circle, Footprint, Square
from loadplan.model.vehicle import PlanPoint
from loadplan.report.drawing.convex_solid import Solid, frustum
from loadplan.report.drawing.view import Corners

ROUND = 12
"""Corners of what is round."""

BARE = 0.12
"""Side of a base that is not given [m]; a saddle that is not given has half of it."""

PLATE, TOP = 0.012, 0.04
"""Thickness of a saddle, and of the top and foot of a table [m]."""

LEG = 0.05
"""Width of a leg of a table [m]."""

ARM_WIDE, ARM_THICK = 0.10, 0.06
"""Width and thickness of an arm of the lift [m]: common practice, no source."""

OVERHEAD = 2.0
"""Height of a post where the file gives neither ceiling nor lifting height [m]."""


class SolidKind(Enum):
    """What a solid is."""

    BODY = "body"
    PART = "part"
    STAND = "stand"
    SHIM = "shim"
    TABLE = "table"
    SADDLE = "saddle"
    ARM = "arm"
    POST = "post"


@dataclass(frozen=True, slots=True)
class ShownSolid:
    """A solid, and what it is.

    Attributes:
        kind: What it is.
        name: Name of the body, part, support or piece; of the lift for a post.
        body: Body that it belongs to or bears on, "" for a post.
        solid: Where it is.
        dashed: Whether it stands by: drawn dashed.
    """

    kind: SolidKind
    name: str
    body: str
    solid: Solid
    dashed: bool = False


def stand_solids(support: Support, top: float, foot: float) -> tuple[ShownSolid, ...]:
    """Stand a stand or jack up: a frustum from base to saddle, and its shim on it.

    Args:
        support: The stand.
        top: Height of its upper face, shim and all [m].
        foot: Height of what it stands on [m]: 0 on the floor.

    Returns:
        One solid, or two.
    """
    shim = support.shim.height if support.shim else 0.0
    top = max(top, foot + shim + PLATE)
    base = support.equipment.base or Square(BARE, BARE)
    lower = _ring(support.at[:2], base)
    upper = _ring(support.at[:2], _like(base, support.equipment.saddle or Square(BARE / 2, BARE / 2)))
    body = frustum(lower, upper, (foot, top - shim))
    made = (ShownSolid(SolidKind.STAND, support.name, support.body, body, support.standby),)
    if not shim:
        return made
    return *made, ShownSolid(SolidKind.SHIM, support.name, support.body, frustum(upper, upper, (top - shim, top)))


def table_solids(piece: Piece, tops: list[float]) -> tuple[ShownSolid, ...]:
    """Stand a table up: foot, four legs, top, and a saddle at each place.

    Args:
        piece: The table.
        tops: Height of each saddle's upper face [m], in the order of its supports.

    Returns:
        Its solids.
    """
    top = max(min(tops) - PLATE, 2 * TOP)
    base = piece.equipment.base or Square(BARE, BARE)
    outline = _ring(piece.centre, base)
    wide, long = _sides(base)
    x, y = piece.centre
    legs = [
        _ring((x + ahead * (wide - 2 * LEG) / 2, y + aside * (long - 2 * LEG) / 2), Square(LEG, LEG))
        for ahead in (-1, 1)
        for aside in (-1, 1)
    ]
    # Through the foot one sees the edge on the floor.
    low = frustum(outline, outline, (0.0, TOP), glass=True)
    high = frustum(outline, outline, (top - TOP, top))
    between = (frustum(leg, leg, (TOP, top - TOP)) for leg in legs if top > 2 * TOP)
    made = [ShownSolid(SolidKind.TABLE, piece.name, piece.supports[0].body, each) for each in (low, high, *between)]
    for support, height in zip(piece.supports, tops, strict=True):
        saddle = _ring(support.at[:2], support.equipment.saddle or Square(BARE / 2, BARE / 2))
        solid = frustum(saddle, saddle, (top, max(height, top + PLATE)))
        made.append(ShownSolid(SolidKind.SADDLE, support.name, support.body, solid))
    return tuple(made)


def arm_solid(job: Job, arm: Support, place: float) -> ShownSolid | None:
    """Reach an arm of the lift out from its post to its pad.

    Args:
        job: The job.
        arm: The arm.
        place: Height of the place that it bears on [m].

    Returns:
        The arm; its pad alone where the files do not place the posts.
    """
    use, (x, y, _) = job.lift, arm.at
    posts = use.lift.posts if use else None
    low, high = place - ARM_THICK, place
    if use is None or use.columns is None or posts is None:
        pad = _ring((x, y), Square(ARM_WIDE, ARM_WIDE))
        return ShownSolid(SolidKind.ARM, arm.name, arm.body, frustum(pad, pad, (low, high)))
    # The files do not say which post an arm hangs on: the nearer one.
    post = min(posts.y, key=lambda each: abs(each - y))
    side = 1.0 if post < y else -1.0
    far = use.columns, post + side * posts.size / 2
    length = hypot(x - far[0], y - far[1])
    if length < ARM_WIDE:
        return None
    ahead = (x - far[0]) / length, (y - far[1]) / length
    aside = -ahead[1] * ARM_WIDE / 2, ahead[0] * ARM_WIDE / 2
    end = x + ahead[0] * ARM_WIDE / 2, y + ahead[1] * ARM_WIDE / 2
    outline = (
        (far[0] - aside[0], far[1] - aside[1]),
        (end[0] - aside[0], end[1] - aside[1]),
        (end[0] + aside[0], end[1] + aside[1]),
        (far[0] + aside[0], far[1] + aside[1]),
    )
    return ShownSolid(SolidKind.ARM, arm.name, arm.body, frustum(outline, outline, (low, high)))


def post_solids(job: Job) -> tuple[ShownSolid, ...]:
    """Stand the posts of the lift up, as far as the files place them.

    Args:
        job: The job.

    Returns:
        A solid a post.
    """
    use = job.lift
    if use is None or use.columns is None or use.lift.posts is None:
        return ()
    posts, tall = use.lift.posts, use.lift.ceiling or use.lift.rise or OVERHEAD
    outlines = [_ring((use.columns, y), Square(posts.size, posts.size)) for y in posts.y]
    return tuple(
        ShownSolid(SolidKind.POST, use.lift.name, "", frustum(each, each, (0.0, tall), glass=True)) for each in outlines
    )


def _like(base: Footprint, saddle: Footprint) -> Footprint:
    """Return a saddle in the shape of its base, so that the sides between them are flat."""
    along_x, along_y = _sides(saddle)
    return Circle(min(along_x, along_y)) if isinstance(base, Circle) else Square(along_x, along_y)


def _sides(shape: Footprint) -> PlanPoint:
    """Return how long a footprint is along x and y [m]."""
    return (shape.diameter, shape.diameter) if isinstance(shape, Circle) else (shape.along_x, shape.along_y)


def _ring(at: PlanPoint, shape: Footprint) -> Corners:
    """Return the outline of a footprint [m], anticlockwise."""
    x, y = at
    if isinstance(shape, Circle):
        turns = (2 * pi * number / ROUND for number in range(ROUND))
        return tuple((x + shape.diameter / 2 * cos(turn), y + shape.diameter / 2 * sin(turn)) for turn in turns)
    ahead, aside = shape.along_x / 2, shape.along_y / 2
    return (x - ahead, y - aside), (x + ahead, y - aside), (x + ahead, y + aside), (x - ahead, y + aside)
