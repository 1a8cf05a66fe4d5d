"""Rigid wholes of a step with the edges over which they may go, as every picture draws them."""

from dataclasses import dataclass

from loadplan.checks.phrases import names
from loadplan.model.answer import BodyAnswer, Loose, Mode, Motion
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import StageAssessment
from loadplan.report.pictures.cg_region import HalfPlane, half_plane
from loadplan.report.pictures.least_tilt import least_tilt
from loadplan.report.words.stage_tables import wholes

TURNS = 1e-6
"""Turn [rad] below which a motion only lifts; the largest of a proof's motions has size 1."""


@dataclass(frozen=True, slots=True)
class Edge:
    """A line about which a rigid whole goes over, as it is drawn.

    Attributes:
        bodies: Bodies that go over with it.
        about: Supports and mounts that it turns about.
        line: Where its centre of gravity has to stay.
        margin: How far it is inside [m], negative outside.
        worst: The same in the worst case [m], None where that is not known.
    """

    bodies: tuple[str, ...]
    about: tuple[str, ...]
    line: HalfPlane
    margin: float
    worst: float | None

    @property
    def left(self) -> float:
        """How far it is inside in the worst case, or as given where that is not known [m]."""
        return self.margin if self.worst is None else self.worst


@dataclass(frozen=True, slots=True)
class RigidShown:
    """A rigid whole as it is drawn.

    Attributes:
        name: Its bodies, in words.
        bodies: Its bodies.
        cg: Their common centre of gravity [m].
        edges: Every way in which it goes over, nearest in the worst case first; none where it goes with the vehicle on
            the lift.
        tilts: The way in which it goes over at the least tilt, None for none.
        carrier: What is on the lift, where it goes over only together with that; else "".
        balanced: Whether its group is balanced.
        free: A motion that nothing holds, None where there is none.
    """

    name: str
    bodies: tuple[BodyAnswer, ...]
    cg: PlanPoint
    edges: tuple[Edge, ...]
    tilts: Edge | None
    carrier: str
    balanced: bool
    free: Motion | None

    @property
    def nearest(self) -> Edge | None:
        """The edge to draw bold: the nearest; out of balance only one that is passed."""
        edge = self.edges[0] if self.edges else None
        return edge if edge and (self.balanced or edge.margin <= 0) else None


def rigid_wholes(stage: StageAssessment, lifted: str) -> list[RigidShown]:
    """List the rigid wholes of a step with the edges over which they may go, the nearest first.

    Args:
        stage: The step.
        lifted: Name of the body on the lift, "" without a lift.

    Returns:
        They, in the order of their bodies.
    """
    return [_whole(stage, bodies, lifted) for bodies in wholes(stage)]


def goes_first(whole: RigidShown) -> tuple[int, float]:
    """Tell how soon a rigid whole goes over, so that the first of several sorts first.

    Args:
        whole: It.

    Returns:
        Free ones come first, then those past an edge, the furthest past it first, then by margin [m].
    """
    if whole.free:
        return 0, 0.0
    if whole.nearest is None:
        return 3, 0.0
    return (1, -whole.nearest.left) if whole.nearest.left <= 0 else (2, whole.nearest.left)


def may_go(whole: RigidShown) -> bool:
    """Tell whether a rigid whole goes over in its worst case, or is held by nothing.

    Args:
        whole: It.

    Returns:
        Whether it is.
    """
    return whole.free is not None or (whole.nearest is not None and whole.nearest.left <= 0)


def _whole(stage: StageAssessment, bodies: tuple[BodyAnswer, ...], lifted: str) -> RigidShown:
    """Return a rigid whole with the edges over which it may go, the nearest first."""
    mass = sum(body.mass for body in bodies)
    cg = (
        sum(body.mass * body.cg[0] for body in bodies) / mass,
        sum(body.mass * body.cg[1] for body in bodies) / mass,
    )
    first = bodies[0].name
    modes = [mode for group in stage.statics.groups for mode in group.modes if first in dict(mode.margins)]
    edges = sorted((_edge(mode, first, cg) for mode in modes), key=lambda edge: edge.left)
    alone = lifted in {body.name for body in bodies} or not edges or lifted not in edges[0].bodies
    tilts = least_tilt(modes)
    return RigidShown(
        name=names([body.name for body in bodies]),
        bodies=bodies,
        cg=cg,
        edges=tuple(edges) if alone else (),
        tilts=_edge(tilts, first, cg) if alone and tilts else None,
        carrier="" if alone else lifted,
        balanced=bodies[0].balanced,
        free=_free(stage, first),
    )


def _edge(mode: Mode, body: str, cg: PlanPoint) -> Edge:
    worst = dict(mode.worst_margins).get(body)
    return Edge(mode.bodies, mode.about, half_plane(mode, body, cg), dict(mode.margins)[body], worst)


def _free(stage: StageAssessment, body: str) -> Motion | None:
    """Return the motion in which a body turns and nothing holds it, None where something does."""
    for group in stage.statics.groups:
        if body in group.bodies and isinstance(group.proof, Loose):
            motion = dict(group.proof.motions)[body]
            return motion if abs(motion.rx) + abs(motion.ry) > TURNS else None
    return None
