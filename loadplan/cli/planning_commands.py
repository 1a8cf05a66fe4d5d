"""The commands that plan: where stands go, how high, in which order parts come off, and what it all weighs."""

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from loadplan.cli.exit_codes import STOP, exit_code
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
from loadplan.model.readings import Weighing
from loadplan.model.vehicle import Weighed
from loadplan.units import System

if TYPE_CHECKING:
    from loadplan.planning.weight_learning import WeightLearning


@app.command(help="Set heights and shims: the settings of the shop's stands that leave the saddles least uneven.")
def heights(
    job: JobFile,
    *,
    write: Annotated[Path | None, typer.Option("--write", metavar="FILE", help=WRITE_HELP)] = None,
    force: Force = False,
    as_json: AsJson = False,
    units: Units = None,
) -> None:
    """Choose set heights and shims, print them, and write the job with them where it is asked for.

    Args:
        job: The job file.
        write: Where the job goes with these heights, None for nowhere.
        force: Whether another file is written over.
        as_json: Print the machine output.
        units: Units of the words, None for the job file's.
    """
    # Reading, planning and writing back need what `--help` does not wait for.
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.files.write_heights import with_heights  # noqa: PLC0415
    from loadplan.planning.settings.set_heights import plan_heights  # noqa: PLC0415
    from loadplan.report.text.heights_page import heights_dict, heights_page  # noqa: PLC0415
    from loadplan.report.words.number_format import units_of  # noqa: PLC0415

    whole = read_job(job)
    as_read = job.read_bytes()
    plan = plan_heights(whole)
    if write:
        refuse_changed(job, as_read)
        content = with_heights(job, write, plan.job.supports)
        write_back(writer(job, force=force), write, content, job)
    tell(json_text(heights_dict(plan)) if as_json else heights_page(plan, units or units_of(plan.job)))


@app.command(
    help="Order the parts that come off in a step by what keeps everything farthest from tipping, where the repair "
    "manual leaves it free. Exit code 1: something tips, or may tip, in any order."
)
def order(
    job: JobFile,
    *,
    stage: Annotated[
        str,
        typer.Option(
            "--stage",
            "--step",
            metavar="STEP",
            help="The step that takes them off, by name or number.",
            show_default=False,
        ),
    ],
    as_json: AsJson = False,
    units: Units = None,
) -> None:
    """Choose the order in which a step's parts come off, and print it.

    Args:
        job: The job file.
        stage: Name or number of the step.
        as_json: Print the machine output.
        units: Units of the words, None for the job file's.

    Raises:
        Exit: With 1 where something tips or may tip in any order.
    """
    # Reading and planning need numpy, which `--help` does not wait for.
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.planning.settings.removal_order import plan_order  # noqa: PLC0415
    from loadplan.report.text.order_page import order_dict, order_page  # noqa: PLC0415
    from loadplan.report.words.number_format import units_of  # noqa: PLC0415

    whole = read_job(job)
    plan = plan_order(whole, stage_numbers([each.name for each in whole.stages], stage, job)[0])
    tell(json_text(order_dict(plan)) if as_json else order_page(whole, plan, units or units_of(whole)))
    raise typer.Exit(0 if plan.narrowest > 0 else STOP)


@app.command(
    help="Say what a unit weighs and where its centre of gravity is, from readings of scales: those of a file, or of a "
    "step of a job with the verdict that follows. Exit code 1: that is a stop."
)
def weigh(
    readings: Annotated[
        Path, typer.Argument(metavar="READINGS-OR-JOB", help="The file of readings, or the job.", show_default=False)
    ],
    *,
    stage: Annotated[
        str | None,
        typer.Option(
            "--stage", "--step", metavar="STEP", help="The step of the job in which was read, by name or number."
        ),
    ] = None,
    write: Annotated[Path | None, typer.Option("--write", metavar="VEHICLE", help="Vehicle file to put it in.")] = None,
    body: Annotated[
        list[str] | None,
        typer.Option(
            "--body", metavar="NAME", help="Assembly that was weighed; more than once for a unit made of several."
        ),
    ] = None,
    as_json: AsJson = False,
    units: Units = None,
) -> None:
    """Work out what was weighed, print it, and put it into a vehicle's file where it is asked for.

    Args:
        readings: The file of readings; with a step, the job file.
        stage: Name or number of the step of a job, None for a file of readings.
        write: Vehicle file to put it in, None for none.
        body: Names of the bodies that were weighed, as one unit.
        as_json: Print the machine output.
        units: Units of the words, None for the file's.

    Raises:
        InputError: If only one of file and body is named, or a body beside a step.
    """
    if stage is not None:
        if body:
            message = "cannot go with --stage: the job says which parts were on the scales"
            raise InputError(Fault(str(readings), "--body", "", message))
        _weigh_step(readings, stage, write, (as_json, units))
    # Reading, weighing and writing back need what `--help` does not wait for.
    from loadplan.files.readings_reader import read_readings  # noqa: PLC0415
    from loadplan.report.text.weighing_page import weighing_dict, weighing_page  # noqa: PLC0415
    from loadplan.statics.weighing import weigh as weighed  # noqa: PLC0415

    if (write is None) != (not body):
        raise InputError(Fault(str(readings), "", "--body" if write else "--write", "is missing: give both, or none"))
    read = read_readings(readings)
    found = weighed(read.sets)
    shares = _write_weighed(write, tuple(body), found, readings) if write and body else ()
    own = System.US if read.us_units else System.METRIC
    tell(json_text(weighing_dict(found)) if as_json else weighing_page(read, found, units or own, shares))


