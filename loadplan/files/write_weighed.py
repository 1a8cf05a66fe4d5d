"""Writing what was weighed into a vehicle's file."""

from collections.abc import Sequence
from math import ceil
from pathlib import Path
from typing import NamedTuple

from loadplan.errors import Fault, InputError
from loadplan.files.fault_wording import listed, nearest, quoted, shown
from loadplan.files.job_file import open_vehicle
from loadplan.files.job_reader import read_job, read_vehicle
from loadplan.files.job_shape import JOB_SCHEMA
from loadplan.files.toml_edit import Change, edited, number
from loadplan.files.toml_edit import quoted as toml_text
from loadplan.files.toml_source import Source, open_source
from loadplan.files.vehicle_shape import VEHICLE_SCHEMA
from loadplan.model.learnt_weights import PartUpdate
from loadplan.model.readings import MeasuredAmount, Weighing
from loadplan.model.vehicle import Basis, Part, Vehicle, Weighed
from loadplan.units import Kind, System, from_si

STEPS = {System.METRIC: (0.01, 0.1), System.US: (0.01, 0.01)}
"""To what mass and place are rounded, in the file's units: kg and mm, lb and in; finer than any scale or tape."""

NAMES = {MeasuredAmount.X: "front or back", MeasuredAmount.Y: "left or right"}
"""What must be weighed besides the mass, in the order of its coordinates: a height that is missing stays the file's."""


def vehicle_to_write(path: Path, bodies: Sequence[str]) -> Vehicle:
    """Read the vehicle into whose file a weighing is to go.

    Args:
        path: A vehicle file, or a job file that holds its vehicle's tables.
        bodies: Names of the bodies that were weighed together.

    Returns:
        The vehicle.

    Raises:
        InputError: If the file cannot take it, there is no such body, or one is named twice.
    """
    source = _sound(path)
    twice = [name for place, name in enumerate(bodies) if name in bodies[:place]]
    if twice:
        message = f"names {shown(twice[0])} twice: the weight is shared among assemblies that differ"
        raise InputError(Fault(str(path), "", "--body", message))
    for name in bodies:
        _row(source, name)
    return read_vehicle(path) if source.raw["schema"] == VEHICLE_SCHEMA else read_job(path).vehicle


def check_weighing(weighing: Weighing, readings: Path) -> None:
    """Make sure that a weighing is fit to plan with; only its height may be missing.

    Args:
        weighing: What was weighed.
        readings: The file of readings, for messages.

    Raises:
        InputError: If it is not.
    """
    trouble = "; ".join(_trouble(weighing))
    if trouble:
        raise InputError(Fault(str(readings), "", "", f"{trouble}. Nothing was written"))


def with_weighed(path: Path, shares: Sequence[tuple[str, Weighed]]) -> bytes:
    """Make the new contents of a vehicle's file, with bodies weighed; nothing is written.

    Args:
        path: A vehicle file, or a job file that holds its vehicle's tables.
        shares: (name, what it was weighed as) of each body.

    Returns:
        The contents.

    Raises:
        InputError: If the file cannot take it.
    """
    source = _sound(path)
    changes = [Change("body", _row(source, name), "weighed", _weighed(each, source.system)) for name, each in shares]
    return edited(path, changes)


def with_learnt(path: Path, parts: Sequence[PartUpdate], vehicle: Vehicle, weighed: Sequence[str]) -> bytes:
    """Make the new contents of a vehicle's file, with parts as a job's readings have them; nothing is written.

    Args:
        path: A vehicle file, or a job file that holds its vehicle's tables.
        parts: What was learnt of parts, and of bodies weighed whole.
        vehicle: The vehicle as the file has it: what readings did not show stays as it is written.
        weighed: Names of the parts that count as weighed from now on.

    Returns:
        The contents.

    Raises:
        InputError: If the file cannot take it.
    """
    source = _sound(path)
    names = [str(each["name"]).strip() for each in source.raw.get("part", [])]
    known = {each.name: each for each in vehicle.parts}
    changes: list[Change] = []
    for each in parts:
        x, y, z = each.cg
        learnt = Weighed(each.mass.value, each.mass.pm, (x.value, y.value, z.value), (x.pm, y.pm, z.pm), date=None)
        if not each.part:
            changes.append(Change("body", _row(source, each.body), "weighed", _weighed(learnt, source.system)))
            continue
        row = names.index(each.part)
        keys = _shown_keys(learnt, known[each.part], becomes_weighed=each.part in weighed)
        told = _learnt(learnt, source.system)
        changes += [Change("part", row, key, told[key]) for key in told if key in keys]
        if each.part in weighed:
            changes.append(Change("part", row, "known", toml_text(Basis.WEIGHED.words)))
    return edited(path, changes)


