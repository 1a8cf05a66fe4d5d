"""The command that puts what the last job forgot into the vehicle's file."""

import re
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from loadplan.cli.options import JobFile, Units, app, tell
from loadplan.errors import Fault, InputError, printable
from loadplan.model.forgotten_tie import ForgottenTie, TiePlace
from loadplan.model.job import Job
from loadplan.model.vehicle import TieState
from loadplan.model.work_record import Deed, RecordEntry
from loadplan.units import Kind, QuantityError, System, to_si

BARE = re.compile(r"[+-]?[0-9]{1,9}([.][0-9]{0,9})?")
"""A length without a unit."""

MOST_DIGITS = 4
"""Digits of the greatest number that is read."""

PLACE_HELP = (
    "Where number N is, in the job's units: N=ASSEMBLY,FRONT,LEFT or N=ASSEMBLY,FRONT,LEFT,HEIGHT; behind the axle "
    "line and right of the centre line with a minus. More than once for several."
)
TIED_HELP = "Number N has to be tied up, not off. More than once for several."


@app.command(
    help="Show what was still on in a job, such as a hose, as lines for the vehicle's file, so that the next job asks "
    "for it; --write puts them there."
)
def forgotten(
    job: JobFile,
    *,
    place: Annotated[list[str] | None, typer.Option("--place", metavar="N=...", help=PLACE_HELP)] = None,
    tied: Annotated[list[int] | None, typer.Option("--tied", metavar="N", help=TIED_HELP)] = None,
    write: Annotated[bool, typer.Option("--write", help="Write the lines into the vehicle's file.")] = False,
    units: Units = None,
) -> None:
    """Show what was forgotten in a job, and write it into its vehicle's file where that is asked for.

    Args:
        job: The job file.
        place: Where some of it is.
        tied: Numbers of what has to be tied up.
        write: Whether it is written.
        units: Units of the words, None for the job file's.

    Raises:
        InputError: If a place cannot be understood, or something has none yet and is to be written.
    """
    # Reading needs what `--help` does not wait for.
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.files.work_record_file import add_to_record, read_record  # noqa: PLC0415
    from loadplan.files.write_ties import tie_text, vehicle_home, write_ties  # noqa: PLC0415
    from loadplan.planning.forgotten_ties import forgotten_ties, placed  # noqa: PLC0415
    from loadplan.report.sheet.sheet_number import sheet_number  # noqa: PLC0415
    from loadplan.report.text.forgotten_page import forgotten_page  # noqa: PLC0415
    from loadplan.report.words.number_format import units_of  # noqa: PLC0415
    from loadplan.report.words.record_words import ties_go_into  # noqa: PLC0415
    from loadplan.report.words.vocabulary import reader_of  # noqa: PLC0415

    whole, home = read_job(job), vehicle_home(job)
    found = forgotten_ties(whole, read_record(job))
    found = placed(whole, found, _places(whole, job, (place or [], tied or []), found))
    ties = [each.tie for each in found if each.tie is not None]
    if write and len(ties) < len(found):
        number = next(number for number, each in enumerate(found, start=1) if each.tie is None)
        message = f"number {number}, {found[number - 1].words}, has no place yet: give it. Nothing was written"
        raise InputError(Fault(str(job), "", "--place", message))
    goes_into = printable(ties_go_into(home.path.name, home.source.stem if home.is_copy else ""))
    goes_into += "" if write else " Nothing is written yet: --write puts them there."
    tell(forgotten_page(found, tie_text(home, ties), goes_into, reader_of(whole, units or units_of(whole))))
    if write and write_ties(job, ties):
        sys.stderr.write(f"{printable(str(home.path))} is written.\n")
        # After the file: what stands there is not offered again, whatever happens in between.
        now, sheet = datetime.now(UTC).astimezone().replace(microsecond=0), sheet_number(whole)
        names = [(each.step, each.tie.name) for each in found if each.tie is not None]
        add_to_record(job, *(RecordEntry(now, "", sheet, step, Deed.LISTED, name) for step, name in names))


def _places(
    whole: Job, job: Path, said: tuple[list[str], list[int]], found: tuple[ForgottenTie, ...]
) -> dict[int, TiePlace]:
    """Return what was said of places, by number from 0.

    Raises:
        InputError: If one cannot be understood.
    """
    places: dict[int, TiePlace] = {}
    texts, tied = said
    for text in texts:
        number, place = _place(whole, job, text)
        places[number - 1] = place
    for number in (*(each + 1 for each in places), *tied):
        if not 1 <= number <= len(found):
            raise InputError(Fault(str(job), "", "--place", f"there is no number {number}: there are {len(found)}"))
    for number in tied:
        known = places.get(number - 1, found[number - 1].place)
        if known is None:
            raise InputError(Fault(str(job), "", "--tied", f"number {number} has no place yet: give --place, too"))
        places[number - 1] = TiePlace(known.body, known.at, known.up, TieState.TIED)
    return places


def _place(whole: Job, job: Path, text: str) -> tuple[int, TiePlace]:
    """Return a number, and the place that was said of it.

    Raises:
        InputError: If it cannot be understood.
    """
    number, equals, told = text.partition("=")
    body, *lengths = [each.strip() for each in told.split(",")]
    if not equals or not number.strip().isdecimal() or len(number) > MOST_DIGITS or len(lengths) not in {2, 3}:
        raise InputError(_fault(job, text, "must be such as 1=powertrain,420,-310"))
    if body not in whole.bodies:
        raise InputError(_fault(job, text, f"must name an assembly of the job: {', '.join(whole.bodies)}"))
    # As above: what `--help` does not wait for.
    from loadplan.files.values import FARTHEST  # noqa: PLC0415

    system = System.US if whole.us_units else System.METRIC
    try:
        front, left, *up = [
            to_si(float(each) if BARE.fullmatch(each) else each, Kind.LENGTH, system) for each in lengths
        ]
    except QuantityError as error:
        raise InputError(_fault(job, text, f"has a length that {error}")) from None
    if max(map(abs, (front, left, *up))) > FARTHEST:
        # Else its lines would be shown, and refused only where they are to be written.
        message = f"must lie within {FARTHEST:.0f} m, the most that a vehicle's file takes"
        raise InputError(_fault(job, text, message))
    return int(number), TiePlace(body, (front, left), up[0] if up else None, TieState.OFF)


def _fault(job: Path, text: str, says: str) -> Fault:
    return Fault(str(job), "", "--place", f"{says}, is {printable(text)!r}")
