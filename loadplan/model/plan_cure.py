"""What would help, as something that can be done to the plan: where a check solved it, beside a finding's words."""

from dataclasses import dataclass
from typing import TypeAlias

from loadplan.model.step_change import Raising


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


PlanCure: TypeAlias = StandsRaised | LiftLocked | LiftLowered | OtherPiece