def _shown_keys(learnt: Weighed, before: Part, *, becomes_weighed: bool) -> frozenset[str]:
    """Return which keys readings show: never a centre that they do not.

    What a part that becomes weighed may be off is written out: left out it would be taken for less.
    """
    keys = {"mass", "mass_pm"} if (learnt.mass, learnt.mass_pm) != (before.mass, before.mass_pm) else set[str]()
    keys |= {"at", "at_pm"} if (learnt.cg[:2], learnt.cg_pm[:2]) != (before.at[:2], before.at_pm[:2]) else set()
    return frozenset(keys | ({"mass_pm", "at_pm"} if becomes_weighed else set()))


def _learnt(learnt: Weighed, system: System) -> dict[str, str]:
    """Return the keys of a part with what was learnt of it."""
    figures = _figures(learnt, system)
    return {"mass": figures.mass, "mass_pm": figures.mass_pm, "at": figures.cg, "at_pm": figures.cg_pm}


def _trouble(weighing: Weighing) -> list[str]:
    """Return why a weighing is not fit to plan with."""
    coordinates = dict(zip(NAMES, weighing.cg, strict=False))
    missing = ["the mass"] if weighing.mass is None else []
    missing += [NAMES[amount] for amount, each in coordinates.items() if each is None or amount in weighing.taken]
    trouble = [f"these readings do not tell everything: {listed(missing)} is still missing"] if missing else []
    if weighing.consistent is False:
        trouble.append("the readings contradict each other: read again what does not fit")
    if weighing.pulling:
        trouble.append("a place would have to pull the unit down: look at its sign and its place")
    return trouble


def _sound(path: Path) -> Source:
    """Return a file that holds the tables of a vehicle.

    Raises:
        InputError: If it is none, or has faults.
    """
    try:
        source = open_source(path, VEHICLE_SCHEMA)
    except InputError as error:
        try:
            source = open_source(path, JOB_SCHEMA)
        except InputError:
            raise error from None
        if "body" not in source.raw:
            message = "names its vehicle in another file: give that file after --write"
            raise InputError(Fault(str(path), "", "vehicle", message)) from None
        read_job(path)
        return source
    faults = open_vehicle(path).source.faults
    if faults:
        raise InputError(*faults)
    return source


def _row(source: Source, body: str) -> int:
    names = [str(each["name"]).strip() for each in source.raw["body"]]
    if body not in names:
        told = nearest(body, names) or f"; there are: {listed(quoted(names))}"
        raise InputError(Fault(str(source.path), "", "--body", f"there is no body {shown(body)}{told}"))
    return names.index(body)


def _weighed(share: Weighed, system: System) -> str:
    """Return what a body was weighed as, as the inline table of a vehicle file."""
    told = _figures(share, system)
    return f"{{ mass = {told.mass}, mass_pm = {told.mass_pm}, cg = {told.cg}, cg_pm = {told.cg_pm} }}"


class _Figures(NamedTuple):
    """Mass and place with their plus or minus, as TOML text."""

    mass: str
    mass_pm: str
    cg: str
    cg_pm: str


def _figures(share: Weighed, system: System) -> _Figures:
    """Return figures in the file's units, rounded."""
    mass_step, place_step = STEPS[system]
    mass, mass_pm = _rounded((share.mass, share.mass_pm), Kind.MASS, system, mass_step)
    pairs = zip(share.cg, share.cg_pm, strict=True)
    places = [_rounded(each, Kind.LENGTH, system, place_step) for each in pairs]
    cg, cg_pm = (f"[{', '.join(each[place] for each in places)}]" for place in (0, 1))
    return _Figures(mass, mass_pm, cg, cg_pm)


def _rounded(estimate: tuple[float, float], kind: Kind, system: System, step: float) -> tuple[str, str]:
    """Return value and plus or minus in the file's units, the latter up, so that it still holds the truth."""
    exact, pm = (from_si(each, kind, system) for each in estimate)
    value = round(exact / step) * step
    spread = pm + abs(exact - value)
    return number(value), number(max(ceil(spread / step - 1e-9), 1) * step)
