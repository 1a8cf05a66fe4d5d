"""Layouts by falling margin where all figures are written down: against sorting every layout there is."""

from collections.abc import Callable
from itertools import combinations
from math import inf
from random import Random
from types import SimpleNamespace

import pytest

from loadplan.planning.placement import falling_margin
from loadplan.planning.placement.blocked_modes import Cover
from loadplan.planning.placement.branch_and_bound import Members
from loadplan.planning.placement.common_level import Reach
from loadplan.planning.placement.falling_margin import Contender, FallingMargin
from loadplan.planning.placement.search_work import COMPARED, SearchLimits, SearchWork
from tests.planning.jobs import STAND

POINTS, STAGES = 6, 3
UNBOUNDED = SearchLimits()


def reach(*points: int) -> Reach:
    return Reach(0.0, ((STAND, None),), (sum(1 << each for each in points),))


class Figures:
    """What each layout comes to: what its motions allow, what lean takes off that, and a share.

    Attributes:
        exact: Margins worked out layout by layout, by their members.
        shared: Layouts whose share was worked out.
        told: Margins that were told.
    """

    def __init__(self, seed: int, *, alike: bool) -> None:
        """Draw them; with lean that is alike for all motions it is known by stand."""
        self.draw = Random(seed)
        motions = 8
        values = tuple(sorted(round(self.draw.uniform(-0.02, 0.4), 2) for _ in range(motions)))
        blocked = tuple(self.draw.getrandbits(motions) for _ in range(POINTS))
        self.drops = tuple(round(self.draw.uniform(0.0, 0.05), 3) for _ in range(POINTS))
        self.cover = Cover(values, blocked, self.drops if alike else None)
        pairs = [pair for pair in combinations(range(POINTS), 2) if self.draw.random() < 0.1]
        self.apart = tuple(sum(1 << (a + b - one) for a, b in pairs if one in (a, b)) for one in range(POINTS))
        self.every = [*combinations(range(POINTS), 2), *combinations(range(POINTS), 3)]
        self.lean = {each: round(self.draw.uniform(0.0, 0.05), 3) for each in self.every}
        self.shares = {each: self.draw.choice([0.2, 0.3, 0.4]) for each in self.every}
        self.shared: list[Members] = []
        self.told: list[float] = []

    def allowed(self, members: Members) -> float:
        """What the motions that are left open allow."""
        union = 0
        for each in members:
            union |= self.cover.blocked[each]
        return self.cover.margin(union)

    def of(self, members: Members) -> float:
        """What the layout keeps."""
        lean = max(self.drops[each] for each in members) if self.cover.drops else self.lean[members]
        return self.allowed(members) - lean

    def least(self, members: Members) -> float:
        """The share that it reaches."""
        self.shared.append(members)
        return self.shares[members]

    def sorted(self, count: int, floor: float, sets: list[set[int]]) -> list[Contender]:
        """Every layout that can be set up and keeps the floor, by falling margin and rising share."""
        there = [
            each
            for each in self.every
            if len(each) == count
            and any(set(each) <= one for one in sets)
            and not any(self.apart[a] >> b & 1 for a, b in combinations(each, 2))
            and self.allowed(each) >= floor
            and self.of(each) >= floor
        ]
        found = [Contender(self.of(each), self.shares[each], each) for each in there]
        return sorted(found, key=lambda each: (-each.margin, each.share, each.members))


@pytest.fixture
def falling(monkeypatch: pytest.MonkeyPatch) -> Callable[[Figures, tuple[Reach, ...]], FallingMargin]:
    """Put figures in the place of the statics."""

    def made(figures: Figures, reaches: tuple[Reach, ...]) -> FallingMargin:
        monkeypatch.setattr(falling_margin, "cover", lambda _: figures.cover)
        monkeypatch.setattr(falling_margin, "apart", lambda _: figures.apart)
        monkeypatch.setattr(falling_margin, "ExactMargins", lambda _: figures)
        monkeypatch.setattr(falling_margin, "Shares", lambda _: figures)
        space = SimpleNamespace(points=(0,) * POINTS, job=SimpleNamespace(stages=(0,) * STAGES))
        return FallingMargin(space, reaches, figures.told.append)  # type: ignore[arg-type]

    return made


