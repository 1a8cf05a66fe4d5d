"""Rows of a matrix that differ, each once.

`numpy.unique` does the same, but loads `numpy.ma` the first time it is asked, a thirtieth of a second that whoever
checks a job would wait for, and sorts bytes as they lie in memory, slower than a table finds them.
"""

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from loadplan.statics.mass import Array

Numbers = np.ndarray[tuple[int, ...], np.dtype[np.intp]]
Kind = TypeVar("Kind", bound=np.generic)
"""What numbers are made of."""

Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]


def distinct_rows(rows: Array) -> Array:
    """Return each row once.

    Args:
        rows: Rows (n, k).

    Returns:
        Those that differ (m, k), in the order of their first numbers, then of their second ones and so on.

    Example:
        >>> distinct_rows(np.array([[1.0, 2.0], [-1.0, 3.0], [1.0, 2.0]])).tolist()
        [[-1.0, 3.0], [1.0, 2.0]]
    """
    return np.array(sorted(set(map(tuple, rows.tolist())))).reshape(-1, rows.shape[1])


def distinct_numbers(numbers: NDArray[Kind]) -> NDArray[Kind]:
    """Return each of many numbers (n) once, the least first."""
    return np.array(sorted(set(numbers.tolist())), dtype=numbers.dtype)


def patterns(flags: Flags) -> tuple[Numbers, Numbers]:
    """Find rows of flags that are the same.

    Args:
        flags: Rows (n, k).

    Returns:
        Number of the first row (m) of each pattern, and for each row (n) which pattern it has.

    Example:
        >>> first, which = patterns(np.array([[True, False], [True, True], [True, False]]))
        >>> first.tolist(), which.tolist()
        ([0, 1], [0, 1, 0])
    """
    packed = np.packbits(flags, axis=1)
    # A row of bytes as one piece: that is what a table is asked with.
    rows = packed.view(f"V{packed.shape[1]}").ravel().tolist()
    firsts: dict[bytes, int] = {}
    which = [firsts.setdefault(row, number) for number, row in enumerate(rows)]
    place = {number: at for at, number in enumerate(firsts.values())}
    return np.array([*place], dtype=np.intp), np.array([place[number] for number in which], dtype=np.intp)
