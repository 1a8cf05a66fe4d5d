"""The space of layouts: which points a stand may bear on, what could stand there, and a job with a layout in it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain

from loadplan.checks.piece import pieces
from loadplan.model.job import Job, Stage, State, Support
from loadplan.model.part_above import part_under
from loadplan.model.point_in_polygon import covers_point
from loadplan.model.shop import Equipment, EquipmentKind
from loadplan.model.vehicle import Point, Vehicle
from loadplan.stages import joined, states
from loadplan.statics.gaps import reference

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


# Without slots, so that the states are followed once: a search asks for them at every layout.
@dataclass(frozen=True)
class Space:
    """A job without the supports that are to be planned.

    Attributes:
        job: The job with only the supports that stay.
        start: Number of the stage from which the planned supports stand.
        points: Where they may stand, in the file's order.
        first: Number of the first stage that is not done yet: what was done before is not judged.
    """

    job: Job
    start: int
    points: tuple[Point, ...]
    first: int = 0

    @cached_property
    def states(self) -> tuple[State, ...]:
        """The states from the start on, with only the supports that stay."""
        return states(self.job)[self.start :]

    @cached_property
    def _gone(self) -> dict[Point, int | None]:
        return {point: self._goes(point) for point in self.points}

    def goes_with_part(self, point: Point) -> int | None:
        """Return the number of the stage in which the part over a point, or all its body, comes off; None for none."""
        return self._gone[point] if point in self._gone else self._goes(point)

    def _goes(self, point: Point) -> int | None:
        """Return what `goes_with_part` returns, worked out."""
        part = part_under(self.job.vehicle, point.body, point.at, point.part)
        # A stand under a body of which nothing is left bears nothing, and such a job could not be read.
        gone = (each.index for each in self.states if point.body not in each.bodies or (part and part not in each.on))
        return next(gone, None)

    def stands(self, point: Point, state: State) -> bool:
        """Return whether a stand planned under a point is there in a state, and bears."""
        goes = self.goes_with_part(point)
        return point.body in state.bodies and (goes is None or state.index < goes)


def space(job: Job, first: int = 0) -> Space:
    """Set the job's supports aside, except those that are to stay.

    Args:
        job: The job.
        first: Number of the first stage that is not done yet, from 0: what has stood before stays as it is planned.

    Returns:
        What is left to plan.
    """
    stood = {each.name for state in states(job)[:first] for each in state.supports}
    job = replace(job, supports=tuple(replace(each, keep=each.keep or each.name in stood) for each in job.supports))
    kept = tuple(each for each in job.supports if each.keep)
    aside = frozenset(each.name for each in job.supports if not each.keep)
    stages = tuple(_without(stage, aside) for stage in job.stages)
    used = {each.point for each in kept}
    body = job.lift.body if job.lift else ""
    # What bears on the lift's own body is a prop and not planned; a point that is taken stays taken.
    points = tuple(
        point
        for point in job.vehicle.points
        if point.body in job.bodies and point.body != body and point.name not in used
    )
    planned, start = replace(job, supports=kept, stages=stages), max(_start(job, aside), first)
    here = Space(planned, start, points, first)
    return replace(here, points=tuple(each for each in points if _bears_first(here, each)))


def _bears_first(space: Space, point: Point) -> bool:
    """Return whether a point has something above it in the stage from which the planned stands are there."""
    outline = space.job.vehicle.outline_over(point.body, point.part)
    return not (outline and not covers_point(outline, point.at[:2])) and space.goes_with_part(point) != space.start


def _without(stage: Stage, names: frozenset[str]) -> Stage:
    return replace(
        stage,
        in_place=tuple(name for name in stage.in_place if name not in names),
        cleared=tuple(name for name in stage.cleared if name not in names),
        # A height that was for another stand at another place, though it may get the same letter.
        set_anew=tuple(each for each in stage.set_anew if each.support not in names),
    ).read_without(names)


def _start(job: Job, aside: frozenset[str]) -> int:
    """Return the first stage that put one in place; else that parts a body from the lift's; else the first."""
    # Where no stage names them, stands are needed at the latest when something is parted.
    placed = (number for number, stage in enumerate(job.stages) if aside & set(stage.in_place))
    return next(chain(placed, _partings(job)), 0)


def _partings(job: Job) -> Iterable[int]:
    """Yield the numbers of the stages in which a body is parted from the lift's."""
    if job.lift is None:
        return
    body = job.lift.body
    together = joined(job.vehicle.joints, body)
    for state in states(job):
        now = joined(state.done_up, body)
        if (together - now) & set(state.bodies):
            yield state.index
        together = now


