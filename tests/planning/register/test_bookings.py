"""The shop over many jobs: what is booked twice, what runs short, and what a job is judged by."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from loadplan.assess import assess, assess_in_short
from loadplan.files import read_job, read_shop, shipped_folder
from loadplan.files.find_jobs import find_jobs
from loadplan.model.job import Job
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.planning.register.bookings import Demand, register
from loadplan.planning.register.job_entry import Entry, Need, Stock, What, by_list, enter
from loadplan.planning.register.parallel_reading import gather
from tests.files.builders import small, write

DEMO = shipped_folder("demo")
SHOP, _ = read_shop(DEMO / "shop.toml")
TODAY = date(2026, 11, 20)
STAND = Stock("stand")


def entry(file: str, first: int, last: int, *needs: Need, bay: str = "") -> Entry:
    """A made-up job of some days of November."""
    days = date(2026, 11, first), date(2026, 11, last)
    undone = (), None, False, None
    return Entry(file, file, "car", bay, *days, Verdict.HOLDS, Basis.WEIGHED, (), needs, (), *undone)


def stands(number: int, *tags: str, owned: int | None = 6) -> Need:
    return Need(STAND, number, tags, owned)


def clashes(*entries: Entry) -> list[tuple[Demand, str, int, int, tuple[int, ...]]]:
    found = register(SHOP, entries, ()).clashes
    return [(each.ask, each.tag or each.stock.name, each.first.day, each.last.day, each.entries) for each in found]


def test_a_tag_is_booked_twice_on_the_days_that_both_jobs_take_it() -> None:
    jobs = entry("a", 1, 5, stands(1, "S1")), entry("b", 5, 9, stands(1, "S1")), entry("c", 6, 6, stands(1, "S2"))
    assert clashes(*jobs) == [(Demand.TAG, "S1", 5, 5, (0, 1))]


def test_jobs_one_after_the_other_share_a_tag() -> None:
    assert clashes(entry("a", 1, 4, stands(1, "S1")), entry("b", 5, 9, stands(1, "S1"))) == []


def test_the_last_piece_may_be_taken_and_one_more_may_not() -> None:
    assert clashes(entry("a", 1, 3, stands(4)), entry("b", 3, 4, stands(2, "S1"))) == []
    assert clashes(entry("a", 1, 3, stands(4)), entry("b", 3, 4, stands(3))) == [(Demand.NUMBER, "stand", 3, 3, (0, 1))]


def test_a_job_alone_that_wants_too_many_runs_short_and_is_not_booked_twice() -> None:
    found = register(SHOP, [entry("a", 1, 3, stands(7))], ())
    assert found.clashes == ()
    assert [(each.wanted, each.owned, each.days_short, each.always) for each in found.shortages] == [(7, 6, 3, True)]


def test_short_on_some_days_is_not_never_enough() -> None:
    (short,) = register(SHOP, [entry("a", 1, 5, stands(4)), entry("b", 4, 6, stands(3))], ()).shortages
    assert (short.wanted, short.first.day, short.last.day, short.days_short, short.days_wanted) == (7, 4, 5, 2, 6)
    assert not short.always


def test_what_nobody_counted_is_never_short() -> None:
    found = register(SHOP, [entry("a", 1, 3, stands(700, owned=None))], ())
    assert (found.clashes, found.shortages) == ((), ())


def test_a_lift_holds_one_vehicle() -> None:
    jobs = entry("a", 1, 3, bay="bay 2"), entry("b", 3, 4, bay="bay 2"), entry("c", 3, 4), entry("d", 3, 4)
    assert clashes(*jobs) == [(Demand.LIFT, "bay 2", 3, 3, (0, 1))]


def test_the_register_holds_only_where_every_job_is_read_and_none_is_a_stop() -> None:
    good, bad = entry("a", 1, 2), replace(entry("b", 1, 2), verdict=Verdict.STOP)
    assert register(SHOP, [good], ()).holds
    assert not register(SHOP, [good, bad], ()).holds
    assert not gather(SHOP, [DEMO / "us-units.toml", DEMO / "missing.toml"], TODAY).holds


def test_a_register_is_as_good_as_its_poorest_weights() -> None:
    guessed = replace(entry("b", 1, 2), basis=Basis.GUESS)
    assert register(SHOP, [entry("a", 1, 2)], ()).basis is Basis.WEIGHED
    assert register(SHOP, [entry("a", 1, 2), guessed], ()).basis is Basis.GUESS
    assert register(SHOP, (), ()).basis is Basis.GUESS


def test_a_job_without_a_date_is_taken_for_today(tmp_path: Path) -> None:
    (found,) = gather(SHOP, [write(tmp_path, small(date=None))], date(2031, 2, 3)).entries
    assert found.first == date(2031, 2, 3)


def test_a_job_takes_no_more_pieces_than_it_needs_at_once() -> None:
    needs = {each.stock.name: each for each in enter(read_job(DEMO / "front-unit.toml"), SHOP).needs}
    assert needs["ratchet stand 3 t"] == Need(Stock("ratchet stand 3 t"), 4, ("S1", "S2", "S3", "S4"), 8)
    assert needs["pin stand 5 t"] == Need(Stock("pin stand 5 t"), 2, ("G1", "G2"), 4)
    assert needs["screw stand 2 t"].number == needs["tall prop stand 1 t"].number == 1
    assert needs["douglas fir-larch"] == Need(Stock("douglas fir-larch", 0.012), 4, (), 8)


def test_the_rows_are_pieces_with_their_ratings_then_the_lift_and_its_fullest_arm() -> None:
    found = enter(read_job(DEMO / "front-unit.toml"), SHOP)
    assert [each.tag for each in found.rows] == ["S1", "S2", "S3", "S4", "G1", "G2", "N1", "P1", "", ""]
    assert [each.what for each in found.rows[-3:]] == [What.PIECE, What.LIFT, What.ARM]
    first = found.rows[0]
    assert first.counted == first.marked / 2
    assert first.due == date(2027, 6, 2)
    assert first.share is not None
    assert 0.2 < first.share < 0.75


def test_a_job_is_judged_by_what_the_shop_owns() -> None:
    job = read_job(DEMO / "front-unit.toml")
    assert by_list(job, SHOP) == job
    weaker = [
        replace(each, rating=each.rating / 20) if each.name.startswith("ratchet") else each for each in SHOP.equipment
    ]
    found = enter(job, replace(SHOP, equipment=tuple(weaker)))
    assert found.verdict is Verdict.STOP
    assert found.remarks == ("ratchet stand 3 t is written differently in the job's own file: the shop's list counts.",)


def test_a_weaker_lift_on_the_list_counts_arm_by_arm() -> None:
    job = read_job(DEMO / "front-unit.toml")
    lifts = tuple(replace(each, rating=each.rating / 4, arm_rating=each.arm_rating / 4) for each in SHOP.lifts)
    own = by_list(job, replace(SHOP, lifts=lifts)).lift
    assert own is not None
    assert {arm.equipment.rating for arm in own.arms} == {SHOP.lifts[0].arm_rating / 4}
    found = enter(job, replace(SHOP, lifts=lifts))
    assert found.verdict is Verdict.STOP
    assert found.rows[-1].counted == SHOP.lifts[0].arm_rating / 4


def test_what_the_shop_does_not_list_is_told(tmp_path: Path) -> None:
    found = enter(read_job(write(tmp_path, small())), SHOP)
    assert [each.partition(" is")[0] for each in found.remarks] == ["stand", "bay", "No last day"]


def test_stands_that_the_shop_does_not_list_are_not_booked_twice_without_a_tag(tmp_path: Path) -> None:
    owned = [{"name": "stand", "kind": "stand", "rating": 1500, "stiffness": 2500, "count": 4}]
    paths = [write(tmp_path, small(equipment=owned), name) for name in ("one.toml", "two.toml")]
    found = gather(SHOP, paths, TODAY)
    needs = [need for entry in found.entries for need in entry.needs]
    assert [(need.stock, need.tags, need.owned) for need in needs] == [(STAND, (), None)] * 2
    assert [each.stock.name for each in found.clashes if each.ask is not Demand.LIFT] == []
    assert found.shortages == ()
    tagged = [enter(_tagged(read_job(path, today=TODAY)), SHOP) for path in paths]
    assert [(each.ask, each.tag) for each in register(SHOP, tagged, ()).clashes if each.tag] == [(Demand.TAG, "S1")]


def _tagged(job: Job) -> Job:
    first, *others = job.supports
    return replace(job, supports=(replace(first, tag="S1"), *others))


def test_a_job_is_judged_as_check_judges_it() -> None:
    for path in (DEMO / "front-unit.toml", DEMO / "rocking-on-two-stands.toml"):
        job = read_job(path)
        assert enter(job, SHOP).verdict is assess(job).verdict
        assert replace(assess(job), narrowest=None) == assess_in_short(job)


def test_a_broken_job_is_one_entry_among_the_others(tmp_path: Path) -> None:
    write(tmp_path, small(), "good.toml")
    write(tmp_path, small(units="imperial"), "bad.toml")
    (tmp_path / "torn.toml").write_text('schema = "loadplan-job-1"\ntitle = "torn\n', "utf-8")
    found = gather(SHOP, find_jobs([tmp_path]), TODAY)
    assert len(found.entries) == 1
    assert [Path(each.file).name for each in found.unread] == ["bad.toml", "torn.toml"]
    assert all(each.faults for each in found.unread)


def test_folders_are_searched_for_jobs_and_nothing_else(tmp_path: Path) -> None:
    inner = tmp_path / "deep" / "er"
    inner.mkdir(parents=True)
    (tmp_path / ".hidden").mkdir()
    for place in (tmp_path, inner, tmp_path / ".hidden"):
        write(place, small(), "job.toml")
    (tmp_path / "shop.toml").write_bytes((DEMO / "shop.toml").read_bytes())
    (tmp_path / "notes.txt").write_text('schema = "loadplan-job-1"', "utf-8")
    own = tmp_path / "job.toml"
    assert find_jobs([own, tmp_path, tmp_path / "gone.toml"]) == (own, inner / "job.toml", tmp_path / "gone.toml")


@pytest.mark.parametrize("processes", [1, 2])
def test_the_register_is_the_same_however_many_processes_share_the_work(tmp_path: Path, processes: int) -> None:
    paths = [write(tmp_path, small(title=f"job {number}"), f"{number}.toml") for number in range(6)]
    paths.append(tmp_path / "missing.toml")
    assert gather(SHOP, paths, TODAY, processes) == gather(SHOP, paths, TODAY, 1)
