"""A step in space, as plain polygons and lines: what a picture that can be turned has to show, whoever draws it.

All places are in metres in the axes of the file, z over the floor. Nothing here knows from where it is seen: the
drawing on paper (`axonometric_view`) and a page that turns it by hand are held to these same figures.
"""

from dataclasses import dataclass

from loadplan.checks.piece import pieces
from loadplan.model.answer import Load
from loadplan.model.job import Job, Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.vehicle import Body, Part, TieUp
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.axonometric_projection import XYZ
from loadplan.report.drawing.convex_parts import convex_parts
from loadplan.report.drawing.convex_solid import Solid, prisms, turned_left
from loadplan.report.drawing.view import Corners
from loadplan.report.pictures.axonometric_stands import (
    ShownSolid,
    SolidKind,
    arm_solid,
    post_solids,
    stand_solids,
    table_solids,
)
from loadplan.report.pictures.cg_region import axis, chord, clipped
from loadplan.report.pictures.elevation_levels import Levels, levels_of
from loadplan.report.pictures.elevation_shapes import cg_height
from loadplan.report.pictures.plan_content import PlanContent, unit_scene, vehicle_scene
from loadplan.report.pictures.tipping_edge import RigidShown

FLOOR_RIM = 0.2
"""How far the floor is drawn beyond what stands on it or over it [m]."""

LONGEST = 0.3
"""Length of the arrow of the greatest load of the job, as a share of the longer side of the floor."""


@dataclass(frozen=True, slots=True)
class ShownLoad:
    """A support with what it carries, as an arrow down onto its saddle; on a hoist up from the hook.

    Attributes:
        support: The support.
        load: What it carries, None where that is not told.
        at: Where it bears [m].
        tip: Where the arrow ends [m].
        tail: Where it begins [m]; the tip for no load.
    """

    support: Support
    load: Load | None
    at: XYZ
    tip: XYZ
    tail: XYZ


@dataclass(frozen=True, slots=True)
class ShownCentre:
    """A rigid whole's centre of gravity, and over which edge it would go.

    Attributes:
        whole: The rigid whole.
        at: Its centre of gravity [m].
        region: Corners on the floor [m] of where that may lie; empty where nothing bounds it.
        edge: Both ends on the floor [m] of the edge it would go over first, or of the line about which it is free to
            rock; empty for none.
        foot: The nearest place on that edge [m], None for none.
    """

    whole: RigidShown
    at: XYZ
    region: tuple[XYZ, ...]
    edge: tuple[XYZ, ...]
    foot: XYZ | None

    @property
    def plumb(self) -> XYZ:
        """Where its plumb line meets the floor [m]."""
        return self.at[0], self.at[1], 0.0


@dataclass(frozen=True, slots=True)
class ShownPull:
    """A pull as an arrow that ends where it takes hold.

    Attributes:
        force: The pull [N].
        tip: Where it takes hold [m].
        tail: Where the arrow begins [m].
    """

    force: float
    tip: XYZ
    tail: XYZ


@dataclass(frozen=True, slots=True)
class SpaceScene:
    """A step in space.

    Attributes:
        content: What it shows, as a plan has it.
        levels: How high everything stands.
        floor: Corners of the floor that is drawn [m].
        chalk: Ends [m] of the stretch of the axle line, and of the centre line, that lie on it, in this order.
        solids: Bodies, parts, stands, tables, arms, posts.
        loads: The supports with their loads.
        centres: The centres of gravity.
        pull: The pull that the step names, None where it names none, or not on what is shown.
    """

    content: PlanContent
    levels: Levels
    floor: tuple[XYZ, ...]
    chalk: tuple[tuple[XYZ, XYZ] | None, tuple[XYZ, XYZ] | None]
    solids: tuple[ShownSolid, ...]
    loads: tuple[ShownLoad, ...]
    centres: tuple[ShownCentre, ...]
    pull: ShownPull | None

    @property
    def places(self) -> list[XYZ]:
        """Every place that has to be in the picture [m]; a post of the lift with its foot alone."""
        low = [
            corner
            for each in self.solids
            for corner in each.solid.corners
            if each.kind is not SolidKind.POST or corner[2] == 0.0
        ]
        ends = [end for each in self.loads for end in (each.tip, each.tail)]
        return [*self.floor, *low, *ends, *(each.at for each in self.centres)]

    def tie(self, tie: TieUp) -> XYZ:
        """Return where what has to be off or tied up is [m], as high as its body stands."""
        x, y, z = tie.at
        return x, y, z + self.levels.rise(tie.body)


