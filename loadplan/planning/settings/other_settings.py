"""Other settings: every other way to set a few saddles, or the nearest ones where there are too many.

All that counts for the loads is how high each saddle stands against its place, seen from the others: its rise. So the
ways are told by how far the rises lie apart, least first, and the window is widened as long as there are few enough of
them to be looked at. What turns to any height is not tried step by step: it follows the plane that what stops at steps
leaves, so that it comes to carry with them.
"""

from dataclasses import dataclass, replace
from itertools import product
from math import inf, prod

import numpy as np

from loadplan.planning.settings.saddle_settings import DIGITS, NEAR, Saddle, SharedSaddles, Shelf, Stacking
from loadplan.statics.mass import Array

MOST = 20_000
"""Ways that are looked at, at most."""

MOST_OF_ONE = 400
"""Ways to set one piece with several saddles; beyond, only shims alike on all of them are tried."""

WIDER = (0.0, 0.001, 0.002, 0.004, 0.008, 0.016, 0.032, 0.064)
"""How much further apart [m] than in the plan the rises may lie, tried in turn."""

Places = tuple[tuple[tuple[float, float], ...], ...]
"""Of each piece, where its saddles are in plan [m]."""

Choice = np.ndarray[tuple[int, ...], np.dtype[np.intp]]
"""Number of the option of each piece (c, p)."""


@dataclass(frozen=True, slots=True)
class PieceOption:
    """One way to set a piece.

    Attributes:
        height: What it is set to [m].
        kinds: Kind of shim on each saddle, None for none.
        rises: Height and shim less place of each saddle [m].
    """

    height: float
    kinds: tuple[int | None, ...]
    rises: tuple[float, ...]


def other_stackings(
    pieces: tuple[SharedSaddles, ...], shelf: Shelf, plan: Stacking, places: Places
) -> tuple[Stacking, ...]:
    """List how else the pieces can be set.

    Args:
        pieces: The pieces.
        shelf: The shims; at most one goes on a saddle.
        plan: How they are planned.
        places: Where their saddles are in plan [m].

    Returns:
        All ways, where they are few enough and nothing turns to any height; else those whose saddles lie least apart.
        Least uneven first; the plan itself may be among them. Of ways that differ only in how high the whole unit
        stands the one with the fewest shims.
    """
    bench = _Bench(pieces, shelf, plan)
    found = [_stacking(_turned(bench, chosen, places)) for chosen in bench.ways()]
    return tuple(
        sorted(found, key=lambda each: (round(each.largest, DIGITS), round(each.total, DIGITS), each.shims, each.level))
    )


class _Bench:
    """The options of each piece, and what is planned; a piece that turns to any height has the planned one alone."""

    def __init__(self, pieces: tuple[SharedSaddles, ...], shelf: Shelf, plan: Stacking) -> None:
        self.pieces = pieces
        saddles = iter(plan.saddles)
        self.planned = [_as_planned([next(saddles) for _ in piece.places], plan.level) for piece in pieces]
        self.options = [
            [planned] if piece.stepless else _options(piece, shelf)
            for piece, planned in zip(pieces, self.planned, strict=True)
        ]
        self._counts = np.array(shelf.counts)
        # How many shims of each kind an option takes; none of these numbers grows large.
        self._used = [
            np.array([[each.kinds.count(kind) for kind in range(len(shelf.counts))] for each in options])
            for options in self.options
        ]

    def ways(self) -> list[list[PieceOption]]:
        """Return one option a piece, in every way, or in those that lie least apart."""
        if prod(len(each) for each in self.options) <= MOST:
            found = self._within(inf)
            assert found is not None
            return self._unlike(found)
        rises = [
            rise
            for piece, each in zip(self.pieces, self.planned, strict=True)
            if not piece.stepless
            for rise in each.rises
        ]
        apart = max(rises) - min(rises)
        found = None
        for wider in WIDER:
            more = self._within(apart + wider + NEAR)
            if more is None:
                break
            found = more
        return [] if found is None else self._unlike(found)

    def _within(self, apart: float) -> Choice | None:
        """Return every way in which no two saddles that stop at steps lie further apart than that [m].

        Returns:
            Number of the option of each piece (c, p); None where there are too many.
        """
        chosen: Choice = np.zeros((1, 0), dtype=np.intp)
        low, high, used = np.array([inf]), np.array([-inf]), np.zeros((1, len(self._counts)))
        for piece, options, takes in zip(self.pieces, self.options, self._used, strict=True):
            fixed = not piece.stepless
            lowest = np.minimum(low[:, None], [min(each.rises) if fixed else inf for each in options])
            highest = np.maximum(high[:, None], [max(each.rises) if fixed else -inf for each in options])
            taken = used[:, None, :] + takes[None, :, :]
            # With saddles left to come, what is too far apart already, or lacks a shim, leads nowhere.
            kept = (highest - lowest <= apart) & (taken <= self._counts).all(axis=2)
            if kept.sum() > MOST:
                return None
            row, option = np.nonzero(kept)
            chosen = np.hstack([chosen[row], option[:, None]])
            low, high, used = lowest[kept], highest[kept], taken[kept]
        return chosen

    def _unlike(self, chosen: Choice) -> list[list[PieceOption]]:
        """Return the ways whose rises differ by more than one height for all, of those alike the one with least shims.

        Where something turns to any height it follows the others, as far as it goes: there their height tells, too.
        """
        made = [[options[number] for options, number in zip(self.options, row, strict=True)] for row in chosen]
        least: dict[tuple[float, ...], list[PieceOption]] = {}
        for way in sorted(made, key=_shims):
            rises = [
                rise for piece, each in zip(self.pieces, way, strict=True) if not piece.stepless for rise in each.rises
            ]
            against = 0.0 if any(piece.stepless for piece in self.pieces) else rises[0]
            least.setdefault(tuple(round(rise - against, DIGITS) for rise in rises), way)
        return list(least.values())


