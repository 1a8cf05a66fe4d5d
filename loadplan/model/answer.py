"""The answer: what each stage carries, how far it is from tipping, and what that means.

Bad news is an answer, not an error: `Balanced`, `Tips` or `Loose`, each with the evidence that a
reader can check by hand. What is not defined is None.
"""

from dataclasses import dataclass
from typing import TypeAlias

from loadplan.model.disturbance import LaidOn, LostSupport, PullAnswer, PushAnswer, Snag, Sunk
from loadplan.model.job import State
from loadplan.model.lowering import LiftAnswer, SetDownAnswer
from loadplan.model.step_change import UNCHANGED, StepChange
from loadplan.model.vehicle import Place, PlanPoint


@dataclass(frozen=True, slots=True)
class Motion:
    """A small motion of a rigid body: the point (x, y) moves up by w + rx·y − ry·x.

    Attributes:
        w: Heave at the origin [m].
        rx: Rotation about x, left side up [rad].
        ry: Rotation about y, nose down [rad].
    """

    w: float
    rx: float
    ry: float

    def up_at(self, x: float, y: float) -> float:
        """Return the vertical displacement [m] of the place (x, y) [m]."""
        return self.w + self.rx * y - self.ry * x


@dataclass(frozen=True, slots=True)
class Balanced:
    """The weight is held: loads and mount forces that balance it.

    Attributes:
        supports: (name, load [N] >= 0) of every support of the group.
        joints: (name, force [N]) of every mount between its rigid wholes.
    """

    supports: tuple[tuple[str, float], ...]
    joints: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Tips:
    """It goes over: a motion that shortens no support, stretches no mount and lifts no weight.

    Attributes:
        motions: (body, motion) of every body of the group.
    """

    motions: tuple[tuple[str, Motion], ...]


@dataclass(frozen=True, slots=True)
class Loose:
    """It is free to move: a motion that moves no support and stretches no mount.

    Attributes:
        motions: (body, motion) of every body of the group.
    """

    motions: tuple[tuple[str, Motion], ...]


Proof: TypeAlias = Balanced | Tips | Loose


@dataclass(frozen=True, slots=True)
class LoadRange:
    """What one support may come to carry [N].

    Bounds are None where not balanced over the whole tolerance, `most` also where nothing limits it.

    Attributes:
        low: Least over unevenness and mass levels.
        high: Most over unevenness and mass levels.
        least: Least of any loads that satisfy the balance inside tolerance.
        most: Most of any loads that satisfy the balance inside tolerance.
        edge: Most over unevenness, with lean and slope, with each mass and centre of gravity where it is worst; 0 where
            only `high` is known.
    """

    low: float
    high: float
    least: float | None
    most: float | None
    edge: float = 0.0


@dataclass(frozen=True, slots=True)
class Load:
    """What one support carries [N].

    Attributes:
        expected: On rigid bodies and push-only springs.
        range: What it may come to carry; None where only a glance was taken.
    """

    expected: float
    range: LoadRange | None

    @property
    def at_least(self) -> float:
        """The least that is known of: on this floor, or as set where only a glance was taken."""
        return self.range.low if self.range else self.expected

    @property
    def at_most(self) -> float:
        """The most that is known of: on this floor, or as set where only a glance was taken."""
        return self.range.high if self.range else self.expected

    @property
    def at_edge(self) -> float:
        """The most that is known of with masses and centres of gravity at the edge of their tolerance as well."""
        return max(self.range.high, self.range.edge) if self.range else self.expected


@dataclass(frozen=True, slots=True)
class Mode:
    """One way in which a group can go over.

    Attributes:
        about: Supports and mounts that do not move while it does: what it turns about.
        bodies: Bodies that move.
        motions: (body, motion) of every body of the group.
        work: Work against the weight [J] over that motion; positive: the weight holds.
        margins: (body, how far its centre of gravity alone may move [m]) of the bodies it rotates.
        tip_angle: Floor slope at which it goes [rad], centres of gravity moved by their lean; None where the group does
            not stand, or goes over by its own lean.
        worst_margins: The margins of the same bodies, worst over tolerance, lean, floor slope and order of parts [m];
            nothing where there is no tip angle.
        least_work: Least work over the same [J]; None likewise.
    """

    about: tuple[str, ...]
    bodies: tuple[str, ...]
    motions: tuple[tuple[str, Motion], ...]
    work: float
    margins: tuple[tuple[str, float], ...]
    tip_angle: float | None = None
    worst_margins: tuple[tuple[str, float], ...] = ()
    least_work: float | None = None


