"""Sharing out against trying every way."""

from itertools import product
from math import inf
from random import Random

import numpy as np
import pytest

from loadplan.planning.settings.assignment import share_out


def _least(costs: list[list[float]], counts: list[float]) -> float:
    """The least sum of costs of any way in which no kind is given more often than there is of it."""
    kinds = range(len(counts))
    ways = product(kinds, repeat=len(costs))
    fitting = [way for way in ways if all(way.count(kind) <= counts[kind] for kind in kinds)]
    return min((sum(row[kind] for row, kind in zip(costs, way, strict=True)) for way in fitting), default=inf)


@pytest.mark.parametrize("seed", range(40))
def test_the_costs_add_up_to_the_least_or_there_is_no_way(seed: int) -> None:
    draw = Random(seed)
    takers, kinds = draw.randint(1, 4), draw.randint(1, 4)
    costs = [[inf if draw.random() < 0.3 else draw.uniform(0, 9) for _ in range(kinds)] for _ in range(takers)]
    counts = [draw.choice([0.0, 1.0, 2.0, inf]) for _ in range(kinds)]
    found = share_out(np.array(costs), np.array(counts))
    least = _least(costs, counts)
    if found is None:
        assert least == inf
        return
    assert sum(row[kind] for row, kind in zip(costs, found, strict=True)) == pytest.approx(least)
    assert all(list(found).count(kind) <= counts[kind] for kind in range(kinds))


def test_of_one_that_nothing_does_for_there_is_no_way_whatever_the_others_get() -> None:
    assert share_out(np.array([[1.0, 2.0], [inf, inf]]), np.array([inf, inf])) is None
    found = share_out(np.zeros((0, 2)), np.array([1.0, 1.0]))
    assert found is not None
    assert np.array([5.0])[found].tolist() == [], "what is given can be looked up"
