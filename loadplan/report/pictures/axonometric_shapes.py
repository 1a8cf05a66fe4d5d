"""A step in space, drawn: floor, solids from the furthest to the nearest, plumb lines, arrows of the loads."""

from dataclasses import dataclass, replace
from itertools import cycle
from math import hypot

from loadplan.model.shop import EquipmentKind
from loadplan.model.vehicle import Joint
from loadplan.report.drawing.axonometric_projection import XYZ, Projection, dot
from loadplan.report.drawing.convex_solid import Solid, SolidEdge, covers
from loadplan.report.drawing.depth_order import depth_order
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import BODIES, CHALK, EDGE, INK, LIMIT, PAPER, SHEET, SOFT, THIN_EDGE, Stroke
from loadplan.report.drawing.view import XY, Box, View
from loadplan.report.pictures.axonometric_faults import Faults
from loadplan.report.pictures.axonometric_scene import ShownCentre, ShownLoad, SpaceScene, solids_of
from loadplan.report.pictures.axonometric_stands import ShownSolid, SolidKind
from loadplan.report.pictures.plan_shapes import CG, MOUNT, ROD_END, beads, cg_sign, cross_out, link_sign, mount_sign

STANDING = (SolidKind.STAND, SolidKind.SHIM, SolidKind.SADDLE)
"""Kinds of the solids of a support."""

HIDDEN = Stroke(EDGE, 1.0)
"""Edges that their own solid hides: thin, as seen through glass."""

SHADES = ("#FFFFFF", "#EDEFF1", "#DCE1E5")
"""Faces of a stand: from above, and the sides, lighter and darker."""

CLEAR = ("58", "70", "88")
"""How far faces of glass hide what is behind: from above, and the sides, as the last two digits of a colour."""

GREYS = {SolidKind.SHIM: "#9AA5AE", SolidKind.SADDLE: "#B9C1C8", SolidKind.ARM: "#E4E7EA"}
"""Kinds that have a tone of their own."""

HEAD = 9.0
"""Length of the head of an arrow [px]."""

SHORTEST = 1.0
"""A shorter arrow [px] is not drawn."""

FLOOR_CROSS = 5.0
"""Half size of the cross where a plumb line meets the floor [px]."""

SLICES = 3
"""In so many slices a stand keeps words off."""

CHAIN = 0.5
"""Length of the chain of a hoist that is drawn [m]."""


@dataclass(frozen=True, slots=True)
class Seen:
    """From where a scene is seen, and where on the page it is."""

    view: View
    projection: Projection

    def page(self, place: XYZ) -> XY:
        """Return where on the page [px] a place [m] is."""
        right, up = self.projection.project(place)
        return self.view.page(up, -right)

    def page_all(self, places: tuple[XYZ, ...]) -> tuple[XY, ...]:
        """Return where on the page [px] places [m] are."""
        return tuple(self.page(place) for place in places)

    def box(self, places: tuple[XYZ, ...]) -> Box:
        """Return the least box on the page [px] round places [m]."""
        return _around(self.page_all(places))


@dataclass(frozen=True, slots=True)
class SpaceDrawn:
    """What was drawn, for the words beside it.

    Attributes:
        stands: What each support with words covers, in the order of the scene's loads.
        centres: (centre of gravity, where its words belong) of each rigid whole.
        taken: Boxes that must not be covered.
        lines: Boxes that had better not be covered.
    """

    stands: tuple[Box, ...]
    centres: tuple[tuple[ShownCentre, Box], ...]
    taken: tuple[Box, ...]
    lines: tuple[Box, ...]


