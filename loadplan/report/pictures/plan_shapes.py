"""What stands on the floor, seen from above: assemblies, stands, mounts, centres of gravity, edges to go over."""

from dataclasses import dataclass, replace
from itertools import cycle
from typing import assert_never

from loadplan.checks.piece import pieces
from loadplan.model.job import Support
from loadplan.model.shop import Circle, Equipment, EquipmentKind, Footprint, Square
from loadplan.model.vehicle import Joint, PlanPoint
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import (
    BODIES,
    CHALK,
    EDGE,
    FAR_OUTLINE,
    INK,
    LIMIT,
    OUTLINE,
    SHEET,
    THIN_EDGE,
    Stroke,
)
from loadplan.report.drawing.view import Box, View
from loadplan.report.pictures.cg_region import Polygon, axis, chord, clipped
from loadplan.report.pictures.plan_content import PlanContent
from loadplan.report.pictures.signs import CG, FAULT, MOUNT, ROD_END, cg_sign, cross_out, link_sign, mount_sign
from loadplan.report.pictures.tipping_edge import RigidShown
from loadplan.report.pictures.verdict_colours import UNBLAMED, Livery

PART_OUTLINE = Stroke(INK, 1.0)
"""Outline of a part that is drawn by itself."""

POINT = 6
"""Half size of the sign for a place where a stand may bear [px]."""

BLURRED = 4
"""How much wider than its saddle a base has to be to be seen round it [px]: a van's plan shows the saddle alone."""

RING = 6
"""How far the ring round a stand at fault is from its base [px]."""

RING_WIDE = 4.0
"""Width of that ring's line [px]."""

ROUND = 2**0.5
"""How much wider a circle is that goes round a square."""

SEEN = 9
"""Least side of a saddle on the page [px], where to scale it would hardly be seen."""

BEAD = 4
"""Half side of the boxes that keep words off a line [px]."""

ROOM = 4
"""How far words keep off a support that is only hinted at [px]."""

BARE = 0.06
"""Side of a stand that is only hinted at, or whose base is not given [m]."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What is on the page and must not be covered, and where the edges went.

    Attributes:
        taken: Boxes on the page that must not be covered, those of the supports first.
        lines: Boxes along the edges, and small signs, that had better not be covered.
        edges: (whole, where its words belong) of every rigid whole.
    """

    taken: tuple[Box, ...]
    lines: tuple[Box, ...]
    edges: tuple[tuple[RigidShown, Box], ...]


def draw_floor(pen: Pen, view: View, scene: PlanContent) -> Drawn:
    """Draw a scene without its words.

    Args:
        pen: Draws inside the view's frame.
        view: Where.
        scene: What.

    Returns:
        What must not be covered by words.
    """
    _outlines_and_chalk(pen, view, scene)
    for whole in scene.wholes:
        _region(pen, view, whole, _stressed(scene, whole))
    stands = _stands(pen, view, scene)
    bare = [box for support in scene.bare for box in _bare(pen, view, support)]
    points = [_point(pen, view, point.at[:2]) for point in scene.points]
    mounts = [_mount(pen, view, joint.at[0][:2]) for joint in scene.mounts]
    mounts += [box for joint in scene.links for box in _link(pen, view, joint)]
    edges = [_edge(pen, view, whole, _stressed(scene, whole)) for whole in scene.wholes]
    centres = [_centre(pen, view, whole) for whole in scene.wholes]
    lines = [box for _, boxes in edges for box in boxes]
    return Drawn(
        taken=(*stands, *mounts, *(box for boxes in centres for box in boxes)),
        lines=(*points, *bare, *lines),
        edges=tuple((whole, anchor) for whole, (anchor, _) in zip(scene.wholes, edges, strict=True)),
    )


def _stressed(scene: PlanContent, whole: RigidShown) -> Livery | None:
    """Return how a rigid whole's edge looks if it is drawn bold: the nearest of all, and each that is at fault."""
    look = scene.faults.edge(whole)
    return look if whole.name == scene.critical or look is not UNBLAMED else None


