"""What the answers become: a vehicle's file and a shop's file where there were none, and the job that names them."""

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from loadplan.files import read_shop, read_vehicle
from loadplan.planning.interview.first_job import Named, job_text
from loadplan.planning.interview.first_shop import shop_text
from loadplan.planning.interview.first_vehicle import vehicle_text
from loadplan.planning.interview.question_flow import Answers, course, is_for_practice, values
from loadplan.planning.interview.questions_on_job import vehicle_of
from loadplan.planning.interview.questions_on_shop import gear_words

LONGEST_NAME = 40
"""Longest name that a file of a vehicle is given [characters]."""


@dataclass(frozen=True, slots=True)
class Beside:
    """What lies beside the job that is made.

    Attributes:
        job: Name of the job's file.
        named: What the job calls a vehicle and a shop that are known; "" for those that are not.
        taken: Whether a file of some name is there already.
    """

    job: str
    named: Named
    taken: Callable[[str], bool]


def files_of_answers(answers: Answers, beside: Beside) -> dict[str, bytes]:
    """Write the files that come of the answers; what was known before is not among them.

    Args:
        answers: Answers to all questions.
        beside: What lies beside the job.

    Returns:
        Content of each file by its name, the job's last.
    """
    known, begin = values(answers), answers.begin
    texts: dict[str, str] = {}
    vehicle, named = vehicle_of(begin, course(answers).value), beside.named
    if vehicle is None:
        name = _free(slug(str(known["name"])), beside)
        texts[name] = vehicle_text(known, answers.system, for_practice=is_for_practice(known))
        vehicle, named = read_vehicle(Path(name), text=texts[name]), replace(named, vehicle=name.removesuffix(".toml"))
    elif not named.vehicle:
        named = replace(named, vehicle=str(known["own"]))
    shop = begin.shop
    if shop is None:
        name = _free("shop", beside)
        texts[name] = shop_text(known, gear_words(course(answers).value), answers.system)
        (shop, _), named = read_shop(Path(name), text=texts[name]), replace(named, shop=name)
    texts[beside.job] = job_text(known, vehicle, shop, named, answers.system)
    return {name: text.encode("utf-8") for name, text in texts.items()}


def slug(name: str) -> str:
    """Make a file's name of what somebody calls a vehicle.

    Args:
        name: What it is called.

    Returns:
        Small letters and figures with hyphens between.

    Example:
        >>> slug("Blue hatchback, 1.4 (2009)")
        'blue-hatchback-1-4-2009'
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:LONGEST_NAME].strip("-") or "vehicle"


def _free(stem: str, beside: Beside) -> str:
    """Return a name that is not taken: NAME.toml, NAME-2.toml ..."""
    names = [f"{stem}.toml", *(f"{stem}-{number}.toml" for number in range(2, 1000))]
    return next(name for name in names if name != beside.job and not beside.taken(name))
