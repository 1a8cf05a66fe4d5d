"""Changing the stands of a job file, one at a time: moved, added, taken out, set otherwise; and parts ticked off."""

from dataclasses import dataclass
from typing import TypeAlias, assert_never

from loadplan.files.edit_stages import OFF, listed, toggled
from loadplan.files.job_file import JobFile
from loadplan.files.toml_edit import Added, Change, Dropped, Edit, number, quoted
from loadplan.files.write_heights import stack_text
from loadplan.files.write_readings import readings_text
from loadplan.model.job import Stack
from loadplan.model.vehicle import Place
from loadplan.units import Kind, System, from_si


@dataclass(frozen=True, slots=True)
class Under:
    """A point of the vehicle on which a stand bears."""

    point: str


@dataclass(frozen=True, slots=True)
class Free:
    """A place on a body on which a stand bears [m]."""

    body: str
    at: Place


Bearing: TypeAlias = Under | Free


@dataclass(frozen=True, slots=True)
class NewStand:
    """A stand that is not in the file yet.

    Attributes:
        name: Its name.
        equipment: Name of the equipment.
        to: Where it goes.
        height: Saddle height [m]; None: brought up to just touch.
    """

    name: str
    equipment: str
    to: Bearing
    height: float | None

    def values(self, system: System) -> tuple[tuple[str, str], ...]:
        """Return its keys and values as TOML text."""
        where = [(key, value) for key, value in _where(self.to, system) if value is not None]
        height = [] if self.height is None else [("height", _length(self.height, system))]
        return (("name", quoted(self.name)), ("use", quoted(self.equipment)), *where, *height)


def moved(file: JobFile, row: int, to: Bearing) -> list[Edit]:
    """Move a stand.

    Args:
        file: The job file.
        row: Number of the support, from 0.
        to: Where it goes.

    Returns:
        The edits.
    """
    return [Change("support", row, key, value) for key, value in _where(to, file.source.system)]


def equipped(row: int, equipment: str) -> list[Edit]:
    """Put other equipment under a place; which piece it was is no longer known.

    Args:
        row: Number of the support, from 0.
        equipment: Name of the equipment.

    Returns:
        The edits.
    """
    return [Change("support", row, "use", quoted(equipment)), Change("support", row, "tag", None)]


def set_to(file: JobFile, row: int, height: float | None) -> list[Edit]:
    """Set the saddle height of a stand.

    Args:
        file: The job file.
        row: Number of the support, from 0.
        height: Saddle height [m]; None: it is brought up to just touch.

    Returns:
        The edits.
    """
    value = None if height is None else _length(height, file.source.system)
    return [Change("support", row, "height", value)]


def shimmed(file: JobFile, row: int, shim: Stack | None) -> list[Edit]:
    """Lay something on the saddle of a stand.

    Args:
        file: The job file.
        row: Number of the support, from 0.
        shim: What lies there; None: nothing.

    Returns:
        The edits.
    """
    return [Change("support", row, "shim", None if shim is None else stack_text(shim, file.source.system))]


def tagged(row: int, tag: str) -> list[Edit]:
    """Say which piece a stand is.

    Args:
        row: Number of the support, from 0.
        tag: Its tag; "" for any.

    Returns:
        The edits.
    """
    return [Change("support", row, "tag", quoted(tag) if tag else None)]


def added(file: JobFile, stand: NewStand, stage: int) -> list[Edit]:
    """Add a stand.

    Args:
        file: The job file.
        stand: The stand.
        stage: Number of the stage that puts it in place, from 0.

    Returns:
        The edits.
    """
    names = [*file.stages.tables[stage].in_place, stand.name]
    return [Added("support", stand.values(file.source.system)), listed(stage, "in_place", names)]


def duplicated(file: JobFile, row: int, stand: NewStand) -> list[Edit]:
    """Set a stand beside another: put in place and taken away when that one is.

    Args:
        file: The job file.
        row: Number of the other, from 0.
        stand: The stand.

    Returns:
        The edits.
    """
    like = file.supports.tables[row].name
    lists = [
        listed(number, key, [*getattr(table, key), stand.name])
        for number, table in enumerate(file.stages.tables)
        for key in ("in_place", "cleared")
        if like in getattr(table, key)
    ]
    return [Added("support", stand.values(file.source.system)), *lists]


def removed(file: JobFile, row: int) -> list[Edit]:
    """Take a stand out of the job.

    Args:
        file: The job file.
        row: Number of the support, from 0.

    Returns:
        The edits.
    """
    name = file.supports.tables[row].name
    lists = [
        listed(number, key, [each for each in getattr(table, key) if each != name])
        for number, table in enumerate(file.stages.tables)
        for key in ("in_place", "cleared")
        if name in getattr(table, key)
    ]
    read = [
        Change("stage", number, "readings", readings_text(left, file.source.system))
        for number, table in enumerate(file.stages.tables)
        if (left := [each for each in table.readings if each.support != name]) != list(table.readings)
    ]
    return [*lists, *read, Dropped("support", row)]


def ticked(file: JobFile, part: str, stage: int, *, off: bool) -> list[Edit]:
    """Tick a part off from a stage on, or back on.

    A part that comes off in that very stage and is ticked on comes off in the next one instead: what later stages
    take off may need it gone.

    Args:
        file: The job file.
        part: Name of the part.
        stage: Number of the stage, from 0.
        off: Whether it is gone from there on.

    Returns:
        The edits.
    """
    return toggled(file, part, stage, OFF if off else OFF.reversed)


def _where(to: Bearing, system: System) -> list[tuple[str, str | None]]:
    """Return keys and values of a place; what goes, goes last: a table is never left without a place."""
    match to:
        case Under(point):
            return [("under", quoted(point)), ("body", None), ("at", None)]
        case Free(body, at):
            place = f"[{', '.join(_length(each, system) for each in at)}]"
            return [("body", quoted(body)), ("at", place), ("under", None)]
        case _:
            assert_never(to)


def _length(metres: float, system: System) -> str:
    return number(from_si(metres, Kind.LENGTH, system))
