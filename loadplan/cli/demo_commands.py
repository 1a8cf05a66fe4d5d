"""The commands about what ships with the program."""

from pathlib import Path
from typing import Annotated

import typer

from loadplan.cli.options import AsJson, Force, Units, app, tell, tell_files, writer
from loadplan.units import System


@app.command(help="Copy the demo jobs with their shop, to try and to change.")
def demo(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder to copy them into.", show_default=False)],
    *,
    force: Force = False,
) -> None:
    """Copy the demo jobs into a folder, and print their names.

    Args:
        folder: Where they go; nothing in it that says something else is written over.
        force: Whether other files are written over.
    """
    # Only this command needs to know what ships.
    from loadplan.files import shipped_folder  # noqa: PLC0415

    sources = sorted(shipped_folder("demo").glob("*.toml"))
    contents = {source.name: source.read_bytes() for source in sources}
    tell_files(writer(*sources, force=force).copy_into(folder, contents))


@app.command(help="List the vehicles that ship, by the name to write in a job file.")
def vehicles(*, as_json: AsJson = False, units: Units = None) -> None:
    """Print the vehicles that ship.

    Args:
        as_json: Print one JSON object.
        units: Units of the list, None for metric.
    """
    # Reading the files needs pydantic, which `--help` does not wait for.
    from loadplan.files import read_vehicle, shipped_vehicles  # noqa: PLC0415
    from loadplan.report.text.vehicle_list import vehicle_json, vehicle_lines  # noqa: PLC0415

    shipped = [(name, read_vehicle(path)) for name, path in shipped_vehicles()]
    tell(vehicle_json(shipped) if as_json else vehicle_lines(shipped, units or System.METRIC))
