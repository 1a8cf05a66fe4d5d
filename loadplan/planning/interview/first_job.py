"""The answers of the interview as a job's file, on a vehicle and a shop that have their own."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from loadplan.errors import Fault, InputError
from loadplan.files.toml_edit import quoted
from loadplan.files.toml_lines import TomlLines, toml_list, toml_table
from loadplan.model.shop import Equipment, EquipmentKind, Lift, Shop
from loadplan.model.vehicle import Point, Vehicle
from loadplan.planning.interview.known_vehicle import KnownVehicle, gear_of, props_of
from loadplan.planning.interview.question import Days, NamedWeight, Value
from loadplan.planning.interview.questions_on_vehicle import stand_letters
from loadplan.planning.interview.unit_kinds import UNIT_KINDS
from loadplan.units import System

MOST_ARMS = 4
"""Most arms of a lift that is asked about: it has two pads in front and two behind."""

LEAST_STANDS = 3
"""Fewest stands on which anything stands."""

TALL_WORDS = "away before the lift moves, run up to just touch when it stands"


@dataclass(frozen=True, slots=True)
class Named:
    """What the job's file calls its two other files.

    Attributes:
        vehicle: The vehicle's name or path.
        shop: The shop's path.
    """

    vehicle: str
    shop: str


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
    def prop(self) -> str:
        """The name of the prop's support, "" without one."""
        places = self.seen.prop_places
        return f"{places[0].name} prop" if self.known.get("prop") is True and places else ""

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
    def off_stands(self) -> tuple[str, ...]:
        """The stands that go with them."""
        value = self.known.get("off.stands")
        return tuple(str(each) for each in value) if isinstance(value, tuple) and self.off else ()

    @property
    def is_set_down(self) -> bool:
        """Whether the vehicle itself is set down, and the lift goes."""
        return self.seen.unit == (self.seen.held,)


def job_text(known: Mapping[str, Value], vehicle: Vehicle, shop: Shop, named: Named, system: System) -> str:
    """Write the job's file.

    Args:
        known: Value of each answer.
        vehicle: The vehicle.
        shop: The shop.
        named: What the file calls the two.
        system: Units of the file.

    Returns:
        TOML that the reader takes.
    """
    said, pen = AnsweredJob(known, KnownVehicle(vehicle), shop), TomlLines(system)
    days = known.get("days")
    first, last = (days.first.isoformat(), days.last) if isinstance(days, Days) else ("", None)
    head = (
        ("schema", '"loadplan-job-1"'),
        ("title", quoted(str(known["title"]))),
        ("vehicle", quoted(named.vehicle)),
        ("shop", quoted(named.shop)),
        ("units", pen.units),
        ("date", first),
        ("until", last.isoformat() if last else ""),
    )
    lift = (
        ("use", quoted(said.lift.name)),
        ("body", quoted(said.seen.held)),
        ("pads", toml_list(each.name for each in said.pads)),
    )
    tables = (toml_table("[lift]", lift), *_supports(said), *_steps(said))
    return "\n".join((toml_table("# From answers to questions.", head), *tables))


def refuse_unfit(vehicle: Vehicle | None, shop: Shop | None) -> None:
    """Make sure that what is known is enough to ask about a job.

    Args:
        vehicle: The vehicle, None where it is asked about.
        shop: The shop, None where it is asked about.

    Raises:
        InputError: If the shop has no lift or nothing to stand a unit on, or the vehicle lacks places.
    """
    faults = [*(shop_faults(shop) if shop else ()), *(vehicle_faults(vehicle, shop) if vehicle else ())]
    if faults:
        raise InputError(*faults)


def shop_faults(shop: Shop) -> tuple[Fault, ...]:
    """Find what a shop lacks for a job to be asked about.

    Args:
        shop: The shop.

    Returns:
        What it lacks.
    """
    file, faults = "the shop's file", []
    if not shop.lifts:
        faults.append(Fault(file, "lift", "", "is missing: `new` asks about a job on a lift, so add [[lift]]"))
    for each in shop.lifts:
        if each.arms > MOST_ARMS:
            told = f"has {each.arms}: `new` asks about at most {MOST_ARMS} pads, so write this job by hand"
            faults.append(Fault(file, "lift", "arms", told))
    if not gear_of(shop):
        faults.append(Fault(file, "equipment", "", "has nothing to stand a unit on: add [[equipment]]"))
    return tuple(faults)


