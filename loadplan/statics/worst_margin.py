"""Worst margins: all masses and centres of gravity inside tolerance, lean, a sloping floor, parts off in any order.

The margin about an edge is the work of the weights against a motion that turns about it, over what a metre further in
would add to that work; sought is its least over all masses m in [low, high] and all centres inside theirs:

    margin = min Σ m (mid ∓ swing − half) / Σ m turns

A centre's worst place is an end of its tolerance whatever the masses are, and goes into `half`; the slope acts to the
worse side of each whole (`swing`). Left is a ratio of two sums over the masses, whose least `fractional_programming`
finds: for a trial ratio each part chooses its own worst. Where parts come off in an order, the choices hang on each
other, and the least sum is a minimum cut (`minimum_cut`). Derived here; margin as in McGhee and Frank (1968).
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from itertools import product
from math import inf

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.statics.equilibrium import Frame
from loadplan.statics.fractional_programming import CLOSE, ChosenSums, LeastRatios, least_ratios
from loadplan.statics.lean import Tilted, heights_over_lowest, lean_rates
from loadplan.statics.mass import Array
from loadplan.statics.minimum_cut import Needs, cheapest_off
from loadplan.statics.tipping_modes import EDGE, STILL, rotations
from loadplan.statics.unsolved import TooManyError

EITHER = 0.0
"""Stands for a side of the slope, where it may act to either."""

WORK = -1
"""Stands for the work itself, where a whole could be asked about."""

MOST_SIDED = 8
"""Most wholes with removable parts whose sides of the slope are combined; more are not looked at."""

Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

Numbers = np.ndarray[tuple[int, ...], np.dtype[np.intp]]


@dataclass(frozen=True, slots=True)
class Worst:
    """Worst margins of a group.

    Attributes:
        margins: Of each rigid whole (q) [m]; infinite where no mode rotates it.
        robust: Whether every mode's work stays positive over the whole tolerance.
        by_mode: The same in each mode (k, q) [m]; infinite where it does not rotate the whole.
        works: Least work of each mode (k), scaled.
    """

    margins: Array
    robust: bool
    by_mode: Array
    works: Array


@dataclass(frozen=True, slots=True)
class Trials:
    """One row a mode, whole asked about and side of the slope; p lumps.

    Attributes:
        mid: What each lump's unit mass adds (t, p), signed.
        swing: What the slope takes off that, or adds, whichever is worse for its whole (t, p), signed.
        half: How much tolerance takes off that (t, p).
        turns: What a unit of the ratio takes off (t, p), signed: the rotation, for lumps of the whole asked about.
        mode: Mode of each row (t).
        target: Whole asked about (t); WORK for the work alone.
    """

    mid: Array
    swing: Array
    half: Array
    turns: Array
    mode: Numbers
    target: Numbers

    def about(self, whole: int, times: int) -> "Trials":
        """Return the rows that ask about one whole, all of them several times, one set after the other."""
        rows = np.tile(np.flatnonzero(self.target == whole), times)
        return Trials(*(getattr(self, each.name)[rows] for each in fields(self)))


def worst(frame: Frame, motions: Array, tilted: Tilted, needs: Needs) -> Worst:
    """Find the worst margin of each rigid whole.

    Args:
        frame: The group, balanced as given.
        motions: Its scaled modes (k, 3 q).
        tilted: Floor slope and lean.
        needs: Pairs of lumps: a removable part, and one that must be off before it.

    Returns:
        Worst margins, and whether the group stands over the whole tolerance.
    """
    work, ratios = worst_ratios(frame, motions, tilted, needs)
    by_mode: Array = frame.span * ratios
    found: Array = by_mode.min(axis=0, initial=inf)
    robust = bool((work > 0).all() and (found > EDGE).all())
    return Worst(margins=found, robust=robust, by_mode=by_mode, works=work)


def worst_ratios(frame: Frame, motions: Array, tilted: Tilted, needs: Needs) -> tuple[Array, Array]:
    """Find the worst of every motion on its own.

    Args:
        frame: The group.
        motions: Scaled motions (k, 3 q).
        tilted: Floor slope and lean.
        needs: Pairs of lumps: a removable part, and one that must be off before it.

    Returns:
        Least work (k) against the weight, scaled, and least margin (k, q) of each whole, scaled; infinite where
        the motion does not rotate the whole.
    """
    trials = trials_of(frame, motions, tilted, needs)
    asked = trials.target != WORK
    found = _Masses(frame, needs).least(trials)
    work = np.full(len(motions), inf)
    # Rows that ask for the work alone have no rotation to divide by: their ratio stays 0, and their sum is the work.
    np.minimum.at(work, trials.mode[~asked], found.last.least[~asked])
    ratios = np.full((len(motions), len(frame.wholes)), inf)
    np.minimum.at(ratios, (trials.mode[asked], trials.target[asked]), found.ratio[asked])
    return work, ratios


def worst_masses(frame: Frame, motions: Array, tilted: Tilted, needs: Needs) -> Array:
    """Find the masses that leave each motion the least margin of any whole.

    Args:
        frame: The group; p lumps.
        motions: Scaled motions (k, 3 q).
        tilted: Floor slope and lean.
        needs: Pairs of lumps: a removable part, and one that must be off before it.

    Returns:
        Masses (k, p) [kg]; of a motion that rotates nothing those that leave it the least work.
    """
    trials = trials_of(frame, motions, tilted, needs)
    masses = _Masses(frame, needs)
    ratio = masses.least(trials).ratio
    # One without bottom belongs to what may tip anyway.
    ratio = np.where(np.isfinite(ratio), ratio, 0.0)
    # Rows that ask for the work alone come last: they are taken where a motion has no other.
    order = np.lexsort((ratio, trials.target == WORK, trials.mode))
    rows = order[np.searchsorted(trials.mode[order], np.arange(len(motions)))]
    chosen: Array = masses.cheapest(masses.value(trials, ratio))[rows]
    return chosen * frame.weight / GRAVITY


def margins_if_known(
    frame: Frame, motions: Array, tilted: Tilted, asked: tuple[int, Sequence[int]]
) -> tuple[float, ...]:
    """Find the worst margin of one rigid whole again and again, each time with one lump exactly as given.

    Args:
        frame: The group, balanced as given; everything in it counts, and lies above its saddles.
        motions: Its scaled modes (k, 3 q).
        tilted: Floor slope and lean.
        asked: Number of the whole, and numbers of those lumps.

    Returns:
        Worst margins [m], one a lump.
    """
    whole, numbers = asked
    if not numbers:
        return ()
    # All in one search: what is known of a lump changes its own column of its own rows alone.
    rows = trials_of(frame, motions, tilted, ()).about(whole, len(numbers))
    known = np.repeat(np.array(numbers, dtype=np.intp), len(rows.mode) // len(numbers))
    rows.half[np.arange(len(known)), known] = 0.0
    ratios = _Masses(frame, (), known).least(rows).ratio.reshape(len(numbers), -1)
    return tuple(float(each) for each in frame.span * ratios.min(axis=1, initial=inf))


def is_plain(frame: Frame) -> bool:
    """Tell whether nothing of a group may be either on or off, and all of it lies above its saddles.

    Args:
        frame: The group.

    Returns:
        Whether it is so: then `margins_if_known` may be asked.
    """
    return not any(lump.optional for lump in frame.lumps) and all(_above(frame, n) for n in range(len(frame.wholes)))


def meets(frame: Frame, motions: Array, tilted: Tilted, needs: Needs, asked: Array) -> Flags:
    """Tell of every motion whether it leaves each whole the margin that is asked for, whatever the tolerance.

    A margin is at least λ if min N − λ D ≥ 0, so that nothing has to be searched for. That least sum is concave and
    grows in proportion with a motion: where two motions meet what is asked, so does every sum of them.

    Args:
        frame: The group.
        motions: Scaled motions (k, 3 q).
        tilted: Floor slope and lean.
        needs: Pairs of lumps: a removable part, and one that must be off before it.
        asked: Margin asked of each whole (q) [m].

    Returns:
        Which do (k); one whose work may be gone does not.
    """
    trials = trials_of(frame, motions, tilted, needs)
    masses = _Masses(frame, needs)
    of_work = trials.target == WORK
    trial = np.where(of_work, 0.0, asked[trials.target] / frame.span)
    value = masses.value(trials, trial)
    least = (masses.cheapest(value) * value).sum(axis=1)
    met: Flags = np.ones(len(motions), dtype=bool)
    np.logical_and.at(met, trials.mode, np.where(of_work, least > 0, least >= -CLOSE))
    return met


def trials_of(frame: Frame, motions: Array, tilted: Tilted, needs: Needs) -> Trials:
    """Write down every motion, whole asked about and side of the slope as a row of sums over the lumps.

    Args:
        frame: The group.
        motions: Scaled motions (k, 3 q).
        tilted: Floor slope and lean.
        needs: Pairs of lumps: a removable part, and one that must be off before it.

    Returns:
        The rows.
    """
    slope = tilted.rise
    places = _scaled(frame)
    sign = np.array([lump.sign for lump in frame.lumps], dtype=float)
    reach = np.array([lump.at_pm for lump in frame.lumps]) / frame.span
    turned = rotations(motions)
    # A rotation that is rounding would make a margin of any size: such a motion only lifts, and has no margin there.
    turned = np.where(turned > STILL, turned, 0.0)
    heave, rx, ry = motions.reshape(len(motions), len(frame.wholes), 3)[:, frame.whole_of].transpose(2, 0, 1)
    # Across the axis a slope moves a centre by its height: so far it takes work off, whichever way the axis lies.
    tilt = slope * turned[:, frame.whole_of]
    level = heave + rx * places[:, 1] - ry * places[:, 0]
    leans = lean_rates(frame, motions, tilted.lean)
    level -= leans * heights_over_lowest(frame) / frame.span
    half = np.abs(rx) * reach[:, 1] + np.abs(ry) * reach[:, 0] + (tilt + np.abs(leans)) * reach[:, 2]
    shift = tilt * places[:, 2]
    parts = []
    for side in _sides(frame, slope, needs):
        mid = sign * (level - shift * side[frame.whole_of])
        swing = sign * shift * (side == EITHER)[frame.whole_of]
        for target in (WORK, *range(len(frame.wholes))):
            rows = np.arange(len(motions)) if target == WORK else np.flatnonzero(turned[:, target])
            turns = sign * (frame.whole_of == target) * turned[rows, max(target, 0), None]
            parts.append((mid[rows], swing[rows], half[rows], turns, rows, np.full(len(rows), target)))
    mids, swings, halves, turning, modes, targets = (np.concatenate(each) for each in zip(*parts, strict=True))
    return Trials(mids, swings, halves, turning, modes, targets)


def _scaled(frame: Frame) -> Array:
    """Return the lumps' places (p, 3), scaled; heights over the lowest saddle of their whole."""
    places = np.array([lump.at for lump in frame.lumps])
    places[:, :2] -= frame.middle
    places[:, 2] -= frame.base[frame.whole_of]
    scaled: Array = places / frame.span
    return scaled


