"""The least ratio of two sums, against every choice tried one by one."""

from itertools import product
from math import inf

import numpy as np
import pytest

from loadplan.statics.fractional_programming import ChosenSums, least_ratios


def searched(tops: np.ndarray, bottoms: np.ndarray, low: np.ndarray, high: np.ndarray) -> float:
    def choose(trial: np.ndarray) -> ChosenSums:
        value = tops - trial[0] * bottoms
        mass = np.where(value < 0, high, low)
        return ChosenSums(np.array([mass @ value]), np.array([mass @ bottoms]))

    return float(least_ratios(np.array([low @ tops / (low @ bottoms)]), choose).ratio[0])


@pytest.mark.parametrize("seed", range(20))
def test_no_choice_has_a_smaller_ratio(seed: int) -> None:
    """A ratio of linear functions is least at ends of the intervals, so all ends are tried."""
    draw = np.random.default_rng(seed)
    tops, bottoms = draw.normal(size=6), draw.uniform(0.1, 1.0, 6)
    low = draw.uniform(0.1, 1.0, 6)
    high = low + draw.uniform(0.0, 2.0, 6)
    ends = [np.where(chosen, high, low) for chosen in product((False, True), repeat=6)]
    least = min(float(mass @ tops / (mass @ bottoms)) for mass in ends)
    assert searched(tops, bottoms, low, high) == pytest.approx(least, abs=1e-9)


def test_where_what_is_divided_by_can_be_taken_away_there_is_no_least() -> None:
    """Of 1 kg, −1 to −3 kg are taken off: the sum below can go through 0 while the one above stays below 0."""
    tops, bottoms = np.array([-1.0, 0.0]), np.array([1.0, -1.0])
    assert searched(tops, bottoms, np.array([1.0, 0.5]), np.array([1.0, 3.0])) == -inf