def usable(equipment: Equipment, kept: tuple[Support, ...]) -> int | None:
    """Count the pieces that may still be placed.

    Args:
        equipment: What the shop owns.
        kept: Supports that stay.

    Returns:
        Pieces not out of use and not taken by a support that stays; None where the shop does not count them.
    """
    owned = equipment.usable_count
    taken = pieces(each for each in kept if each.equipment.name == equipment.name)
    return None if owned is None else max(owned - len(taken), 0)


def movable(job: Job) -> tuple[Equipment, ...]:
    """Return the equipment that can stand under a point, in the shop's order.

    Hoists hang; and what oil holds is left out where the job is left alone, since that alone is a stop.
    """
    alone = any(stage.unattended for stage in job.stages)
    return tuple(
        each for each in job.shop.equipment if each.kind is not EquipmentKind.HOIST and (each.locks or not alone)
    )


def serves(equipment: Equipment, point: Point, level: float, slack: float) -> bool:
    """Tell whether equipment reaches a point with the unit at a level.

    Args:
        equipment: The equipment; without heights in the file it is taken to reach.
        point: The point.
        level: How much higher than in the file's attitude the unit stands [m].
        slack: How far a setting may be off [m].

    Returns:
        True if one of its settings lies within the slack of the height needed.
    """
    heights = equipment.heights
    need = point.at[2] + level
    if heights is None:
        return True
    if not heights.settings:
        return heights.lowest - slack <= need <= heights.highest + slack
    # Heights in inches are sums of rounded figures: to the last bit a setting would miss the place it is made for.
    return any(abs(setting - need) <= slack + 1e-9 for setting in heights.settings)


def levels(job: Job, points: tuple[Point, ...]) -> tuple[float, ...]:
    """List set-down levels among which every choice of points that can be served together is served at one.

    Args:
        job: The job.
        points: The points.

    Returns:
        The ends of every stretch of levels at which a piece serves a point [m]; 0 where no height is given.
    """
    slack = job.limits.uneven
    # What is served changes at these levels only; between two of them all are alike.
    ends = {
        setting - point.at[2] + side * slack
        for equipment in movable(job)
        if equipment.heights is not None
        for setting in (equipment.heights.settings or (equipment.heights.lowest, equipment.heights.highest))
        for point in points
        for side in (-1.0, 1.0)
    }
    return tuple(sorted(ends)) or (0.0,)


def kept_level(space: Space) -> float | None:
    """Find the level at which stands that stay hold the unit: the planned ones have to reach it there.

    Args:
        space: The job without the supports to be planned.

    Returns:
        How much higher than in the file's attitude the unit stands [m], once the first of them is in place; None
        where none with a set height stays under it.
    """
    lift = space.job.lift.body if space.job.lift else ""
    # What props the vehicle on the lift says nothing of the unit, which is let down beside it.
    under = (replace(each, supports=tuple(s for s in each.supports if s.body != lift)) for each in space.states)
    floors = (reference(each) for each in under)
    return next((-floor for floor in floors if floor is not None), None)


def laid_out(space: Space, chosen: tuple[tuple[Point, Equipment], ...]) -> Job:
    """Put a layout into the job.

    Args:
        space: The job without it.
        chosen: Points and what stands there.

    Returns:
        The job with one support a point, brought up to touch at the start.
    """
    taken = {each.name for each in space.job.supports} | {joint.name for joint in space.job.vehicle.joints}
    # Also of joints and arms: one name means one thing in a job.
    taken |= {arm.name for arm in space.job.lift.arms} if space.job.lift else set()
    names = (name for name in (*LETTERS, *(f"S{number}" for number in range(1, 100))) if name not in taken)
    vehicle = space.job.vehicle
    placed = tuple(
        stand_under(name, point, equipment, vehicle) for name, (point, equipment) in zip(names, chosen, strict=False)
    )
    stages = list(space.job.stages)
    # All at the start, since a set-down is one moment: what stands later carries nothing of it.
    first = stages[space.start]
    stages[space.start] = replace(first, in_place=(*first.in_place, *(each.name for each in placed)))
    # What stands under a part, or a body, goes with it: left behind it would stand there and bear nothing.
    for support, (point, _) in zip(placed, chosen, strict=True):
        goes = space.goes_with_part(point)
        if goes is not None:
            stages[goes] = replace(stages[goes], cleared=(*stages[goes].cleared, support.name))
    return replace(space.job, supports=(*space.job.supports, *placed), stages=tuple(stages))


def stand_under(name: str, point: Point, equipment: Equipment, vehicle: Vehicle) -> Support:
    """Return a support under a point, brought up to touch.

    Args:
        name: Its name.
        point: The point.
        equipment: What is used.
        vehicle: The vehicle.

    Returns:
        The support.
    """
    return Support(name=name, equipment=equipment, tag="", body=point.body, at=point.at).under(point, vehicle)
