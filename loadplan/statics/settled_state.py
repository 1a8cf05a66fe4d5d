"""The settled state: where a group comes to rest once the weights' own overturning is counted.

With a factor t before the m g h terms G of every whole (second_order) and the stiffness K of what touches,

    (K − t·G) y = p,

and the state is followed from the first-order one, t = 0, to t = 1. While the contact stays as it is y(t) is known in
closed form: along each of the shapes into which K and G fall apart y grows as 1/(1 − tλ). So a saddle comes off, or
touches, at a root of const + Σ a/(1 − tλ), an eigenvalue of a small matrix. There the contact changes and the next
piece begins: after finitely many pieces the path ends at t = 1, or K − t·G stops being positive definite, and the
group goes over by its own lean.
"""

from dataclasses import dataclass, replace
from itertools import product
from math import inf

import numpy as np

from loadplan.statics.contact_loads import Settled, Springs
from loadplan.statics.mass import Array
from loadplan.statics.second_order import (
    Flags,
    Merged,
    Numbers,
    Shapes,
    carried_wholes,
    is_stable,
    stiffness_shapes,
    sway,
)

TOUCH = 1e-11
"""Penetration or gap, as a share of the span, that is none: the saddle just touches."""

LOADED = 1e-12
"""Load, as a share of the weight, that is none."""

PIECES = 500
"""Changes of contact after which the search ends without an answer: a handful is usual."""

MOST_AT_ONCE = 10
"""Most saddles that just touch at the same time of which every combination is tried."""

SOUND = 1e-9
"""Out-of-balance force, as a share of the weight, that the end of the path may leave."""

REAL = 1e-9
"""Imaginary part, as a share of the real one, that rounding leaves of a real eigenvalue."""


@dataclass(frozen=True, slots=True)
class Standing:
    """What a settled state is looked for from; n supports, q rigid wholes, all scaled.

    Attributes:
        held: Springs of the group.
        gaps: How much lower each saddle is (n).
        load: Its weights (3 q).
        first: Where it rests without lean; one case.
        overturning: m g h (q) of each whole; below 0 where it hangs.
    """

    held: Springs
    gaps: Array
    load: Array
    first: Settled
    overturning: Array


@dataclass(frozen=True, slots=True)
class Leaning:
    """A group in its settled state.

    Attributes:
        motions: Scaled motions (3 q).
        touching: Which supports carry (n).
        sway: Largest eigenvalue of the m g h terms against the stiffness in that contact, below 1.
    """

    motions: Array
    touching: Flags
    sway: float

    @property
    def tilts(self) -> Array:
        """Tilt (q, 2) of each whole about x and y [rad]."""
        each: Array = self.motions.reshape(-1, 3)[:, 1:]
        return each


def settled_state(standing: Standing) -> Leaning | None:
    """Follow a group from its first-order state to its settled one.

    Args:
        standing: The group in its first-order state.

    Returns:
        The settled state; None where there is none, because it goes over by its own lean. A search that does not end
        is taken for the same.
    """
    carries = standing.first.loads[0] > LOADED
    while True:
        merged = Merged.of(standing.held, carries, standing.overturning)
        end = _Path(standing, merged).followed()
        if end is None:
            return None
        if not (carried_wholes(standing.held, end.touching) & merged.rides).any():
            break
        carries = carries | end.touching  # what was taken for riding has come to stand on a saddle: it rides no more
    share = sway(standing.held, end.touching, standing.overturning)
    # The path got there, but with nothing left against the next tilt: that is no rest.
    return None if share is None or share >= 1.0 else Leaning(end.motions, end.touching, share)


@dataclass(frozen=True, slots=True)
class _End:
    """Where a path ended: motions (3 q), and which supports carry there (n)."""

    motions: Array
    touching: Flags


