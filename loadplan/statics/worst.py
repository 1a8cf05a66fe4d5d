"""Worst margins: every mass and centre of gravity inside tolerance, a sloping floor, parts off in any order.

A margin is a ratio of two sums over the parts; its least value is found exactly by Dinkelbach's method
(Management Science 13, 1967, 492-498): for a trial ratio each part chooses its own worst on its own.
"""

from dataclasses import dataclass
from itertools import product
from math import inf, tan

import numpy as np

from loadplan.statics.closure import Needs, cheapest_off
from loadplan.statics.frame import Frame
from loadplan.statics.mass import Array
from loadplan.statics.modes import EDGE, STILL, rotations

ROUNDS = 100
"""Dinkelbach's method ends after a handful of rounds."""

CLOSE = 1e-12
"""A sum this near to 0 (share of the weight) ends the search for a ratio."""


@dataclass(frozen=True, slots=True)
class Worst:
    """Worst margins of a group.

    Attributes:
        margins: Of each rigid whole (q) [m]; infinite where no mode rotates it.
        robust: Whether every mode's work stays positive over the whole tolerance.
    """

    margins: Array
    robust: bool


@dataclass(frozen=True, slots=True)
class _Trials:
    """One row a mode, whole asked about and side of the slope; p lumps.

    Attributes:
        mid: What each lump's unit mass adds (t, p), signed.
        half: How much tolerance takes off that (t, p).
        turns: What a unit of the ratio takes off (t, p), signed: the rotation, for lumps of the whole asked about.
        target: Whole asked about (t); -1 for the work alone.
    """

    mid: Array
    half: Array
    turns: Array
    target: np.ndarray[tuple[int], np.dtype[np.intp]]


def worst(frame: Frame, motions: Array, slope: float, needs: Needs) -> Worst:
    """Find the worst margin of each rigid whole.

    Args:
        frame: The group, balanced as given.
        motions: Its scaled modes (k, 3 q).
        slope: Floor slope [rad].
        needs: Pairs of lumps: a removable part, and one that must be off before it.

    Returns:
        Worst margins, and whether the group stands over the whole tolerance.
    """
    trials = _trials(frame, motions, tan(slope))
    masses = _Masses(frame, needs)
    ratio = np.where(trials.target < 0, 0.0, inf)
    asked = trials.target >= 0
    ratio[asked] = _nominal(frame, trials)[asked]
    least = np.zeros_like(ratio)
    for _ in range(ROUNDS):
        value = trials.mid - ratio[:, None] * trials.turns - trials.half
        chosen = masses.cheapest(value)
        least = (chosen * value).sum(axis=1)
        bottom = (chosen * trials.turns).sum(axis=1)
        lower = asked & (least < -CLOSE)
        if not lower.any():
            break
        ratio[lower] = np.where(bottom > 0, ratio + least / np.where(bottom > 0, bottom, 1.0), -inf)[lower]
    found = np.array([
        frame.span * ratio[trials.target == whole].min(initial=inf) for whole in range(len(frame.wholes))
    ])
    work = least[~asked].min(initial=inf)
    return Worst(found, robust=bool(work > 0 and (found > EDGE).all()))


def _trials(frame: Frame, motions: Array, slope: float) -> _Trials:
    places = _scaled(frame)
    sign = np.array([lump.sign for lump in frame.lumps], dtype=float)
    half = np.array([lump.at_pm for lump in frame.lumps]) / frame.span
    turned = rotations(motions)
    rows = []
    for number, motion in enumerate(motions):
        heave, rx, ry = motion.reshape(-1, 3)[frame.whole_of].T
        rotation = np.where(turned[number] > STILL, turned[number], 0.0)
        tilt = slope * rotation[frame.whole_of]
        mid = heave + rx * places[:, 1] - ry * places[:, 0]
        less = np.abs(rx) * half[:, 1] + np.abs(ry) * half[:, 0] + tilt * half[:, 2]
        asked = [-1, *np.flatnonzero(rotation > 0)]
        for side in _sides(frame, slope):
            leaning = sign * (mid - tilt * side[frame.whole_of] * places[:, 2])
            rows += [
                (leaning, less, sign * np.where(frame.whole_of == target, rotation[max(target, 0)], 0.0), target)
                for target in asked
            ]
    mids, halves, turns, targets = zip(*rows, strict=True)
    return _Trials(np.array(mids), np.array(halves), np.array(turns), np.array(targets, dtype=np.intp))


def _scaled(frame: Frame) -> Array:
    """Return the lumps' places (p, 3), scaled; heights over the lowest saddle of their whole."""
    places = np.array([lump.at for lump in frame.lumps])
    places[:, :2] -= frame.middle
    places[:, 2] -= frame.base[frame.whole_of]
    scaled: Array = places / frame.span
    return scaled


def _sides(frame: Frame, slope: float) -> list[Array]:
    """Return the sides (q) to which the slope may act: upward only, where everything is above the saddles."""
    if slope == 0:
        return [np.ones(len(frame.wholes))]
    above = [
        all(
            lump.sign > 0 and lump.at[2] - lump.at_pm[2] >= frame.base[whole]
            for lump, own in zip(frame.lumps, frame.whole_of, strict=True)
            if own == whole
        )
        for whole in range(len(frame.wholes))
    ]
    return [np.array(side) for side in product(*((1.0,) if each else (1.0, -1.0) for each in above))]


def _nominal(frame: Frame, trials: _Trials) -> Array:
    mass = np.array([lump.mass if lump.counts else 0.0 for lump in frame.lumps])
    bottom = (mass * trials.turns).sum(axis=1)
    ratio: Array = (mass * trials.mid).sum(axis=1) / np.where(bottom > 0, bottom, 1.0)
    return ratio


class _Masses:
    """Chooses the mass of each lump that makes a sum least."""

    def __init__(self, frame: Frame, needs: Needs) -> None:
        self._low = np.array([0.0 if lump.optional else lump.low for lump in frame.lumps])
        self._high = np.array([lump.high for lump in frame.lumps])
        self._on = np.array([lump.optional and lump.sign > 0 for lump in frame.lumps])
        self._sure = np.array([lump.low for lump in frame.lumps])
        self._optional = np.array([lump.optional for lump in frame.lumps])
        self._needs = needs
        self._first = np.array([part for part, _ in needs], dtype=np.intp)
        self._other = np.array([other for _, other in needs], dtype=np.intp)

    def cheapest(self, value: Array) -> Array:
        """Return the masses (t, p) for which the sum of mass times value (t, p) is least."""
        chosen: Array = np.where(value < 0, self._high, self._low)
        off = np.where(self._on, chosen == 0, chosen > 0)
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
