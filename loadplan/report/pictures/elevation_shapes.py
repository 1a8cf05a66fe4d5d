"""What stands on the floor, seen from one side: assemblies, stands, lift, centres of gravity, tipping triangles."""

from dataclasses import dataclass, replace
from enum import Enum
from itertools import cycle
from math import atan2, radians

from loadplan.checks.piece import Piece, pieces
from loadplan.model.job import Job, Support
from loadplan.model.shop import Circle, EquipmentKind, Footprint
from loadplan.model.vehicle import Body, Joint, Part, Place, PlanPoint, TieUp
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import BODIES, CHALK, EDGE, FAR_OUTLINE, INK, OUTLINE, SHEET, THIN_EDGE, Stroke
from loadplan.report.drawing.view import Box, View
from loadplan.report.pictures.elevation_levels import Levels
from loadplan.report.pictures.plan_content import PlanContent
from loadplan.report.pictures.plan_shapes import PART_OUTLINE, beads
from loadplan.report.pictures.signs import CG, MOUNT, cg_sign, cross_out, link_sign, mount_sign
from loadplan.report.pictures.table_elevation import PLATE, draw_table, hint_table, upright_box
from loadplan.report.pictures.tipping_edge import RigidShown

BARE, THICK = 0.06, 0.05
"""Half width of a stand of unknown base, height of an arm of the lift [m]."""

TRUE = radians(5)
"""A triangle is drawn where its angle is so near the true one [rad]: with others that go over, or hold, it is not."""

FLOOR, THIN = 2.0, 0.5
"""Half width of the strip along the floor, and width of that along an outline [px]: what words across them cost."""

END_ON = 0.7
"""A triangle is drawn where the edge is seen at least so much end on: the cosine of the angle to the view."""


class ViewSide(Enum):
    """From where an elevation is seen."""

    SIDE = "side"
    FRONT = "front"

    def across(self, place: PlanPoint) -> float:
        """Return how far left on the page a place in plan [m] is: front is left, or the vehicle's right is."""
        return place[0] if self is ViewSide.SIDE else -place[1]

    def upright(self, place: Place) -> PlanPoint:
        """Return a place [m] as height and distance across, as a view takes it."""
        return place[2], self.across(place[:2])


@dataclass(frozen=True, slots=True)
class Sight:
    """What is seen: from where, what, and how high it stands."""

    seen: ViewSide
    scene: PlanContent
    levels: Levels
    job: Job

    @property
    def extent(self) -> list[PlanPoint]:
        """Places that have to be in the view, as height and distance across [m]."""
        shown: tuple[Body | Part, ...] = (*self.scene.bodies, *self.scene.parts)
        boxes = [corner for each in shown for corner in self.span(each) or ()]
        stands = [self.top(support) for support, _ in self.scene.supports]
        floor = [(0.0, across) for _, across in (*boxes, *stands)]
        return [*boxes, *stands, *floor, *(self.centre(whole) for whole in self.scene.wholes)] or [(0.0, 0.0)]

    @property
    def posts(self) -> list[PlanPoint]:
        """Places of the lift's posts on the floor, as height and distance across [m]."""
        use = self.job.lift
        if use is None or use.columns is None or use.lift.posts is None:
            return []
        ends = ((use.columns, y + side * use.lift.posts.size / 2) for y in use.lift.posts.y for side in (-1, 1))
        return [(0.0, self.seen.across(end)) for end in ends]

    def top(self, support: Support) -> PlanPoint:
        """Return where a saddle is, as height and distance across [m]."""
        return self.seen.upright((*support.at[:2], self.levels.top(support)))

    def centre(self, whole: RigidShown) -> PlanPoint:
        """Return where a rigid whole's centre of gravity is, as height and distance across [m]."""
        return self.seen.upright((*whole.cg, cg_height(whole, self.levels)))

    def tie(self, tie: TieUp) -> PlanPoint:
        """Return where what has to be off or tied up is, as height and distance across [m]."""
        x, y, z = tie.at
        return self.seen.upright((x, y, z + self.levels.rise(tie.body)))

    def span(self, drawn: Body | Part) -> tuple[PlanPoint, PlanPoint] | None:
        """Return the two corners of the box of a body or part, None where it cannot be drawn."""
        if drawn.bottom is None or drawn.top is None or not drawn.outline:
            return None
        rise = self.levels.rise(drawn.body if isinstance(drawn, Part) else drawn.name)
        reach = [self.seen.across(corner) for corner in drawn.outline]
        return (drawn.bottom + rise, min(reach)), (drawn.top + rise, max(reach))


