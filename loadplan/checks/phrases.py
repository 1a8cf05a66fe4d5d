"""Words that the checks share: lists of names, quantities, and the way in which something tilts."""

from collections.abc import Sequence
from math import atan2, hypot, pi

from loadplan.model.answer import Motion
from loadplan.model.verdict import Measure, Quantity, Sentence

TURNS = 1e-6
"""Turn beside the heave [rad/m] below which a motion is straight up or down: its axis is 1000 km away."""

MOST_NAMED = 6
"""More parts than so many are not all named in a sentence: it would not be read to its end."""

NAMED = 3
"""So many of them are named then, and the rest counted."""

_EIGHTHS = ("front", "front left", "left", "back left", "back", "back right", "right", "front right")

AT_EDGE = ", leaning, with its weights and their places at the edge of their tolerance,"
"""What is told of the most that something carries with lean, slope, and weights off as far as they may be."""

WEIGH = "Find out better what it weighs and where."
"""What helps first against a load that only the tolerance of the weights makes too large."""


def length(metres: float) -> Quantity:
    """Return a length [m] to stand in a sentence."""
    return Quantity(metres, Measure.LENGTH)


def load(newtons: float) -> Quantity:
    """Return a load [N] to stand in a sentence, told as mass."""
    return Quantity(newtons, Measure.LOAD)


def force(newtons: float) -> Sentence:
    """Return a force [N] to stand in a sentence, as such and in brackets as the mass that weighs as much."""
    return (Quantity(newtons, Measure.FORCE), " (", load(newtons), ")")


def angle(radians: float) -> Quantity:
    """Return an angle [rad] to stand in a sentence."""
    return Quantity(radians, Measure.ANGLE)


def share(ratio: float) -> Quantity:
    """Return a share [1] to stand in a sentence, told in percent."""
    return Quantity(ratio, Measure.SHARE)


def names(items: Sequence[str], last: str = "and") -> str:
    """Join names as one says them.

    Args:
        items: Names, may be empty.
        last: Word before the last one.

    Returns:
        The names in one string.

    Example:
        >>> names(["A"]), names(["A", "B", "C"])
        ('A', 'A, B and C')
    """
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def few(items: Sequence[str]) -> str:
    """Join names as one says them, of many the first ones.

    Args:
        items: Names, may be empty.

    Returns:
        The names in one string, or the first of them and how many more there are.

    Example:
        >>> few(["A", "B", "C", "D", "E", "F"]), few(["A", "B", "C", "D", "E", "F", "G"])
        ('A, B, C, D, E and F', 'A, B, C and 4 more')
    """
    if len(items) <= MOST_NAMED:
        return names(items)
    return names([*items[:NAMED], f"{len(items) - NAMED} more"])


def some_of(items: Sequence[str], every: Sequence[str]) -> str:
    """Name some of several things in as few words as tell which they are.

    Args:
        items: Their names.
        every: Names of all, in order.

    Returns:
        The names, or what is not among them; where both are many, the first ones and how many more there are.

    Example:
        >>> some_of(["B"], "ABC"), some_of("ABCDEFG", "ABCDEFGH"), some_of("ABCDEFG", "ABCDEFG")
        ('B', 'all but H', 'all')
        >>> some_of("ABCDEFG", "ABCDEFGHIJKLMN")
        'A, B, C and 4 more'
    """
    others = [each for each in every if each not in items]
    if len(items) <= MOST_NAMED or len(others) > MOST_NAMED:
        return few(items)
    return f"all but {names(others)}" if others else "all"


def in_any_order_with(still_on: Sequence[str], every: Sequence[str]) -> str:
    """Say which of the parts that come off in any order are still on.

    Args:
        still_on: Their names.
        every: Names of all that come off in any order.

    Returns:
        Words to begin a sentence with.

    Example:
        >>> in_any_order_with(["head"], ["head", "sump"])
        'With head still on, of what comes off in any order'
    """
    return f"With {some_of(still_on, every)} still on, of what comes off in any order"


def several(items: Sequence[str], one: str, more: str) -> str:
    """Choose a word by how many there are.

    Args:
        items: What is counted.
        one: Word for a single one.
        more: Word for any other number.

    Returns:
        The word.

    Example:
        >>> several(["A"], "stands", "stand"), several(["A", "B"], "stands", "stand")
        ('stands', 'stand')
    """
    return one if len(items) == 1 else more


def turning_about(places: Sequence[str]) -> str:
    """Say what something turns about.

    Args:
        places: Supports and mounts that stay where they are while it goes over.

    Returns:
        Words to follow a comma.

    Example:
        >>> turning_about(["E", "rear roll link"]), turning_about([])
        ('turning about E and rear roll link', 'with nothing to hold it')
    """
    return f"turning about {names(places)}" if places else "with nothing to hold it"


def turns(motion: Motion) -> bool:
    """Return whether a motion turns its body, rather than only lifting or lowering it."""
    return hypot(motion.rx, motion.ry) > TURNS * abs(motion.w)


def low_side(motion: Motion) -> str:
    """Name the side that goes down.

    Args:
        motion: A motion of a body.

    Returns:
        One of eight directions as seen from the driver's seat, "" where it does not turn.

    Example:
        >>> low_side(Motion(0.0, 0.0, 0.1)), low_side(Motion(0.0, 0.1, -0.1)), low_side(Motion(-1.0, 0.0, 0.0))
        ('front', 'back right', '')
    """
    return eighth(atan2(-motion.rx, motion.ry)) if turns(motion) else ""


def eighth(angle_from_front: float) -> str:
    """Name one of eight directions as seen from the driver's seat.

    Args:
        angle_from_front: Direction in plan [rad], from forward towards the left.

    Returns:
        The nearest of eight.

    Example:
        >>> eighth(0.0), eighth(2.0), eighth(-1.6)
        ('front', 'back left', 'right')
    """
    return _EIGHTHS[round(angle_from_front / (pi / 4)) % 8]


def listed(clauses: Sequence[Sentence], between: str) -> Sentence:
    """Put clauses one after the other.

    Args:
        clauses: Clauses without a full stop.
        between: What stands between two of them.

    Returns:
        One clause, empty for none.

    Example:
        >>> listed([("one",), ("two",)], "; ")
        ('one', '; ', 'two')
    """
    told: Sentence = ()
    for place, clause in enumerate(clauses):
        told += (between, *clause) if place else clause
    return told
