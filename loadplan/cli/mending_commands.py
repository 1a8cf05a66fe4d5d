"""The commands that mend a plan, and that change a stand while a unit is on it."""

import sys
from pathlib import Path
from typing import Annotated

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
    tell,
    writer,
)


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
        found = mended(whole, first, progress.tell)
    if write and found.changes and not found.interrupted:
        refuse_changed(job, as_read)
        content = with_changed_stands(job, write, whole, found.job)
        writer(job, force=force).write_back(write, content, job)
    shown = units or units_of(whole)
    tell(json_text(mending_dict(found, shown)) if as_json else mending_page(found, first, shown))
    raise typer.Exit(exit_code(found.verdict, strict=False))
