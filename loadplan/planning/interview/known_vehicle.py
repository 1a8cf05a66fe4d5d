"""What a vehicle's file tells of a job: what the lift holds, what comes out, where pads and prop go."""

from dataclasses import dataclass

from loadplan.model.shop import Equipment, EquipmentKind, Shop
from loadplan.model.vehicle import Part, Point, Vehicle
from loadplan.planning.interview.questions_on_shop import TALL
from loadplan.planning.interview.unit_kinds import SHELL

PAD_WORDS = ("pad", "sill", "jacking")
"""What the places of lift pads are usually called."""

PROP_WORDS = ("tail", "nose")
"""What the places of a prop under the raised vehicle are called."""


@dataclass(frozen=True, slots=True)
class KnownVehicle:
    """A vehicle, seen as a job on a lift sees it.

    Attributes:
        vehicle: The vehicle.
    """

    vehicle: Vehicle

    @property
    def held(self) -> str:
        """The assembly that the lift holds: the shell, else the heaviest."""
        names = [body.name for body in self.vehicle.bodies]
        if SHELL in names:
            return SHELL
        return max(names, key=lambda name: sum(each.mass for each in self.vehicle.parts if each.body == name))

    @property
    def unit(self) -> tuple[str, ...]:
        """The assemblies that come out; the one that the lift holds where there is no other."""
        return tuple(body.name for body in self.vehicle.bodies if body.name != self.held) or (self.held,)

    @property
    def places(self) -> tuple[Point, ...]:
        """Where stands may go under the unit, those of pads and prop left out."""
        others = {each.name for each in (*self.pad_like, *self.prop_places)}
        return tuple(each for each in self.vehicle.points if each.body in self.unit and each.name not in others)

    @property
    def pad_like(self) -> tuple[Point, ...]:
        """The places that are called like those of lift pads."""
        held = [each for each in self.vehicle.points if each.body == self.held]
        return tuple(each for each in held if each.name.casefold().startswith(PAD_WORDS))

    @property
    def prop_places(self) -> tuple[Point, ...]:
        """The places of a prop: the nose where the unit comes out behind, else the tail."""
        held = [each for each in self.vehicle.points if each.body == self.held]
        word = PROP_WORDS[self.is_behind]
        return tuple(each for each in held if word in each.name.casefold().split())

    @property
    def is_behind(self) -> bool:
        """Whether what comes out is behind the middle of the whole vehicle."""
        return _middle(self.unit_parts) < _middle(self.vehicle.parts)

    @property
    def unit_parts(self) -> tuple[Part, ...]:
        """The parts that come out."""
        return tuple(each for each in self.vehicle.parts if each.body in self.unit)

    @property
    def ties(self) -> tuple[str, ...]:
        """The bolts and mounts between what comes out and what stays."""
        between = [(each.name, set(each.between)) for each in self.vehicle.joints]
        return tuple(name for name, ends in between if self.held in ends and ends & (set(self.unit) - {self.held}))


def is_prop(equipment: Equipment) -> bool:
    """Return whether equipment is a tall stand for under a raised vehicle."""
    heights = equipment.heights
    return equipment.kind is EquipmentKind.STAND and heights is not None and heights.highest >= TALL


def props_of(shop: Shop) -> tuple[str, ...]:
    """Name the tall stands of a shop.

    Args:
        shop: The shop.

    Returns:
        Their names, in the file's order.
    """
    return tuple(each.name for each in shop.equipment if is_prop(each))


def gear_of(shop: Shop) -> tuple[str, ...]:
    """Name what a unit can stand on or hang from in a shop.

    Args:
        shop: The shop.

    Returns:
        The names, those of stands first; tall stands only where there is nothing else.
    """
    fitting = [each for each in shop.equipment if not is_prop(each)] or shop.equipment
    return tuple(each.name for each in sorted(fitting, key=lambda each: each.kind is not EquipmentKind.STAND))


def _middle(parts: tuple[Part, ...]) -> float:
    return sum(each.mass * each.at[0] for each in parts) / sum(each.mass for each in parts)