def _sides(frame: Frame, slope: float, needs: Needs) -> list[Array]:
    """Return the sides (q) to which the slope may act; q rigid wholes.

    Upward only, where everything is above the saddles; else either, each whole on its own. Only where parts come off
    in some order, which may tie wholes to each other, every combination is a row of its own.

    Raises:
        TooManyError: If there are too many of those.
    """
    wholes = range(len(frame.wholes))
    above = [_above(frame, whole) for whole in wholes]
    tied = {int(frame.whole_of[lump]) for pair in needs for lump in pair}
    combined = [whole for whole in wholes if slope > 0 and not above[whole] and whole in tied]
    if len(combined) > MOST_SIDED:
        raise TooManyError(len(frame.supports), len(frame.wholes))
    # Above its saddles a whole leans outward at worst; what reaches below them may be worse leaning in.
    usual = np.where(above, 1.0, EITHER)
    sides = []
    for signs in product((1.0, -1.0), repeat=len(combined)):
        side = usual.copy()
        side[combined] = signs
        sides.append(side)
    return sides


def _above(frame: Frame, whole: int) -> bool:
    """Return whether all of a whole is above its lowest saddle."""
    return all(
        lump.sign > 0 and lump.at[2] - lump.at_pm[2] >= frame.base[whole]
        for lump, own in zip(frame.lumps, frame.whole_of, strict=True)
        if own == whole
    )


