"""What the commands share: the options that they take, and how they print, write and end."""

import json
import os
import sys
from collections.abc import Iterable
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from loadplan.errors import Fault, InputError, printable
from loadplan.units import System

if TYPE_CHECKING:
    from loadplan.files.safe_write import SafeWriter
    from loadplan.report.json_output import Plain
    from loadplan.report.text.terminal_colour import Colours

app = typer.Typer(
    name="loadplan",
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


class Format(Enum):
    """File formats of a drawing."""

    SVG = "svg"
    PNG = "png"
    PDF = "pdf"


class PaperOption(Enum):
    """Paper sizes of a sheet."""

    A4 = "A4"
    A3 = "A3"
    LETTER = "letter"


class ClosedError(Exception):
    """Nobody reads the output any more."""


JobFile = Annotated[Path, typer.Argument(metavar="JOB", help="The job file.", show_default=False)]
JobOrFolder = Annotated[
    Path, typer.Argument(metavar="JOB-OR-FOLDER", help="The job file, or a folder of jobs.", show_default=False)
]
Units = Annotated[
    System | None, typer.Option(help="Units of the words. Left out, they are those of the file that is read.")
]
WRITE_HELP = "Write the job with it into this file; the job file itself only if it is named here."
FORCE_HELP = "Write over what is there, too, even if it is not this program's; never over what the command reads."
Force = Annotated[bool, typer.Option("--force", help=FORCE_HELP)]
FROM_HELP = "Begin at this step, by name or number: what stands already stays as it stands, and is not judged."
FromStep = Annotated[str | None, typer.Option("--from", metavar="STEP", help=FROM_HELP, show_default=False)]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object and nothing else.")]


def json_text(told: "dict[str, Plain]") -> str:
    """Return the machine output as it is printed."""
    return json.dumps(told, indent=2, allow_nan=False) + "\n"


def writer(*read: Path, force: bool) -> "SafeWriter":
    """Return what writes the files of a command.

    Args:
        read: The files that the command was given to read.
        force: Whether it writes over what is there.

    Returns:
        A writer that spares them, and the vehicle and shop of each job.
    """
    # Only the commands that write; reading needs pydantic.
    from loadplan.files.safe_write import Over, SafeWriter, files_of  # noqa: PLC0415

    return SafeWriter(lambda: files_of(read), Over.ANYTHING if force else Over.OWN)


def refuse_changed(job: Path, content: bytes) -> None:
    """Make sure that a file is still the one that was planned from, or weighed for: that takes its time.

    Args:
        job: The file.
        content: What stood in it.

    Raises:
        InputError: If something else stands in it.
        OSError: If it cannot be read any more.
    """
    if job.read_bytes() != content:
        raise InputError(Fault(str(job), "", "", "was changed meanwhile, and nothing was written: ask again"))


def tell_files(paths: Iterable[Path]) -> None:
    """Print the names of files that were written, a line each.

    Args:
        paths: The files.
    """
    for path in paths:
        tell(f"{printable(str(path))}\n")


def stage_numbers(names: list[str], wanted: str | None, job: Path) -> list[int]:
    """Find the steps that are wanted; a number wins over a name.

    Args:
        names: Names of all steps.
        wanted: A number from 1, or the name asked for; None for all.
        job: The job file, for the message.

    Returns:
        Numbers of the steps from 0: several where several are named alike.

    Raises:
        InputError: If there is no such step.
    """
    if wanted is None:
        return list(range(len(names)))
    found = step_number(names, wanted, job, "--stage")
    return [index for index, name in enumerate(names) if name == wanted == names[found]] or [found]


def write_back(writing: "SafeWriter", path: Path, content: bytes, own: Path) -> None:
    """Write a file with what was found, and say so beside the answer, since nobody looks into a folder to see.

    Args:
        writing: The one door.
        path: The file.
        content: What goes into it.
        own: The file that it was found for.

    Raises:
        InputError: If what is there is not written over; then nothing is.
    """
    before = writing.write_back(path, content, own)
    kept = f"; its old text is in {printable(str(before))}" if before else ""
    sys.stderr.write(f"{printable(str(path))} is written{kept}.\n")


def step_number(names: list[str], wanted: str, job: Path, option: str = "--step") -> int:
    """Find the step that is wanted; a number wins over a name.

    Args:
        names: Names of all steps.
        wanted: Its number from 1, its name, or a beginning of that which no other has.
        job: The job file, for the message.
        option: The option that asks, for the message.

    Returns:
        Its number from 0.

    Raises:
        InputError: If there is no such step.
    """
    # Python reads no number of thousands of digits.
    if wanted.isascii() and wanted.isdigit() and len(wanted) < 10 and 1 <= int(wanted) <= len(names):
        return int(wanted) - 1
    if wanted in names:
        return names.index(wanted)
    begun = wanted.strip().casefold()
    found = [number for number, name in enumerate(names) if name.casefold().startswith(begun)]
    if begun and not begun.isdigit() and len(found) == 1:
        return found[0]
    # Only for this message.
    from loadplan.files.fault_wording import listed, nearest, shown  # noqa: PLC0415

    named = listed([shown(name) for name in names])
    message = f"must be a number from 1 to {len(names)}, or the name of a step: {named}{nearest(wanted, names)}"
    raise InputError(Fault(str(job), option, "", message))


def first_step(names: list[str], wanted: str | None, job: Path) -> int:
    """Find the first step that is not done yet.

    Args:
        names: Names of all steps.
        wanted: Its number from 1, or its name; None for the first of all.
        job: The job file, for the message.

    Returns:
        Its number from 0.
    """
    return 0 if wanted is None else step_number(names, wanted, job, "--from")


def tell(text: str) -> None:
    """Print a text.

    Args:
        text: The text.

    Raises:
        ClosedError: If nobody reads any more.
    """
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        raise ClosedError from None


def colours() -> "Colours":
    """Tell whether the page may be coloured: only on a terminal, and where the user does not forbid it.

    Returns:
        Plain, or the terminal's codes.
    """
    # Not before a page is wanted.
    from loadplan.report.text.terminal_colour import Colours, obeys_codes  # noqa: PLC0415

    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb" or not obeys_codes(sys.stdout)
    return Colours.PLAIN if plain else Colours.ANSI
