"""The least and the most that each support could carry, whatever the stiffness and the floor.

A linear programme a bound: any loads r >= 0 and mount forces f with S r + M f = b, where each part's mass
m and moments s = m·x are separate unknowns, m·xlo <= s <= m·xhi. The weights b make up a convex body whose
corners are found part by part, so only the corners that matter enter (Dantzig and Wolfe, Operations
Research 8, 1960, 101-111). All bounds of a group are solved side by side by the simplex method on exact
columns; every basis is inverted afresh, so rounding does not pile up.
"""

from dataclasses import dataclass

import numpy as np

from loadplan.statics.frame import Frame
from loadplan.statics.mass import Array
from loadplan.statics.modes import STILL, null_space

Numbers = np.ndarray[tuple[int, ...], np.dtype[np.intp]]

GAIN = 1e-12
"""A column that gains less than this a unit ends the search: far below the 1e-9 of the weight that is promised."""

PIVOT = 1e-11
"""Smaller entries of a column leave the basis alone."""

PATIENCE = 40
"""Rounds of steepest choice; then choices are drawn, so that no degenerate corner holds the search for ever."""

ROUNDS = 2000
"""More rounds than any group needs."""

CORNER, STAND_IN = -1, -2
"""What a basic column is, where it is no support: a corner of the weights, or a stand-in of the start."""


class NoBoundError(Exception):
    """The search did not end: what was asked about is not balanced over its tolerance."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """Bounds on the loads of a group, as shares of its weight; n supports.

    Attributes:
        least: Least load (n).
        most: Most load (n), infinite where two supports or a mount can press against each other without end.
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
        mass = np.where(middle + np.abs(along).sum(axis=0) > 0, self.high, self.low)
        furthest: Array = (mass * self.sign) @ self.units + np.einsum("acp,apd->cd", mass * np.sign(along), self.reach)
        return furthest


@dataclass(slots=True)
class _Basis:
    """The basic columns of c programmes side by side; d + 1 rows each, the last one for the corners' shares.

    Attributes:
        kind: Support, CORNER or STAND_IN of each basic column (c, d + 1).
        columns: The columns (c, d + 1, d + 1).
        inverse: Their inverse.
        amounts: How much of each is taken (c, d + 1).
    """

    kind: Numbers
    columns: Array
    inverse: Array
    amounts: Array

    def copies(self, cases: Numbers) -> "_Basis":
        """Return the programmes of some cases."""
        return _Basis(self.kind[cases], self.columns[cases], self.inverse[cases], self.amounts[cases])

    def keep(self, cases: Numbers, part: "_Basis") -> None:
        """Take some cases back from a copy."""
        self.kind[cases], self.columns[cases] = part.kind, part.columns
        self.inverse[cases], self.amounts[cases] = part.inverse, part.amounts

    def enter(self, kind: Numbers, column: Array) -> None:
        """Bring one column into each basis; the one that reaches zero first leaves."""
        change = np.einsum("cij,cj->ci", self.inverse, column)
        room = np.full(change.shape, np.inf)
        np.divide(np.maximum(self.amounts, 0.0), change, out=room, where=change > PIVOT)
        tied = room <= room.min(axis=1, keepdims=True) * (1 + 1e-12)
        self.replace(np.where(tied, change, -np.inf).argmax(axis=1), kind, column)

    def replace(self, leaving: Numbers, kind: Numbers, column: Array) -> None:
        """Put columns in the place of others and invert afresh."""
        cases = np.arange(len(leaving))
        self.kind[cases, leaving] = kind
        self.columns[cases, :, leaving] = column
        self.inverse = _inverse(self.columns)
        self.amounts = self.inverse[:, :, -1]

    def worth(self, value: Array) -> Array:
        """Return the worth (c, d + 1) of a unit of each basic column, for the values (c, n) of the loads."""
        loads = np.take_along_axis(value, np.maximum(self.kind, 0), axis=1)
        worth: Array = np.where(self.kind >= 0, loads, np.where(self.kind == STAND_IN, -1.0, 0.0))
        return worth


