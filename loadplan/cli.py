"""The command line: parse, call, print, exit code. Whatever a command needs is imported inside it."""

import json
import os
import sys
from enum import Enum
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from loadplan import __version__
from loadplan.errors import Fault, InputError
from loadplan.units import System

if TYPE_CHECKING:
    from loadplan.model.verdict import Assessment, Verdict
    from loadplan.report.machine import Plain
    from loadplan.report.paint import Colours

STOP, UNUSABLE, CLOSED = 1, 2, 141
"""Exit codes: the plan does not hold; the input cannot be used; nobody reads the output any more (as by SIGPIPE)."""

app = typer.Typer(
    name="loadplan",
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


class Format(Enum):
    """File formats of a drawing."""

    SVG = "svg"
    PNG = "png"
    PDF = "pdf"


class _ClosedError(Exception):
    """Nobody reads the output any more."""


JobFile = Annotated[Path, typer.Argument(metavar="JOB", help="The job file.", show_default=False)]
Units = Annotated[System | None, typer.Option(help="Units of the words. Left out: the job file's.")]
WRITE_HELP = "Write the job with it into this file; the job file itself only if it is named here."
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object and nothing else.")]


def main() -> NoReturn:
    """Run the command line; every error that a user can cause ends here, as a message and an exit code."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        app()
    except InputError as error:
        _fail(str(error))
    except _ClosedError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(CLOSED)
    except OSError as error:
        _fail(f"{error.filename or 'output'}: {error.strerror or error}")
    sys.exit(0)


@app.callback(
    invoke_without_command=True,
    help="Say where each stand goes under a powertrain that is out of the vehicle, what it carries, and how far "
    "everything is from tipping.",
)
def loadplan(
    *,
    version: Annotated[bool, typer.Option("--version", help="Print the version.", is_eager=True)] = False,
) -> None:
    """Print the version where it is asked for.

    Args:
        version: Print the version and end.

    Raises:
        Exit: After the version.
    """
    if version:
        _print(f"loadplan {__version__}\n")
        raise typer.Exit


@app.command(help="Judge a job step by step. Exit code 0: holds or caution; 1: stop; 2: the input cannot be used.")
def check(
    job: JobFile,
    *,
    as_json: AsJson = False,
    units: Units = None,
    strict: Annotated[bool, typer.Option("--strict", help="Exit code 1 for a caution, too.")] = False,
) -> None:
    """Judge a job and print what comes of it.

    Args:
        job: The job file.
        as_json: Print the machine output.
        units: Units of the words, None for the job file's.
        strict: Exit with 1 for a caution, too.

    Raises:
        Exit: With the verdict's code.
    """
    # Reading and computing need numpy and scipy, which `--help` does not wait for.
    from loadplan.assess import assess  # noqa: PLC0415
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.report.phrase import units_of  # noqa: PLC0415

    assessment = assess(read_job(job))
    _print((_machine if as_json else _page)(assessment, units or units_of(assessment.job)))
    raise typer.Exit(_exit_code(assessment.verdict, strict=strict))


@app.command(
    help="Draw the plan of every step, to scale, and how the load goes over where a unit is set down. "
    "Exit codes as for check, of the steps drawn."
)
def draw(
    job: JobFile,
    *,
    folder: Annotated[Path, typer.Option("-o", metavar="DIR", help="Folder for the pictures.", show_default=False)],
    file_format: Annotated[Format, typer.Option("--as", help="File format.")] = Format.SVG,
    stage: Annotated[str | None, typer.Option(metavar="NAME", help="Only the step of that name.")] = None,
    units: Units = None,
) -> None:
    """Draw the plan of every step, and each lowering, into files, and print their names.

    Args:
        job: The job file.
        folder: Where they go.
        file_format: File format.
        stage: Name of the only step wanted, None for all.
        units: Units of the words, None for the job file's.

    Raises:
        Exit: With the code of the worst verdict drawn.
    """
    # Drawing needs matplotlib, which the other commands do not wait for.
    from loadplan.assess import assess  # noqa: PLC0415
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.report.canvas import plan_files  # noqa: PLC0415
    from loadplan.report.phrase import units_of  # noqa: PLC0415
    from loadplan.report.write import write_drawings  # noqa: PLC0415

    plan = read_job(job)
    indexes = _stages([each.name for each in plan.stages], stage, job)
    assessment = assess(plan)
    files = plan_files(assessment, indexes, file_format.value, units or units_of(plan))
    for path in write_drawings(folder, files, keep=job):
        _print(f"{path}\n")
    raise typer.Exit(_exit_code(max(assessment.stages[index].verdict for index in indexes), strict=False))


@app.command(help="Set heights and shims: the settings of the shop's stands that leave the saddles least uneven.")
def heights(
    job: JobFile,
    *,
    write: Annotated[Path | None, typer.Option("--write", metavar="FILE", help=WRITE_HELP)] = None,
    as_json: AsJson = False,
    units: Units = None,
) -> None:
    """Choose set heights and shims, print them, and write the job with them where it is asked for.

    Args:
        job: The job file.
        write: Where the job goes with these heights, None for nowhere.
        as_json: Print the machine output.
        units: Units of the words, None for the job file's.
    """
    # Reading, planning and writing back need what `--help` does not wait for.
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.files.heights import with_heights  # noqa: PLC0415
    from loadplan.planning.heights import plan_heights  # noqa: PLC0415
    from loadplan.report.heights import heights_dict, heights_page  # noqa: PLC0415
    from loadplan.report.phrase import units_of  # noqa: PLC0415

    plan = plan_heights(read_job(job))
    if write:
        _write(write, with_heights(job, write, plan.job.supports))
    _print(_json(heights_dict(plan)) if as_json else heights_page(plan, units or units_of(plan.job)))


@app.command(
    help="Order the parts that come off in a step by what keeps everything farthest from tipping, where the repair "
    "manual leaves it free. Exit code 1: something tips, or may tip, in any order."
)
def order(
    job: JobFile,
    *,
    stage: Annotated[str, typer.Option(metavar="NAME", help="The step that takes them off.", show_default=False)],
    as_json: AsJson = False,
    units: Units = None,
) -> None:
    """Choose the order in which a step's parts come off, and print it.

    Args:
        job: The job file.
        stage: Name of the step.
        as_json: Print the machine output.
        units: Units of the words, None for the job file's.

    Raises:
        Exit: With 1 where something tips or may tip in any order.
    """
    # Reading and planning need numpy, which `--help` does not wait for.
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.planning.order import plan_order  # noqa: PLC0415
    from loadplan.report.order import order_dict, order_page  # noqa: PLC0415
    from loadplan.report.phrase import units_of  # noqa: PLC0415

    whole = read_job(job)
    plan = plan_order(whole, _stages([each.name for each in whole.stages], stage, job)[0])
    _print(_json(order_dict(plan)) if as_json else order_page(whole, plan, units or units_of(whole)))
    raise typer.Exit(0 if plan.narrowest > 0 else STOP)


@app.command(help="Say what a unit weighs and where its centre of gravity is, from readings of scales.")
def weigh(
    readings: Annotated[Path, typer.Argument(metavar="READINGS", help="The file of readings.", show_default=False)],
    *,
    write: Annotated[Path | None, typer.Option("--write", metavar="VEHICLE", help="Vehicle file to put it in.")] = None,
    body: Annotated[str | None, typer.Option("--body", metavar="NAME", help="Assembly that was weighed.")] = None,
    as_json: AsJson = False,
    units: Units = None,
) -> None:
    """Work out what was weighed, print it, and put it into a vehicle's file where it is asked for.

    Args:
        readings: The file of readings.
        write: Vehicle file to put it in, None for none.
        body: Name of the body that was weighed.
        as_json: Print the machine output.
        units: Units of the words, None for the file's.

    Raises:
        InputError: If only one of file and body is named.
    """
    # Reading, weighing and writing back need what `--help` does not wait for.
    from loadplan.files.readings import read_readings  # noqa: PLC0415
    from loadplan.files.weighed import with_weighed  # noqa: PLC0415
    from loadplan.report.weighing import weighing_dict, weighing_page  # noqa: PLC0415
    from loadplan.statics.weighing import weigh as weighed  # noqa: PLC0415

    if (write is None) != (body is None):
        raise InputError(Fault(str(readings), "", "--body" if write else "--write", "is missing: give both, or none"))
    read = read_readings(readings)
    found = weighed(read.sets)
    if write and body:
        _write(write, with_weighed(write, body, found, readings))
    own = System.US if read.us_units else System.METRIC
    _print(_json(weighing_dict(found)) if as_json else weighing_page(read, found, units or own))


@app.command(help="Copy the demo jobs with their shop, to try and to change.")
def demo(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder to copy them into.", show_default=False)],
) -> None:
    """Copy the demo jobs into a folder, and print their names.

    Args:
        folder: Where they go; nothing in it is written over.
    """
    # Only this command needs to know what ships.
    from loadplan.files import shipped_folder  # noqa: PLC0415
    from loadplan.report.write import write_new  # noqa: PLC0415

    sources = sorted(shipped_folder("demo").glob("*.toml"))
    write_new(folder, {source.name: source.read_bytes() for source in sources})
    for source in sources:
        _print(f"{folder / source.name}\n")


@app.command(help="List the vehicles that ship, by the name to write in a job file.")
def vehicles(*, as_json: AsJson = False, units: Units = None) -> None:
    """Print the vehicles that ship.

    Args:
        as_json: Print one JSON object.
        units: Units of the list, None for metric.
    """
    # Reading the files needs pydantic, which `--help` does not wait for.
    from loadplan.files import read_vehicle, shipped_vehicles  # noqa: PLC0415
    from loadplan.report.listing import vehicle_json, vehicle_lines  # noqa: PLC0415

    shipped = [(name, read_vehicle(path)) for name, path in shipped_vehicles()]
    _print(vehicle_json(shipped) if as_json else vehicle_lines(shipped, units or System.METRIC))


def _json(told: "dict[str, Plain]") -> str:
    return json.dumps(told, indent=2, allow_nan=False) + "\n"


def _write(path: Path, content: bytes) -> None:
    # Only the commands that write back.
    from loadplan.report.write import write_whole  # noqa: PLC0415

    write_whole(path, content)


def _machine(assessment: "Assessment", units: System) -> str:
    # The page does without it.
    from loadplan.report.machine import to_dict  # noqa: PLC0415

    return _json(to_dict(assessment, units))


def _page(assessment: "Assessment", units: System) -> str:
    # The machine output does without it.
    from loadplan.report.table import page  # noqa: PLC0415

    return page(assessment, units, _colours())


def _colours() -> "Colours":
    # Not before a page is wanted.
    from loadplan.report.paint import Colours  # noqa: PLC0415

    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb" or not sys.stdout.isatty()
    return Colours.PLAIN if plain else Colours.ANSI


def _exit_code(verdict: "Verdict", *, strict: bool) -> int:
    return STOP if verdict.words in ({"stop", "caution"} if strict else {"stop"}) else 0


def _stages(names: list[str], wanted: str | None, job: Path) -> list[int]:
    if wanted is None:
        return list(range(len(names)))
    if wanted not in names:
        # Only for this message.
        from loadplan.files.wording import listed, nearest, shown  # noqa: PLC0415

        message = f"must be the name of a step: {listed([shown(name) for name in names])}{nearest(wanted, names)}"
        raise InputError(Fault(str(job), "--stage", "", message))
    return [index for index, name in enumerate(names) if name == wanted]


def _print(text: str) -> None:
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        raise _ClosedError from None


def _fail(message: str) -> NoReturn:
    sys.stderr.write(f"{message}\n")
    sys.exit(UNUSABLE)
