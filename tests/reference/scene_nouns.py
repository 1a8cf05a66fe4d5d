"""What a scene is made of: lumps, seats and ties, and the plan that scenes come from."""

from dataclasses import dataclass, field

Place = tuple[float, float, float]

GRAVITY = 9.80665
MASS_SHARE = {"weighed": 0.02, "data sheet": 0.10, "guess": 0.20}
PLACE_PM = {"weighed": 10.0, "data sheet": 25.0, "guess": 40.0}
STIFFNESS = {"stand": 2500.0, "jack": 1500.0, "table": 1500.0, "hoist": 1000.0, "arm": 400.0}
MOUNT_STIFFNESS = 300.0


@dataclass(frozen=True)
class Lump:
    """A mass with its tolerance; sign -1 where it is taken from a body that was weighed whole.

    `optional` names the part if a stage judges it both on and gone; `there` says whether it counts at the stage's end.
    """

    body: str
    sign: int
    mass: float
    mass_pm: float
    at: Place
    at_pm: Place
    optional: str = ""
    there: bool = True


@dataclass(frozen=True)
class Seat:
    """A support in place: a stand, jack, table, hoist or an arm of the lift."""

    name: str
    body: str
    on: str
    at: Place
    stiffness: float
    arm: bool
    hoist: bool
    value: float | None
    """Place's z less height less shim [mm], on a body less that of its foot too; None where it just touches."""
    part: str = ""
    """Part that its point is on."""
    beside: bool = False
    """Whether the middle of its saddle is outside what it is to be under."""
    high: float | None = None
    """Height and shim as set [mm]; None where it just touches."""


@dataclass(frozen=True)
class Tie:
    """A joint, with its places."""

    name: str
    bolted: bool
    first: str
    second: str
    places: tuple[Place, ...]
    stiffness: float
    link: bool = False
    part: str = ""
    to: Place | None = None


@dataclass(frozen=True)
class Scene:
    """The job after one stage."""

    name: str
    bodies: tuple[str, ...]
    lumps: tuple[Lump, ...]
    seats: tuple[Seat, ...]
    ties: tuple[Tie, ...]
    undone: tuple[Tie, ...]
    subsets: tuple[frozenset[str], ...]
    """Which optional parts are gone: every set to be judged; one empty set where the order is given."""
    lowered: float | None
    new: tuple[str, ...]
    """Supports that this stage puts in place."""
    air: tuple[Seat, ...] = ()
    """Supports in place with nothing above them."""
    loosened: tuple[Tie, ...] = ()
    """Of the undone, those that this stage undoes only by taking off the part that they go with."""
    came_off: tuple[Lump, ...] = ()
    """Parts that this stage takes off bodies that are still there."""
    wholes: tuple[tuple[str, ...], ...] = field(default=())
    groups: tuple[tuple[int, ...], ...] = field(default=())

    def whole_of(self, body: str) -> int:
        """Return the number of the rigid whole that a body is part of."""
        return next(number for number, whole in enumerate(self.wholes) if body in whole)

    def group_of(self, body: str) -> tuple[int, ...]:
        """Return the wholes of a body's group."""
        return next(group for group in self.groups if self.whole_of(body) in group)


@dataclass(frozen=True)
class Plan:
    """What a job says once and for all."""

    bodies: tuple[str, ...]
    parts: dict[str, Lump]
    after: dict[str, tuple[str, ...]]
    weighed: dict[str, Lump]
    ties: tuple[Tie, ...]
    outside: tuple[Tie, ...]
    """Joints with one body that is not in use: it is carried elsewhere, and stands for a body that does not move."""
    seats: tuple[Seat, ...]
    arms: tuple[Seat, ...]
    lift_name: str
    lift_body: str
    lift_in_place: bool
    slope: float
    """Tangent of the floor's slope."""
    uneven: float
    uneven_touch: float
