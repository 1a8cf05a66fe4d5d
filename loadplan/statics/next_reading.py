"""Further readings: which one more would cut the largest uncertainty most, found by trying each."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from math import radians
from typing import NamedTuple

import numpy as np

from loadplan.model.readings import (
    ACROSS_PM,
    COORDINATES,
    TILT_PM,
    Advice,
    Further,
    Held,
    MeasuredAmount,
    ReadingSet,
    ScalePlace,
)
from loadplan.statics.least_squares import Fit, fit
from loadplan.statics.mass import Array
from loadplan.statics.reading_equations import Tilt, vertical

RAISED = radians(6)
"""Tilt that is tried: some 100 mm over a metre; common practice, no source."""

HOOK_PM = 0.01
"""Plus or minus of a crane scale, share of its reading; common practice, no source."""

HIGH = 0.3
"""Height of a centre of gravity over the places [m], where the readings do not tell it."""

SLING = 0.5
"""Height of a hook over the highest place [m]."""

WORTH_IT = 0.9
"""A reading that leaves more of the uncertainty than this is not worth the trouble."""

MOST_TRIED = 40
"""Most further readings that are tried."""


class FurtherReading(NamedTuple):
    """A reading that could be taken.

    Attributes:
        further: What.
        of_set: Number of its set.
        place: Number of its place there.
        sets: All the readings with it.
    """

    further: Further
    of_set: int
    place: int
    sets: tuple[ReadingSet, ...]


def advise(sets: tuple[ReadingSet, ...], found: Fit) -> Advice | None:
    """Choose the further reading that would cut the largest uncertainty most.

    Args:
        sets: The readings.
        found: What they come to.

    Returns:
        The reading, or None where none that was tried cuts it by a tenth.
    """
    tried = [(candidate, fit(candidate.sets)) for candidate in islice(_candidates(sets, found), MOST_TRIED)]
    for amount in _least_certain_first(sets, found):
        now = _uncertainty(found, amount)
        then = [(pm, candidate) for candidate, each in tried if (pm := _uncertainty(each, amount)) is not None]
        if not then:
            continue
        least, chosen = min(then, key=lambda each: each[0])
        helps = now is None or least < WORTH_IT * now
        return Advice(chosen.further, chosen.of_set, chosen.place, amount, now, least) if helps else None
    return None


def _uncertainty(found: Fit, amount: MeasuredAmount) -> float | None:
    """Return an expanded uncertainty; None for what is not measured."""
    estimate = found.estimate(amount)
    return None if estimate is None or amount in found.taken else estimate.pm


def _least_certain_first(sets: tuple[ReadingSet, ...], found: Fit) -> list[MeasuredAmount]:
    """Return the amounts: those not known, then by uncertainty; that of the mass by the moment that it makes."""
    at = np.array([place.at for each in sets for place in each.places])
    reach = float(np.linalg.norm(at - at.mean(axis=0), axis=1).max())
    # A kilogram too much shifts the balance as a length would: so masses and lengths can be ranked together.
    scale = reach / found.mass.value if found.mass else 1.0

    def size(amount: MeasuredAmount) -> float:
        pm = _uncertainty(found, amount)
        return np.inf if pm is None else pm * (scale if amount is MeasuredAmount.MASS else 1.0)

    return sorted((MeasuredAmount.MASS, *COORDINATES), key=lambda amount: -size(amount))


def _candidates(sets: tuple[ReadingSet, ...], found: Fit) -> Iterator[FurtherReading]:
    """Yield further readings: the set with most scales tilted, the unit hung, one more place weighed."""
    standing = [number for number, each in enumerate(sets) if each.held is Held.STANDS]
    guess = _Guess(sets, found)
    read = {number: sum(place.load is not None for place in sets[number].places) for number in standing}
    # Where most is read a tilt tells most, since it tells the height by how the loads change.
    base = max(standing, key=read.__getitem__, default=None)
    if base is not None:
        for further, tilt in ((Further.NOSE_UP, (RAISED, 0.0)), (Further.LEFT_UP, (0.0, RAISED))):
            yield FurtherReading(further, base, 0, (*sets, guess.tilted(sets[base], tilt)))
    yield FurtherReading(Further.HOOK, 0, 0, (*sets, guess.hung()))
    for number in standing:
        for place, each in enumerate(sets[number].places):
            if each.load is None:
                yield FurtherReading(Further.SCALE, number, place, guess.with_scale(number, place))


class _Guess:
    """What further readings would probably say."""

    def __init__(self, sets: tuple[ReadingSet, ...], found: Fit) -> None:
        self._sets = sets
        self._loads = found.loads
        self._tape = sets[0].tape
        places = [place for each in sets for place in each.places]
        at = np.array([place.at for place in places])
        read = [place for place in places if place.load is not None]
        # As coarse as the coarsest so far: advice must not count on a better scale than there is.
        self._pm = max(place.pm for place in read)
        self._each = float(np.mean([place.load for place in read if place.load is not None]))
        self._mass = found.mass.value if found.mass else self._each * len(sets[0].places)
        middle = at.mean(axis=0) + np.array([0.0, 0.0, HIGH])
        self._cg = np.array([each.value if each else middle[axis] for axis, each in enumerate(found.cg)])
        self._top = float(at[:, 2].max())

    def hung(self) -> ReadingSet:
        """Return the unit hung level from a hook."""
        at = (float(self._cg[0]), float(self._cg[1]), self._top + SLING)
        return ReadingSet(Held.HANGS, (ScalePlace(at, self._mass, HOOK_PM * self._mass),), tape=self._tape)

    def with_scale(self, number: int, place: int) -> tuple[ReadingSet, ...]:
        """Return all readings, with one more place of a set weighed."""
        of_set = self._sets[number]
        load = self._loads[number][place]
        scale = replace(of_set.places[place], load=self._each if load is None else max(load, 0.0), pm=self._pm)
        places = (*of_set.places[:place], scale, *of_set.places[place + 1 :])
        return (*self._sets[:number], replace(of_set, places=places), *self._sets[number + 1 :])

    def tilted(self, of_set: ReadingSet, tilt: Tilt) -> ReadingSet:
        """Return a set read again, tilted."""
        nose_up, left_up = tilt
        places = tuple(
            place if place.load is None else replace(place, load=load)
            for place, load in zip(of_set.places, self._forces(of_set, tilt), strict=True)
        )
        spreads = (TILT_PM if nose_up else ACROSS_PM, TILT_PM if left_up else ACROSS_PM)
        return ReadingSet(Held.STANDS, places, nose_up, left_up, *spreads, of_set.tape)

    def _forces(self, of_set: ReadingSet, tilt: Tilt) -> list[float]:
        """Return the least forces that hold the unit there."""
        up = vertical(tilt)
        at = np.array([place.at for place in of_set.places])
        arms = np.vstack([np.ones(len(at)), _about(at, up)])
        wanted = self._mass * np.array([1.0, *_about(self._cg[None, :], up)[:, 0]])
        # More scales than balances leave the split open; the least forces do for a guess.
        return [float(each) for each in np.linalg.lstsq(arms, wanted, rcond=None)[0]]


def _about(at: Array, up: Array) -> Array:
    """Return the moments (2, n) about x and y of a vertical unit force at each place (n, 3)."""
    moments: Array = np.cross(at, up).T[:2]
    return moments
