"""The ways a group can go over: extreme rays of the motions that shorten no support and stretch no mount.

These motions u make up a cone, { u : up·u ≥ 0, stretch·u = 0 }. The work of the weights is linear on it, so the group
stands if and only if that work is positive on every extreme ray, and the ray where it is not is the proof. With d the
freedom that the mounts leave, a ray is square to d − 1 independent rows of supports (Ziegler, Lectures on Polytopes,
1995, ch. 1), so every d − 1 supports are tried, both ways, and the motions that shorten no other are kept: finitely
many, and few for the supports of a workshop. For one body they are the edges of the convex hull of its supports
(McGhee and Frank, Mathematical Biosciences 3, 1968, 331-351); for linked bodies each is one way in which the group
gives way.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain, combinations
from math import comb, inf

import numpy as np

from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.null_space import null_space, square_to

EDGE = 1e-6
"""A centre of gravity this near an edge [m] counts as tipping: no tape and no floor is better."""

STILL = 1e-9
"""A scaled displacement below this is no movement."""

SAME = 1e-7
"""Rays closer than this in direction are one ray."""

CHUNK = 20_000
"""Subsets solved at once, to bound the memory."""

NOTHING, NO_ROW = -1, -2
"""What a motion shortens, where it shortens nothing; what stands for a support that changes nothing when it goes."""

Numbers = np.ndarray[tuple[int, ...], np.dtype[np.intp]]


def free_motion(frame: Frame) -> Array | None:
    """Find a motion that moves no support and stretches no mount.

    Args:
        frame: The group.

    Returns:
        Scaled motion (3 q), or None where every motion meets a support or a mount.
    """
    unknowns = frame.load.size
    held = np.vstack([frame.up, frame.stretch])
    if held.shape[0] == 0:
        # Nothing holds it at all: to go straight down is the plainest of the motions that prove it.
        heave: Array = np.eye(unknowns)[0]
        return heave
    free = null_space(held, unknowns)
    if not len(free):
        return None
    # One free motion is proof enough; by the order of singular values the last is the one that the rows resist least.
    last: Array = free[-1] / np.abs(free[-1]).max()
    return last


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways in which a group could go over, with all its supports and without each of them; q rigid wholes.

    Attributes:
        all_there: Scaled modes (k, 3 q) with every support.
        freedom: The motions (d, 3 q) that the mounts leave.
        further: Directions (c, d) in that freedom which one support alone stands against.
        against: The row of that support (c).
        rows: The row of each support (n); `NO_ROW` where its loss lets nothing further be.
    """

    all_there: Array
    freedom: Array
    further: Array
    against: Numbers
    rows: Numbers

    def without(self) -> tuple[Array, ...]:
        """List the modes that come with the loss of each support.

        Returns:
            For each support the further modes (k, 3 q) that it alone stands against.
        """
        return tuple(_as_motions(self.further[self.against == number], self.freedom) for number in self.rows)


def rays(frame: Frame) -> Array:
    """Find every distinct tipping mode of a group without free motions.

    Args:
        frame: The group.

    Returns:
        Scaled motions (k, 3 q), the largest rotation of each 1 (without rotation: the largest heave).
    """
    return ways(frame).all_there


def ways(frame: Frame) -> Ways:
    """Find every distinct tipping mode of a group without free motions, and those that one support stands against.

    Takes every d − 1 supports that could stay put, d being the freedom that the mounts leave, and keeps the
    motions that shorten none of the others, or only one.

    Args:
        frame: The group.

    Returns:
        Scaled motions, the largest rotation of each 1 (without rotation: the largest heave).
    """
    freedom = null_space(frame.stretch, frame.load.size)
    across = frame.up @ freedom.T
    # Twins would give every subset several times, and supports that nothing can shorten give none.
    rows = _distinct(_unit_rows(across))
    found = [_extreme(chosen, rows) for chosen in _subsets(rows, freedom.shape[0])]
    against = np.concatenate([np.zeros(0, dtype=np.intp), *(numbers for _, numbers in found)])
    directions = np.vstack([np.zeros((0, freedom.shape[0])), *(each for each, _ in found)])
    alone = against != NOTHING
    return Ways(
        all_there=_as_motions(directions[~alone], freedom),
        freedom=freedom,
        further=directions[alone],
        against=against[alone],
        rows=_alone(across, rows),
    )


def _as_motions(directions: Array, freedom: Array) -> Array:
    motions: Array = _distinct(directions) @ freedom
    motions /= _size(motions)[:, None]
    return motions


def _alone(across: Array, rows: Array) -> Numbers:
    """Return the row of each support (n); `NO_ROW` where another does the same, or where it cannot be shortened."""
    sizes = np.linalg.norm(across, axis=1)
    same = np.abs(across[:, None, :] / np.maximum(sizes, STILL)[:, None, None] - rows).max(axis=2) < SAME
    numbers: Numbers = np.where(sizes > STILL, same.argmax(axis=1), NO_ROW)
    # Of two supports at one place neither is missed: no motion is stood against by one of them alone.
    counts = (numbers[:, None] == numbers).sum(axis=1)
    return np.where(counts > 1, NO_ROW, numbers)


def subset_count(frame: Frame) -> int:
    """Return how many subsets of supports `ways` has to look at, at most."""
    freedom = int(null_space(frame.stretch, frame.load.size).shape[0])
    return comb(len(frame.supports), freedom - 1)


def work(frame: Frame) -> int:
    """Estimate what `ways` will take: subsets of supports times the square of the freedom that the mounts leave.

    Args:
        frame: The group.

    Returns:
        A number of which a million take some 0.2 seconds: each subset is a small singular value decomposition.
    """
    freedom = int(null_space(frame.stretch, frame.load.size).shape[0])
    return subset_count(frame) * freedom * freedom