def unit_space(assessment: Assessment, stage: StageAssessment) -> SpaceScene:
    """Put the unit of a step on its stands in space: what the lift holds is left out; without such, all is there.

    Args:
        assessment: The job, judged.
        stage: The stage.

    Returns:
        The scene.
    """
    return _space(assessment, stage, unit_scene(assessment, stage), around=False)


def vehicle_space(assessment: Assessment, stage: StageAssessment) -> SpaceScene | None:
    """Put the whole vehicle with its lift in space, over the unit.

    Args:
        assessment: The job, judged.
        stage: The stage.

    Returns:
        The scene, None where the unit's scene shows everything.
    """
    content = vehicle_scene(assessment, stage)
    return _space(assessment, stage, content, around=True) if content else None


def _space(assessment: Assessment, stage: StageAssessment, content: PlanContent, *, around: bool) -> SpaceScene:
    """Return the scene of what a plan shows, each thing as high as it stands, with or without what lies around it."""
    job, levels = assessment.job, levels_of(assessment.job, stage)
    bodies = (*content.bodies, *content.around) if around else content.bodies
    supports = [*(support for support, _ in content.supports), *(content.bare if around else ())]
    solids = (
        *(solid for body in bodies for solid in _glass(body, levels)),
        *(solid for part in content.parts for solid in _glass(part, levels)),
        *_stands(job, supports, levels),
    )
    floor = _floor(content, solids)
    side = max(floor[0][0] - floor[2][0], floor[0][1] - floor[2][1])
    scale = LONGEST * side / (_greatest(assessment, content) or 1.0)
    return SpaceScene(
        content=content,
        levels=levels,
        floor=floor,
        chalk=_chalk(floor),
        solids=solids,
        loads=tuple(_load(support, load, levels.top(support), scale) for support, load in content.supports),
        centres=tuple(_centre(whole, levels, floor) for whole in content.wholes),
        pull=_pull(stage, content, levels, LONGEST * side / 2),
    )


def _glass(shown: Body | Part, levels: Levels) -> tuple[ShownSolid, ...]:
    """Return a body or part as prisms; none where outline, bottom or top is not given."""
    if shown.bottom is None or shown.top is None or len(shown.outline) < 3:
        return ()
    kind, body = (SolidKind.PART, shown.body) if isinstance(shown, Part) else (SolidKind.BODY, shown.name)
    outline, rise = turned_left(shown.outline), levels.rise(body)
    made = prisms(outline, convex_parts(outline), (shown.bottom + rise, shown.top + rise))
    return tuple(ShownSolid(kind, shown.name, body, solid) for solid in made)


def _stands(job: Job, supports: list[Support], levels: Levels) -> list[ShownSolid]:
    """Return what stands on the floor or holds the vehicle, hoists aside: they are lines, not solids."""
    arms = [support for support in supports if support.is_arm]
    solids = list(post_solids(job)) if arms else []
    solids += [solid for arm in arms if (solid := arm_solid(job, arm, levels.place(arm)))]
    standing = [each for each in supports if not each.is_arm and each.equipment.kind is not EquipmentKind.HOIST]
    for piece in pieces(standing):
        tops = [levels.top(each) for each in piece.supports]
        if len(piece.supports) > 1:
            solids += table_solids(piece, tops)
        else:
            solids += stand_solids(piece.supports[0], tops[0], levels.foot(piece.supports[0]))
    return solids


