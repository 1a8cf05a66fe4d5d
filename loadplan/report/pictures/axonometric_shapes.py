"""A step in space, drawn: floor, solids from the furthest to the nearest, plumb lines, arrows of the loads."""

from dataclasses import dataclass, replace
from itertools import cycle

from loadplan.model.vehicle import Joint
from loadplan.report.drawing.axonometric_projection import XYZ, Projection, dot
from loadplan.report.drawing.convex_solid import SolidEdge
from loadplan.report.drawing.depth_order import depth_order
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import BODIES, EDGE, INK, Stroke
from loadplan.report.drawing.view import XY, Box
from loadplan.report.pictures.axonometric_floor import draw_centre, draw_edge, draw_hidden_edge, draw_space_floor
from loadplan.report.pictures.axonometric_scene import ShownCentre, SpaceScene, solids_of
from loadplan.report.pictures.axonometric_sight import Seen, arrow, thin_beads
from loadplan.report.pictures.axonometric_stand_marks import STANDING, Painted, mark_stand
from loadplan.report.pictures.axonometric_stands import ShownSolid, SolidKind
from loadplan.report.pictures.signs import MOUNT, ROD_END, link_sign, mount_sign

HIDDEN = Stroke(EDGE, 1.0)
"""Edges that their own solid hides: thin, as seen through glass."""

SHADES = ("#FFFFFF", "#EDEFF1", "#DCE1E5")
"""Faces of a stand: from above, and the sides, lighter and darker."""

CLEAR = ("58", "70", "88")
"""How far faces of glass hide what is behind: from above, and the sides, as the last two digits of a colour."""

GREYS = {SolidKind.SHIM: "#9AA5AE", SolidKind.SADDLE: "#B9C1C8", SolidKind.ARM: "#E4E7EA"}
"""Kinds that have a tone of their own."""


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


def draw_space(pen: Pen, seen: Seen, scene: SpaceScene) -> SpaceDrawn:
    """Draw a scene without its words.

    Args:
        pen: Draws inside the view's frame.
        seen: From where, and where on the page.
        scene: What.

    Returns:
        What must not be covered by words.
    """
    ground, over = replace(pen, layer=Layer.GROUND), replace(pen, layer=Layer.EDGES)
    chalked = draw_space_floor(ground, seen, scene)
    colours = [scene.content.faults.edge(centre.whole).line for centre in scene.centres]
    centred = list(zip(scene.centres, colours, strict=True))
    edges = [box for centre, colour in centred for box in draw_edge(ground, seen, centre, colour)]
    order = depth_order(solids_of(scene), seen.projection)
    _solids(replace(pen, layer=Layer.BODIES), seen, Painted(scene, order))
    for centre, colour in centred:
        draw_hidden_edge(over, seen, centre, colour)
    mounts = [_mount(pen, seen, scene, joint) for joint in scene.content.mounts]
    links = [box for joint in scene.content.links for box in _link(pen, seen, scene, joint)]
    painted = Painted(scene, order)
    stands = [mark_stand(pen, seen, painted, shown) for shown in scene.loads]
    arrows = [box for shown in scene.loads for box in arrow(over, seen.page(shown.tail), seen.page(shown.tip))]
    tugged = scene.content.faults.pull.line
    pull = arrow(over, seen.page(scene.pull.tail), seen.page(scene.pull.tip), tugged) if scene.pull else []
    centres = [draw_centre(pen, seen, centre) for centre in scene.centres]
    signs = [box for box, _ in centres]
    return SpaceDrawn(
        stands=tuple(box for box, _ in stands),
        centres=tuple((shown, box) for shown, (box, _) in zip(scene.centres, centres, strict=True)),
        taken=(*(box for _, boxes in stands for box in boxes), *arrows, *pull, *signs, *mounts, *links),
        lines=(*chalked, *edges, *(box for _, boxes in centres for box in boxes), *_outlines(seen, scene)),
    )


def _solids(pen: Pen, seen: Seen, painted: Painted) -> None:
    """Paint the solids of a scene in their order, each body with what bears it in its own grey."""
    scene = painted.scene
    fills = dict(zip((body.name for body in scene.content.bodies), cycle(BODIES), strict=False))
    for number in painted.order:
        shown = scene.solids[number]
        line = scene.content.faults.stand(shown.name).line if shown.kind in STANDING else INK
        _solid(pen, seen, shown, (fills.get(shown.body, BODIES[0]), line))


def _outlines(seen: Seen, scene: SpaceScene) -> list[Box]:
    """Return thin boxes along the edges of bodies and parts that are seen."""
    glass = [each.solid for each in scene.solids if each.kind in (SolidKind.BODY, SolidKind.PART)]
    edges = [edge for solid in glass for edge in solid.edges if edge.is_seen(seen.projection)]
    return [box for edge in edges for box in thin_beads(*_ends(seen, edge))]


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
