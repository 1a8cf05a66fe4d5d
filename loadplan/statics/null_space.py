"""Null space: the motions that a set of rows lets be, by singular values.

A row held against a motion gives how much that motion shortens one support or stretches one mount. What all rows
leave at 0 is free; its dimension is the number of singular values that are none (Golub and Van Loan, Matrix
Computations, 4th ed., 2.4 and 5.5). Every room asks here, so that two of them cannot disagree about what is free.
"""

import numpy as np

from loadplan.statics.mass import Array

SINGULAR = 1e-9
"""Singular values below this share of the largest are none: about a nanometre on a metre."""


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
    _, sizes, spaces = np.linalg.svd(chosen, full_matrices=True)
    # The rows are scaled to about 1, so the bound is taken as it stands, not as a share of each set's largest value.
    directions: Array = spaces[sizes[:, -1] > SINGULAR, -1, :]
    return directions
