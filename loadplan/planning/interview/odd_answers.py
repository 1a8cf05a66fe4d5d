"""What is odd about an answer that can be: asked about, and taken when it is said again."""

from collections.abc import Mapping
from math import dist

from loadplan.limits import TAPE
from loadplan.model.vehicle import PlanPoint
from loadplan.planning.interview.answer_distances import as_said, told_as
from loadplan.planning.interview.question import Ask, Edges, Mark, Odd, Owned, Seat, Tie, Value, Weight
from loadplan.planning.interview.unit_kinds import UnitKind, UnitLump
from loadplan.units import System

BESIDE = 0.06
"""How far beside a lump's edges a place on it may be [m]: edges are measured roughly; no source."""

NEAR = 0.05
"""How near to each other two stands are taken for one said twice [m]; no source."""

AT_EDGE = 0.06
"""How far a stand's place is from the lowest edge of what it is taken to be under, at most [m]; no source."""

FAR_BELOW = 0.15
"""How far a stand's place may be over or under the lowest edge of its lump [m]; no source."""

REAR_FROM = 1.2
"""A rear unit ends at least so far behind the front axle line [m]: a short wheelbase is 2 m; no source."""

APART = 0.6
"""So far away from each other lumps of one unit are asked about [m]; no source."""

NEAR_PAD = 0.2
"""So near the middle of a lift pad [m] the base of a stand is in its way: most are up to 280 mm square; no source."""


def outside(ask: Ask, least: float, most: float, of: str) -> Odd:
    """Find odd what is less or more than usual.

    Args:
        ask: What was asked for.
        least: Least usual value [SI].
        most: Greatest usual value [SI].
        of: Of what.

    Returns:
        What asks about it.
    """

    def odd(value: Value, system: System) -> str:
        number = _number(value)
        if number is None or least <= number <= most:
            return ""
        told = _shown(ask, number, system)
        low, high = as_said(_shown(ask, least, system)), as_said(_shown(ask, most, system))
        if _amount(low) <= _amount(told) <= _amount(high):
            # Rounded, the bounds would take in what they are to exclude.
            low, high = _shown(ask, least, system), _shown(ask, most, system)
        return f"{told} is odd for {of}: most are {low} to {high}"

    return odd


def apart(least: float, most: float, of: str) -> Odd:
    """Find odd two places that are nearer together or further apart than usual.

    Args:
        least: Least usual distance [m].
        most: Greatest usual distance [m].
        of: Of what.

    Returns:
        What asks about it.
    """

    def odd(value: Value, system: System) -> str:
        if not isinstance(value, tuple) or len(value) != 2 or not all(isinstance(each, float) for each in value):
            return ""
        return outside(Ask.LENGTH, least, most, of)(abs(float(str(value[0])) - float(str(value[1]))), system)

    return odd


def box_of(lump: UnitLump, kind: UnitKind, others: Mapping[str, Edges]) -> Odd:
    """Find odd edges that are further apart, or nearer together, than those of a lump, or that lie somewhere else.

    Args:
        lump: The lump.
        kind: The kind of unit that it belongs to.
        others: Edges of the unit's other lumps as far as they are known, by their word.

    Returns:
        What asks about it.
    """

    def odd(value: Value, system: System) -> str:
        if not isinstance(value, Edges):
            return ""
        for low, high, along in zip(
            value.low, value.high, ("front to rear", "left to right", "top to bottom"), strict=True
        ):
            length = told_as(Ask.LENGTH, high - low, system)
            if high - low > 2.2:
                return f"{length} from {along} is odd for one {lump.key}"
            if high - low < 0.06:
                return f"{length} from {along} is odd for the {lump.key}: that thin?"
        return _elsewhere(value, kind, others, system)

    return odd


def _elsewhere(box: Edges, kind: UnitKind, others: Mapping[str, Edges], system: System) -> str:
    """Return what is odd about where a lump is: by the rear axle's line, or far from what comes out with it."""
    if kind.is_rear and box.low[0] > -REAR_FROM:
        rear = told_as(Ask.ALONG, box.low[0], system)
        return f"a rear edge {rear} is odd for a {kind.word}: all is measured from the front axle line"
    for key, other in others.items():
        # Along the way on which they are parted most; where they overlap it is less than nothing.
        sides = zip(box.low, box.high, other.low, other.high, strict=True)
        gap = max(max(low - end, start - high) for low, high, start, end in sides)
        if gap > APART:
            return f"that is {told_as(Ask.LENGTH, gap, system)} away from the {key}, which comes out with it"
    return ""


def near_pad(place: PlanPoint, pads: tuple[PlanPoint, ...], system: System) -> str:
    """Find odd a stand's place near a lift pad, where its base and the arm would want the same floor.

    Args:
        place: Where it stands [m].
        pads: The middles of the lift pads [m].
        system: Units of the reader.

    Returns:
        What is odd, to follow the place's name; "" for nothing.
    """
    off = min((dist(place, pad) for pad in pads), default=NEAR_PAD)
    if off >= NEAR_PAD:
        return ""
    return f"is {told_as(Ask.LENGTH, off, system)} from where a lift pad comes down, and its base stands in the way"