def _weigh_step(job: Path, stage: str, write: Path | None, told_as: tuple[bool, System | None]) -> NoReturn:
    """Work out what the readings of a job's step say of its weights, print it, and write it where it is asked for.

    Args:
        job: The job file.
        stage: Name or number of the step.
        write: Vehicle file to put it in, None for none.
        told_as: Whether as machine output, and in which units, None for the job file's.

    Raises:
        Exit: With the code of the verdict.
    """
    # As above: what `--help` does not wait for.
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.files.toml_source import content_of  # noqa: PLC0415
    from loadplan.files.work_record_file import read_record  # noqa: PLC0415
    from loadplan.planning.record_doubt import moved_words, record_doubt  # noqa: PLC0415
    from loadplan.planning.record_readings import with_record_readings  # noqa: PLC0415
    from loadplan.planning.weight_learning import learn_weights  # noqa: PLC0415
    from loadplan.report.sheet.sheet_number import sheet_numbers  # noqa: PLC0415
    from loadplan.report.text.learnt_weights_page import learning_dict, learning_page  # noqa: PLC0415
    from loadplan.report.words.number_format import units_of  # noqa: PLC0415
    from loadplan.report.words.record_words import read_at_the_bay  # noqa: PLC0415

    as_json, units = told_as
    whole, done = read_job(job), read_record(job)
    number = stage_numbers([each.name for each in whole.stages], stage, job)[0]
    as_read = content_of(write) if write else b""
    in_doubt = bool(record_doubt(whole, done) or moved_words(done))
    found = replace(learn_weights(with_record_readings(whole, done), number), doubted=in_doubt)
    if write:
        _write_learnt(write, as_read, found)
    shown = units or units_of(whole)
    at_the_bay = read_at_the_bay(whole, done, found.stage, sheet_numbers(whole, done))
    told = learning_dict(found) | ({"record": list(at_the_bay)} if at_the_bay else {})
    tell(json_text(told) if as_json else learning_page(found, shown, at_the_bay))
    raise typer.Exit(exit_code(found.verdict, strict=False))


def _write_learnt(path: Path, as_read: bytes, found: "WeightLearning") -> None:
    """Put what was learnt into the file of the job's vehicle.

    Args:
        path: The vehicle's file.
        as_read: What stood in it.
        found: What was learnt.

    Raises:
        InputError: If readings and plan contradict each other, or it is the file of another vehicle.
    """
    # As above: what `--help` does not wait for.
    from loadplan.files.write_weighed import vehicle_to_write, with_learnt  # noqa: PLC0415
    from loadplan.planning.weight_learning import counts_as_weighed, learnt_wholes  # noqa: PLC0415

    job = found.before
    if vehicle_to_write(path, ()) != job.vehicle:
        message = f"is not the file of this job's vehicle, {job.vehicle.name}: its parts would get weights of another"
        raise InputError(Fault(str(path), "", "--write", message))
    if not found.update.consistent:
        told = ", ".join(found.update.suspects)
        message = f"the readings contradict the plan ({told} fits worst): read again. Nothing was written"
        raise InputError(Fault(job.source, f'stage "{found.stage}"', "readings", message))
    parts, wholes = found.careful, learnt_wholes(found)
    if not parts and not wholes:
        sys.stderr.write("Nothing is written: the readings tell of no part more than the file does.\n")
        return
    refuse_changed(path, as_read)
    before = {each.name: each.mass_pm for each in job.vehicle.parts}
    weighed = tuple(
        each.part for each in parts if each.part and counts_as_weighed(each) and each.mass.pm < before[each.part]
    )
    content = with_learnt(path, (*parts, *wholes), job.vehicle, weighed)
    write_back(writer(Path(job.source), force=False), path, content, path)