@dataclass(frozen=True, slots=True)
class BodyAnswer:
    """One body in one stage; margins, tip angle and motion are those of its rigid whole.

    Attributes:
        name: Body.
        rigid_with: Other bodies of its rigid whole.
        mass: Its own mass [kg].
        cg: Its own centre of gravity [m].
        cg_pm: How far that may be off along each axis inside tolerance [m].
        balanced: Whether its group is balanced.
        margin: Distance of the centre of gravity from tipping [m], None where no mode rotates it.
        worst_margin: The same, worst over tolerance, lean, floor slope and order of parts [m].
        tip_angle: Floor slope at which it goes [rad], its centre of gravity moved by its lean.
        motion: Displacement in the expected state, out of the file's attitude.
        settled: The same with the weights' own overturning; None where it goes over by that.
        lean: How far its own centre of gravity has moved level in the settled state (x, y) [m].
    """

    name: str
    rigid_with: tuple[str, ...]
    mass: float
    cg: Place
    cg_pm: Place
    balanced: bool
    margin: float | None
    worst_margin: float | None
    tip_angle: float | None
    motion: Motion | None
    settled: Motion | None = None
    lean: PlanPoint | None = None


@dataclass(frozen=True, slots=True)
class SupportAnswer:
    """One support in one stage.

    Attributes:
        name: Support, or pad for an arm of the lift.
        gap: How much lower its saddle is than the highest one, relative to the body [m].
        load: What it carries, None where its group is not balanced.
    """

    name: str
    gap: float
    load: Load | None


@dataclass(frozen=True, slots=True)
class JointForce:
    """The force in a joint that is done up [N].

    Attributes:
        name: The joint.
        force: What it pulls its first body up by; None inside a rigid whole, in a link that counts as nothing, or where
            not balanced.
        whole: The same on the whole vehicle, in the file's attitude; None where that is not known.
        counts: Whether anything is counted on to hang from it or stand on it; not so for a link on its own.
        along: Of a link that counts: the force along its line, of the same sign; None for a mount.
    """

    name: str
    force: float | None
    whole: float | None = None
    counts: bool = True
    along: float | None = None

    @property
    def borne(self) -> float | None:
        """What the joint itself bears [N]: along its line where it is a link, else up or down."""
        return self.force if self.along is None else self.along


@dataclass(frozen=True, slots=True)
class Miss:
    """How far a joint's holes are out [m]: whole distance and its three components.

    Attributes:
        joint: The joint.
        miss: Distance [m].
        offset: First body's place less the second's along x, y, z [m], lift level taken out.
    """

    joint: str
    miss: float
    offset: Place


@dataclass(frozen=True, slots=True)
class GroupAnswer:
    """One group of linked bodies in one stage.

    Attributes:
        bodies: Names in the job's order.
        supports: Names of its supports, arms too.
        proof: The evidence that it stands, tips or is free to move.
        robust: Whether it is balanced over the whole tolerance, with its lean.
        modes: Every distinct way to go over, least margin first; empty where it is free to move.
        snags: At each undone joint of its bodies.
        lost: Without each support in turn, arms aside.
        sunk: With each support that does not lock sunk by 10 mm; empty where not balanced.
        simplified: True where unevenness was judged by warping modes instead of every corner.
        sway: Share by which a tilt makes itself worse, by the weights' own overturning; None where not balanced, or
            where it goes over by its own lean.
        pushes: On each of its rigid wholes, least first; empty where sway is None, or where the lift holds it.
        laid_on: On each of its rigid wholes, in their order; empty where sway is None.
        worst_tilts: Tilts about x and y [rad] that the worst margins reckon with, whichever hurts a mode most: of each
            body in the order of `bodies`, as it settles and on an uneven floor.
        needed_mounts: Mounts without which it would not be balanced, of those that tie what stands carry on both sides;
            empty with an arm of the lift in it.
        needed_links: Links without which it would not be balanced; empty with an arm of the lift in it.
    """

    bodies: tuple[str, ...]
    supports: tuple[str, ...]
    proof: Proof
    robust: bool
    modes: tuple[Mode, ...]
    snags: tuple[Snag, ...]
    lost: tuple[LostSupport, ...]
    sunk: tuple[Sunk, ...]
    simplified: bool
    sway: float | None
    pushes: tuple[PushAnswer, ...]
    laid_on: tuple[LaidOn, ...]
    worst_tilts: tuple[tuple[tuple[float, float], ...], ...] = ()
    needed_mounts: tuple[str, ...] = ()
    needed_links: tuple[str, ...] = ()

    @property
    def balanced(self) -> bool:
        """Whether it stands with masses and centres of gravity as given."""
        return isinstance(self.proof, Balanced)