def _outlines_and_chalk(pen: Pen, view: View, scene: PlanContent) -> None:
    """Draw what all else stands on and under: outlines of the bodies, and the two chalk lines on the floor."""
    bodies = replace(pen, layer=Layer.BODIES)
    for body in scene.around:
        bodies.area(view.page_all(body.outline), None, FAR_OUTLINE)
    for body, fill in zip(scene.bodies, cycle(BODIES), strict=False):
        bodies.area(view.page_all(body.outline), f"{fill}B0", OUTLINE)
        for part in (each for each in scene.parts if each.body == body.name):
            bodies.area(view.page_all(part.outline), f"{fill}60", PART_OUTLINE)
    floor, frame = replace(pen, layer=Layer.FLOOR), view.frame
    across, along = view.page(0.0, 0.0)
    floor.line([(frame.left, along), (frame.right, along)], CHALK)
    floor.line([(across, frame.bottom), (across, frame.top)], CHALK)


def _region(pen: Pen, view: View, whole: RigidShown, livery: Livery | None) -> None:
    """Draw where a centre of gravity may lie, if there is anything left of it in the view."""
    left = region_left(view, whole)
    if left and (whole.balanced or livery):
        fill = f"{livery.fill}22" if livery else None
        replace(pen, layer=Layer.REGION).named("region", whole.name).area(view.page_all(left), fill, LIMIT)


def region_left(view: View, whole: RigidShown) -> Polygon:
    """Find where a rigid whole's centre of gravity may lie.

    Args:
        view: Where it is looked for.
        whole: The rigid whole.

    Returns:
        Corners [m]; empty where nothing is left, or nothing bounds it in the view.
    """
    left = clipped(view.floor(), [edge.line for edge in whole.edges])
    return () if whole.free or left == view.floor() else left


def _stands(pen: Pen, view: View, scene: PlanContent) -> list[Box]:
    """Return what base and saddle of each support cover, drawn to scale; a shared piece has one base.

    One at fault has a ring in its colour; one with nothing above it is crossed out, too.
    """
    supports, under_air = [support for support, _ in scene.supports], scene.under_air
    pen = replace(pen, layer=Layer.STANDS)
    covered: dict[str, Box] = {}
    for piece in pieces(supports):
        base = _base(piece.equipment)
        box = _box_of(view, piece.centre, base)
        shared = len(piece.supports) > 1
        for support in piece.supports:
            with pen.together("stand", support.name):
                blurred = box.width < saddle_box(view, support).width + BLURRED
                if support is piece.supports[0] and not blurred:
                    fill = "none" if shared else f"{SHEET}D0"
                    dashed = support.standby or support.equipment.kind is EquipmentKind.HOIST
                    colour = FAULT if support.name in under_air else INK
                    _shape(pen, base, box, fill, Stroke(colour, 1.8, (3.0, 2.0) if dashed else ()))
                saddle = _saddle(pen, view, support)
                fault = scene.faults.stand(support.name)
                ring = 0.0 if fault is UNBLAMED else RING + RING_WIDE / 2
                if fault is not UNBLAMED:
                    _ring(pen, (base, box), saddle, Stroke(fault.line, RING_WIDE))
                if support.name in under_air:
                    cross_out(pen, _around(box, saddle))
            covered[support.name] = (saddle if shared else _around(box, saddle)).grown(ring)
    return [covered[support.name] for support in supports]


def _ring(pen: Pen, stand: tuple[Footprint, Box], saddle: Box, stroke: Stroke) -> None:
    """Draw a ring round a stand in the shape of its base, outside of its saddle, too: round that has corners, wider."""
    base, box = stand
    sticks_out = isinstance(base, Circle) and saddle.width / 2 * ROUND > box.width / 2
    around = saddle.grown(saddle.width / 2 * (ROUND - 1)) if sticks_out else _around(box, saddle)
    _shape(pen, base, around.grown(RING), "none", stroke)


