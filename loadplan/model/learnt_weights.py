"""What readings of a job's stage say of its weights."""

from dataclasses import dataclass

from loadplan.model.readings import Estimate


@dataclass(frozen=True, slots=True)
class PartUpdate:
    """What one part weighs, and where its centre of gravity is, by its file and by readings.

    Attributes:
        body: Its body.
        part: The part, "" for a body weighed whole.
        mass: Mass [kg].
        cg: Along x, y, z [m]; the height is the file's, since no load hangs on it.
    """

    body: str
    part: str
    mass: Estimate
    cg: tuple[Estimate, Estimate, Estimate]


@dataclass(frozen=True, slots=True)
class StiffnessUpdate:
    """How stiff something is, by readings at several lowerings.

    Attributes:
        name: The joint, or the lift for one of its arms.
        stiffness: Upwards [N/m].
    """

    name: str
    stiffness: Estimate


@dataclass(frozen=True, slots=True)
class FurtherScale:
    """The further scale that would tell most.

    Attributes:
        support: Under which support, or the lift for its own gauge.
        now: Plus or minus (k = 2) on the margin that is smallest in the stage [m], for want of knowing the weights.
        then: The same with that reading.
    """

    support: str
    now: float
    then: float


@dataclass(frozen=True, slots=True)
class WeightUpdate:
    """What readings of a stage come to.

    Attributes:
        parts: Of the bodies in use; as the files have them where the readings contradict the plan.
        consistent: Whether readings and plan agree (chi-squared at 95 %).
        suspects: Where they do not: the supports whose readings contradict it, worst first.
        stiffness: What was read at several lowerings tells of arms and joints; only what it does tell.
        further: None where no further scale would tell much.
        by_hand: Supports that only a hand tried: too coarse to weigh by.
    """

    parts: tuple[PartUpdate, ...]
    consistent: bool
    suspects: tuple[str, ...]
    stiffness: tuple[StiffnessUpdate, ...]
    further: FurtherScale | None
    by_hand: tuple[str, ...]
