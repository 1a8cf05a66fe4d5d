"""A group from which parts come off: its worst margin for any set of them, and all sets that keep a margin at once.

The sums are those of the worst margins. With the set of parts given, each lump chooses its own worst mass. Whether
all margins of a set are at least δ is whether Σ min over m of m (fixed − δ/span · turns ∓ swing) is above 0 in every
row, and that sum is one number a lump: so the sums of all 2ⁿ sets are those of the first half of the parts plus those
of the second, one addition each. It ends since every set is looked at once. (Two halves: Horowitz and Sahni, Journal
of the ACM 21, 1974, 277-292; the rest derived here.)
"""

from dataclasses import dataclass, replace
from math import inf

import numpy as np

from loadplan.statics.equilibrium import Frame
from loadplan.statics.fractional_programming import CLOSE, ChosenSums, least_ratios
from loadplan.statics.lean import Tilted, upright
from loadplan.statics.mass import Array, Lump
from loadplan.statics.tipping_modes import EDGE, STILL, free_motion, rays, rotations
from loadplan.statics.worst_margin import WORK, Numbers, trials_of

Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]


@dataclass(frozen=True, slots=True)
class ModeRows:
    """Sums over the lumps that must not fall below 0; t rows, p lumps.

    Attributes:
        fixed: What a unit mass adds (t, p).
        turns: What a unit of the margin takes off (t, p).
        swing: What leaning to either side adds or takes off (t, p).
        low: Least mass (p) [share of the group's].
        high: Greatest mass (p).
    """

    fixed: Array
    turns: Array
    swing: Array
    low: Array
    high: Array

    def least(self, value: Array) -> Array:
        """Return the least that mass times value (..., p) can be."""
        # Linear in the mass, so the least is at an end of its tolerance.
        least: Array = np.minimum(self.low * value, self.high * value)
        return least


@dataclass(frozen=True, slots=True)
class Shrinking:
    """One group of linked bodies from which parts come off; p lumps, n parts, q rigid wholes.

    Attributes:
        span: Half the group's extent [m].
        steady: Whether a support or mount stands against every motion.
        worst: Sums of the worst margins.
        given: Sums that must be above 0 for the group to be balanced with everything as given.
        bit: Number of the part that each lump is or was (p); −1 for what stays as it is.
        taken: Whether a lump counts once its part is off (p): it is taken from a body weighed whole.
        own: Whole of each lump (p, q), as 1 and 0.
        parts: Number of parts n.
    """

    span: float
    steady: bool
    worst: ModeRows
    given: ModeRows
    bit: Numbers
    taken: Flags
    own: Array
    parts: int

    def margins(self, off: Flags) -> Array:
        """Find worst margins.

        Args:
            off: Parts that are off (b, n).

        Returns:
            The least margin (b) [m] of any body: −inf where it is not balanced, inf where none can tip.
        """
        if not self.steady:
            return np.full(len(off), -inf)
        # A part of a summed body counts while it is on; one taken from a body weighed whole counts, as missing mass,
        # once it is off.
        there = (self.bit < 0) | (off[:, self.bit] == self.taken)
        # Balance as given comes first: a worst margin says nothing of a group that falls as it is.
        balanced = ((there * self.given.low) @ self.given.fixed.T > 0).all(axis=1)
        found = np.full(len(off), -inf)
        if balanced.any():
            found[balanced] = self.span * self._ratios(there[balanced])
        return found

    def _ratios(self, there: Flags) -> Array:
        """Return the least ratio (b) of any row."""
        rows = self.worst
        given = there * self.given.low
        bottom = given @ rows.turns.T
        # Where the search begins: no leaning and masses as given, a ratio that the least never lies above.
        ratio = (given @ rows.fixed.T) / np.where(bottom > 0, bottom, 1.0)

        def choose(trial: Array) -> ChosenSums:
            value = self._worse_side(rows.fixed - trial[:, :, None] * rows.turns, there)
            mass = np.where(value < 0, rows.high, rows.low) * there[:, None, :]
            return ChosenSums((mass * value).sum(axis=2), (mass * rows.turns).sum(axis=2))

        found: Array = least_ratios(ratio, choose).ratio.min(axis=1, initial=inf)
        return found

    def _worse_side(self, value: Array, there: Flags) -> Array:
        """Return the value (b, t, p) less or plus the swing: for each whole what makes its sum least."""
        if not self.worst.swing.any():
            return value
        less, more = value - self.worst.swing, value + self.worst.swing
        sums = [(self.worst.least(each) * there[:, None, :]) @ self.own for each in (less, more)]
        worse: Array = np.where((sums[0] <= sums[1]) @ self.own.T > 0, less, more)
        return worse

    def balanced(self) -> Flags:
        """Tell which sets of parts leave the group balanced with everything as given.

        Returns:
            One flag a set (2ⁿ); the bit j of its number says that the part j is off.
        """
        return self._all_above(self.given, self.given.fixed, 0.0) if self.steady else self._none()

    def keeps(self, margin: float) -> Flags:
        """Tell which sets of parts leave every body a worst margin, leaving balance as given aside.

        Args:
            margin: The margin [m].

        Returns:
            One flag a set (2ⁿ).
        """
        value = self.worst.fixed - margin / self.span * self.worst.turns
        # The margin comes out of a search that ends within CLOSE: asked exactly, a set might miss its own margin.
        return self._all_above(self.worst, value, -CLOSE) if self.steady else self._none()

    def _none(self) -> Flags:
        return np.zeros(1 << self.parts, dtype=np.bool_)

    def _all_above(self, rows: ModeRows, value: Array, least: float) -> Flags:
        above = ~self._none()
        for number in range(len(value)):
            above &= self._sums(rows, value[number], rows.swing[number]) > least
        return above

    def _sums(self, rows: ModeRows, value: Array, swing: Array) -> Array:
        """Return the least sum of one row for every set (2ⁿ)."""
        # A whole that leans chooses its side as one, so each side is summed over its lumps before the lesser is taken.
        swung = self.own.T @ np.abs(swing)
        calm = self.own @ swung == 0
        total = self._of_sets(np.where(calm, rows.least(value), 0.0))
        for whole in np.flatnonzero(swung):
            own = self.own[:, whole]
            sides = [self._of_sets(own * rows.least(value + side * swing)) for side in (-1.0, 1.0)]
            total = total + np.minimum(*sides)
        return total

    def _of_sets(self, each: Array) -> Array:
        """Return the sum for every set (2ⁿ) of what each lump adds (p) where it counts."""
        stays = float(each[(self.bit < 0) | ~self.taken].sum())
        change = np.zeros(self.parts)
        np.add.at(change, self.bit[self.bit >= 0], np.where(self.taken, each, -each)[self.bit >= 0])
        # The upper half of the bits goes by rows, the lower by columns, so the sums come in the order of the numbers.
        half = self.parts // 2
        sums: Array = np.add.outer(_added(change[half:]) + stays, _added(change[:half])).ravel()
        return sums