def vehicle_faults(vehicle: Vehicle, shop: Shop | None) -> tuple[Fault, ...]:
    """Find what a vehicle lacks for a job to be asked about.

    Args:
        vehicle: The vehicle.
        shop: The shop, None where it is asked about: then its lift has four arms.

    Returns:
        What it lacks.
    """
    seen, faults = KnownVehicle(vehicle), []
    arms = max((each.arms for each in shop.lifts), default=MOST_ARMS) if shop else MOST_ARMS
    if len(seen.pad_like) < arms:
        told = f"needs {arms} places of {seen.held} whose names begin with pad or sill, one for each arm of the lift"
        faults.append(Fault(vehicle.name, "point", "name", told))
    if len(seen.places) < LEAST_STANDS:
        told = f"needs {LEAST_STANDS} places or more under what comes out"
        faults.append(Fault(vehicle.name, "point", "", told))
    return tuple(faults)


def _supports(said: AnsweredJob) -> Iterator[str]:
    """Yield what stands where, with tags in their order; a table is one piece under several places."""
    free = {each.name: [tag for tag in each.tags if tag not in each.out_of_use] for each in said.shop.equipment}
    for letter, point in said.places.items():
        gear = said.gear(letter)
        is_table = gear.kind is EquipmentKind.TABLE
        tag = "" if is_table or not free[gear.name] else free[gear.name].pop(0)
        yield toml_table(
            "[[support]]",
            (
                ("name", quoted(letter)),
                ("use", quoted(gear.name)),
                ("tag", quoted(tag) if tag else ""),
                ("under", quoted(point.name)),
                ("on", quoted(said.seen.held) if gear.kind is EquipmentKind.HOIST and gear.locks else ""),
                ("piece", quoted(gear.name) if is_table else ""),
            ),
        )
    if said.prop:
        use, place = props_of(said.shop)[0], said.seen.prop_places[0].name
        rows = (("name", quoted(said.prop)), ("use", quoted(use)), ("under", quoted(place)))
        yield toml_table("[[support]]", (*rows, ("standby", "true"), ("keep", "true")))


def _steps(said: AnsweredJob) -> Iterator[str]:
    """Yield the steps of every such job, from setting down to the stands away."""
    steps = _steps_of_vehicle(said) if said.is_set_down else _steps_of_unit(said)
    for name, rows in steps:
        yield toml_table("[[stage]]", (("name", quoted(name)), *rows))


_Step = tuple[str, tuple[tuple[str, str], ...]]
"""A step's name, and its keys with their values as TOML text."""


def _steps_of_unit(said: AnsweredJob) -> Iterator[_Step]:
    """Yield the steps of a unit that comes out.

    The prop stands from the step in which the vehicle is let go, and is seen to wherever the vehicle moves. Down on the
    unit again it has to be gone: most are taller than what is left under the tail, and the vehicle has its nose back.
    """
    stands, ties, prop = tuple(said.places), toml_list(said.seen.ties), toml_list([said.prop] if said.prop else [])
    hung = tuple(
        letter for letter in stands if said.gear(letter).kind is EquipmentKind.HOIST and said.gear(letter).locks
    )
    moved = toml_list([f"{said.prop} {TALL_WORDS}"]) if said.prop else ""
    yield "Set down on the stands, still bolted", (("in_place", toml_list(stands)), ("lift_locked", _locked(said)))
    let_go = (("in_place", prop), ("undone", ties), ("cleared", toml_list(hung)), ("confirm", moved))
    yield "Unbolted, vehicle 50 mm up: stop", let_go
    yield "Vehicle raised clear", (("confirm", moved),)
    yield from _work(said)
    yield "Vehicle back down to 50 mm over the unit", (("confirm", moved),)
    yield "Bolted up", (("done_up", ties), ("cleared", prop))
    away = [each for each in stands if each not in hung]
    yield "Stands away", (("cleared", toml_list(away)),)


def _steps_of_vehicle(said: AnsweredJob) -> Iterator[_Step]:
    """Yield the steps of a vehicle that is set down itself."""
    stands, lift = toml_list(said.places), toml_list([said.lift.name])
    yield "Set down on the stands", (("in_place", stands), ("lift_locked", _locked(said)))
    yield "Lift away", (("cleared", lift),)
    yield from _work(said)
    yield "Lift back under it", (("in_place", lift),)
    yield "Stands away", (("cleared", stands),)


def _work(said: AnsweredJob) -> Iterator[_Step]:
    """Yield the work in between: what comes off goes on again, with the stands under it."""
    bar, any_order = "true" if said.known.get("bar") is True else "", "true" if len(said.off) > 1 else ""
    night = ("Left overnight", (("unattended", "true"),))
    if not said.off:
        yield "Work", (("bar", bar),)
        yield night
        return
    off, stands = toml_list(said.off), toml_list(said.off_stands)
    yield "Parts off, work", (("off", off), ("cleared", stands), ("any_order", any_order), ("bar", bar))
    yield night
    yield "Parts on again", (("on", off), ("in_place", stands))


def _locked(said: AnsweredJob) -> str:
    return "true" if said.lift.locks else ""
