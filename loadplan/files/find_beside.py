"""Finding the vehicles and shops that lie in a folder, beside a job that is to be made."""

from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock
from typing import NamedTuple

from loadplan.errors import Fault, InputError
from loadplan.files.job_reader import read_shop, read_vehicle
from loadplan.files.shop_shape import SHOP_SCHEMA
from loadplan.files.toml_source import tables_of, text_of
from loadplan.files.vehicle_shape import VEHICLE_SCHEMA
from loadplan.model.vehicle import Vehicle

MOST_FILES = 300
"""Most files of a folder that are looked into."""


def shops_in(folder: Path) -> tuple[Path, ...]:
    """Find the shop files of a folder; one with faults is left out.

    Args:
        folder: The folder; it need not exist.

    Returns:
        Their paths, by name.
    """
    return tuple(path for path in _of_kind(folder, SHOP_SCHEMA) if _is_shop(path))


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
    """Find what nobody would miss in a folder: vehicles and shops with faults, and files that cannot be read at all.

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
            schema = tables_of(path, text_of(path)).get("schema")
            if schema == VEHICLE_SCHEMA:
                read_vehicle(path)
            elif schema == SHOP_SCHEMA:
                read_shop(path)
        except InputError as error:
            faults.append(error.faults[0])
    return tuple(faults)


class _Seen(NamedTuple):
    """What was found in a file: by what it is known again, what it calls itself, and the vehicle in it, if there is."""

    mark: tuple[int, ...]
    schema: object
    vehicle: Vehicle | None


@dataclass(slots=True)
class FolderReader:
    """Finds the vehicles and shops of a folder again and again, and reads only what is another file by now.

    Attributes:
        folder: The folder.
    """

    folder: Path
    _turn: Lock = field(default_factory=Lock)
    _seen: dict[Path, _Seen] = field(default_factory=dict)

    def shops(self) -> tuple[Path, ...]:
        """Find the shop files.

        Returns:
            Their paths, by name.
        """
        return tuple(path for path, each in self._looked().items() if each.schema == SHOP_SCHEMA)

    def vehicles(self) -> dict[str, Vehicle]:
        """Read the vehicles; one with faults is left out.

        Returns:
            Each vehicle by the name that a job beside it writes.
        """
        return {path.stem: each.vehicle for path, each in self._looked().items() if each.vehicle is not None}

    def _looked(self) -> dict[Path, _Seen]:
        with self._turn:
            now = {path: self._at(path) for path in sorted(self.folder.glob("*.toml"))[:MOST_FILES]}
            self._seen = now
            return now

    def _at(self, path: Path) -> _Seen:
        """Return what is in a file; read only where it is not the one that was seen last."""
        before, mark = self._seen.get(path), known_by(path)
        if before is not None and before.mark == mark != ():
            return before
        schema = _schema(path)
        vehicle = None
        if schema == VEHICLE_SCHEMA:
            with suppress(InputError):
                vehicle = read_vehicle(path)
        return _Seen(mark, schema, vehicle)


def known_by(path: Path) -> tuple[int, ...]:
    """Tell by what a file that was read is known again: any change by hand changes one of these.

    Args:
        path: The file.

    Returns:
        Device, number, size and time; () where it cannot be told.
    """
    try:
        about = path.stat()
    except OSError:
        return ()
    return about.st_dev, about.st_ino, about.st_size, about.st_mtime_ns


def _is_shop(path: Path) -> bool:
    try:
        read_shop(path)
    except InputError:
        return False
    return True


def _of_kind(folder: Path, schema: str) -> tuple[Path, ...]:
    return tuple(path for path in sorted(folder.glob("*.toml"))[:MOST_FILES] if _schema(path) == schema)


def _schema(path: Path) -> object:
    """Return what a file calls itself; one that cannot be read calls itself nothing."""
    try:
        return None if path.name.startswith(".") else tables_of(path, text_of(path)).get("schema")
    except InputError:
        return None
