"""Limits of weights: what each mass and centre of gravity may be at most and at least, by file and scales together.

The most likely weights (`weight_update.py`) take a file's plus or minus for two standard uncertainties: that all parts
are at the wrong end of it at once is then next to impossible. A plan has to hold where they are. So here nothing is
likely: each figure lies somewhere inside its plus or minus, each scale's load inside that of the scale, and the rest is
balance alone. Of stiffness and floor nothing is taken for granted: a load that no scale read is any load from 0 up.

With mass m and moments p = m (x - x given), q = m (y - y given) of each part as unknowns all of it is linear
(|p| ≤ pm · m), so the limits are those of a linear programme, one a figure and side (bounded errors: Milanese et al.,
Bounding Approaches to System Identification, 1996, ch. 1).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.statics.highs import NoProgrammeError, Polytope, least_values
from loadplan.statics.load_response import LoadResponse, SprungGroup
from loadplan.statics.mass import Array
from loadplan.statics.weight_update import FINEST, WeighedLoad

ROUNDING = 1e-6
"""Limits are taken this much wider, of the figure's plus or minus: the programme is solved in floating point."""


@dataclass(frozen=True, slots=True)
class WeightLimits:
    """Between what the figures of weights lie; s sets of weights.

    Attributes:
        low: Least mass, x and y of each (3 s) [kg, m, m].
        high: Most of each (3 s).
    """

    low: Array
    high: Array


def weight_limits(response: LoadResponse, read: tuple[WeighedLoad, ...]) -> WeightLimits | None:
    """Find between what the figures of weights lie, by file and scales together.

    Args:
        response: Whose masses and places are unknown, and what balances them.
        read: What scales read.

    Returns:
        The limits of each weight, never wider than the file's; None where no figures inside them fit what was read.
    """
    masses, places, reach = _as_given(response)
    low = np.column_stack([masses[:, 0], places - reach]).reshape(-1)
    high = np.column_stack([masses[:, 1], places + reach]).reshape(-1)
    borne = sorted({int(each) for group in response.groups for each in group.columns})
    found = limits_together(response, read, [(each,) for each in borne])
    if found is None:
        return None
    numbers = [3 * weight + figure for weight in borne for figure in range(3)]
    low[numbers] = np.maximum(low[numbers], found.low)
    high[numbers] = np.minimum(high[numbers], found.high)
    return WeightLimits(low, high)


def limits_together(
    response: LoadResponse, read: tuple[WeighedLoad, ...], sets: Sequence[tuple[int, ...]]
) -> WeightLimits | None:
    """Find between what mass and centre of gravity of weights together lie, by file and scales together.

    Scales tell what weights come to together far better than each of them: one that is heavier makes another lighter.
    So this is narrower than what comes of the limits of each.

    Args:
        response: Whose masses and places are unknown, and what balances them.
        read: What scales read.
        sets: Numbers of the weights of each set, at least one of which weighs something.

    Returns:
        The limits of each set; None where no figures inside the file's fit what was read.
    """
    masses, places, reach = _as_given(response)
    given = masses.mean(axis=1)
    middles = [given[list(each)] @ places[list(each)] / given[list(each)].sum() for each in sets]
    polytope = _polytope(response, read)
    prices = [
        way * _sum_of(each, figure, places - middle, polytope.rows.shape[1])
        for each, middle in zip(sets, middles, strict=True)
        for figure in range(3)
        for way in (1.0, -1.0)
    ]
    try:
        found = least_values(polytope, prices)
    except NoProgrammeError:
        return None
    low, high = [], []
    for each, middle, (mass, *moments) in zip(sets, middles, found.reshape(-1, 3, 2) * (1.0, -1.0), strict=True):
        files = masses[list(each)].sum(axis=0)
        between = max(mass[0], files[0]), min(mass[1], files[1])
        spare = ROUNDING * np.array([files[1] - files[0], *(2 * reach[list(each)].max(axis=0))])
        ends = [
            between,
            *(
                (centre + _farthest(-less, between, -1.0), centre + _farthest(more, between, 1.0))
                for centre, (less, more) in zip(middle, moments, strict=True)
            ),
        ]
        low += [float(least) - off for (least, _), off in zip(ends, spare, strict=True)]
        high += [float(most) + off for (_, most), off in zip(ends, spare, strict=True)]
    return WeightLimits(np.array(low), np.array(high))


def _sum_of(weights: tuple[int, ...], figure: int, arms: Array, size: int) -> Array:
    """Return what adds up the mass (figure 0), or the moments about a middle along x or y (1, 2), of some weights."""
    row = np.zeros(size)
    for weight in weights:
        row[3 * weight + figure] = 1.0
        if figure:
            row[3 * weight] = arms[weight, figure - 1]
    return row


def _farthest(moment: float, masses: tuple[float, float], way: float) -> float:
    """Return where a place lies at the most one way [m], by the greatest moment that way [kg m] and its mass's ends."""
    mass = masses[0] if moment > 0 else masses[1]
    return way * (moment / mass) if mass > 0 else way * np.inf


