"""Reading a file of readings: its sets in SI, or every fault in it."""

from collections.abc import Iterator
from dataclasses import replace
from math import degrees
from pathlib import Path

from loadplan.errors import InputError
from loadplan.files.fault_wording import listed
from loadplan.files.file_head import read_head
from loadplan.files.readings_shape import (
    READINGS_SCHEMA,
    HookTable,
    ReadingsHead,
    ScaleTable,
    SetTable,
)
from loadplan.files.shape import TableRows, read_rows
from loadplan.files.toml_source import Source, open_source
from loadplan.model.readings import ACROSS_PM, TILT_PM, Held, Readings, ReadingSet, ScalePlace
from loadplan.units import Kind, System, bare_unit, from_si

MOST_SETS = 40

LOAD_SHARE = 0.01
"""Plus or minus on a load that the file leaves out, share of it; common practice, no source."""

LOAD_LEAST = 0.5
"""Least plus or minus on a load that the file leaves out [kg]; common practice, no source."""

TAPE_PM = 0.005
"""Plus or minus on a place where the file does not say how it was measured [m]: a tape; common practice, no source."""


def read_readings(path: str | Path) -> Readings:
    """Read a file of readings.

    Args:
        path: The file.

    Returns:
        The readings in SI.

    Raises:
        InputError: If anything is wrong in it, with every fault found.
    """
    source = open_source(Path(path), READINGS_SCHEMA)
    head = read_head(source, ReadingsHead, ("set",))
    rows = read_rows(source, "set", SetTable, MOST_SETS)
    if rows.whole:
        _blame_nothing(source, rows)
    if source.faults:
        raise InputError(*source.faults)
    tape = TAPE_PM if head.tape is None else head.tape
    return Readings(
        title=head.title or source.path.stem,
        sets=tuple(replace(_set(table), tape=tape) for table in rows.tables),
        us_units=source.system is System.US,
        tape=tape,
        assumed=(*_assumed_tape(source, head), *_assumed(source, rows.tables)),
    )


def _blame_nothing(source: Source, rows: TableRows[SetTable]) -> None:
    if not rows.rows:
        source.blame("", "set", "is missing: readings need at least one [[set]]")
    elif not any(each.load for table in rows.tables for _, each in table.places):
        source.blame("", "set", "has no load greater than 0: nothing was weighed")


def _set(table: SetTable) -> ReadingSet:
    """Return one set of readings, plus or minus filled in where left out."""
    return ReadingSet(
        held=_held(table),
        places=tuple(_place(each) for _, each in table.places),
        nose_up=table.nose_up or 0.0,
        left_up=table.left_up or 0.0,
        nose_up_pm=_tilt_pm(table, table.nose_up, table.nose_up_pm),
        left_up_pm=_tilt_pm(table, table.left_up, table.left_up_pm),
    )


def _held(table: SetTable) -> Held:
    if table.scale or table.hook is None:
        return Held.STANDS
    return Held.HANGS if table.hook.hangs_level or table.tilted else Held.HANGS_ASKEW


def _place(table: ScaleTable | HookTable) -> ScalePlace:
    """Return what was read at one place, plus or minus filled in; a height left out is 0."""
    x, y, *height = table.at
    pm = (
        0.0 if table.load is None else table.pm.on(table.load) if table.pm else max(LOAD_SHARE * table.load, LOAD_LEAST)
    )
    return ScalePlace((x, y, height[0] if height else 0.0), table.load, pm)


def _tilt_pm(table: SetTable, tilt: float | None, pm: float | None) -> float:
    """Return the plus or minus on one tilt of a set: a level one is level, but a tilted one is hardly so across."""
    if pm is not None:
        return pm
    if not table.tilted:
        return 0.0
    return ACROSS_PM if tilt is None else TILT_PM


def _assumed_tape(source: Source, head: ReadingsHead) -> Iterator[str]:
    """Yield a word on how well the places were measured, where the file does not say."""
    if head.tape is None:
        taken = f"{from_si(TAPE_PM, Kind.LENGTH, source.system):.2g} {bare_unit(Kind.LENGTH, source.system)}"
        yield f"How well the places were measured (tape) not given, plus or minus {taken} taken."


def _assumed(source: Source, tables: tuple[SetTable, ...]) -> Iterator[str]:
    """Yield a sentence for each thing that was left out and assumed, with the sets that it is about."""
    numbered = list(enumerate(tables, 1))
    if bare := [n for n, table in numbered if any(p.pm is None and p.load is not None for _, p in table.places)]:
        least = f"{from_si(LOAD_LEAST, Kind.MASS, source.system):.2g} {bare_unit(Kind.MASS, source.system)}"
        taken = f"{100 * LOAD_SHARE:.0f} % of it taken, at least {least}"
        yield f"Plus or minus of a load not given, {taken}: {_sets(bare)}."
    if tilted := [n for n, table in numbered if _leaves_out_tilt_pm(table)]:
        yield f"Plus or minus of a tilt not given, {degrees(TILT_PM):.1f} degrees taken: {_sets(tilted)}."
    if across := [n for n, table in numbered if _leaves_out_a_tilt(table)]:
        yield f"Tilt the other way not given, 0 plus or minus {degrees(ACROSS_PM):.1f} degrees taken: {_sets(across)}."
    if idle := [n for n, table in numbered if any(p.pm is not None and p.load is None for _, p in table.places)]:
        yield f"A place has a plus or minus but no load, so it counts as not weighed: {_sets(idle)}."
    if hung := [n for n, table in numbered if _held(table) is Held.HANGS_ASKEW]:
        yield f"Whether it hangs level is not said, so only its weight counts: {_sets(hung)}."


def _leaves_out_tilt_pm(table: SetTable) -> bool:
    """Return whether a set is tilted without a plus or minus."""
    pairs = ((table.nose_up, table.nose_up_pm), (table.left_up, table.left_up_pm))
    return table.tilted and any(tilt is not None and pm is None for tilt, pm in pairs)


def _leaves_out_a_tilt(table: SetTable) -> bool:
    """Return whether a set is tilted one way, and says nothing of the other."""
    pairs = ((table.nose_up, table.nose_up_pm), (table.left_up, table.left_up_pm))
    return table.tilted and any(tilt is None and pm is None for tilt, pm in pairs)


def _sets(numbers: list[int]) -> str:
    return f"set{'s' if len(numbers) > 1 else ''} {listed([str(number) for number in numbers])}"
