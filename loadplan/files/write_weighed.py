"""Writing what was weighed into a vehicle's file."""

from math import ceil
from pathlib import Path

from loadplan.errors import Fault, InputError
from loadplan.files.fault_wording import listed, nearest, quoted, shown
from loadplan.files.job_file import open_vehicle
from loadplan.files.job_reader import read_job
from loadplan.files.job_shape import JOB_SCHEMA
from loadplan.files.toml_edit import Change, edited, number
from loadplan.files.toml_source import Source, open_source
from loadplan.files.vehicle_shape import VEHICLE_SCHEMA
from loadplan.model.readings import Estimate, MeasuredAmount, Weighing
from loadplan.units import Kind, System, from_si

STEPS = {System.METRIC: (0.01, 0.1), System.US: (0.01, 0.01)}
"""To what mass and place are rounded, in the file's units: kg and mm, lb and in; finer than any scale or tape."""

NAMES = {MeasuredAmount.X: "front or back", MeasuredAmount.Y: "left or right", MeasuredAmount.Z: "the height"}


def with_weighed(path: Path, body: str, weighing: Weighing, readings: Path) -> bytes:
    """Make the new contents of a vehicle's file, with a body weighed; nothing is written.

    Args:
        path: A vehicle file, or a job file that holds its vehicle's tables.
        body: Name of the body that was weighed.
        weighing: What was weighed.
        readings: The file of readings, for messages.

    Returns:
        The contents.

    Raises:
        InputError: If the weighing is not whole or contradicts itself, or the file cannot take it.
    """
    trouble = "; ".join(_trouble(weighing))
    if trouble:
        raise InputError(Fault(str(readings), "", "", f"{trouble}. Nothing was written"))
    source = _sound(path)
    row = _row(source, body)
    return edited(path, [Change("body", row, "weighed", _weighed(weighing, source.system))])


def _trouble(weighing: Weighing) -> list[str]:
    """Return why a weighing is not fit to plan with."""
    coordinates = dict(zip(NAMES, weighing.cg, strict=True))
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


def _weighed(weighing: Weighing, system: System) -> str:
    """Return a whole weighing as the inline table of a vehicle file.

    Raises:
        ValueError: If mass or a coordinate was not found.
    """
    coordinates = [each for each in weighing.cg if each is not None]
    if weighing.mass is None or len(coordinates) < len(weighing.cg):
        raise ValueError("a weighing that is not whole")
    mass_step, place_step = STEPS[system]
    mass, mass_pm = _rounded(weighing.mass, Kind.MASS, system, mass_step)
    places = [_rounded(each, Kind.LENGTH, system, place_step) for each in coordinates]
    cg, cg_pm = (", ".join(each[place] for each in places) for place in (0, 1))
    return f"{{ mass = {mass}, mass_pm = {mass_pm}, cg = [{cg}], cg_pm = [{cg_pm}] }}"


def _rounded(estimate: Estimate, kind: Kind, system: System, step: float) -> tuple[str, str]:
    """Return value and plus or minus in the file's units, the latter up, so that it still holds the truth."""
    exact = from_si(estimate.value, kind, system)
    value = round(exact / step) * step
    spread = from_si(estimate.pm, kind, system) + abs(exact - value)
    return number(value), number(max(ceil(spread / step - 1e-9), 1) * step)
