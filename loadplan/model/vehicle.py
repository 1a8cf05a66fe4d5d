"""The vehicle: bodies, the parts they are made of, what ties them, and where a support may bear."""

from dataclasses import dataclass, field
from datetime import date
from enum import Enum, IntEnum
from typing import TypeAlias

Place: TypeAlias = tuple[float, float, float]
"""A place on the vehicle in its file's attitude: x, y, z [m]."""

PlanPoint: TypeAlias = tuple[float, float]
"""A place seen from above: x, y [m]."""


class Basis(IntEnum):
    """How good the weights are, poorest first."""

    EXAMPLE = 0
    GUESS = 1
    DATA_SHEET = 2
    WEIGHED = 3

    @property
    def words(self) -> str:
        """The word that files, reports and the machine output use."""
        return self.name.lower().replace("_", " ")


@dataclass(frozen=True, slots=True)
class Weighed:
    """A body weighed whole, with all its parts on.

    Attributes:
        mass: Mass [kg].
        mass_pm: Plus or minus on the mass [kg].
        cg: Centre of gravity [m].
        cg_pm: Plus or minus on each coordinate [m].
        date: Day of the weighing, None where the file does not say.
    """

    mass: float
    mass_pm: float
    cg: Place
    cg_pm: Place
    date: date | None


@dataclass(frozen=True, slots=True)
class Body:
    """Parts that move as one rigid piece.

    Attributes:
        name: Name in the vehicle file.
        outline: Corners in plan [m], empty where the file gives none.
        bottom: Lowest z [m], None where not given.
        top: Highest z [m], None where not given.
        basis: How good its own figures are (its parts carry theirs).
        weighed: What the scales said, None where it was not weighed whole.
    """

    name: str
    outline: tuple[PlanPoint, ...]
    bottom: float | None
    top: float | None
    basis: Basis
    weighed: Weighed | None


@dataclass(frozen=True, slots=True)
class Part:
    """One item with a mass and a centre of gravity.

    Attributes:
        name: Name in the vehicle file.
        body: Body it belongs to.
        mass: Mass [kg], greater than 0.
        mass_pm: Plus or minus on the mass [kg], 0 <= mass_pm < mass.
        at: Centre of gravity [m].
        at_pm: Plus or minus on each coordinate [m].
        after: Parts that must be off before it comes off.
        basis: How good its figures are.
        outline: Corners in plan [m], empty where the file gives none.
        bottom: Lowest z [m], None where not given.
        top: Highest z [m], None where not given.
    """

    name: str
    body: str
    mass: float
    mass_pm: float
    at: Place
    at_pm: Place
    after: tuple[str, ...]
    basis: Basis
    outline: tuple[PlanPoint, ...] = ()
    bottom: float | None = None
    top: float | None = None


class JointKind(Enum):
    """What ties two bodies."""

    BOLTED = "bolted"
    MOUNT = "mount"
    LINK = "link"


@dataclass(frozen=True, slots=True)
class Joint:
    """A tie between two bodies.

    Attributes:
        name: Name in the vehicle file.
        kind: Bolted: one rigid whole while done up. Mount: one vertical spring at one point. Link: a rod with a joint
            at each end, that holds along its line; a mount while others tie the same two rigid wholes.
        between: First and second body; a positive mount force pulls the first one up.
        at: Places [m]: one for a mount or a link (its end on the first body), any number for a bolted joint.
        stiffness: Vertical stiffness of a mount, or of a link that counts as one [N/m].
        to: End of a link on the second body [m], None for the others.
        limit: What a mount or link may carry up or down [N], None where not given.
        part: Part that it goes with: undone while that is off; "" where not said.
    """

    name: str
    kind: JointKind
    between: tuple[str, str]
    at: tuple[Place, ...]
    stiffness: float
    to: Place | None = None
    limit: float | None = None
    part: str = ""


@dataclass(frozen=True, slots=True)
class Point:
    """A place on a body where a support may bear.

    Attributes:
        name: Name in the vehicle file.
        body: Body it is on.
        at: Place [m].
        limit: Load that the place may take [N], None where not given.
        say: What the sheet prints about it, may be empty.
        part: Part that it is on: gone while that is off; "" where not said.
    """

    name: str
    body: str
    at: Place
    limit: float | None
    say: str
    part: str = ""


class TieState(Enum):
    """What has to be done with a hose, harness or fastener that the unit would pull along."""

    OFF = "off"
    TIED = "tied"


@dataclass(frozen=True, slots=True)
class TieUp:
    """Something between assemblies that no joint is: a hose, a harness, an earth strap, a fastener one forgets.

    Attributes:
        name: Name in the vehicle file.
        body: Body that it is at.
        at: Where [m].
        what: Whether it has to be off, or tied up.
        before: Joints and parts, before the first of which comes off that has to be done.
        say: What is printed about it, may be empty.
    """

    name: str
    body: str
    at: Place
    what: TieState
    before: tuple[str, ...]
    say: str = ""


@dataclass(frozen=True, slots=True)
class Vehicle:
    """A vehicle as its file describes it.

    Attributes:
        name: Name for people.
        example: True where the data is invented.
        bodies: In the file's order.
        parts: In the file's order.
        joints: In the file's order.
        points: In the file's order.
        ties: In the file's order.
        source: Path of the file in which it stands, for messages: its own, or the job's.
    """

    name: str
    example: bool
    bodies: tuple[Body, ...]
    parts: tuple[Part, ...]
    joints: tuple[Joint, ...]
    points: tuple[Point, ...]
    ties: tuple[TieUp, ...] = ()
    source: str = field(default="", compare=False)

    def outline_over(self, body: str, part: str) -> tuple[PlanPoint, ...]:
        """Find what the middle of a saddle has to be under.

        Args:
            body: Body that it bears on.
            part: Part that its point is on, "" where not said.

        Returns:
            Corners in plan [m]: of the part, where that has an outline, else of the body; empty where neither has.
        """
        own = next((each.outline for each in self.parts if each.name == part), ())
        return own or next((each.outline for each in self.bodies if each.name == body), ())
