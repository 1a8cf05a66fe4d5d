"""The commands that mend a plan, and that change a stand while a unit is on it."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from loadplan.cli.exit_codes import exit_code
from loadplan.cli.options import (
    WRITE_HELP,
    AsJson,
    Force,
    FromStep,
    JobFile,
    Units,
    app,
    first_step,
    json_text,
    refuse_changed,
    stage_numbers,
    tell,
    write_back,
    writer,
)
from loadplan.errors import Fault, InputError

if TYPE_CHECKING:
    from loadplan.model.job import Job
    from loadplan.model.shop import Equipment


@app.command(
    help="Find the fewest changes to the stands after which nothing stops, then nothing cautions. "
    "Exit codes as for check, of the plan with the changes."
)
def mend(
    job: JobFile,
    *,
    start: FromStep = None,
    write: Annotated[Path | None, typer.Option("--write", metavar="FILE", help=WRITE_HELP)] = None,
    force: Force = False,
    as_json: AsJson = False,
    units: Units = None,
) -> None:
    """Search for changes, print them, and write the job with them where it is asked for.

    Args:
        job: The job file.
        start: First step that is not done yet, None for the first of all.
        write: Where the job goes with the changes, None for nowhere.
        force: Whether another file is written over.
        as_json: Print the machine output.
        units: Units of the words, None for the job file's.

    Raises:
        Exit: With the code of the verdict with the changes.
    """
    # Reading, planning and writing back need what `--help` does not wait for.
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.files.write_changed_stands import with_changed_stands  # noqa: PLC0415
    from loadplan.planning.mending.fewest_changes import mend as mended  # noqa: PLC0415
    from loadplan.report.text.mending_page import MendingProgress, mending_dict, mending_page  # noqa: PLC0415
    from loadplan.report.words.number_format import units_of  # noqa: PLC0415

    whole = read_job(job)
    as_read = job.read_bytes()
    first = first_step([each.name for each in whole.stages], start, job)
    with MendingProgress(sys.stderr) as progress:
        found = mended(whole, first, progress.tell, progress.nothing_stops)
    if write and found.changes and not found.interrupted:
        refuse_changed(job, as_read)
        content = with_changed_stands(job, write, whole, found.job)
        write_back(writer(job, force=force), write, content, job)
    shown = units or units_of(whole)
    tell(json_text(mending_dict(found, shown)) if as_json else mending_page(found, first, shown))
    raise typer.Exit(exit_code(found.verdict, strict=False))


@app.command(
    help="Plan how to take a stand away, or change it for another, while the unit stands on it. Exit codes as for "
    "check, of the steps and all that comes behind; 1 also where there is no way."
)
def swap(
    job: JobFile,
    *,
    stage: Annotated[
        str,
        typer.Option(
            "--stage",
            "--step",
            metavar="STEP",
            help="The step in which it stands, by name or number.",
            show_default=False,
        ),
    ],
    stand: Annotated[str, typer.Option(metavar="NAME", help="The stand that goes.", show_default=False)],
    incoming: Annotated[
        str | None,
        typer.Option("--with", metavar="EQUIPMENT", help="What comes instead. Left out, another of the same kind."),
    ] = None,
    away: Annotated[bool, typer.Option("--away", help="Nothing comes instead.")] = False,
    write: Annotated[Path | None, typer.Option("--write", metavar="FILE", help=WRITE_HELP)] = None,
    force: Force = False,
    as_json: AsJson = False,
    units: Units = None,
) -> None:
    """Plan a swap, print it, and write the job with its steps where it is asked for.

    Args:
        job: The job file.
        stage: Name or number of the step in which the stand stands.
        stand: Name of the stand.
        incoming: Name of the equipment that comes instead, None for another of the same kind.
        away: Whether nothing comes instead.
        write: Where the job goes with the steps, None for nowhere.
        force: Whether another file is written over.
        as_json: Print the machine output.
        units: Units of the words, None for the job file's.

    Raises:
        InputError: If something is to come, and nothing.
        Exit: With the code of the verdict.
    """
    # Reading, planning and writing back need what `--help` does not wait for.
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.files.write_changed_stands import with_changed_stands  # noqa: PLC0415
    from loadplan.planning.mending.stand_swap import swap as swapped  # noqa: PLC0415
    from loadplan.report.text.swap_page import swap_dict, swap_page  # noqa: PLC0415
    from loadplan.report.words.number_format import units_of  # noqa: PLC0415

    if away and incoming is not None:
        raise InputError(Fault(str(job), "--with", "", "cannot go with --away: give one of them"))
    whole = read_job(job)
    as_read = job.read_bytes()
    index = stage_numbers([each.name for each in whole.stages], stage, job)[0]
    found = swapped(whole, index, stand, None if away else _incoming(whole, stand, incoming))
    if write and found.steps:
        refuse_changed(job, as_read)
        content = with_changed_stands(job, write, whole, found.job)
        write_back(writer(job, force=force), write, content, job)
    shown = units or units_of(whole)
    tell(json_text(swap_dict(found, shown)) if as_json else swap_page(found, shown))
    raise typer.Exit(exit_code(found.verdict, strict=False))


def _incoming(job: "Job", stand: str, wanted: str | None) -> "Equipment | None":
    """Return the equipment that comes instead of a stand: another of its kind where none is named.

    Raises:
        InputError: If the shop has none of that name.
    """
    own = next((each.equipment.name for each in job.supports if each.name == stand), None)
    name = own if wanted is None else wanted
    found = next((each for each in job.shop.equipment if each.name == name), None)
    if found is None and wanted is not None:
        # Only for this message.
        from loadplan.files.fault_wording import listed, nearest, shown  # noqa: PLC0415

        names = [each.name for each in job.shop.equipment]
        message = f"must be equipment of the shop: {listed([shown(each) for each in names])}{nearest(wanted, names)}"
        raise InputError(Fault(job.source, "--with", "", message))
    return found