@dataclass(frozen=True, slots=True)
class CentreSeen:
    """A centre of gravity as drawn.

    Attributes:
        whole: The rigid whole.
        box: What its sign covers.
        angle: Angle of its triangle as drawn [rad], None where it has none.
    """

    whole: RigidShown
    box: Box
    angle: float | None


@dataclass(frozen=True, slots=True)
class StandSeen:
    """What was drawn and must not be covered.

    Attributes:
        stands: (support, its box) of the supports with words.
        centres: The centres of gravity.
        lines: Boxes that had better not be covered.
    """

    stands: tuple[tuple[Support, Box], ...]
    centres: tuple[CentreSeen, ...]
    lines: tuple[Box, ...]


def cg_height(whole: RigidShown, levels: Levels) -> float:
    """Return how high a rigid whole's centre of gravity is.

    Args:
        whole: The rigid whole.
        levels: How high everything stands.

    Returns:
        Height over the floor [m].
    """
    mass = sum(body.mass for body in whole.bodies)
    return sum(body.mass * (body.cg[2] + levels.rise(body.name)) for body in whole.bodies) / mass


def draw_upright(pen: Pen, view: View, sight: Sight) -> StandSeen:
    """Draw what is seen from one side, without its words.

    Args:
        pen: Draws inside the view's frame.
        view: Where; its places are height and distance across.
        sight: What.

    Returns:
        What must not be covered by words.
    """
    _lift(pen, view, sight)
    _bodies_and_floor(pen, view, sight)
    drawn = [
        each
        for piece in pieces(support for support, _ in sight.scene.supports)
        for each in _piece(pen, view, sight, piece)
    ]
    for piece in pieces(support for support in sight.scene.bare if not support.is_arm):
        _hint(pen, view, sight, piece)
    for support, box in drawn:
        if support.name in sight.scene.under_air:
            cross_out(replace(pen, layer=Layer.STANDS), box)
    mounts = [_mount(pen, view, sight, joint.at[0], joint.between[0]) for joint in sight.scene.mounts]
    for joint in sight.scene.links:
        _link(pen, view, sight, joint)
    centres = [_centre(pen, view, sight, whole) for whole in sight.scene.wholes]
    return StandSeen(tuple(drawn), tuple(centres), (*mounts, *_kept_clear(view, sight)))


def _bodies_and_floor(pen: Pen, view: View, sight: Sight) -> None:
    """Draw the bodies as boxes, those around them as outlines only, over the floor; what has no height is not drawn."""
    bodies = replace(pen, layer=Layer.BODIES)
    for body in sight.scene.around:
        if span := sight.span(body):
            bodies.box(upright_box(view, *span), None, FAR_OUTLINE)
    for body, fill in zip(sight.scene.bodies, cycle(BODIES), strict=False):
        if span := sight.span(body):
            bodies.box(upright_box(view, *span), f"{fill}B0", OUTLINE)
        for part in (each for each in sight.scene.parts if each.body == body.name):
            if span := sight.span(part):
                bodies.box(upright_box(view, *span), f"{fill}60", PART_OUTLINE)
    floor, frame = replace(pen, layer=Layer.FLOOR), view.frame
    across, level = view.page(0.0, 0.0)
    floor.line([(frame.left, level), (frame.right, level)], Stroke(INK, 3.0))
    floor.line([(across, level), (across, frame.top)], CHALK)


def _lift(pen: Pen, view: View, sight: Sight) -> None:
    """Draw posts and arms of the lift, as far as the files place them."""
    use = sight.job.lift
    if use is None or use.columns is None or use.lift.posts is None:
        return
    pen = replace(pen, layer=Layer.GROUND)
    half = use.lift.posts.size / 2
    tall = use.lift.ceiling or use.lift.rise or 2.0
    for y in use.lift.posts.y:
        middle = sight.seen.across((use.columns, y))
        pen.box(upright_box(view, (0.0, middle - half), (tall, middle + half)), "#EEF0F1", Stroke(EDGE, 1.2))
    for arm in (support for support, _ in sight.scene.supports if support.is_arm):
        # The files do not say which post an arm hangs on: the nearer one.
        post = min(use.lift.posts.y, key=lambda y: abs(y - arm.at[1]))
        low, high = sorted((sight.seen.across(arm.at[:2]), sight.seen.across((use.columns, post))))
        top = sight.levels.place(arm) - THICK
        pen.box(upright_box(view, (top - THICK, low), (top, high)), SHEET, Stroke(EDGE, 1.4))


