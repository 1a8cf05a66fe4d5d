"""Writing what was forgotten into the file of a job's vehicle: behind what it lists already, never twice."""

import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from loadplan.errors import Fault, InputError
from loadplan.files.job_file import open_job, open_vehicle
from loadplan.files.safe_write import Over, SafeWriter, files_of, write_new
from loadplan.files.shipped import shipped_vehicles
from loadplan.files.toml_edit import LINE_END, Added, edited_text, number, quoted, written_like
from loadplan.files.toml_source import content_of, text_of
from loadplan.files.write_journal import alone_in
from loadplan.model.vehicle import TieUp
from loadplan.units import Kind, System, from_si

STEPS = {System.METRIC: 1.0, System.US: 0.05}
"""To what a place is rounded, in the file's units: mm and in; nobody tapes a hose finer."""


@dataclass(frozen=True, slots=True)
class VehicleHome:
    """Where the tables of a job's vehicle lie.

    Attributes:
        source: The file that is read: the vehicle's, or the job's where that holds them itself.
        path: The file that is written: the same; of a vehicle that ships a copy beside the job, which then counts.
        system: Units that it is written in.
        known: Names of the ties that it lists.
    """

    source: Path
    path: Path
    system: System
    known: frozenset[str]

    @property
    def is_copy(self) -> bool:
        """Whether a copy of a vehicle that ships is made."""
        return self.source != self.path


def vehicle_home(job: Path) -> VehicleHome:
    """Find where the tables of a job's vehicle lie.

    Args:
        job: The job file.

    Returns:
        It, as it is on the disk now.

    Raises:
        InputError: If the job cannot be read.
    """
    file = open_job(job)
    if file.faults:
        raise InputError(*file.faults)
    source = file.vehicle.source
    named = file.head.vehicle or ""
    ships = source.path in {path for _, path in shipped_vehicles()} and not named.endswith(".toml")
    path = job.parent / f"{named}.toml" if ships else source.path
    return VehicleHome(source.path, path, source.system, frozenset(each.name for each in file.vehicle.ties.tables))


def tie_text(home: VehicleHome, ties: Sequence[TieUp]) -> str:
    """Write what was forgotten as it is to stand in the file.

    Args:
        home: The file.
        ties: What goes in.

    Returns:
        Its lines; of what is in the file already none.
    """
    return LINE_END.join(each.text for each in _tables(home, ties))


def write_ties(job: Path, ties: Sequence[TieUp]) -> tuple[str, ...]:
    """Write what was forgotten into the file of a job's vehicle, all else as it was; its old text is kept beside.

    Args:
        job: The job file.
        ties: What goes in.

    Returns:
        Names of what was written; empty where all of it was there already.

    Raises:
        InputError: If the file cannot take it; then nothing is written.
        OSError: If it cannot be written; then what was there is there.
    """
    # Read, changed and written in one go: what another job of this vehicle puts there meanwhile is not lost.
    with alone_in(vehicle_home(job).path.parent):
        home = vehicle_home(job)
        tables = _tables(home, ties)
        if not tables:
            return ()
        content = content_of(home.source)
        text = edited_text(text_of(home.source), tables, home.source)
        _refuse_unsound(home, job, text)
        new = written_like(text, content)
        if home.is_copy:
            write_new(home.path.parent, {home.path.name: new})
        else:
            SafeWriter(lambda: files_of([job]), Over.OWN).write_back(home.path, new, home.path)
        return tuple(each.name for each in ties if each.name not in home.known)


def _refuse_unsound(home: VehicleHome, job: Path, text: str) -> None:
    """Make sure that the file can be read with what goes in.

    Raises:
        InputError: If it cannot.
    """
    own = os.path.realpath(home.source) == os.path.realpath(job)
    faults = open_job(job, text).faults if own else tuple(open_vehicle(home.source, text).source.faults)
    if faults:
        raise InputError(Fault(str(home.source), "", "tie", f"cannot take it: {faults[0]}. Nothing was written"))


def _tables(home: VehicleHome, ties: Sequence[TieUp]) -> list[Added]:
    known = {each.casefold() for each in home.known}
    return [_table(each, home.system) for each in ties if each.name.casefold() not in known]


def _table(tie: TieUp, system: System) -> Added:
    """Return a tie as its table."""
    step = STEPS[system]
    at = ", ".join(number(round(from_si(each, Kind.LENGTH, system) / step) * step) for each in tie.at)
    rows = [("name", quoted(tie.name)), ("body", quoted(tie.body)), ("at", f"[{at}]"), ("what", quoted(tie.what.value))]
    rows += [("before", f"[{', '.join(map(quoted, tie.before))}]")] if tie.before else []
    rows += [("say", quoted(tie.say))] if tie.say else []
    return Added("tie", tuple(rows))
