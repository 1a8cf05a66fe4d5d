"""The least and the most that each support could carry, whatever the stiffness and the floor.

A linear programme a bound: least and greatest r over all loads r ≥ 0 and mount forces f with S r + M f = b, where
each part's mass m and moments s = m·x are separate unknowns, m·xlo ≤ s ≤ m·xhi. Mount forces drop out by looking only
along the motions that stretch no mount. The weights b make up a convex body with far too many corners to list; the
corner that matters at given prices is found part by part, so columns come in as they are asked for (column
generation: Dantzig and Wolfe, Operations Research 8, 1960, 101-111; Bertsimas and Tsitsiklis, Introduction to Linear
Optimization, 1997, 6.1-6.4). It ends since the corners are finitely many. Where hundreds of corners are as good as
one, as under a symmetric unit known to a hundredth of a millimetre, rounding can keep it going round among them: then
HiGHS answers, of which nobody else has to wait for the loading.
"""

from dataclasses import dataclass

import numpy as np

from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.null_space import null_space
from loadplan.statics.simplex import NoAnswerError, Numbers, Programme, best, spread, start
from loadplan.statics.tipping_modes import STILL


@dataclass(frozen=True, slots=True)
class Bounds:
    """Bounds on the loads of a group, as shares of its weight; n supports.

    Attributes:
        least: Least load (n).
        most: Most load (n), infinite where supports and mounts can press against each other without end.
    """

    least: Array
    most: Array


@dataclass(frozen=True, slots=True)
class _Weights:
    """The convex body of the weights, by the corners it shows in a direction; p lumps, d free motions.

    Attributes:
        units: What a unit of mass at each lump's centre weighs along each free motion (p, d).
        reach: What its tolerance along x, and along y, adds to that (2, p, d).
        sign: Of each lump (p).
        low: Least mass of each lump (p), as a share of the group's.
        high: Most mass of each lump (p).
    """

    units: Array
    reach: Array
    sign: Array
    low: Array
    high: Array

    def corner(self, towards: Array) -> Array:
        """Return the corner (c, d) furthest along each direction (c, d)."""
        middle = self.sign * (towards @ self.units.T)
        along = np.einsum("cd,apd->acp", towards, self.reach)
        # Whatever the mass, its centre goes to the end of the tolerance that helps; then the sign chooses the mass.
        mass = np.where(middle + np.abs(along).sum(axis=0) > 0, self.high, self.low)
        furthest: Array = (mass * self.sign) @ self.units + np.einsum("acp,apd->cd", mass * np.sign(along), self.reach)
        return furthest

    def column(self, price: Array) -> Array:
        """Return the column (c, d + 1) of the corner that gains most at each price; corners' shares make up one."""
        corners = self.corner(price[:, :-1])
        return np.hstack([-corners, np.ones((len(corners), 1))])


def load_bounds(frame: Frame, motions: Array) -> Bounds:
    """Bound the load of every support over everything that tolerance leaves open.

    Args:
        frame: The group, balanced over the whole tolerance.
        motions: Its scaled modes (k, 3 q).

    Returns:
        Least and most loads as shares of the weight.

    Raises:
        UnsolvedError: If the group is not balanced over its tolerance.
    """
    # Along a mode the weights do the work Σ load · rise, and no rise is below 0: a support that some mode lifts cannot
    # carry more than that work allows. One that no mode lifts may be pressed without end against a mount or another.
    limited = np.flatnonzero(frame.up @ motions.sum(axis=0) > STILL)
    try:
        return _by_columns(frame, limited)
    except NoAnswerError:
        return _by_highs(frame, limited)


def _by_highs(frame: Frame, limited: Numbers) -> Bounds:
    """Return the bounds as HiGHS finds them, one by one; limited: the supports that have a most."""
    # scipy takes half a second to load, for something that hardly any job needs.
    from loadplan.statics.highs import bounded_load  # noqa: PLC0415

    least = np.array([bounded_load(frame, number, 1.0) or 0.0 for number in range(len(frame.supports))])
    most = np.full(len(least), np.inf)
    for number in limited.tolist():
        found = bounded_load(frame, number, -1.0)
        most[number] = np.inf if found is None else found / frame.weight
    return Bounds(np.maximum(least / frame.weight, 0.0), most)


def _by_columns(frame: Frame, limited: Numbers) -> Bounds:
    """Return the bounds by column generation; limited: the supports that have a most."""
    freedom = null_space(frame.stretch, frame.load.size)
    rows = frame.up @ freedom.T
    count = len(rows)
    programme = Programme(
        columns=np.hstack([rows, np.zeros((count, 1))]),
        right=np.append(np.zeros(len(freedom)), 1.0),
        oracle=_weights(frame, freedom).column,
    )
    # All bounds go side by side from one start: first the least of each, then the most of those that have one.
    asked = np.concatenate([np.arange(count), limited])
    value = np.zeros((len(asked), count))
    value[np.arange(len(asked)), asked] = np.where(np.arange(len(asked)) < count, -1.0, 1.0)
    basis = start(programme, np.append(-freedom @ frame.load, 1.0))
    amounts = best(programme, spread(basis, len(asked)), value)
    most = np.full(count, np.inf)
    most[limited] = amounts[count:]
    return Bounds(np.maximum(-amounts[:count], 0.0), most)


def _weights(frame: Frame, freedom: Array) -> _Weights:
    """Return the weights of the lumps along the free motions (d, 3 q), masses as shares of the group's."""
    heave, rx, ry = freedom.reshape(len(freedom), -1, 3)[:, frame.whole_of].transpose(2, 1, 0)
    place = (np.array([lump.at[:2] for lump in frame.lumps]) - frame.middle) / frame.span
    reach = np.array([lump.at_pm[:2] for lump in frame.lumps]) / frame.span
    total = sum(lump.sign * lump.mass for lump in frame.lumps if lump.counts)
    return _Weights(
        units=heave + rx * place[:, 1:] - ry * place[:, :1],
        reach=np.array([-ry * reach[:, :1], rx * reach[:, 1:]]),
        sign=np.array([lump.sign for lump in frame.lumps], dtype=float),
        low=np.array([0.0 if lump.optional else lump.low / total for lump in frame.lumps]),
        high=np.array([lump.high / total for lump in frame.lumps]),
    )
