"""Set heights and shims: against every choice where all is in steps, and a fine scan of levels where it is not.

All cases are small and made up.
"""

from collections.abc import Iterator
from itertools import product
from math import inf
from random import Random

import numpy as np
import pytest

from loadplan.planning.settings.assignment import share_out
from loadplan.planning.settings.saddle_settings import SharedSaddles, Shelf, Stacking
from loadplan.planning.settings.shim_stacking import stack

RANKS = 5e-9
"""Lengths that the search calls equal [m]."""

Rank = tuple[float, float, int, float]
"""Largest misfit, sum of misfits, shims, level."""

STEPS = tuple(round(0.29 + 0.02 * number, 3) for number in range(8))


def rank(found: Stacking) -> Rank:
    return found.largest, found.total, found.shims, found.level


def shims_for(saddles: int, shelf: Shelf) -> Iterator[tuple[int | None, ...]]:
    for kinds in product([None, *range(len(shelf.heights))], repeat=saddles):
        if all(kinds.count(kind) <= count for kind, count in enumerate(shelf.counts)):
            yield kinds


def every_choice(pieces: tuple[SharedSaddles, ...], shelf: Shelf) -> Rank:
    """The first of all settings, shims and the level in the middle of each, in the order of the ranks."""
    owners = [number for number, piece in enumerate(pieces) for _ in piece.places]
    places = np.array([place for piece in pieces for place in piece.places])
    found = []
    for kinds in shims_for(len(owners), shelf):
        under = np.array([0.0 if kind is None else shelf.heights[kind] for kind in kinds])
        for settings in product(*(piece.settings for piece in pieces)):
            fits = np.array([settings[owner] for owner in owners]) + under - places
            level = (fits.max() + fits.min()) / 2
            off = np.abs(fits - level)
            shims = sum(kind is not None for kind in kinds)
            found.append((round(off.max(), 8), round(off.sum(), 8), shims, round(level, 8)))
    return min(found)


def scan(pieces: tuple[SharedSaddles, ...], shelf: Shelf, step: float) -> list[Rank]:
    """What every choice of shims comes to at many levels; pieces with one saddle only."""
    lifts = (0.0, *shelf.heights)
    ends = [setting + lift - piece.places[0] for piece in pieces for setting in piece.settings for lift in lifts]
    found = []
    for level in np.arange(min(ends), max(ends) + step, step):
        for kinds in shims_for(len(pieces), shelf):
            lift = [0.0 if kind is None else shelf.heights[kind] for kind in kinds]
            off = [_off(piece, level - under) for piece, under in zip(pieces, lift, strict=True)]
            found.append((max(off), sum(off), sum(kind is not None for kind in kinds), float(level)))
    return found


def _off(piece: SharedSaddles, level: float) -> float:
    wanted = level + piece.places[0]
    if piece.stepless:
        return max(piece.settings[0] - wanted, wanted - piece.settings[1], 0.0)
    return min(abs(setting - wanted) for setting in piece.settings)


def in_steps(random: Random) -> tuple[tuple[SharedSaddles, ...], Shelf]:
    pieces = tuple(
        SharedSaddles(
            settings=tuple(sorted(random.sample(STEPS, random.randint(1, 4)))),
            stepless=False,
            places=tuple(round(random.uniform(0.15, 0.3), 3) for _ in range(random.choice((1, 1, 1, 2)))),
        )
        for _ in range(random.randint(1, 4))
    )
    kinds = random.sample((0.006, 0.010, 0.012, 0.025), random.randint(0, 2))
    return pieces, Shelf(tuple(kinds), tuple(random.randint(0, 2) for _ in kinds))


@pytest.mark.parametrize("number", range(60))
def test_in_steps_it_is_the_first_of_every_choice(number: int) -> None:
    pieces, shelf = in_steps(Random(number))
    assert rank(stack(pieces, shelf)) == pytest.approx(every_choice(pieces, shelf), abs=RANKS)


@pytest.mark.parametrize("number", range(12))
def test_stepless_or_not_no_level_of_a_fine_scan_is_better(number: int) -> None:
    random = Random(1000 + number)
    pieces = tuple(
        SharedSaddles(
            (low, round(low + random.uniform(0.005, 0.05), 3)),
            random.random() < 0.6,
            (round(random.uniform(0.2, 0.27), 3),),
        )
        for low in (round(random.uniform(0.29, 0.34), 3) for _ in range(random.randint(2, 3)))
    )
    shelf = Shelf((0.012,), (1,))
    found, step = stack(pieces, shelf), 1e-4
    scanned = scan(pieces, shelf, step)
    assert found.largest - RANKS <= min(scanned)[0] <= found.largest + step
    equal = [each for each in scanned if each[0] <= found.largest + RANKS]
    assert all(found.total <= total + RANKS for _, total, _, _ in equal)
    assert all(found.shims <= shims for _, total, shims, _ in equal if total <= found.total + RANKS)
    assert _holds_together(pieces, shelf, found)


