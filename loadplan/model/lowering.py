"""The lift: what it holds, and what each support carries while it goes down."""

from dataclasses import dataclass

from loadplan.model.vehicle import Place


@dataclass(frozen=True, slots=True)
class LiftAnswer:
    """The load on the lift.

    Attributes:
        mass: Mass of what is joined to its body, and of what stands on or hangs from that [kg], as given.
        mass_upper: The same with every mass at its upper tolerance, and every load on it as large as it may be [kg].
        cg: Its centre of gravity [m].
        shift: How far that moved in plan since everything was on [m].
    """

    mass: float
    mass_upper: float
    cg: Place
    shift: float


@dataclass(frozen=True, slots=True)
class Lowering:
    """What each support carries while the lift goes down.

    Attributes:
        levels: How far past first touch, rising from 0 [m].
        supports: Supports of the lift's group, arms too.
        loads: Of each support, its load at each level [N].
    """

    levels: tuple[float, ...]
    supports: tuple[str, ...]
    loads: tuple[tuple[float, ...], ...]

    def at(self, support: str, level: float) -> float:
        """Return what a support carries [N] at the level nearest to one [m]."""
        nearest = min(range(len(self.levels)), key=lambda number: abs(self.levels[number] - level))
        return self.loads[self.supports.index(support)][nearest]


@dataclass(frozen=True, slots=True)
class PartedBody:
    """One body of a unit that is set down, as it stands while it is still joined to the vehicle on the lift.

    Attributes:
        name: The body.
        carried: What its own stands carry [N].
        held: What the joints that part it still hold [N], negative where they press it down; None where bolts of other
            bodies of its rigid whole share that.
        joints: Those joints.
        drop: How far its place sinks that sinks furthest when all of them are undone at once [m], negative where it
            rises; None where it does not stand on its own.
    """

    name: str
    carried: float
    held: float | None
    joints: tuple[str, ...]
    drop: float | None


@dataclass(frozen=True, slots=True)
class SetDownAnswer:
    """A unit coming down onto its stands while it is still joined to the vehicle on the lift.

    Attributes:
        bodies: Bodies that later stages part from the lift's, in the job's order.
        weight: Their weight [N].
        start: Least lowering past first touch [m] at which the stands carry 90 % of it; None: never.
        end: Lowering [m] at which the first arm has lost 80 % of its load; None: never.
        lowered: Lowering that was solved [m].
        given: Whether the job says how far; else the middle of the window, or first touch, was taken.
        drop: How far the unit's lowest-going place sinks [m] when it is parted at that level; None where it does not
            stand on its own.
        lowering: Loads over the lowering, from first touch to a little past the end; start, end and lowered are
            among its levels.
        parted: Each of the bodies by itself.
    """

    bodies: tuple[str, ...]
    weight: float
    start: float | None
    end: float | None
    lowered: float
    given: bool
    drop: float | None
    lowering: Lowering
    parted: tuple[PartedBody, ...] = ()
