"""Part above a saddle: what of an assembly lies nearest over a place of which nobody says on which part it is."""

from typing import NamedTuple

from loadplan.model.point_in_polygon import covers_point
from loadplan.model.vehicle import Place, Vehicle

REACH = 0.100
"""A part whose bottom is further over or under a place than this [m] is not what bears there; common practice, no
source."""

ALIKE = 1e-6
"""Heights that differ by less than a thousandth of a millimetre [m] are the same."""


class PartsAbove(NamedTuple):
    """The parts that may be what a saddle bears on.

    Attributes:
        names: Their names, in the file's order; empty where the assembly itself is nearer, or no part has an outline.
        certain: Whether nothing else can be: there is one, and it lies lower than the assembly's own bottom.
    """

    names: tuple[str, ...]
    certain: bool


def parts_above(vehicle: Vehicle, body: str, at: Place) -> PartsAbove:
    """Find which parts a saddle may bear on by where their bottoms lie.

    Args:
        vehicle: The vehicle.
        body: Body that the saddle bears on.
        at: Where [m].

    Returns:
        Of the parts with outline and bottom over that place, those whose bottom is nearest in height to it; none where
        the bottom of the body is nearer.
    """
    own = next(each for each in vehicle.bodies if each.name == body)
    far = {
        part.name: abs(part.bottom - at[2])
        for part in vehicle.parts
        if part.body == body and part.bottom is not None and part.outline and covers_point(part.outline, at[:2])
    }
    # The bottom of an assembly may be that of the very part: as near is in doubt, and told.
    itself = REACH if own.bottom is None else min(abs(own.bottom - at[2]), REACH)
    nearest = min(far.values(), default=REACH)
    if nearest > itself + ALIKE:
        return PartsAbove((), certain=False)
    names = tuple(name for name, apart in far.items() if apart <= nearest + ALIKE)
    lowest = [part.bottom for part in vehicle.parts if part.name in names and part.bottom is not None]
    lower = own.bottom is not None and bool(lowest) and max(lowest) < own.bottom - ALIKE
    return PartsAbove(names, certain=lower and len(names) == 1)


def part_under(vehicle: Vehicle, body: str, at: Place, said: str) -> str:
    """Say on which part a place is.

    Args:
        vehicle: The vehicle.
        body: Body that it is on.
        at: Where [m].
        said: What the file says, "" for nothing.

    Returns:
        That part, else the one that alone can be there; "" where neither tells.
    """
    above = parts_above(vehicle, body, at)
    return said or (above.names[0] if above.certain else "")