@pytest.mark.parametrize("number", range(40))
def test_what_is_told_adds_up(number: int) -> None:
    pieces, shelf = in_steps(Random(500 + number))
    assert _holds_together(pieces, shelf, stack(pieces, shelf))


def _holds_together(pieces: tuple[SharedSaddles, ...], shelf: Shelf, found: Stacking) -> bool:
    rows = [(piece, place) for piece in pieces for place in piece.places]
    for (piece, place), saddle in zip(rows, found.saddles, strict=True):
        under = 0.0 if saddle.shim is None else shelf.heights[saddle.shim]
        assert saddle.misfit == pytest.approx(saddle.height + under - place - found.level, abs=2e-9)
        if piece.stepless:
            assert piece.settings[0] - 1e-9 <= saddle.height <= piece.settings[1] + 1e-9
        else:
            assert min(abs(saddle.height - setting) for setting in piece.settings) < 1e-9
    used = [saddle.shim for saddle in found.saddles if saddle.shim is not None]
    return all(used.count(kind) <= count for kind, count in enumerate(shelf.counts))


def test_what_fits_stepless_takes_no_shim_and_the_lowest_level() -> None:
    pieces = (
        SharedSaddles((0.3, 0.4), stepless=True, places=(0.2,)),
        SharedSaddles((0.29, 0.45), stepless=True, places=(0.21,)),
    )
    assert rank(stack(pieces, Shelf((0.01,), (inf,)))) == pytest.approx((0, 0, 0, 0.1), abs=1e-9)


def test_the_saddles_of_one_piece_share_its_setting() -> None:
    table = SharedSaddles((0.3, 0.4), stepless=True, places=(0.20, 0.21, 0.20, 0.21))
    found = stack((table,), Shelf((0.01,), (1,)))
    assert len({saddle.height for saddle in found.saddles}) == 1
    assert found.largest == pytest.approx(0.005)


def test_where_a_table_settles_the_largest_misfit_the_others_still_fit_as_well_as_they_can() -> None:
    table, stand = (
        SharedSaddles((0.2, 0.5), stepless=True, places=(0.20, 0.21)),
        SharedSaddles((0.30,), stepless=False, places=(0.2,)),
    )
    assert rank(stack((table, stand), Shelf((), ()))) == pytest.approx((0.005, 0.010, 0, 0.1), abs=RANKS)


def test_a_table_goes_no_higher_than_it_reaches() -> None:
    """By hand: the stand fits 300 mm up, the table's higher place 190 mm up at most: halfway each is 55 mm off."""
    table = SharedSaddles((0.3, 0.4), stepless=True, places=(0.20, 0.21))
    stand = SharedSaddles((0.5,), stepless=False, places=(0.2,))
    found = stack((table, stand), Shelf((), ()))
    assert [saddle.height for saddle in found.saddles] == [0.4, 0.4, 0.5]
    assert [saddle.misfit for saddle in found.saddles] == pytest.approx([-0.045, -0.055, 0.055])


def test_only_as_many_shims_are_laid_as_there_are() -> None:
    steps = (0.30,)
    pieces = tuple(SharedSaddles(steps, stepless=False, places=(place,)) for place in (0.20, 0.21, 0.21, 0.21))
    scarce, plenty = (stack(pieces, Shelf((0.01,), (count,))) for count in (2.0, 3.0))
    assert (plenty.largest, plenty.shims) == pytest.approx((0.0, 3), abs=1e-9)
    assert scarce.largest == pytest.approx(0.005)


def test_sharing_out_makes_others_change_over() -> None:
    costs = np.array([[9.0, 1.0, 2.0], [9.0, 1.0, 9.0]])
    shared = share_out(costs, np.array([inf, 1.0, 1.0]))
    assert shared is not None
    assert shared.tolist() == [2, 1]


@pytest.mark.parametrize("number", range(60))
def test_sharing_out_costs_as_little_as_any_way(number: int) -> None:
    random = Random(number)
    takers, kinds = random.randint(1, 5), random.randint(1, 4)
    costs = np.array([[random.choice((random.random(), inf)) for _ in range(kinds)] for _ in range(takers)])
    counts = np.array([float(random.randint(0, 3)) for _ in range(kinds)])
    ways = [way for way in product(range(kinds), repeat=takers) if all(way.count(kind) <= counts[kind] for kind in way)]
    least = min((sum(costs[taker, kind] for taker, kind in enumerate(way)) for way in ways), default=inf)
    shared = share_out(costs, counts)
    assert (shared is None) == (least == inf), "what does not do is no way"
    cost = inf if shared is None else float(costs[np.arange(takers), shared].sum())
    assert cost == pytest.approx(least)
