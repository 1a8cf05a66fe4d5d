"""Saddle heights that fit places of different heights: settings in steps, and a few shims to share out.

Everything hangs on the level: how much higher the unit stands than its file says. At a given level each saddle takes
the setting and the shim that come nearest, as far as the shims go. The largest misfit is then found by halving; at each
trial size only those levels are tried at which some saddle just comes within it, since nothing changes in between.
"""

import numpy as np

from loadplan.planning.settings.saddle_settings import NEAR, SettingsProblem, SharedSaddles, Shelf, Stacking

ALIKE = 10 * NEAR
"""Misfits and sums of them that differ by less [m] are the same."""

HALVINGS = 50
"""Halvings after which nothing is left of a misfit."""


def stack(pieces: tuple[SharedSaddles, ...], shelf: Shelf) -> Stacking:
    """Choose level, settings and shims with the smallest largest misfit.

    Ties: the smaller sum of misfits, then fewer shims, then the lower level.

    Args:
        pieces: At least one.
        shelf: The shims; at most one goes on a saddle.

    Returns:
        The choice.

    Example:
        >>> settings = (0.30, 0.32)
        >>> pair = (SharedSaddles(settings, False, (0.2,)), SharedSaddles(settings, False, (0.212,)))
        >>> found = stack(pair, Shelf((0.012,), (1,)))
        >>> [(each.height, each.shim) for each in found.saddles], round(found.level, 3)
        ([(0.3, None), (0.3, 0)], 0.1)
    """
    bench = SettingsProblem(pieces, shelf)
    largest = _smallest_misfit(bench)
    # With the largest settled, the sum bends at these levels only: its least is at one of them.
    levels = np.concatenate([bench.touching(largest), bench.leaving(largest), bench.meeting])
    found = _first([each for level in bench.possible(levels, largest) for each in bench.at(level, largest)])
    return _first(list(bench.at(_midway(found), largest)) or [found])


def _first(found: list[Stacking]) -> Stacking:
    # Rounding differs from level to level: what is alike within it must not be ranked by it.
    largest = min(each.largest for each in found) + ALIKE
    total = min(each.total for each in found if each.largest <= largest) + ALIKE
    tied = (each for each in found if each.largest <= largest and each.total <= total)
    return min(tied, key=lambda each: (each.shims, each.level))


def _midway(found: Stacking) -> float:
    """Return the level midway between the saddles that are most too high and too low, where these settle it."""
    off = [each.misfit for each in found.saddles]
    settled = min(max(off), -min(off)) >= found.largest - ALIKE > 0
    return found.level + (max(off) + min(off)) / 2 if settled else found.level


def _smallest_misfit(bench: SettingsProblem) -> float:
    """Return the least M for which some level brings every saddle within M, a hair above."""
    low, high = 0.0, bench.enough
    if bench.fits(0.0):
        return 0.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if bench.fits(middle) else (middle, high)
        if high - low < NEAR / 100:
            break
    # The upper end, which is known to fit.
    return high
