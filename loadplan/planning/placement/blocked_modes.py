"""The margin of any layout at a glance: a set of stands holds what its members block.

The margin of a layout is the least over the modes by which it could go over; each is square to d − 1 of its own
saddles' rows, d being the unit's freedom (`tipping_modes`). So every mode of every layout is among the finitely many
motions square to d − 1 of all candidate places: each is judged once a stage, and a layout's margin is

    min { value of a motion : none of its members would be pressed down by it }

With motions in the order of their value and what a candidate blocks as bits of one long number, that is the first bit
that is 0 in the union of its members. For one body these motions turn about the lines through two places. Derived
here; as a search it is a covering by sets (`branch_and_bound`).

Lean is left out, since it hangs on where each saddle stands: it only ever lessens a margin, so what is found here is
the most that a layout can have.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import combinations, islice
from math import comb, inf, tan
from typing import NamedTuple

import numpy as np

from loadplan.errors import Fault, InputError
from loadplan.model.job import State, Support
from loadplan.model.vehicle import Joint
from loadplan.planning.placement.layout_space import Space, movable, stand_under
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.lean import Tilted, upright
from loadplan.statics.mass import Array, lumps, off_before
from loadplan.statics.null_space import null_space, square_to
from loadplan.statics.tipping_modes import STILL, rotations
from loadplan.statics.worst_margin import worst_ratios

Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

Numbers = np.ndarray[tuple[int, ...], np.dtype[np.intp]]

LEVEL = 1e-9
"""Saddles whose heights differ by less [m] are level."""

PLANNED = "\0"
"""First letter of a candidate's name, which no user's support can have."""

MOST_HELD = 40_000_000
"""Most that places are held against motions in all: each takes some 30 bytes, so about a gigabyte. Under one assembly
that is 430 places, under two on one mount 63."""

CHUNK = 4096
"""Motions judged at once, to bound the memory."""


TOO_MANY = (
    "{} places are too many to be held against each other: leave out those that no stand will go to. Under linked "
    "assemblies fewer can be looked at than under one"
)
"""What is said where there are too many places."""


class _GroupKey(NamedTuple):
    """What a group moves on: stages in which it is the same share one set of motions.

    Attributes:
        wholes: Names of the bodies of each rigid whole.
        supports: What it stands on.
        mounts: What links its wholes.
    """

    wholes: tuple[tuple[str, ...], ...]
    supports: tuple[Support, ...]
    mounts: tuple[Joint, ...]


@dataclass(frozen=True, slots=True)
class Cover:
    """What each candidate blocks; motions in the order of their value.

    Attributes:
        values: Worst margin that each motion allows [m], least first.
        blocked: For each candidate, the motions that it blocks, as bits from the least value on.
        drops: For each candidate, what a layout with it in loses at most against the values, since its saddle is
            lower than the highest [m]; None where that has to be worked out layout by layout.
    """

    values: tuple[float, ...]
    blocked: tuple[int, ...]
    drops: tuple[float, ...] | None

    def margin(self, union: int) -> float:
        """Return the worst margin [m] of a layout that blocks a union of motions."""
        first = self.open(union)
        return self.values[first] if first < len(self.values) else inf

    def open(self, union: int) -> int:
        """Return the number of the first motion that is not blocked."""
        return (~union & (union + 1)).bit_length() - 1


def cover(space: Space) -> Cover:
    """Judge every motion that some layout could leave open.

    Args:
        space: The job without the supports to be planned.

    Returns:
        What each candidate blocks, over all stages from the start on and all bodies but the lift's.

    Raises:
        InputError: If that would take more memory than a workshop's computer has.
    """
    if motion_count(space) * len(space.points) > MOST_HELD:
        file = space.job.vehicle.source or space.job.source
        raise InputError(Fault(file, "", "point", TOO_MANY.format(len(space.points))))
    found: dict[_GroupKey, _Motions] = {}
    for state in space.states:
        # While it is rolled no margin is asked for.
        if state.stage.moved:
            continue
        for frame in _frames(space, state):
            # Stages on the same supports and mounts share their motions; only what the weights make of them differs.
            key = _GroupKey(frame.wholes, frame.supports, frame.mounts)
            motions = found.get(key) or _motions(frame, len(space.points))
            found[key] = motions.no_better_than(_values(space, frame, motions))
    return _sorted([each for each in found.values() if each.values.size], _drops(space, list(found)))


def motion_count(space: Space) -> int:
    """Count the motions that would have to be judged for a space.

    Args:
        space: The job without the supports to be planned.

    Returns:
        Their number, both ways counted as one.
    """
    found: dict[_GroupKey, int] = {}
    for state in space.states:
        for frame in () if state.stage.moved else _frames(space, state):
            key = _GroupKey(frame.wholes, frame.supports, frame.mounts)
            if key not in found:
                found[key] = comb(len(frame.up), len(null_space(frame.stretch, frame.load.size)) - 1)
    return sum(found.values())


@dataclass(frozen=True, slots=True)
class _Motions:
    """Motions that the supports which stay leave open; k of them, c candidates.

    Attributes:
        scaled: The motions (k, 3 q).
        blocked: Which candidate blocks which (c, k).
        values: Worst margin that each allows (k) [m].
    """

    scaled: Array
    blocked: Flags
    values: Array

    def no_better_than(self, values: Array) -> "_Motions":
        """Return the same with smaller values where these are."""
        return replace(self, values=np.minimum(self.values, values))


def _frames(space: Space, state: State) -> tuple[Frame, ...]:
    """Return the groups of a state with a stand under every candidate."""
    # Under every candidate at once: the equations of each layout are rows of these.
    stands = tuple(each for each in candidates(space) if space.stands(space.points[candidate(each)], state))
    return frames(replace(state, supports=stands + state.supports), lumps(space.job, state))


def candidates(space: Space) -> tuple[Support, ...]:
    """Put a stand under every point of a space.

    Args:
        space: The job without the supports to be planned.

    Returns:
        One support a point, named so that `candidate` knows it.
    """
    anything = movable(space.job)[0]
    return tuple(
        stand_under(f"{PLANNED}{number}", point, anything, space.job.vehicle)
        for number, point in enumerate(space.points)
    )


def candidate(support: Support) -> int:
    """Return the number of the point that a support of `candidates` stands under; −1 for one that stays."""
    return int(support.name.removeprefix(PLANNED)) if support.name.startswith(PLANNED) else -1


def _motions(frame: Frame, count: int) -> _Motions:
    """Return the motions of a group that no staying support blocks, and which of the candidates block each."""
    freedom = null_space(frame.stretch, frame.load.size)
    rows = frame.up @ freedom.T
    planned = np.array([candidate(each) >= 0 for each in frame.supports], dtype=bool)
    scaled = np.vstack([np.zeros((0, frame.load.size)), *_square_to(rows, freedom)])
    pressed = frame.up @ scaled.T < -STILL
    # A motion that a support which stays stands against is stopped in every layout, and need not be judged.
    open_ = ~pressed[~planned].any(axis=0)
    blocked = np.zeros((count, int(open_.sum())), dtype=bool)
    blocked[[candidate(each) for each in frame.supports if candidate(each) >= 0]] = pressed[planned][:, open_]
    return _Motions(scaled[open_], blocked, np.full(int(open_.sum()), inf))


def _square_to(rows: Array, freedom: Array) -> Iterable[Array]:
    """Yield the motions square to every d − 1 rows, both ways, the largest rotation of each 1."""
    # By chunks: of all the candidates there may be hundreds of thousands.
    subsets = combinations(range(len(rows)), len(freedom) - 1)
    while chosen := list(islice(subsets, CHUNK)):
        motions = square_to(rows[np.array(chosen)]) @ freedom
        turned = rotations(motions).max(axis=1)
        motions /= np.where(turned > STILL, turned, np.abs(motions).max(axis=1))[:, None]
        yield motions
        yield -motions


def _values(space: Space, frame: Frame, motions: _Motions) -> Array:
    """Return the worst margin [m] that each motion allows; the saddles as high as any layout could have them."""
    job = space.job
    high = replace(frame, base=np.array([_highest_base(frame, names) for names in frame.wholes]))
    body = job.lift.body if job.lift else ""
    asked = np.array([set(names) != {body} for names in frame.wholes])
    needs = off_before(job, frame.lumps)
    floor = Tilted(job.limits.floor_slope, upright(high))
    values = np.full(len(motions.scaled), inf)
    for start in range(0, len(values), CHUNK):
        work, ratios = worst_ratios(high, motions.scaled[start : start + CHUNK], floor, needs)
        margins = frame.span * ratios[:, asked].min(axis=1, initial=inf)
        # What turns none of those asked about decides only where it goes down; else it never does.
        values[start : start + CHUNK] = np.where((work <= 0) & np.isinf(margins), -inf, margins)
    return values


def _highest_base(frame: Frame, names: tuple[str, ...]) -> float:
    under = [each for each in frame.supports if each.body in names]
    planned = [each.at[2] for each in under if candidate(each) >= 0]
    staying = [each.at[2] for each in under if candidate(each) < 0]
    # A layout may use the highest places alone; what stays is there in any of them.
    lowest = min([max(planned), *staying]) if planned else min(staying, default=inf)
    return float(frame.base[frame.wholes.index(names)]) if lowest == inf else lowest


def _drops(space: Space, groups: list[_GroupKey]) -> tuple[float, ...] | None:
    """Return what each candidate takes off all values alike; None unless one rigid whole stands by itself.

    Its centre of gravity leans by its height over the lowest saddle, whichever way it goes over.
    """
    lean = tan(space.job.limits.floor_slope)
    places = [point.at[2] for point in space.points]
    if lean == 0 or not groups or max(places) - min(places) < LEVEL:
        return (0.0,) * len(places)
    # With linked bodies, a weighed one, or something below the saddles, the lean is not the same for all motions.
    alone = {group.wholes for group in groups}
    supports = {support for group in groups for support in group.supports}
    lowest_part = min(part.at[2] - part.at_pm[2] for part in space.job.vehicle.parts)
    weighed = any(body.weighed for body in space.job.vehicle.bodies)
    if len(alone) > 1 or len(next(iter(alone))) > 1 or weighed or lowest_part < max(places):
        return None
    staying = [support.at[2] for support in supports if candidate(support) < 0]
    highest = min([max(places), *staying])
    return tuple(lean * max(highest - place, 0.0) for place in places)


def _sorted(found: list[_Motions], drops: tuple[float, ...] | None) -> Cover:
    """Return the motions of all groups together, least value first, what each candidate blocks as bits."""
    values = np.concatenate([np.zeros(0), *(each.values for each in found)])
    count = found[0].blocked.shape[0] if found else 0
    blocked = np.hstack([np.zeros((count, 0), dtype=bool), *(each.blocked for each in found)])
    order = np.argsort(values, kind="stable")
    # What allows any margin never decides; what tips the unit whatever the stands decides first.
    order = order[np.isfinite(values[order]) | (values[order] < 0)]
    order = order[_deciding(blocked[:, order])]
    bits = np.packbits(blocked[:, order], axis=1, bitorder="little")
    return Cover(
        values=tuple(float(each) for each in values[order]),
        blocked=tuple(int.from_bytes(each.tobytes(), "little") for each in bits),
        drops=drops,
    )


def _deciding(blocked: Flags) -> Numbers:
    """Return which motions, least value first, can be the first left open in a layout, in their order.

    Not one behind another that the same candidates block, and none behind the first that no candidate blocks.
    """
    never = np.flatnonzero(~blocked.any(axis=0))
    kept = blocked[:, : never[0] + 1] if never.size else blocked
    packed = np.packbits(kept, axis=0)
    if not packed.size:
        return np.arange(kept.shape[1])
    rows = np.ascontiguousarray(packed.T).view(np.dtype((np.void, packed.shape[0]))).ravel()
    return np.sort(np.unique(rows, return_index=True)[1])
