"""Writing set heights and shims into a job file."""

from collections.abc import Iterator
from pathlib import Path

from loadplan.files.job_file import open_job
from loadplan.files.job_shape import StackTable, SupportTable
from loadplan.files.moved_job import moved
from loadplan.files.toml_edit import Change, edited, number, quoted
from loadplan.model.job import Stack, Support
from loadplan.units import Kind, System, from_si

SAME = 1e-7
"""Heights that differ by less [m] are left as they are written."""


def with_heights(source: Path, target: Path, supports: tuple[Support, ...]) -> bytes:
    """Make the contents of a job file with new heights and shims; nothing is written.

    Args:
        source: The job file, which has been read without faults.
        target: Where the contents go.
        supports: The job's supports, as they are to be set.

    Returns:
        The contents.

    Raises:
        InputError: If the target is another kind of file.
        OSError: If the job file cannot be read.
    """
    job = open_job(source)
    new = {each.name: each for each in supports}
    changes = [
        change
        for row, table in enumerate(job.supports.tables)
        for change in setting_changes(row, table, new[table.name], job.source.system)
    ]
    return edited(source, [*moved(source, target), *changes])


def setting_changes(row: int, table: SupportTable, support: Support, system: System) -> Iterator[Change]:
    """Yield what has to change in a support's table for its height and its shim.

    Args:
        row: Number of the support, from 0.
        table: Its table.
        support: The support as it is to be set.
        system: Units of the file.

    Yields:
        The changes; none where the table says so already.
    """
    if support.height is None and table.height is not None:
        yield Change("support", row, "height", None)
    if support.height is not None and (table.height is None or abs(table.height - support.height) > SAME):
        yield Change("support", row, "height", length_text(support.height, system))
    if support.shim is None and table.shim is not None:
        yield Change("support", row, "shim", None)
    elif support.shim is not None and not _is(table.shim, support.shim):
        yield Change("support", row, "shim", stack_text(support.shim, system))


def _is(written: StackTable | float | None, stack: Stack) -> bool:
    match written:
        case None:
            return False
        case StackTable():
            return abs(written.height - stack.height) <= SAME and (written.wood or "") == stack.wood
        case _:
            return abs(written - stack.height) <= SAME and not stack.wood


def stack_text(stack: Stack, system: System) -> str:
    """Return what lies on a saddle as an inline table.

    Args:
        stack: What lies there.
        system: Units of the file.

    Returns:
        TOML text.
    """
    wood = f", wood = {quoted(stack.wood)}" if stack.wood else ""
    crib = ", crib = true" if stack.crib else ""
    return f"{{ height = {length_text(stack.height, system)}{wood}{crib} }}"


def length_text(length: float, system: System) -> str:
    """Return a length [m] as a bare number of a file's units.

    Args:
        length: The length [m].
        system: Units of the file.

    Returns:
        TOML text.
    """
    return number(from_si(length, Kind.LENGTH, system))
