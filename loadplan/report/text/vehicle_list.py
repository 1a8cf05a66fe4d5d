"""The list of the vehicles that ship."""

import json

from loadplan.model.vehicle import Vehicle
from loadplan.report.json_output import Plain
from loadplan.report.words.columns import WIDTH, Align, Column, indented, table
from loadplan.report.words.vocabulary import Reader
from loadplan.units import System


def vehicle_lines(shipped: list[tuple[str, Vehicle]], units: System) -> str:
    """Write the list for people.

    Args:
        shipped: Name to write in a job file, and the vehicle.
        units: The reader's units.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    reader = Reader(units, frozenset())
    columns = (
        Column('vehicle = "..."', tuple(name for name, _ in shipped), Align.LEFT),
        Column("what it is", tuple(reader.words(_title(vehicle)) for _, vehicle in shipped), Align.LEFT),
        Column("assemblies", tuple(_assemblies(vehicle, reader) for _, vehicle in shipped), Align.LEFT),
        Column("points", tuple(str(len(vehicle.points)) for _, vehicle in shipped), Align.RIGHT),
    )
    hint = indented("", 'Write one of these names as `vehicle` in a job file; "loadplan demo DIR" copies jobs.', WIDTH)
    return "\n".join([*table(columns, WIDTH), "", *hint]) + "\n"


def vehicle_json(shipped: list[tuple[str, Vehicle]]) -> str:
    """Write the list as one JSON object.

    Args:
        shipped: Name to write in a job file, and the vehicle.

    Returns:
        JSON, ending in a line end.
    """
    vehicles = [_plain(name, vehicle) for name, vehicle in shipped]
    return json.dumps({"schema": "loadplan-vehicles-1", "vehicles": vehicles}, indent=2, allow_nan=False) + "\n"


def _title(vehicle: Vehicle) -> str:
    """Return a vehicle's name; one made up says so."""
    return f"{vehicle.name} (invented, for practice)" if vehicle.example else vehicle.name


def _assemblies(vehicle: Vehicle, reader: Reader) -> str:
    """Return a vehicle's assemblies with their masses."""
    return ", ".join(reader.words(f"{name} {reader.mass(mass)}") for name, mass in _masses(vehicle))


def _masses(vehicle: Vehicle) -> list[tuple[str, float]]:
    """Return (body, mass [kg]) of each body with all its parts on."""
    return [
        (
            body.name,
            body.weighed.mass if body.weighed else sum(part.mass for part in vehicle.parts if part.body == body.name),
        )
        for body in vehicle.bodies
    ]


def _plain(name: str, vehicle: Vehicle) -> dict[str, Plain]:
    """Return a vehicle as plain values."""
    return {
        "name": name,
        "title": vehicle.name,
        "example": vehicle.example,
        "bodies": [{"name": body, "mass_kg": mass} for body, mass in _masses(vehicle)],
        "points": [point.name for point in vehicle.points],
    }
