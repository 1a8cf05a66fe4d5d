"""The cheapest set of parts to have off, where some come off only after others."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.statics.minimum_cut import Needs, cheapest_off
from tests.examples import examples

COUNT = 6


def allowed(off: frozenset[int], needs: Needs) -> bool:
    return all(part not in off or other in off for part, other in needs)


@examples(60)
@given(
    st.lists(st.integers(-9, 9), min_size=COUNT, max_size=COUNT),
    st.lists(st.tuples(st.integers(0, COUNT - 1), st.integers(0, COUNT - 1)).filter(lambda pair: pair[0] > pair[1])),
)
def test_no_allowed_subset_is_cheaper(costs: list[int], needs: list[tuple[int, int]]) -> None:
    """Against every one of the 64 subsets."""
    found = cheapest_off(tuple(map(float, costs)), tuple(needs))
    subsets = [frozenset(n for n in range(COUNT) if bits[n]) for bits in product((0, 1), repeat=COUNT)]
    least = min(sum(costs[n] for n in off) for off in subsets if allowed(off, tuple(needs)))
    assert allowed(found, tuple(needs))
    assert sum(costs[n] for n in found) == least


def test_what_must_be_off_before_comes_along_through_others() -> None:
    assert cheapest_off((-5.0, 1.0, 1.0), ((0, 1), (1, 2))) == {0, 1, 2}
    assert cheapest_off((-1.5, 1.0, 1.0), ((0, 1), (1, 2))) == frozenset()


@pytest.mark.parametrize("costs", [(), (1.0,), (0.0,)])
def test_nothing_comes_off_for_nothing(costs: tuple[float, ...]) -> None:
    assert cheapest_off(costs, ()) == frozenset()


def test_two_that_need_the_same_share_its_cost() -> None:
    assert cheapest_off((-2.0, -2.0, 3.0), ((0, 2), (1, 2))) == {0, 1, 2}