def draw_space(pen: Pen, seen: Seen, scene: SpaceScene, faults: Faults) -> SpaceDrawn:
    """Draw a scene without its words.

    Args:
        pen: Draws inside the view's frame.
        seen: From where, and where on the page.
        scene: What.
        faults: What is drawn in colour.

    Returns:
        What must not be covered by words.
    """
    chalked = _floor(replace(pen, layer=Layer.GROUND), seen, scene)
    edges = [box for centre in scene.centres for box in _edge(replace(pen, layer=Layer.GROUND), seen, centre, faults)]
    fills = dict(zip((body.name for body in scene.content.bodies), cycle(BODIES), strict=False))
    bodies = replace(pen, layer=Layer.BODIES)
    order = depth_order(solids_of(scene), seen.projection)
    for number in order:
        shown = scene.solids[number]
        _solid(
            bodies,
            seen,
            shown,
            (fills.get(shown.body, BODIES[0]), faults.thing(shown.name) if shown.kind in STANDING else INK),
        )
    mounts = [_mount(pen, seen, scene, joint) for joint in scene.content.mounts]
    links = [box for joint in scene.content.links for box in _link(pen, seen, scene, joint)]
    over = replace(pen, layer=Layer.EDGES)
    for centre in scene.centres:
        _edge_through(over, seen, centre, faults)
    painted = _Painted(scene, order)
    stands = [_stand(pen, seen, painted, shown) for shown in scene.loads]
    arrows = [box for shown in scene.loads for box in arrow(over, seen.page(shown.tail), seen.page(shown.tip))]
    pull = arrow(over, seen.page(scene.pull.tail), seen.page(scene.pull.tip), faults.pull) if scene.pull else []
    centres = [_centre(pen, seen, centre) for centre in scene.centres]
    outlines = [
        box
        for each in scene.solids
        if each.kind in (SolidKind.BODY, SolidKind.PART)
        for edge in each.solid.edges
        if edge.is_seen(seen.projection)
        for box in _thin(seen.page(edge.start), seen.page(edge.end))
    ]
    return SpaceDrawn(
        stands=tuple(box for box, _ in stands),
        centres=tuple((shown, box) for shown, (box, _) in zip(scene.centres, centres, strict=True)),
        taken=(
            *(box for _, boxes in stands for box in boxes),
            *arrows,
            *pull,
            *(box for box, _ in centres),
            *mounts,
            *links,
        ),
        lines=(*chalked, *edges, *(box for _, boxes in centres for box in boxes), *outlines),
    )


def _floor(pen: Pen, seen: Seen, scene: SpaceScene) -> list[Box]:
    """Return what the two chalk lines cover, drawn on the floor with where each centre of gravity may lie."""
    pen.area(seen.page_all(scene.floor), PAPER, Stroke(EDGE, 1.0))
    for centre in scene.centres:
        pen.area(seen.page_all(centre.region), f"{SOFT}1C", LIMIT)
    lines = [seen.page_all(line) for line in scene.chalk if line]
    for line in lines:
        pen.line(line, CHALK)
    return [box for start, end in lines for box in _thin(start, end)]


def _edge(pen: Pen, seen: Seen, centre: ShownCentre, faults: Faults) -> list[Box]:
    """Return what the edge that a rigid whole would go over covers, drawn bold on the floor, with its distance."""
    if not centre.edge:
        return []
    colour = faults.edge(centre.whole)
    start, end = seen.page_all(centre.edge)
    pen.line([start, end], Stroke(colour, 6.0))
    if centre.foot is None:
        return beads(start, end)
    foot = seen.page(centre.foot)
    pen.line([seen.page(centre.plumb), foot], Stroke(colour, 2.0))
    return beads(start, end) + beads(seen.page(centre.plumb), foot)


def _edge_through(pen: Pen, seen: Seen, centre: ShownCentre, faults: Faults) -> None:
    """Draw an edge and its distance once more, thin, over what hides them: where they are seen that adds nothing."""
    colour = faults.edge(centre.whole)
    if centre.edge:
        pen.line(seen.page_all(centre.edge), Stroke(colour, 1.6))
    if centre.foot:
        pen.line([seen.page(centre.plumb), seen.page(centre.foot)], Stroke(colour, 1.0))


def _solid(pen: Pen, seen: Seen, shown: ShownSolid, colours: tuple[str, str]) -> None:
    """Draw a solid: edges that it hides itself, the faces turned to the viewer, and its other edges."""
    solid, projection = shown.solid, seen.projection
    fill, line = colours
    front = [edge for edge in solid.edges if edge.is_seen(projection)]
    if solid.glass:
        pen.segments([_ends(seen, edge) for edge in solid.edges if edge not in front], HIDDEN)
    for face in solid.faces:
        if face.is_seen(projection):
            shade = _shade(face.normal, projection)
            tone = f"{fill}{CLEAR[shade]}" if solid.glass else GREYS.get(shown.kind, SHADES[shade])
            pen.area(seen.page_all(face.corners), tone, None)
    pen.segments([_ends(seen, edge) for edge in front], _stroke(shown, line))


