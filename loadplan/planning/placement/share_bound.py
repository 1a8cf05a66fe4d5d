"""A share that a layout reaches at least, without judging it in full: of the worst ways to be off, the telling ones."""

from dataclasses import dataclass, replace
from math import inf

import numpy as np

from loadplan.errors import InputError
from loadplan.planning.placement.blocked_modes import candidate, candidates
from loadplan.planning.placement.branch_and_bound import Members
from loadplan.planning.placement.layout_space import Space, movable
from loadplan.stages import states
from loadplan.statics.contact_loads import NoEquilibriumError, Springs, settle, springs
from loadplan.statics.equilibrium import frames
from loadplan.statics.gaps import unevenness
from loadplan.statics.mass import Array, lumps
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.stage_sequence import solve_stages
from loadplan.statics.uneven_floor import mass_levels, telling_corners

Numbers = np.ndarray[tuple[int, ...], np.dtype[np.intp]]


@dataclass(frozen=True, slots=True)
class _Group:
    """One group without arms of the lift, with a stand under every candidate; n supports.

    Attributes:
        held: Its springs.
        heaviest: Its weights (3 q) with every mass at its most, scaled.
        gaps: Gap of each support (n), scaled: candidates just touch.
        uneven: How far each saddle may be off (n), scaled.
        number: Candidate of each support (n), −1 for one that stays.
        weight: Its weight [N].
    """

    held: Springs
    heaviest: Array
    gaps: Array
    uneven: Array
    number: Numbers
    weight: float


class Shares:
    """Bounds the greatest share of a rating from below, for any layout of a space."""

    def __init__(self, space: Space) -> None:
        """Solve the job once with a stand under every point, to know where each would touch.

        Args:
            space: The job without the supports to be planned.
        """
        pieces = movable(space.job)
        # By the strongest there is, so that the share comes out no larger than it will be.
        self._rating = max((each.rating_of_one for each in pieces), default=inf)
        # What stands where is not settled yet: with stiffnesses that differ no load could be told.
        alike = len({each.stiffness for each in pieces}) == 1
        self._groups = _solved_groups(space) if alike else ()

    def least(self, members: Members) -> float:
        """Return a share that the layout reaches at least; 0 where equipment differs in stiffness.

        While the lift still holds the unit the share may be greater.

        Args:
            members: Numbers of the points, of a layout that stands over the whole tolerance.

        Returns:
            The share; infinite where something of the layout cannot stand. 0 where the job with a stand under every
            point cannot be solved, so that each layout is judged in full.
        """
        return max((self._share(group, members) for group in self._groups), default=0.0)

    def _share(self, group: _Group, members: Members) -> float:
        """Return the greatest share of a rating of any chosen support of a group; infinite where it does not settle."""
        kept = np.isin(group.number, (-1, *members))
        chosen = np.isin(group.number, members)[kept]
        if not chosen.any():
            return 0.0
        try:
            held = group.held.only(kept)
            off = group.gaps[kept] + telling_corners(held, group.uneven[kept])
            settled = settle(held, np.tile(group.heaviest, (len(off), 1)), off)
        except NoEquilibriumError:
            return inf
        return float(settled.loads[:, chosen].max()) * group.weight / self._rating


def _solved_groups(space: Space) -> tuple[_Group, ...]:
    """Return what `_groups` does; none where a stand under every candidate is too many to be solved at once."""
    try:
        return _groups(space)
    except InputError:
        # No layout has that many stands: what it says of the user's job would be wrong, and this is but a bound.
        return ()


def _groups(space: Space) -> tuple[_Group, ...]:
    """Return the groups without arms from the start on, solved once with a stand under every candidate."""
    stages = list(space.job.stages)
    names = tuple(each.name for each in candidates(space))
    stages[space.start] = replace(stages[space.start], in_place=stages[space.start].in_place + names)
    for each in candidates(space):
        goes = space.goes_with_part(space.points[candidate(each)])
        if goes is not None:
            stages[goes] = replace(stages[goes], cleared=(*stages[goes].cleared, each.name))
    job = replace(space.job, supports=(*space.job.supports, *candidates(space)), stages=tuple(stages))
    followed = states(job)
    preload = mount_preload(job)
    found: dict[object, _Group] = {}
    for state, statics in list(zip(followed, solve_stages(job, followed), strict=True))[space.start :]:
        gaps = statics.gaps
        for frame in frames(state, lumps(job, state)):
            if not any(each.is_arm for each in frame.supports) and not state.stage.moved:
                found[(frame.wholes, frame.mounts, tuple(frame.load))] = _Group(
                    held=springs(frame, preload),
                    # Without modes no level is left out: the heaviest is wanted whether it stands or not.
                    heaviest=mass_levels(frame, np.zeros((0, frame.load.size)))[-1],
                    uneven=np.array([unevenness(each, job.limits) / frame.span for each in frame.supports]),
                    gaps=np.array([gaps[each.name] / frame.span for each in frame.supports]),
                    number=np.array([candidate(each) for each in frame.supports], dtype=np.intp),
                    weight=frame.weight,
                )
    return tuple(found.values())
