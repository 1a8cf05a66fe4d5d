"""The commands of the office: all jobs of a shop, and what editors need."""

from dataclasses import replace
from datetime import datetime
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from loadplan.cli.exit_codes import STOP
from loadplan.cli.options import AsJson, Force, app, colours, json_text, tell, writer
from loadplan.cli.output_path import output_path
from loadplan.errors import Fault, InputError
from loadplan.units import System

if TYPE_CHECKING:
    from loadplan.planning.register.bookings import Register


class SchemaKind(Enum):
    """The kinds of files that users write."""

    VEHICLE = "vehicle"
    SHOP = "shop"
    JOB = "job"
    READINGS = "readings"


@app.command(
    help="Set all jobs against the shop's list: what each carries, what is booked twice, what there is not enough of. "
    "Exit code 1: a job is a stop or cannot be used, or something is booked twice."
)
def shop(
    paths: Annotated[
        list[Path],
        typer.Argument(metavar="SHOP JOB-OR-FOLDER...", help="The shop file; jobs, or folders in which they lie."),
    ],
    *,
    pdf: Annotated[Path | None, typer.Option("-o", metavar="FILE.pdf", help="Write it as a PDF, too.")] = None,
    as_json: AsJson = False,
    as_csv: Annotated[bool, typer.Option("--csv", help="Print a table for a spreadsheet and nothing else.")] = False,
    force: Force = False,
    units: Annotated[
        System | None, typer.Option(help="Units of the words. Left out, they are those of the shop file.")
    ] = None,
) -> None:
    """Read and judge all jobs of a shop, and print its register.

    Args:
        paths: The shop file, then job files and folders in which they lie.
        pdf: PDF file to write, None for none.
        as_json: Print the machine output.
        as_csv: Print a table for a spreadsheet.
        force: Whether another file is written over.
        units: Units of the words, None for the shop file's.

    Raises:
        Exit: With 1 where a job is a stop or cannot be used, or something is booked twice.
        InputError: If no job is named, or two ways of printing are asked for.
    """
    target = None if pdf is None else output_path(pdf, "week.pdf")
    # Reading and judging need what `--help` does not wait for.
    from loadplan.files import read_shop  # noqa: PLC0415
    from loadplan.files.find_jobs import find_jobs, strays  # noqa: PLC0415
    from loadplan.planning.register.bookings import Unread  # noqa: PLC0415
    from loadplan.planning.register.parallel_reading import gather  # noqa: PLC0415

    if as_json and as_csv:
        raise InputError(Fault("loadplan shop", "", "--csv", "must not stand beside --json: ask for one of them"))
    if len(paths) < 2:
        raise InputError(Fault("loadplan shop", "", "", "needs a job, or a folder with jobs, behind the shop file"))
    owned, own = read_shop(paths[0])
    jobs = find_jobs(paths[1:])
    found = gather(owned, jobs, datetime.now().astimezone().date())
    found = replace(found, unread=(*found.unread, *(Unread(each.file, (str(each),)) for each in strays(paths[1:]))))
    shown = units or own
    if target:
        # Drawing needs matplotlib, which the page does not wait for.
        from loadplan.report.sheet.register_pdf import register_pdf  # noqa: PLC0415

        writer(paths[0], *jobs, force=force).write(target, register_pdf(found, shown))
    tell(_told(found, shown, "json" if as_json else "csv" if as_csv else "page"))
    raise typer.Exit(0 if found.holds else STOP)


def _told(found: "Register", units: System, form: str) -> str:
    """Return the register as JSON, as CSV or as the page."""
    # Not before there is something to tell.
    from loadplan.report.text.register_export import register_csv, register_dict  # noqa: PLC0415
    from loadplan.report.text.register_page import register_page  # noqa: PLC0415

    match form:
        case "json":
            return json_text(register_dict(found))
        case "csv":
            return register_csv(found, units)
        case _:
            return register_page(found, units, colours())


@app.command(help="Print the JSON Schemas of the files, for editors that know TOML.")
def schema(
    *,
    kind: Annotated[
        SchemaKind | None, typer.Option(help="Only that of one kind of file. Left out, all stand in one object.")
    ] = None,
) -> None:
    """Print what an editor needs to know of the files.

    Args:
        kind: Kind of file, None for all in one object.
    """
    # The shapes need pydantic, which `--help` does not wait for.
    from loadplan.files.schema import FileKind, all_schemas, file_schema  # noqa: PLC0415

    tell(json_text(file_schema(FileKind(kind.value)) if kind else all_schemas()))
