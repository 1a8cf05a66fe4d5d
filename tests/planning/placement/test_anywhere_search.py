"""A coarse grid first, then finer ones round what was found: which are searched, and what is made of what they find."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import comb, inf
from time import process_time

import pytest

from loadplan.model.job import Support
from loadplan.model.verdict import CheckName
from loadplan.planning.placement import anywhere_search
from loadplan.planning.placement.anywhere_search import propose_anywhere
from loadplan.planning.placement.free_places import CELL, Grid
from loadplan.planning.placement.layout import TIE, Layout
from loadplan.planning.placement.layout_space import Space, stand_under
from loadplan.planning.placement.proposal import Cells, Placement, SearchEnd
from loadplan.planning.placement.search_work import SearchLimits
from tests.planning.jobs import STAND
from tests.planning.placement.known_layouts import KnownLayouts, known_space, layout

HERE = known_space(9)
LOUD, MUTE, MORE = CheckName.MARGIN, CheckName.BASIS, CheckName.WHEELS
"""A check that has to be quiet for planning, and two that need not be."""

LEAST = HERE.job.limits.margin
NEAR = "what comes nearest"


def _silent(_margin: float) -> None:
    pass


def standing(margin: float, count: int = 3, **more: Sequence[CheckName]) -> Layout:
    """A layout whose stands are in its job, under the last of the points: so the margin names them apart."""
    stands = tuple(
        stand_under(f"{margin} {number}", HERE.points[number], STAND, HERE.job.vehicle) for number in range(count)
    )
    made = layout(HERE, tuple(range(count)), margin, **more)
    return replace(made, job=replace(HERE.job, supports=stands))


@dataclass
class Anywhere:
    """Searches over grids that are known beforehand, the coarse one first.

    Attributes:
        pitch: How far apart the coarse cells lie.
        searches: What each finds; those after them find nothing.
        round: Round which stands cells were asked for, and how far apart.
        limits: What bounds each.
        tellers: Who was to be told by each.
    """

    pitch: float
    searches: list[KnownLayouts]
    round: list[tuple[list[str], float]] = field(default_factory=list)
    limits: list[SearchLimits] = field(default_factory=list)
    tellers: list[object] = field(default_factory=list)

    def proposed(self, count: int | None, tell: Callable[[float], None] = _silent) -> Placement:
        """Propose."""
        return propose_anywhere(HERE, count, tell)

    def search(self, here: Space, tell: object, limits: SearchLimits) -> KnownLayouts:
        """Begin the next search."""
        assert here is HERE
        self.limits.append(limits)
        self.tellers.append(tell)
        if len(self.limits) > len(self.searches):
            self.searches.append(KnownLayouts(here))
        return self.searches[len(self.limits) - 1]

    def around(self, here: Space, stands: Iterable[Support], pitch: float) -> Space:
        """Note round what cells are wanted."""
        assert here is HERE
        self.round.append(([each.name for each in stands], pitch))
        return here


@pytest.fixture
def anywhere(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Anywhere]:
    """Lay out the grids."""

    def laid(pitch: float, *searches: KnownLayouts) -> Anywhere:
        made = Anywhere(pitch, list(searches))
        monkeypatch.setattr(anywhere_search, "with_free_places", lambda here: Grid(here, pitch))
        monkeypatch.setattr(anywhere_search, "Search", made.search)
        monkeypatch.setattr(anywhere_search, "around", made.around)
        return made

    return laid


def names(of: Layout) -> list[str]:
    return [each.name for each in of.planned]


def test_without_cells_the_points_alone_are_searched_and_it_is_told(
    anywhere: Callable[..., Anywhere], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[tuple[object, ...]] = []
    plain = Placement(None, (), None, 3, proven=True, against=(), points=9)

    def propose(*given: object) -> Placement:
        asked.append(given)
        return plain

    monkeypatch.setattr(anywhere_search, "propose", propose)
    assert anywhere(0.0).proposed(4) == replace(plain, cells=Cells(0.0, 0.0))
    assert asked == [(HERE, 4, _silent)]


def test_for_a_number_the_finer_grids_are_searched_as_long_as_each_leaves_more(
    anywhere: Callable[..., Anywhere],
) -> None:
    """Half as far apart each time, in whole cells: from 175 mm to 75, to 25; there once more, and it is the end."""
    coarse, other, finer, finest = standing(0.1), standing(0.2, 4), standing(0.12), standing(0.13)
    runner = standing(0.117)
    grids = anywhere(
        0.175,
        KnownLayouts(HERE, [coarse, other], runner=runner),
        KnownLayouts(HERE, [finer]),
        KnownLayouts(HERE, [finest]),
    )
    found = grids.proposed(3)
    assert [(stands, pytest.approx(pitch)) for stands, pitch in grids.round] == [
        (names(coarse), 0.075),
        (names(finer), CELL),
        (names(finest), CELL),
    ]
    assert [each.asked for each in grids.searches[1:]] == [
        [(3, 0.1 + TIE, 1)],
        [(3, 0.12 + TIE, 1)],
        [(3, 0.13 + TIE, 1)],
    ]
    assert grids.searches[0].others_asked == [(3, coarse)]
    assert (found.answer, found.others, found.runner_up) == (finest, (other,), runner)
    assert (found.considered, found.points, found.against, found.near) == (comb(9, 3), 9, (), ())
    assert (found.ended, found.proven) == (SearchEnd.DONE, False)
    assert found.cells == Cells(0.175, CELL)
    assert grids.searches[0].asked == [(3, TIE, 4), (4, TIE, 3), (5, TIE, 2)]


def test_a_runner_up_of_the_coarse_grid_is_told_only_where_it_keeps_nine_tenths_of_the_finer_answer(
    anywhere: Callable[..., Anywhere],
) -> None:
    coarse, finer = standing(0.1), standing(0.2)
    for margin, kept in ((0.181, True), (0.179, False)):
        runner = standing(margin)
        found = anywhere(CELL, KnownLayouts(HERE, [coarse], runner=runner), KnownLayouts(HERE, [finer])).proposed(3)
        assert found.runner_up == (runner if kept else None)
    exact = standing(0.9 * 0.1)
    assert anywhere(CELL, KnownLayouts(HERE, [coarse], runner=exact)).proposed(3).runner_up == exact


def test_finer_grids_end_after_so_many_rounds_and_at_once_where_nothing_tips(
    anywhere: Callable[..., Anywhere],
) -> None:
    layouts = [standing(0.1 + 0.01 * number) for number in range(9)]
    grids = anywhere(0.1, *(KnownLayouts(HERE, [each]) for each in layouts))
    found = grids.proposed(3)
    assert [pytest.approx(pitch) for _, pitch in grids.round] == [0.05, CELL, CELL, CELL, CELL]
    assert found.answer == layouts[5]
    grids = anywhere(0.1, KnownLayouts(HERE, [standing(inf)]))
    assert grids.proposed(3).cells == Cells(0.1, 0.1)
    assert grids.round == []


def test_where_a_grid_finds_nothing_wider_still_finer_ones_are_tried_down_to_the_finest(
    anywhere: Callable[..., Anywhere],
) -> None:
    coarse, finest = standing(0.1), standing(0.11)
    grids = anywhere(0.1, KnownLayouts(HERE, [coarse]), KnownLayouts(HERE), KnownLayouts(HERE, [finest]))
    assert grids.proposed(3).answer == finest
    assert [pytest.approx(pitch) for _, pitch in grids.round] == [0.05, CELL, CELL]


def test_among_finer_cells_a_quiet_answer_stays_quiet_and_any_other_cautions_of_nothing_more(
    anywhere: Callable[..., Anywhere],
) -> None:
    quiet, loud, more = standing(0.1), standing(0.2, cautions=[LOUD]), standing(0.25, cautions=[LOUD, MORE])
    wide, stopped = standing(0.3, cautions=[MUTE, MORE]), standing(0.4, against=[CheckName.PUSH])
    coarse, fine = KnownLayouts(HERE, [quiet]), KnownLayouts(HERE, [loud, wide, stopped])
    assert anywhere(CELL, coarse, fine).proposed(3).answer == wide
    coarse = KnownLayouts(HERE, [replace(loud, margin=0.1)])
    assert anywhere(CELL, coarse, KnownLayouts(HERE, [loud, more, wide, stopped])).proposed(3).answer == loud


def test_what_each_search_may_do_and_when_all_of_them_end(anywhere: Callable[..., Anywhere]) -> None:
    grids = anywhere(CELL, KnownLayouts(HERE, [standing(0.1)]))
    before = process_time()
    grids.proposed(3)
    after = process_time()
    coarse, fine = grids.limits
    assert (coarse.work, coarse.sharings, fine.work, fine.sharings) == (600.0, 3, 80.0, 3)
    assert coarse.until == fine.until
    assert before + 40.0 <= coarse.until <= after + 40.0
    assert grids.tellers == [_silent, _silent]


@pytest.mark.parametrize(("pitch", "unproven", "proven"), [(CELL, 0, True), (CELL, 4, False), (2 * CELL, 0, False)])
def test_proven_is_only_what_was_searched_whole_among_the_finest_cells(
    anywhere: Callable[..., Anywhere],
    pitch: float,
    unproven: int,
    proven: bool,  # noqa: FBT001 - a row
) -> None:
    coarse = KnownLayouts(HERE, [standing(0.1)], frozenset({unproven}))
    assert anywhere(pitch, coarse).proposed(3).proven is proven


@pytest.mark.parametrize("which", [0, 1])
def test_a_search_that_ran_out_of_work_is_told(anywhere: Callable[..., Anywhere], which: int) -> None:
    searches = [KnownLayouts(HERE, [standing(0.1)]), KnownLayouts(HERE), KnownLayouts(HERE)]
    searches[which].ran_out = True
    found = anywhere(0.05, *searches).proposed(3)
    assert (found.ended, found.proven) == (SearchEnd.BUDGET, False)
    assert found.answer is not None


def test_an_interrupt_ends_all_with_the_best_so_far(anywhere: Callable[..., Anywhere]) -> None:
    three, four = standing(0.1), standing(0.2, 4)
    coarse = KnownLayouts(HERE, [three, four], stops_at=3, ran_out=True)
    grids = anywhere(0.1, coarse)
    found = grids.proposed(3)
    assert (found.answer, found.ended, found.proven) == (three, SearchEnd.INTERRUPT, False)
    assert [number for number, *_ in coarse.asked] == [3]
    assert grids.round == []
    fine = KnownLayouts(HERE, [standing(0.15)], stops_at=3)
    grids = anywhere(0.1, KnownLayouts(HERE, [three], ran_out=True), fine)
    found = grids.proposed(3)
    assert (found.answer, found.ended, len(grids.round)) == (fine.layouts[0], SearchEnd.INTERRUPT, 1)


def test_a_key_pressed_outside_a_search_ends_it_too(
    anywhere: Callable[..., Anywhere], monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    three = standing(0.1)
    grids = anywhere(0.1, KnownLayouts(HERE, [three]))
    monkeypatch.setattr(anywhere_search, "around", interrupted)
    found = grids.proposed(3)
    assert (found.answer, found.ended, found.proven, found.near) == (three, SearchEnd.INTERRUPT, False, ())
    monkeypatch.setattr(anywhere_search, "Search", interrupted)
    found = grids.proposed(None)
    assert (found.answer, found.ended, found.against, found.near) == (None, SearchEnd.INTERRUPT, (), ())
    assert found.cells == Cells(0.1, 0.1)


def test_without_a_number_the_first_that_is_quiet_is_the_answer_and_two_more_are_looked_at(
    anywhere: Callable[..., Anywhere],
) -> None:
    loud, quiet = standing(0.2, 4, cautions=[LOUD]), standing(0.15, 4, cautions=[MUTE])
    three, six, seven = standing(0.1, cautions=[LOUD]), standing(0.3, 6), standing(0.4, 7)
    coarse = KnownLayouts(HERE, [loud, quiet, three, six, seven])
    found = anywhere(CELL, coarse).proposed(None)
    assert (found.answer, found.others) == (quiet, (three, six))
    assert coarse.asked == [(3, TIE, 7), (3, LEAST, 7), (4, TIE, 6), (4, LEAST, 6), (5, TIE, 5), (6, TIE, 4)]
    assert found.considered == sum(comb(9, number) for number in range(3, 9))
    assert coarse.others_asked == [(4, quiet)]
    coarse = KnownLayouts(HERE, [quiet])
    assert anywhere(CELL, coarse).proposed(None).answer == quiet
    assert [each for each in coarse.asked if each[1] == LEAST] == [], "the widest is quiet, so there is nothing to ask"


def test_without_a_number_and_none_quiet_the_widest_of_all_is_the_answer(anywhere: Callable[..., Anywhere]) -> None:
    layouts = [standing(margin, count, cautions=[LOUD]) for margin, count in ((0.1, 3), (0.3, 5), (0.2, 8))]
    coarse = KnownLayouts(HERE, layouts)
    found = anywhere(CELL, coarse).proposed(None)
    assert (found.answer, found.others) == (layouts[1], (layouts[0], layouts[2]))
    assert [number for number, floor, _ in coarse.asked if floor == TIE] == [3, 4, 5, 6, 7, 8]


@pytest.fixture
def nearest(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tell near misses as what was asked for."""
    monkeypatch.setattr(anywhere_search, "candidates", lambda here: [_named(each.name) for each in here.points])
    monkeypatch.setattr(
        anywhere_search,
        "why_nothing_fits",
        lambda search, founds, numbers: (((CheckName.PUSH, len(founds)),), (NEAR, search, numbers)),
    )


