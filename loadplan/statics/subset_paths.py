"""Ways from nothing off to all off, one part at a time: sets of parts as bits, the part j as the bit j."""

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
