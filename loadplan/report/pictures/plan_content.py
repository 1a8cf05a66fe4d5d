"""What a plan of one stage has to show: the unit on its stands, and the vehicle on the lift around it."""

from dataclasses import dataclass

from loadplan.model.answer import Load
from loadplan.model.job import Job, State, Support
from loadplan.model.tie_due import ties_left
from loadplan.model.vehicle import Body, Joint, JointKind, Part, PlanPoint, Point, TieUp
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.pictures.at_fault import NOBODY, Faults, faults_of
from loadplan.report.pictures.tipping_edge import RigidShown, goes_first, rigid_wholes

REACH = 0.1
"""How far round a support a view reaches [m], whatever its base."""


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
        faults: What cautions and stops of the step are about.
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
    faults: Faults = NOBODY
    ties: tuple[TieUp, ...] = ()

    @property
    def extent(self) -> list[PlanPoint]:
        """Places that have to be in the view [m]."""
        outlines = [*(body.outline for body in self.bodies), *(part.outline for part in self.parts)]
        corners = [corner for outline in outlines for corner in outline]
        stands = [place for support, _ in self.supports for place in _reach(support)]
        return [*corners, *stands, *(whole.cg for whole in self.wholes)] or [(0.0, 0.0)]


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


def whole_scene(assessment: Assessment, stage: StageAssessment) -> PlanContent:
    """Show the unit and the vehicle on the lift in one.

    Args:
        assessment: The job, judged.
        stage: The stage.

    Returns:
        The scene.
    """
    return _scene(assessment.job, stage, stage.state.bodies)


def hangs_something(assessment: Assessment, stage: StageAssessment) -> bool:
    """Return whether the unit's own scene leaves something out that hangs on the lift."""
    return len(_unit(assessment.job, stage.state)) < len(stage.state.bodies)


def margin_is_on_the_lift(assessment: Assessment, stage: StageAssessment) -> bool:
    """Return whether what goes over first is what hangs on the lift, which the unit's own scene leaves out."""
    scene, above = unit_scene(assessment, stage), vehicle_scene(assessment, stage)
    here = any(whole.name == scene.critical for whole in scene.wholes)
    return above is not None and not here and any(whole.name == scene.critical for whole in above.wholes)


def _unit(job: Job, state: State) -> tuple[str, ...]:
    lifted = job.lift.body if job.lift else ""
    return tuple(name for name in state.bodies if name != lifted) or state.bodies


def _scene(job: Job, stage: StageAssessment, shown: tuple[str, ...]) -> PlanContent:
    """Return what is drawn of a step: the shown bodies with their loads and edges, and what lies around them."""
    state = stage.state
    there = [body for body in job.vehicle.bodies if body.name in state.bodies]
    bearing = {support.at for support in state.supports}
    lifted = job.lift.body if job.lift else ""
    every = rigid_wholes(stage, lifted)
    return PlanContent(
        bodies=tuple(body for body in there if body.name in shown),
        around=tuple(body for body in there if body.name not in shown),
        supports=tuple((each, stage.statics.load(each.name)) for each in state.supports if each.body in shown),
        bare=tuple(each for each in state.supports if each.body not in shown),
        wholes=tuple(whole for whole in every if _told_here(job, whole, shown)),
        critical=min(every, key=goes_first).name,
        mounts=_joints_on(state, JointKind.MOUNT, shown),
        points=tuple(
            each
            for each in job.vehicle.points
            if each.body in shown and each.at not in bearing and (not each.part or each.part in state.on)
        ),
        parts=tuple(
            each for each in job.vehicle.parts if each.outline and each.body in shown and each.name in state.on
        ),
        links=_joints_on(state, JointKind.LINK, shown),
        under_air=frozenset(each.name for each in state.supports if not state.bears(each)),
        faults=faults_of(stage, every),
        ties=tuple(each for each in ties_left(job, state.index) if each.body in shown),
    )


def _joints_on(state: State, kind: JointKind, shown: tuple[str, ...]) -> tuple[Joint, ...]:
    """Return the joints of one kind that are done up on bodies that are shown."""
    return tuple(joint for joint in state.done_up if joint.kind is kind and set(joint.between) & set(shown))


def _told_here(job: Job, whole: RigidShown, shown: tuple[str, ...]) -> bool:
    """Return whether a rigid whole belongs to a scene: one with the lift's body in it to that body's."""
    bodies = [body.name for body in whole.bodies]
    if job.lift and job.lift.body in bodies:
        return job.lift.body in shown
    return any(body in shown for body in bodies)


def _reach(support: Support) -> list[PlanPoint]:
    """Return two corners of the room round a stand [m]: its base has to be in the view."""
    x, y, _ = support.at
    return [(x - REACH, y - REACH), (x + REACH, y + REACH)]
