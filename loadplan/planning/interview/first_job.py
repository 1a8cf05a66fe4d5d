"""The answers of the interview as a job's file, on a vehicle and a shop that have their own."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from loadplan.errors import Fault, InputError
from loadplan.files.toml_edit import quoted
from loadplan.files.toml_lines import TomlLines, toml_list, toml_table
from loadplan.model.shop import EquipmentKind, Shop
from loadplan.model.vehicle import Vehicle
from loadplan.planning.interview.answered_job import AnsweredJob
from loadplan.planning.interview.known_vehicle import KnownVehicle, gear_of
from loadplan.planning.interview.prop_stands import PropStands, just_over, prop_stands
from loadplan.planning.interview.question import Days, Value
from loadplan.units import System

MOST_ARMS = 4
"""Most arms of a lift that is asked about: it has two pads in front and two behind."""

LEAST_STANDS = 3
"""Fewest stands on which anything stands."""

AWAY_WORDS = "away before the lift moves"
UP_WORDS = "run up to just touch when the lift stands"
CLEAR_WORDS = "vehicle raised until it is clear of the unit all round"
EMPTY_WORDS = "vehicle raised until the stands are empty"
TURNS_WORDS = "stands empty: each turns by hand before it is taken away"
FREE_WORDS = "all under it empty: each is free by hand before it is taken away"
"""As `TURNS_WORDS`, where not only stands are under it: a table does not turn."""


@dataclass(frozen=True, slots=True)
class Named:
    """What the job's file calls its two other files.

    Attributes:
        vehicle: The vehicle's name or path.
        shop: The shop's path.
    """

    vehicle: str
    shop: str


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
    props = prop_stands(said)
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
    tables = (toml_table("[lift]", lift), *_supports(said, props), *_steps(said, props, system))
    remarks = "".join(f"\n# {each}" for each in props.lacking(system))
    return "\n".join((toml_table(f"# From answers to questions.{remarks}", head), *tables))


def stands_lacking(known: Mapping[str, Value], vehicle: Vehicle, shop: Shop, system: System) -> tuple[str, ...]:
    """Tell which stands the shop lacks for a job.

    Args:
        known: Value of each answer.
        vehicle: The vehicle.
        shop: The shop.
        system: Units of the reader.

    Returns:
        A sentence for each; the same stand in the job's file as a remark.
    """
    return tuple(prop_stands(AnsweredJob(known, KnownVehicle(vehicle), shop)).lacking(system))


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


def _supports(said: AnsweredJob, props: PropStands) -> Iterator[str]:
    """Yield what stands where, with tags in their order; a table is one piece under several places."""
    free = {each.name: [tag for tag in each.tags if tag not in each.out_of_use] for each in said.shop.equipment}
    hung = said.hung
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
                ("on", quoted(said.seen.held) if letter in hung else ""),
                ("piece", quoted(gear.name) if is_table else ""),
            ),
        )
    for name, gear in props.supports.items():
        assert props.place is not None
        tag = free[gear.name].pop(0) if free[gear.name] else ""
        rows = (
            ("name", quoted(name)),
            ("use", quoted(gear.name)),
            ("tag", quoted(tag) if tag else ""),
            ("under", quoted(props.place.name)),
        )
        yield toml_table("[[support]]", (*rows, ("standby", "true"), ("keep", "true")))


def _steps(said: AnsweredJob, props: PropStands, system: System) -> Iterator[str]:
    """Yield the steps of every such job, from setting down to the stands away."""
    steps = _steps_of_vehicle(said) if said.is_set_down else _steps_of_unit(said, props, just_over(system))
    for name, rows in steps:
        yield toml_table("[[stage]]", (("name", quoted(name)), *rows))


_Step = tuple[str, tuple[tuple[str, str], ...]]
"""A step's name, and its keys with their values as TOML text."""


def _steps_of_unit(said: AnsweredJob, props: PropStands, over: str) -> Iterator[_Step]:
    """Yield the steps of a unit that comes out.

    Under the heavy end stands what goes there from the step in which the vehicle is let go: the low one while it hangs
    just over the unit, the tall one while it is up. Bolted up again the vehicle has its nose back, and needs neither.
    """
    stands, ties = tuple(said.places), toml_list(said.seen.ties)
    low, tall = props.low_name, props.tall_name
    hung = said.hung
    yield "Set down on the stands, still bolted", (*_set_down(said, stands), _confirm(_set_down_boxes(said)))
    up, down = _just_over_boxes(said, over)
    let_go = (("in_place", _named(low)), ("undone", ties), ("cleared", toml_list(hung)))
    # On its locks in one box with the height: only then is anything brought up to touch.
    let_go_boxes = _boxes(", ".join(hung), [", ".join([up, *_lock(said, "")])], low)
    yield f"Unbolted, vehicle {over} up: stop", (*let_go, let_go_boxes)
    yield "Vehicle raised clear", _changed(low, [CLEAR_WORDS, *_lock(said)], tall)
    yield from _work(said)
    yield f"Vehicle back down to {over} over the unit", _changed(tall, [down, *_lock(said)], low)
    bolted = (("done_up", ties), ("cleared", _named(low)))
    yield "Bolted up", (*bolted, _boxes(low, [*_lock(said, " again when the vehicle is down")], ""))
    away = [each for each in stands if each not in hung]
    yield "Stands away", (("cleared", toml_list(away)), _confirm(_away_boxes(said, away)))