Falling = Callable[[Figures, tuple[Reach, ...]], FallingMargin]


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("alike", [True, False])
@pytest.mark.parametrize("floor", [0.0, 0.1, -inf])
def test_layouts_come_by_falling_margin_the_least_share_first_among_equals(
    falling: Falling,
    seed: int,
    alike: bool,  # noqa: FBT001 - a row
    floor: float,
) -> None:
    figures = Figures(seed, alike=alike)
    sets = [{0, 1, 2, 3}, {1, 2, 3, 4, 5}, {1, 2, 3}]
    order = falling(figures, tuple(reach(*each) for each in (*sets, sets[0])))
    for count in (2, 3):
        work = SearchWork(UNBOUNDED, inf)
        found = list(order.layouts(count, floor, work))
        assert found == figures.sorted(count, floor, sets)
        assert not work.cut


def first_of(figures: Figures) -> list[Contender]:
    return figures.sorted(3, 0.0, [set(range(POINTS))])


def test_no_share_is_worked_out_of_what_is_never_reached(falling: Falling) -> None:
    figures = Figures(3, alike=False)
    every = first_of(figures)
    order = falling(figures, (reach(*range(POINTS)),))
    assert next(order.layouts(3, 0.0, SearchWork(UNBOUNDED, inf))) == every[0]
    assert set(figures.shared) == {each.members for each in every if each.margin == every[0].margin}


def test_what_is_compared_costs_work_where_lean_is_worked_out_layout_by_layout(falling: Falling) -> None:
    for alike in (False, True):
        figures = Figures(3, alike=alike)
        work = SearchWork(SearchLimits(100.0), 100.0)
        list(falling(figures, (reach(*range(POINTS)),)).layouts(3, -inf, work))
        compared = len(figures.sorted(3, -inf, [set(range(POINTS))]))
        assert work.left == pytest.approx(100.0 if alike else 100.0 - COMPARED * STAGES * compared)
        spent = SearchWork(SearchLimits(100.0), 0.0)
        assert list(falling(figures, (reach(*range(POINTS)),)).layouts(3, -inf, spent)) == []
        assert spent.cut


@pytest.mark.parametrize("name", ["MOST_FETCHED", "MOST_BRANCHES"])
def test_with_bounds_no_more_is_fetched_and_looked_at_than_so_many(
    falling: Falling, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    figures = Figures(3, alike=True)
    monkeypatch.setattr(falling_margin, name, 2)
    for limits, cut in ((SearchLimits(100.0), True), (UNBOUNDED, False)):
        work = SearchWork(limits, 100.0)
        found = list(falling(figures, (reach(*range(POINTS)),)).layouts(3, -inf, work))
        every = figures.sorted(3, -inf, [set(range(POINTS))])
        assert work.cut is cut
        assert len(found) <= 2 if cut else found == every


def test_what_is_in_the_way_is_the_points_or_the_heights(falling: Falling) -> None:
    """Points 0 to 2 block all that goes down: those of the lower level have 2 not, and nothing is beside another."""
    figures = Figures(0, alike=True)
    figures.cover = Cover((-0.1, -0.1, -0.1, 0.2), (0b0001, 0b0010, 0b0100, 0, 0, 0), None)
    figures.apart = (0b111111,) * POINTS
    low, high = reach(0, 1, 3), reach(0, 1, 2, 3)
    order = falling(figures, (low, high))
    assert order.blocked_by(3, (low, high)) == (False, False)
    assert order.blocked_by(3, (low,)) == (False, True)
    assert order.blocked_by(2, (low, high)) == (True, True)
