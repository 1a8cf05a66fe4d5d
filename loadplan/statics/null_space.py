"""Null space: the motions that a set of rows lets be, by singular values.

A row held against a motion gives how much that motion shortens one support or stretches one mount. What all rows
leave at 0 is free; its dimension is the number of singular values that are none (Golub and Van Loan, Matrix
Computations, 4th ed., 2.4 and 5.5). Every room asks here, so that two of them cannot disagree about what is free.

Where thousands of sets of d − 1 rows are asked for the one direction square to each, that direction is their
generalised cross product: its components are the determinants of the rows less one column, each with its sign, found
by Laplace's expansion along the last row. For rows of length 1 its own length V is the volume
that they span, which is the product of their singular values, and bounds the least of them on both sides: with V' the
volume of the rows before one of them, V / sqrt(e) <= least <= V / V', since the other values multiply to at most
sqrt(e), and since V / V' is that row's distance from what the others span. So most sets are told apart without any
decomposition, and the doubtful ones are decomposed.
"""

from functools import lru_cache
from itertools import combinations
from math import comb
from typing import NamedTuple

import numpy as np

from loadplan.statics.mass import Array

SINGULAR = 1e-9
"""Singular values below this share of the largest are none: about a nanometre on a metre."""

CLEAR = 1e-3
"""Rows of length 1 that span at least this volume are independent, and rounding turns the direction square to them by
no more than some 1e-12; what spans less is decomposed."""

FLAT = 1e-11
"""A row of length 1 this near what the rows before it span hangs on them: well below `SINGULAR`, for the rounding of a
volume, over `CLEAR`, is some 1e-12."""

ABOUT_ONE = (0.1, 10.0)
"""Lengths of rows for which the bounds on rows of length 1 leave room on both sides of `SINGULAR`."""

MOST_EXPANDED = 9
"""Most unknowns for which determinants are written out: their number doubles with each, and so does the time."""

Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

Numbers = np.ndarray[tuple[int, ...], np.dtype[np.intp]]


def null_space(rows: Array, unknowns: int) -> Array:
    """Return the motions (d, unknowns), square to each other, that leave every row (m, unknowns) at 0."""
    if rows.shape[0] == 0:
        # Without rows there is no largest value to measure against: everything is free.
        return np.eye(unknowns)
    _, sizes, motions = np.linalg.svd(rows, full_matrices=True)
    kept: Array = motions[int((sizes > SINGULAR * sizes[0]).sum()) :]
    return kept


def square_to(chosen: Array) -> Array:
    """Return the one direction (k, d) square to each set of d − 1 rows (c, d − 1, d), of length 1.

    Sets whose rows are not independent leave more than one direction, and are left out, so k may be below c.
    """
    if chosen.shape[2] > MOST_EXPANDED:
        return _by_singular_values(chosen)[1]
    directions, clear, flat = _cross_product(chosen)
    doubtful = ~(clear | flat)
    if doubtful.any():
        kept, found = _by_singular_values(chosen[doubtful])
        rest = np.flatnonzero(doubtful)[kept]
        directions[rest], clear[rest] = found, True
    return directions[clear]


def _by_singular_values(chosen: Array) -> tuple[Flags, Array]:
    """Return which sets (c) of rows are independent, and the direction (k, d) square to each of these."""
    _, sizes, spaces = np.linalg.svd(chosen, full_matrices=True)
    # The rows are scaled to about 1, so the bound is taken as it stands, not as a share of each set's largest value.
    kept: Flags = sizes[:, -1] > SINGULAR
    return kept, spaces[kept, -1, :]


def _cross_product(chosen: Array) -> tuple[Array, Flags, Flags]:
    """Return the direction (c, d) square to each set of rows, and which sets are surely independent, surely not."""
    count, rows, unknowns = chosen.shape
    lengths = np.sqrt(np.einsum("crd,crd->cr", chosen, chosen))
    plain = ((lengths > ABOUT_ONE[0]) & (lengths < ABOUT_ONE[1])).all(axis=1)
    # Sets last: each step below is then one product of long rows.
    units = np.ascontiguousarray((chosen / np.where(lengths > 0, lengths, 1.0)[:, :, None]).transpose(1, 2, 0))
    minors, volume = np.ones((1, count)), np.ones(count)
    flat = np.zeros(count, dtype=bool)
    for number in range(rows):
        # Along its last row each determinant is a sum over those of the rows before.
        grown = np.zeros((comb(unknowns, number + 1), count))
        for own, rest, sign in _expansion(unknowns, number + 1):
            grown += sign * units[number][own] * minors[rest]
        before, volume, minors = volume, np.sqrt(np.einsum("mc,mc->c", grown, grown)), grown
        # Rows that already span next to nothing say nothing of how far the next one is from them.
        flat |= (before > CLEAR) & (volume < FLAT * before)
    # The sets of columns come in order, so the last lacks the first column, and the first the last one.
    alternating = (-1.0) ** np.arange(unknowns)
    directions = (minors[::-1] / np.where(volume > 0, volume, 1.0)).T * alternating
    return directions, plain & (volume > CLEAR), plain & flat


class _Term(NamedTuple):
    """One term of the expansion of every determinant of so many rows along the last of them.

    Attributes:
        own: The column that each determinant takes from the last row.
        rest: The number of the determinant of the rows before with the other columns.
        sign: 1 or -1.
    """

    own: Numbers
    rest: Numbers
    sign: float


@lru_cache(maxsize=MOST_EXPANDED**2)
def _expansion(unknowns: int, rows: int) -> tuple[_Term, ...]:
    """Return the terms of the determinants of so many rows, one for every set of as many columns, in order."""
    numbers = {columns: number for number, columns in enumerate(combinations(range(unknowns), rows - 1))}
    wholes = list(combinations(range(unknowns), rows))
    return tuple(
        _Term(
            own=np.array([columns[place] for columns in wholes], dtype=np.intp),
            rest=np.array([numbers[columns[:place] + columns[place + 1 :]] for columns in wholes], dtype=np.intp),
            sign=(-1.0) ** (rows - 1 + place),
        )
        for place in range(rows)
    )
