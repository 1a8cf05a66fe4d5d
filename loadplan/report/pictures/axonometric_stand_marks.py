"""Stands of a scene in space, for their words: what each covers, and beside which part of it the words belong."""

from dataclasses import dataclass, replace

from loadplan.model.shop import EquipmentKind
from loadplan.report.drawing.axonometric_projection import XYZ
from loadplan.report.drawing.convex_solid import Solid, covers
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import INK, SHEET, Stroke
from loadplan.report.drawing.view import Box
from loadplan.report.pictures.axonometric_scene import ShownLoad, SpaceScene
from loadplan.report.pictures.axonometric_sight import Seen
from loadplan.report.pictures.axonometric_stands import SolidKind
from loadplan.report.pictures.signs import cross_out

STANDING = (SolidKind.STAND, SolidKind.SHIM, SolidKind.SADDLE)
"""Kinds of the solids of a support."""

SLICES = 3
"""In so many slices a stand keeps words off."""

CHAIN = 0.5
"""Length of the chain of a hoist that is drawn [m]."""


@dataclass(frozen=True, slots=True)
class Painted:
    """A scene, and the order in which its solids were painted."""

    scene: SpaceScene
    order: tuple[int, ...]

    def hidden(self, number: int, seen: Seen, place: XYZ) -> bool:
        """Return whether a place of a solid is hidden by what was painted after it."""
        later = self.order[self.order.index(number) + 1 :]
        flat = seen.projection.project(place)
        solids = (self.scene.solids[each].solid for each in later)
        return any(not each.glass and covers(each, seen.projection, flat) for each in solids)


def mark_stand(pen: Pen, seen: Seen, painted: Painted, shown: ShownLoad) -> tuple[Box, list[Box]]:
    """Find where a support has its words: beside a slice of it that nothing hides, so that no line ends on another.

    A hoist is drawn here, as a chain, and what has nothing above it is crossed out.

    Args:
        pen: Draws that.
        seen: From where, and where on the page.
        painted: The scene, whose solids are painted.
        shown: The support.

    Returns:
        The box beside which the words belong, and boxes round all that it covers.
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
    slices = [
        (number, part)
        for number, solid in zip(own, solids, strict=True)
        for part in _slices(solid, SLICES if scene.solids[number].kind is SolidKind.STAND else 1)
    ]
    # The middle of a stand rather than its head, where the arrow ends, or its foot.
    ranked = [*slices[1 : SLICES - 1], *slices[:1], *slices[SLICES - 1 :]]
    clear = [part for number, part in ranked if not painted.hidden(number, seen, _middle(part))]
    return seen.box((clear or [ranked[0][1]])[0]), [seen.box(part) for _, part in slices]


def _chain(pen: Pen, seen: Seen, shown: ShownLoad) -> Box:
    """Return what the chain of a hoist covers: it goes up from the place that hangs on it."""
    x, y, z = shown.at
    hook, up = seen.page((x, y, z)), seen.page((x, y, z + CHAIN))
    pen.line([hook, up], Stroke(INK, 2.4, (4, 2)))
    pen.disc(hook, 5.0, SHEET, Stroke(INK, 1.8))
    return Box(hook[0] - 6, hook[1] - 6, hook[0] + 6, up[1])


def _slices(solid: Solid, many: int) -> list[tuple[XYZ, ...]]:
    """Return the corners of slices of a frustum, from its foot up: one box round it all would keep more clear."""
    lower, upper = solid.faces[0].corners[::-1], solid.faces[1].corners

    def ring(share: float) -> tuple[XYZ, ...]:
        return tuple(
            (x + share * (u - x), y + share * (v - y), z + share * (w - z))
            for (x, y, z), (u, v, w) in zip(lower, upper, strict=True)
        )

    return [(*ring(number / many), *ring((number + 1) / many)) for number in range(many)]


def _middle(places: tuple[XYZ, ...]) -> XYZ:
    """Return the mean of some places [m]."""
    many = len(places)
    return sum(x for x, _, _ in places) / many, sum(y for _, y, _ in places) / many, sum(z for _, _, z in places) / many
