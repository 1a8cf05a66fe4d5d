"""A stage whose parts come off one after another: what stands with any of them off, and how far from tipping."""

from dataclasses import dataclass, replace
from math import inf

import numpy as np

from loadplan.model.answer import GroupAnswer
from loadplan.model.job import Job, State
from loadplan.model.presence import remaining
from loadplan.stages import states
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.lean import Tilted, told_lean, upright
from loadplan.statics.mass import Array, Lump, lumps
from loadplan.statics.parts_off_margins import Flags, Shrinking, shrinking
from loadplan.statics.stage_sequence import solve_stages
from loadplan.statics.subset_paths import closed


@dataclass(frozen=True, slots=True)
class StandingMargin:
    """What stands while certain bodies, and parts with something on them that holds, are still there.

    Attributes:
        gone: Whether each of these is gone.
        groups: Groups from which parts come off.
        steady: Least worst margin of the groups from which none does [m].
    """

    gone: tuple[bool, ...]
    groups: tuple[Shrinking, ...]
    steady: float


@dataclass(frozen=True, slots=True)
class Course:
    """The parts that come off in one stage, n of them; sets of parts as bits, in the order of the stage's list.

    Attributes:
        parts: Their names.
        needs: For each, what must be off before it, as bits.
        emptied: Numbers of the parts of each body that the stage empties; the body goes with the last. Then alone that
            of each part with a joint or a stand on it: these go with it.
        standings: What stands, for each set of these that are gone.
    """

    parts: tuple[str, ...]
    needs: tuple[int, ...]
    emptied: tuple[tuple[int, ...], ...]
    standings: tuple[StandingMargin, ...]

    def margins(self, off: Flags) -> Array:
        """Find the least worst margin of any body.

        Args:
            off: Parts that are off (b, n).

        Returns:
            Margins (b) [m]: −inf where something is not balanced, inf where nothing can tip.
        """
        found = np.full(len(off), inf)
        for standing in self.standings:
            here = np.ones(len(off), dtype=np.bool_)
            for members, gone in zip(self.emptied, standing.gone, strict=True):
                here &= off[:, members].all(axis=1) == gone
            for group in standing.groups:
                found[here] = np.minimum(found[here], group.margins(off[here]))
            found[here] = np.minimum(found[here], standing.steady)
        return found

    def keeping(self, margin: float) -> Flags:
        """Tell which sets of parts leave everything balanced, and every body a worst margin.

        Args:
            margin: The margin [m]; inf and −inf ask for nothing but that parts come off after others.

        Returns:
            One flag a set (2ⁿ).
        """
        allowed = closed(self.needs)
        # No margin to keep: only what comes off after what counts.
        if np.isinf(margin):
            return allowed
        sets = np.arange(len(allowed), dtype=np.int64)
        for standing in self.standings:
            here = np.ones(len(sets), dtype=np.bool_)
            for members, gone in zip(self.emptied, standing.gone, strict=True):
                bits = sum(1 << member for member in members)
                here &= (sets & bits == bits) == gone
            for group in standing.groups:
                allowed &= ~here | (group.balanced() & group.keeps(margin))
            if standing.steady < margin:
                allowed &= ~here
        return allowed


def course(job: Job, index: int) -> Course:
    """Prepare a stage whose parts come off one after another.

    What the stage takes away from a body that it empties (supports cleared, joints undone) holds from when that body is
    gone; all else that it changes holds from the start.

    Args:
        job: The job.
        index: Number of the stage, from 0.

    Returns:
        The parts, and what stands without them.
    """
    owner = {part.name: part.body for part in job.vehicle.parts if part.body in job.bodies}
    parts = tuple(name for name in job.stages[index].off if name in owner)
    number = {name: place for place, name in enumerate(parts)}
    before = {part.name: part.after for part in job.vehicle.parts}
    # A body goes with its last part, and its stands with it; so does a stand with its own part: each set of those
    # that are gone is a case of its own.
    left = states(job)[index]
    holding = {each.part for each in left.gone_with_parts} | {each.part for each in left.supports}
    emptied = [tuple(number[name] for name in parts if owner[name] == body) for body in _emptied(job, index, owner)]
    going = tuple(dict.fromkeys([*emptied, *((number[name],) for name in parts if name in holding)]))
    ways = range(1 << len(going) if parts else 0)
    gone = [tuple(bool(chosen >> place & 1) for place in range(len(going))) for chosen in ways]
    return Course(
        parts=parts,
        needs=tuple(sum(1 << number[each] for each in before[name] if each in number) for name in parts),
        emptied=going,
        standings=tuple(_standing(job, index, parts, dict(zip(going, each, strict=True))) for each in gone),
    )


