"""Reading a whole job from its files."""

from datetime import date, datetime
from pathlib import Path

from loadplan.errors import InputError
from loadplan.files.assumed import assumptions
from loadplan.files.file_head import read_head
from loadplan.files.job_file import JobFile, open_job, open_vehicle
from loadplan.files.job_names import check_names
from loadplan.files.job_nouns import job_noun
from loadplan.files.shop_reader import SHOP_TABLES, read_shop_tables, shop_noun
from loadplan.files.shop_shape import SHOP_SCHEMA, ShopHead
from loadplan.files.stage_rules import check_stages
from loadplan.files.toml_source import open_source
from loadplan.files.vehicle_nouns import vehicle_noun
from loadplan.model.job import Job
from loadplan.model.shop import Shop
from loadplan.model.vehicle import Vehicle
from loadplan.units import System


def read_job(path: str | Path, *, today: date | None = None, text: str | None = None) -> Job:
    """Read a job with its vehicle and its shop.

    Args:
        path: The job file.
        today: Day taken where the file gives no date, None for the clock's.
        text: What is to stand in the job file, where that is not written yet.

    Returns:
        The job in SI, checked for sense.

    Raises:
        InputError: If anything is wrong in any of its files, with every fault found.
    """
    return job_of(open_job(Path(path), text), today or datetime.now().astimezone().date())


def job_of(file: JobFile, day: date) -> Job:
    """Make a job of files that were read table by table.

    Args:
        file: The job as far as its files could be read; further faults are noted in it.
        day: Day taken where the file gives no date.

    Returns:
        The job in SI, checked for sense.

    Raises:
        InputError: If anything is wrong in any of its files, with every fault found.
    """
    check_names(file)
    _check_days(file, day)
    vehicle = vehicle_noun(file.vehicle)
    notes = check_stages(file, vehicle)
    if file.faults:
        raise InputError(*file.faults)
    return job_noun(file, vehicle, shop_noun(file.shop), (*assumptions(file, vehicle, day), *notes), day)


def _check_days(file: JobFile, today: date) -> None:
    """Note a last day that is past where no day is given."""
    if file.head.date is None and file.head.until and file.head.until < today:
        file.source.blame("", "until", f"is before today, {today}: give date too")


def read_vehicle(path: str | Path, *, text: str | None = None) -> Vehicle:
    """Read a vehicle file.

    Args:
        path: The file.
        text: What is to stand in it, where that is not written yet.

    Returns:
        The vehicle in SI.

    Raises:
        InputError: If anything is wrong in it, with every fault found.
    """
    file = open_vehicle(Path(path), text)
    if file.source.faults:
        raise InputError(*file.source.faults)
    return vehicle_noun(file)


def read_shop(path: str | Path, *, text: str | None = None) -> tuple[Shop, System]:
    """Read a shop file.

    Args:
        path: The file.
        text: What is to stand in it, where that is not written yet.

    Returns:
        The shop in SI, and the units that its file is written in.

    Raises:
        InputError: If anything is wrong in it, with every fault found.
    """
    source = open_source(Path(path), SHOP_SCHEMA, text)
    read_head(source, ShopHead, SHOP_TABLES)
    file = read_shop_tables(source)
    if source.faults:
        raise InputError(*source.faults)
    return shop_noun(file), source.system
