"""Sharing out things of which there are only so many: the cheapest way to give each taker one kind."""

import numpy as np

from loadplan.statics.mass import Array

Kinds = np.ndarray[tuple[int, ...], np.dtype[np.intp]]
"""Number of the kind that each taker gets."""


def share_out(costs: Array, counts: Array) -> Kinds | None:
    """Give each taker one kind so that the costs add up to the least.

    Takers come one after another; each may make others change over, along the shortest way to a kind of which
    something is left (successive shortest paths; the network simplex's textbook cousin, exact).

    Args:
        costs: Cost (n, k) of each kind for each taker; infinite where it does not do.
        counts: How many of each kind (k) there are; may be infinite.

    Returns:
        Kind of each taker, or None where there is no way.

    Example:
        >>> share_out(np.array([[3.0, 1.0], [5.0, 1.0]]), np.array([np.inf, 1.0]))
        array([0, 1])
    """
    if not len(costs):
        return np.zeros(0, dtype=np.intp)
    if not np.isfinite(costs.min(axis=1)).all():
        return None
    wanted: Kinds = costs.argmin(axis=1)
    if (np.bincount(wanted, minlength=len(counts)) <= counts).all():
        return wanted
    given = np.full(len(costs), -1, dtype=np.intp)
    for taker in range(len(costs)):
        way = _shortest(costs, counts, given, taker)
        if way is None:
            return None
        for each, kind in way:
            given[each] = kind
    return given


def _shortest(costs: Array, counts: Array, given: Kinds, taker: int) -> list[tuple[int, int]] | None:
    """Return who takes which kind along the shortest way; None where none leads to a kind that is left."""
    moves, movers = _moves(costs, given)
    far, came = costs[taker].copy(), np.full(len(counts), -1)
    for _ in range(len(counts)):
        longer = far[:, None] + moves
        nearest = longer.argmin(axis=0)
        shorter = longer.min(axis=0) < far - 1e-15
        if not shorter.any():
            break
        far[shorter], came[shorter] = longer.min(axis=0)[shorter], nearest[shorter]
    left = counts > np.bincount(given[given >= 0], minlength=len(counts))
    ends = np.where(left, far, np.inf)
    if not np.isfinite(ends.min()):
        return None
    kind, way = int(ends.argmin()), []
    while came[kind] >= 0:
        way.append((int(movers[came[kind], kind]), kind))
        kind = int(came[kind])
    return [*way, (taker, kind)]


def _moves(costs: Array, given: Kinds) -> tuple[Array, Kinds]:
    """Return the least cost of moving a taker from one kind to another (k, k), and who moves."""
    kinds = costs.shape[1]
    moves, movers = np.full((kinds, kinds), np.inf), np.full((kinds, kinds), -1)
    for kind in range(kinds):
        holders = np.flatnonzero(given == kind)
        if len(holders):
            change = costs[holders] - costs[holders, kind][:, None]
            moves[kind] = change.min(axis=0)
            movers[kind] = holders[change.argmin(axis=0)]
    np.fill_diagonal(moves, np.inf)
    return moves, movers