def _write_weighed(
    path: Path, bodies: tuple[str, ...], found: Weighing, readings: Path
) -> tuple[tuple[str, Weighed], ...]:
    """Put what was weighed into a vehicle's file.

    Args:
        path: The vehicle's file.
        bodies: Names of the bodies that were weighed, as one unit.
        found: What was weighed.
        readings: The file of readings.

    Returns:
        (body, what it was written down as).

    Raises:
        InputError: If the file cannot take it, or the weighing is not fit to plan with.
    """
    # As above: what `--help` does not wait for.
    from loadplan.files.write_weighed import check_weighing, vehicle_to_write, with_weighed  # noqa: PLC0415
    from loadplan.statics.weighed_shares import UnfitShareError, weighed_shares  # noqa: PLC0415

    vehicle = vehicle_to_write(path, bodies)
    as_read = path.read_bytes()
    check_weighing(found, readings)
    try:
        shares = weighed_shares(vehicle, bodies, found)
    except UnfitShareError as error:
        message = f'the unit is too light for "{error.body}" to be in it: look at the readings, and at the file'
        raise InputError(Fault(str(readings), "", "", f"{message}. Nothing was written")) from None
    # What was weighed was shared out by what stood there: another file would get shares that are not its own.
    refuse_changed(path, as_read)
    write_back(writer(readings, force=False), path, with_weighed(path, shares), path)
    return shares


@app.command(
    help="Propose where the stands should go: the largest margin to tipping of all layouts. Exit code 1: nothing fits."
)
def place(
    job: JobFile,
    *,
    supports: Annotated[
        int | None,
        typer.Option(
            metavar="N", min=1, max=12, help="The number of stands. Left out, it is the fewest that leave no caution."
        ),
    ] = None,
    start: FromStep = None,
    anywhere: Annotated[
        bool,
        typer.Option(
            "--anywhere",
            help="Try places inside the outlines that are no points of the vehicle's file, too: never under a part "
            "that comes off. Find a hard place there, only where the maker gives a bearing place.",
        ),
    ] = False,
    write: Annotated[Path | None, typer.Option("--write", metavar="FILE", help=WRITE_HELP)] = None,
    force: Force = False,
    as_json: AsJson = False,
    units: Units = None,
) -> None:
    """Search the layouts, print the proposal, and write the job with it where it is asked for.

    Args:
        job: The job file.
        supports: Number of stands, None for the fewest that leave no caution.
        start: First step that is not done yet, None for the first of all.
        anywhere: Whether places that are no points are tried.
        write: Where the job goes with the layout, None for nowhere.
        force: Whether another file is written over.
        as_json: Print the machine output.
        units: Units of the words, None for the job file's.

    Raises:
        Exit: With 1 where nothing fits.
    """
    # Reading, planning and writing back need what `--help` does not wait for.
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.files.write_layout import with_layout  # noqa: PLC0415
    from loadplan.planning.placement.anywhere_search import propose_anywhere  # noqa: PLC0415
    from loadplan.planning.placement.layout_space import space  # noqa: PLC0415
    from loadplan.planning.placement.proposal import propose  # noqa: PLC0415
    from loadplan.report.text.placement_page import SearchProgress, placement_dict, placement_page  # noqa: PLC0415
    from loadplan.report.words.number_format import units_of  # noqa: PLC0415

    whole = read_job(job)
    as_read = job.read_bytes()
    shown = units or units_of(whole)
    first = first_step([each.name for each in whole.stages], start, job)
    here = space(whole, first)
    with SearchProgress(shown, sys.stderr) as progress:
        placement = (propose_anywhere if anywhere else propose)(here, supports, progress.tell)
    if write and placement.answer:
        refuse_changed(job, as_read)
        content = with_layout(job, write, placement.answer.job)
        write_back(writer(job, force=force), write, content, job)
    tell(json_text(placement_dict(placement)) if as_json else placement_page(whole, placement, shown))
    raise typer.Exit(0 if placement.answer else STOP)
