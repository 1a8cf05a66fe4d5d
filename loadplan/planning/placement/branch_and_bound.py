"""Branch and bound over layouts: whatever is to be better must block the first motion left open."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import combinations
from math import inf

from loadplan.planning.placement.blocked_modes import Cover


@dataclass(slots=True)
class Branches:
    """How many branches may still be looked at.

    Attributes:
        left: So many; infinite where nothing bounds them.
    """

    left: float = inf


@dataclass(frozen=True, slots=True)
class Choices:
    """What a layout may be made of.

    Attributes:
        cover: What each candidate blocks.
        count: Number of stands.
        allowed: Candidates that can be served, as bits.
        apart: For each candidate, those that cannot stand beside it, as bits.
        branches: What may still be looked at; where it is used up, what is found is not all there is.
    """

    cover: Cover
    count: int
    allowed: int
    apart: tuple[int, ...]
    branches: Branches = field(default_factory=Branches)


Members = tuple[int, ...]


def widest(choices: Choices, known: float, tell: Callable[[float], None]) -> float:
    """Find the greatest margin of any layout.

    Args:
        choices: What layouts may be made of.
        known: Margin that is known to be had elsewhere; only larger ones are looked for [m].
        tell: Called with each larger margin that is found [m].

    Returns:
        The margin [m]; `known` where there is no larger one.
    """
    found = known

    def better(union: int, allowed: int, slots: int) -> None:
        nonlocal found
        reached = choices.cover.margin(union)
        # Whether the rest fits is a search of its own, so it is asked only of what would be a record.
        if reached > found and _fits(choices, allowed, slots):
            found = reached
            tell(found)
        # Even with every candidate that is left it would be no better: nothing below is looked at.
        choices.branches.left -= 1
        if choices.branches.left < 0:
            return
        if slots == 0 or reached == inf or choices.cover.margin(union | _all(choices, allowed)) <= found:
            return
        for member, rest in _blockers(choices, union, allowed):
            better(union | choices.cover.blocked[member], rest, slots - 1)

    better(0, choices.allowed, choices.count)
    return found


def at_least(choices: Choices, floor: float) -> Iterator[tuple[float, Members]]:
    """Find every layout whose margin is not below a floor.

    Args:
        choices: What layouts may be made of.
        floor: Margin [m].

    Yields:
        Margin [m] and members, each layout once, in no order.
    """
    yield from _reaching(choices, floor, (), (0, choices.allowed))


def _reaching(
    choices: Choices, floor: float, members: Members, open_: tuple[int, int]
) -> Iterator[tuple[float, Members]]:
    """Yield the layouts that begin with some members and whose margin is not below a floor, as long as work is left."""
    union, allowed = open_
    slots = choices.count - len(members)
    choices.branches.left -= 1
    if choices.branches.left < 0:
        return
    if choices.cover.margin(union) >= floor:
        yield from _filled(choices, members, open_)
    elif slots and choices.cover.margin(union | _all(choices, allowed)) >= floor:
        for member, rest in _blockers(choices, union, allowed):
            yield from _reaching(choices, floor, (*members, member), (union | choices.cover.blocked[member], rest))


def _filled(choices: Choices, members: Members, open_: tuple[int, int]) -> Iterator[tuple[float, Members]]:
    """Yield the layouts that fill up with any others; more stands never take margin away."""
    union, allowed = open_
    for others in combinations(list(_bits(allowed)), choices.count - len(members)):
        if all(not choices.apart[first] >> second & 1 for first, second in combinations(others, 2)):
            whole = union
            for other in others:
                whole |= choices.cover.blocked[other]
            yield choices.cover.margin(whole), tuple(sorted((*members, *others)))


def _blockers(choices: Choices, union: int, allowed: int) -> Iterator[tuple[int, int]]:
    """Yield the candidates that block the first open motion, widest first, and what may still follow each.

    One that was tried is not allowed beside those after it, so no layout comes twice.
    """
    first = choices.cover.open(union)
    blocked = choices.cover.blocked
    members = [member for member in _bits(allowed) if blocked[member] >> first & 1]
    # Widest first: a good record early cuts off most of what follows.
    members.sort(key=lambda member: -choices.cover.open(union | blocked[member]))
    for member in members:
        allowed &= ~(1 << member)
        yield member, allowed & ~choices.apart[member]


def _all(choices: Choices, allowed: int) -> int:
    union = 0
    for member in _bits(allowed):
        union |= choices.cover.blocked[member]
    return union


def _fits(choices: Choices, allowed: int, slots: int) -> bool:
    """Return whether the slots left can be filled, beside each other, from what is allowed."""
    if slots == 0:
        return True
    for member in _bits(allowed):
        allowed &= ~(1 << member)
        if _fits(choices, allowed & ~choices.apart[member], slots - 1):
            return True
    return False


def _bits(number: int) -> Iterator[int]:
    while number:
        # The lowest bit alone: of hundreds of candidates only those that are there are looked at.
        low = number & -number
        yield low.bit_length() - 1
        number ^= low
