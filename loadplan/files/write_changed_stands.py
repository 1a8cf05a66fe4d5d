"""Writing changed stands and steps into a job file: only what differs, with comments and order kept."""

import re
from collections.abc import Iterator
from itertools import chain
from pathlib import Path

from loadplan.files.edit_stands import Bearing, Free, Under, equipped, moved
from loadplan.files.job_file import JobFile, open_job
from loadplan.files.moved_job import moved as moved_job
from loadplan.files.toml_edit import Added, Change, Edit, edited, quoted
from loadplan.files.write_heights import length_text, setting_changes, stack_text
from loadplan.files.write_readings import readings_text
from loadplan.model.job import Job, SetAnew, Stage, Support
from loadplan.units import System

BARE = re.compile(r"[A-Za-z0-9_-]+")
"""A key that TOML takes without quotes."""


def with_changed_stands(source: Path, target: Path, before: Job, after: Job) -> bytes:
    """Make the contents of a job file with other stands, and with steps put in; nothing is written.

    Args:
        source: The job file, which has been read without faults.
        target: Where the contents go.
        before: The job as it was read.
        after: The same job with other supports, some more, and with lists of supports changed in its steps; further
            steps have names of their own. None is gone.

    Returns:
        The contents.

    Raises:
        InputError: If it cannot be written without touching something else.
        OSError: If the job file cannot be read.
    """
    return edited(source, chain(moved_job(source, target), stand_edits(open_job(source), before, after)))


def stand_edits(file: JobFile, before: Job, after: Job) -> list[Edit]:
    """List what changes in a job file with other stands, and with steps put in.

    Args:
        file: The job file.
        before: The job as it was read.
        after: The same job, as `with_changed_stands` takes it.

    Returns:
        The edits.
    """
    rows = {each.name: row for row, each in enumerate(before.supports)}
    numbers = {each.name: number for number, each in enumerate(before.stages)}
    edits = chain(
        *(_changed(file, rows[new.name], before, new) for new in after.supports if new.name in rows),
        *(
            _relisted(file, number, before.stages[number], new)
            for new in after.stages
            if (number := numbers.get(new.name)) is not None
        ),
        _inserted(file.source.system, numbers, after.stages),
        (Added("support", _values(new, file.source.system)) for new in after.supports if new.name not in rows),
    )
    return list(edits)


def _changed(file: JobFile, row: int, before: Job, new: Support) -> Iterator[Edit]:
    """Yield what has to change in a support's table."""
    old = before.supports[row]
    if (old.point, old.body, old.at) != (new.point, new.body, new.at):
        yield from moved(file, row, _bearing(new))
    if old.equipment.name != new.equipment.name:
        yield from equipped(row, new.equipment.name)
        if new.friction is None and old.friction is not None:
            yield Change("support", row, "friction", None)
    if old.tag != new.tag:
        yield Change("support", row, "tag", quoted(new.tag) if new.tag else None)
    if (old.height, old.shim) != (new.height, new.shim):
        yield from setting_changes(row, file.supports.tables[row], new, file.source.system)


def _relisted(file: JobFile, number: int, old: Stage, new: Stage) -> Iterator[Edit]:
    """Yield what has to change in a stage's table: which supports come and go, what is set anew and was read."""
    system = file.source.system
    if old.in_place != new.in_place:
        yield Change("stage", number, "in_place", _names(new.in_place))
    if old.cleared != new.cleared:
        yield Change("stage", number, "cleared", _names(new.cleared))
    if old.set_anew != new.set_anew:
        yield Change("stage", number, "set", _heights(new.set_anew, system))
    if old.readings != new.readings:
        left = {each.support for each in new.readings}
        rows = (each for each in file.stages.tables[number].readings if each.support in left)
        yield Change("stage", number, "readings", readings_text(rows, system))


def _inserted(system: System, numbers: dict[str, int], stages: tuple[Stage, ...]) -> Iterator[Edit]:
    """Yield the further stages, each behind the one before it; those before it in the file are there by then."""
    for place, stage in enumerate(stages):
        if stage.name in numbers:
            continue
        lists = {"in_place": _names(stage.in_place), "cleared": _names(stage.cleared)}
        values = {"name": quoted(stage.name), **lists, "set": _heights(stage.set_anew, system)}
        told = tuple((key, value) for key, value in values.items() if value is not None)
        yield Added("stage", told, place - 1)


def _values(support: Support, system: System) -> tuple[tuple[str, str], ...]:
    """Return the keys and values of a support that is not in the file yet."""
    values = {
        "name": quoted(support.name),
        "use": quoted(support.equipment.name),
        "tag": quoted(support.tag) if support.tag else None,
        "under": quoted(support.point) if support.point else None,
        "body": None if support.point else quoted(support.body),
        "at": None if support.point else f"[{', '.join(length_text(each, system) for each in support.at)}]",
        "height": None if support.height is None else length_text(support.height, system),
        "shim": None if support.shim is None else stack_text(support.shim, system),
        "standby": "true" if support.standby else None,
    }
    return tuple((key, value) for key, value in values.items() if value is not None)


def _bearing(support: Support) -> Bearing:
    """Return what a support bears on, as the file says it."""
    return Under(support.point) if support.point else Free(support.body, support.at)


def _names(names: tuple[str, ...]) -> str | None:
    """Return a list of names; an empty one is left out."""
    return f"[{', '.join(map(quoted, names))}]" if names else None


def _heights(heights: tuple[SetAnew, ...], system: System) -> str | None:
    """Return heights set anew as an inline table; an empty one is left out."""
    pairs = (
        f"{each.support if BARE.fullmatch(each.support) else quoted(each.support)} = {length_text(each.height, system)}"
        for each in heights
    )
    return f"{{ {', '.join(pairs)} }}" if heights else None
