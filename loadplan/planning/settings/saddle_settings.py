"""Saddles on the bench: what each reaches with each kind of shim, and how they can be set at one level."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from math import inf

import numpy as np

from loadplan.planning.settings.assignment import Kinds, share_out
from loadplan.statics.mass import Array

NEAR = 1e-9
"""Lengths that differ by less than a nanometre [m] are the same."""

SLACK = 2 * NEAR
"""What rounding may add to a misfit [m]."""

DIGITS = 9
"""Digits of a length [m] that are kept: nanometres."""

SHIM = 1e-10
"""What a shim adds to a sum of misfits [m], so that of equal sums the one with fewer shims is taken."""


@dataclass(frozen=True, slots=True)
class SharedSaddles:
    """One piece of equipment, with one setting for all its saddles.

    Attributes:
        settings: Heights it can be set to, rising [m]; stepless: the lowest and the highest.
        stepless: Whether it can be set to any height between.
        places: Height of each place that it bears on [m].
    """

    settings: tuple[float, ...]
    stepless: bool
    places: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Shelf:
    """The shims that there are: height of each kind [m], and how many (infinite where not counted)."""

    heights: tuple[float, ...]
    counts: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Saddle:
    """How one saddle is set.

    Attributes:
        height: Setting of its piece [m].
        shim: Kind of shim on it, None for none.
        misfit: Height and shim less place and level [m]; above 0: too high.
    """

    height: float
    shim: int | None
    misfit: float


@dataclass(frozen=True, slots=True)
class Stacking:
    """How everything is set.

    Attributes:
        level: How much higher the unit stands than its file says [m].
        saddles: SharedSaddles by piece.
    """

    level: float
    saddles: tuple[Saddle, ...]

    @property
    def largest(self) -> float:
        """The largest misfit [m]."""
        return max(abs(each.misfit) for each in self.saddles)

    @property
    def total(self) -> float:
        """The sum of misfits [m]."""
        return sum(abs(each.misfit) for each in self.saddles)

    @property
    def shims(self) -> int:
        """How many shims it takes."""
        return sum(each.shim is not None for each in self.saddles)


class SettingsProblem:
    """What each saddle reaches with each kind of shim, the kind 0 being none; n saddles, k kinds."""

    def __init__(self, pieces: tuple[SharedSaddles, ...], shelf: Shelf) -> None:
        """Lay out what can be set.

        Args:
            pieces: At least one.
            shelf: The shims; at most one goes on a saddle.
        """
        self._pieces = pieces
        self._shims = np.array([0.0, *shelf.heights])
        self._counts = np.array([inf, *shelf.counts])
        self._places = np.array([place for piece in pieces for place in piece.places])
        self._owner = np.array([number for number, piece in enumerate(pieces) for _ in piece.places])
        self._shared = tuple(number for number, piece in enumerate(pieces) if len(piece.places) > 1)
        # Without steps a piece fits over a whole stretch, with steps at points: stretches of no length.
        low = [piece.settings[:1] if piece.stepless else piece.settings for piece in pieces]
        high = [piece.settings[1:] if piece.stepless else piece.settings for piece in pieces]
        self._low, self._high = self._levels(low), self._levels(high)

    def _levels(self, settings: list[tuple[float, ...]]) -> list[Array]:
        """Return the levels (k, s) at which each saddle fits with a setting."""
        own = self._shims[:, None] - self._places[:, None, None]
        return [own[row] + np.array(settings[piece])[None, :] for row, piece in enumerate(self._owner)]

    @property
    def meeting(self) -> Array:
        """Every level at which some saddle fits, or begins or ends to."""
        return np.concatenate([each.ravel() for each in (*self._low, *self._high)])

    @property
    def enough(self) -> float:
        """A misfit for which there certainly is a level."""
        ends = self.meeting
        return float(ends.max() - ends.min()) + NEAR

    def touching(self, largest: float) -> Array:
        """Return the levels at which some saddle comes within a misfit [m]."""
        return np.unique(np.concatenate([each.ravel() for each in self._low]) - largest)

    def leaving(self, largest: float) -> Array:
        """Return the levels at which some saddle is no longer within a misfit."""
        return np.unique(np.concatenate([each.ravel() for each in self._high]) + largest)

    def fits(self, largest: float) -> bool:
        """Return whether some level brings every saddle within a misfit."""
        return any(self._shared_out(level, largest) for level in self.possible(self.touching(largest), largest))

    def possible(self, levels: Array, largest: float) -> list[float]:
        """Return the levels, rising, at which every saddle by itself is within a misfit."""
        # Levels are sums of figures: those a nanometre apart are one, or each would be tried many times.
        rising = np.unique(np.round(levels / NEAR) * NEAR)
        kept = np.ones(len(rising), dtype=bool)
        for row, number in enumerate(self._owner):
            apart = _beyond if self._pieces[number].stepless else _from_nearest
            kept &= apart(rising, self._low[row], self._high[row]) <= largest + SLACK
        return [float(each) for each in rising[kept]]

    def _shared_out(self, level: float, largest: float) -> bool:
        """Return whether the shims can be shared out at a level within a misfit."""
        return any(True for _ in self.at(level, largest))

    def at(self, level: float, largest: float) -> Iterator[Stacking]:
        """Yield how the saddles can be set at a level within a misfit.

        Args:
            level: How much higher the unit stands than its file says [m].
            largest: What a saddle may be off [m].

        Yields:
            The least sum of misfits, for each way to set pieces with several saddles.
        """
        # Saddles of one piece hang together, so their settings are tried; the others take what is nearest.
        for shared in product(*(self._heights(number, level, largest) for number in self._shared)):
            heights = self._nearest(level, dict(zip(self._shared, shared, strict=True)))
            off = heights + self._shims[None, :] - self._places[:, None] - level
            # What is off by more than is asked does not do at all, so that the largest misfit comes before their sum.
            costs = np.where(np.abs(off) <= largest + SLACK, np.abs(off) + SHIM * (self._shims > 0), inf)
            kinds = share_out(costs, self._counts)
            if kinds is not None:
                yield Stacking(round(level, DIGITS), _saddles(heights, off, kinds))

    def _heights(self, number: int, level: float, largest: float) -> list[float]:
        """Return the heights of a piece with several saddles at which something changes and each can be within."""
        piece = self._pieces[number]
        wanted = level + np.array(piece.places)[:, None] - self._shims[None, :]
        turning = np.concatenate([(wanted + each).ravel() for each in (-largest, 0.0, largest)])
        tried = (
            np.unique(np.clip(turning, piece.settings[0], piece.settings[-1]))
            if piece.stepless
            else np.array(piece.settings)
        )
        off = np.abs(tried[:, None, None] - wanted[None, :, :]).min(axis=2).max(axis=1)
        return [float(each) for each in tried[off <= largest + SLACK]]

    def _nearest(self, level: float, shared: dict[int, float]) -> Array:
        """Return the setting (n, k) of each saddle that comes nearest with each kind of shim."""
        rows = []
        for row, number in enumerate(self._owner):
            piece = self._pieces[number]
            wanted = level + self._places[row] - self._shims
            if number in shared:
                rows.append(np.full(len(wanted), shared[number]))
            elif piece.stepless:
                rows.append(np.clip(wanted, piece.settings[0], piece.settings[-1]))
            else:
                settings = np.array(piece.settings)
                rows.append(settings[np.abs(settings[None, :] - wanted[:, None]).argmin(axis=1)])
        return np.array(rows)


def _beyond(levels: Array, low: Array, high: Array) -> Array:
    """Return how far each level is outside the nearest of some intervals."""
    apart = np.maximum(low.ravel()[None, :] - levels[:, None], levels[:, None] - high.ravel()[None, :])
    outside: Array = np.maximum(apart.min(axis=1), 0.0)
    return outside


def _from_nearest(levels: Array, points: Array, _: Array) -> Array:
    """Return how far each level is from the nearest of some points."""
    rising = np.concatenate([[-inf], np.unique(points), [inf]])
    above = np.searchsorted(rising, levels).clip(1)
    nearest: Array = np.minimum(levels - rising[above - 1], rising[above] - levels)
    return nearest


def _saddles(heights: Array, off: Array, kinds: Kinds) -> tuple[Saddle, ...]:
    """Return the settings with the kind of shim chosen for each saddle."""
    return tuple(
        Saddle(
            height=round(float(heights[row, kind]), DIGITS),
            shim=int(kind) - 1 if kind else None,
            misfit=round(float(off[row, kind]), DIGITS) + 0.0,
        )
        for row, kind in enumerate(kinds)
    )