class _Path:
    """The path of one group; wholes that count as rigid with another move with it, c are left."""

    def __init__(self, standing: Standing, merged: Merged) -> None:
        """Write the springs in the motions of what is left.

        A rider stays as far out of its base's attitude as it is in the first-order state: that becomes part of gaps and
        preloads.
        """
        columns, held = merged.columns, standing.held
        first = standing.first.motions[0]
        self._first, self._columns = first, columns
        self._start = first.reshape(-1, 3)[merged.bases].ravel()
        apart = first - columns @ self._start
        self._held = replace(
            held,
            up=held.up @ columns,
            stretch=held.stretch @ columns,
            preload=held.preload - held.mount_stiffness * (held.stretch @ apart),
        )
        self._gaps = standing.gaps + held.up @ apart
        self._load = standing.load @ columns
        self._diagonal = merged.diagonal(standing.overturning)
        self._mounts = merged.stiffness(held, np.zeros(len(held.up), dtype=bool))

    def followed(self) -> _End | None:
        """Return where the path ends with the whole of the m g h terms; None where it does not get there."""
        motion, factor = self._start, 0.0
        pressed = self._pressed(motion)
        # What just touches is on neither side: which it joins hangs on the motion that begins.
        touching, edge = pressed > 0, np.abs(pressed) <= TOUCH
        for _ in range(PIECES):
            begins = self._begins(touching, edge, (motion, factor))
            shapes = None if begins is None else stiffness_shapes(self._stiffness(begins.touching), self._diagonal)
            if begins is None or shapes is None:
                return None
            touching = begins.touching
            piece = self._piece(shapes, touching, factor)
            step, edge = piece.next_event(begins.pace, edge)
            # The stiffness is used up before anything comes off or touches: it goes over by its own lean.
            if min(step, 1.0 - factor) >= piece.ends:
                return None
            if factor + step >= 1.0:
                return self._ended(piece.at(1.0 - factor), touching)
            motion, factor = piece.at(step), factor + step
            # Rounding may leave another one at the same place just outside: left out, it would be passed unseen.
            edge = edge | (np.abs(self._pressed(motion)) <= TOUCH)
        return None

    def _pressed(self, motion: Array) -> Array:
        pressed: Array = -self._held.up @ motion - self._gaps
        return pressed

    def _stiffness(self, touching: Flags) -> Array:
        up = self._held.up[touching]
        stiffness: Array = self._mounts + up.T @ (self._held.stiffness[touching, None] * up)
        return stiffness

    def _begins(self, touching: Flags, edge: Flags, now: tuple[Array, float]) -> "_Beginning | None":
        """Return how the next piece begins; None where the group goes over here.

        What just touches carries if the motion that begins presses it. That motion hangs on what carries in turn: it is
        a small contact problem, solved by trying what the last trial pressed, and else every combination.
        """
        at_edge = np.flatnonzero(edge)
        tried = [np.ones(len(at_edge), dtype=bool)]
        for _ in range(2 * len(at_edge) + 1):
            begins = self._trial(touching & ~edge, at_edge[tried[-1]], now)
            if begins is None:
                break
            pressed = begins.pace[at_edge] > TOUCH
            if (pressed == tried[-1]).all():
                return begins
            tried.append(pressed)
        return self._any_beginning(touching & ~edge, at_edge, now)

    def _any_beginning(self, surely: Flags, at_edge: Numbers, now: tuple[Array, float]) -> "_Beginning | None":
        # Every combination is tried, so only of a few; where they are more it is taken to go over, which is careful.
        if not 0 < len(at_edge) <= MOST_AT_ONCE:
            return None
        for each in product((False, True), repeat=len(at_edge)):
            begins = self._trial(surely, at_edge[np.array(each)], now)
            if begins is not None and ((begins.pace[at_edge] > TOUCH) == np.array(each)).all():
                return begins
        return None

    def _trial(self, surely: Flags, chosen: Numbers, now: tuple[Array, float]) -> "_Beginning | None":
        """Return how a piece would begin with some of what just touches carrying; None where that is not stable."""
        touching = surely.copy()
        touching[chosen] = True
        motion, factor = now
        # What the weights take off the stiffness so far is missing when the next piece begins.
        tangent = self._stiffness(touching) - factor * np.diag(self._diagonal)
        if not is_stable(tangent):
            return None
        return _Beginning(touching, -self._held.up @ np.linalg.solve(tangent, self._diagonal * motion))

    def _piece(self, shapes: Shapes, touching: Flags, factor: float) -> "_Piece":
        held = self._held
        low = np.where(touching, held.stiffness * self._gaps, 0.0)
        target = held.preload @ held.stretch - self._load - low @ held.up
        # Counted anew from here, so that each piece begins at s = 0 however far the path has come.
        left = 1.0 - factor * shapes.growth
        return _Piece(shapes.columns, shapes.growth / left, (target @ shapes.columns) / left, (held.up, self._gaps))

    def _ended(self, motion: Array, touching: Flags) -> _End | None:
        """Return the end of the path; None where, against all expectation, it is not in balance there."""
        held = self._held
        loads = np.maximum(self._pressed(motion), 0.0) * held.stiffness
        forces = held.preload - held.mount_stiffness * (held.stretch @ motion)
        # Asked once more at the end: however many pieces led there, only balance itself is trusted.
        left = self._load - loads @ held.up - forces @ held.stretch - self._diagonal * motion
        if np.abs(left).max(initial=0.0) > SOUND * max(1.0, float(np.abs(forces).max(initial=0.0))):
            return None
        return _End(self._first + self._columns @ (motion - self._start), touching)


