"""The commands that judge a job and draw it."""

import sys
from collections.abc import Callable
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from loadplan.cli.exit_codes import STOP, UNUSABLE, exit_code
from loadplan.cli.options import (
    AsJson,
    Force,
    Format,
    FromStep,
    JobFile,
    JobOrFolder,
    Units,
    app,
    colours,
    first_step,
    json_text,
    stage_numbers,
    step_number,
    tell,
    tell_files,
    writer,
)
from loadplan.cli.output_path import output_path
from loadplan.cli.progress_bar import progress_bar
from loadplan.errors import Fault, InputError, printable
from loadplan.units import System

if TYPE_CHECKING:
    from loadplan.model.verdict import Assessment

DRAWING_LOADS = partial(import_module, "loadplan.report.pictures.render")
"""Loads all that draws."""

MANY, MANY_TURNED = 6, 3
"""Steps from which further processes save more time than they take to start; the same with eight views of each."""


@app.command(
    help="Judge a job step by step, on a short page; of a folder, every job in it, a line each. Exit code 0: holds or "
    "caution; 1: stop; 2: the input cannot be used."
)
def check(
    job: JobOrFolder,
    *,
    step: Annotated[
        str | None, typer.Option("--step", "--stage", metavar="NAME-OR-NUMBER", help="Tell this step in full, too.")
    ] = None,
    everything: Annotated[
        bool, typer.Option("--all", help="Tell every step in full, every note, what was assumed, boxes to tick.")
    ] = False,
    as_json: AsJson = False,
    units: Units = None,
    start: FromStep = None,
    strict: Annotated[bool, typer.Option("--strict", help="Exit code 1 for a caution, too.")] = False,
    proof: Annotated[bool, typer.Option("--proof", help="Print the sums behind each step, too.")] = False,
    again: Annotated[
        bool,
        typer.Option("--recheck", help="Let scipy solve every load and bound again, and say how far apart they are."),
    ] = False,
) -> None:
    """Judge a job and print what comes of it, or every job in a folder.

    Args:
        job: The job file, or a folder of them.
        step: Name or number of a step that is told in full, None for none.
        everything: Tell every step in full.
        as_json: Print the machine output, which has every step anyway.
        units: Units of the words, None for the job file's.
        start: First step that is not done yet, None for the first of all.
        strict: Exit with 1 for a caution, too.
        proof: Print the proofs after the page; the machine output has them anyway.
        again: Have everything solved by scipy, too; beside the machine output that is told on standard error.

    Raises:
        Exit: With the verdict's code.
    """
    if job.is_dir():
        _refuse_for_folder(
            job, {"--step": step, "--from": start, "--all": everything, "--proof": proof, "--recheck": again}
        )
        raise typer.Exit(_folder_checked(job, units, as_json=as_json, strict=strict))
    # Reading and computing need numpy, which `--help` does not wait for.
    from loadplan.assess import assess  # noqa: PLC0415
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.report.record_beside import record_beside  # noqa: PLC0415
    from loadplan.report.text.proof import proof_page  # noqa: PLC0415
    from loadplan.report.words.number_format import units_of  # noqa: PLC0415

    plan = read_job(job)
    asked = None if step is None else step_number([each.name for each in plan.stages], step, job)
    first = first_step([each.name for each in plan.stages], start, job)
    done = record_beside(job, plan)
    assessment = done.judged(assess(plan), first)
    shown = units or units_of(plan)
    if as_json:
        # The page does without it.
        from loadplan.report.json_output import to_dict  # noqa: PLC0415

        told = to_dict(assessment, shown)
        tell(json_text({**told, "record": list(done.says)} if done.says else told))
    else:
        tell(_page(assessment, shown, asked, everything=everything))
        tell(_told_of_record(done.says))
    if proof and not as_json:
        tell("\n" + proof_page(assessment, shown))
    if again and not _rechecked(assessment, sys.stderr.write if as_json else tell):
        raise typer.Exit(STOP)
    raise typer.Exit(exit_code(assessment.verdict, strict=strict))


TURN_HELP = "Eight views in space, 45 degrees apart, the first from so far to the left of straight ahead."


