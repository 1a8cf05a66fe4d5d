"""A job that takes its vehicle's tables into its own file, so that they can be changed for this job alone."""

import re
from typing import NamedTuple

from loadplan.errors import Fault, InputError
from loadplan.files.job_file import JobFile
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
    ("joint", (NamedIn("stage", "undone"), NamedIn("stage", "done_up"))),
    ("lift", (NamedIn("stage", "in_place"), NamedIn("stage", "cleared"))),
)
"""Tables and keys that name a thing of each kind."""


def with_own_vehicle(file: JobFile, text: str) -> str:
    """Take the vehicle's tables into a job's text.

    Args:
        file: The job file, which has been read without faults.
        text: Its text.

    Returns:
        The text with the vehicle's tables and comments behind its own; as it is where it holds them already.

    Raises:
        InputError: If that cannot be done as the two files are written.
    """
    if "vehicle" not in file.source.raw:
        return text
    source = file.vehicle.source
    if source.system is not file.source.system:
        message = "is in other units than the vehicle's file: points, parts and joints are changed in that file then"
        raise InputError(Fault(str(file.source.path), "", "units", message))
    whole = text_of(source.path).replace("\r\n", LINE_END)
    first = HEADER.search(whole)
    # What the file says of itself before its tables is of no use in a job's file.
    tables = whole[first.start() :] if first else ""
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
        table: Kind of thing: "part", "point", "joint" or "lift".
        before: Its name so far.
        after: Its name from now on.

    Returns:
        The edits, that of the thing itself aside.
    """
    edits: list[Edit] = []
    for kind, key in (each for named, places in RENAMED if named == table for each in places):
        raw = file.source.raw.get(kind, [])
        for row, each in enumerate(raw if isinstance(raw, list) else [raw]):
            names = each.get(key)
            if names == before:
                edits.append(Change(kind, row, key, quoted(after)))
            elif isinstance(names, list) and before in names:
                now = [after if name == before else name for name in names]
                edits.append(Change(kind, row, key, f"[{', '.join(map(quoted, now))}]"))
    return edits