def _unit_rows(rows: Array) -> Array:
    sizes = np.linalg.norm(rows, axis=1)
    kept = sizes > STILL
    units: Array = rows[kept] / sizes[kept, None]
    return units


def _distinct(rows: Array) -> Array:
    """Return the unit rows of which none before points the same way."""
    # One by one, not by rounding to a grid: two rays a rounding apart may lie on either side of a line of any grid.
    kept: list[Array] = []
    while rows.shape[0]:
        # A copy: a view would hold on to all the rows that there still are, once for every row that is kept.
        kept.append(rows[0].copy())
        rows = rows[np.abs(rows - rows[0]).max(axis=1) >= SAME]
    return np.array(kept).reshape(-1, rows.shape[1])


def _subsets(rows: Array, freedom: int) -> Iterator[Array]:
    """Yield every d − 1 of the rows (n, d), as many subsets (c, d − 1, d) at once as the memory is good for."""
    size = freedom - 1
    count = comb(rows.shape[0], size)
    if count <= CHUNK:
        # While a stand is moved the same few thousand subsets are asked for at each place.
        yield rows[_kept_numbers(rows.shape[0], size)]
        return
    every = combinations(range(rows.shape[0]), size)
    for first in range(0, count, CHUNK):
        yield rows[_numbers(every, (min(CHUNK, count - first), size))]


@lru_cache(maxsize=8)
def _kept_numbers(most: int, size: int) -> Numbers:
    found = _numbers(combinations(range(most), size), (comb(most, size), size))
    found.flags.writeable = False
    return found


def _numbers(subsets: Iterator[tuple[int, ...]], shape: tuple[int, int]) -> Numbers:
    """Return the numbers (c, d − 1) of the next subsets."""
    # Number after number: a list of tuples of them would take as long as all that is done with them.
    return np.fromiter(chain.from_iterable(subsets), dtype=np.intp, count=shape[0] * shape[1]).reshape(shape)


def _extreme(chosen: Array, rows: Array) -> tuple[Array, Numbers]:
    """Return the directions (k, d) square to chosen rows (c, d − 1, d) that shorten at most one of the rows (n, d).

    Beside them stands the row (k) that each shortens, or `NOTHING`.
    """
    directions = square_to(chosen)
    shorter = directions @ rows.T
    kept, against = [], []
    # Square says nothing of the sense: the motion may be one that lifts off the others, or its reverse.
    for sense in (1.0, -1.0):
        shortens = sense * shorter < -STILL
        # One that shortens a single row is a mode of the group without that support: kept, so that its loss needs no
        # search of its own.
        count = np.count_nonzero(shortens, axis=1)
        few = np.flatnonzero(count <= 1)
        kept.append(sense * directions[few])
        against.append(np.where(count[few] == 0, NOTHING, shortens[few].argmax(axis=1)))
    return np.vstack(kept), np.concatenate(against)


def rotations(motions: Array) -> Array:
    """Return the rotation (k, q) of each whole in each motion (k, 3 q)."""
    each = motions.reshape(motions.shape[0], motions.shape[1] // 3, 3)
    turned: Array = np.hypot(each[:, :, 1], each[:, :, 2])
    return turned


def _size(motions: Array) -> Array:
    turned = rotations(motions).max(axis=1, initial=0.0)
    moved = np.abs(motions).max(axis=1, initial=0.0)
    # By rotation, since margins are divided by it; what only heaves has none, and is measured by that.
    size: Array = np.where(turned > STILL, turned, moved)
    return size


def margins(frame: Frame, motions: Array) -> Array:
    """Measure how far each whole's centre of gravity alone may move in each mode.

    Args:
        frame: The group.
        motions: Scaled modes (k, 3 q).

    Returns:
        Distances (k, q) [m]; infinite where the mode does not rotate the whole.
    """
    turned = rotations(motions)
    # Moving the centre by e across the axis takes share · turned · e off the work, so it may move by work over that.
    share = frame.load[::3]
    work = motions @ frame.load
    with np.errstate(divide="ignore"):
        return np.where(turned > STILL, frame.span * work[:, None] / (share * np.maximum(turned, STILL)), inf)


def stands(frame: Frame) -> bool:
    """Tell whether a group is balanced with masses and centres of gravity as given.

    Args:
        frame: The group.

    Returns:
        True where no motion is free and every mode raises the weight.
    """
    return free_motion(frame) is None and holds(frame, rays(frame))


def holds(frame: Frame, motions: Array) -> bool:
    """Tell whether the weights of a group hold against all its modes.

    Args:
        frame: The group.
        motions: Its scaled modes (k, 3 q).

    Returns:
        False where a mode lowers the weight, or a centre of gravity is as good as on an edge.
    """
    # Both are asked: a mode that turns nothing has no end of a margin, and is judged by its work alone.
    return bool((margins(frame, motions) > EDGE).all() and (motions @ frame.load > 0).all())


def over(frame: Frame, motions: Array) -> Array | None:
    """Find the mode by which a group goes over.

    Args:
        frame: The group.
        motions: Scaled modes (k, 3 q).

    Returns:
        The mode (3 q) that is furthest over; None where the group stands.
    """
    nearest = margins(frame, motions).min(axis=1, initial=inf)
    going = np.where(np.isfinite(nearest), nearest <= EDGE, motions @ frame.load <= 0)
    if not going.any():
        return None
    # What goes straight down goes before anything that turns, however far over that is.
    furthest: Array = motions[np.where(going, np.where(np.isfinite(nearest), nearest, -inf), inf).argmin()]
    return furthest
