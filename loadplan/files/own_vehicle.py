"""A job that takes its vehicle's tables into its own file, so that they can be changed for this job alone."""

import re
from typing import NamedTuple

import tomlkit

from loadplan.files.job_file import JobFile
from loadplan.files.other_units import with_units
from loadplan.files.toml_edit import HEADER, LINE_END, Change, Edit, edited_text, quoted
from loadplan.files.toml_source import text_of


class NamedIn(NamedTuple):
    """A table, and the key in it that names a thing."""

    table: str
    key: str


RENAMED = (
    ("part", (NamedIn("stage", "off"), NamedIn("stage", "on"), NamedIn("part", "after"))),
    ("part", (NamedIn("joint", "part"), NamedIn("point", "part"))),
    ("point", (NamedIn("support", "under"), NamedIn("lift", "pads"))),
    ("joint", (NamedIn("stage", "undone"), NamedIn("stage", "done_up"), NamedIn("tie", "before"))),
    ("body", (NamedIn("part", "body"), NamedIn("point", "body"), NamedIn("joint", "between"), NamedIn("tie", "body"))),
    ("body", (NamedIn("support", "body"), NamedIn("support", "on"), NamedIn("lift", "body"), NamedIn("", "bodies"))),
    ("lift", (NamedIn("stage", "in_place"), NamedIn("stage", "cleared"))),
)
"""Tables and keys that name a thing of each kind."""


def with_own_vehicle(file: JobFile, text: str) -> str:
    """Take the vehicle's tables into a job's text.

    Args:
        file: The job file, which has been read without faults.
        text: Its text.

    Returns:
        The text with the vehicle's tables and comments behind its own; as it is where it holds them already. Where the
        two files are in other units each number comes with its unit.

    Raises:
        InputError: If that cannot be done as the two files are written.
    """
    if "vehicle" not in file.source.raw:
        return text
    source = file.vehicle.source
    whole = text_of(source.path).replace("\r\n", LINE_END)
    first = HEADER.search(whole)
    # What the file says of itself before its tables is of no use in a job's file.
    tables = whole[first.start() :] if first else ""
    if source.system is not file.source.system:
        tables = with_units(tables, source.system)
    known = source.raw.get("known")
    head: list[Edit] = [Change("", 0, "vehicle", None), Change("", 0, "name", quoted(file.vehicle.name))]
    head += [Change("", 0, "example", "true")] if file.vehicle.example else []
    head += [Change("", 0, "known", quoted(known))] if isinstance(known, str) else []
    told = f"# The vehicle, taken from {re.sub(r'[^ -~]', '-', source.path.name)} for this job alone."
    own = edited_text(text, head, file.source.path)
    end = "\r\n" if "\r\n" in own else LINE_END
    return f"{own.rstrip()}{end}{end}{told}{end}{tables.replace(LINE_END, end)}"


def renamed(file: JobFile, table: str, before: str, after: str) -> list[Edit]:
    """Have everything in a job's file name a thing by its new name.

    Args:
        file: The job file, which holds its vehicle itself.
        table: Kind of thing: "body", "part", "point", "joint" or "lift".
        before: Its name so far.
        after: Its name from now on.

    Returns:
        The edits, that of the thing itself aside.
    """
    edits: list[Edit] = []
    for kind, key in (each for named, places in RENAMED if named == table for each in places):
        raw = file.source.raw.get(kind, []) if kind else file.source.raw
        for row, each in enumerate(raw if isinstance(raw, list) else [raw]):
            names = each.get(key)
            if names == before:
                edits.append(Change(kind, row, key, quoted(after)))
            elif isinstance(names, list) and before in names:
                now = [after if name == before else name for name in names]
                edits.append(Change(kind, row, key, f"[{', '.join(map(quoted, now))}]"))
    return [*edits, *(_pulled(file, before, after) if table == "body" else [])]


def _pulled(file: JobFile, before: str, after: str) -> list[Edit]:
    """Return what has the steps' known pulls name an assembly by its new name."""
    pulls = ((row, each.get("pull")) for row, each in enumerate(file.source.raw.get("stage", [])))
    edits: list[Edit] = []
    for row, pull in pulls:
        if isinstance(pull, dict) and pull.get("body") == before:
            now = tomlkit.inline_table()
            now.update({**pull, "body": after})
            edits.append(Change("stage", row, "pull", now.as_string()))
    return edits
