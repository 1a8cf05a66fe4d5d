"""What is proposed: a layout for the number of stands asked for, or the fewest that leave nothing to caution."""

from collections.abc import Callable
from dataclasses import dataclass
from math import comb

from loadplan.model.verdict import CheckName
from loadplan.planning.placement.largest_margin import TIE, Found, Layout, Search
from loadplan.planning.placement.layout_space import Space
from loadplan.planning.placement.near_miss import NearMiss, near_misses

FEWEST, MOST = 3, 8
"""Numbers of stands that are tried where the user names none."""

MOST_WORK = 900
"""Steps of layouts that are judged where no number of stands is asked for: half a minute on a usual machine."""

FURTHER = 2
"""How many more stands than asked for are looked at, to tell what they buy."""


@dataclass(frozen=True, slots=True)
class Placement:
    """What is proposed.

    Attributes:
        answer: The layout; None where nothing fits.
        others: The best of each other number of stands, fewest first.
        runner_up: Another layout of as many stands that keeps nine tenths of the margin and shares the fewest
            points with the answer; None without one.
        considered: Layouts in the space, set aside with a look or without.
        proven: Whether no layout of the answer's number has a larger margin (without a number: no smaller
            number leaves nothing to caution either).
        against: Where nothing fits: checks that excluded layouts, and how many each.
        points: Number of points that a stand could take.
        near: Where nothing fits: the layouts that come nearest to standing, none where other limits are in the way.
    """

    answer: Layout | None
    others: tuple[Layout, ...]
    runner_up: Layout | None
    considered: int
    proven: bool
    against: tuple[tuple[CheckName, int], ...]
    points: int
    near: tuple[NearMiss, ...] = ()


def propose(here: Space, count: int | None, tell: Callable[[float], None]) -> Placement:
    """Propose where the stands should go.

    Args:
        here: The job without the supports to be planned, and where they may stand.
        count: Number of stands, None for the fewest that leave nothing to caution.
        tell: Called with the largest margin so far [m].

    Returns:
        The proposal.
    """
    return _fewest(Search(here, tell, MOST_WORK)) if count is None else _of(Search(here, tell), count)


def _of(search: Search, count: int) -> Placement:
    """Return the proposal for a given number of stands, with what a few more would buy."""
    found = search.largest(count, _any, TIE)
    # They are ranked, so the first is the answer; the others are told for what they buy.
    answer = found.layouts[0] if found.layouts else None
    points = len(search.space.points)
    more = [search.largest(number, _any, TIE) for number in range(count + 1, min(count + FURTHER, points) + 1)]
    return Placement(
        answer=answer,
        others=tuple(each.layouts[0] for each in more if each.layouts),
        runner_up=search.runner_up(count, answer) if answer else None,
        considered=comb(points, count),
        proven=found.proven,
        # Nothing was even judged: one limit alone leaves no layout.
        against=found.against or _in_the_way(search, count, comb(points, count)),
        points=points,
        near=() if answer or search.stopped else near_misses(search.space, count),
    )


def _fewest(search: Search) -> Placement:
    """Return the proposal with the fewest stands that leave nothing to caution; without one, the widest margin."""
    points = len(search.space.points)
    numbers = range(FEWEST, min(MOST, points) + 1)
    widest = {number: search.largest(number, _any, TIE, 2 * (MOST - number + 1)) for number in numbers}
    quiet, proven = _first_quiet(search, widest)
    bests = {number: found.layouts[0] for number, found in widest.items() if found.layouts}
    # Where no number leaves nothing to caution, width is what is left to choose by.
    answer = quiet or max(bests.values(), key=lambda each: each.margin, default=None)
    chosen = len(answer.members) if answer else 0
    return Placement(
        answer=answer,
        others=tuple(layout for number, layout in bests.items() if number != chosen),
        runner_up=search.runner_up(chosen, answer) if answer else None,
        considered=sum(comb(points, number) for number in numbers),
        proven=proven,
        against=_together(list(widest.values()))
        or _in_the_way(search, MOST, sum(comb(points, each) for each in numbers)),
        points=points,
        near=() if answer or search.stopped else near_misses(search.space, MOST),
    )


def _in_the_way(search: Search, count: int, layouts: int) -> tuple[tuple[CheckName, int], ...]:
    """Return the one limit that leaves no layout; nothing where the search was stopped before that was known."""
    return () if search.stopped else ((search.in_the_way(count), layouts),)


def _first_quiet(search: Search, widest: dict[int, Found]) -> tuple[Layout | None, bool]:
    """Return the first number's layout that leaves nothing to caution, and whether that is proven."""
    proven = True
    for number, found in widest.items():
        proven = proven and found.proven
        if found.layouts and found.layouts[0].quiet:
            return found.layouts[0], proven
        if found.layouts:
            # The widest may caution where a narrower one does not: so the quiet ones are searched by themselves.
            calm = search.largest(number, _quiet, search.space.job.limits.margin, MOST - number + 1)
            proven = proven and calm.proven
            if calm.layouts:
                return calm.layouts[0], proven
    return None, proven


def _any(layout: Layout) -> bool:
    return not layout.against


def _quiet(layout: Layout) -> bool:
    """Return whether a layout leaves nothing to caution."""
    return layout.quiet


def _together(founds: list[Found]) -> tuple[tuple[CheckName, int], ...]:
    total: dict[CheckName, int] = {}
    for check, number in (pair for found in founds for pair in found.against):
        total[check] = total.get(check, 0) + number
    return tuple(sorted(total.items(), key=lambda each: -each[1]))
