"""Labels that do not cover each other: each takes the nearest free place beside what it names."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil, dist, inf
from typing import NamedTuple, TypeAlias

import numpy as np

from loadplan.report.drawing.view import XY, Box

Sides: TypeAlias = np.ndarray[tuple[int, int], np.dtype[np.float64]]
"""Four rows: left, bottom, right and top of boxes [px]; or a matrix (boxes, others) of distances."""

Row: TypeAlias = np.ndarray[tuple[int], np.dtype[np.float64]]
"""A number a box."""

GAPS = (4, 12, 22, 34, 48, 64, 84, 108, 136, 170, 210, 260, 320)
"""Distances of a label from what it names that are tried, nearest first [px]."""

NEAR = 5
"""How many of them are looked at first."""

SIDES = (
    *((1, 0), (-1, 0), (0, 1), (0, -1)),
    *((1, 1), (-1, 1), (1, -1), (-1, -1)),
    *((1, 0.5), (-1, 0.5), (1, -0.5), (-1, -0.5)),
    *((1, 0.25), (-1, 0.25), (1, -0.25), (-1, -0.25)),
    *((0.5, 1), (-0.5, 1), (0.5, -1), (-0.5, -1)),
    *((1, 0.1), (-1, 0.1), (1, -0.1), (-1, -0.1)),
)
"""Directions that are tried: across and along the page, in half sizes of the label."""

SECOND_LOOK = 60
"""How many of the cheapest places are looked at again, for what their lines would run over."""

BEADS = 12
"""Places along a line that are looked at."""

ON = 5.0
"""Half side of the boxes that keep words off the lines of others [px]."""

CROSSING, TOUCHING = 30.0, 90.0
"""What one of them costs when it lies on something, and a line that touches other words, as distance [px]."""

OVER_LINE = 60.0
"""What it costs that a line runs over that of other words: at the crossing an eye may take the wrong one [px]."""

MISTAKEN, CLEARLY = 1000.0, 6.0
"""What it costs that a label, or a line from it, is at another's thing; how much nearer its own has to be [px]."""

APART, HUGGING = 32.0, 8.0
"""How far words with a line keep off other things of its kind [px], and what each px less costs."""

TRIES = 4
"""How often labels are placed anew, in another order, while one covers something; once where one misleads."""

STRIDE = 12
"""Distance of the places all over the frame that are tried where none beside what a label names is free [px]."""

CLOSE = 16
"""Distance [px] up to which a label needs no line to what it names."""