def _just_over_boxes(said: AnsweredJob, over: str) -> tuple[str, str]:
    """Return what is ticked for the vehicle just over the unit, gone up and come down: no lock need lie just there."""
    if said.lift.locks and said.lift.lock_step != 0:
        down = f"vehicle down to the last lock {over} or more over the unit"
        return f"vehicle up {over}, then on to the next lock", down
    return f"vehicle up {over}", f"vehicle down to {over} over the unit"


def _set_down(said: AnsweredJob, stands: Iterable[str]) -> tuple[tuple[str, str], ...]:
    return ("in_place", toml_list(stands)), ("lift_locked", _locked(said))


def _set_down_boxes(said: AnsweredJob) -> list[str]:
    """Return the boxes of the first step: up for the stands to be set, then down on them."""
    up = ", ".join(["vehicle up", *_lock(said, ""), "before the stands are set under it"])
    return [up, "vehicle down on the stands slowly", *_lock(said)]


def _away_boxes(said: AnsweredJob, away: Sequence[str]) -> list[str]:
    """Return the boxes of the last step: the vehicle is raised off what it stood on before that goes."""
    turn = all(said.gear(each).kind is EquipmentKind.STAND for each in away)
    return [EMPTY_WORDS, *_lock(said), TURNS_WORDS if turn else FREE_WORDS] if away else []


def _changed(before: str, moved: Sequence[str], after: str) -> tuple[tuple[str, str], ...]:
    """Return what changes under the heavy end when the vehicle moves, and the boxes to tick for it."""
    boxes = _boxes(before, moved, after)
    return (boxes,) if before == after else (("in_place", _named(after)), ("cleared", _named(before)), boxes)


def _boxes(before: str, moved: Sequence[str], after: str) -> tuple[str, str]:
    """Return the boxes to tick when the vehicle moves: what stood under its end is away first, what comes touches."""
    away, up = f"{before} {AWAY_WORDS}" if before else "", f"{after} {UP_WORDS}" if after else ""
    return _confirm([each for each in (away, *moved, up) if each])


def _confirm(boxes: Sequence[str]) -> tuple[str, str]:
    return "confirm", toml_list(boxes) if boxes else ""


def _lock(said: AnsweredJob, when: str = " again") -> tuple[str, ...]:
    """Return the box for the locks of the lift, where it has any."""
    return (f"lift on its locks{when}",) if said.lift.locks else ()


def _named(name: str) -> str:
    return toml_list([name]) if name else ""


def _steps_of_vehicle(said: AnsweredJob) -> Iterator[_Step]:
    """Yield the steps of a vehicle that is set down itself."""
    stands, lift = toml_list(said.places), toml_list([said.lift.name])
    yield "Set down on the stands", (*_set_down(said, said.places), _confirm(_set_down_boxes(said)))
    yield "Lift away", (("cleared", lift), _confirm(["lift down until its pads are free all round"]))
    yield from _work(said)
    yield "Lift back under it", (("in_place", lift), _confirm(["lift up until every pad just touches"]))
    yield "Stands away", (("cleared", stands), _confirm(_away_boxes(said, tuple(said.places))))


def _work(said: AnsweredJob) -> Iterator[_Step]:
    """Yield the work in between: what comes off goes on again, with the stands under it."""
    bar, any_order = "true" if said.known.get("bar") is True else "", "true" if len(said.off) > 1 else ""
    # Who works one day goes home when it is done, but leaves the bay alone at noon, or when the telephone rings.
    night = ("Left alone" if said.is_one_day else "Left overnight", (("unattended", "true"),))
    if not said.off:
        yield "Work", (("bar", bar),)
        yield night
        return
    off, stands = toml_list(said.off), toml_list(said.off_stands)
    yield "Parts off, work", (("off", off), ("cleared", stands), ("any_order", any_order), ("bar", bar))
    yield night
    yield "Parts on again", (("on", toml_list(said.on_again)), ("in_place", stands))


def _locked(said: AnsweredJob) -> str:
    return "true" if said.lift.locks else ""