def part_way(job: Job, index: int, off: frozenset[str]) -> State:
    """Follow the job to a stage with only some of its parts off.

    Args:
        job: The job.
        index: Number of the stage, from 0.
        off: Parts of its list that are off.

    Returns:
        The state: what the stage takes away from a body that it empties is still there while the body is.
    """
    return states(_part_way_job(job, index, off))[index]


def _part_way_job(job: Job, index: int, off: frozenset[str]) -> Job:
    """Return the job with a stage in which only some of its parts come off."""
    stage = job.stages[index]
    owner = {part.name: part.body for part in job.vehicle.parts if part.body in job.bodies}
    staying = {
        body for body in _emptied(job, index, owner) if any(owner[name] == body for name in set(stage.off) - off)
    }
    under = {each.name: each.body for each in job.supports}
    ties = {joint.name: set(joint.between) for joint in job.vehicle.joints}
    on_the_way = replace(
        stage,
        off=tuple(name for name in stage.off if name in off),
        cleared=tuple(name for name in stage.cleared if under.get(name) not in staying),
        undone=tuple(name for name in stage.undone if not ties[name] & staying),
        any_order=False,
        readings=(),
    )
    return replace(job, stages=(*job.stages[:index], on_the_way))


def _emptied(job: Job, index: int, owner: dict[str, str]) -> tuple[str, ...]:
    """Return the bodies that are there with the stage's parts on and gone with them off."""
    left = states(job)[index]
    parts = [name for name in job.stages[index].off if name in owner]
    bodies = {body.name: body for body in job.vehicle.bodies}
    whole = left.on | set(parts)
    losing = dict.fromkeys(owner[name] for name in parts)
    return tuple(
        name for name in losing if name not in left.bodies and remaining(bodies[name], job.vehicle.parts, whole)
    )


def _standing(job: Job, index: int, parts: tuple[str, ...], going: dict[tuple[int, ...], bool]) -> StandingMargin:
    """Return the margins of one stage with some bodies and parts gone, for any parts off that come off in it."""
    away = frozenset(parts[number] for numbers, is_gone in going.items() if is_gone for number in numbers)
    state = part_way(job, index, away)
    coming_off = tuple(name for name in parts if name not in away)
    # All that comes off counts as optional: one preparation serves every set of parts.
    union = lumps(job, replace(state, on=state.on - set(coming_off), may_be_on=coming_off))
    kept = {parts[number] for numbers, is_gone in going.items() if not is_gone for number in numbers}
    told = _told_of(job, index, frozenset(parts) - kept | away)
    groups = [
        _shrinking(job, frame, (tuple(lump for lump in union if lump.body in frame.bodies), parts), told)
        for frame in frames(state, lumps(job, state))
    ]
    shrinks = [bool((group.bit >= 0).any()) for group in groups]
    # What loses no part has one margin whatever is off, so it is worked out once.
    nothing_off = np.zeros((1, len(parts)), dtype=np.bool_)
    steady = [float(group.margins(nothing_off)[0]) for group, each in zip(groups, shrinks, strict=True) if not each]
    return StandingMargin(
        gone=tuple(going.values()),
        groups=tuple(group for group, each in zip(groups, shrinks, strict=True) if each),
        steady=min(steady, default=inf),
    )


def _told_of(job: Job, index: int, off: frozenset[str]) -> dict[frozenset[str], GroupAnswer]:
    """Return what is told of each group, by its bodies, once parts are off: all that take nothing further with them.

    Their stage reckons with the lean before and after, so that its tilts are those of both ends of the way.
    """
    ended = _part_way_job(job, index, off)
    return {frozenset(each.bodies): each for each in solve_stages(ended, states(ended))[index].groups}


def _shrinking(
    job: Job,
    frame: Frame,
    made_of: tuple[tuple[Lump, ...], tuple[str, ...]],
    told: dict[frozenset[str], GroupAnswer],
) -> Shrinking:
    """Return a group from which parts come off, leaning as at both ends; nothing of it stands if it goes over there."""
    group = told.get(frozenset(frame.bodies))
    lean = upright(frame) if group is None else told_lean(frame, group)
    found = shrinking(frame, *made_of, Tilted(job.limits.floor_slope, lean))
    goes_over = group is not None and group.balanced and group.sway is None
    return replace(found, steady=found.steady and not goes_over)
