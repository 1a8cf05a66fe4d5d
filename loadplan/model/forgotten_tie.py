"""What was forgotten in a job, such as a hose that was still on: as it is to stand in the vehicle's file."""

from dataclasses import dataclass

from loadplan.model.vehicle import PlanPoint, TieState, TieUp


@dataclass(frozen=True, slots=True)
class TiePlace:
    """Where something is that was forgotten, and what has to be done with it.

    Attributes:
        body: Assembly that it is at.
        at: Where in plan [m].
        up: How high [m]; None where nobody measured that.
        what: Whether it has to be off, or tied up.
    """

    body: str
    at: PlanPoint
    up: float | None
    what: TieState


@dataclass(frozen=True, slots=True)
class ForgottenTie:
    """Something that was still on, and is not in the vehicle's file.

    Attributes:
        words: What was said of it, as it stands in the record.
        step: The step in which it was found.
        place: Where it is; None where nobody said that yet.
        tie: As it goes into the file; None while nobody said where it is.
        assumed_height: Whether its height is that of what it hangs by, since nobody measured it.
    """

    words: str
    step: str
    place: TiePlace | None
    tie: TieUp | None
    assumed_height: bool = False
