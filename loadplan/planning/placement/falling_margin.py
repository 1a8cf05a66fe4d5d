"""Layouts by falling margin: what could win first, each worked out only as far as the order asks.

Three figures order them: what the cover allows (cheap, never less than the margin), the margin without lean, and the
share of a rating. They wait in a heap by what is known of them, and what comes to the top is worked out one figure
further and put back; so what is never reached costs nothing, and the order is the same as if all were known.
"""

from collections.abc import Callable, Iterator
from heapq import heappop, heappush
from math import inf
from typing import NamedTuple

from loadplan.planning.placement.blocked_modes import cover
from loadplan.planning.placement.branch_and_bound import Branches, Choices, Members, at_least, widest
from loadplan.planning.placement.common_level import Reach, apart
from loadplan.planning.placement.layout import TIE
from loadplan.planning.placement.layout_margin import ExactMargins
from loadplan.planning.placement.layout_space import Space
from loadplan.planning.placement.search_work import COMPARED, SearchWork
from loadplan.planning.placement.share_bound import Shares

ROUNDING = 1e-9
"""Margins [m] and shares closer than this are equal."""

STEPS = (TIE, 1e-3, 3e-3, 1e-2, 3e-2, 1e-1, 3e-1, 1.0, inf)
"""How far below the widest margin layouts are fetched, step by step [m]."""

MOST_FETCHED = 20_000
"""Layouts that wait to be compared, for one number of stands, where the work is bounded."""

MOST_BRANCHES = 100_000
"""Branches that are looked at for one number of stands, where the work is bounded: some two seconds."""


class Contender(NamedTuple):
    """A layout before it is judged in full.

    Attributes:
        margin: Its worst margin [m].
        share: Share of a rating that it reaches at least.
        members: Numbers of its points.
    """

    margin: float
    share: float
    members: Members


class _Waiting(NamedTuple):
    """A layout in the heap.

    Attributes:
        short: Its margin as far as it is known, less than nothing [m]: the widest first.
        known: How much is known of it: 0 what the cover allows, 1 its margin, 2 its share, too.
        share: Share of a rating that it reaches at least; 0 where that is not known.
        members: Numbers of its points.
    """

    short: float
    known: int
    share: float
    members: Members


class FallingMargin:
    """Orders the layouts of one space."""

    def __init__(self, space: Space, reaches: tuple[Reach, ...], tell: Callable[[float], None]) -> None:
        """Prepare the space.

        Args:
            space: The job without the supports to be planned, and where they may stand.
            reaches: What can stand where, a level each.
            tell: Called again and again with the largest margin that was found meanwhile [m], 0 where there is none.
        """
        self._tell = tell
        self._points = len(space.points)
        self._stages = len(space.job.stages)
        self._cover = cover(space)
        self._apart = apart(space)
        self._allowed = _widest_sets([each.allowed for each in reaches])
        self._exact = ExactMargins(space)
        self._shares = Shares(space)

    def layouts(self, count: int, floor: float, work: SearchWork) -> Iterator[Contender]:
        """Yield layouts by falling margin, the least share first among equals.

        The margin is without lean, so no layout has more; how much less is known once it has been judged in full.

        Args:
            count: Number of stands.
            floor: Margin below which none is wanted [m].
            work: What may be looked at; told where something was left out.

        Yields:
            The layouts.
        """
        branches = Branches(MOST_BRANCHES if work.bounded else inf)
        choices = [Choices(self._cover, count, each, self._apart, branches) for each in self._allowed]
        # Nothing below the floor is asked for, and each set begins with what the others reached.
        top = floor - ROUNDING
        for each in choices:
            top = max(top, widest(each, top, self._tell))
        work.cut = work.cut or branches.left < 0
        if top < floor:
            return
        heap: list[_Waiting] = []
        fetched: set[Members] = set()
        # Step by step: the answer is mostly near the top, and all layouts together may be millions.
        for step in STEPS:
            # Below a margin without end there is no step but to the floor.
            lowest = floor if step == inf else max(top - step, floor)
            for margin, members in (row for each in choices for row in at_least(each, lowest)):
                if len(fetched) >= MOST_FETCHED and work.bounded:
                    work.cut = True
                    break
                if members not in fetched:
                    fetched.add(members)
                    heappush(heap, _Waiting(-margin, 0, 0.0, members))
            work.cut = work.cut or branches.left < 0
            yield from self._down_to(lowest, heap, work)
            if lowest == floor or work.cut:
                return

    def blocked_by(self, count: int, reaches: tuple[Reach, ...]) -> tuple[bool, bool]:
        """Say whether points alone, and points and heights together, leave no layout that stands.

        Args:
            count: Number of stands.
            reaches: What can stand where, a level each.

        Returns:
            Both.
        """
        free = (0,) * self._points
        every = Choices(self._cover, count, (1 << self._points) - 1, free)
        served = [Choices(self._cover, count, each.allowed, free) for each in reaches]
        return (
            widest(every, TIE, self._tell) <= TIE,
            all(widest(each, TIE, self._tell) <= TIE for each in served),
        )

    def _down_to(self, lowest: float, heap: list[_Waiting], work: SearchWork) -> Iterator[Contender]:
        """Yield the layouts of a heap whose margin is not below a bound; what may be stays in it."""
        while heap and -heap[0].short >= lowest:
            if work.spent:
                work.cut = True
                return
            short, known, share, members = heappop(heap)
            if known == 0:
                self._tell(0.0)
                heappush(heap, _Waiting(-self._margin(-short, members, work), 1, 0.0, members))
            elif known == 1:
                heappush(heap, _Waiting(short, 2, self._shares.least(members), members))
            else:
                yield Contender(-short, share, members)

    def _margin(self, margin: float, members: Members, work: SearchWork) -> float:
        """Return the worst margin of a layout without lean, from what its motions allow with saddles at the highest."""
        drops = self._cover.drops
        if drops is not None:
            return margin - max(drops[each] for each in members)
        work.left -= COMPARED * self._stages
        return self._exact.of(members)


def _widest_sets(every: list[int]) -> list[int]:
    """Return the sets of bits, each once, that lie in no other: every layout of those that do is among the other's."""
    distinct = list(dict.fromkeys(every))
    return [each for each in distinct if not any(each != other and each & ~other == 0 for other in distinct)]
