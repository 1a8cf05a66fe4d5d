"""What a plan of one stage has to show: the unit on its stands, and the vehicle on the lift around it."""

from dataclasses import dataclass

from loadplan.checks.check_table import CHECK_OF
from loadplan.checks.phrases import names
from loadplan.model.answer import BodyAnswer, Load, Loose, Mode, Motion
from loadplan.model.job import Job, State, Support
from loadplan.model.tie_due import ties_left
from loadplan.model.vehicle import Body, Joint, JointKind, Part, PlanPoint, Point, TieUp
from loadplan.model.verdict import Assessment, CheckName, StageAssessment, Verdict
from loadplan.report.pictures.cg_region import HalfPlane, half_plane
from loadplan.report.pictures.least_tilt import least_tilt
from loadplan.report.pictures.verdict_colours import UNBLAMED, Livery, livery
from loadplan.report.words.stage_tables import wholes


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


@dataclass(frozen=True, slots=True)
class PlanContent:
    """What one view shows.

    Attributes:
        bodies: Bodies that it is about.
        around: Other bodies, drawn in outline.
        supports: (support, its load or None) with letter and load beside each.
        bare: Supports drawn without words.
        wholes: Rigid wholes of its bodies.
        critical: Name of the rigid whole of the whole stage that goes over first, "" for none.
        mounts: Mounts done up on its bodies.
        points: Points of its bodies where nothing stands, of parts that are on.
        parts: Parts of its bodies that have an outline and are on.
        links: Links done up on its bodies.
        under_air: Names of supports with nothing above them.
        blamed: (name, caution or stop) of every stand and body at fault.
        ties: Hoses, harnesses and fasteners on its bodies that have to be off or tied before this step or a later one.
    """

    bodies: tuple[Body, ...]
    around: tuple[Body, ...]
    supports: tuple[tuple[Support, Load | None], ...]
    bare: tuple[Support, ...]
    wholes: tuple[RigidShown, ...]
    critical: str
    mounts: tuple[Joint, ...]
    points: tuple[Point, ...]
    parts: tuple[Part, ...] = ()
    links: tuple[Joint, ...] = ()
    under_air: frozenset[str] = frozenset()
    blamed: tuple[tuple[str, Verdict], ...] = ()
    ties: tuple[TieUp, ...] = ()

    @property
    def extent(self) -> list[PlanPoint]:
        """Places that have to be in the view [m]."""
        outlines = [*(body.outline for body in self.bodies), *(part.outline for part in self.parts)]
        corners = [corner for outline in outlines for corner in outline]
        stands = [place for support, _ in self.supports for place in _reach(support)]
        return [*corners, *stands, *(whole.cg for whole in self.wholes)] or [(0.0, 0.0)]

    def look(self, whole: RigidShown) -> Livery:
        """Return how the edge of a rigid whole looks: in the colour of its fault, without one in ink."""
        worst = max((verdict for name, verdict in self.blamed if name in {b.name for b in whole.bodies}), default=None)
        return livery(worst) if worst else UNBLAMED

    def fault(self, stand: str) -> Livery | None:
        """Return the colour of what a stand is at fault for, None where it is not."""
        worst = max((verdict for name, verdict in self.blamed if name == stand), default=None)
        return livery(worst) if worst else None


def unit_scene(assessment: Assessment, stage: StageAssessment) -> PlanContent:
    """Show the bodies that the lift does not hold itself; without such, all.

    Args:
        assessment: The job, judged.
        stage: The stage.

    Returns:
        The scene.
    """
    return _scene(assessment.job, stage, _unit(assessment.job, stage.state))


def vehicle_scene(assessment: Assessment, stage: StageAssessment) -> PlanContent | None:
    """Show the whole vehicle with what the unit's own scene leaves out.

    Args:
        assessment: The job, judged.
        stage: The stage.

    Returns:
        The scene, None where the unit's scene shows everything.
    """
    unit = _unit(assessment.job, stage.state)
    rest = tuple(name for name in stage.state.bodies if name not in unit)
    return _scene(assessment.job, stage, rest) if rest else None


