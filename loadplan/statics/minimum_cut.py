"""The cheapest set of parts to have off, where some come off only after others."""

from collections import deque

Needs = tuple[tuple[int, int], ...]
"""Pairs (part, other): the part is off only if the other is off too."""


def cheapest_off(costs: tuple[float, ...], needs: Needs) -> frozenset[int]:
    """Choose the parts whose being off costs least in all, respecting what must be off before.

    A minimum closure is a minimum cut (Picard, Management Science 22, 1976, 1268-1272); the cut is found
    by shortest augmenting paths (Edmonds and Karp, 1972).

    Args:
        costs: What it adds to have each part off; negative where that is wanted.
        needs: What must be off before.

    Returns:
        Numbers of the parts that are off.

    Example:
        >>> sorted(cheapest_off((-2.0, 1.0, 5.0), ((0, 1),)))
        [0, 1]
        >>> sorted(cheapest_off((-2.0, 3.0, 5.0), ((0, 1),)))
        []
    """
    source, sink = len(costs), len(costs) + 1
    room: dict[int, dict[int, float]] = {node: {} for node in range(len(costs) + 2)}
    # What is wanted off hangs on the source, what costs hangs on the sink: a cut pays for each part on its wrong side.
    for part, cost in enumerate(costs):
        if cost < 0:
            _open(room, source, part, -cost)
        elif cost > 0:
            _open(room, part, sink, cost)
    for part, other in needs:
        # A cut through here would leave a part off whose need is on: at no price.
        _open(room, part, other, float("inf"))
    while sink in (came := _reached(room, source)):
        path = _path(came, sink)
        flow = min(room[start][end] for start, end in path)
        for start, end in path:
            room[start][end] -= flow
            # Room back, so that a later path can undo what this one took.
            room[end][start] += flow
    # What the source still reaches lies before the cut; of cuts that cost the same this leaves most parts on.
    return frozenset(came) - {source}


def _open(room: dict[int, dict[int, float]], start: int, end: int, width: float) -> None:
    room[start][end] = room[start].get(end, 0.0) + width
    room[end].setdefault(start, 0.0)


def _reached(room: dict[int, dict[int, float]], source: int) -> dict[int, int]:
    """Return every node that still has room on a way from the source, with the node it was reached from."""
    came = {source: source}
    waiting = deque([source])
    while waiting:
        node = waiting.popleft()
        for end, width in room[node].items():
            if width > 0 and end not in came:
                came[end] = node
                waiting.append(end)
    return came


def _path(came: dict[int, int], end: int) -> list[tuple[int, int]]:
    steps = []
    while came[end] != end:
        steps.append((came[end], end))
        end = came[end]
    return steps
