"""What `new` knows before its first question: the vehicle and the shop that were named, or lie in the folder."""

import os
from datetime import date
from pathlib import Path

from loadplan.errors import Fault, InputError
from loadplan.files import read_job, read_shop, read_vehicle, shipped_vehicles
from loadplan.files.find_beside import shops_in, unread_in, vehicles_in
from loadplan.files.moved_job import moved
from loadplan.files.toml_edit import Change, edited, quoted
from loadplan.planning.interview.first_job import Named, refuse_unfit, vehicle_faults
from loadplan.planning.interview.question import Days
from loadplan.planning.interview.question_flow import Answers, values
from loadplan.planning.interview.questions_on_job import Beginning
from loadplan.planning.interview.typical_answers import typical_units
from loadplan.units import System


def beginning(file: Path, vehicle: str | None, shop: Path | None, today: date) -> Beginning:
    """Read what is known before the first question.

    Args:
        file: The job file that is to be made.
        vehicle: The vehicle's file, or the name of one that ships; None to ask.
        shop: The shop's file, None for the only one in the folder.
        today: The day on which is asked.

    Returns:
        It.

    Raises:
        InputError: If what is named cannot be read, or is not enough to ask about a job; or if there are several shops.
    """
    known = read_vehicle(vehicle_path(file, vehicle)) if vehicle else None
    path = shop or _only_shop(file.parent)
    owned, system = read_shop(path) if path else (None, None)
    refuse_unfit(known, owned)
    found = {} if vehicle else vehicles_in(file.parent)
    beside = {name: each for name, each in found.items() if not vehicle_faults(each, owned)}
    return Beginning(typical_units(), beside, known, owned, system, today)


def passed_over(file: Path, vehicle: str | None, begin: Beginning) -> tuple[Fault, ...]:
    """Find the files beside a job that is to be made which are not offered, and why.

    Args:
        file: The job file.
        vehicle: The vehicle's file or name, None where one is asked for.
        begin: What is known before the first question.

    Returns:
        A fault for each.
    """
    unread = unread_in(file.parent)
    if vehicle:
        return unread
    others = [each for name, each in vehicles_in(file.parent).items() if name not in begin.vehicles]
    return (*unread, *(fault for each in others for fault in vehicle_faults(each, begin.shop)[:1]))


def named_files(file: Path, vehicle: str | None, shop: Path | None) -> Named:
    """Tell what the job calls a vehicle and a shop that are known.

    Args:
        file: The job file that is to be made.
        vehicle: The vehicle's file or name, None where it is not known.
        shop: The shop's file, None for the only one in the folder.

    Returns:
        A name or path for each, "" where it is not known.
    """
    path = shop or _only_shop(file.parent)
    told = _seen_from(file, path) if path else ""
    if vehicle is None:
        return Named("", told)
    found = vehicle_path(file, vehicle)
    is_shipped = found in {path for _, path in shipped_vehicles()}
    return Named(found.stem if is_shipped else _seen_from(file, found), told)


def vehicle_path(file: Path, vehicle: str) -> Path:
    """Find a vehicle's file: a path, or a name beside the job or among those that ship.

    Args:
        file: The job file that is to be made.
        vehicle: What was given.

    Returns:
        Its path.
    """
    names = (
        Path(vehicle),
        file.parent / f"{vehicle}.toml",
        *(path for name, path in shipped_vehicles() if name == vehicle),
    )
    return next((each for each in names if each.is_file()), Path(vehicle))


def begun_like(like: Path, today: date) -> Beginning:
    """Read a job that the new one is like, and so its vehicle and shop.

    Args:
        like: The job.
        today: The day on which is asked.

    Returns:
        What is known before the first question.
    """
    job = read_job(like, today=today)
    system = System.US if job.us_units else System.METRIC
    return Beginning(vehicle=job.vehicle, shop=job.shop, system=system, today=today, is_like=True)


def job_like(like: Path, file: Path, answers: Answers) -> bytes:
    """Write a job like another one: its text, with another title and other days.

    Args:
        like: The other job.
        file: Where the new one goes.
        answers: Title and days.

    Returns:
        Content of the new file.
    """
    known = values(answers)
    days = known.get("days")
    first = days.first.isoformat() if isinstance(days, Days) else None
    last = days.last.isoformat() if isinstance(days, Days) and days.last else None
    changes = [
        Change("", 0, "title", quoted(str(known["title"]))),
        Change("", 0, "date", first),
        Change("", 0, "until", last),
    ]
    return edited(like, [*changes, *moved(like, file)])


def _only_shop(folder: Path) -> Path | None:
    """Return the only shop file of a folder, None where there is none.

    Raises:
        InputError: If there are several.
    """
    found = shops_in(folder)
    if len(found) > 1:
        names = ", ".join(each.name for each in found)
        raise InputError(Fault(str(folder), "", "--shop", f"there are several shop files here, {names}: say which"))
    return found[0] if found else None


def _seen_from(file: Path, path: Path) -> str:
    try:
        return Path(os.path.relpath(path.resolve(), file.parent.resolve())).as_posix()
    except ValueError:  # another drive
        return path.resolve().as_posix()