@dataclass(frozen=True, slots=True)
class GripAnswer:
    """How one saddle that carries holds by friction.

    Attributes:
        support: The support.
        angle: Tilt of its body in the settled state, and slope of the floor [rad].
        holds: Friction angle of the saddle [rad].
        said: Whether its friction is written down; else the limits' was assumed.
    """

    support: str
    angle: float
    holds: float
    said: bool


@dataclass(frozen=True, slots=True)
class Statics:
    """Everything computed about one stage.

    Attributes:
        groups: In the order of their first body.
        bodies: In the job's order.
        supports: In the job's order, then the arms.
        joints: Joints done up, in the file's order.
        misses: Of joints undone now and done up before the first stage.
        lift: None where the lift holds nothing.
        set_down: None where nothing is being set down, or no later stage parts it.
        pull: None where the stage names none, or its group is not balanced.
        grips: Of the saddles that carry, in the order of the supports.
        floor: Height of the floor in the axes of the file [m]; None where no saddle's height was ever set.
        change: What happens between the state before and this one; nothing at a glance.
        between: States in the middle of a stage whose parts come off in any order; none at a glance.
        on_the_way: States through which parts come off and go on in the listed order; none at a glance.
        too_many_on_the_way: Whether some of these would take too long to solve, and are left out.
    """

    groups: tuple[GroupAnswer, ...]
    bodies: tuple[BodyAnswer, ...]
    supports: tuple[SupportAnswer, ...]
    joints: tuple[JointForce, ...]
    misses: tuple[Miss, ...]
    lift: LiftAnswer | None
    set_down: SetDownAnswer | None
    pull: PullAnswer | None
    grips: tuple[GripAnswer, ...] = ()
    floor: float | None = None
    change: StepChange = UNCHANGED
    between: tuple["Between", ...] = ()
    on_the_way: tuple["Between", ...] = ()
    too_many_on_the_way: bool = False

    @property
    def gaps(self) -> dict[str, float]:
        """How much lower each saddle is than the highest one [m], by support."""
        return {each.name: each.gap for each in self.supports}

    def body(self, name: str) -> BodyAnswer:
        """Return what was computed about a body that is there.

        Raises:
            KeyError: If it is not.
        """
        for each in self.bodies:
            if each.name == name:
                return each
        raise KeyError(name)

    def height(self, body: str, at: Place) -> float | None:
        """Return how high a place of a body is over the floor as it stands [m]; None where that is not known."""
        motion = self.body(body).motion
        return None if motion is None or self.floor is None else at[2] + motion.up_at(*at[:2]) - self.floor

    def load(self, support: str) -> Load | None:
        """Return what a support carries; None where its group is not balanced, or it is not in place."""
        return next((each.load for each in self.supports if each.name == support), None)

    def joint_force(self, joint: str) -> float | None:
        """Return what a joint bears [N]; None inside a rigid whole, where not balanced, or where it is undone."""
        return next((each.borne for each in self.joints if each.name == joint), None)

    def group_of(self, body: str) -> GroupAnswer:
        """Return the group of a body that is there.

        Raises:
            KeyError: If it is not.
        """
        for each in self.groups:
            if body in each.bodies:
                return each
        raise KeyError(body)

    def without(self, support: str) -> LostSupport | None:
        """Return what happens when a support goes; None for an arm, or where its group is not balanced."""
        return next((each for group in self.groups for each in group.lost if each.support == support), None)


@dataclass(frozen=True, slots=True)
class Between:
    """A state in the middle of a stage whose parts come off or go on, with some of them still on, or not yet.

    Attributes:
        state: The state.
        statics: What was computed of it, without what happens on the way to it; of parts that come off in any order
            without pushes and weights laid on, which are told of the stage.
        other_order: Whether what stands too near to tipping here, or goes over, would stand better in another order of
            the parts, as far as that was looked at.
    """

    state: State
    statics: Statics
    other_order: bool = False
