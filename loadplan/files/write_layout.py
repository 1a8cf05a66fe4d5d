"""Writing a planned layout into a job file: the old supports go, the planned ones come."""

import tomllib
from pathlib import Path
from typing import Any

import tomlkit

from loadplan.errors import Fault, InputError
from loadplan.files.job_file import open_job
from loadplan.files.moved_job import moved
from loadplan.files.toml_edit import edited, written_like
from loadplan.files.write_heights import length_text
from loadplan.model.job import Job, Support
from loadplan.units import System


def with_layout(source: Path, target: Path, job: Job) -> bytes:
    """Make the contents of a job file with a planned layout; nothing is written.

    Args:
        source: The job file, which has been read without faults.
        target: Where the contents go.
        job: The job with the layout in it, as the planner gives it.

    Returns:
        The contents, comments and order kept.

    Raises:
        InputError: If the layout cannot be written without touching something else.
        OSError: If the job file cannot be read.
    """
    system = open_job(source).source.system
    content = edited(source, moved(source, target))
    document: Any = tomlkit.parse(content.decode("utf-8-sig"))
    _put(document, job, (tomlkit.aot, tomlkit.table), system)
    text = tomlkit.dumps(document)
    wanted = tomllib.loads(content.decode("utf-8-sig"))
    _put(wanted, job, (list, dict), system)
    if tomllib.loads(text) != wanted:
        message = "cannot take the layout without touching something else in it: write the supports in by hand"
        raise InputError(Fault(str(source), "support", "", message))
    return written_like(text, content)


def _put(document: Any, job: Job, kinds: tuple[Any, Any], system: System) -> None:  # noqa: ANN401
    """Put the layout into a TOML document, or into plain tables that it has to mean; kinds of its rows, and of one."""
    rows, row = kinds
    written = {_name(table["name"]) for table in document.get("support", [])}
    staying = {support.name for support in job.supports if support.keep}
    planned = [support for support in job.supports if not support.keep]
    tables = rows()
    for table in document.get("support", []):
        if _name(table["name"]) in staying:
            tables.append(table)
    for support in planned:
        tables.append(_table(support, row(), system))
    if "support" in document:
        del document["support"]
    document["support"] = tables
    aside = written - staying
    for stage, table in zip(job.stages, document["stage"], strict=True):
        _rename(table, "in_place", aside, [each.name for each in planned if each.name in stage.in_place])
        _rename(table, "cleared", aside, [each.name for each in planned if each.name in stage.cleared])
        _forget(table, aside)


def _forget(table: Any, aside: set[str]) -> None:  # noqa: ANN401
    """Take out of a step what was read under stands that go, and heights that were set anew for them.

    It says nothing of the ones that come, whatever their letters.
    """
    left = [each for each in table.get("readings", []) if _name(each["support"]) not in aside]
    if left:
        table["readings"] = left
    elif "readings" in table:
        del table["readings"]
    for name in [each for each in table.get("set", {}) if _name(each) in aside]:
        del table["set"][name]
    if "set" in table and not table["set"]:
        del table["set"]


def _name(written: object) -> str:
    """Return a name as the reader takes it: spaces around it go."""
    return str(written).strip()


def _table(support: Support, table: Any, system: System) -> Any:  # noqa: ANN401
    """Return a table of a support, filled in: under a point, or at a place of an assembly."""
    table["name"], table["use"] = support.name, support.equipment.name
    if support.point:
        table["under"] = support.point
    else:
        table["body"] = support.body
        table["at"] = [float(length_text(each, system)) for each in support.at]
    return table


def _rename(table: Any, key: str, aside: set[str], coming: list[str]) -> None:  # noqa: ANN401
    left = [str(name) for name in table.get(key, []) if _name(name) not in aside] + coming
    if left:
        table[key] = left
    elif key in table:
        del table[key]
