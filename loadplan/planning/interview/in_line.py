"""Stands in line: nothing balances on a line, so one more place is asked for beside it."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from math import dist

from loadplan.model.vehicle import JointKind, PlanPoint, Vehicle
from loadplan.planning.interview.question import Ask, Known, Question, Tie
from loadplan.planning.interview.unit_kinds import UnitKind

WIDE = 0.05
"""Places that lie within this of one line [m] are in line: no centre of gravity is known so well; no source."""


def in_line(places: Sequence[PlanPoint]) -> bool:
    """Return whether places lie in one line, or are fewer than three.

    Args:
        places: The places [m].

    Returns:
        Whether nothing can balance on them.

    Example:
        >>> in_line([(0, 0), (2, 0), (1, 0.04)]), in_line([(0, 0), (2, 0), (1, 0.06)])
        (True, False)
    """
    if len(places) < 3:
        return True
    one, other = max(combinations(places, 2), key=lambda ends: dist(*ends))
    length = dist(one, other)
    return all(_off(each, one, other) <= WIDE * length for each in places)


def lined_up(seats: Mapping[str, tuple[str, PlanPoint]], ties: Mapping[str, Sequence[PlanPoint]]) -> dict[str, str]:
    """Find the assemblies all of whose stands are in line, and that nothing else holds beside it.

    Args:
        seats: The assembly that each stand is under, and its place [m], by its letter.
        ties: Where mounts that stay tight hold each assembly [m].

    Returns:
        Letters of the stands under each of these assemblies.
    """
    bodies = dict.fromkeys(body for body, _ in seats.values())
    letters = {body: [each for each, (under, _) in seats.items() if under == body] for body in bodies}
    held = {body: [*(seats[each][1] for each in letters[body]), *ties.get(body, ())] for body in bodies}
    return {body: "".join(letters[body]) for body in bodies if in_line(held[body])}


def in_line_words(body: str, names: Sequence[str]) -> str:
    """Say that the stands under an assembly are in line.

    Args:
        body: The assembly.
        names: Its stands, or their places.

    Returns:
        A clause.

    Example:
        >>> in_line_words("powertrain", "EF")
        'what stands under the powertrain (E, F) is in one line, and nothing balances on a line'
    """
    return f"what stands under the {body} ({', '.join(names)}) is in one line, and nothing balances on a line"


def tie_places(kind: UnitKind, known: Known) -> dict[str, tuple[PlanPoint, ...]]:
    """Find where mounts and links that stay tight hold the two assemblies of a new unit to each other.

    Args:
        kind: The kind of unit.
        known: Value of each question so far.

    Returns:
        The places by assembly; one link alone holds along its line only, and nothing up.
    """
    count = known(Question("inner", "", Ask.WHOLE, "", str(kind.inner_ties), least=0, most=6)) if kind.inner else 0
    numbers = range(1, (count if isinstance(count, int) else 0) + 1)
    ties = [tie for each in numbers if isinstance(tie := known(Question(f"inner{each}", "", Ask.TIE)), Tie)]
    said = known(Question("inner1.kind", "", Ask.CHOICE, "", "mount", ("mount", "link")))
    alone = len(ties) == 1 and (ties[0].kind or said) == "link"
    places = () if alone else tuple(each.place[:2] for each in ties)
    return dict.fromkeys(kind.inner, places)


def lined_up_places(vehicle: Vehicle, bodies: Sequence[str], chosen: Sequence[str]) -> Iterator[tuple[str, list[str]]]:
    """Find the assemblies of a known vehicle all of whose chosen places are in line.

    Args:
        vehicle: The vehicle.
        bodies: The assemblies that come out.
        chosen: Names of the places that get a stand.

    Yields:
        Each such assembly, and the places under it.
    """
    inner = [each for each in vehicle.joints if set(each.between) <= set(bodies)]
    # What is bolted into one stands as one.
    whole = {each: each for each in bodies}
    for joint in (each for each in inner if each.kind is JointKind.BOLTED):
        one, other = (whole[each] for each in joint.between)
        whole = {name: one if each == other else each for name, each in whole.items()}
    holding: dict[str, list[PlanPoint]] = {each: [] for each in whole.values()}
    apart = [each for each in inner if len({whole[body] for body in each.between}) == 2]
    for joint in apart:
        beside = [each for each in apart if {whole[body] for body in each.between} == {whole[b] for b in joint.between}]
        if joint.kind is JointKind.MOUNT or len(beside) > 1:
            for body in joint.between:
                holding[whole[body]] += [each[:2] for each in joint.at]
    seats = {
        each.name: (whole[each.body], each.at[:2])
        for each in vehicle.points
        if each.name in chosen and each.body in whole
    }
    for body in lined_up(seats, holding):
        yield body, [name for name, (under, _) in seats.items() if under == body]


def _off(place: PlanPoint, one: PlanPoint, other: PlanPoint) -> float:
    """Return how far a place is from the line through two others, times how far these are apart [m2]."""
    return abs((other[0] - one[0]) * (place[1] - one[1]) - (other[1] - one[1]) * (place[0] - one[0]))