@dataclass(frozen=True, slots=True)
class _Search:
    """What every programme of a group shares: columns of the supports (n, d + 1), and the weights."""

    supports: Array
    weights: _Weights

    def best(self, basis: _Basis, value: Array) -> Array:
        """Return the greatest worth (c) of the loads, for the values (c, n) of a unit of each.

        Raises:
            NoBoundError: If the search does not end.
        """
        draw = np.random.default_rng(0)
        going: Numbers = np.arange(len(value))
        for round_ in range(ROUNDS):
            part = basis.copies(going)
            gains, corners = self._gains(part, value[going])
            still = np.flatnonzero(gains.max(axis=1) > GAIN)
            if not still.size:
                amounts: Array = (basis.worth(value) * basis.amounts).sum(axis=1)
                return amounts
            going, gains, part = going[still], gains[still], part.copies(still)
            if round_ > PATIENCE:
                gains = np.where(gains > GAIN, draw.random(gains.shape), -1.0)
            part.enter(*self._columns(gains.argmax(axis=1), corners[still]))
            basis.keep(going, part)
        raise NoBoundError

    def _gains(self, basis: _Basis, value: Array) -> tuple[Array, Array]:
        """Return what a unit of each column gains (c, n + 1), the last one of the corner (c, d) that gains most."""
        price = np.einsum("ci,cij->cj", basis.worth(value), basis.inverse)
        corners = self.weights.corner(price[:, :-1])
        of_corner = (price[:, :-1] * corners).sum(axis=1) - price[:, -1]
        return np.hstack([value - price @ self.supports.T, of_corner[:, None]]), corners

    def _columns(self, chosen: Numbers, corners: Array) -> tuple[Numbers, Array]:
        """Return kind (c) and column (c, d + 1) of each choice; the number after the last support is the corner."""
        count = len(self.supports)
        shares = np.hstack([-corners, np.ones((len(corners), 1))])
        is_support = chosen < count
        columns: Array = np.where(is_support[:, None], self.supports[np.minimum(chosen, count - 1)], shares)
        return np.where(is_support, chosen, CORNER), columns


def load_bounds(frame: Frame, motions: Array) -> Bounds:
    """Bound the load of every support over everything that tolerance leaves open.

    Args:
        frame: The group, balanced over the whole tolerance.
        motions: Its scaled modes (k, 3 q).

    Returns:
        Least and most loads as shares of the weight.

    Raises:
        NoBoundError: If the group is not balanced over its tolerance.
    """
    freedom = null_space(frame.stretch, frame.load.size)
    rows = frame.up @ freedom.T
    count = len(rows)
    search = _Search(np.hstack([rows, np.zeros((count, 1))]), _weights(frame, freedom))
    limited = np.flatnonzero(frame.up @ motions.sum(axis=0) > STILL)
    asked = np.concatenate([np.arange(count), limited])
    value = np.zeros((len(asked), count))
    value[np.arange(len(asked)), asked] = np.where(np.arange(len(asked)) < count, -1.0, 1.0)
    start = _start(search, freedom @ frame.load)
    amounts = search.best(start.copies(np.zeros(len(asked), dtype=np.intp)), value)
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


def _inverse(columns: Array) -> Array:
    return np.linalg.inv(columns).astype(np.float64, copy=False)


def _start(search: _Search, load: Array) -> _Basis:
    """Return loads that balance the weights as given, the stand-ins of the search driven out.

    Raises:
        NoBoundError: If there are none.
    """
    size = len(load)
    columns = np.zeros((1, size + 1, size + 1))
    columns[0, :size, :size] = np.diag(np.where(load < 0, -1.0, 1.0))
    columns[0, :, size] = np.append(-load, 1.0)
    inverse = _inverse(columns)
    basis = _Basis(np.array([[STAND_IN] * size + [CORNER]]), columns, inverse, inverse[:, :, -1])
    if search.best(basis, np.zeros((1, len(search.supports))))[0] < -1e-9:
        raise NoBoundError
    for place in np.flatnonzero(basis.kind[0] == STAND_IN):
        entries = np.abs(search.supports @ basis.inverse[0, place])
        entries[basis.kind[0][basis.kind[0] >= 0]] = 0.0
        chosen = entries.argmax(keepdims=True)
        basis.replace(np.array([place]), chosen, search.supports[chosen])
    return basis
