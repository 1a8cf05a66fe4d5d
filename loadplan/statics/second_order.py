"""Second order: the weights' own overturning, and sway, the share by which it makes a tilt worse (P-delta).

A weight that stands high leans over when what it stands on tilts, and pulls it further over: per rigid whole a moment
m g h against its tilt. First order will do where that is a tenth of what the supports resist with (EN 1993-1-1, 5.2.1:
a critical factor of 10, by analogy).
"""

from dataclasses import dataclass
from math import inf

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.statics.contact_loads import Settled, Springs
from loadplan.statics.distinct_rows import distinct_numbers
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array

ROUNDING = 1e-13
"""A stiffness below this share of the greatest is none."""

RIDES = 0.1
"""Sway in its own mounts up to which a whole counts as rigid with its base (EN 1993-1-1, 5.2.1, by analogy)."""

LEVEL = 1e-9
"""Mounts hold a whole in every motion where their rows, scaled, are independent by more than this."""

Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]
Numbers = np.ndarray[tuple[int, ...], np.dtype[np.intp]]


def levers(frame: Frame, settled: Settled) -> Array:
    """Reckon weight times height m g h of each rigid whole: m g z less Σ F z over its saddles and mounts.

    Args:
        frame: The group; q rigid wholes.
        settled: Where it rests without lean; one case.

    Returns:
        m g h (q), scaled; below 0 where a whole hangs more than it stands.
    """
    counted = np.array([lump.sign * lump.mass if lump.counts else 0.0 for lump in frame.lumps])
    return levers_of(frame, settled, (counted, np.array([lump.at[2] for lump in frame.lumps])))


def levers_of(frame: Frame, settled: Settled, lumps: tuple[Array, Array]) -> Array:
    """Reckon the same of a group whose lumps are not as in its frame.

    Args:
        frame: The group; p lumps, q rigid wholes.
        settled: Where it rests without lean; one case.
        lumps: Their masses (p) [kg], below 0 what was taken away, and how high they lie (p) [m].

    Returns:
        m g h (q), scaled.
    """
    masses, heights = lumps
    high = np.bincount(frame.whole_of, masses * GRAVITY * heights / (frame.weight * frame.span), len(frame.wholes))
    saddles = np.array([support.at[2] for support in frame.supports]) / frame.span
    mounts = np.array([mount.at[0][2] for mount in frame.mounts]) / frame.span
    # Forces act at the heights of what they act on: held from above, a weight comes out below 0.
    held: Array = (settled.loads[0] * saddles) @ frame.up[:, ::3] + (settled.forces[0] * mounts) @ frame.stretch[:, ::3]
    return high - held


def sway(held: Springs, touching: Flags, overturning: Array) -> float | None:
    """Compare the moment that a small tilt adds with the moment that resists it.

    Args:
        held: Springs of the group; n supports, q rigid wholes.
        touching: Which supports are in touch (n).
        overturning: m g h (q) of each whole, scaled.

    Returns:
        The largest eigenvalue of the m g h terms against the stiffness, heave let free, all wholes and both axes
        together. From 1 on it goes over. None where the stiffness is not positive: it rocks freely.
    """
    merged = Merged.of(held, touching, overturning)
    shapes = stiffness_shapes(merged.stiffness(held, touching), merged.diagonal(overturning))
    return None if shapes is None else float(shapes.growth.max(initial=0.0))


