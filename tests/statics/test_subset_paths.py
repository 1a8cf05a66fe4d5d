"""Ways through sets of parts, against every order there is."""

from itertools import permutations
from math import inf
from random import Random

import numpy as np
import pytest

from loadplan.statics.subset_paths import closed, first_way, leads_on, narrowest_way

PARTS = 4
ORDERS = list(permutations(range(PARTS)))


def passed(order: tuple[int, ...]) -> list[int]:
    """The sets on the way, the empty one first."""
    return [sum(1 << part for part in order[:number]) for number in range(PARTS + 1)]


@pytest.mark.parametrize("seed", range(20))
def test_the_narrowest_way_costs_what_the_best_of_all_orders_does_and_comes_first_of_its_like(seed: int) -> None:
    luck = Random(seed)
    costs = {(off, part): luck.choice((0.5, 1.0, 2.0, 3.0, inf)) for off in range(1 << PARTS) for part in range(PARTS)}

    def dearest(order: tuple[int, ...]) -> float:
        return max(costs[step] for step in zip(passed(order), order, strict=False))

    cost, way = narrowest_way(lambda off, part: costs[off, part], PARTS)
    assert cost == min(map(dearest, ORDERS))
    assert dearest(way) == cost
    assert sorted(way) == list(range(PARTS))


def test_a_way_that_costs_nothing_costs_nothing() -> None:
    assert narrowest_way(lambda _off, _part: 0.0, 3) == (0.0, (0, 1, 2))
    assert narrowest_way(lambda _off, _part: -1.0, 1) == (0.0, (0,))
    assert narrowest_way(lambda _off, _part: 1.0, 0) == (0.0, ())


@pytest.mark.parametrize("seed", range(30))
def test_a_set_leads_on_where_an_order_of_allowed_sets_does(seed: int) -> None:
    luck = Random(seed)
    allowed = np.array([luck.random() < 0.7 for _ in range(1 << PARTS)])
    allowed[0], allowed[-1] = seed % 2, seed % 3
    leads = leads_on(allowed, PARTS)
    ways = [order for order in ORDERS if all(allowed[each] for each in passed(order)[1:])]
    assert leads[0] == bool(ways)
    if ways:
        assert first_way(leads, PARTS) == min(ways)
    for start in range(1, 1 << PARTS):
        on = [order for order in ORDERS if start in (sets := passed(order)) and all(allowed[sets[sets.index(start) :]])]
        assert leads[start] == bool(on), start


def test_a_set_is_closed_where_it_has_all_that_its_parts_come_off_after() -> None:
    needs = (0, 0b0001, 0b0011, 0b1000)
    told = closed(needs)
    assert len(told) == 16
    for each in range(16):
        whole = all(each & before == before for part, before in enumerate(needs) if each >> part & 1)
        assert told[each] == whole, each