@dataclass(frozen=True, slots=True)
class _Beginning:
    """How a piece begins: which supports carry (n), and how fast each is pressed a unit of the factor (n)."""

    touching: Flags
    pace: Array


@dataclass(frozen=True, slots=True)
class _Piece:
    """One piece of the path, the contact staying as it is; s is how much the factor has grown since it began.

    Attributes:
        shapes: Shapes (3 c, 3 c), a column each, that grow each on its own.
        growth: λ of each, counted from the beginning of the piece: it has grown by 1/(1 − sλ).
        along: Size of each at the beginning.
        saddles: Rows of the supports (n, 3 c), and how much lower each saddle is (n).
    """

    shapes: Array
    growth: Array
    along: Array
    saddles: tuple[Array, Array]

    @property
    def ends(self) -> float:
        """Where the stiffness stops being positive."""
        fastest = float(self.growth.max(initial=0.0))
        return 1.0 / fastest if fastest > 0 else inf

    def at(self, step: float) -> Array:
        """Return the motions (3 c) at a step."""
        motion: Array = self.shapes @ (self.along / (1.0 - step * self.growth))
        return motion

    def next_event(self, pace: Array, edge: Flags) -> tuple[float, Flags]:
        """Find where the next support comes off or touches.

        A support is pressed by f(s) = f(0) + s·Σ aλ/(1 − sλ). With μ = 1/s its roots are the eigenvalues of
        diag(λ) − 1·(aλ)ᵀ/f(0) (Golub, SIAM Review 15, 1973, 318-334, on such secular equations). For one that just
        touches at the beginning the root s = 0 is divided out.

        Args:
            pace: How fast each support is pressed at the beginning (n).
            edge: Which just touch at the beginning (n).

        Returns:
            The step (infinite where none does before the stiffness ends), and which supports it is (n).
        """
        up, gaps = self.saddles
        # A shape that does not grow stays as it is, and brings no saddle on or off.
        growth = self.growth[self.growth > 0]
        if not len(growth) or not len(gaps):
            return inf, np.zeros(len(gaps), dtype=bool)
        each = -(up @ (self.shapes * self.along))[:, self.growth > 0] * growth
        now = -up @ (self.shapes @ self.along) - gaps
        top = np.where(edge[:, None], each * growth, each)
        bottom = np.where(edge, pace, now)
        bottom = np.where(edge & (np.abs(bottom) <= TOUCH), inf, bottom)
        roots = np.linalg.eigvals(np.diag(growth) - (top / bottom[:, None])[:, None, :])
        real = np.abs(roots.imag) <= REAL * np.abs(roots.real)
        fastest = np.where(real, roots.real, 0.0).max(axis=1)
        # A root behind the end of the stiffness is never come to.
        steps = np.where(fastest > growth.max(), 1.0 / np.maximum(fastest, np.finfo(float).tiny), inf)
        first = float(steps.min())
        return first, np.isfinite(steps) & (steps <= first)
