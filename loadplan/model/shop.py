"""The shop: the equipment, lifts and shims that it owns."""

from dataclasses import dataclass
from datetime import date
from enum import Enum
from typing import TypeAlias

from loadplan.limits import TAPE


class EquipmentKind(Enum):
    """What a piece of equipment is; ARM is an arm of the lift, never written by a user."""

    STAND = "stand"
    JACK = "jack"
    TABLE = "table"
    HOIST = "hoist"
    ARM = "arm"


STANDS_UNDER = frozenset((EquipmentKind.STAND, EquipmentKind.JACK, EquipmentKind.TABLE))
"""What stands under a body, with a saddle that is set to a height; a hoist hangs over it, an arm is the lift's own."""


class RatedFor(Enum):
    """Whether a rating is marked for one piece or for a pair of them."""

    EACH = "each"
    PAIR = "pair"
    UNSAID = "unsaid"


@dataclass(frozen=True, slots=True)
class Square:
    """A rectangular contact or base, sides along x and y [m]."""

    along_x: float
    along_y: float


@dataclass(frozen=True, slots=True)
class Circle:
    """A round contact or base.

    Attributes:
        diameter: Diameter [m].
    """

    diameter: float


Footprint: TypeAlias = Square | Circle


@dataclass(frozen=True, slots=True)
class Heights:
    """The heights that equipment can be set to.

    Attributes:
        lowest: Lowest setting [m].
        highest: Highest setting [m].
        settings: Each setting from low to high [m]; empty where stepless.
    """

    lowest: float
    highest: float
    settings: tuple[float, ...]

    def nearest(self, height: float) -> float:
        """Return the setting nearest to a height [m]."""
        if self.settings:
            return min(self.settings, key=lambda setting: abs(setting - height))
        return min(max(height, self.lowest), self.highest)


@dataclass(frozen=True, slots=True)
class Equipment:
    """One kind of equipment that the shop owns.

    Attributes:
        name: Name in the shop file.
        kind: Stand, jack, table, hoist.
        rating: Rating as marked [N].
        rated_for: Whether the mark means one piece or a pair.
        heights: Saddle heights it can be set to, None where not given.
        base: Its footprint on the floor, None where not given.
        saddle: Its contact area, None where not given.
        stiffness: Vertical stiffness [N/m].
        friction: Of its saddle, as given or by what is on its top; None where the file says neither.
        count: Pieces owned, None where not given.
        tags: Names of the pieces, may be empty.
        out_of_use: Tags that must not be used.
        locks: True where it is held mechanically; False where oil or a chain brake holds it.
        wheels: True where it stands on castors.
        inspected: (tag, day) of the last inspection; tag "" stands for every piece.
        inspect_months: Months between inspections, None where not given.
    """

    name: str
    kind: EquipmentKind
    rating: float
    rated_for: RatedFor
    heights: Heights | None
    base: Footprint | None
    saddle: Footprint | None
    stiffness: float
    friction: float | None = None
    count: int | None = None
    tags: tuple[str, ...] = ()
    out_of_use: tuple[str, ...] = ()
    locks: bool = True
    wheels: bool = False
    inspected: tuple[tuple[str, date], ...] = ()
    inspect_months: int | None = None

    @property
    def rating_of_one(self) -> float:
        """What one piece may carry [N]: half of a rating marked for a pair, or not said to be for one."""
        return self.rating if self.rated_for is RatedFor.EACH else self.rating / 2

    @property
    def is_stepless(self) -> bool:
        """Whether it is raised and lowered by as little as one likes, also under load; taken so where nobody says."""
        return self.heights is None or not self.heights.settings

    @property
    def usable_count(self) -> int | None:
        """Pieces that are not out of use; None where it is not known how many there are."""
        return None if self.count is None else max(self.count - len(self.out_of_use), 0)


@dataclass(frozen=True, slots=True)
class Posts:
    """The posts of a lift.

    Attributes:
        y: Place of each post across the vehicle [m].
        size: Side of a post's square section [m].
    """

    y: tuple[float, ...]
    size: float


@dataclass(frozen=True, slots=True)
class Lift:
    """A vehicle lift.

    Attributes:
        name: Name in the shop file.
        rating: Rated load [N].
        arms: Number of arms.
        arm_rating: What one arm may carry [N].
        rise: Greatest pad height over the floor [m], None where not given.
        ceiling: Height of the ceiling [m], None where not given.
        locks: True where it can be set down on mechanical locks.
        lock_step: Distance between locks [m], 0 where it locks at any height (screws), None where not given.
        posts: Its posts, None where not given.
        stiffness: Of one arm [N/m].
        stiffness_assumed: True where the file did not give it.
    """

    name: str
    rating: float
    arms: int
    arm_rating: float
    rise: float | None
    ceiling: float | None
    locks: bool
    lock_step: float | None
    posts: Posts | None
    stiffness: float
    stiffness_assumed: bool


@dataclass(frozen=True, slots=True)
class Shim:
    """A kind of block or plate that the shop owns.

    Attributes:
        height: Height [m].
        wood: Species, "rubber", "steel", or "" where not given.
        count: Pieces owned, None where not given.
    """

    height: float
    wood: str
    count: int | None

    def fits(self, height: float, wood: str) -> bool:
        """Return whether it is as high as asked for [m] and of that wood; "" asks for any."""
        return abs(self.height - height) <= TAPE and wood.casefold() in {"", self.wood.casefold()}


@dataclass(frozen=True, slots=True)
class Shop:
    """What the shop owns, each in the file's order."""

    equipment: tuple[Equipment, ...]
    lifts: tuple[Lift, ...]
    shims: tuple[Shim, ...]