def _floor(content: PlanContent, solids: tuple[ShownSolid, ...]) -> tuple[XYZ, ...]:
    """Return the corners of the floor: front left first, anticlockwise."""
    corners = [corner for each in solids for corner in each.solid.corners]
    plan = [*((x, y) for x, y, _ in corners), *content.extent]
    left, right = max(y for _, y in plan) + FLOOR_RIM, min(y for _, y in plan) - FLOOR_RIM
    front, back = max(x for x, _ in plan) + FLOOR_RIM, min(x for x, _ in plan) - FLOOR_RIM
    return (front, left, 0.0), (back, left, 0.0), (back, right, 0.0), (front, right, 0.0)


def _chalk(floor: tuple[XYZ, ...]) -> tuple[tuple[XYZ, XYZ] | None, tuple[XYZ, XYZ] | None]:
    """Return axle line and centre line, each from end to end of the floor; None where they do not cross it."""
    (front, left, _), (back, right, _) = floor[0], floor[2]
    axle = ((0.0, left, 0.0), (0.0, right, 0.0)) if back < 0.0 < front else None
    centre = ((front, 0.0, 0.0), (back, 0.0, 0.0)) if right < 0.0 < left else None
    return axle, centre


def _greatest(assessment: Assessment, content: PlanContent) -> float:
    """Return the greatest load [N] in any step on what is shown: so an arrow means the same in every step."""
    shown = {support.name for support, _ in content.supports}
    answers = (each for stage in assessment.stages for each in stage.statics.supports if each.name in shown)
    return max((each.load.expected for each in answers if each.load), default=0.0)


def _load(support: Support, load: Load | None, top: float, scale: float) -> ShownLoad:
    """Return a load as an arrow, a newton so long [m]."""
    x, y, _ = support.at
    at, far = (x, y, top), (x, y, top + (load.expected * scale if load else 0.0))
    hangs = support.equipment.kind is EquipmentKind.HOIST
    return ShownLoad(support, load, at, far if hangs else at, at if hangs else far)


def _pull(stage: StageAssessment, content: PlanContent, levels: Levels, long: float) -> ShownPull | None:
    """Return the pull of a step, so long [m]: it is not on the scale of the loads, which would hide it."""
    pull, answer = stage.state.stage.pull, stage.statics.pull
    if pull is None or answer is None or pull.body not in {body.name for body in content.bodies}:
        return None
    (x, y, z), (ahead, left, up) = pull.at, answer.towards
    tip = x, y, z + levels.rise(pull.body)
    return ShownPull(answer.force, tip, (tip[0] - ahead * long, tip[1] - left * long, tip[2] - up * long))


def _centre(whole: RigidShown, levels: Levels, floor: tuple[XYZ, ...]) -> ShownCentre:
    """Return a centre of gravity with region and edge on the floor, as the plan has them."""
    area: Corners = tuple((x, y) for x, y, _ in floor)
    left = clipped(area, [edge.line for edge in whole.edges])
    bounded = bool(whole.edges) and len(left) > 2 and whole.free is None and left != area
    line = axis(whole.free) if whole.free else whole.nearest.line if whole.nearest else None
    ends = chord(left if bounded and whole.balanced else area, line) if line else None
    foot = line.foot(whole.cg) if line and ends and not whole.free else None
    return ShownCentre(
        whole=whole,
        at=(*whole.cg, cg_height(whole, levels)),
        region=tuple((x, y, 0.0) for x, y in left) if bounded and whole.balanced else (),
        edge=tuple((x, y, 0.0) for x, y in ends or ()),
        foot=(*foot, 0.0) if foot else None,
    )


def solids_of(scene: SpaceScene) -> list[Solid]:
    """Return the solids of a scene, for their order in depth."""
    return [each.solid for each in scene.solids]
