"""Labels that do not cover each other: each takes the nearest free place beside what it names."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, inf

import numpy as np

from loadplan.report.drawing.view import XY, Box

GAPS = (4, 12, 22, 34, 48, 64, 84, 108, 136, 170, 210, 260, 320)
"""Distances of a label from what it names that are tried, nearest first [px]."""

SIDES = (
    *((1, 0), (-1, 0), (0, 1), (0, -1)),
    *((1, 1), (-1, 1), (1, -1), (-1, -1)),
    *((1, 0.5), (-1, 0.5), (1, -0.5), (-1, -0.5)),
    *((1, 0.25), (-1, 0.25), (1, -0.25), (-1, -0.25)),
    *((0.5, 1), (-0.5, 1), (0.5, -1), (-0.5, -1)),
)
"""Directions that are tried: across and along the page, in half sizes of the label."""

SECOND_LOOK = 60
"""How many of the cheapest places are looked at again, for what their lines would run over."""

BEADS = 12
"""Places along a line that are looked at."""

CROSSING = 30.0
"""What one of them costs when it lies on something, as distance [px]."""

MISTAKEN, CLEARLY = 150.0, 8.0
"""What it costs that a label might be taken for another's, and by how much nearer its own has to be, in px."""

CLOSE = 16
"""Distance [px] up to which a label needs no line to what it names."""


@dataclass(frozen=True, slots=True)
class Ground:
    """Where labels go.

    Attributes:
        taken: What must not be covered.
        lines: What had better not be covered.
        frame: Where they have to stay.
    """

    taken: tuple[Box, ...]
    lines: tuple[Box, ...]
    frame: Box


@dataclass(frozen=True, slots=True)
class Wanted:
    """A label that wants a place.

    Attributes:
        size: Its width and height [px].
        anchor: What it names, on the page.
        away: Direction in which it is better off, (0, 0) for any.
        rivals: Other things of its kind: nearer to one of them it would be taken for theirs.
    """

    size: tuple[float, float]
    anchor: Box
    away: XY
    rivals: tuple[Box, ...] = ()


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a label went.

    Attributes:
        box: Its place on the page.
        leader: Line from it to what it names; None where it stands close by.
    """

    box: Box
    leader: tuple[XY, XY] | None


def place_labels(wanted: list[Wanted], ground: Ground) -> list[Placed]:
    """Find a place for each label in turn.

    Args:
        wanted: Labels, the most important first.
        ground: Where they go.

    Returns:
        A place each, in the same order; where nothing is free, the place that covers least.
    """
    full = list(ground.taken)
    placed: list[Placed] = []
    for label in wanted:
        here = Ground(tuple(full), ground.lines, ground.frame)
        candidates: list[tuple[Box, float]] = [(_beside(label, side, gap), gap) for gap in GAPS for side in SIDES]
        costs = list(zip(_costs(candidates, label, here), candidates, strict=True))
        cheapest = sorted(costs, key=lambda each: each[0])[:SECOND_LOOK]
        box, gap = _best(cheapest, label, full)
        full.append(box)
        placed.append(Placed(box, _leader(box, label.anchor) if gap > CLOSE else None))
    return placed


def _best(cheapest: list[tuple[float, tuple[Box, float]]], label: Wanted, full: list[Box]) -> tuple[Box, float]:
    """Return the candidate that costs least with what its line runs over; from the cheapest on, until none can win."""
    best, least = cheapest[0][1], inf
    for cost, candidate in cheapest:
        if cost >= least:
            break
        whole = cost + _crossed(candidate, label, full)
        if whole < least:
            best, least = candidate, whole
    return best


def _beside(label: Wanted, side: tuple[float, float], gap: float) -> Box:
    wide, high = label.size
    across, along = label.anchor.middle
    x = across + side[0] * (label.anchor.width / 2 + gap + wide / 2)
    y = along + side[1] * (label.anchor.height / 2 + gap + high / 2)
    return Box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)


def _costs(candidates: list[tuple[Box, float]], label: Wanted, ground: Ground) -> list[float]:
    """Return what each candidate costs by itself: what it covers, how far it is off, and on which side."""
    boxes = [box for box, _ in candidates]
    covered = _overlaps([box.grown(2) for box in boxes], ground.taken)
    crossed = _overlaps(boxes, ground.lines)
    outside = [box.width * box.height - box.overlap(ground.frame) for box in boxes]
    return [
        20 * covers + crosses + 1000 * out + gap + 0.4 * _against(box, label) + _mistaken(box, label)
        for covers, crosses, out, (box, gap) in zip(covered, crossed, outside, candidates, strict=True)
    ]


def _against(box: Box, label: Wanted) -> float:
    """Return how far a candidate lies on the side that the label had better not be on [px]."""
    across, along = box.middle[0] - label.anchor.middle[0], box.middle[1] - label.anchor.middle[1]
    return max(0.0, -(across * label.away[0] + along * label.away[1]))


def _mistaken(box: Box, label: Wanted) -> float:
    """Return what it costs that a candidate is as near to something else of its kind as to what it names."""
    own = _gap(box, label.anchor)
    return MISTAKEN * sum(_gap(box, rival) <= own + CLEARLY for rival in label.rivals)


def _gap(one: Box, other: Box) -> float:
    """Return the distance between two boxes [px], 0 where they touch."""
    wide = max(one.left - other.right, other.left - one.right, 0.0)
    high = max(one.bottom - other.top, other.bottom - one.top, 0.0)
    return hypot(wide, high)


def _overlaps(boxes: list[Box], others: tuple[Box, ...]) -> list[float]:
    """Return the area that each box shares with all the others together [px²]."""
    one, two = _sides(boxes)[:, :, None], _sides(others)[:, None, :]
    wide = np.minimum(one[2], two[2]) - np.maximum(one[0], two[0])
    high = np.minimum(one[3], two[3]) - np.maximum(one[1], two[1])
    areas: list[float] = (np.maximum(wide, 0.0) * np.maximum(high, 0.0)).sum(axis=1).tolist()
    return areas


def _sides(boxes: Sequence[Box]) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    return np.array([(box.left, box.bottom, box.right, box.top) for box in boxes]).reshape(-1, 4).T


def _crossed(candidate: tuple[Box, float], label: Wanted, full: list[Box]) -> float:
    """Return what it costs that the line of a candidate runs over something."""
    box, gap = candidate
    if gap <= CLOSE:
        return 0.0
    (x, y), (across, along) = _leader(box, label.anchor)
    shares = [step / BEADS for step in range(1, BEADS)]
    beads = [(x + (across - x) * share, y + (along - y) * share) for share in shares]
    others = [other for other in full if not other.overlap(label.anchor.grown(1))]
    return CROSSING * sum(other.holds(bead) for other in others for bead in beads)


def _leader(box: Box, anchor: Box) -> tuple[XY, XY]:
    """Return the line from the nearest place of a label's rim to the middle of what it names."""
    across, along = anchor.middle
    start = min(max(across, box.left), box.right), min(max(along, box.bottom), box.top)
    return start, (across, along)