def _unit(job: Job, state: State) -> tuple[str, ...]:
    lifted = job.lift.body if job.lift else ""
    return tuple(name for name in state.bodies if name != lifted) or state.bodies


def _scene(job: Job, stage: StageAssessment, shown: tuple[str, ...]) -> PlanContent:
    """Return what is drawn of a step: the shown bodies with their loads and edges, and what lies around them."""
    state = stage.state
    there = [body for body in job.vehicle.bodies if body.name in state.bodies]
    bearing = {support.at for support in state.supports}
    lifted = job.lift.body if job.lift else ""
    every = [_whole(stage, whole, lifted) for whole in wholes(stage)]
    return PlanContent(
        bodies=tuple(body for body in there if body.name in shown),
        around=tuple(body for body in there if body.name not in shown),
        supports=tuple((each, stage.statics.load(each.name)) for each in state.supports if each.body in shown),
        bare=tuple(each for each in state.supports if each.body not in shown),
        wholes=tuple(whole for whole in every if _told_here(job, whole, shown)),
        critical=min(every, key=_haste).name,
        mounts=_ties(state, JointKind.MOUNT, shown),
        points=tuple(
            each
            for each in job.vehicle.points
            if each.body in shown and each.at not in bearing and (not each.part or each.part in state.on)
        ),
        parts=tuple(
            each for each in job.vehicle.parts if each.outline and each.body in shown and each.name in state.on
        ),
        links=_ties(state, JointKind.LINK, shown),
        under_air=frozenset(each.name for each in state.supports if not state.bears(each)),
        blamed=_blamed(stage),
        ties=tuple(each for each in ties_left(job, state.index) if each.body in shown),
    )


def _blamed(stage: StageAssessment) -> tuple[tuple[str, Verdict], ...]:
    """Return what cautions and stops stand on: a stand by name, piece or tag, a body by how it would go over."""
    called = {name: each.name for each in stage.state.supports for name in (each.piece, each.tag, each.name) if name}
    found: dict[str, Verdict] = {}
    for finding in stage.findings:
        subjects = (
            finding.subject.split(", ") if CHECK_OF[finding.check].of_bodies else [called.get(finding.subject, "")]
        )
        for name in subjects:
            if finding.verdict > Verdict.NOTE and name and finding.check is not CheckName.LOST_SUPPORT:
                found[name] = max(finding.verdict, found.get(name, finding.verdict))
    return tuple(found.items())


def _ties(state: State, kind: JointKind, shown: tuple[str, ...]) -> tuple[Joint, ...]:
    """Return the joints of one kind that are done up on bodies that are shown."""
    return tuple(joint for joint in state.done_up if joint.kind is kind and set(joint.between) & set(shown))


def _haste(whole: RigidShown) -> tuple[int, float]:
    """Return what orders rigid wholes: free ones first, then those past an edge by the least, then by margin."""
    if whole.free:
        return 0, 0.0
    if whole.nearest is None:
        return 3, 0.0
    return (1, -whole.nearest.left) if whole.nearest.left <= 0 else (2, whole.nearest.left)


def _told_here(job: Job, whole: RigidShown, shown: tuple[str, ...]) -> bool:
    """Return whether a rigid whole belongs to a scene: one with the lift's body in it to that body's."""
    bodies = [body.name for body in whole.bodies]
    if job.lift and job.lift.body in bodies:
        return job.lift.body in shown
    return any(body in shown for body in bodies)


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


def _reach(support: Support) -> list[PlanPoint]:
    """Return two corners of the room round a stand [m]: its base has to be in the view."""
    x, y, _ = support.at
    return [(x - REACH, y - REACH), (x + REACH, y + REACH)]


REACH = 0.1
"""How far round a support a view reaches [m], whatever its base."""

TURNS = 1e-6
"""Turn [rad] below which a motion only lifts; the largest of a proof's motions has size 1."""
