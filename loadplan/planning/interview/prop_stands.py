"""The stands under the heavy end of the vehicle: low while it hangs just over the unit, tall while it is up.

What reaches a raised vehicle seldom goes under one that has only just let go of its unit. So for each of the two a kind
of the shop is looked for that goes to the height wanted there, and where there is none it is told which is wanted.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isinf

from loadplan.model.shop import Equipment, EquipmentKind, Heights
from loadplan.model.vehicle import Point
from loadplan.planning.interview.answer_distances import told_as
from loadplan.planning.interview.answered_job import AnsweredJob
from loadplan.planning.interview.question import Ask
from loadplan.units import System

JUST_OVER = 0.05
"""How far the vehicle is raised over the unit at first, and comes down to at last [m]: common practice, no source."""

ROUGHLY = 0.01
"""How well the level of the unit is known before `heights` has set its stands [m]: settings lie so far from places."""


@dataclass(frozen=True, slots=True)
class PropRoom:
    """From floor to the place under the heavy end, while the vehicle is at one height or between two.

    Attributes:
        least: At least so high a stand has to go [m].
        most: At most so low it has to go [m]; infinite where nobody knows how far the lift rises.
    """

    least: float
    most: float

    def takes(self, equipment: Equipment) -> bool:
        """Return whether equipment can stand there."""
        heights = equipment.heights
        return heights is not None and heights.lowest <= self.most and heights.highest >= self.least


@dataclass(frozen=True, slots=True)
class PropStands:
    """What stands under the heavy end.

    Attributes:
        place: The place, None where nothing is wanted there.
        low: What stands there while the vehicle hangs just over the unit, None for nothing.
        tall: What stands there while it is up, None for nothing.
        low_room: The room there, just over the unit; None where nobody knows how high the unit stands.
        tall_room: The room while the vehicle is up.
    """

    place: Point | None
    low: Equipment | None = None
    tall: Equipment | None = None
    low_room: PropRoom | None = None
    tall_room: PropRoom | None = None

    @property
    def supports(self) -> dict[str, Equipment]:
        """The supports by their names, one for both heights where one kind goes to both."""
        named = ((self.low_name, self.low), (self.tall_name, self.tall))
        return {name: each for name, each in named if each is not None}

    @property
    def low_name(self) -> str:
        """The name of what stands there while the vehicle is low, "" for nothing."""
        if self.place is None or self.low is None:
            return ""
        return f"{self.place.name} prop" if self.low is self.tall else f"{self.place.name} stand"

    @property
    def tall_name(self) -> str:
        """The name of what stands there while the vehicle is up, "" for nothing."""
        return f"{self.place.name} prop" if self.place is not None and self.tall is not None else ""

    def lacking(self, system: System) -> Iterator[str]:
        """Tell which stands the shop lacks.

        Args:
            system: Units of the reader.

        Yields:
            A sentence for each.
        """
        if self.place is None:
            return
        over = just_over(system)
        if self.low is None and self.low_room is None:
            yield (
                f"What stands under {self.place.name} while the vehicle is {over} over the unit is not planned: nobody "
                "knows yet how high the unit stands. Plan a stand that just touches there."
            )
        elif self.low is None and self.low_room is not None:
            low, high = (_told(each, system) for each in (self.low_room.most, self.low_room.least))
            yield (
                f"No free stand of the shop goes under {self.place.name} while the vehicle is {over} over the unit: "
                f"one is needed that goes from {low} or less to {high} or more."
            )
        if self.tall_room is not None:
            yield from self._lacking_tall(self.tall_room, self.place.name, system)

    def _lacking_tall(self, room: PropRoom, place: str, system: System) -> Iterator[str]:
        """Yield that nothing goes there while the vehicle is up, or that the lift does not raise it so high."""
        low, high = _told(room.least, system), "" if isinf(room.most) else _told(room.most, system)
        if room.most < room.least:
            yield (
                f"The vehicle is clear of the unit with {place} {low} over the floor, and the lift raises it to {high} "
                "at the most: it does not come out like that."
            )
        elif self.tall is None:
            told = f"between {low} and {high}" if high else f"to {low} or more"
            yield (
                f"No free stand of the shop goes under {place} while the vehicle is up: one is needed that can be set "
                f"{told}."
            )


def just_over(system: System) -> str:
    """Tell how far the vehicle is raised over the unit at first.

    Args:
        system: Units of the reader.

    Returns:
        Such as "50 mm".
    """
    return "50 mm" if system is System.METRIC else "2 in"


def prop_stands(said: AnsweredJob) -> PropStands:
    """Choose what stands under the heavy end of the vehicle.

    Args:
        said: What the answers say of the job.

    Returns:
        For each of the two heights the strongest stand with a mechanical lock that goes there and is free; one for both
        where there is one.
    """
    place = said.prop_place
    if place is None:
        return PropStands(None)
    level = _level(said)
    low_room, tall_room = _low_room(place, level, said.lift.lock_step or 0.0), _tall_room(said, place, level or 0.0)
    free = sorted(_free_stands(said), key=lambda each: -each.rating_of_one)
    low = [each for each in free if low_room is not None and low_room.takes(each)]
    tall = [each for each in free if tall_room.takes(each)]
    both = [each for each in tall if each in low]
    return PropStands(
        place=place,
        low=next(iter(both or low), None),
        tall=next(iter(both or tall), None),
        low_room=low_room,
        tall_room=tall_room,
    )


def _low_room(place: Point, level: float | None, lock_step: float) -> PropRoom | None:
    """Return the room just over the unit, give or take what is not known of it yet: there, or at the next lock."""
    if level is None:
        return None
    height = place.at[2] + level + JUST_OVER
    return PropRoom(height + lock_step + ROUGHLY, height - ROUGHLY)


def _tall_room(said: AnsweredJob, place: Point, level: float) -> PropRoom:
    """Return the room while the vehicle is up: at least clear of the unit, at most as high as the lift goes."""
    bodies = {each.name: each for each in said.seen.vehicle.bodies}
    pads = [each.at[2] for each in said.pads]
    tops = [bodies[name].top for name in said.seen.unit]
    top = max((each for each in tops if each is not None), default=0.0)
    bottom = bodies[said.seen.held].bottom
    clear = max(top + level - (min(pads) if bottom is None else bottom), level + JUST_OVER)
    rise = said.lift.rise
    return PropRoom(place.at[2] + clear, float("inf") if rise is None else place.at[2] + rise - max(pads))


def _free_stands(said: AnsweredJob) -> Iterator[Equipment]:
    """Yield the kinds of stands of which a piece is left, and that no oil holds."""
    used = Counter(said.gear(letter).name for letter in said.places)
    for each in said.shop.equipment:
        left = each.usable_count is None or each.usable_count > used[each.name]
        if each.kind is EquipmentKind.STAND and each.locks and left:
            yield each


def _level(said: AnsweredJob) -> float | None:
    """Return how much higher than its file says the unit will stand [m]; None where nothing under it is set."""
    return level_of([
        (heights, point.at[2])
        for letter, point in said.places.items()
        if (heights := said.gear(letter).heights) is not None and said.gear(letter).kind is not EquipmentKind.HOIST
    ])


def level_of(set_up: Sequence[tuple[Heights, float]]) -> float | None:
    """Find how much higher than its file says a unit will stand.

    That level is sought at which the worst saddle is least off, the lowest of several: as `heights` does without shims.

    Args:
        set_up: What each stand can be set to, and how high its place is in the file [m].

    Returns:
        The level [m]; None where nothing is set up.
    """
    levels = {
        round(each - z, 4) for heights, z in set_up for each in (*heights.settings, heights.lowest, heights.highest)
    }
    return min(levels, key=lambda each: (round(_worst(set_up, each), 4), each), default=None)


def _worst(set_up: Sequence[tuple[Heights, float]], level: float) -> float:
    """Return how far the worst saddle is off at a level [m]."""
    return max(abs(heights.nearest(z + level) - z - level) for heights, z in set_up)


def _told(height: float, system: System) -> str:
    """Return a height in whole tens of millimetres, or to half an inch: it is not known better."""
    rounded = round(height, 2) if system is System.METRIC else round(height / 0.0254 * 2) / 2 * 0.0254
    return told_as(Ask.LENGTH, rounded, system)
