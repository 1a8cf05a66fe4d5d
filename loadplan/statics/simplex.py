"""The simplex method for many programmes that differ only in what they ask for.

Each programme maximises the worth v·x of amounts x ≥ 0 with A x = b. From a basis B with amounts B⁻¹ b ≥ 0 and prices
v_B B⁻¹, a column a gains v − price·a a unit; the one that gains most comes in, and the one that first runs out
leaves. No gain is left: the prices prove the end. The worth never falls; a corner at which it stands still could hold
the search for ever, so after a while the column is drawn by chance, and rounds are counted. Columns may also come
from an oracle, which shows the one that gains most at given prices (Dantzig and Wolfe, Operations Research 8, 1960,
101-111). All programmes start from one feasible basis, found with stand-ins that cost 1 each, and go on side by side.
(Revised method and two phases: Bertsimas and Tsitsiklis, Introduction to Linear Optimization, 1997, 3.3 and 3.5.)
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from loadplan.statics.mass import Array
from loadplan.statics.unsolved import UnsolvedError

Numbers = np.ndarray[tuple[int, ...], np.dtype[np.intp]]

Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

GAIN = 1e-12
"""A column that gains less than this a unit ends the search: far below the 1e-9 of the weight that is promised."""

PIVOT = 1e-11
"""Smaller entries of a column leave the basis alone."""

NOTHING = 1e-12
"""An amount this little below 0 is rounding."""

PATIENCE = 40
"""Rounds of steepest choice; then choices are drawn, so that no degenerate corner holds the search for ever."""

FIRM = 1e-4
"""A smaller pivot would blow up the rounding that there is in an updated inverse: then it is made anew."""

FRESH = 20
"""Rounds after which inverses are made anew, so that rounding does not pile up."""

ROUNDS = 3000
"""More rounds than any group needs."""

SHOWN, STAND_IN = -1, -2
"""What a basic column is, where it is none of the given ones: shown by the oracle, or a stand-in of the start."""


class NoAnswerError(UnsolvedError):
    """The search did not end, or there is nothing to find: what was asked about is not balanced."""


class NoBalanceError(NoAnswerError):
    """There are no amounts of the columns that balance: what is asked for does not stand at all."""


@dataclass(frozen=True, slots=True)
class Programme:
    """What all programmes share; n columns of m rows.

    Attributes:
        columns: The given columns, as rows (n, m).
        right: Right side (m).
        oracle: From prices (c, m) to the further column (c, m) that gains most at each; None without.
    """

    columns: Array
    right: Array
    oracle: Callable[[Array], Array] | None = None


@dataclass(slots=True)
class SimplexBasis:
    """The basic columns of c programmes side by side.

    Attributes:
        kind: Given column, SHOWN or STAND_IN, of each basic column (c, m).
        columns: The columns (c, m, m).
        inverse: Their inverse (c, m, m).
        amounts: How much of each is taken (c, m).
    """

    kind: Numbers
    columns: Array
    inverse: Array
    amounts: Array

    def copies(self, cases: Numbers) -> "SimplexBasis":
        """Return the programmes of some cases."""
        return SimplexBasis(self.kind[cases], self.columns[cases], self.inverse[cases], self.amounts[cases])

    def keep(self, cases: Numbers, part: "SimplexBasis") -> None:
        """Take some cases back from a copy."""
        self.kind[cases], self.columns[cases] = part.kind, part.columns
        self.inverse[cases], self.amounts[cases] = part.inverse, part.amounts

    def at(self, right: Array) -> "SimplexBasis | None":
        """Return these programmes with another right side (m); None where one of them would need less than none."""
        amounts = self.inverse @ right
        # Zero amounts come out a rounding to either side; `_enter` takes those below for none.
        if amounts.min() < -NOTHING:
            return None
        return SimplexBasis(self.kind.copy(), self.columns.copy(), self.inverse.copy(), amounts)

    def refresh(self, right: Array) -> None:
        """Invert the columns anew, for a right side (m)."""
        self.inverse = np.linalg.inv(self.columns).astype(np.float64, copy=False)
        self.amounts = self.inverse @ right

    def taken(self, count: int) -> Array:
        """Return how much of each given column is taken (c, count)."""
        taken = np.zeros((len(self.kind), count))
        cases, places = np.nonzero(self.kind >= 0)
        taken[cases, self.kind[cases, places]] = self.amounts[cases, places]
        return taken

    def worth(self, value: Array) -> Array:
        """Return the worth (c, m) of a unit of each basic column, for the values (c, n) of the given ones."""
        return self.worth_of(_with_others(value))

    def worth_of(self, value: Array) -> Array:
        """Return the same for values (c, n + 2) that have those of a stand-in and of a shown column behind them."""
        worth: Array = value[np.arange(len(value))[:, None], self.kind]
        return worth


def _with_others(value: Array) -> Array:
    """Return values (c, n + 2) with what STAND_IN and SHOWN, counted from the end, are worth: minus 1 and nothing."""
    return np.hstack([value, np.full((len(value), 1), -1.0), np.zeros((len(value), 1))])


def best(programme: Programme, basis: SimplexBasis, value: Array) -> Array:
    """Go to the best amounts of every programme, and leave its basis there.

    Args:
        programme: What the programmes share.
        basis: A feasible basis of each (c); it is changed.
        value: What a unit of each given column is worth (c, n).

    Returns:
        The greatest worth (c), infinite where it grows without end.

    Raises:
        NoAnswerError: If the search does not end.
    """
    endless = np.zeros(len(value))
    # Seeded, so that the same job gives the same answer to the last bit; made only for a search that takes long.
    draw: np.random.Generator | None = None
    going: Numbers = np.arange(len(value))
    # Those that go on are a copy, put back when one of them is done: to copy all in every round costs a step.
    part, values, fresh = basis.copies(going), _with_others(value), True
    for round_ in range(ROUNDS):
        gains, shown = _gains(programme, part, values[going])
        still = np.flatnonzero(gains.max(axis=1) > GAIN)
        # What is done leaves the batch, so that the slowest programme alone pays for its rounds.
        if len(still) < len(going):
            basis.keep(going, part)
            going, gains, shown, part = going[still], gains[still], shown[still], part.copies(still)
        if not len(going):
            if fresh:
                worth: Array = (basis.worth(value) * basis.amounts).sum(axis=1) + endless
                return worth
            # Inverses that were updated from round to round end the search only if fresh ones say the same.
            basis.refresh(programme.right)
            going, fresh = np.flatnonzero(endless == 0), True
            part = basis.copies(going)
            continue
        if round_ > PATIENCE:
            draw = draw or np.random.default_rng(0)
            gains = np.where(gains > GAIN, draw.random(gains.shape), -1.0)
        entered = _enter(programme, part, gains.argmax(axis=1), shown)
        fresh = round_ % FRESH == FRESH - 1
        if fresh:
            part.refresh(programme.right)
        # Nothing runs out when that column comes in, so the worth has no end: an answer, not a failure.
        if not entered.all():
            basis.keep(going, part)
            endless[going[~entered]] = np.inf
            still = np.flatnonzero(entered)
            going, part = going[still], part.copies(still)
    raise NoAnswerError


def _gains(programme: Programme, basis: SimplexBasis, value: Array) -> tuple[Array, Array]:
    """Return what a unit of each given column and of the shown one gains (c, n + 1), and the shown ones (c, m).

    Values (c, n + 2) have those of a stand-in and of a shown column behind them; without an oracle there are gains of
    the given columns only (c, n), and prices stand for what is shown.
    """
    price = np.einsum("ci,cij->cj", basis.worth_of(value), basis.inverse)
    gains = value[:, :-2] - price @ programme.columns.T
    if programme.oracle is None:
        return gains, price
    shown = programme.oracle(price)
    return np.hstack([gains, -(price * shown).sum(axis=1, keepdims=True)]), shown


def _enter(programme: Programme, basis: SimplexBasis, chosen: Numbers, shown: Array) -> Flags:
    """Return where (c) the chosen column came in; elsewhere it can be taken without end.

    The number after the last given one stands for the shown one.
    """
    kind, column = chosen, programme.columns[np.minimum(chosen, len(programme.columns) - 1)]
    if programme.oracle is not None:
        given = chosen < len(programme.columns)
        kind, column = np.where(given, chosen, SHOWN), np.where(given[:, None], column, shown)
    change = np.einsum("cij,cj->ci", basis.inverse, column)
    room = np.full(change.shape, np.inf)
    # An entry that is rounding would bound the step by a quotient of two roundings: its row does not count.
    np.divide(np.maximum(basis.amounts, 0.0), change, out=room, where=change > PIVOT)
    least = room.min(axis=1, keepdims=True)
    entered: Flags = np.isfinite(least[:, 0])
    # Of columns that run out together the one with the largest entry goes: dividing by it loses least.
    leaving = np.where(room <= least * (1 + 1e-12), change, -np.inf).argmax(axis=1)
    if entered.all():
        _replace(programme, basis, (leaving, change), (kind, column))
        return entered
    cases = np.flatnonzero(entered)
    part = basis.copies(cases)
    _replace(programme, part, (leaving[cases], change[cases]), (kind[cases], column[cases]))
    basis.keep(cases, part)
    return entered


def _replace(
    programme: Programme, basis: SimplexBasis, leaving: tuple[Numbers, Array], entering: tuple[Numbers, Array]
) -> None:
    """Put columns into the basis of every case in place of others.

    Leaving: their place (c), and what of each basic column the entering one takes the place of (c, m); entering: what
    they are (c), and the columns (c, m).
    """
    place, change = leaving
    cases = np.arange(len(place))
    basis.kind[cases, place], basis.columns[cases, :, place] = entering
    pivot = change[cases, place]
    if pivot.min(initial=1.0) < FIRM:
        basis.refresh(programme.right)
        return
    # Updated by one row, which takes a third of the time of a new inverse.
    row = basis.inverse[cases, place] / pivot[:, None]
    basis.inverse = basis.inverse - change[:, :, None] * row[:, None, :]
    basis.inverse[cases, place] = row
    basis.amounts = basis.inverse @ programme.right


def start(programme: Programme, shown: Array | None = None) -> SimplexBasis:
    """Find a feasible basis, and drive the stand-ins of the search out of it.

    Args:
        programme: The programme; its given columns span every row.
        shown: A column (m) of the oracle to start from, taken once.

    Returns:
        One basis.

    Raises:
        NoBalanceError: If there are no amounts that balance.
    """
    rows = len(programme.right)
    rest = programme.right if shown is None else programme.right - shown
    # A stand-in takes the sign of what is missing, so that its amount begins at 0 or more whatever the right side.
    columns = np.diag(np.where(rest < 0, -1.0, 1.0))[None, :, :]
    kind = np.full((1, rows), STAND_IN)
    if shown is not None:
        columns[0, :, -1], kind[0, -1] = shown, SHOWN
    inverse = np.linalg.inv(columns).astype(np.float64, copy=False)
    basis = SimplexBasis(kind, columns, inverse, inverse @ programme.right)
    # A stand-in costs 1 a unit: what cannot do without them has no balance.
    if best(programme, basis, np.zeros((1, len(programme.columns))))[0] < -1e-9:
        raise NoBalanceError
    # A stand-in may be left at amount 0; it must not come back with an amount, so a given column takes its place.
    for place in np.flatnonzero(basis.kind[0] == STAND_IN):
        entries = np.abs(programme.columns @ basis.inverse[0, place])
        entries[basis.kind[0][basis.kind[0] >= 0]] = 0.0
        chosen = int(entries.argmax())
        basis.kind[0, place], basis.columns[0, :, place] = chosen, programme.columns[chosen]
        basis.refresh(programme.right)
    return basis


def spread(basis: SimplexBasis, count: int) -> SimplexBasis:
    """Return a basis as often as there are programmes to start from it."""
    return basis.copies(np.zeros(count, dtype=np.intp))


def joined(bases: Sequence[SimplexBasis]) -> SimplexBasis:
    """Return programmes side by side, one basis behind the other."""
    return SimplexBasis(
        np.concatenate([each.kind for each in bases]),
        np.concatenate([each.columns for each in bases]),
        np.concatenate([each.inverse for each in bases]),
        np.concatenate([each.amounts for each in bases]),
    )
