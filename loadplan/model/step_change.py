"""Between two steps: what sinks, what is undone one after the other, what is taken away while it still carries."""

from dataclasses import dataclass
from enum import IntEnum


@dataclass(frozen=True, slots=True)
class Drop:
    """How far one place sinks from the state before.

    Attributes:
        place: Support, or undone joint.
        body: Body that sinks there.
        fall: How far [m]; negative where it rises.
    """

    place: str
    body: str
    fall: float


@dataclass(frozen=True, slots=True)
class Raising:
    """One support raised, so that another one carries nothing or that nothing drops.

    Attributes:
        support: The support that is raised.
        by: How far [m].
    """

    support: str
    by: float


@dataclass(frozen=True, slots=True)
class Unloading:
    """A support that a stage takes away.

    Attributes:
        support: The support.
        load: What it still carries with everything of before and after in place [N]; None where that is not balanced.
        raising: What takes its load, the least of all; None where no single support can.
        raisings: Every single support that can, the least first.
    """

    support: str
    load: float | None
    raising: Raising | None
    raisings: tuple[Raising, ...] = ()


@dataclass(frozen=True, slots=True)
class DropCure:
    """What to raise before a stage so that a body does not drop too far in it.

    Attributes:
        body: The body.
        raises: The supports to raise, and how far; at least one.
    """

    body: str
    raises: tuple[Raising, ...]


class Severity(IntEnum):
    """How bad a state on the way is, mildest first."""

    FINE = 0
    NEAR = 1
    OVER = 2


class Trouble(IntEnum):
    """What is wrong with a state on the way; a bound is the most that a piece could ever carry, on any floor."""

    NONE = 0
    RATING = 1
    DROP = 2
    BALANCE = 3
    BOUND = 4


@dataclass(frozen=True, slots=True)
class Halfway:
    """The worst that happens on the way of joints undone one after the other.

    Attributes:
        severity: How bad it is.
        trouble: What it is.
        undone: Joints undone by then, in the order of the way.
        subjects: Bodies that go, the piece that is overloaded, the place that drops; none where nothing is wrong.
        value: Share of a rating [1], or drop [m]; None for a balance, and where nothing limits what a piece carries.
    """

    severity: Severity
    trouble: Trouble
    undone: tuple[str, ...]
    subjects: tuple[str, ...]
    value: float | None


@dataclass(frozen=True, slots=True)
class Undoing:
    """Several joints undone in one stage, one after the other.

    Attributes:
        order: The order that was judged: as listed where the job says so, else the one that holds with the least drop.
        every_order: Whether every order holds.
        alike: Whether no order is worse than the one that was judged.
        listed: Whether the job says that they come off as listed.
        worst: The worst on the way of that order.
    """

    order: tuple[str, ...]
    every_order: bool
    alike: bool
    listed: bool
    worst: Halfway


@dataclass(frozen=True, slots=True)
class StepChange:
    """What happens from the state before to the one after a stage.

    Attributes:
        drops: Of every place of a support and undone joint of bodies that do not hang on the lift afterwards.
        undoing: None where the stage undoes no more than one joint, or where that was not judged.
        unloadings: Of every support that the stage takes away, none where the lift or a hoist then holds its group.
        drop_cures: Of every body that drops too far and that raised stands would keep from it.
    """

    drops: tuple[Drop, ...] = ()
    undoing: Undoing | None = None
    unloadings: tuple[Unloading, ...] = ()
    drop_cures: tuple[DropCure, ...] = ()


UNCHANGED = StepChange()
"""Nothing happens, or nothing was looked at."""