def _named(name: str) -> Support:
    return Support(name, STAND, "", "unit", (0.0, 0.0, 0.0))


@pytest.mark.usefixtures("nearest")
def test_where_nothing_fits_finer_cells_are_tried_round_what_comes_nearest_until_something_does(
    anywhere: Callable[..., Anywhere],
) -> None:
    near, fits_, wider = [(0, 1, 2, 3), (4, 5, 6)], standing(0.1), standing(0.2)
    grids = anywhere(
        0.1, KnownLayouts(HERE, near=near), KnownLayouts(HERE, [fits_], near=near), KnownLayouts(HERE, [wider])
    )
    found = grids.proposed(3)
    assert [(stands, pytest.approx(pitch)) for stands, pitch in grids.round[:3]] == [
        (["point 4", "point 5", "point 6"], 0.05),
        (names(fits_), 0.05),
        (names(wider), CELL),
    ]
    assert grids.searches[1].asked == [(3, TIE, 1)]
    assert grids.searches[2].asked == [(3, 0.1 + TIE, 1)]
    assert (found.answer, found.against, found.near) == (wider, (), ())
    assert grids.limits[1].work == 80.0
    assert grids.tellers[1] is _silent
    assert grids.searches[0].others_asked == []
    known = KnownLayouts(HERE, near=near), KnownLayouts(HERE, [fits_], near=near)
    assert anywhere(0.1, *known).proposed(3).answer == fits_, "where nothing finer does more, it is that"