@app.command(
    help="Draw plan, elevations and a view in space of every step, to scale, and how the load goes over where a unit "
    "is set down. Exit codes as for check, of the steps drawn."
)
def draw(
    job: JobFile,
    *,
    folder: Annotated[Path | None, typer.Option("-o", metavar="DIR", help="Folder for the pictures.")] = None,
    file_format: Annotated[Format, typer.Option("--as", help="The format of the pictures.")] = Format.SVG,
    stage: Annotated[
        str | None, typer.Option("--stage", "--step", metavar="STEP", help="Only that step, by name or number.")
    ] = None,
    turn: Annotated[int | None, typer.Option(metavar="DEGREES", min=-360, max=360, help=TURN_HELP)] = None,
    force: Force = False,
    units: Units = None,
) -> None:
    """Draw plan, elevations and a view in space of every step, and each lowering, into files, and print their names.

    Args:
        job: The job file.
        folder: Where they go; has to be named.
        file_format: File format.
        stage: Name or number of the only step wanted, None for all.
        turn: Azimuth of the first of eight views in space that go once round, None for one view alone.
        force: Whether other files are written over.
        units: Units of the words, None for the job file's.

    Raises:
        Exit: With the code of the worst verdict drawn.
    """
    target = output_path(folder, "pictures")
    # Reading and drawing need what `--help` does not wait for.
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.report.drawing.side_by_side import helpers  # noqa: PLC0415

    plan = read_job(job)
    indexes = stage_numbers([each.name for each in plan.stages], stage, job)
    many = None if len(indexes) >= (MANY if turn is None else MANY_TURNED) else 1
    with helpers(DRAWING_LOADS, many) as beside, progress_bar("Pictures") as told:
        # What is loaded here, the processes beside this one load meanwhile.
        from loadplan.assess import assess  # noqa: PLC0415
        from loadplan.report.pictures.axonometric_view import azimuths_round  # noqa: PLC0415
        from loadplan.report.pictures.render import drawn_files, picture_tasks  # noqa: PLC0415
        from loadplan.report.words.number_format import units_of  # noqa: PLC0415

        azimuths = () if turn is None else azimuths_round(turn)
        assessment = assess(plan)
        tasks = picture_tasks(assessment, indexes, file_format.value, units or units_of(plan), azimuths)
        files = drawn_files(assessment, tasks, told, beside)
    tell_files(writer(job, force=force).write_into(target, files))
    raise typer.Exit(exit_code(max(assessment.stages[index].verdict for index in indexes), strict=False))


def _told_of_record(says: tuple[str, ...]) -> str:
    """Return how the record of a job bears on its page; "" where it does not."""
    # Most jobs have no record.
    from loadplan.report.words.columns import WIDTH, wrap  # noqa: PLC0415

    return "\n" + "\n".join(wrap(printable(" ".join(says)), WIDTH)) + "\n" if says else ""


def _page(assessment: "Assessment", units: System, step: int | None, *, everything: bool) -> str:
    """Return the page of a job: the short one, with one step in full, or all there is."""
    # The machine output does without them.
    from loadplan.report.text.short_page import short_page  # noqa: PLC0415
    from loadplan.report.text.terminal_page import page  # noqa: PLC0415

    if everything:
        return page(assessment, units, colours())
    return short_page(assessment, units, colours(), None if step is None else assessment.stages[step])


def _refuse_for_folder(folder: Path, asked: dict[str, object]) -> None:
    """Refuse what can only be asked of one job.

    Raises:
        InputError: If any of it is asked for.
    """
    faults = [Fault(str(folder), "", option, "is for one job: name its file") for option, on in asked.items() if on]
    if faults:
        raise InputError(*faults)


def _folder_checked(folder: Path, units: System | None, *, as_json: bool, strict: bool) -> int:
    """Print what comes of every job in a folder.

    Returns:
        The exit code of the worst of them.
    """
    # Not before a folder is named.
    from loadplan.cli.folder_check import check_folder  # noqa: PLC0415
    from loadplan.report.text.folder_page import folder_dict, folder_page  # noqa: PLC0415

    checked = check_folder(folder, units)
    page_units = units or System.METRIC
    tell(json_text(folder_dict(checked)) if as_json else folder_page(checked, page_units, colours()))
    codes = [exit_code(each.verdict, strict=strict) for each in checked.jobs]
    return max([*codes, *(UNUSABLE for _ in checked.unusable)])


def _rechecked(assessment: "Assessment", told: Callable[[str], object]) -> bool:
    """Tell how far a second solution is from the first.

    Returns:
        Whether they agree.
    """
    # scipy takes half a second to load, which no other check waits for.
    from loadplan.report.text.recheck_page import agrees, recheck_page  # noqa: PLC0415
    from loadplan.stages import states  # noqa: PLC0415
    from loadplan.statics.recheck import recheck  # noqa: PLC0415

    job = assessment.job
    found = recheck(job, states(job), tuple(stage.statics for stage in assessment.stages))
    told(recheck_page(job, found))
    return agrees(found)
