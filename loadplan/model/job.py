"""The job: which support goes where, what each stage changes, and the state that it leaves."""

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date as day

from loadplan.limits import Limits
from loadplan.model.part_above import part_under
from loadplan.model.point_in_polygon import covers_point
from loadplan.model.shop import STANDS_UNDER, Equipment, EquipmentKind, Lift, Shop
from loadplan.model.vehicle import Joint, Place, PlanPoint, Point, Vehicle


@dataclass(frozen=True, slots=True)
class Stack:
    """What lies between a saddle and the body.

    Attributes:
        height: Height [m].
        wood: Species, "rubber", "steel", or "" where not given.
        crib: True where it is built crosswise.
    """

    height: float
    wood: str
    crib: bool


@dataclass(frozen=True, slots=True)
class Support:
    """One piece of equipment under, or hung over, one place of one body.

    Attributes:
        name: Letter or name in the job file; for an arm of the lift, its pad's name.
        equipment: What is used.
        tag: Which piece, "" where not said.
        body: Body it bears on.
        at: Place on that body [m].
        point: Name of the point it bears on, "" where the job gave a place.
        limit: Load that the point may take [N], None where not given.
        say: What the sheet prints about the point.
        height: Saddle height set [m], None where it is brought up to just touch.
        shim: What lies on the saddle, None for nothing.
        friction: Written for this support, None where not given.
        standby: True where it is set to just touch and carries nothing until something moves.
        on: Body that it stands on or hangs from, "" for the floor.
        piece: Supports with the same piece are one piece of equipment; "" for a piece of its own.
        keep: True where the planner leaves it where it is.
        part: Part that its point is on, as the file says or as its outline leaves no doubt, "" where neither tells: it
            bears nothing while that is off.
        outline: Corners in plan [m] of what the middle of its saddle has to be under, or it bears nothing; empty where
            none is given, and for hoists and arms.
        foot: Height of the place on that body where it stands, in the axes of the file [m]; None on the floor, and
            where nothing tells: then its saddle just touches, whatever height is set.
    """

    name: str
    equipment: Equipment
    tag: str
    body: str
    at: Place
    point: str = ""
    limit: float | None = None
    say: str = ""
    height: float | None = None
    shim: Stack | None = None
    friction: float | None = None
    standby: bool = False
    on: str = ""
    piece: str = ""
    keep: bool = False
    part: str = ""
    outline: tuple[PlanPoint, ...] = ()
    foot: float | None = None

    @property
    def is_under(self) -> bool:
        """Whether the middle of its saddle is under what it is to hold; taken to be where no outline is given."""
        return not self.outline or covers_point(self.outline, self.at[:2])

    @property
    def has_bare_foot(self) -> bool:
        """Whether it stands on an assembly, and nothing is said of the friction at that place, but of its saddle."""
        hangs = self.equipment.kind is EquipmentKind.HOIST
        return bool(self.on) and self.friction is None and not hangs

    @property
    def is_arm(self) -> bool:
        """Whether it is an arm of the lift."""
        return self.equipment.kind is EquipmentKind.ARM

    @property
    def set_height(self) -> float | None:
        """Saddle height with the shim on it [m]; None where it is brought up to just touch, and for a hoist."""
        if self.height is None or self.standby or self.equipment.kind is EquipmentKind.HOIST:
            return None
        return self.height + (self.shim.height if self.shim else 0.0)

    def under(self, point: Point, vehicle: Vehicle) -> "Support":
        """Put it under a place.

        Args:
            point: The place; one without a name is not a point of the vehicle's file.
            vehicle: The vehicle.

        Returns:
            The support there.
        """
        stands = self.equipment.kind in STANDS_UNDER
        return replace(
            self,
            body=point.body,
            at=point.at,
            point=point.name,
            limit=point.limit,
            say=point.say,
            part=part_under(vehicle, point.body, point.at, point.part) if stands else point.part,
            outline=vehicle.outline_over(point.body, point.part) if stands else (),
        )


@dataclass(frozen=True, slots=True)
class LiftUse:
    """How the job uses the lift.

    Attributes:
        lift: The lift.
        body: Body that it holds.
        columns: x of the line through its posts [m], None where not given.
        arms: One support an arm, in the order of the pads.
        in_place: Whether it holds the body before the first stage.
    """

    lift: Lift
    body: str
    columns: float | None
    arms: tuple[Support, ...]
    in_place: bool


@dataclass(frozen=True, slots=True)
class Pull:
    """A known pull on a body, as a force or as a torque on a bar.

    Attributes:
        body: Body that is pulled.
        at: Where [m].
        force: Force [N]; for a torque: torque / bar.
        towards: Direction of the force, unit vector; None for a torque.
        about: Axis of the torque, unit vector; None for a force.
        bar: Length of the bar [m]; 0 for a force.
    """

    body: str
    at: Place
    force: float
    towards: Place | None
    about: Place | None
    bar: float


@dataclass(frozen=True, slots=True)
class SetAnew:
    """A saddle height set anew.

    Attributes:
        support: The support, in place.
        height: Its saddle height from then on [m].
    """

    support: str
    height: float


