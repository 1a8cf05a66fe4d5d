"""The register: days on which just enough is wanted, and stands without a tag."""

from datetime import date
from pathlib import Path

from loadplan.files import read_job
from loadplan.model.shop import Shop
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.planning.register.bookings import register
from loadplan.planning.register.job_entry import Entry, Need, Stock, enter
from tests.files.builders import small, write

STAND = Stock("stand")


def entry(file: str, first: int, last: int, number: int) -> Entry:
    days = date(2026, 11, first), date(2026, 11, last)
    needs = (Need(STAND, number, (), 6),)
    undone = (), None, False, None
    return Entry(file, file, "car", "", *days, Verdict.HOLDS, Basis.WEIGHED, (), needs, (), *undone)


def test_days_on_which_the_last_piece_is_taken_are_not_short() -> None:
    """Of six: 4 and 3 on the first day, 4 alone on the second and third, 4 and 2 on the fourth and fifth."""
    jobs = entry("a", 1, 5, 4), entry("b", 4, 6, 2), entry("c", 1, 1, 3)
    (short,) = register(Shop((), (), ()), jobs, ()).shortages
    assert (short.wanted, short.days_short, short.days_wanted) == (7, 1, 6)


def test_all_that_there_are_is_enough() -> None:
    assert register(Shop((), (), ()), [entry("a", 1, 5, 4), entry("b", 4, 6, 2)], ()).shortages == ()


def test_a_stand_without_a_tag_is_not_missed_on_the_list(tmp_path: Path) -> None:
    owned = [{"name": "stand", "kind": "stand", "rating": 1500, "stiffness": 2500, "tags": ["S1"]}]
    job = read_job(write(tmp_path, small(equipment=owned)))
    assert not any("among the tags" in each for each in enter(job, job.shop).remarks)
