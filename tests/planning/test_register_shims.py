"""Shims over many jobs: one whose wood is not said may be any of its height."""

from datetime import date
from pathlib import Path

from loadplan.files import read_job
from loadplan.model.shop import Shop
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.planning.register.bookings import register
from loadplan.planning.register.job_entry import Entry, Need, Stock, enter
from tests.checks.small_jobs import stands, unit_job
from tests.reference.random_jobs import write_job

ANY, OAK, STEEL, HIGHER = Stock("", 0.012), Stock("oak", 0.012), Stock("steel", 0.012), Stock("oak", 0.025)
OWNED = {ANY: 8, OAK: 6, STEEL: 2, HIGHER: 6}
PLACES = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}


def entry(file: str, first: int, last: int, needs: dict[Stock, int]) -> Entry:
    days = date(2026, 11, first), date(2026, 11, last)
    taken = tuple(Need(stock, number, (), OWNED[stock]) for stock, number in needs.items())
    undone = (), None, False, None
    return Entry(file, file, "car", "", *days, Verdict.HOLDS, Basis.WEIGHED, (), taken, (), *undone)


def booked_twice(*needs: dict[Stock, int]) -> list[tuple[Stock, int, int]]:
    jobs = [entry(f"job {number}", 1, 3, each) for number, each in enumerate(needs)]
    return [(each.stock, each.wanted, each.owned) for each in register(Shop((), (), ()), jobs, ()).clashes]


def test_shims_of_a_wood_and_of_any_wood_share_what_there_is() -> None:
    assert booked_twice({OAK: 5}, {ANY: 3}) == []
    assert booked_twice({OAK: 5}, {ANY: 4}) == [(ANY, 9, 8)]
    assert booked_twice({OAK: 5, STEEL: 2}, {ANY: 2}) == [(ANY, 9, 8)]


def test_a_job_that_says_some_of_its_woods_counts_all_of_them_already() -> None:
    """Four of any wood, of which three are oak."""
    assert booked_twice({OAK: 3, ANY: 4}, {ANY: 4}) == []


def test_where_every_wood_is_said_each_is_counted_by_itself() -> None:
    assert booked_twice({OAK: 4}, {STEEL: 2}) == []
    assert booked_twice({OAK: 4}, {OAK: 3}) == [(OAK, 7, 6)]


def test_another_height_is_another_thing() -> None:
    assert booked_twice({HIGHER: 6}, {ANY: 8}) == []


def _shim(wood: str | None) -> object:
    return 12 if wood is None else {"height": 12, "wood": wood}


def test_a_job_counts_what_it_has_in_place_at_once(tmp_path: Path) -> None:
    """A and B on oak, C on a shim whose wood is not said, D on one of steel that comes when A has gone."""
    job = unit_job(PLACES)
    woods = {"A": "oak", "B": "Oak", "D": "steel"}
    job["support"] = [each | {"shim": _shim(woods.get(each["name"]))} for each in stands(PLACES, "unit", 350)]
    job["stage"] = [{"name": "one", "in_place": ["A", "B", "C"]}, {"name": "two", "cleared": ["A"], "in_place": ["D"]}]
    job["shim"] = [{"height": 12, "wood": "oak", "count": 6}, {"height": 12, "wood": "steel", "count": 2}]
    read = read_job(write_job(job, tmp_path))
    shims = {each.stock: (each.number, each.owned) for each in enter(read, read.shop).needs if each.stock.height}
    assert shims == {OAK: (2, 6), ANY: (3, 8), STEEL: (1, 2)}
