"""Bounds on a load by HiGHS, through scipy: for a second opinion, and where the simplex of our own does not settle.

The same programme as `load_bounds` has, written out in full: unknowns are the loads, the mount forces, then mass and
moments about y and x of each part, in its box of tolerances. Half a second goes into loading scipy, so this file is
imported only when it is asked.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import linprog

from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.unsolved import UnsolvedError

INFEASIBLE = 2
"""HiGHS's word, through scipy, for a programme with nothing inside."""

UNBOUNDED = 3
"""HiGHS's word, through scipy, for a programme without an end."""


def bounded_load(frame: Frame, number: int, sign: float) -> float | None:
    """Find the least or the most that one support can carry.

    Args:
        frame: The group, balanced over its tolerance.
        number: Number of the support.
        sign: 1 for the least, -1 for the most.

    Returns:
        Load [N]; None for no end.

    Raises:
        UnsolvedError: If HiGHS finds no answer.
    """
    count, mounts, lumps = len(frame.supports), len(frame.mounts), len(frame.lumps)
    total = sum(lump.sign * lump.mass for lump in frame.lumps if lump.counts)
    balance = np.zeros((frame.load.size, count + mounts + 3 * lumps))
    balance[:, :count], balance[:, count : count + mounts] = frame.up.T, frame.stretch.T
    inside = []
    limits: list[tuple[float | None, float | None]] = [(0.0, None)] * count + [(None, None)] * mounts
    for each, (lump, whole) in enumerate(zip(frame.lumps, frame.whole_of, strict=True)):
        mass = count + mounts + 3 * each
        for row, column, turn in ((0, 0, 1.0), (1, 2, 1.0), (2, 1, -1.0)):
            balance[3 * whole + row, mass + column] -= lump.sign * turn
        for axis in (0, 1):
            place = (lump.at[axis] - frame.middle[axis]) / frame.span
            for way in (1.0, -1.0):
                row_of = np.zeros(balance.shape[1])
                row_of[mass + 1 + axis], row_of[mass] = way, -way * place - lump.at_pm[axis] / frame.span
                inside.append(row_of)
        limits += [(0.0 if lump.optional else lump.low / total, lump.high / total), (None, None), (None, None)]
    price = np.zeros(balance.shape[1])
    price[number] = sign
    found = linprog(
        price, np.array(inside), np.zeros(len(inside)), balance, np.zeros(len(balance)), limits, method="highs-ds",
        options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10},
    )  # fmt: skip
    if found.status == UNBOUNDED:
        return None
    if found.fun is None:
        raise UnsolvedError(found.message)
    return sign * float(found.fun) * frame.weight


class NoProgrammeError(Exception):
    """Nothing is inside."""


@dataclass(frozen=True, slots=True)
class Polytope:
    """Unknowns (u) under linear conditions: rows · unknowns ≤ most, balance · unknowns = 0, each in its range.

    Attributes:
        rows: Rows (k, u).
        most: What they come to at most (k).
        balance: Rows (e, u) that come to 0.
        ranges: Least and most of each unknown (u); None for no end.
    """

    rows: Array
    most: Array
    balance: Array
    ranges: Sequence[tuple[float | None, float | None]]


def least_values(within: Polytope, prices: Sequence[Array]) -> Array:
    """Find the least of sums of unknowns.

    Args:
        within: What they are under.
        prices: How often each unknown counts in each sum (u).

    Returns:
        The least of each; minus infinity where there is none.

    Raises:
        NoProgrammeError: If nothing is inside.
        UnsolvedError: If HiGHS finds no answer.
    """
    told = np.zeros(len(prices))
    for place, price in enumerate(prices):
        found = linprog(
            price, within.rows, within.most, within.balance, np.zeros(len(within.balance)), within.ranges,
            method="highs",
        )  # fmt: skip
        if found.status == INFEASIBLE:
            raise NoProgrammeError
        if found.status == UNBOUNDED:
            told[place] = -np.inf
        elif found.fun is None:
            raise UnsolvedError(found.message)
        else:
            told[place] = float(found.fun)
    return told