def _ends(seen: Seen, edge: SolidEdge) -> tuple[XY, XY]:
    return seen.page(edge.start), seen.page(edge.end)


def _stroke(shown: ShownSolid, line: str) -> Stroke:
    """Return the stroke of the edges of a solid that are seen."""
    if shown.kind in (SolidKind.ARM, SolidKind.POST):
        return Stroke(EDGE, 1.2)
    if shown.kind is SolidKind.PART:
        return Stroke(INK, 1.0)
    return Stroke(line, 1.6 if line == INK else 2.4, (3.0, 2.0) if shown.dashed else ())


def _shade(normal: XYZ, projection: Projection) -> int:
    """Return which shade a face has: 0 from above, 1 and 2 for sides to the right and left of the viewer's light."""
    right, _ = projection.project(normal)
    size = dot(normal, normal) ** 0.5
    if normal[2] > 0.7 * size:
        return 0
    return 1 if right > 0 else 2


def _mount(pen: Pen, seen: Seen, scene: SpaceScene, joint: Joint) -> Box:
    """Return what the sign of a mount covers, drawn where its first body has it."""
    x, y = seen.page(_raised(scene, joint.at[0], joint.between[0]))
    mount_sign(replace(pen, layer=Layer.STANDS), (x, y))
    return Box(x - MOUNT, y - MOUNT, x + MOUNT, y + MOUNT)


def _link(pen: Pen, seen: Seen, scene: SpaceScene, joint: Joint) -> list[Box]:
    """Return what the ends of a link cover, drawn each where its body has it."""
    places = zip((joint.at[0], joint.to or joint.at[0]), joint.between, strict=True)
    ends = [seen.page(_raised(scene, *place)) for place in places]
    link_sign(replace(pen, layer=Layer.STANDS), ends)
    return [Box(x - ROD_END, y - ROD_END, x + ROD_END, y + ROD_END) for x, y in ends]


def _raised(scene: SpaceScene, place: XYZ, body: str) -> XYZ:
    return place[0], place[1], place[2] + scene.levels.rise(body)


@dataclass(frozen=True, slots=True)
class _Painted:
    """A scene, and the order in which its solids were painted."""

    scene: SpaceScene
    order: tuple[int, ...]

    def hidden(self, number: int, seen: Seen, place: XYZ) -> bool:
        """Return whether a place of a solid is hidden by what was painted after it."""
        later = self.order[self.order.index(number) + 1 :]
        flat = seen.projection.project(place)
        solids = (self.scene.solids[each].solid for each in later)
        return any(not each.glass and covers(each, seen.projection, flat) for each in solids)


def _stand(pen: Pen, seen: Seen, painted: _Painted, shown: ShownLoad) -> tuple[Box, list[Box]]:
    """Return the box beside which a support has its words, and all that it covers on the page.

    A hoist is drawn here, as a chain, and what has nothing above it is crossed out. The words stand beside a slice of a
    stand that nothing hides, so that a line to it does not end on another stand.
    """
    if shown.support.equipment.kind is EquipmentKind.HOIST:
        chain = _chain(replace(pen, layer=Layer.STANDS), seen, shown)
        return chain, [chain]
    scene = painted.scene
    own = [
        number for number, each in enumerate(scene.solids) if each.name == shown.support.name and each.kind in STANDING
    ]
    if not own:
        pad = seen.box((shown.at,)).grown(6.0)
        return pad, [pad]
    solids = [scene.solids[number].solid for number in own]
    if shown.support.name in scene.content.under_air:
        whole = seen.box(tuple(corner for solid in solids for corner in solid.corners))
        cross_out(replace(pen, layer=Layer.STANDS), whole)
    slices = [(number, part) for number, solid in zip(own, solids, strict=True) for part in _slices(solid)]
    # The middle of a stand rather than its head, where the arrow ends, or its foot.
    ranked = [*slices[1 : SLICES - 1], *slices[:1], *slices[SLICES - 1 :]]
    clear = [part for number, part in ranked if not painted.hidden(number, seen, _middle(part))]
    return seen.box((clear or [ranked[0][1]])[0]), [seen.box(part) for _, part in slices]