def support_box(view: View, support: Support) -> Box:
    """Return what the base of a support covers on the page, at least its saddle.

    Args:
        view: Where.
        support: The support.

    Returns:
        A box [px].
    """
    base = _box_of(view, support.at[:2], _base(support.equipment))
    return base.grown(max(0.0, SEEN - min(base.width, base.height)) / 2)


def saddle_box(view: View, support: Support) -> Box:
    """Return what the saddle of a support covers on the page, at least what can be seen.

    Args:
        view: Where.
        support: The support.

    Returns:
        A box [px].
    """
    box = _box_of(view, support.at[:2], _saddle_shape(support))
    return box.grown(max(0.0, SEEN - min(box.width, box.height)) / 2)


def _saddle_shape(support: Support) -> Footprint:
    return support.equipment.saddle or Square(BARE / 2, BARE / 2)


def _saddle(pen: Pen, view: View, support: Support) -> Box:
    box = saddle_box(view, support)
    _shape(pen, _saddle_shape(support), box, INK, None)
    return box


def _base(equipment: Equipment) -> Footprint:
    """Return the base as drawn: an arm has none, and one of unknown size gets a square of `BARE`."""
    if equipment.base:
        return equipment.base
    return Square(0.0, 0.0) if equipment.kind is EquipmentKind.ARM else Square(BARE, BARE)


def _bare(pen: Pen, view: View, support: Support) -> list[Box]:
    """Return a support that is only hinted at, drawn: words had better not hide it, but it may give way.

    One that the frame would cut through is left out: a stroke at the rim is taken for something else.
    """
    mark = Square(BARE, BARE)
    box = _box_of(view, support.at[:2], mark)
    frame = view.frame
    if box.left < frame.left or box.right > frame.right or box.bottom < frame.bottom or box.top > frame.top:
        return []
    _shape(replace(pen, layer=Layer.STANDS), mark, box, SHEET, Stroke(EDGE, 1.4))
    return [box.grown(ROOM)]


def _box_of(view: View, at: PlanPoint, footprint: Footprint) -> Box:
    """Return what a base or saddle covers on the page [px]."""
    across, along = view.page(*at)
    match footprint:
        case Circle(diameter):
            wide = high = diameter / 2 * view.scale
        case Square(along_x, along_y):
            wide, high = along_y / 2 * view.scale, along_x / 2 * view.scale
        case _:
            assert_never(footprint)
    return Box(across - wide, along - high, across + wide, along + high)


def _shape(pen: Pen, footprint: Footprint, box: Box, fill: str, stroke: Stroke | None) -> None:
    """Draw a base or saddle, round or square."""
    match footprint:
        case Circle():
            pen.disc(box.middle, box.width / 2, fill, stroke)
        case Square():
            pen.box(box, fill, stroke)
        case _:
            assert_never(footprint)


def _around(first: Box, second: Box) -> Box:
    """Return the least box round two."""
    return Box(
        min(first.left, second.left),
        min(first.bottom, second.bottom),
        max(first.right, second.right),
        max(first.top, second.top),
    )


def _point(pen: Pen, view: View, at: PlanPoint) -> Box:
    """Return what the sign for a place where a stand may bear covers, small and light."""
    across, along = view.page(*at)
    pen = replace(pen, layer=Layer.FLOOR)
    pen.line([(across - POINT, along), (across + POINT, along)], Stroke(EDGE, 1.6))
    pen.line([(across, along - POINT), (across, along + POINT)], Stroke(EDGE, 1.6))
    return Box(across - POINT, along - POINT, across + POINT, along + POINT)


def _mount(pen: Pen, view: View, at: PlanPoint) -> Box:
    """Return what the sign of a mount covers, drawn."""
    across, along = view.page(*at)
    mount_sign(replace(pen, layer=Layer.STANDS), (across, along))
    return Box(across - MOUNT, along - MOUNT, across + MOUNT, along + MOUNT)


