"""A job file written somewhere else: its vehicle and its shop are still those that it named."""

import os
from pathlib import Path

from loadplan.files.job_shape import JOB_SCHEMA
from loadplan.files.shipped import shipped_vehicles
from loadplan.files.toml_edit import Change, quoted
from loadplan.files.toml_source import open_source


def moved(source: Path, target: Path) -> list[Change]:
    """Say what has to change in a job file so that it means the same in another folder.

    Args:
        source: The job file, which has been read without faults.
        target: Where it goes.

    Returns:
        The changes; none in the same folder.
    """
    if target.parent.resolve() == source.parent.resolve():
        return []
    raw = open_source(source, JOB_SCHEMA).raw
    shop = raw.get("shop")
    found = {
        "vehicle": _vehicle(source, target, raw.get("vehicle")),
        "shop": None if shop is None else source.parent / shop,
    }
    return [Change("", 0, key, quoted(_seen_from(target, path))) for key, path in found.items() if path is not None]


def _vehicle(source: Path, target: Path, written: str | None) -> Path | None:
    """Return the vehicle's file where its name would no longer lead to it."""
    if written is None:
        return None
    if written.endswith(".toml"):
        return source.parent / written
    own = source.parent / f"{written}.toml"
    if own.is_file():
        return own
    hidden = (target.parent / f"{written}.toml").is_file()
    return dict(shipped_vehicles())[written] if hidden else None


def _seen_from(target: Path, path: Path) -> str:
    try:
        return Path(os.path.relpath(path.resolve(), target.parent.resolve())).as_posix()
    except ValueError:  # another drive
        return path.resolve().as_posix()