@dataclass(frozen=True, slots=True)
class Merged:
    """Which of q rigid wholes count as rigid with another; c are left.

    A whole that only hangs in its own mounts to one other is part of how that one leans, not a tower of its own: so an
    engine in its mounts does not make a whole vehicle sway. One that stands so high over mounts so soft or near each
    other that its weight takes away more than a tenth of what they hold is a tower.

    Attributes:
        base_of: For each whole (q) the one that it counts as rigid with; its own number where it stands for itself.
        bases: Numbers of those that are left (c).
    """

    base_of: Numbers
    bases: Numbers

    @staticmethod
    def of(held: Springs, carries: Flags, overturning: Array) -> "Merged":
        """Tell which wholes count as rigid with another.

        Args:
            held: Springs of the group; n supports.
            carries: Which supports carry (n).
            overturning: m g h (q) of each whole, scaled.

        Returns:
            A whole is merged where no support carries it, all its mounts go to one other whole, and they alone hold it
            with little sway.
        """
        base_of = np.arange(held.up.shape[1] // 3)
        carried = carried_wholes(held, carries)
        # One after another, since what rides may carry a rider of its own.
        while (found := _next_rider(held, base_of, carried, overturning)) is not None:
            rider, base = found
            base_of[base_of == rider] = base
        return Merged(base_of, distinct_numbers(base_of))

    @property
    def columns(self) -> Array:
        """Columns (3 q, 3 c) that move each whole as the one that it counts as rigid with."""
        rides = np.zeros((len(self.base_of), 3, len(self.bases), 3))
        for axis in range(3):
            rides[:, axis, :, axis] = self.base_of[:, None] == self.bases
        return rides.reshape(3 * len(self.base_of), -1)

    @property
    def rides(self) -> Flags:
        """Whether each whole (q) counts as rigid with another."""
        rides: Flags = self.base_of != np.arange(len(self.base_of))
        return rides

    def diagonal(self, overturning: Array) -> Array:
        """Return the diagonal (3 c) of the m g h terms; what hangs counts as 0, it is not trusted to right itself."""
        each = np.array([overturning[self.base_of == base].sum() for base in self.bases])
        terms = np.zeros((len(self.bases), 3))
        terms[:, 1:] = np.maximum(each, 0.0)[:, None]
        return terms.ravel()

    def stiffness(self, held: Springs, touching: Flags) -> Array:
        """Return the stiffness (3 c, 3 c) of mounts and of the supports in touch (n)."""
        columns = self.columns
        up, stretch = held.up[touching] @ columns, held.stretch @ columns
        stiffness: Array = up.T @ (held.stiffness[touching, None] * up)
        stiffness += stretch.T @ (held.mount_stiffness[:, None] * stretch)
        return stiffness


def carried_wholes(held: Springs, carries: Flags) -> Flags:
    """Tell under which wholes a support carries.

    Args:
        held: Springs of the group; n supports.
        carries: Which supports carry (n).

    Returns:
        One flag a whole (q).
    """
    found: Flags = np.any(held.up[carries][:, ::3] > 0, axis=0)
    return found


def _next_rider(held: Springs, base_of: Numbers, carried: Flags, overturning: Array) -> tuple[int, int] | None:
    """Return a whole (with what rides on it) that only its mounts to one other hold, and that other."""
    if not len(held.stretch):
        return None
    ends = held.stretch[:, ::3] != 0
    for whole in distinct_numbers(base_of):
        own = base_of == whole
        # What stands on a saddle of its own sways on that.
        if carried[own].any():
            continue
        crossing = ends[:, own].any(axis=1) & ends[:, ~own].any(axis=1)
        others = {int(base_of[other]) for other in np.flatnonzero(ends[crossing].any(axis=0)) if not own[other]}
        rows = held.stretch[crossing].reshape(int(crossing.sum()), len(own), 3)[:, own].sum(axis=1)
        # In all three motions, or it would swing in its mounts by itself and not with its base.
        if len(others) == 1 and np.linalg.matrix_rank(rows, tol=LEVEL) == 3:
            topples = max(float(overturning[own].sum()), 0.0)
            if _sway_on(rows, held.mount_stiffness[crossing], topples) <= RIDES:
                return int(whole), others.pop()
    return None


def _sway_on(rows: Array, stiffness: Array, topples: float) -> float:
    """Return the sway of a whole in mounts to a base that stays where it is; its m g h scaled, 0 where it hangs."""
    shapes = stiffness_shapes(rows.T @ (stiffness[:, None] * rows), np.array([0.0, topples, topples]))
    return inf if shapes is None else float(shapes.growth.max())


@dataclass(frozen=True, slots=True)
class Shapes:
    """A stiffness K and m g h terms G taken apart: Bᵀ K B = 1, Bᵀ G B = diag(λ).

    Attributes:
        columns: B, a shape a column.
        growth: λ of each, 0 or more: the share by which the weight makes that shape worse.
    """

    columns: Array
    growth: Array


def stiffness_shapes(stiffness: Array, diagonal: Array) -> Shapes | None:
    """Take a stiffness and m g h terms apart into shapes of which each grows on its own.

    Args:
        stiffness: Stiffness matrix (3 c, 3 c), scaled.
        diagonal: Diagonal (3 c) of the m g h terms.

    Returns:
        The shapes; None where the stiffness is not positive definite beyond rounding.
    """
    if not is_stable(stiffness):
        return None
    # By this factor both matrices become one symmetric one, whose eigenvalues are real whatever rounding does.
    inverse = np.linalg.inv(np.linalg.cholesky(stiffness))
    growth, turned = np.linalg.eigh((inverse * diagonal) @ inverse.T)
    return Shapes(inverse.T @ turned, np.maximum(growth, 0.0))


def is_stable(stiffness: Array) -> bool:
    """Tell whether a stiffness is positive definite by more than rounding.

    Args:
        stiffness: Symmetric matrix, scaled, or several.

    Returns:
        Whether every motion meets a stiffness, in all of them.
    """
    size = np.abs(stiffness).max(axis=(-2, -1), keepdims=True, initial=0.0)
    # A factor that cannot be made is the proof, and quicker than all eigenvalues.
    try:
        np.linalg.cholesky(stiffness - ROUNDING * size * np.eye(stiffness.shape[-1]))
    except np.linalg.LinAlgError:
        return False
    return True