def _stand(pen: Pen, view: View, sight: Sight, support: Support) -> Box:
    """Return what a support covers, drawn from its base to its saddle."""
    pen = replace(pen, layer=Layer.STANDS)
    height, across = sight.top(support)
    base, saddle = _halves(support, sight.seen)
    if support.is_arm:
        box = upright_box(view, (height - THICK, across - saddle), (height, across + saddle))
        pen.box(box, INK, None)
        return box
    if support.equipment.kind is EquipmentKind.HOIST:
        x, y = view.page(height, across)
        pen.line([(x, y), (x, view.frame.top)], Stroke(INK, 2.4, (4, 2)))
        return Box(x - 6, y, x + 6, y + 40)
    foot = sight.levels.foot(support)
    dashes = (3.0, 2.0) if support.standby else ()
    shim = support.shim.height if support.shim else 0.0
    pen.area(_trestle(view, (foot, height - shim), across, (base, saddle)), f"{SHEET}D0", Stroke(INK, 1.8, dashes))
    pen.box(upright_box(view, (height - shim - PLATE, across - saddle), (height - shim, across + saddle)), INK, None)
    if shim:
        pen.box(upright_box(view, (height - shim, across - saddle), (height, across + saddle)), SHEET, Stroke(INK, 1.4))
    return upright_box(view, (foot, across - base), (height, across + base))


def _piece(pen: Pen, view: View, sight: Sight, piece: Piece) -> list[tuple[Support, Box]]:
    """Return each support of a piece with what it covers; several on one piece stand on one table."""
    if len(piece.supports) == 1:
        return [(each, _stand(pen, view, sight, each)) for each in piece.supports]
    saddles = [sight.top(each) for each in piece.supports]
    return list(
        zip(piece.supports, draw_table(pen, view, saddles, _halves(piece.supports[0], sight.seen)), strict=True)
    )


def _hint(pen: Pen, view: View, sight: Sight, piece: Piece) -> None:
    """Draw a piece that is not the subject, in outline."""
    saddles = [sight.top(each) for each in piece.supports]
    base, saddle = _halves(piece.supports[0], sight.seen)
    if len(saddles) > 1:
        hint_table(pen, view, saddles, base)
    else:
        height, across = saddles[0]
        outline = _trestle(view, (sight.levels.foot(piece.supports[0]), height), across, (base, saddle))
        replace(pen, layer=Layer.GROUND).area(outline, None, Stroke(EDGE, 1.0, (4, 3)))


def _halves(support: Support, seen: ViewSide) -> tuple[float, float]:
    """Return half the width of a support's base and of its saddle [m]."""
    return _half(support.equipment.base, seen, BARE), _half(support.equipment.saddle, seen, BARE / 2)


def _trestle(view: View, reach: tuple[float, float], across: float, halves: tuple[float, float]) -> list[PlanPoint]:
    """Return the outline of a stand: base plate, then narrowing to the saddle."""
    (foot, top), (base, saddle) = reach, halves
    corners = ((foot, base), (foot + PLATE, base), (top - PLATE, saddle))
    left = [view.page(height, across + half) for height, half in corners]
    right = [view.page(height, across - half) for height, half in reversed(corners)]
    return [*left, *right]


def _half(shape: Footprint | None, seen: ViewSide, default: float) -> float:
    if shape is None:
        return default
    if isinstance(shape, Circle):
        return shape.diameter / 2
    return (shape.along_x if seen is ViewSide.SIDE else shape.along_y) / 2


def _mount(pen: Pen, view: View, sight: Sight, at: Place, body: str) -> Box:
    """Return what the sign of a mount covers, drawn as high as its body stands."""
    x, y = view.page(*sight.seen.upright((*at[:2], at[2] + sight.levels.rise(body))))
    mount_sign(replace(pen, layer=Layer.STANDS), (x, y))
    return Box(x - MOUNT, y - MOUNT, x + MOUNT, y + MOUNT)