class _Masses:
    """Chooses the mass of each lump (share of the group's) that makes a sum least."""

    def __init__(self, frame: Frame, needs: Needs, known: Numbers | None = None) -> None:
        """Take the masses of a group's lumps.

        Args:
            frame: The group; p lumps.
            needs: Pairs of lumps: a removable part, and one that must be off before it.
            known: The lump that weighs exactly what is given, for each row (t) that is asked about; None: none does.
        """
        self._given = np.array([lump.mass if lump.counts else 0.0 for lump in frame.lumps], dtype=float)
        total = float(self._given @ [lump.sign for lump in frame.lumps])
        self._given /= total
        self._optional = np.array([lump.optional for lump in frame.lumps])
        self._on = self._optional & np.array([lump.sign > 0 for lump in frame.lumps])
        self._sure = np.array([lump.low for lump in frame.lumps]) / total
        self._low = np.where(self._optional, 0.0, self._sure)
        self._high = np.array([lump.high for lump in frame.lumps]) / total
        if known is not None:
            exact = np.arange(len(frame.lumps)) == known[:, None]
            self._low, self._high = (np.where(exact, self._given, each) for each in (self._low, self._high))
        self._needs = needs
        self._own = (frame.whole_of[:, None] == np.arange(len(frame.wholes))).astype(float)
        self._first = np.array([part for part, _ in needs], dtype=np.intp)
        self._other = np.array([other for _, other in needs], dtype=np.intp)

    def least(self, trials: Trials) -> LeastRatios:
        """Return the least ratios of all rows; those that ask for the work alone keep a ratio of 0."""

        def choose(trial: Array) -> ChosenSums:
            value = self.value(trials, trial)
            chosen = self.cheapest(value)
            return ChosenSums((chosen * value).sum(axis=1), (chosen * trials.turns).sum(axis=1))

        return least_ratios(np.where(trials.target != WORK, self.as_given(trials), 0.0), choose)

    def value(self, trials: Trials, trial: Array) -> Array:
        """Return what a unit of each mass adds (t, p) to the sum at trial ratios (t), the slope to the worse side."""
        return self.worse_side(trials.mid - trial[:, None] * trials.turns - trials.half, trials.swing)

    def as_given(self, trials: Trials) -> Array:
        """Return the ratios (t) with everything as given; 0 where none is asked for."""
        bottom = trials.turns @ self._given
        ratios: Array = (trials.mid @ self._given) / np.where(bottom > 0, bottom, 1.0)
        return ratios

    def worse_side(self, value: Array, swing: Array) -> Array:
        """Return the value less or plus the swing (t, p): for each whole the one that makes its sum least."""
        if not swing.any():
            return value
        # A whole leans as one: all its lumps swing to the side that makes their sum least, not each to its own.
        less, more = value - swing, value + swing
        sums = [np.where(each < 0, self._high, self._low) * each @ self._own for each in (less, more)]
        worse: Array = np.where((sums[0] <= sums[1]) @ self._own.T > 0, less, more)
        return worse

    def cheapest(self, value: Array) -> Array:
        """Return the masses (t, p) for which the sum of mass times value (t, p) is least."""
        chosen: Array = np.where(value < 0, self._high, self._low)
        # A part taken from a body weighed whole is off where it counts: its lump is a mass that is missing.
        off = np.where(self._on, chosen == 0, chosen > 0)
        # Few choices take a part off before what it waits for: only these pay for a cut.
        for trial in np.flatnonzero((off[:, self._first] & ~off[:, self._other]).any(axis=1)):
            self._respect(chosen[trial], value[trial])
        return chosen

    def _respect(self, row: Array, value: Array) -> None:
        """Choose again so that nothing is off before what must be off first."""
        there = np.where(value < 0, self._high, self._sure)
        cost = there * value * np.where(self._on, -1.0, 1.0)
        off = cheapest_off(tuple(np.where(self._optional, cost, 0.0)), self._needs)
        taken = np.zeros(len(row), dtype=bool)
        taken[list(off)] = True
        counted = np.where(self._on, ~taken, taken)
        row[self._optional] = np.where(counted, there, 0.0)[self._optional]
