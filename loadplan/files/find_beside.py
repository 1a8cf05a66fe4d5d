"""Finding the vehicles and shops that lie in a folder, beside a job that is to be made."""

from pathlib import Path

from loadplan.errors import Fault, InputError
from loadplan.files.job_reader import read_vehicle
from loadplan.files.shop_shape import SHOP_SCHEMA
from loadplan.files.toml_source import tables_of, text_of
from loadplan.files.vehicle_shape import VEHICLE_SCHEMA
from loadplan.model.vehicle import Vehicle

MOST_FILES = 300
"""Most files of a folder that are looked into."""


def shops_in(folder: Path) -> tuple[Path, ...]:
    """Find the shop files of a folder.

    Args:
        folder: The folder; it need not exist.

    Returns:
        Their paths, by name.
    """
    return _of_kind(folder, SHOP_SCHEMA)


def vehicles_in(folder: Path) -> dict[str, Vehicle]:
    """Read the vehicles of a folder; one with faults is left out.

    Args:
        folder: The folder; it need not exist.

    Returns:
        Each vehicle by the name that a job beside it writes.
    """
    found = {}
    for path in _of_kind(folder, VEHICLE_SCHEMA):
        try:
            found[path.stem] = read_vehicle(path)
        except InputError:
            continue
    return found


def unread_in(folder: Path) -> tuple[Fault, ...]:
    """Find what nobody would miss in a folder: vehicles with faults, and files that cannot be read at all.

    Args:
        folder: The folder; it need not exist.

    Returns:
        The first fault of each such file, by the name of the file.
    """
    faults = []
    for path in sorted(folder.glob("*.toml"))[:MOST_FILES]:
        if path.name.startswith("."):
            continue
        try:
            if tables_of(path, text_of(path)).get("schema") == VEHICLE_SCHEMA:
                read_vehicle(path)
        except InputError as error:
            faults.append(error.faults[0])
    return tuple(faults)


def _of_kind(folder: Path, schema: str) -> tuple[Path, ...]:
    return tuple(path for path in sorted(folder.glob("*.toml"))[:MOST_FILES] if _schema(path) == schema)


def _schema(path: Path) -> object:
    """Return what a file calls itself; one that cannot be read calls itself nothing."""
    try:
        return None if path.name.startswith(".") else tables_of(path, text_of(path)).get("schema")
    except InputError:
        return None