@dataclass(frozen=True, slots=True)
class Ground:
    """Where labels go.

    Attributes:
        taken: What must not be covered.
        lines: What had better not be covered.
        frame: Where they have to stay.
        words: Those of what must not be covered that are words: no line may touch them.
        leaders: Lines from words to what they name: others had better not run over them.
    """

    taken: tuple[Box, ...]
    lines: tuple[Box, ...]
    frame: Box
    words: tuple[Box, ...] = ()
    leaders: tuple[tuple[XY, XY], ...] = ()


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
        A place each, in the same order; where nothing is free, the place that covers and misleads least.
    """
    order = list(range(len(wanted)))
    # The same in every order, so they are laid out once.
    beside = [_around(label, GAPS[:NEAR]) for label in wanted]
    best = tried = _in_order(wanted, beside, order, ground)
    for number in range(TRIES):
        if not tried.wrong or (number and not tried.covers):
            break
        # What found no room of its own comes first in the next try: smaller labels find room between larger ones.
        order = [*tried.wrong, *(each for each in order if each not in tried.wrong)]
        tried = _in_order(wanted, beside, order, ground)
        best = min(best, tried, key=lambda each: sum(each.wrong.values()))
    return best.placed


def leader_beads(line: tuple[XY, XY]) -> list[Box]:
    """Return boxes along the line from a label to what it names: words on it would be taken for what it leads to.

    Args:
        line: Both its ends [px].

    Returns:
        Small boxes, none at the very ends.
    """
    # Side by side: a label fits between two that are apart.
    parts = max(BEADS, ceil(dist(*line) / (2 * ON)))
    return [Box(x - ON, y - ON, x + ON, y + ON) for x, y in _along(line, parts)]


def is_clear(line: tuple[XY, XY], boxes: Sequence[Box]) -> bool:
    """Tell whether a line runs over none of some boxes.

    Args:
        line: Both its ends [px].
        boxes: The boxes.

    Returns:
        Whether none has a part of it.
    """
    return not any(_cuts(line, each) for each in boxes)


class _Places(NamedTuple):
    """Places for a label, and how far each is from what it names [px]: as arrays, since there are many."""

    sides: Sides
    gaps: Row

    def box(self, number: int) -> Box:
        """Return one of them."""
        left, bottom, right, top = self.sides[:, number].tolist()
        return Box(left, bottom, right, top)


class _Chosen(NamedTuple):
    """A place, its distance from what the label names [px], and what it costs."""

    box: Box
    gap: float
    cost: float


@dataclass(frozen=True, slots=True)
class _AllPlaced:
    """Places of all labels, how wrong each is that covers or misleads, and whether any covers something."""

    placed: list[Placed]
    wrong: dict[int, float]
    covers: bool


def _in_order(wanted: list[Wanted], beside: list[_Places], order: list[int], ground: Ground) -> _AllPlaced:
    """Return a place for each label, taken in an order: one of those beside what it names, or else anywhere."""
    full, leaders = list(ground.taken), list(ground.lines)
    placed: dict[int, Placed] = {}
    wrong: dict[int, float] = {}
    covers = False
    for number in order:
        words = tuple(each.box for each in placed.values())
        led = tuple(each.leader for each in placed.values() if each.leader)
        label, here = wanted[number], replace(ground, taken=tuple(full), lines=tuple(leaders), words=words, leaders=led)
        box, gap, _ = _best_beside(beside[number], label, here)
        # Words under other words cannot be read, words at the end of a line can.
        if _covered(box, here):
            far = _around(label, GAPS[NEAR:]), _anywhere(label, ground.frame)
            box, gap, _ = _best(_together(beside[number], *far), label, here)
        misleads = float(_mistaken(_sides([box]), label)[0])
        apart = gap > CLOSE or misleads > 0
        covered = _covered(box, here)
        covers = covers or covered > 0
        # What is covered cannot be read at all: that counts before anything else.
        if worse := MISTAKEN * covered + misleads + (_over_rivals(box, label) if apart else 0.0):
            wrong[number] = worse
        full.append(box)
        placed[number] = Placed(box, _leader(box, label.anchor) if apart else None)
        # Words on the line of others would be taken for what it leads to.
        leaders += leader_beads(_leader(box, label.anchor)) if apart else []
    return _AllPlaced([placed[number] for number in range(len(wanted))], wrong, covers)


def _covered(box: Box, ground: Ground) -> float:
    """Return how much of what must not be covered a place covers [px²]."""
    return float(_overlaps(_sides([box]), ground.taken)[0])


def _best_beside(near: _Places, label: Wanted, ground: Ground) -> _Chosen:
    """Return the best place beside what a label names: no place costs less than its distance, so few are looked at."""
    best = _best(near, label, ground)
    if best.cost > GAPS[NEAR]:
        best = _best(_together(near, _around(label, GAPS[NEAR:])), label, ground)
    return best


def _together(*places: _Places) -> _Places:
    return _Places(np.hstack([each.sides for each in places]), np.hstack([each.gaps for each in places]))


def _around(label: Wanted, gaps: Sequence[float]) -> _Places:
    """Return places on all sides of what a label names, each with its distance, nearest first."""
    (wide, high), (across, along) = label.size, label.anchor.middle
    gap, side = np.repeat(np.array(gaps, dtype=np.float64), len(SIDES)), np.tile(np.array(SIDES).T, len(gaps))
    x = across + side[0] * (label.anchor.width / 2 + gap + wide / 2)
    y = along + side[1] * (label.anchor.height / 2 + gap + high / 2)
    return _Places(np.array([x - wide / 2, y - high / 2, x + wide / 2, y + high / 2]), gap)


def _best(places: _Places, label: Wanted, ground: Ground) -> _Chosen:
    """Return the place that costs least with what its line runs over; from the cheapest on, until none can win."""
    costs = _costs(places, label, ground)
    cheapest = np.argsort(costs, kind="stable")[:SECOND_LOOK].tolist()
    best, least = cheapest[0], inf
    for number in cheapest:
        cost, gap, box = float(costs[number]), float(places.gaps[number]), places.box(number)
        if cost >= least:
            break
        whole = cost + (_crossed(box, label, ground) if gap > CLOSE else 0.0)
        if whole < least and gap > CLOSE:
            whole += _over_rivals(box, label)
        if whole < least:
            best, least = number, whole
    return _Chosen(places.box(best), float(places.gaps[best]), least)


def _anywhere(label: Wanted, frame: Box) -> _Places:
    """Return places for a label all over the frame, each with its distance from what the label names."""
    wide, high = label.size
    lefts = np.arange(frame.left, frame.right - wide, STRIDE)
    lows = np.arange(frame.bottom, frame.top - high, STRIDE)
    left, low = np.repeat(lefts, len(lows)), np.tile(lows, len(lefts))
    sides = np.array([left, low, left + wide, low + high])
    return _Places(sides, _distances(sides, (label.anchor,))[:, 0])


def _costs(places: _Places, label: Wanted, ground: Ground) -> Row:
    """Return what each place costs by itself: what it covers, how far it is off, and on which side."""
    sides = places.sides
    grown = sides + np.array([[-2.0], [-2.0], [2.0], [2.0]])
    left, bottom, right, top = sides
    outside = (right - left) * (top - bottom) - _overlaps(sides, (ground.frame,))
    costs: Row = 20 * _overlaps(grown, ground.taken) + _overlaps(sides, ground.lines) + 1000 * outside + places.gaps
    costs += 0.4 * _against(sides, label) + _mistaken(sides, label)
    return costs


def _against(sides: Sides, label: Wanted) -> Row:
    """Return how far each candidate lies on the side that the label had better not be on [px]."""
    across, along = label.anchor.middle
    ahead = ((sides[0] + sides[2]) / 2 - across) * label.away[0] + ((sides[1] + sides[3]) / 2 - along) * label.away[1]
    behind: Row = np.maximum(0.0, -ahead)
    return behind


def _mistaken(sides: Sides, label: Wanted) -> Row:
    """Return what it costs that a candidate is as near to something else of its kind as to what it names."""
    own = _distances(sides, (label.anchor,))[:, 0]
    far = _distances(sides, label.rivals)
    near = far <= own[:, None] + CLEARLY
    # Where no place is nearest to its own, one that keeps off the others: the line to its own is believed sooner.
    costs: Row = (near * (MISTAKEN + HUGGING * np.maximum(0.0, APART - far))).sum(axis=1)
    return costs


def _distances(sides: Sides, others: tuple[Box, ...]) -> Sides:
    """Return how far each box is from each of the others [px], 0 where they touch."""
    one, two = sides[:, :, None], _sides(others)[:, None, :]
    wide = np.maximum(np.maximum(one[0] - two[2], two[0] - one[2]), 0.0)
    high = np.maximum(np.maximum(one[1] - two[3], two[1] - one[3]), 0.0)
    far: Sides = np.hypot(wide, high)
    return far


def _overlaps(sides: Sides, others: tuple[Box, ...]) -> Row:
    """Return the area that each box shares with all the others together [px²]."""
    two = _sides(others)
    # Most of what lies on a page is out of reach of all of them.
    near = (two[0] < sides[2].max()) & (two[2] > sides[0].min()) & (two[1] < sides[3].max()) & (two[3] > sides[1].min())
    areas: Row = (_shared(sides, two[:, near], 0) * _shared(sides, two[:, near], 1)).sum(axis=1)
    return areas


def _shared(sides: Sides, others: Sides, axis: int) -> Sides:
    """Return how much of each box's width (axis 0) or height (axis 1) each of the others shares [px]."""
    shared: Sides = np.minimum(sides[axis + 2][:, None], others[axis + 2])
    shared -= np.maximum(sides[axis][:, None], others[axis])
    return np.maximum(shared, 0.0, out=shared)