def _link(pen: Pen, view: View, sight: Sight, joint: Joint) -> None:
    """Draw the sign of a link, each end as high as its body stands."""
    ends = zip((joint.at[0], joint.to or joint.at[0]), joint.between, strict=True)
    raised = [(at[:2], at[2] + sight.levels.rise(body)) for at, body in ends]
    places = [view.page(*sight.seen.upright((*plan, height))) for plan, height in raised]
    link_sign(replace(pen, layer=Layer.STANDS), places)


def _centre(pen: Pen, view: View, sight: Sight, whole: RigidShown) -> CentreSeen:
    """Return a rigid whole's centre of gravity as drawn, with the triangle to its edge."""
    x, y = view.page(*sight.centre(whole))
    angle = _triangle(replace(pen, layer=Layer.EDGES), view, sight, whole)
    cg_sign(replace(pen, layer=Layer.CENTRES), (x, y))
    return CentreSeen(whole, Box(x - CG, y - CG, x + CG, y + CG), angle)


def _triangle(pen: Pen, view: View, sight: Sight, whole: RigidShown) -> float | None:
    """Return the angle [rad] of the triangle from a centre of gravity to its edge, as drawn, None if it is not."""
    corners = triangle(sight, whole)
    if corners is None:
        return None
    top, below, foot = corners
    stroke = Stroke(sight.scene.faults.edge(whole).line, 4.0) if whole.name == sight.scene.critical else THIN_EDGE
    pen.area(view.page_all(corners), f"{stroke.colour}22", None)
    pen.line(view.page_all(corners), Stroke(stroke.colour, 1.6, (4, 2)))
    pen.line(view.page_all((top, foot)), stroke)
    return atan2(abs(foot[1] - top[1]), top[0] - below[0])


def triangle(sight: Sight, whole: RigidShown) -> tuple[PlanPoint, PlanPoint, PlanPoint] | None:
    """Find the triangle from a centre of gravity to the edge over which it goes.

    Args:
        sight: What is seen.
        whole: The rigid whole.

    Returns:
        Centre of gravity, the place below it, and the edge, as height and distance across [m]; None where the edge is
        not seen end on, or the true angle is another.
    """
    edge, low = whole.tilts, saddle_level(sight, whole)
    if edge is None or low is None or not whole.balanced:
        return None
    height, across = sight.centre(whole)
    foot = sight.seen.across(edge.line.foot(whole.cg))
    if abs(foot - across) < END_ON * edge.margin or height <= low:
        return None
    angle = whole.bodies[0].tip_angle
    if angle is None or abs(atan2(edge.margin, height - low) - angle) > TRUE:
        return None
    return (height, across), (low, across), (low, foot)


def stands_under(sight: Sight, whole: RigidShown) -> list[Support]:
    """Return what a rigid whole stands on, or hangs from: with none, mounts alone hold it."""
    inside = {body.name for body in whole.bodies}
    every = [*(support for support, _ in sight.scene.supports), *sight.scene.bare]
    return [each for each in every if each.body in inside and each.name not in sight.scene.under_air]


def _kept_clear(view: View, sight: Sight) -> list[Box]:
    """Return strips along triangles, floor and outlines of the assemblies: words had better not lie across them."""
    strips: list[Box] = []
    for whole in sight.scene.wholes:
        if corners := triangle(sight, whole):
            top, below, foot = view.page_all(corners)
            strips += [*beads(top, foot), *beads(top, below), *beads(below, foot)]
    _, level = view.page(0.0, 0.0)
    strips += [Box(view.frame.left, level - FLOOR, view.frame.right, level + FLOOR)]
    for body in sight.scene.bodies:
        if span := sight.span(body):
            box = upright_box(view, *span)
            strips += [replace(box, top=box.bottom + THIN), replace(box, bottom=box.top - THIN)]
            strips += [replace(box, right=box.left + THIN), replace(box, left=box.right - THIN)]
    return strips


def saddle_level(sight: Sight, whole: RigidShown) -> float | None:
    """Return how high the lowest saddle under a rigid whole is, else its lowest mount.

    Args:
        sight: What is seen.
        whole: The rigid whole.

    Returns:
        Height over the floor [m], None where nothing bears it.
    """
    inside = {body.name for body in whole.bodies}
    saddles = [sight.levels.place(each) for each in stands_under(sight, whole)]
    mounts = [
        joint.at[0][2] + sight.levels.rise(whole.bodies[0].name)
        for joint in sight.scene.mounts
        if inside & set(joint.between)
    ]
    return min(saddles or mounts, default=None)
