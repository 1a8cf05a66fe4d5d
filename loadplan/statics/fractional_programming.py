"""Fractional programming: the least ratio of two sums, many at once, by Dinkelbach's method.

Sought is λ* = min N(x) / D(x) over the choices x, with D > 0; here x is a mass inside its tolerance for each part, N
adds up their work in a motion and D the same in its rotation alone. For a trial ratio λ, F(λ) = min (N(x) − λ D(x))
splits into one small choice a part; F falls with λ, and is 0 at λ* alone. The choice that gives F(λ) < 0 has the
ratio λ + F(λ) / D(x), which is smaller, and is the next trial: Newton's step on F, which is concave. Each trial is
the ratio of a choice, the choices that matter (every mass at an end) are finitely many, and no ratio comes twice, so
it ends. (Dinkelbach, On nonlinear fractional programming, Management Science 13, 1967, 492-498.)
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import NDArray

ROUNDS = 100
"""The method ends after a handful of rounds."""

CLOSE = 1e-12
"""A sum this near to 0 (share of the weight) ends the search for a ratio."""


@dataclass(frozen=True, slots=True)
class ChosenSums:
    """The sums of the choices that are least at trial ratios; any shape.

    Attributes:
        least: F(λ) = N(x) − λ D(x) of each.
        bottom: D(x) of each.
    """

    least: NDArray[np.float64]
    bottom: NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class LeastRatios:
    """Where the search ended.

    Attributes:
        ratio: The least ratio of each; −inf where D can be made 0 or less while N − λ D stays below 0.
        last: The sums at the last trial.
    """

    ratio: NDArray[np.float64]
    last: ChosenSums


def least_ratios(first: NDArray[np.float64], choose: Callable[[NDArray[np.float64]], ChosenSums]) -> LeastRatios:
    """Find the least ratio of every pair of sums.

    Args:
        first: Ratio of some choice, from which to go down; any shape.
        choose: From a trial ratio for each, the sums of the choice that makes N − λ D least.

    Returns:
        The least ratios.
    """
    ratio = first
    sums = choose(ratio)
    for _ in range(ROUNDS):
        # Parts taken off a body weighed whole count against it. Where they could outweigh it the ratio has no bottom,
        # and a step would divide by nothing: such a trial stays where it is, and is told as −inf.
        lower = (sums.least < -CLOSE) & (sums.bottom > 0)
        if not lower.any():
            break
        ratio = np.where(lower, ratio + sums.least / np.where(lower, sums.bottom, 1.0), ratio)
        sums = choose(ratio)
    return LeastRatios(np.where((sums.least < -CLOSE) & (sums.bottom <= 0), -inf, ratio), sums)