def _sides(boxes: Sequence[Box]) -> Sides:
    """Return left, bottom, right and top of boxes, a row each."""
    return np.array([(box.left, box.bottom, box.right, box.top) for box in boxes]).reshape(-1, 4).T


def _crossed(box: Box, label: Wanted, ground: Ground) -> float:
    """Return what it costs that the line from a place to what a label names runs over something."""
    beads = _beads(box, label.anchor)
    others = [other for other in ground.taken if not other.overlap(label.anchor.grown(1))]
    line = _leader(box, label.anchor)
    # Between two beads a line may cut off the corner of words.
    touched = TOUCHING * sum(_cuts(line, each) for each in ground.words)
    touched += OVER_LINE * sum(_meet(line, each) for each in ground.leaders)
    # A sign is smaller than the way from bead to bead, and a line over it seems to lead to it.
    signs = [other for other in others if other not in ground.words]
    runs_over = [max(sum(sign.holds(bead) for bead in beads), _cuts(line, sign)) for sign in signs]
    over_words = sum(other.holds(bead) for other in others if other in ground.words for bead in beads)
    return touched + CROSSING * (sum(runs_over) + over_words)


def _meet(one: tuple[XY, XY], other: tuple[XY, XY]) -> bool:
    """Return whether two straight lines cross: the ends of each lie on both sides of the other."""
    return all(_side(line, ends[0]) * _side(line, ends[1]) < 0 for line, ends in ((one, other), (other, one)))


