"""What the answers say of a job: its lift and pads, what stands under which place, what comes off."""

from collections.abc import Mapping
from dataclasses import dataclass

from loadplan.model.shop import Equipment, EquipmentKind, Lift, Shop
from loadplan.model.vehicle import Point
from loadplan.planning.interview.known_vehicle import KnownVehicle, gear_of
from loadplan.planning.interview.question import Days, NamedWeight, Value
from loadplan.planning.interview.questions_on_vehicle import stand_letters
from loadplan.planning.interview.unit_kinds import UNIT_KINDS


@dataclass(frozen=True, slots=True)
class AnsweredJob:
    """What the answers say of a job.

    Attributes:
        known: Value of each answer.
        seen: Its vehicle.
        shop: Its shop.
    """

    known: Mapping[str, Value]
    seen: KnownVehicle
    shop: Shop

    @property
    def lift(self) -> Lift:
        """The lift that is used."""
        wanted = self.known.get("lift.use")
        return next((each for each in self.shop.lifts if each.name == wanted), self.shop.lifts[0])

    @property
    def pads(self) -> tuple[Point, ...]:
        """The places of its pads."""
        return self.seen.pad_like[: self.lift.arms]

    @property
    def places(self) -> dict[str, Point]:
        """The place of each stand, by its letter."""
        wanted = self.known.get("places")
        chosen = [each for each in self.seen.places if not isinstance(wanted, tuple) or each.name in wanted]
        return dict(zip(stand_letters(len(chosen)), chosen, strict=False))

    def gear(self, letter: str) -> Equipment:
        """Return what stands at a place."""
        uses = self.known.get("uses")
        said = [str(each) for each in uses] if isinstance(uses, tuple) else [gear_of(self.shop)[0]]
        own = [each.partition("=")[2] for each in said[1:] if each.partition("=")[0] == letter]
        name = own[-1] if own else said[0]
        return next(each for each in self.shop.equipment if each.name == name)

    @property
    def prop_place(self) -> Point | None:
        """Where a stand goes under the heavy end of the vehicle; None where none does, or somebody wants none."""
        places = self.seen.prop_places
        wanted = self.known.get("prop") is not False and not self.is_set_down
        return places[0] if places and wanted else None

    @property
    def off(self) -> tuple[str, ...]:
        """The parts that come off."""
        value = self.known.get("off")
        named = value if isinstance(value, tuple) else ()
        kind = UNIT_KINDS.get(str(self.known.get("what")))
        called = {lump.key: lump.called for lump in kind.lumps} if kind else {}
        names = (each.name if isinstance(each, NamedWeight) else str(each) for each in named)
        return tuple(called.get(each, each) for each in names)

    @property
    def on_again(self) -> tuple[str, ...]:
        """The same parts as they go on again: the last one that came off first, and before what it comes off after."""
        left = list(self.off)
        after = {part.name: part.after for part in self.seen.vehicle.parts}
        found: list[str] = []
        while left:
            # What comes off after others that are not on yet goes on before these.
            free = [name for name in left if not any(name in after.get(each, ()) for each in left)]
            found.append((free or left)[-1])
            left.remove(found[-1])
        return tuple(found)

    @property
    def is_one_day(self) -> bool:
        """Whether the work is said to begin and end on one day."""
        days = self.known.get("days")
        return isinstance(days, Days) and days.last in {None, days.first}

    @property
    def off_stands(self) -> tuple[str, ...]:
        """The stands that go with them; what hangs from the vehicle went with it."""
        value = self.known.get("off.stands")
        said = tuple(str(each) for each in value) if isinstance(value, tuple) and self.off else ()
        return tuple(each for each in said if each not in self.hung)

    @property
    def hung(self) -> tuple[str, ...]:
        """The letters of what hangs the unit from the vehicle: it goes when that is raised."""
        gear = {} if self.is_set_down else {letter: self.gear(letter) for letter in self.places}
        return tuple(letter for letter, each in gear.items() if each.kind is EquipmentKind.HOIST and each.locks)

    @property
    def is_set_down(self) -> bool:
        """Whether the vehicle itself is set down, and the lift goes."""
        return self.seen.unit == (self.seen.held,)