def under_floor(pads: float | None) -> Odd:
    """Find odd what would be under the floor on which the vehicle is measured: there is nothing of it.

    Args:
        pads: How high over the floor the lift pads touch [m], from which heights are measured; None where not known.

    Returns:
        What asks about it.
    """

    def odd(value: Value, system: System) -> str:
        low = _lowest(value)
        if pads is None or low is None or low >= -pads:
            return ""
        deep, high = (told_as(Ask.LENGTH, each, system) for each in (-pads - low, pads))
        return f"that is {deep} under the floor: the lift pads are {high} over it with the vehicle on its wheels"

    return odd


def first_odd(*those: Odd) -> Odd:
    """Ask what the first of several asks that finds anything odd.

    Args:
        those: What asks, in order.

    Returns:
        What asks about it.
    """

    def odd(value: Value, system: System) -> str:
        return next((told for each in those if (told := each(value, system))), "")

    return odd


def seat_on(
    boxes: Mapping[str, Edges], taken: Mapping[str, Seat], pads: tuple[PlanPoint, ...], at: Seat | None = None
) -> Odd:
    """Find odd a stand's place that is beside what it is under, near a lift pad, or where another stand is.

    Args:
        boxes: Edges of each lump, by its word.
        taken: Where other stands are, by their letter.
        pads: The middles of the lift pads [m].
        at: The place, where the question asks only what is over it.

    Returns:
        What asks about it.
    """

    def odd(value: Value, system: System) -> str:
        if at is not None:
            value = Seat(str(value), at.place)
        if not isinstance(value, Seat):
            return ""
        for letter, other in taken.items():
            if all(abs(one - two) < NEAR for one, two in zip(value.place[:2], other.place[:2], strict=True)):
                return f"stand {letter} is there already, within {told_as(Ask.LENGTH, NEAR, system)}"
        if near := near_pad(value.place[:2], pads, system):
            return f"that {near}"
        lump = value.lump or lump_over(value, boxes)
        return _beside(Seat(lump, value.place), boxes, system) if lump in boxes else ""

    return odd


def lump_over(seat: Seat, boxes: Mapping[str, Edges]) -> str:
    """Find what a stand is under where nobody said it.

    Args:
        seat: The stand's place.
        boxes: Edges of each lump, by its word.

    Returns:
        The only lump whose lowest edge is there, "" where none is or more than one may be meant.
    """
    if len(boxes) == 1:
        return next(iter(boxes))
    x, y, z = seat.place
    off = sorted((abs(z - box.low[2]), key) for key, box in boxes.items() if _covers(box, x, y))
    near = [key for far, key in off if far <= AT_EDGE and far < off[0][0] + AT_EDGE / 2]
    return near[0] if len(near) == 1 else ""


def _beside(seat: Seat, boxes: Mapping[str, Edges], system: System) -> str:
    """Return by how much a place is beside its lump, and what may be meant."""
    box = boxes[seat.lump]
    x, y, z = seat.place
    off = max(box.low[0] - x, x - box.high[0], box.low[1] - y, y - box.high[1])
    # What a stand is under is guessed with room to spare; whether anything is above it is judged without.
    if off > TAPE:
        told = f"that is {told_as(Ask.LENGTH, off, system)} beside the {seat.lump}"
        meant = ["left and right swapped"] if off > BESIDE and _covers(box, x, -y) else []
        meant += ["front and behind swapped"] if off > BESIDE and _covers(box, -x, y) else []
        others = [key for key, other in boxes.items() if key != seat.lump and _covers(other, x, y)]
        meant += [f"under the {others[0]} instead"] if others else []
        return f"{told}: {', or '.join(meant)}?" if meant else f"{told}: so nothing is above it, and it carries nothing"
    if abs(z - box.low[2]) > FAR_BELOW:
        lowest = told_as(Ask.UP, box.low[2], system)
        return f"the {seat.lump}'s lowest edge is {lowest} the pads, and this place is {told_as(Ask.UP, z, system)}"
    return ""


def _covers(box: Edges, x: float, y: float) -> bool:
    inside_x = box.low[0] - BESIDE <= x <= box.high[0] + BESIDE
    return inside_x and box.low[1] - BESIDE <= y <= box.high[1] + BESIDE


def _lowest(value: Value) -> float | None:
    """Return how far over the lift pads the lowest of a place or of edges is [m]; None of anything else."""
    match value:
        case Seat(place=place):
            return place[2]
        case Edges(low=low):
            return low[2]
        case Tie(place=place, to=to):
            return min(each[2] for each in (place, to) if each is not None)
        case (float(), float(), float() as up):
            return up
        case _:
            return None


def _number(value: Value) -> float | None:
    """Return what of a value may be much or little, None where there is nothing of that kind."""
    match value:
        case Weight():
            return value.mass
        case Mark():
            return value.rating
        case Owned():
            return float(value.count)
        case bool():
            return None
        case int() | float():
            return float(value)
        case _:
            return None


def _shown(ask: Ask, value: float, system: System) -> str:
    """Return a value with its unit; a number of things has none."""
    return f"{value:.0f}" if ask is Ask.WHOLE else told_as(ask, value, system)


def _amount(told: str) -> float:
    return float(told.partition(" ")[0])