def _link(pen: Pen, view: View, joint: Joint) -> list[Box]:
    """Return what the sign of a link covers: a rod between two joints."""
    ends = [view.page(*at[:2]) for at in (*joint.at, *((joint.to,) if joint.to else ()))]
    link_sign(replace(pen, layer=Layer.STANDS), ends)
    return [Box(x - ROD_END, y - ROD_END, x + ROD_END, y + ROD_END) for x, y in ends]


def _centre(pen: Pen, view: View, whole: RigidShown) -> list[Box]:
    """Return what a rigid whole's centres of gravity cover, each body's drawn with how far it may be off."""
    pen = replace(pen, layer=Layer.CENTRES)
    with pen.together("cg", whole.name):
        cg_sign(pen, view.page(*whole.cg))
    boxes = []
    for body in whole.bodies:
        x, y, _ = body.cg
        across, along = view.page(x, y)
        wide, high = body.cg_pm[1] * view.scale, body.cg_pm[0] * view.scale
        box = Box(across - wide, along - high, across + wide, along + high)
        pen.box(box, None, Stroke(INK, 1.4))
        boxes.append(_around(box, Box(across - CG, along - CG, across + CG, along + CG)))
    return boxes


def _edge(pen: Pen, view: View, whole: RigidShown, livery: Livery | None) -> tuple[Box, list[Box]]:
    """Return where the words of the nearest edge belong and what it covers, drawn with its distance."""
    middle = view.page(*whole.cg)
    by_the_sign = Box(middle[0] - CG, middle[1] - CG, middle[0] + CG, middle[1] + CG)
    ends, span = edge_ends(view, whole)
    if not ends:
        return by_the_sign, []
    pen = replace(pen, layer=Layer.EDGES)
    stroke = Stroke(livery.line, 6.0) if livery else THIN_EDGE
    pen.named("edge", whole.name).line(ends, stroke)
    if span:
        pen.named("span", whole.name).line(span, Stroke(stroke.colour, 2.0))
        half = (span[0][0] + span[1][0]) / 2, (span[0][1] + span[1][1]) / 2
        return Box(*half, *half), beads(*span) + beads(ends[0], ends[-1])
    return by_the_sign, beads(ends[0], ends[-1])


def edge_ends(view: View, whole: RigidShown) -> tuple[Polygon, Polygon]:
    """Find the edge that a rigid whole is nearest to going over.

    Args:
        view: Where it is drawn.
        whole: The rigid whole.

    Returns:
        Both ends of the edge, and both of the distance from its centre of gravity, on the page [px]; empty for none.
    """
    nearest = whole.nearest.line if whole.nearest else None
    line = axis(whole.free) if whole.free else nearest
    # The rim of what is left to the centre of gravity says which stretch of an edge counts; without one, all of it.
    left = clipped(view.floor(), [edge.line for edge in whole.edges])
    ends = chord(left if whole.balanced and len(left) > 2 else view.floor(), line) if line else None
    if line is None or ends is None:
        return (), ()
    foot = view.page(*line.foot(whole.cg))
    span = (view.page(*whole.cg), foot) if whole.free is None and view.frame.holds(foot) else ()
    return view.page_all(ends), span


def beads(start: PlanPoint, end: PlanPoint) -> list[Box]:
    """Return small boxes along a line, that keep words off it.

    Args:
        start: One end [px].
        end: The other end [px].

    Returns:
        The boxes, from end to end.
    """
    far = max(abs(end[0] - start[0]), abs(end[1] - start[1]))
    steps = max(1, int(far / (2 * BEAD)))
    places = [
        (start[0] + (end[0] - start[0]) * step / steps, start[1] + (end[1] - start[1]) * step / steps)
        for step in range(steps + 1)
    ]
    return [Box(x - BEAD, y - BEAD, x + BEAD, y + BEAD) for x, y in places]
