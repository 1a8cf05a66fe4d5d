"""The command that opens the live plan in the browser."""

from pathlib import Path
from typing import Annotated

import typer

from loadplan.cli.options import Units, app, tell
from loadplan.errors import Fault, InputError

NO_CRYPTOGRAPHY = "needs the package cryptography, which is not installed: python -m pip install cryptography"


@app.command(
    help="Open the plan in the browser, on this machine only: move stands and see at once what each carries. "
    "No job: a page to begin with."
)
def board(
    job: Annotated[
        Path | None,
        typer.Argument(metavar="JOB", help="The job file. Left out, a page to begin with opens.", show_default=False),
    ] = None,
    *,
    port: Annotated[
        int, typer.Option(metavar="N", min=0, max=65535, help="The port where it listens; 0 stands for any free one.")
    ] = 0,
    opens: Annotated[bool, typer.Option("--open/--no-open", help="Whether a browser is opened.")] = True,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let other devices of this network in, each with a code that is told here.")
    ] = False,
    tls: Annotated[
        bool, typer.Option("--tls", help="Encrypt what passes, with a certificate that is made on the spot.")
    ] = False,
    units: Units = None,
) -> None:
    """Serve the live plan until it is stopped.

    Args:
        job: The job file, None for a page to begin with.
        port: Where it listens.
        opens: Whether a browser is opened.
        lan: Whether other devices are let in.
        tls: Whether what passes is encrypted.
        units: Units of the words, None for the job file's.

    Raises:
        InputError: If the job cannot be used, the port is taken, or there is nothing to encrypt with.
    """
    # This command alone needs any of it.
    from loadplan.board.garbage_collection import held_off  # noqa: PLC0415

    with held_off():
        # Another process judges and loads what draws, while this one loads what serves.
        from loadplan.board.early_judging import begun  # noqa: PLC0415

        workers = begun(job)
        from loadplan.board.server import ServeOptions, serve  # noqa: PLC0415

        if not tls:
            serve(ServeOptions(job, port, opens, lan, units), workers, tell)
            return
        # A package of its own, which only this option needs.
        try:
            from loadplan.board.certificate import made  # noqa: PLC0415
        except ModuleNotFoundError:
            workers.end()
            raise InputError(Fault("", "", "--tls", NO_CRYPTOGRAPHY)) from None
        serve(ServeOptions(job, port, opens, lan, units, made), workers, tell)
