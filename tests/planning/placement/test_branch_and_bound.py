"""The search over layouts against looking at every one of them, on covers made at random."""

from itertools import combinations
from math import inf
from random import Random

import pytest

from loadplan.planning.placement.blocked_modes import Cover
from loadplan.planning.placement.branch_and_bound import Branches, Choices, Members, at_least, widest


def _choices(seed: int, *, branches: float = inf) -> Choices:
    """Six to nine candidates of which some are not served and some cannot stand beside each other."""
    draw = Random(seed)
    points, motions = draw.randint(6, 9), draw.randint(3, 9)
    blocked = tuple(sum(1 << each for each in range(motions) if draw.random() < 0.45) for _ in range(points))
    values = tuple(sorted(draw.uniform(-0.1, 0.4) for _ in range(motions)))
    pairs = [pair for pair in combinations(range(points), 2) if draw.random() < 0.15]
    apart = tuple(sum(1 << (a + b - one) for a, b in pairs if one in (a, b)) for one in range(points))
    allowed = sum(1 << each for each in range(points) if draw.random() < 0.85)
    return Choices(Cover(values, blocked, None), draw.randint(3, 4), allowed, apart, Branches(branches))


def _every(choices: Choices) -> dict[Members, float]:
    """Every layout that can be set up, with its margin: the least value of a motion that none of its members blocks."""
    served = [each for each in range(len(choices.apart)) if choices.allowed >> each & 1]
    found = {}
    for members in combinations(served, choices.count):
        if not any(choices.apart[one] >> other & 1 for one, other in combinations(members, 2)):
            union = 0
            for each in members:
                union |= choices.cover.blocked[each]
            left = [value for number, value in enumerate(choices.cover.values) if not union >> number & 1]
            found[members] = min(left, default=inf)
    return found


@pytest.mark.parametrize("seed", range(25))
def test_the_widest_margin_is_that_of_the_widest_of_all(seed: int) -> None:
    choices, told = _choices(seed), list[float]()
    most = max(_every(choices).values(), default=-1.0)
    assert widest(choices, -1.0, told.append) == most
    assert told == sorted(set(told)), "each is larger than the one before"
    assert (told or [-1.0])[-1] == most
    # Only what is wider than what is known is looked for.
    assert widest(choices, most, told.append) == most
    assert widest(choices, 9.0, told.append) == (inf if most == inf else 9.0)


@pytest.mark.parametrize("seed", range(25))
@pytest.mark.parametrize("floor", [-1.0, 0.1, 0.3])
def test_every_layout_that_is_wide_enough_comes_once_with_its_margin(seed: int, floor: float) -> None:
    choices = _choices(seed)
    found = list(at_least(choices, floor))
    assert {members: margin for margin, members in found} == {
        members: margin for members, margin in _every(choices).items() if margin >= floor
    }
    assert len(found) == len({members for _, members in found})


@pytest.mark.parametrize("seed", range(12))
def test_out_of_branches_what_is_found_is_true_and_it_shows_that_there_may_be_more(seed: int) -> None:
    whole = _choices(seed, branches=1000)
    widest(whole, -1.0, lambda _: None)
    looked = 1000 - whole.branches.left
    assert looked >= 1
    for left in range(int(looked) + 1):
        short = _choices(seed, branches=left)
        assert widest(short, -1.0, lambda _: None) <= widest(whole, -1.0, lambda _: None)
        assert (short.branches.left < 0) is (left < looked)
    cut = _choices(seed, branches=2)
    assert set(at_least(cut, -1.0)) <= {(margin, members) for members, margin in _every(cut).items()}
