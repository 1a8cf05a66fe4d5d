"""Jobs in the register of a shop, with all that it tells of them, held against kept texts."""

from dataclasses import replace
from pathlib import Path

from loadplan.files import read_job, read_shop, shipped_folder
from loadplan.model.job import Job
from loadplan.model.shop import Shop
from loadplan.planning.register.bookings import register
from loadplan.planning.register.job_entry import enter
from tests.kept_text import assert_kept
from tests.planning.written import record

DEMO = shipped_folder("demo")
KEPT = Path(__file__).parent / "kept"
SHOP, _ = read_shop(DEMO / "shop.toml")


def _other_shop() -> Shop:
    """A shop that lacks the first kind, has another rating on the second, other tags on the third, and a soft lift."""
    _, second, third, *others = SHOP.equipment
    lift = replace(SHOP.lifts[0], rating=SHOP.lifts[0].rating / 2)
    kinds = (replace(second, rating=second.rating / 2), replace(third, tags=("X1",), count=1), *others)
    return Shop(kinds, (lift,), ())


def _demo(name: str) -> Job:
    """A job of the demo, called by its file's name alone: where that lies is another matter on every machine."""
    return replace(read_job(DEMO / f"{name}.toml"), source=f"{name}.toml")


def test_a_job_is_entered_as_it_is_kept() -> None:
    assert_kept(KEPT / "entry-battery-pack-table.txt", record(enter(_demo("battery-pack-table"), SHOP)))


def test_where_job_and_shop_differ_is_told_as_it_is_kept() -> None:
    job = _demo("front-unit")
    found = enter(job, _other_shop())
    few = enter(replace(job, until=None), Shop((), (), ()))
    told = register(SHOP, [found, replace(found, file="again", title="again")], ())
    assert_kept(KEPT / "entry-in-another-shop.txt", record((found, few.remarks, told.clashes, told.shortages)))
