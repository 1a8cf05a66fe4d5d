"""Ways from nothing off to all off, one part at a time: sets of parts as bits, the part j as the bit j."""

from collections.abc import Callable

import numpy as np

from loadplan.statics.parts_off_margins import Flags

Sets = np.ndarray[tuple[int, ...], np.dtype[np.int64]]


def closed(needs: tuple[int, ...]) -> Flags:
    """Tell which sets hold everything that must be off before their parts.

    Args:
        needs: For each of the n parts, what must be off before it, as bits.

    Returns:
        One flag a set (2ⁿ).

    Example:
        >>> closed((0, 1)).tolist()
        [True, True, False, True]
    """
    sets = np.arange(1 << len(needs), dtype=np.int64)
    whole = np.ones(len(sets), dtype=np.bool_)
    for part, before in enumerate(needs):
        if before:
            whole &= ((sets >> part) & 1 == 0) | (sets & before == before)
    return whole


def leads_on(allowed: Flags, parts: int) -> Flags:
    """Tell from which sets a way of allowed sets leads to all parts off.

    Args:
        allowed: One flag a set (2ⁿ).
        parts: Number of parts n.

    Returns:
        One flag a set; the first set need not be allowed itself where it is the empty one.
    """
    leads = np.zeros(len(allowed), dtype=np.bool_)
    leads[-1] = allowed[-1]
    layers = _layers(parts)
    # From the end back: a set leads on if one part more does, so that each is looked at once.
    for layer in range(parts, 0, -1):
        reached = layers[layer][leads[layers[layer]]]
        for part in range(parts):
            before = reached[(reached >> part) & 1 == 1] & ~(1 << part)
            leads[before] = True
        leads[layers[layer - 1]] &= allowed[layers[layer - 1]] | (layer == 1)
    return leads


def first_way(leads: Flags, parts: int) -> tuple[int, ...]:
    """Return the way to all off that takes the first part in the list wherever it can.

    Args:
        leads: From which sets a way leads on, the empty set among them.
        parts: Number of parts.

    Returns:
        Parts in the order in which they come off.

    Example:
        >>> first_way(leads_on(closed((0, 4, 0)), 3), 3)
        (0, 2, 1)
    """
    way: list[int] = []
    off = 0
    while len(way) < parts:
        # The first that leads on will do: from wherever it leads, the end is known to be in reach.
        part = next(each for each in range(parts) if not off >> each & 1 and leads[off | 1 << each])
        way.append(part)
        off |= 1 << part
    return tuple(way)


def _layers(parts: int) -> list[Sets]:
    """Return the sets with 0, 1, ... parts."""
    sizes = np.zeros(1, dtype=np.int64)
    for _ in range(parts):
        sizes = np.concatenate([sizes, sizes + 1])
    order = np.argsort(sizes, kind="stable").astype(np.int64)
    return np.split(order, np.cumsum(np.bincount(sizes))[:-1])


def narrowest_way(cost: Callable[[int, int], float], parts: int) -> tuple[float, tuple[int, ...]]:
    """Find the way from nothing off to all off whose dearest step costs least.

    What a way costs from a set on does not hang on how that set was reached, so each set is looked at once.

    Args:
        cost: What it costs to take a part (its number) off a set (as bits); inf where that must not be.
        parts: Number of parts.

    Returns:
        Cost of the dearest step (inf where there is no way), and the parts in order: of ways alike the one that takes
        the first part in the list.

    Example:
        >>> narrowest_way(lambda off, part: 5.0 if part == 0 and not off else 1.0, 2)
        (1.0, (1, 0))
    """
    every = (1 << parts) - 1
    left = [0.0] * (every + 1)
    choice = [0] * (every + 1)
    # With more parts off a set has a larger number: what it leads to is known by then.
    for off in range(every - 1, -1, -1):
        steps = [(max(cost(off, part), left[off | 1 << part]), part) for part in range(parts) if not off >> part & 1]
        left[off], choice[off] = min(steps)
    way: list[int] = []
    off = 0
    while off != every:
        way.append(choice[off])
        off |= 1 << choice[off]
    return left[0], tuple(way)
