"""How far down the lift is: hanging, coming down onto stands, or where the last set-down left it.

Levels are how far the arms are below the file's attitude; positive is down.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import Motion
from loadplan.model.job import Job, LiftUse, State, Support
from loadplan.model.lowering import SetDownAnswer
from loadplan.stages import joined, untouched
from loadplan.statics.contact_loads import springs
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.gaps import set_gap, touch_gap
from loadplan.statics.mass import lumps, mass_and_cg
from loadplan.statics.parting import partings
from loadplan.statics.set_down_window import SetDown, hang


@dataclass(frozen=True, slots=True)
class Level:
    """Where a set-down leaves the lift.

    Attributes:
        arms: Level of the arms [m].
        answer: What is told of the set-down; None where no later stage parts what comes down.
    """

    arms: float
    answer: SetDownAnswer | None


@dataclass(frozen=True, slots=True)
class ComingDown:
    """What the lift of a job does over its stages.

    Attributes:
        use: How the job uses the lift.
        preload: Force [N] of mounts in the file's attitude, by name.
        kept: For each stage the bodies that stay tied to the lift's in every later one.
        briefly: Whether only the level is wanted, and nothing is told of a set-down.
    """

    use: LiftUse
    preload: dict[str, float]
    kept: tuple[frozenset[str], ...]
    briefly: bool = False

    def set_down(self, state: State, groups: tuple[Frame, ...], gaps: Mapping[str, float]) -> Level | None:
        """Find where the lift is in a stage in which something is set down.

        Args:
            state: The state.
            groups: Its groups.
            gaps: Gap of every support but the arms [m].

        Returns:
            The level; None where nothing comes down onto stands, or the arms alone would not hold it before.
        """
        if not any(each.is_arm for each in state.supports):
            return None
        body = self.use.body
        frame = next(each for each in groups if body in each.bodies)
        coming = joined(state.done_up, body) - {body}
        # What stands under the lift's own body is a prop, and takes nothing over.
        stands = np.array([each.body in coming and not each.is_arm for each in frame.supports])
        hung = hang(frame, self.preload) if stands.any() else None
        if hung is None:
            return None
        scaled = np.array([gaps.get(each.name, 0.0) / frame.span for each in frame.supports])
        parted = coming - self.kept[state.index]
        down = SetDown(frame, springs(frame, self.preload), scaled, stands, hung)
        unit = tuple(name for name in state.bodies if name in parted)
        return _level(state, down, unit) if self.briefly else _lowered(state, down, unit)


def coming_down(
    job: Job, states: tuple[State, ...], preload: dict[str, float], *, briefly: bool = False
) -> ComingDown | None:
    """Look ahead over the stages of a job for what is set down.

    Args:
        job: The job.
        states: Its states, in order.
        preload: Force [N] of mounts in the file's attitude, by name.
        briefly: Whether only levels are wanted.

    Returns:
        What the lift does; None without a lift.
    """
    if job.lift is None:
        return None
    staying = frozenset(body.name for body in job.vehicle.bodies)
    kept = []
    # From the last stage back: what is told of a set-down hangs on what is parted later.
    for state in reversed(states):
        kept.append(staying)
        staying &= joined(state.done_up, job.lift.body)
    return ComingDown(job.lift, preload, tuple(reversed(kept)), briefly)


def hung(job: Job, preload: dict[str, float], coming: tuple[Support, ...], against: float | None) -> dict[str, Motion]:
    """Find how what hangs on the lift before the first stage stands once the first set support touches it.

    Args:
        job: The job.
        preload: Force [N] of mounts in the file's attitude, by name.
        coming: Supports of the first stage.
        against: What gaps are measured from [m]; None without any set support.

    Returns:
        Motion by body; empty where nothing hangs on the lift, or its arms alone do not hold it.
    """
    start = untouched(job)
    if job.lift is None or not start.supports:
        return {}
    frame = next(each for each in frames(start, lumps(job, start)) if job.lift.body in each.bodies)
    motion = hang(frame, preload)
    if motion is None:
        return {}
    motions = dict(frame.motions(motion))
    down = first_touch(motions, coming, against)
    return {name: Motion(each.w - down, each.rx, each.ry) for name, each in motions.items()}


def first_touch(motions: Mapping[str, Motion], coming: tuple[Support, ...], against: float | None) -> float:
    """Find how far what hangs on the lift comes down until the first set support touches it.

    Args:
        motions: Motion of each body that hangs.
        coming: Supports that it comes down onto.
        against: What gaps are measured from [m]; None without any set support.

    Returns:
        How far [m], negative where it has to go up; 0 without a set support under it.
    """
    reach = [
        gap - touch_gap(support, motions)
        for support in coming
        if support.body in motions and (gap := set_gap(support, against)) is not None
    ]
    # The saddle with least way to go is met first, and so far everything comes down.
    return min(reach, default=0.0)


def _lowered(state: State, down: SetDown, parted: tuple[str, ...]) -> Level:
    """Return how far the arms go down, and what is told of it where bodies are parted from the lift."""
    # Nothing is parted later, so the lift goes on holding it: first touch is far enough where no level is given.
    if not parted:
        return Level(down.first_touch + (state.lowered or 0.0), None)
    weight = _weight(down, parted)
    window = down.window(weight)
    # Where no level is given the middle of the window is taken, as far from either mistake as can be.
    lowered = state.lowered if state.lowered is not None else window.middle or 0.0
    bodies = partings(state, parted, down, lowered)
    falls = [each.drop for each in bodies if each.drop is not None]
    answer = SetDownAnswer(
        bodies=parted,
        weight=weight,
        start=window.start,
        end=window.end,
        lowered=lowered,
        given=state.lowered is not None,
        drop=max(*falls, 0.0) if len(falls) == len(bodies) else None,
        lowering=down.lowering(tuple(each for each in (window.start, window.end, lowered) if each is not None)),
        parted=bodies,
    )
    return Level(down.first_touch + lowered, answer)


def _level(state: State, down: SetDown, parted: tuple[str, ...]) -> Level:
    lowered = state.lowered
    if lowered is None and parted:
        lowered = down.window(_weight(down, parted)).middle
    return Level(down.first_touch + (lowered or 0.0), None)


def _weight(down: SetDown, parted: tuple[str, ...]) -> float:
    """Return what the bodies that are parted weigh [N]."""
    return GRAVITY * mass_and_cg(tuple(lump for lump in down.frame.lumps if lump.body in parted))[0]
