"""Readings of a stage as TOML text."""

from collections.abc import Iterable

from loadplan.files.job_shape import ReadingTable
from loadplan.files.toml_edit import number, quoted
from loadplan.units import Kind, System, from_si


def readings_text(readings: Iterable[ReadingTable], system: System) -> str | None:
    """Write the readings of a stage.

    Args:
        readings: As the file has them.
        system: Its units.

    Returns:
        A list of inline tables; None for none.
    """
    told = [f"{{ {', '.join(_keys(each, system))} }}" for each in readings]
    return f"[{', '.join(told)}]" if told else None


def _keys(table: ReadingTable, system: System) -> list[str]:
    """Return keys and values of one reading, in the units of the file."""
    told = [f"support = {quoted(table.support)}"]
    if table.load is not None:
        told.append(f"load = {number(from_si(table.load, Kind.MASS, system))}")
    if table.pm is not None:
        pm = table.pm
        told.append(
            f"pm = {quoted(f'{100 * pm.amount:g} %')}"
            if pm.of_mass
            else f"pm = {number(from_si(pm.amount, Kind.MASS, system))}"
        )
    if table.turns is not None:
        told.append(f"turns = {'true' if table.turns else 'false'}")
    if table.lowered is not None:
        told.append(f"lowered = {number(from_si(table.lowered, Kind.LENGTH, system))}")
    return told