def _side(line: tuple[XY, XY], place: XY) -> float:
    """Return twice the area between a line and a place [px²]: positive at its left, negative at its right."""
    (x, y), (across, along) = line
    return (across - x) * (place[1] - y) - (along - y) * (place[0] - x)


def _cuts(line: tuple[XY, XY], box: Box) -> bool:
    """Return whether a straight line has a part inside a box: where it is between both pairs of sides at once."""
    (x, y), (across, along) = line
    begins, ends = 0.0, 1.0
    for start, far, low, high in ((x, across - x, box.left, box.right), (y, along - y, box.bottom, box.top)):
        if far == 0:
            if not low < start < high:
                return False
            continue
        one, two = (low - start) / far, (high - start) / far
        begins, ends = max(begins, min(one, two)), min(ends, max(one, two))
    return begins < ends


def _over_rivals(box: Box, label: Wanted) -> float:
    """Return what it costs that the line from a place to what a label names runs over another thing of its kind."""
    beads = _beads(box, label.anchor)
    apart = [each for each in label.rivals if not each.overlap(label.anchor)]
    return MISTAKEN * sum(any(each.holds(bead) for bead in beads) for each in apart)


def _beads(box: Box, anchor: Box) -> list[XY]:
    """Return places along the line from a label to what it names."""
    return _along(_leader(box, anchor), BEADS)


def _along(line: tuple[XY, XY], parts: int) -> list[XY]:
    (x, y), (across, along) = line
    shares = [step / parts for step in range(1, parts)]
    return [(x + (across - x) * share, y + (along - y) * share) for share in shares]


def _leader(box: Box, anchor: Box) -> tuple[XY, XY]:
    """Return the line from the nearest place of a label's rim to the middle of what it names."""
    across, along = anchor.middle
    start = min(max(across, box.left), box.right), min(max(along, box.bottom), box.top)
    return start, (across, along)
