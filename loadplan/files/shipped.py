"""Where the vehicles and demo jobs that ship with the program lie."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parents[1]


def shipped_folder(name: str) -> Path:
    """Find a folder of shipped files, installed or in the source tree.

    Args:
        name: "vehicles" or "demo".

    Returns:
        Its path; it need not exist.
    """
    installed = _PACKAGE / "shipped" / name
    return installed if installed.is_dir() else _PACKAGE.parent / name


def shipped_vehicles() -> tuple[tuple[str, Path], ...]:
    """List the vehicles that ship.

    Returns:
        (name to write in a job file, path) of each, by name.
    """
    return tuple((path.stem, path) for path in sorted(shipped_folder("vehicles").glob("*.toml")))
