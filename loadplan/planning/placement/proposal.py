"""What is proposed: a layout for the number of stands asked for, or the fewest that leave nothing to caution."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from math import comb, inf

from loadplan.model.verdict import CheckName
from loadplan.planning.placement.largest_margin import Found, Search
from loadplan.planning.placement.layout import TIE, Layout
from loadplan.planning.placement.layout_space import Space
from loadplan.planning.placement.near_miss import NearMiss, near_misses
from loadplan.planning.placement.search_work import SearchLimits

FEWEST = 3
MOST = 8
"""Numbers of stands that are tried where the user names none."""

MOST_WORK = 1500
"""Steps of layouts that are judged where no number of stands is asked for: half a minute on a usual machine."""

FURTHER = 2
"""How many more stands than asked for are looked at, to tell what they buy."""


class SearchEnd(Enum):
    """Why a search for layouts ended."""

    DONE = "done"
    BUDGET = "budget"
    INTERRUPT = "interrupt"


@dataclass(frozen=True, slots=True)
class Cells:
    """The places tried that are no points.

    Attributes:
        coarse: How far apart those lie among which all was searched [m]; 0 where no assembly has an outline.
        finest: How far apart those lie that were tried round the stands found [m].
    """

    coarse: float
    finest: float


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
        ended: Why the search ended.
        cells: What was tried besides the points; None where nothing was.
    """

    answer: Layout | None
    others: tuple[Layout, ...]
    runner_up: Layout | None
    considered: int
    proven: bool
    against: tuple[tuple[CheckName, int], ...]
    points: int
    near: tuple[NearMiss, ...] = ()
    ended: SearchEnd = SearchEnd.DONE
    cells: Cells | None = None


def propose(here: Space, count: int | None, tell: Callable[[float], None]) -> Placement:
    """Propose where the stands should go.

    Args:
        here: The job without the supports to be planned, and where they may stand.
        count: Number of stands, None for the fewest that leave nothing to caution.
        tell: Called with the largest margin so far [m].

    Returns:
        The proposal.
    """
    try:
        search = Search(here, tell, SearchLimits(inf if count else MOST_WORK))
    except KeyboardInterrupt:
        return nothing_yet(here)
    return _fewest(search) if count is None else _of(search, count)


def _of(search: Search, count: int) -> Placement:
    """Return the proposal for a given number of stands, with what a few more would buy."""
    found = search.largest(count, fits, TIE)
    # They are ranked, so the first is the answer; the others are told for what they buy.
    answer = found.layouts[0] if found.layouts else None
    points = len(search.space.points)
    more = [search.largest(number, fits, TIE) for number in range(count + 1, min(count + FURTHER, points) + 1)]
    runner = search.runner_up(count, answer) if answer else None
    against, near = ((), ()) if answer else why_nothing_fits(search, [found], range(count, count + 1))
    return Placement(
        answer=answer,
        others=tuple(each.layouts[0] for each in more if each.layouts),
        runner_up=runner,
        considered=comb(points, count),
        proven=found.proven,
        against=against,
        points=points,
        near=near,
        ended=end_of(search),
    )


def _fewest(search: Search) -> Placement:
    """Return the proposal with the fewest stands that leave nothing to caution; without one, the widest margin."""
    points = len(search.space.points)
    numbers = range(FEWEST, min(MOST, points) + 1)
    widest = {number: search.largest(number, fits, TIE, 2 * (MOST - number + 1)) for number in numbers}
    quiet, proven = _first_quiet(search, widest)
    bests = {number: found.layouts[0] for number, found in widest.items() if found.layouts}
    # Where no number leaves nothing to caution, width is what is left to choose by.
    answer = quiet or max(bests.values(), key=lambda each: each.margin, default=None)
    chosen = len(answer.members) if answer else 0
    runner = search.runner_up(chosen, answer) if answer else None
    against, near = ((), ()) if answer else why_nothing_fits(search, list(widest.values()), numbers)
    return Placement(
        answer=answer,
        others=tuple(layout for number, layout in bests.items() if number != chosen),
        runner_up=runner,
        considered=sum(comb(points, number) for number in numbers),
        proven=proven,
        against=against,
        points=points,
        near=near,
        ended=end_of(search),
    )


def nothing_yet(here: Space) -> Placement:
    """Say that a search was ended before it had looked at anything.

    Args:
        here: The space.

    Returns:
        A proposal of nothing.
    """
    return Placement(
        answer=None,
        others=(),
        runner_up=None,
        considered=0,
        proven=False,
        against=(),
        points=len(here.points),
        ended=SearchEnd.INTERRUPT,
    )


def end_of(search: Search) -> SearchEnd:
    """Say why a search ended.

    Args:
        search: The search.

    Returns:
        An interrupt before a budget.
    """
    return SearchEnd.INTERRUPT if search.stopped else SearchEnd.BUDGET if search.ran_out else SearchEnd.DONE


def why_nothing_fits(
    search: Search, founds: Sequence[Found], numbers: range
) -> tuple[tuple[tuple[CheckName, int], ...], tuple[NearMiss, ...]]:
    """Say what keeps every layout out, and which come nearest.

    Args:
        search: The search that found none.
        founds: What it came to.
        numbers: Numbers of stands that were searched.

    Returns:
        Checks that excluded layouts, and how many each; the near misses. Nothing where it was stopped before.
    """
    if search.stopped:
        return _together(founds), ()
    most = max(numbers, default=MOST)
    layouts = sum(comb(len(search.space.points), each) for each in numbers)
    # Nothing was even judged: one limit alone leaves no layout.
    against = _together(founds)
    if not against and not search.ran_out:
        against = ((search.in_the_way(most), layouts),)
    count = min(most, len(search.space.points))
    return against, near_misses(search.space, count, search.nearest(count))


def _first_quiet(search: Search, widest: dict[int, Found]) -> tuple[Layout | None, bool]:
    """Return the first number's layout that leaves nothing to caution, and whether that is proven."""
    proven = True
    for number, found in widest.items():
        proven = proven and found.proven
        if found.layouts and found.layouts[0].quiet:
            return found.layouts[0], proven
        if found.layouts:
            # The widest may caution where a narrower one does not: so the quiet ones are searched by themselves.
            calm = search.largest(number, is_quiet, search.space.job.limits.margin, MOST - number + 1)
            proven = proven and calm.proven
            if calm.layouts:
                return calm.layouts[0], proven
    return None, proven


def fits(layout: Layout) -> bool:
    """Tell whether nothing speaks against a layout.

    Args:
        layout: The layout.

    Returns:
        Whether no check excludes it.
    """
    return not layout.against


def is_quiet(layout: Layout) -> bool:
    """Tell whether a layout leaves nothing to caution.

    Args:
        layout: The layout.

    Returns:
        As `Layout.quiet`.
    """
    return layout.quiet


def _together(founds: Sequence[Found]) -> tuple[tuple[CheckName, int], ...]:
    total: dict[CheckName, int] = {}
    for check, number in (pair for found in founds for pair in found.against):
        total[check] = total.get(check, 0) + number
    return tuple(sorted(total.items(), key=lambda each: -each[1]))