@pytest.mark.usefixtures("nearest")
@pytest.mark.parametrize(("count", "most"), [(3, 3), (None, 8), (12, 9)])
def test_where_nothing_fits_even_among_the_finest_cells_it_says_what_is_against_and_what_is_near(
    anywhere: Callable[..., Anywhere], count: int | None, most: int
) -> None:
    near = [tuple(range(number)) for number in (3, 8, 9)]
    grids = anywhere(0.1, *(KnownLayouts(HERE, near=near) for _ in range(4)))
    found = grids.proposed(count)
    told = [each.name for each in HERE.points[:most]]
    assert [(stands, pytest.approx(pitch)) for stands, pitch in grids.round] == [(told, 0.05), (told, CELL)]
    numbers = range(3, 9) if count is None else range(count, count + 1)
    searched = {3: 3, None: 6, 12: 0}[count]
    assert found.against == ((CheckName.PUSH, searched),)
    assert found.near == (NEAR, grids.searches[0], numbers)
    assert (found.answer, found.runner_up, found.ended, found.cells) == (None, None, SearchEnd.DONE, Cells(0.1, CELL))


@pytest.mark.usefixtures("nearest")
def test_without_anything_near_no_finer_cells_are_tried(anywhere: Callable[..., Anywhere]) -> None:
    grids = anywhere(0.1, KnownLayouts(HERE))
    found = grids.proposed(3)
    assert (grids.round, found.cells, found.near[0]) == ([], Cells(0.1, 0.1), NEAR)
    stopped = anywhere(0.1, KnownLayouts(HERE, near=[(0, 1, 2)], stops_at=3))
    found = stopped.proposed(3)
    assert (stopped.round, found.ended, found.near, found.against) == ([], SearchEnd.INTERRUPT, (), ())
    ended = anywhere(0.1, KnownLayouts(HERE, near=[(0, 1, 2)]), KnownLayouts(HERE, near=[(0, 1, 2)], stops_at=3))
    assert ended.proposed(3).ended is SearchEnd.INTERRUPT
    assert len(ended.round) == 1


@pytest.mark.usefixtures("nearest")
def test_for_a_number_no_wider_one_of_more_stands_is_the_answer(anywhere: Callable[..., Anywhere]) -> None:
    more = standing(0.3, 4)
    found = anywhere(CELL, KnownLayouts(HERE, [more])).proposed(3)
    assert (found.answer, found.others) == (None, (more,))
