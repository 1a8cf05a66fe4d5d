"""Drop raise: which stands, raised while lift or jack still holds the weight, let a unit come free without a drop.

Every whole millimetre is tried at each stand that is there before and after, then at all of them alike, then each by
what it sinks. Both states are settled anew with the stands so set, before and after, so that what is told was solved: a
raise that takes another stand's load away, or overloads one, is no cure.
"""

from collections.abc import Mapping, Sequence
from math import ceil

import numpy as np

from loadplan.model.job import Job, State, Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.step_change import Drop, DropCure, Raising
from loadplan.statics.contact_loads import Settled, settle, springs
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.levelling import IDLE
from loadplan.statics.mass import Array, lumps
from loadplan.statics.passage import Passage
from loadplan.statics.settlement import Watched
from loadplan.statics.unsolved import UNSOLVED

REACH = 30
"""A stand is raised by so many millimetres at most."""

MILLIMETRE = 1e-3
"""Step of what is tried [m]: nobody sets a stand finer."""

SAME = 1e-6
"""A drop found again that differs by more than this [m] was not understood: no cure is told then."""


def drop_cures(
    passage: Passage, places: tuple[Watched, ...], found: tuple[Drop, ...], preload: Mapping[str, float]
) -> tuple[DropCure, ...]:
    """Find what to raise before a stage for each body that drops too far in it.

    Args:
        passage: The stage, with the state before it.
        places: Places that are watched.
        found: How far they sink.
        preload: Force [N] of mounts in the file's attitude, by name.

    Returns:
        One record a body that a raise keeps from dropping by more than the job allows; none for others.
    """
    limit = passage.job.limits.drop
    told = []
    for body in dict.fromkeys(each.body for each in found if each.fall > limit):
        try:
            raises = _Trial(passage, body, dict(preload)).least(places, found)
        except UNSOLVED:
            raises = ()
        if raises:
            told.append(DropCure(body, raises))
    return tuple(told)


class _Trial:
    """One body that drops, and the stands under its rigid whole that may be raised; c trials, n stands."""

    def __init__(self, passage: Passage, body: str, preload: dict[str, float]) -> None:
        self._passage, self._body, self._preload = passage, body, preload
        self._before = _group(passage.job, passage.before, body)
        self._after = _group(passage.job, passage.after, body)
        whole = self._after.wholes[self._after.whole(body)]
        there = {each.name for each in self._before.supports}
        self._stands = [each for each in self._after.supports if each.name in there and _set_by_hand(each, whole)]

    def least(self, places: tuple[Watched, ...], found: tuple[Drop, ...]) -> tuple[Raising, ...]:
        """Return the smallest raise that holds: of one stand, else of all alike, else of each by what it sinks."""
        if not self._stands:
            return ()
        falls = {each.place: each.fall for each in found}
        by = self._tried(falls)
        before, after = self._settled(self._before, by), self._settled(self._after, by)
        watched = [each for each in places if each.body in self._after.bodies and each.body in self._before.bodies]
        sunk = np.array([
            _ups(self._before, before, each) - _ups(self._after, after, each) for each in watched
        ])  # watched places, trials
        again = max(float(row[0]) for each, row in zip(watched, sunk, strict=True) if each.body == self._body)
        if abs(again - max(each.fall for each in found if each.body == self._body)) > SAME:
            return ()
        good = (sunk.max(axis=0) <= self._passage.job.limits.drop) & _allowed(self._after, after.loads)
        good[0] = False
        if not good.any():
            return ()
        chosen = by[int(good.argmax())]
        return tuple(Raising(each.name, float(up)) for each, up in zip(self._stands, chosen, strict=True) if up > 0)

    def _tried(self, falls: Mapping[str, float]) -> Array:
        """Return the raises (c, n) [m] to try, none first, then in the order in which they are preferred."""
        count = len(self._stands)
        steps = MILLIMETRE * np.arange(1, REACH + 1)
        single = (steps[:, None, None] * np.eye(count)).reshape(-1, count)
        own = [ceil(max(falls.get(each.name, 0.0), 0.0) / MILLIMETRE) * MILLIMETRE for each in self._stands]
        return np.vstack([np.zeros((1, count)), single, np.repeat(steps[:, None], count, axis=1), [own]])

    def _settled(self, frame: Frame, by: Array) -> Settled:
        """Return a state settled with every raise (c)."""
        order = [each.name for each in frame.supports]
        low = np.tile([self._passage.gaps[name] for name in order], (len(by), 1))
        for column, stand in enumerate(self._stands):
            # A stand set higher is a smaller gap.
            low[:, order.index(stand.name)] -= by[:, column]
        return settle(springs(frame, self._preload), np.tile(frame.load, (len(by), 1)), low / frame.span)


def _group(job: Job, state: State, body: str) -> Frame:
    return next(each for each in frames(state, lumps(job, state)) if body in each.bodies)


def _set_by_hand(support: Support, whole: Sequence[str]) -> bool:
    return support.body in whole and not support.is_arm and support.equipment.kind is not EquipmentKind.HOIST


def _ups(frame: Frame, settled: Settled, place: Watched) -> Array:
    """Return how far a place is up (c) [m] in every trial."""
    number = frame.whole(place.body)
    heave, rx, ry = settled.motions[:, 3 * number : 3 * number + 3].T
    x, y = place.at[0] - frame.middle[0], place.at[1] - frame.middle[1]
    up: Array = frame.span * heave + rx * y - ry * x
    return up


def _allowed(frame: Frame, loads: Array) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Return which raises (c) leave every support loaded that was, and overload none."""
    places = [np.inf if each.limit is None else each.limit for each in frame.supports]
    most = np.minimum(places, [each.equipment.rating_of_one for each in frame.supports]) / frame.weight
    fine: np.ndarray[tuple[int], np.dtype[np.bool_]] = (
        ((loads > IDLE) >= (loads[0] > IDLE)) & (loads <= np.maximum(most, loads[0]))
    ).all(axis=1)
    return fine
