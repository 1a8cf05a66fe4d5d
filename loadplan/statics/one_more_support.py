"""One more support: at which places would it keep a group from going over, with a margin, whatever the tolerance.

The motions that are left to a group with one more support are those of the cone it had, cut by the half space in which
that support is not shortened. They are spanned by the rays that it does not stand against, and by one ray for every
two of which it stands against one: the sum of both that leaves it where it is (the double description method of
Motzkin and others, Contributions to the Theory of Games 2, 1953, 51-73). Whether a motion leaves the margin asked for
is a concave question (`worst_margin.meets`), so a sum of two motions that do needs no look. So the place is good where
it stands against every ray that does not meet what is asked, and where the sums of one of those and one other meet it:
few sums, the same few at every place, and no search for modes or ratios. A free motion is two rays, one each way.

Where the group stands, its lean with the new support counts too. It moves every margin by millimetres only and changes
little from place to place, so each place is judged with the lean found at the nearest of a coarser grid, to more and to
less than what is asked, and is solved itself only where the two differ. On soft supports tolerance and lean make each
other worse: what that took off at the place of the grid is asked for on top before a place is taken unsolved. Where the
lean there has no end, no place near it is told.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from loadplan.model.answer import Motion
from loadplan.model.job import Job, State, Support
from loadplan.statics.any_order import states_between
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.gaps import touch_gap
from loadplan.statics.group import lean_in_full
from loadplan.statics.lean import Tilted, told_lean, upright
from loadplan.statics.margin_settings import margin_settings
from loadplan.statics.mass import Array, Lump, lumps, off_before
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.null_space import null_space
from loadplan.statics.resting_state import Solved
from loadplan.statics.tipping_modes import EDGE, STILL, Numbers, free_motion, holds, rays, rotations
from loadplan.statics.worst_margin import Flags, meets, worst

AT_ONCE = 20_000
"""Motions looked at together, to bound the memory."""

COARSE = 0.15
"""Distance [m] of the places at which the lean is found."""

SLACK = 0.002
"""How far the lean at a place may differ from that at the nearest coarse place, as margin [m]; beyond, it is solved."""


@dataclass(frozen=True, slots=True)
class OneMoreQuestion:
    """Where would one more support help a body.

    Attributes:
        job: The job.
        state: The state.
        motions: Expected motion of each body that has one.
        gaps: How much lower each saddle is than the highest one [m], by support.
        support: The support, under the body; at the height of its saddle, its place does not matter.
        margin: Worst margin asked of its body [m].
    """

    job: Job
    state: State
    motions: Mapping[str, Motion]
    gaps: Mapping[str, float]
    support: Support
    margin: float


def helping(asked: OneMoreQuestion, places: Array) -> Flags:
    """Tell at which places one more support that just touches would help.

    Args:
        asked: The question.
        places: Places in plan (p, 2) [m].

    Returns:
        Where the group would stand over the whole tolerance, and the body have its margin (p), also in the middle of a
        stage in which parts come off in any order; with lean where the group stands, without where it does not.
    """
    good: Flags = np.ones(len(places), dtype=bool)
    for state in (asked.state, *states_between(asked.job, asked.state)):
        if asked.support.body in state.bodies and good.any():
            good[good] = _helping(replace(asked, state=state), places[good])
    return good


def _helping(asked: OneMoreQuestion, places: Array) -> Flags:
    """Return at which places (p, 2) the support would help in one state."""
    made_of = lumps(asked.job, asked.state)
    frame = _frame(asked, made_of, asked.state.supports)
    cone = _Cone.of(asked, frame)
    if cone is None:
        return np.zeros(len(places), dtype=bool)
    good = cone.held(places, Tilted(asked.job.limits.floor_slope, upright(frame)), asked.margin)
    if cone.stands and good.any():
        good[good] = _Leaning(asked, made_of, cone).held(places[good])
    return good


def _frame(asked: OneMoreQuestion, made_of: tuple[Lump, ...], supports: tuple[Support, ...]) -> Frame:
    """Return the group of the body, with some supports in place."""
    groups = frames(replace(asked.state, supports=supports), made_of)
    return next(each for each in groups if asked.support.body in each.bodies)


@dataclass(frozen=True, slots=True)
class _Cone:
    """The motions of a group of q rigid wholes without the new support.

    Attributes:
        frame: The group; heights over saddles with the new one in place.
        rays: Scaled motions (k, 3 q) that span the cone.
        whole: Rigid whole of the body.
        asked: The question.
    """

    frame: Frame
    rays: Array
    whole: int
    asked: OneMoreQuestion

    @classmethod
    def of(cls, asked: OneMoreQuestion, frame: Frame) -> "_Cone | None":
        """Return what a group can do; None where one support cannot hold all of it."""
        spanning = _spanning(frame)
        if spanning is None:
            return None
        whole, height = frame.whole(asked.support.body), asked.support.at[2]
        saddles = any(each.body in frame.wholes[whole] for each in frame.supports)
        base, lowest = frame.base.copy(), frame.lowest.copy()
        # A whole on mounts alone leans over those until it has a saddle.
        base[whole] = min(base[whole], height) if saddles else height
        tied = saddles or any(set(each.between) & set(frame.wholes[whole]) for each in frame.mounts)
        lowest[whole] = min(lowest[whole], height) if tied else height
        return cls(replace(frame, base=base, lowest=lowest), spanning, whole, asked)

    @property
    def stands(self) -> bool:
        """Whether the group stands as given, without the new support."""
        return free_motion(self.frame) is None and holds(self.frame, self.rays)

    def held(self, places: Array, tilted: Tilted, margin: float) -> Flags:
        """Return where the group stands over its tolerance, and the body has a margin [m] (p)."""
        met = self._met(self.rays, tilted, margin)
        up = self._rows(places) @ self.rays.T
        held: Flags = np.all(up[:, ~met] < -STILL, axis=1)
        for where, sums in self._sums(np.flatnonzero(held), up, met):
            held[where[~self._met(sums, tilted, margin)]] = False
        return held

    def _met(self, motions: Array, tilted: Tilted, margin: float) -> Flags:
        wanted = np.full(len(self.frame.wholes), EDGE)
        wanted[self.whole] = margin
        return meets(self.frame, motions, tilted, off_before(self.asked.job, self.frame.lumps), wanted)

    def _rows(self, places: Array) -> Array:
        """Return how far a saddle at each place moves up in the motions (p, 3 q), scaled."""
        x, y = ((places - self.frame.middle) / self.frame.span).T
        rows = np.zeros((len(places), self.frame.load.size))
        rows[:, 3 * self.whole : 3 * self.whole + 3] = np.column_stack([np.ones(len(places)), y, -x])
        return rows

    def _sums(self, where: Numbers, up: Array, met: Flags) -> Iterator[tuple[Numbers, Array]]:
        """Yield motions that leave the new support where it is, each with the number of its place.

        Each is the sum of a ray that meets what is asked and lifts off the support, and one that does not and presses.
        """
        for bad in np.flatnonzero(~met):
            for good in np.flatnonzero(met):
                lifted = where[up[where, good] > STILL]
                for start in range(0, len(lifted), AT_ONCE):
                    some = lifted[start : start + AT_ONCE]
                    sums = up[some, good, None] * self.rays[bad] - up[some, bad, None] * self.rays[good]
                    # A free motion and its reverse add up to none.
                    moving = _size(sums) > STILL
                    if moving.any():
                        yield some[moving], sums[moving] / _size(sums[moving])[:, None]


class _Leaning:
    """The lean of a group that stands, with one more support in place."""

    def __init__(self, asked: OneMoreQuestion, made_of: tuple[Lump, ...], cone: _Cone) -> None:
        self._asked = asked
        self._made_of = made_of
        self._cone = cone
        self._preload = mount_preload(asked.job)

    def held(self, places: Array) -> Flags:
        """Return at which places, where the group holds without lean, it does with it (p)."""
        held: Flags = np.zeros(len(places), dtype=bool)
        squares = np.round(places / COARSE).astype(np.intp)
        for square in np.unique(squares, axis=0):
            own = np.flatnonzero((squares == square).all(axis=1))
            held[own] = self._of_square(places[own], square * COARSE)
        return held

    def _of_square(self, places: Array, middle: Array) -> Flags:
        """Return at which of some places near each other it holds (p)."""
        sample = int(np.abs(places - middle).max(axis=1).argmin())
        frame, solved = self._solved(places[sample])
        if solved.answer.sway is None:
            # Without end its lean cannot be compared. Solved place by place this took half a minute, and found none:
            # no place of the square is told then, which promises less, not more.
            return np.zeros(len(places), dtype=bool)
        tilted = Tilted(self._asked.job.limits.floor_slope, told_lean(frame, solved.answer))
        margin = self._asked.margin
        held = self._cone.held(places, tilted, margin + SLACK + self._lost(frame, solved, tilted))
        for near in np.flatnonzero(self._cone.held(places, tilted, margin - SLACK) & ~held):
            held[near] = self._holds(places[near])
        return held

    def _lost(self, frame: Frame, solved: Solved, tilted: Tilted) -> float:
        """Return how much less margin was found than its lean leaves it [m], as a group on soft supports has."""
        whole = frame.whole(self._asked.support.body)
        margin = solved.worst_margins[whole]
        needs = off_before(self._asked.job, frame.lumps)
        lean_only = float(worst(frame, rays(frame), tilted, needs).margins[whole])
        return 0.0 if margin is None else max(lean_only - margin, 0.0)

    def _holds(self, place: Array) -> bool:
        frame, solved = self._solved(place)
        margin = solved.worst_margins[frame.whole(self._asked.support.body)]
        return solved.answer.robust and (margin is None or margin >= self._asked.margin)

    def _solved(self, place: Array) -> tuple[Frame, Solved]:
        """Return the group with the support at a place, where it just touches the body as that stands, solved."""
        asked = self._asked
        there = replace(asked.support, at=(float(place[0]), float(place[1]), asked.support.at[2]))
        frame = _frame(asked, self._made_of, (*asked.state.supports, there))
        gaps = {**asked.gaps, there.name: touch_gap(there, asked.motions)}
        settings = margin_settings(asked.job, asked.state, frame, gaps, self._preload)
        return frame, lean_in_full(frame, settings)


def _size(motions: Array) -> Array:
    turned, moved = rotations(motions).max(axis=1, initial=0.0), np.abs(motions).max(axis=1, initial=0.0)
    size: Array = np.where(turned > STILL * moved, turned, moved)
    return size


def _spanning(frame: Frame) -> Array | None:
    """Return scaled motions (k, 3 q) that span all that a group can do; None where no one support could stop it all."""
    free = null_space(np.vstack([frame.up, frame.stretch]), frame.load.size)
    if len(free) > 1:
        return None
    if not len(free):
        return rays(frame)
    # Square to what is free the cone is pointed, and has rays; with a freedom of one they are its two ways.
    square = replace(frame, stretch=np.vstack([frame.stretch, free]))
    left = null_space(square.stretch, frame.load.size)
    pointed = rays(square) if len(left) > 1 else np.vstack([left, -left])
    return np.vstack([pointed[(pointed @ frame.up.T >= -STILL).all(axis=1)], free, -free])