def _as_given(response: LoadResponse) -> tuple[Array, Array, Array]:
    """Return least and most mass (w, 2), places in plan (w, 2) and how far they may be off (w, 2), by the file."""
    masses = np.array([(max(each.mass - each.mass_pm, 0.0), each.mass + each.mass_pm) for each in response.weights])
    places = np.array([each.at[:2] for each in response.weights])
    reach = np.array([each.at_pm[:2] for each in response.weights])
    return masses.reshape(-1, 2), places.reshape(-1, 2), reach.reshape(-1, 2)


@dataclass(frozen=True, slots=True)
class _Columns:
    """Where the unknowns stand: mass, p and q of each weight; then for each lowering loads and mount forces [kg].

    Attributes:
        weights: How many weights there are.
        supports: How many supports.
        mounts: How many mounts all groups have together.
        levels: Each lowering at which something was read [m].
    """

    weights: int
    supports: int
    mounts: int
    levels: tuple[float, ...]

    @property
    def size(self) -> int:
        """How many unknowns there are."""
        return 3 * self.weights + len(self.levels) * (self.supports + self.mounts)

    def loads(self, lower: float) -> int:
        """Return where the loads of a lowering begin; its mount forces come behind them."""
        return 3 * self.weights + self.levels.index(lower) * (self.supports + self.mounts)


def _polytope(response: LoadResponse, read: tuple[WeighedLoad, ...]) -> Polytope:
    """Return all weights and loads that file and scales leave open."""
    masses, _, reach = _as_given(response)
    mounts = sum(len(group.frame.mounts) for group in response.groups)
    levels = tuple(sorted({each.lower for each in read}))
    columns = _Columns(len(masses), len(response.supports), mounts, levels)
    inside = [*_in_place(reach, columns), *(row for each in read for row in _as_read(each, columns))]
    ranges: list[tuple[float | None, float | None]] = []
    for low, high in masses.tolist():
        ranges += [(low, high), (None, None), (None, None)]
    ranges += [*[(0.0, None)] * columns.supports, *[(None, None)] * mounts] * len(levels)
    return Polytope(
        rows=np.array([row for row, _ in inside]).reshape(-1, columns.size),
        most=np.array([most for _, most in inside]),
        balance=np.vstack([np.zeros((0, columns.size)), *(_balance(response, lower, columns) for lower in levels)]),
        ranges=ranges,
    )


def _in_place(reach: Array, columns: _Columns) -> Iterator[tuple[Array, float]]:
    """Yield that no moment is larger than its mass times how far its place may be off."""
    for weight, off in enumerate(reach):
        for axis in (0, 1):
            for way in (1.0, -1.0):
                row = np.zeros(columns.size)
                row[3 * weight + 1 + axis], row[3 * weight] = way, -off[axis]
                yield row, 0.0


def _as_read(each: WeighedLoad, columns: _Columns) -> Iterator[tuple[Array, float]]:
    """Yield that a scale's load lies inside its plus or minus."""
    pm, load = max(each.reading.pm, FINEST) / GRAVITY, (each.reading.load or 0.0) / GRAVITY
    start = columns.loads(each.lower)
    for way in (1.0, -1.0):
        row = np.zeros(columns.size)
        row[start : start + columns.supports] = way * each.counted
        yield row, way * load + pm


def _balance(response: LoadResponse, lower: float, columns: _Columns) -> Array:
    """Return the balance of every group at a lowering, rows that come to 0."""
    start = columns.loads(lower)
    beside, told = start + columns.supports, [np.zeros((0, columns.size))]
    for group in response.groups:
        rows = _weights_of(response, group, columns.size)
        rows[:, start + group.saddles] += group.frame.up.T
        rows[:, beside : beside + len(group.frame.mounts)] += group.frame.stretch.T
        beside += len(group.frame.mounts)
        told.append(rows)
    return np.vstack(told)


def _weights_of(response: LoadResponse, group: SprungGroup, size: int) -> Array:
    """Return less the weights of a group's wholes (3 q, size): mass, and moments over span about its middle."""
    frame = group.frame
    rows = np.zeros((frame.load.size, size))
    counted = [number for number, lump in enumerate(frame.lumps) if lump.counts]
    for number, column in zip(counted, group.columns, strict=True):
        lump, whole = frame.lumps[number], 3 * int(frame.whole_of[number])
        x, y = (response.weights[column].at[axis] - frame.middle[axis] for axis in (0, 1))
        mass = 3 * int(column)
        rows[whole, mass] -= lump.sign
        rows[whole + 1, [mass, mass + 2]] -= lump.sign * np.array([y, 1.0]) / frame.span
        rows[whole + 2, [mass, mass + 1]] += lump.sign * np.array([x, 1.0]) / frame.span
    return rows
