"""The commands that put a job on paper and on the wall."""

from functools import partial
from importlib import import_module
from pathlib import Path
from typing import Annotated

import typer

from loadplan.cli.exit_codes import exit_code
from loadplan.cli.options import Force, JobFile, PaperOption, Units, app, tell_files, writer
from loadplan.cli.output_path import output_path
from loadplan.cli.progress_bar import progress_bar
from loadplan.errors import Fault, InputError

LESSON_LOADS = partial(import_module, "loadplan.report.lesson.trainer_set")
"""Loads all that a lesson takes."""

NO_RECORD = "is not there, or holds nothing yet: it is written at the bay, in the live plan"


@app.command(help="Print the floor sheet: a PDF to hang at the bay, read from 1.5 m. Exit codes as for check.")
def sheet(
    job: JobFile,
    *,
    file: Annotated[Path | None, typer.Option("-o", metavar="FILE.pdf", help="The PDF file.")] = None,
    paper: Annotated[PaperOption, typer.Option(help="Size of the paper.")] = PaperOption.A4,
    proof: Annotated[bool, typer.Option("--proof", help="Print the proof numbers behind it.")] = False,
    record: Annotated[
        bool, typer.Option("--record", help="Print instead what was done, out of the record that lies beside the job.")
    ] = False,
    force: Force = False,
    units: Units = None,
) -> None:
    """Print the floor sheet of a job into a PDF file, and the file's name.

    Args:
        job: The job file.
        file: The PDF file, which has to be named; an earlier sheet is replaced, nothing else is.
        paper: Size of the paper.
        proof: Whether the proof numbers are printed behind it.
        record: Whether what was done is printed instead.
        force: Whether another file is written over.
        units: Units of the words, None for the job file's.

    Raises:
        Exit: With the verdict's code; with 0 for the record.
        InputError: If the record is asked for and there is none.
    """
    target = output_path(file, "sheet.pdf")
    # Drawing needs matplotlib, which the other commands do not wait for.
    from loadplan.assess import assess  # noqa: PLC0415
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.files.photograph_file import printed_photographs  # noqa: PLC0415
    from loadplan.files.work_record_file import read_record, record_path  # noqa: PLC0415
    from loadplan.report.sheet.floor_sheet import PaperSize, SheetExtras, SheetProof, sheet_pdf  # noqa: PLC0415
    from loadplan.report.sheet.record_pdf import record_pdf  # noqa: PLC0415
    from loadplan.report.sheet.sheet_number import sheet_numbers  # noqa: PLC0415
    from loadplan.report.words.number_format import units_of  # noqa: PLC0415
    from loadplan.report.words.record_words import changed_words  # noqa: PLC0415

    assessment, done = assess(read_job(job)), read_record(job)
    if record and not done.entries:
        gone = f"is not there any more, or empty: {done.missing} entries were kept in it" if done.missing else NO_RECORD
        raise InputError(Fault(str(record_path(job)), "", "", gone))
    size, shown = PaperSize(paper.value), units or units_of(assessment.job)
    behind = SheetProof.PRINTED if proof else SheetProof.LEFT_OUT
    extras = SheetExtras(behind, changed_words(done, sheet_numbers(assessment.job, done)))
    with progress_bar("Pages") as told:
        hung = printed_photographs(job, done) if record else {}
        pages = record_pdf(assessment, done, size, shown, hung) if record else b""
        content = pages or sheet_pdf(assessment, size, shown, extras, told)
    writer(job, force=force).write(target, content)
    tell_files([target])
    raise typer.Exit(0 if record else exit_code(assessment.verdict, strict=False))


@app.command(
    help="Make the trainer's set from a job: pages for the wall as PDF, PNG and SVG, an animation, and a run sheet for "
    "45 minutes. No job: the demo's front unit."
)
def lesson(
    job: Annotated[
        Path | None,
        typer.Argument(
            metavar="JOB", help="The job file. Left out, it is that of the demo's front unit.", show_default=False
        ),
    ] = None,
    *,
    folder: Annotated[Path | None, typer.Option("-o", metavar="DIR", help="Folder for the set.")] = None,
    force: Force = False,
    units: Units = None,
) -> None:
    """Make the trainer's set from a job, and print the names of its files.

    Args:
        job: The job file, None for the demo's front unit.
        folder: Where the set goes; has to be named.
        force: Whether other files are written over.
        units: Units of the words, None for the job file's.
    """
    target = output_path(folder, "lesson")
    # Reading, computing and drawing need what `--help` does not wait for.
    from loadplan.files import read_job, shipped_folder  # noqa: PLC0415
    from loadplan.report.drawing.side_by_side import helpers  # noqa: PLC0415

    source = job or shipped_folder("demo") / "front-unit.toml"
    plan = read_job(source)
    with helpers(LESSON_LOADS) as beside, progress_bar("Pages") as told:
        # What is loaded here, the processes beside this one load meanwhile.
        from loadplan.assess import assess  # noqa: PLC0415
        from loadplan.planning.lesson.scale_trial import bench_trial  # noqa: PLC0415
        from loadplan.report.lesson.lesson_plan import plan_lesson  # noqa: PLC0415
        from loadplan.report.lesson.trainer_set import lesson_files  # noqa: PLC0415
        from loadplan.report.words.number_format import units_of  # noqa: PLC0415

        asked = plan_lesson(assess(plan), beside)
        files = lesson_files(asked, bench_trial(), units or units_of(plan), told, beside)
    tell_files(writer(source, force=force).write_into(target, files))