def _shims(way: list[PieceOption]) -> int:
    return sum(kind is not None for each in way for kind in each.kinds)


def _as_planned(saddles: list[Saddle], level: float) -> PieceOption:
    return PieceOption(
        saddles[0].height, tuple(each.shim for each in saddles), tuple(each.misfit + level for each in saddles)
    )


def _options(piece: SharedSaddles, shelf: Shelf) -> list[PieceOption]:
    """Return every way to set a piece that stops at steps."""
    count = len(piece.places)
    kinds = (None, *range(len(shelf.heights)))
    every = list(product(kinds, repeat=count))
    if len(every) * len(piece.settings) > MOST_OF_ONE:
        every = [(kind,) * count for kind in kinds]
    return [
        PieceOption(
            height,
            on,
            tuple(
                height + (0.0 if kind is None else shelf.heights[kind]) - place
                for kind, place in zip(on, piece.places, strict=True)
            ),
        )
        for height in piece.settings
        for on in every
    ]


def _turned(bench: _Bench, chosen: list[PieceOption], places: Places) -> list[PieceOption]:
    """Return a way in which what turns to any height stands in the plane of what does not.

    What cannot reach that plane stays where it stops, and then counts as what does not turn.
    """
    done = [not piece.stepless for piece in bench.pieces]
    made = list(chosen)
    for _ in range(len(made)):
        free = [number for number, each in enumerate(done) if not each]
        if not free or not any(done):
            break
        held = [number for number, each in enumerate(done) if each]
        plane = _plane(
            [at for number in held for at in places[number]], [rise for number in held for rise in made[number].rises]
        )
        for number in free:
            made[number], reached = _raised_to(bench.pieces[number], made[number], plane(places[number]))
            done[number] = not reached
        if not any(done[number] for number in free):
            break
    return made


@dataclass(frozen=True, slots=True)
class _Plane:
    """A plane of rises: at its middle, and its slopes along x and y."""

    middle: Array
    height: float
    slopes: Array

    def __call__(self, places: tuple[tuple[float, float], ...]) -> float:
        """Return its rise in the middle of some places [m]."""
        return self.height + float((np.mean(places, axis=0) - self.middle) @ self.slopes)


def _plane(places: list[tuple[float, float]], rises: list[float]) -> _Plane:
    """Return the plane that comes nearest to some rises, the flattest where several do (least squares)."""
    at, up = np.array(places), np.array(rises)
    middle, height = at.mean(axis=0), float(up.mean())
    slopes, *_ = np.linalg.lstsq(at - middle, up - height, rcond=1e-9)
    return _Plane(middle, height, slopes)


def _raised_to(piece: SharedSaddles, now: PieceOption, rise: float) -> tuple[PieceOption, bool]:
    """Return a piece turned so that its saddles' mean rise is the one asked for, and whether it goes that far."""
    wanted = now.height + rise - float(np.mean(now.rises))
    height = round(min(max(wanted, piece.settings[0]), piece.settings[-1]), DIGITS)
    by = height - now.height
    return replace(now, height=height, rises=tuple(each + by for each in now.rises)), abs(wanted - height) <= NEAR


def _stacking(chosen: list[PieceOption]) -> Stacking:
    """Return a way as a stacking: its level is midway between the saddles that are most too high and too low."""
    rises = [rise for each in chosen for rise in each.rises]
    level = round((max(rises) + min(rises)) / 2, DIGITS)
    return Stacking(
        level,
        tuple(
            Saddle(round(each.height, DIGITS), kind, round(rise - level, DIGITS) + 0.0)
            for each in chosen
            for kind, rise in zip(each.kinds, each.rises, strict=True)
        ),
    )
