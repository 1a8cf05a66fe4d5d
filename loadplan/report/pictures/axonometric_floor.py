"""The floor of a scene in space: chalk lines, where each centre of gravity may lie, its edge, and its plumb line."""

from dataclasses import replace

from loadplan.report.drawing.axonometric_projection import XYZ
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import CHALK, EDGE, INK, LIMIT, PAPER, SHEET, SOFT, THIN_EDGE, Stroke
from loadplan.report.drawing.view import Box
from loadplan.report.pictures.axonometric_scene import ShownCentre, SpaceScene
from loadplan.report.pictures.axonometric_sight import Seen, thin_beads
from loadplan.report.pictures.plan_shapes import beads
from loadplan.report.pictures.signs import CG, cg_sign

FLOOR_CROSS = 5.0
"""Half size of the cross where a plumb line meets the floor [px]."""

ON_RIM = 1e-9
"""A side this near the rim of the floor [m] lies on it: rounding."""


def draw_space_floor(pen: Pen, seen: Seen, scene: SpaceScene) -> list[Box]:
    """Draw the floor with its two chalk lines, and on it where each centre of gravity may lie.

    Args:
        pen: Draws it.
        seen: From where, and where on the page.
        scene: What.

    Returns:
        What the chalk lines cover.
    """
    pen.area(seen.page_all(scene.floor), PAPER, Stroke(EDGE, 1.0))
    for centre in scene.centres:
        pen.area(seen.page_all(centre.region), f"{SOFT}1C", None)
        pen.segments(
            [(seen.page(start), seen.page(end)) for start, end in _sides_inside(centre.region, scene.floor)], LIMIT
        )
    lines = [seen.page_all(line) for line in scene.chalk if line]
    for line in lines:
        pen.line(line, CHALK)
    return [box for start, end in lines for box in thin_beads(start, end)]


def draw_edge(pen: Pen, seen: Seen, centre: ShownCentre, colour: str) -> list[Box]:
    """Draw the edge that a rigid whole would go over, bold on the floor, and how far its plumb line is from it.

    Args:
        pen: Draws it.
        seen: From where, and where on the page.
        centre: The centre of gravity of the rigid whole.
        colour: Colour of the edge.

    Returns:
        What both cover.
    """
    if not centre.edge:
        return []
    start, end = seen.page_all(centre.edge)
    pen.line([start, end], Stroke(colour, 6.0))
    if centre.foot is None:
        return beads(start, end)
    foot = seen.page(centre.foot)
    pen.line([seen.page(centre.plumb), foot], Stroke(colour, 2.0))
    return beads(start, end) + beads(seen.page(centre.plumb), foot)


def draw_hidden_edge(pen: Pen, seen: Seen, centre: ShownCentre, colour: str) -> None:
    """Draw an edge and its distance once more, thin, over what hides them: where they are seen that adds nothing.

    Args:
        pen: Draws it.
        seen: From where, and where on the page.
        centre: The centre of gravity of the rigid whole.
        colour: Colour of the edge.
    """
    if centre.edge:
        pen.line(seen.page_all(centre.edge), Stroke(colour, 1.6))
    if centre.foot:
        pen.line([seen.page(centre.plumb), seen.page(centre.foot)], Stroke(colour, 1.0))


def draw_centre(pen: Pen, seen: Seen, centre: ShownCentre) -> tuple[Box, list[Box]]:
    """Draw a centre of gravity, and its plumb line down to a cross on the floor.

    Args:
        pen: Draws it.
        seen: From where, and where on the page.
        centre: The centre of gravity.

    Returns:
        What its sign covers, and what the line does.
    """
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


def _sides_inside(region: tuple[XYZ, ...], floor: tuple[XYZ, ...]) -> list[tuple[XYZ, XYZ]]:
    """Return the sides of a region but those along the rim of the floor: there it goes on, and is drawn no further."""
    sides = zip(region, (*region[1:], *region[:1]), strict=True)
    rims = [(axis, corner[axis]) for corner in (floor[0], floor[2]) for axis in (0, 1)]
    return [
        (start, end)
        for start, end in sides
        if not any(max(abs(start[axis] - at), abs(end[axis] - at)) < ON_RIM for axis, at in rims)
    ]
