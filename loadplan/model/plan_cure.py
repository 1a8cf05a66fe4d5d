"""What would help, as something that can be done to the plan: where a check solved it, beside a finding's words."""

from dataclasses import dataclass
from typing import TypeAlias

from loadplan.model.step_change import Raising
from loadplan.model.vehicle import PlanPoint


@dataclass(frozen=True, slots=True)
class StandsRaised:
    """Stands are set higher, or lower by a negative height; all of them together.

    Attributes:
        raises: The stands, and how far each [m].
    """

    raises: tuple[Raising, ...]


@dataclass(frozen=True, slots=True)
class LiftLocked:
    """The lift is set down on its locks in this step."""


@dataclass(frozen=True, slots=True)
class LiftLowered:
    """The lift goes down so far past first touch in this step, or the stands come up.

    Attributes:
        by: How far [m].
    """

    by: float


@dataclass(frozen=True, slots=True)
class OtherPiece:
    """Another piece of the same kind is taken.

    Attributes:
        support: The support.
        tag: Tag of the piece.
    """

    support: str
    tag: str


@dataclass(frozen=True, slots=True)
class StandMove:
    """Where a stand is to stand.

    Attributes:
        support: The stand.
        to: Where, seen from above [m].
    """

    support: str
    to: PlanPoint


@dataclass(frozen=True, slots=True)
class StandsMoved:
    """Stands are planned further out, all of them together.

    Attributes:
        moves: The stands, and where each goes.
        by: How far each goes [m].
    """

    moves: tuple[StandMove, ...]
    by: float


@dataclass(frozen=True, slots=True)
class StandUnder:
    """A stand is planned under another point of the vehicle.

    Attributes:
        support: The stand.
        point: Name of the point.
    """

    support: str
    point: str


@dataclass(frozen=True, slots=True)
class OtherEquipment:
    """Other equipment of the shop is planned at a stand's place.

    Attributes:
        support: The stand.
        equipment: Name of the equipment.
    """

    support: str
    equipment: str


@dataclass(frozen=True, slots=True)
class LessPull:
    """Nobody pulls as hard in this step.

    Attributes:
        share: How much of the known pull is left, from 0 to 1; None: no hard pull on a bar.
    """

    share: float | None


PlanCure: TypeAlias = (
    StandsRaised | LiftLocked | LiftLowered | OtherPiece | StandsMoved | StandUnder | OtherEquipment | LessPull
)
