"""A vehicle's tables with the unit written at each number, so that a file in other units can take them in."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

import tomlkit
from tomlkit.items import AbstractTable, AoT, Array, Float, Integer

from loadplan.files.toml_edit import LINE_END, number
from loadplan.units import Kind, System, bare_unit

AMOUNTS: Mapping[str, Kind] = MappingProxyType({
    **dict.fromkeys(("mass", "mass_pm"), Kind.MASS),
    **dict.fromkeys(("at", "at_pm", "to", "outline", "bottom", "top", "cg", "cg_pm"), Kind.LENGTH),
    "stiffness": Kind.STIFFNESS,
    "limit": Kind.FORCE,
})
"""What a bare number measures, by its key in the tables of a vehicle."""


def with_units(tables: str, system: System) -> str:
    r"""Write its unit at every bare number of a vehicle's tables; comments and order stay.

    Args:
        tables: The tables as TOML text, read without faults.
        system: Units of their bare numbers.

    Returns:
        The text: a number means the same in it whatever the units of the file that it goes into.

    Example:
        >>> print(with_units('[[part]]\nmass = 12 # dry\nat = [-20, 0.5, 300]\n', System.METRIC), end="")
        [[part]]
        mass = "12 kg" # dry
        at = ["-20 mm", "0.5 mm", "300 mm"]
    """
    document = tomlkit.parse(tables.replace("\r\n", LINE_END))
    _write_units(document, system)
    return tomlkit.dumps(document)


def _write_units(table: Any, system: System) -> None:  # noqa: ANN401 - a user's TOML, in whichever form it stands
    """Write units into a table and the tables in it."""
    for key in list(table):
        value = table[key]
        if isinstance(value, AoT):
            for each in value:
                _write_units(each, system)
        elif isinstance(value, AbstractTable):
            _write_units(value, system)
        elif key in AMOUNTS:
            unit = bare_unit(AMOUNTS[key], system)
            if isinstance(value, Integer | Float):
                table[key] = _with_unit(value, unit)
            elif isinstance(value, Array):
                _write_in_list(value, unit)


def _write_in_list(values: Array, unit: str) -> None:
    """Write units into a list, or into the lists in it."""
    for place, value in enumerate(values):
        if isinstance(value, Array):
            _write_in_list(value, unit)
        elif isinstance(value, Integer | Float):
            values[place] = _with_unit(value, unit)


def _with_unit(value: Integer | Float, unit: str) -> str:
    # As it is written in the file where it reads so, so that no figure is rounded.
    plain = value.as_string()
    return f"{plain if plain.lstrip('+-').replace('.', '', 1).isdecimal() else number(float(value))} {unit}"
