"""The assignment problem: sharing out things of which there are only so many, each taker one, at the least cost."""

import numpy as np
from scipy.optimize import linear_sum_assignment

from loadplan.statics.mass import Array

Kinds = np.ndarray[tuple[int, ...], np.dtype[np.intp]]
"""Number of the kind that each taker gets."""


def share_out(costs: Array, counts: Array) -> Kinds | None:
    """Give each taker one kind so that the costs add up to the least.

    Every single thing is a column of its own, so that it is the assignment problem, solved by shortest augmenting
    paths (Crouse, On implementing 2D rectangular assignment algorithms, IEEE Transactions on Aerospace and Electronic
    Systems 52, 2016, as in scipy). Where everybody can have the cheapest there is nothing to solve.

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
    # Mostly there is enough of everything, and the assignment problem never comes up.
    if (np.bincount(wanted, minlength=len(counts)) <= counts).all():
        return wanted
    # No kind is wanted more often than there are takers, so an endless count becomes that.
    things = np.repeat(np.arange(len(counts)), np.minimum(counts, len(costs)).astype(np.intp))
    if len(things) < len(costs):
        return None
    try:
        _, given = linear_sum_assignment(costs[:, things])
    except ValueError:  # some taker is left with what does not do
        return None
    return things[given]
