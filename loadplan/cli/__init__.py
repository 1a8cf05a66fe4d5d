"""The command line: parse, call, print, exit code. Whatever a command needs is imported inside it."""

import os
import sys
from io import StringIO, TextIOWrapper
from typing import Annotated, NoReturn

import typer

from loadplan import __version__
from loadplan.cli import (
    board_command,
    check_draw_commands,
    demo_commands,
    forgotten_command,
    manual_command,
    mending_commands,
    new_command,
    planning_commands,
    sheet_lesson_commands,
    shop_commands,
)
from loadplan.cli.exit_codes import CLOSED, STOP, UNUSABLE
from loadplan.cli.help_text import list_by_whole_sentences
from loadplan.cli.options import ClosedError, app, tell
from loadplan.cli.system_errors import trouble
from loadplan.errors import InputError

__all__ = [
    "CLOSED",
    "STOP",
    "UNUSABLE",
    "app",
    "board_command",
    "check_draw_commands",
    "demo_commands",
    "forgotten_command",
    "main",
    "manual_command",
    "mending_commands",
    "new_command",
    "planning_commands",
    "sheet_lesson_commands",
    "shop_commands",
]


BEGIN = (
    "loadplan says where each stand goes under what comes out of a vehicle, and how far it is from tipping. To begin:\n"
    "  loadplan board          the live plan in the browser: your jobs, the demo, or a new one\n"
    "  loadplan new job.toml   a first job by questions, with a tape and the lift at hand\n"
    "  loadplan demo jobs      the demo jobs into the folder jobs, to try and to change\n"
    "  loadplan --help         all commands; loadplan manual: the reference\n"
)
"""What somebody reads who types the program's name and nothing else."""


def main() -> NoReturn:
    """Run the command line; every error that a user can cause ends here, as a message and an exit code."""
    # Before anything loads numpy. The matrices here are small: a second thread for each would only wait for the first,
    # and on the live plan it takes the browser's core. Whoever sets it otherwise has it so.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    _stand_in_for_closed_streams()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
    list_by_whole_sentences(app)
    try:
        app()
    except InputError as error:
        _fail(str(error))
    except ClosedError:
        _print_no_more()
        sys.exit(CLOSED)
    except OSError as error:
        if error.filename is None:
            _print_no_more()
        _fail(trouble(error))
    sys.exit(0)


@app.callback(
    invoke_without_command=True,
    help="Say where each stand goes under a powertrain that is out of the vehicle, what it carries, and how far "
    "everything is from tipping.",
)
def loadplan(
    context: typer.Context,
    *,
    version: Annotated[bool, typer.Option("--version", help="Print the version.", is_eager=True)] = False,
) -> None:
    """Print the version where it is asked for, and how to begin where nothing is.

    Args:
        context: What was typed.
        version: Print the version and end.

    Raises:
        Exit: After the version, or where no command was given.
    """
    if version:
        tell(f"loadplan {__version__}\n")
        raise typer.Exit
    if context.invoked_subcommand is None:
        if sys.stdout.isatty():
            tell(BEGIN)
            raise typer.Exit
        sys.stderr.write(f"{context.get_help()}\n")
        raise typer.Exit(UNUSABLE)


def _print_no_more() -> None:
    """Let go of what could not be printed: Python tries once more at its end, and then tells of it in its own words."""
    if isinstance(sys.stdout, TextIOWrapper):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _stand_in_for_closed_streams() -> None:
    """Read and write nothing where a shell closed a stream (`>&-`): Python has none there then."""
    for name in ("stdin", "stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, StringIO())


def _fail(message: str) -> NoReturn:
    try:
        sys.stderr.write(f"{message}\n")
    except OSError:
        # What is left of the message would fail once more at the end, and change the exit code.
        sys.stderr = StringIO()
    sys.exit(UNUSABLE)