@dataclass(frozen=True, slots=True)
class StageReading:
    """What was found in a stage at one support, by a scale or by hand.

    Attributes:
        support: The support, the pad of an arm, or the lift: what its own gauge reads of all its arms.
        load: What the scale reads [N], None where a hand tried it.
        pm: Plus or minus on that, expanded (k = 2) [N].
        turns: Whether a hand turned it, None where a scale was read.
        lowered: How far the lift was down past first touch when it was read [m], None where as the stage has it.
    """

    support: str
    load: float | None
    pm: float = 0.0
    turns: bool | None = None
    lowered: float | None = None


@dataclass(frozen=True, slots=True)
class Stage:
    """One step of the job as the user wrote it: what it changes, and what holds for it alone.

    Attributes:
        name: Name in the job file.
        in_place: Supports (or the lift) put in place.
        cleared: Supports (or the lift) taken away.
        undone: Joints undone.
        done_up: Joints done up.
        off: Parts taken off.
        on: Parts put back on.
        any_order: Judge every subset of `off` being gone.
        bar: Hard pulls on a bar in this stage.
        pull: A known pull.
        unattended: Left alone, overnight.
        moved: Rolled on a table or dolly.
        lowered: How far the lift goes down past first touch [m], None where this stage does not say.
        raised: The same by stands brought up [m], None where this stage does not say.
        lift_locked: Whether the lift stands on its locks, None where this stage does not say.
        confirm: Boxes to tick besides the usual ones.
        set_anew: Saddle heights set anew from this stage on.
        undone_in_order: The joints in `undone` come off one after the other as listed.
        readings: What was found in it.
    """

    name: str
    in_place: tuple[str, ...] = ()
    cleared: tuple[str, ...] = ()
    undone: tuple[str, ...] = ()
    done_up: tuple[str, ...] = ()
    off: tuple[str, ...] = ()
    on: tuple[str, ...] = ()
    any_order: bool = False
    bar: bool = False
    pull: Pull | None = None
    unattended: bool = False
    moved: bool = False
    lowered: float | None = None
    raised: float | None = None
    lift_locked: bool | None = None
    confirm: tuple[str, ...] = ()
    set_anew: tuple[SetAnew, ...] = ()
    undone_in_order: bool = False
    readings: tuple[StageReading, ...] = ()

    def read_without(self, supports: Collection[str]) -> "Stage":
        """Return it without what was read at some supports: those go, or stand elsewhere from now on."""
        return replace(self, readings=tuple(each for each in self.readings if each.support not in supports))


@dataclass(frozen=True, slots=True)
class Job:
    """A whole job, read and checked for sense.

    Attributes:
        title: Title.
        source: Path of the job file, for messages.
        vehicle: The vehicle.
        shop: The shop.
        bodies: Names of the bodies in use, in the job's order.
        date: Day of the job, on which inspections are judged.
        until: Day up to which the equipment is taken, None where not given.
        limits: What is asked of the plan.
        lift: How the lift is used, None without one.
        supports: In the job's order.
        stages: In the job's order.
        us_units: True where the job file is written in US units.
        assumed: One sentence for each value that a file left out and that was assumed.
        friction_said: Whether the job file gives `[limits] friction`: then the friction of every saddle is said.
    """

    title: str
    source: str
    vehicle: Vehicle
    shop: Shop
    bodies: tuple[str, ...]
    date: day
    until: day | None
    limits: Limits
    lift: LiftUse | None
    supports: tuple[Support, ...]
    stages: tuple[Stage, ...]
    us_units: bool
    assumed: tuple[str, ...]
    friction_said: bool = False

    def says_friction(self, support: Support) -> bool:
        """Return whether anybody said how well a support holds sideways: job, shop, or the job's limits."""
        own = support.friction is not None or (support.equipment.friction is not None and not support.has_bare_foot)
        return self.friction_said or own


@dataclass(frozen=True, slots=True)
class State:
    """The job after one stage: what is on, done up and in place.

    Attributes:
        index: Number of the stage, from 0.
        stage: The stage as written.
        bodies: Bodies still there (a body with all its parts off is gone), in the job's order.
        on: Names of the parts that are on.
        may_be_on: Parts that this stage takes off in any order: any of them may still be on.
        done_up: Joints between bodies in use that are done up.
        undone: Joints between bodies still there that are undone.
        supports: In place, in the job's order, then the arms of the lift while it holds.
        lowered: How far the lift is down past first touch [m], None where never said.
        lift_locked: Whether the lift stands on its locks.
        gone_with_parts: Of the undone, those that this stage undoes only by taking off the part that they go with.
    """

    index: int
    stage: Stage
    bodies: tuple[str, ...]
    on: frozenset[str]
    may_be_on: tuple[str, ...]
    done_up: tuple[Joint, ...]
    undone: tuple[Joint, ...]
    supports: tuple[Support, ...]
    lowered: float | None
    lift_locked: bool
    gone_with_parts: tuple[Joint, ...] = ()

    @property
    def name(self) -> str:
        """Name of the stage."""
        return self.stage.name

    @property
    def bearing(self) -> tuple[Support, ...]:
        """Supports that have something above them; what else is in place stands there and carries nothing."""
        return tuple(each for each in self.supports if self.bears(each))

    def bears(self, support: Support) -> bool:
        """Return whether a support has something above it: the part of its point is on, and its saddle under it."""
        return (not support.part or support.part in self.on) and support.is_under
