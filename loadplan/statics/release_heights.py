"""Release heights: how high the stands of each assembly would stand for its mounts to let go without a drop.

Asked for are raises h of the stands after which no saddle's place sinks when the unit is parted: d(h) = 0, d the fall
of each place from the state before to the one after, the lift left where it is. Between changes of touch d is linear in
h, so Newton's steps with differences taken anew end on it exactly; stands that only press against each other let
nothing sink, so of all such steps the shortest is taken (least squares).
"""

from dataclasses import dataclass, replace

import numpy as np

from loadplan.model.answer import Statics
from loadplan.model.job import Job, State
from loadplan.model.shop import EquipmentKind
from loadplan.model.step_change import Raising
from loadplan.stages import states
from loadplan.statics.contact_loads import Settled, settle, springs
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.gaps import is_touching
from loadplan.statics.group import glance
from loadplan.statics.mass import Array, lumps
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.settlement import free_bodies
from loadplan.statics.stage_sequence import solve_stages_by
from loadplan.statics.unsolved import UNSOLVED

NOTHING = 1e-5
"""What sinks by less [m] does not drop."""

ROUNDS = 30
"""Steps at most: touch changes a few times, then one more is exact."""

STEP = 1e-6
"""Raise [m] by which a difference is taken."""

REACH = 0.1
"""A stand that would have to be moved further [m] is not meant to stand there."""


@dataclass(frozen=True, slots=True)
class Release:
    """How one assembly is let go without a drop.

    Attributes:
        stage: Name of the stage that parts it from the body on the lift.
        body: The assembly.
        raises: Of each of its stands, how much higher than planned it stands [m]; below 0: lower.
        lowered: How far past first touch the lift comes down with them [m]; None where the plan has no such level.
    """

    stage: str
    body: str
    raises: tuple[Raising, ...]
    lowered: float | None


def release_heights(job: Job, followed: tuple[State, ...], solved: tuple[Statics, ...]) -> tuple[Release, ...]:
    """Find the heights at which mounts let go without a drop.

    Args:
        job: The job.
        followed: Its states.
        solved: What was computed of each.

    Returns:
        One record an assembly and stage that parts it from the body on the lift; none where it does not stand before
        or after, has no stand of its own that is there before, or no such heights are found.
    """
    preload = mount_preload(job)
    found: list[Release] = []
    for number in range(1, len(followed)):
        before, after = followed[number - 1], followed[number]
        parted = free_bodies(job, after) - free_bodies(job, before)
        # Measured from another reference, what stood before cannot be set beside what stands now.
        same = solved[number - 1].floor == solved[number].floor and not after.stage.moved
        hung = frames(before, lumps(job, before)) if parted and same else ()
        for frame in frames(after, lumps(job, after)) if parted and same else ():
            gaps = solved[number - 1].gaps, solved[number].gaps
            whole = next(each for each in hung if set(each.bodies) & set(frame.bodies))
            try:
                raises = _Parting((whole, frame), gaps, preload, parted).raises()
            except UNSOLVED:
                continue
            found += _told(job, (before, after), raises, solved[:number]) if raises else []
    return tuple(found)


def _told(
    job: Job, passage: tuple[State, State], raises: dict[str, float], solved: tuple[Statics, ...]
) -> list[Release]:
    """Return what was found by assembly; where nothing else stands there the lift is moved, not every stand alike."""
    before, after = passage
    rises = {
        each.name: each.set_height - each.at[2]
        for each in before.bearing
        if each.set_height is not None and not each.on
    }
    # Gaps are measured from the saddle that stands highest: as that goes up, the lift is lower against it.
    raised = {name: rise + raises.get(name, 0.0) for name, rise in rises.items()}
    by = max(raised.values(), default=0.0) - max(rises.values(), default=0.0)
    alike = by if set(rises) == set(raises) else 0.0
    moved = {name: up - alike for name, up in raises.items()}
    lowered = _lowered(job, moved, by, solved)
    bodies = {each.name: each.body for each in after.supports}
    return [
        Release(
            after.name, body, tuple(Raising(name, up) for name, up in moved.items() if bodies[name] == body), lowered
        )
        for body in dict.fromkeys(bodies[name] for name in raises)
    ]