def _added(change: Array) -> Array:
    sums = np.zeros(1)
    # Each part doubles the sets: all so far, and all so far with it.
    for each in change:
        sums = np.concatenate([sums, sums + each])
    return sums


def shrinking(frame: Frame, made_of: tuple[Lump, ...], parts: tuple[str, ...], tilted: Tilted) -> Shrinking:
    """Prepare a group from which parts come off.

    Args:
        frame: The group with all these parts on.
        made_of: What its bodies are made of, these parts optional.
        parts: Names of the parts that come off.
        tilted: Floor slope, and how the group leans whatever is off.

    Returns:
        The group.
    """
    union = replace(
        frame, lumps=made_of, whole_of=np.array([frame.whole(lump.body) for lump in made_of], dtype=np.intp)
    )
    # A loose group has no rays; the empty row keeps the shapes, and `steady` says that no margin counts.
    loose = free_motion(frame) is not None
    motions = np.zeros((1, frame.load.size)) if loose else rays(frame)
    numbers = {name: number for number, name in enumerate(parts)}
    return Shrinking(
        span=frame.span,
        steady=not loose,
        worst=_worst_rows(union, motions, tilted),
        given=_given_rows(union, motions),
        bit=np.array([numbers[lump.part] if lump.optional else -1 for lump in made_of], dtype=np.intp),
        taken=np.array([lump.optional and lump.sign < 0 for lump in made_of]),
        own=(union.whole_of[:, None] == np.arange(len(frame.wholes))).astype(float),
        parts=len(parts),
    )


def _worst_rows(union: Frame, motions: Array, tilted: Tilted) -> ModeRows:
    """Return the rows of the worst margins, without those that ask for the work alone."""
    trials = trials_of(union, motions, tilted, ())
    asked = trials.target != WORK
    total = _total(union)
    return ModeRows(
        fixed=(trials.mid - trials.half)[asked],
        turns=trials.turns[asked],
        swing=trials.swing[asked],
        low=np.array([lump.low for lump in union.lumps]) / total,
        high=np.array([lump.high for lump in union.lumps]) / total,
    )


def _given_rows(union: Frame, motions: Array) -> ModeRows:
    """Return the rows of balance as given: a margin of more than an edge, or, where nothing turns, any work."""
    trials = trials_of(union, motions, Tilted(0.0, upright(union)), ())
    # A mode that turns nothing has no margin to ask for; of it the work itself is asked.
    turning = np.asarray((rotations(motions) > STILL).any(axis=1))
    asked = (trials.target != WORK) | ~turning[trials.mode]
    fixed = (trials.mid - EDGE / union.span * trials.turns)[asked]
    mass = np.array([lump.mass for lump in union.lumps]) / _total(union)
    nothing = np.zeros_like(fixed)
    return ModeRows(fixed=fixed, turns=nothing, swing=nothing, low=mass, high=mass)


def _total(union: Frame) -> float:
    return sum(lump.mass for lump in union.lumps if lump.sign > 0)
