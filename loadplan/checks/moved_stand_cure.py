"""Stands further out: by how much, so that a push, a pull, a tilt or a sway is as asked for; solved, and then told.

Told only where everything that was asked is met with the stands there, nothing else of the group comes nearer to going
over than the job allows, and no base stands where another one does.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from itertools import permutations
from math import atan2, ceil, cos, hypot, pi, sin
from statistics import fmean

from loadplan.checks.case import Case
from loadplan.checks.footprint import area, overlap
from loadplan.checks.phrases import eighth, length, names, several
from loadplan.model.job import Support
from loadplan.model.plan_cure import StandMove, StandsMoved
from loadplan.model.shop import EquipmentKind
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import FoundCure, SolvedCure
from loadplan.statics.equilibrium import Frame
from loadplan.statics.group import solve
from loadplan.statics.moved_stands import MovedGroup, StandMoves, least_move
from loadplan.statics.resting_state import Settings, Solved

MARK = 0.005
"""Marks of a tape to which a stand is set [m]; common practice, no source."""


@dataclass(frozen=True, slots=True)
class FurtherOut:
    """Stands that are to go further out.

    Attributes:
        case: The stage.
        body: A body of the group that they hold.
        about: Names of the stands, and of whatever else it turns about, that does not move.
        way: Which way they go in plan, of any length; None: each away from the middle of them all.
        look: Solves the group, with all that what is asked needs.
        guess: Distance [m] that may do, at which to begin; None for none.
    """

    case: Case
    body: str
    about: tuple[str, ...]
    way: PlanPoint | None
    look: Callable[[Frame, Settings], Solved] = solve
    guess: float | None = None

    @property
    def stands(self) -> tuple[str, ...]:
        """Names of those that can be moved."""
        return tuple(
            each.name for each in self.case.stands if each.name in self.about and may_move(each, self.case, each.body)
        )


def further_out_cure(out: FurtherOut, met: Callable[[MovedGroup], bool], then: str) -> SolvedCure:
    """Say how far out stands have to go, once somebody reads it.

    Args:
        out: The stands.
        met: Whether what is asked is met by the group with its stands there; it has to go to other processes.
        then: What is so then, a clause.

    Returns:
        A sentence of its own, beginning with a blank; nothing where no such distance is found.
    """
    return SolvedCure(partial(_found, out, met, then))


def _found(out: FurtherOut, met: Callable[[MovedGroup], bool], then: str) -> FoundCure:
    """Return the cure, solved; empty where no distance will do, or a base would stand where another one does."""
    stands = out.stands
    distance = least_distance(out, met)
    if distance is None:
        return FoundCure()
    each = several(stands, "", "each ")
    where = "from their middle" if out.way is None else f"to the {eighth(atan2(out.way[1], out.way[0]))}"
    says = (f" With {names(stands)} {each}", length(distance), f" further out {where} {then}.")
    return FoundCure(says, moved_out(out, distance))


def moved_out(out: FurtherOut, distance: float) -> tuple[StandsMoved, ...]:
    """Return stands planned further out.

    Args:
        out: The stands.
        distance: How far each has to go at least [m].

    Returns:
        One cure; the distance is rounded up to marks of a tape, so that what is set so does not come short.
    """
    by = (ceil(distance / MARK) + 1) * MARK
    places = {each.name: each.at for each in out.case.stands}
    ways = _ways(out, out.stands)
    moves = [StandMove(name, (places[name][0] + by * x, places[name][1] + by * y)) for name, (x, y) in ways]
    return (StandsMoved(tuple(moves), by),) if moves else ()


def least_distance(out: FurtherOut, met: Callable[[MovedGroup], bool], beyond: float = 0.0) -> float | None:
    """Find how far out stands have to go.

    Args:
        out: The stands.
        met: Whether what is asked is met by the group with its stands there.
        beyond: Up to here [m] it is known not to be met.

    Returns:
        Distance [m]; None where none is found, or a base would stand where another one does.
    """
    stands, case = out.stands, out.case
    ways = _ways(out, stands)
    if not ways:
        return None
    asked = StandMoves(case.job, case.state, case.statics.gaps, case.statics.floor, out.body, ways, out.look, out.guess)
    distance = least_move(asked, lambda group: met(group) and _is_no_nearer(case, group), beyond)
    return None if distance is None or crowded(asked.moved(distance), stands) else distance


def _ways(out: FurtherOut, stands: tuple[str, ...]) -> tuple[tuple[str, PlanPoint], ...]:
    """Return which way each stand goes, of length 1, the way that is told; empty where one has none."""
    places = {each.name: each.at for each in out.case.stands if each.name in stands}
    if not places:
        return ()
    middle = tuple(fmean(place[axis] for place in places.values()) for axis in (0, 1))
    # Told as one of eight directions, it is solved for that one: else a stand that is set so comes short.
    told = None if out.way is None else nearest_eighth(out.way)
    ways = {name: told or (at[0] - middle[0], at[1] - middle[1]) for name, at in places.items()}
    if not all(hypot(*way) > 0 for way in ways.values()):
        return ()
    return tuple((name, (way[0] / hypot(*way), way[1] / hypot(*way))) for name, way in ways.items())


def _is_no_nearer(case: Case, group: MovedGroup) -> bool:
    """Return whether no body of a group has less margin than is asked for, unless it had as little before."""
    if not (group.solved.answer.balanced and group.solved.answer.robust):
        return False
    wanted = case.job.limits.margin
    for bodies, margin in zip(group.frame.wholes, group.solved.worst_margins, strict=True):
        before = case.answer(bodies[0]).worst_margin
        if margin is not None and margin < (wanted if before is None else min(wanted, before)):
            return False
    return True


def nearest_eighth(way: PlanPoint) -> PlanPoint:
    """Round a direction in plan to the one of eight that is told.

    Args:
        way: Direction, of any length.

    Returns:
        The nearest of eight, of length 1.
    """
    angle = round(atan2(way[1], way[0]) / (pi / 4)) * pi / 4
    return cos(angle), sin(angle)


def may_move(stand: Support, case: Case, body: str) -> bool:
    """Tell whether a stand under a rigid whole can go further out by itself: not what hangs, nor a table's corner.

    Args:
        stand: The stand.
        case: The stage.
        body: A body of the whole.

    Returns:
        Whether it can.
    """
    own = stand.body in case.whole(body)
    return own and not stand.on and not stand.piece and stand.equipment.kind is not EquipmentKind.HOIST


def crowded(supports: tuple[Support, ...], moved: tuple[str, ...]) -> bool:
    """Tell whether a base that has moved would stand where another one does.

    Args:
        supports: All of the state, where they would stand.
        moved: Names of those that have moved.

    Returns:
        Whether one would.
    """
    based = [(each.name, area(each.equipment.base, each.at[:2])) for each in supports if each.equipment.base]
    return any(overlap(one, other) for (name, one), (_, other) in permutations(based, 2) if name in moved)