def _lowered(job: Job, moved: dict[str, float], by: float, solved: tuple[Statics, ...]) -> float | None:
    """Return how far past first touch the lift then is down [m]: how far first touch has moved is solved."""
    downs = [(number, each.set_down) for number, each in enumerate(solved) if each.set_down]
    if not downs or job.lift is None:
        return None
    number, down = downs[-1]
    stages = list(job.stages)
    stages[number] = replace(stages[number], lowered=down.lowered, raised=None)
    supports = tuple(
        each if each.height is None else replace(each, height=each.height + moved.get(each.name, 0.0))
        for each in job.supports
    )
    tried = replace(job, supports=supports, stages=tuple(stages))
    again = solve_stages_by(glance, tried, states(tried)[: number + 1], lambda _: None)[-1]
    arm = job.lift.arms[0].name
    return down.lowered + solved[number].gaps[arm] + by - again.gaps[arm]


class _Parting:
    """One group that is parted from the lift; n stands under what is parted, that stand before and after."""

    def __init__(
        self,
        passage: tuple[Frame, Frame],
        gaps: tuple[dict[str, float], dict[str, float]],
        preload: dict[str, float],
        parted: frozenset[str],
    ) -> None:
        self._before, self._after = passage
        self._gaps, self._preload = gaps, preload
        self._there = {each.name for each in self._before.supports}
        stands = [
            each
            for each in self._after.supports
            if each.name in self._there
            and each.body in parted
            and not (each.is_arm or each.on or each.standby or each.equipment.kind is EquipmentKind.HOIST)
        ]
        self._stands = tuple(each.name for each in stands)
        self._places = tuple((each.body, each.at[0], each.at[1]) for each in stands)

    def raises(self) -> dict[str, float]:
        """Return how much higher each stand under what is parted stands [m]; empty where no such heights are found."""
        by = np.zeros(len(self._stands))
        for _ in range(ROUNDS if self._stands else 0):
            tried = np.vstack([by, by + STEP * np.eye(len(by))])
            falls = self._falls(tried)
            if np.abs(falls[0]).max() <= NOTHING:
                return {name: float(up) for name, up in zip(self._stands, by, strict=True)}
            slopes = (falls[1:] - falls[0]).T / STEP
            by = by + np.linalg.lstsq(slopes, -falls[0], rcond=1e-6)[0]
            if np.abs(by).max() > REACH:
                break
        return {}

    def _falls(self, by: Array) -> Array:
        """Return how far the place of each stand sinks (c, n) [m] with every raise (c, n)."""
        before_gaps, after_gaps = self._gaps
        before = self._settled(self._before, self._low(self._before, before_gaps, by))
        low = self._low(self._after, after_gaps, by)
        bodies = self._before.bodies
        for column, each in enumerate(self._after.supports):
            if each.name not in self._there and is_touching(each) and each.body in bodies:
                # What is only brought up now touches the unit where it stands with these raises.
                low[:, column] = -_ups(self._before, before, ((each.body, each.at[0], each.at[1]),))[:, 0]
        after = self._settled(self._after, low)
        falls: Array = _ups(self._before, before, self._places) - _ups(self._after, after, self._places)
        return falls

    def _low(self, frame: Frame, gaps: dict[str, float], by: Array) -> Array:
        """Return the gap of each support of a group with every raise (c, s) [m]."""
        order = [each.name for each in frame.supports]
        low = np.tile([gaps[name] for name in order], (len(by), 1))
        # A stand set higher is a smaller gap.
        low[:, [order.index(name) for name in self._stands]] -= by
        return low

    def _settled(self, frame: Frame, low: Array) -> Settled:
        return settle(springs(frame, self._preload), np.tile(frame.load, (len(low), 1)), low / frame.span)


def _ups(frame: Frame, settled: Settled, places: tuple[tuple[str, float, float], ...]) -> Array:
    """Return how far each place of a body is up (c, n) [m]."""
    columns = []
    for body, x, y in places:
        start = 3 * frame.whole(body)
        heave, rx, ry = settled.motions[:, start : start + 3].T
        columns.append(frame.span * heave + rx * (y - frame.middle[1]) - ry * (x - frame.middle[0]))
    return np.array(columns).T