def _middle(places: tuple[XYZ, ...]) -> XYZ:
    many = len(places)
    return sum(x for x, _, _ in places) / many, sum(y for _, y, _ in places) / many, sum(z for _, _, z in places) / many


def _slices(solid: Solid) -> list[tuple[XYZ, ...]]:
    """Return the corners of slices of a frustum, from its foot up: one box round it all would keep more clear."""
    lower, upper = solid.faces[0].corners[::-1], solid.faces[1].corners

    def ring(share: float) -> tuple[XYZ, ...]:
        return tuple(
            (x + share * (u - x), y + share * (v - y), z + share * (w - z))
            for (x, y, z), (u, v, w) in zip(lower, upper, strict=True)
        )

    return [(*ring(number / SLICES), *ring((number + 1) / SLICES)) for number in range(SLICES)]


def _chain(pen: Pen, seen: Seen, shown: ShownLoad) -> Box:
    """Return what the chain of a hoist covers: it goes up from the place that hangs on it."""
    x, y, z = shown.at
    hook, up = seen.page((x, y, z)), seen.page((x, y, z + CHAIN))
    pen.line([hook, up], Stroke(INK, 2.4, (4, 2)))
    pen.disc(hook, 5.0, SHEET, Stroke(INK, 1.8))
    return Box(hook[0] - 6, hook[1] - 6, hook[0] + 6, up[1])


def arrow(pen: Pen, tail: XY, tip: XY, colour: str = INK) -> list[Box]:
    """Draw an arrow on a white rim, so that it is seen before the lines of the glass.

    Args:
        pen: Draws it.
        tail: Where it begins [px].
        tip: Where it ends [px].
        colour: Its colour.

    Returns:
        What it covers; nothing where it is too short to be drawn.
    """
    long = hypot(tip[0] - tail[0], tip[1] - tail[1])
    if long < SHORTEST:
        return []
    ahead = (tip[0] - tail[0]) / long, (tip[1] - tail[1]) / long
    head = min(HEAD, long)
    neck = tip[0] - head * ahead[0], tip[1] - head * ahead[1]
    aside = -0.6 * head * ahead[1], 0.6 * head * ahead[0]
    pen.line([tail, neck], Stroke(SHEET, 6.0))
    pen.line([tail, neck], Stroke(colour, 3.0))
    sides = [(neck[0] + side * aside[0], neck[1] + side * aside[1]) for side in (-1, 1)]
    pen.area([tip, *sides], colour, Stroke(SHEET, 1.0))
    upright = abs(tip[0] - tail[0]) < 1.0
    return [_around((tail, tip)).grown(HEAD / 2)] if upright else beads(tail, tip)


def _centre(pen: Pen, seen: Seen, centre: ShownCentre) -> tuple[Box, list[Box]]:
    """Return what a centre of gravity and its plumb line cover, drawn down to a cross on the floor."""
    at, foot = seen.page(centre.at), seen.page(centre.plumb)
    pen = replace(pen, layer=Layer.EDGES)
    pen.line([at, foot], Stroke(SHEET, 3.6))
    pen.line([at, foot], Stroke(INK, 1.6, (6, 3)))
    for side in (-1, 1):
        ends = [
            (foot[0] - FLOOR_CROSS, foot[1] - side * FLOOR_CROSS),
            (foot[0] + FLOOR_CROSS, foot[1] + side * FLOOR_CROSS),
        ]
        pen.line(ends, THIN_EDGE)
    cg_sign(replace(pen, layer=Layer.CENTRES), at)
    return Box(at[0] - CG, at[1] - CG, at[0] + CG, at[1] + CG), beads(at, foot)


def _thin(start: XY, end: XY) -> list[Box]:
    """Return thin boxes along a line of the glass: words may lie across it where there is no better place."""
    return [
        Box(box.middle[0] - 1, box.middle[1] - 4, box.middle[0] + 1, box.middle[1] + 4) for box in beads(start, end)
    ]


def _around(places: tuple[XY, ...]) -> Box:
    across, along = [x for x, _ in places], [y for _, y in places]
    return Box(min(across), min(along), max(across), max(along))
