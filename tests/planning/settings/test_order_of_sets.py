"""The order of parts where the margin of every set of them is written down: against all orders, one by one."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations
from math import inf
from random import Random

import numpy as np
import pytest

from loadplan.errors import InputError
from loadplan.model.job import Job, Stage
from loadplan.planning.settings import removal_order
from loadplan.planning.settings.removal_order import OrderPlan, Step, plan_order
from loadplan.planning.settings.removal_states import Course, StandingMargin
from loadplan.statics.mass import Array
from loadplan.statics.parts_off_margins import Flags
from tests.statics import builders as make

NAMES = "abcdef"


@dataclass(frozen=True)
class Sets:
    """What stands, with the margin of each set of parts that may be off, as bits."""

    of: tuple[float, ...]

    def margins(self, off: Flags) -> Array:
        """Look each up."""
        numbers = (off * 2 ** np.arange(off.shape[1])).sum(axis=1)
        return np.array([self.of[each] for each in numbers])

    def balanced(self) -> Flags:
        """Whether it stands at all."""
        return np.array(self.of) > -inf

    def keeps(self, margin: float) -> Flags:
        """Whether it keeps a margin."""
        return np.array(self.of) >= margin


def order(
    monkeypatch: pytest.MonkeyPatch, sets: Sequence[float], needs: Sequence[int], *, steady: float = inf
) -> OrderPlan:
    """Plan the order."""
    names = tuple(NAMES[: len(needs)])
    # A group of which nobody knows more than that stands for what does not change.
    standing = StandingMargin((), (Sets(tuple(sets)),), steady)  # type: ignore[arg-type]
    found = Course(names, tuple(needs), (), (standing,))
    monkeypatch.setattr(removal_order, "course", lambda _job, _index: found)
    return plan_order(job(Stage("first"), Stage("bare", off=names)), 1)


def job(*stages: Stage) -> Job:
    parts = [make.part(name=name, mass=1.0) for name in NAMES]
    return make.job([make.part(), *parts, make.part(name="other", body="other")], stages=stages, bodies=("unit",))


def by_hand(sets: Sequence[float], needs: Sequence[int]) -> tuple[tuple[int, ...], float]:
    """The first of the orders with the greatest least margin, and that."""
    found = []
    for way in permutations(range(len(needs))):
        off, margins = 0, []
        for part in way:
            if off & needs[part] != needs[part]:
                break
            off |= 1 << part
            margins.append(sets[off])
        else:
            found.append((-min(margins), way))
    least, way = min(found)
    return way, -least


def drawn(seed: int) -> tuple[list[float], list[int]]:
    """Margins of sets in steps of 10 mm, so that there are ties; some do not stand; some parts come after others."""
    draw = Random(seed)
    count = draw.randint(2, 5)
    sets = [draw.choice([-inf, *(0.01 * each for each in range(-2, 12))]) for _ in range(1 << count)]
    needs = [sum(1 << before for before in range(part) if draw.random() < 0.2) for part in range(count)]
    turn = draw.sample(range(count), count)
    turned = [0] * count
    for part, each in enumerate(needs):
        turned[turn[part]] = sum(1 << turn[before] for before in range(count) if each >> before & 1)
    return sets, turned


@pytest.mark.parametrize("seed", range(25))
def test_it_is_the_first_of_the_orders_that_keep_most(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    sets, needs = drawn(seed)
    way, least = by_hand(sets, needs)
    found = order(monkeypatch, sets, needs)
    assert (found.stage, found.proven, found.narrowest) == ("bare", True, pytest.approx(least))
    assert found.ceiling == found.narrowest
    if least > -inf:
        assert [each.part for each in found.steps] == [NAMES[each] for each in way]
    off = 0
    for step in found.steps:
        off |= 1 << NAMES.index(step.part)
        assert step == Step(step.part, sets[off] > -inf, sets[off] if sets[off] > -inf else None)


@pytest.mark.parametrize("seed", range(25))
def test_of_more_parts_than_can_be_looked_at_whole_it_says_what_no_order_can_better(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All are off in the end; one that may comes off first, and one that may last: there it can be no better."""
    sets, needs = drawn(seed)
    count, whole = len(needs), len(sets) - 1
    monkeypatch.setattr(removal_order, "MOST_EXACT", count - 1)
    found = order(monkeypatch, sets, needs)
    _, least = by_hand(sets, needs)
    firsts = [sets[1 << part] for part in range(count) if not needs[part]]
    lasts = [sets[whole & ~(1 << part)] for part in range(count) if not any(each >> part & 1 for each in needs)]
    assert found.ceiling == min(max(firsts), max(lasts), sets[whole])
    # So few are all followed side by side.
    assert found.narrowest == least
    assert found.proven is (least >= found.ceiling - 1e-9)
    monkeypatch.setattr(removal_order, "BEAM", 0)
    assert order(monkeypatch, sets, needs).narrowest <= least


def test_where_nothing_can_tip_no_margin_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    found = order(monkeypatch, [inf] * 4, [0, 0])
    assert found == OrderPlan("bare", True, (Step("a", True, None), Step("b", True, None)), inf, inf)  # noqa: FBT003 - a record
    steady = order(monkeypatch, [inf] * 4, [0, 0], steady=0.05)
    assert (steady.narrowest, [each.worst_margin for each in steady.steps]) == (0.05, [0.05, 0.05])
    fallen = order(monkeypatch, [0.1, 0.1, 0.1, -inf], [0, 0])
    assert (fallen.narrowest, fallen.proven, fallen.steps[1]) == (-inf, True, Step("b", False, None))  # noqa: FBT003 - a record


@pytest.mark.parametrize(
    ("others", "where"),
    [
        ((Stage("more"),), ""),
        ((Stage("more", off=("other",)),), ""),
        ((Stage("more", off=("a",)),), "; parts come off in step 2"),
        ((Stage("more", off=("a", "b")), Stage("last", off=("c",))), "; parts come off in step 2, 3"),
    ],
)
def test_a_step_that_takes_nothing_off_is_refused_with_those_that_do(others: tuple[Stage, ...], where: str) -> None:
    with pytest.raises(InputError) as told:
        plan_order(job(Stage("first"), *others), 0)
    (fault,) = told.value.faults
    assert (fault.table, fault.key) == ('stage 1 "first"', "off")
    assert fault.message == f"takes no part off: there is no order to choose{where}"
