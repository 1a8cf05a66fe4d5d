"""Where stands could go at places that are no points, too: a coarse grid first, then finer ones round what was found.

All cells of 25 mm together would make more layouts than can be told apart. So the layout is searched among the file's
points and a grid so coarse that it is some forty places; then again and again among the points and cells half as far
apart round its stands, down to the finest, as long as that leaves more margin. Each of these searches is exact over
its places where its work sufficed; of the whole that is claimed only where the first grid is the finest.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from math import comb, inf
from time import process_time

from loadplan.planning.placement.blocked_modes import candidates
from loadplan.planning.placement.free_places import CELL, Grid, around, with_free_places
from loadplan.planning.placement.largest_margin import KEPT, Found, Search
from loadplan.planning.placement.layout import TIE, Layout
from loadplan.planning.placement.layout_space import Space
from loadplan.planning.placement.proposal import (
    FEWEST,
    FURTHER,
    MOST,
    Cells,
    Placement,
    SearchEnd,
    fits,
    is_quiet,
    propose,
    why_nothing_fits,
)
from loadplan.planning.placement.search_work import SearchLimits

COARSE_WORK = 600.0
"""Steps of layouts that are judged among the coarse cells: some 25 s on a usual machine."""

FINE_WORK = 80.0
"""Steps of layouts that are judged in one round among finer cells."""

SHARINGS = 3
"""Ways to share out equipment that are looked at for one choice of places: another choice mostly does more."""

SECONDS = 40.0
"""Processor time [s] after which no layout is looked at any more, whatever work is left."""
ROUNDING = 1e-9
"""Shares of a cell that are rounding."""

MOST_ROUNDS = 5
"""Rounds among finer cells; the finest may be tried more than once."""


def propose_anywhere(here: Space, count: int | None, tell: Callable[[float], None]) -> Placement:
    """Propose where the stands should go, at points or at places that are none.

    Args:
        here: The job without the supports to be planned, and the points.
        count: Number of stands, None for the fewest that leave nothing to caution.
        tell: Called with the largest margin so far [m], again and again.

    Returns:
        The proposal, with how far apart the cells lie; found with so much work and no more.
    """
    grid = with_free_places(here)
    if not grid.pitch:
        return replace(propose(here, count, tell), cells=Cells(0.0, 0.0))
    return _AnywhereSearch(grid, count, tell).placement(here)


class _AnywhereSearch:
    """Searches a coarse grid, then finer ones; an interrupt ends it with what it has."""

    def __init__(self, grid: Grid, count: int | None, tell: Callable[[float], None]) -> None:
        """Look at nothing yet.

        Args:
            grid: The points and the coarse cells.
            count: Number of stands, None for the fewest that leave nothing to caution.
            tell: Called with the largest margin so far [m].
        """
        self._grid, self._count, self._tell = grid, count, tell
        self._bests: dict[int, Layout] = {}
        self._founds: list[Found] = []
        self._answer: Layout | None = None
        self._finest = grid.pitch
        self._ended = SearchEnd.DONE
        self._until = process_time() + SECONDS

    def placement(self, here: Space) -> Placement:
        """Search, and return what is proposed.

        Args:
            here: The space without cells.

        Returns:
            The proposal.
        """
        search = runner = None
        try:
            search = Search(self._grid.space, self._tell, self._limits(COARSE_WORK))
            self._search_coarse(search)
            coarse = self._answer
            self._note(search)
            if coarse is not None:
                self._search_finer(here, coarse)
                runner = search.runner_up(len(coarse.members), coarse)
            elif not search.stopped:
                self._search_near_misses(here, search, min(self._count or MOST, len(search.space.points)))
            self._note(search)
        except KeyboardInterrupt:
            self._ended = SearchEnd.INTERRUPT
        answer, points = self._answer, len(self._grid.space.points)
        numbers = range(FEWEST, min(MOST, points) + 1) if self._count is None else range(self._count, self._count + 1)
        failed = answer is None and search is not None and self._ended is not SearchEnd.INTERRUPT
        against, near = why_nothing_fits(search, self._founds, numbers) if failed and search else ((), ())
        return Placement(
            answer=answer,
            others=tuple(
                each for number, each in sorted(self._bests.items()) if not answer or number != len(answer.members)
            ),
            # It was compared with the coarse layout: of a finer one it may keep too little.
            runner_up=runner if answer and runner and runner.margin >= KEPT * answer.margin else None,
            considered=sum(comb(points, each) for each in numbers),
            proven=self._ended is SearchEnd.DONE and self._grid.pitch <= CELL and all(e.proven for e in self._founds),
            against=against,
            points=points,
            near=near,
            ended=self._ended,
            cells=Cells(self._grid.pitch, self._finest),
        )

    def _limits(self, work: float) -> SearchLimits:
        """Return the limits of a search that may do so much work."""
        return SearchLimits(work, SHARINGS, self._until)

    def _note(self, search: Search) -> None:
        """Remember why a search ended."""
        if search.stopped:
            self._ended = SearchEnd.INTERRUPT
        elif search.ran_out and self._ended is SearchEnd.DONE:
            self._ended = SearchEnd.BUDGET

    def _search_coarse(self, search: Search) -> None:
        """Search the coarse grid for the number asked for, or from the fewest on up to what leaves no caution."""
        points = len(search.space.points)
        first, last = (FEWEST, MOST) if self._count is None else (self._count, self._count + FURTHER)
        calm: Layout | None = None
        for number in range(first, min(last, points) + 1):
            if calm is not None and number > len(calm.members) + FURTHER:
                break
            # One share more than there are searches: what one leaves goes to the next.
            among = last - number + 2
            found = self._widest(search, number, fits, among)
            if found is not None:
                self._bests[number] = found
            if found is not None and self._count is None and calm is None:
                calm = found if found.quiet else self._widest(search, number, is_quiet, among)
            widest = max(self._bests.values(), key=lambda each: each.margin, default=None)
            self._answer = calm or (widest if self._count is None else self._bests.get(self._count))
            if search.stopped:
                break

    def _widest(self, search: Search, number: int, wanted: Callable[[Layout], bool], among: int) -> Layout | None:
        """Return the widest layout of so many stands that is wanted, None without one."""
        least = search.space.job.limits.margin if wanted is is_quiet else TIE
        found = search.largest(number, wanted, least, among)
        self._founds.append(found)
        return found.layouts[0] if found.layouts else None

    def _search_finer(self, here: Space, coarse: Layout) -> None:
        """Search round the stands of the answer among ever finer cells, as long as that leaves more margin."""
        wanted = is_quiet if coarse.quiet else partial(_no_more_cautions, coarse)
        answer, pitch = coarse, self._grid.pitch
        for _ in range(MOST_ROUNDS):
            if answer.margin == inf or self._ended is SearchEnd.INTERRUPT:
                return
            at_finest = pitch <= CELL
            pitch = _half(pitch)
            search = Search(around(here, answer.planned, pitch), self._tell, self._limits(FINE_WORK))
            found = search.largest(len(answer.members), wanted, answer.margin + TIE)
            self._note(search)
            self._finest = pitch
            if found.layouts:
                self._answer = answer = found.layouts[0]
            elif at_finest:
                return

    def _search_near_misses(self, here: Space, search: Search, count: int) -> None:
        """Search among ever finer cells round the layout that comes nearest, until one fits; then round that."""
        pitch = self._grid.pitch
        while pitch > CELL and self._answer is None and self._ended is not SearchEnd.INTERRUPT:
            nearest = next(search.nearest(count), None)
            if nearest is None:
                return
            seeds = candidates(search.space)
            pitch = _half(pitch)
            search = Search(around(here, [seeds[each] for each in nearest], pitch), self._tell, self._limits(FINE_WORK))
            found = search.largest(count, fits, TIE)
            self._note(search)
            self._finest = pitch
            if found.layouts:
                self._answer = found.layouts[0]
                self._search_finer(here, found.layouts[0])


def _half(pitch: float) -> float:
    """Return about half of a pitch [m], a multiple of the finest."""
    return max(CELL, round(pitch / 2 / CELL - ROUNDING) * CELL)


def _no_more_cautions(coarse: Layout, layout: Layout) -> bool:
    """Return whether a layout can be used, and cautions of nothing that the coarse one does not."""
    return not layout.against and layout.cautions <= coarse.cautions
