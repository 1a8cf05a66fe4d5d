"""The number of a sheet: it changes whenever anything changes that the plan rests on."""

import json
from dataclasses import fields, is_dataclass, replace
from datetime import date
from enum import Enum
from hashlib import sha256
from typing import TypeAlias

from loadplan.model.job import Job
from loadplan.model.work_record import Deed, WorkRecord
from loadplan.report.words.record_words import SheetNumbers

Canonical: TypeAlias = "str | list[Canonical] | dict[str, Canonical] | None"

UNSAID = frozenset({"source", "assumed", "readings"})
"""What does not count: where the file lies, sentences that follow from the rest, and what is found as the work goes:
the sheet in hand stays the plan's."""

LENGTH = 8
"""Characters of the number."""


def sheet_number(job: Job) -> str:
    """Number the sheet of a job by its content: job, vehicle and shop as they were read.

    Args:
        job: The job.

    Returns:
        Eight hexadecimal digits; the same for files that differ only in order of keys, comments or units written.
    """
    text = json.dumps(_canonical(job), sort_keys=True, ensure_ascii=True, separators=(",", ":"))
    return sha256(text.encode()).hexdigest()[:LENGTH]


def sheet_numbers(job: Job, record: WorkRecord) -> SheetNumbers:
    """Number the sheet of a job as it is, and as it was before what its own record listed in the vehicle's file.

    Args:
        job: The job.
        record: What was done of it.

    Returns:
        Both; the second for each time at which something was listed, since it may have been worked by in between.
    """
    listed = list(dict.fromkeys(each.words.casefold() for each in record.entries if each.deed is Deed.LISTED))
    before = set[str]()
    for known in range(len(listed)):
        ties = tuple(each for each in job.vehicle.ties if each.name.casefold() not in listed[known:])
        before.add(sheet_number(replace(job, vehicle=replace(job.vehicle, ties=ties))))
    return SheetNumbers(sheet_number(job), frozenset(before))


def sheet_code(number: str) -> str:
    """Return what a phone reads on a sheet: what it is, and its number, to be compared with the plan's.

    Args:
        number: The sheet's number.

    Returns:
        Capitals, figures and a blank.

    Example:
        >>> sheet_code("f54ab5ad")
        'LOADPLAN F54AB5AD'
    """
    return f"LOADPLAN {number.upper()}"


def _canonical(value: object) -> Canonical:
    """Return a noun as plain lists and words, numbers to twelve figures: units written must not show."""
    if is_dataclass(value):
        named = {each.name: getattr(value, each.name) for each in fields(value) if each.name not in UNSAID}
        return {name: _canonical(each) for name, each in named.items()}
    if isinstance(value, tuple):
        return [_canonical(each) for each in value]
    if isinstance(value, frozenset):
        return [*sorted(map(str, value))]
    if isinstance(value, float):
        return f"{value + 0.0:.12g}"
    if isinstance(value, Enum):
        return value.name
    return value.isoformat() if isinstance(value, date) else None if value is None else str(value)
