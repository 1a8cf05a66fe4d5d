"""One job in the register: what its entry tells of it, and the lift as the shop's list has it. Made-up jobs."""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.model.job import Job
from loadplan.model.shop import Lift, Shop
from loadplan.model.verdict import Verdict
from loadplan.model.work_record import Deed, FoundAtStand, RecordEntry, WorkRecord
from loadplan.planning.register.job_entry import Stock, What, by_list, enter
from tests.checks.small_jobs import part, unit_job
from tests.files.builders import small, write
from tests.reference.random_jobs import write_job

NINE = datetime(2026, 11, 20, 9, tzinfo=UTC)

AROUND = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}


@pytest.fixture
def job(tmp_path: Path) -> Job:
    """A shell on two arms with a unit on a stand, and left like that in a second step."""
    stages = [{"name": "Set down", "in_place": ["A"]}, {"name": "Overnight", "unattended": True}]
    return replace(read_job(write(tmp_path, small(stage=stages))), source="job.toml")


def done(*entries: tuple[str, Deed]) -> WorkRecord:
    return WorkRecord(tuple(RecordEntry(NINE, "K", "", step, deed) for step, deed in entries))


def listed(job: Job, **changes: object) -> Lift:
    """The job's lift as the shop's list may have it."""
    assert job.lift is not None
    return replace(job.lift.lift, **changes)  # type: ignore[arg-type]


def test_an_entry_tells_what_the_job_is_and_takes(job: Job) -> None:
    found = enter(job, job.shop)
    assert (found.file, found.title, found.vehicle, found.bay) == ("job.toml", "small", job.vehicle.name, "bay")
    assert (found.first, found.last) == (date(2026, 11, 20), date(2026, 11, 20))
    assert (found.steps, found.standing, found.waits, found.job) == (("Set down", "Overnight"), None, False, job)
    rows = [(each.what.value, each.equipment, each.places) for each in found.rows]
    assert rows == [("", "stand", ("A",)), ("lift", "bay", ()), ("one arm", "bay", ("sill left", "sill right"))]
    assert [each.stock for each in found.needs] == [Stock("stand")]
    assert [each.value for each in What] == ["", "lift", "one arm"]


def test_of_what_nobody_knows_how_much_it_carries_no_share_is_told(job: Job) -> None:
    first, *_ = enter(job, job.shop).rows
    assert replace(first, most=900.0, counted=3600.0).share == 0.25
    assert replace(first, most=None).share is None


def test_a_job_without_a_lift_has_no_bay(job: Job) -> None:
    found = enter(replace(job, lift=None), job.shop)
    assert (found.bay, [each.what for each in found.rows]) == ("", [What.PIECE])


@pytest.mark.parametrize(("until", "last"), [(None, 20), (date(2026, 11, 24), 24), (date(2026, 11, 19), 20)])
def test_a_job_takes_its_things_from_its_first_day_to_its_last(job: Job, until: date | None, last: int) -> None:
    found = enter(replace(job, until=until), job.shop)
    assert (found.first.day, found.last.day) == (20, last)
    assert any("No last day is given (until)" in each for each in found.remarks) is (until is None)


@pytest.mark.parametrize(
    ("entries", "step", "waits"),
    [
        ([("Set down", Deed.STEP_DONE)], "Set down", False),
        ([("Set down", Deed.STEP_DONE), ("Overnight", Deed.TICKED)], "Overnight", True),
        ([("Overnight", Deed.STEP_DONE), ("", Deed.FINISHED)], "Overnight", False),
        ([("gone", Deed.TICKED)], "gone", False),
    ],
)
def test_a_job_waits_while_it_stands_at_a_step_in_which_it_is_left_alone(
    job: Job,
    entries: list[tuple[str, Deed]],
    step: str,
    waits: bool,  # noqa: FBT001 - a row
) -> None:
    found = enter(job, job.shop, done(*entries))
    assert found.standing is not None
    assert (found.standing.step, found.waits) == (step, waits)


def test_a_verdict_that_is_worse_by_the_bay_says_by_what(tmp_path: Path) -> None:
    known = part("block", "unit", 400, [0, 0, 500]) | {"known": "data sheet"}
    job = read_job(write_job(unit_job(AROUND, part=[known]), tmp_path))
    planned = enter(job, job.shop)
    assert planned.verdict < Verdict.CAUTION, "else nothing is worse"
    moved = enter(job, job.shop, done(("on stands", Deed.MOVED)))
    assert moved.verdict is Verdict.CAUTION
    assert moved.remarks == (
        *planned.remarks,
        "The verdict is worse than the plan's, since something moved at the bay: check says why.",
        "Something moved at the bay 2026-11-20 09:00 (kept by K), and was not looked at since as the bay asks.",
    )
    # A reading stops it by itself, whatever moved beside that.
    over = RecordEntry(NINE, "K", "", "on stands", Deed.READ, found=FoundAtStand("A", 3000.0))
    read = enter(job, job.shop, WorkRecord((*done(("on stands", Deed.MOVED)).entries, over)))
    assert read.verdict is Verdict.STOP
    by = "The verdict is worse than the plan's, by what was read at the bay: check says why."
    assert read.remarks == (*planned.remarks, by, moved.remarks[-1])
    spoilt = enter(job, job.shop, WorkRecord(unreadable="record.toml: is no TOML"))
    assert spoilt.remarks == (
        *planned.remarks,
        "The verdict is worse than the plan's, since what was read at the bay cannot be told: check says why.",
        "Its record cannot be read, so nothing that was read at the bay counts: record.toml: is no TOML",
    )


def test_an_arm_is_as_the_lift_on_the_list_has_it(job: Job) -> None:
    """Weaker, softer and with locks: and that is told, which it is not where the list says nothing but of locks."""
    lift = listed(job, arm_rating=5000.0, stiffness=1e5, locks=True)
    own = by_list(job, Shop(job.shop.equipment, (lift,), ())).lift
    assert own is not None
    assert own.lift == lift
    assert {(each.equipment.rating, each.equipment.stiffness, each.equipment.locks) for each in own.arms} == {
        (5000.0, 1e5, True)
    }
    assert [each.name for each in own.arms] == ["sill left", "sill right"]
    assert (
        "bay is written differently in the job's own file: the shop's list counts."
        in enter(job, Shop(job.shop.equipment, (lift,), ())).remarks
    )
    assert job.lift is not None
    one = replace(job, lift=replace(job.lift, arms=job.lift.arms[:1]))
    single = by_list(one, Shop(job.shop.equipment, (replace(lift, arms=1),), ())).lift
    assert single is not None
    assert single.arms == own.arms[:1]
    locks_alone = Shop(job.shop.equipment, (listed(job, locks=True),), ())
    assert by_list(job, locks_alone).lift == job.lift
    assert not any("bay" in each for each in enter(job, locks_alone).remarks)


def test_a_lift_with_other_arms_than_the_job_has_pads_stays_as_the_job_has_it(job: Job) -> None:
    shop = Shop(job.shop.equipment, (listed(job, arms=4, rating=1.0),), ())
    assert by_list(job, shop).lift == job.lift
    told = "bay has 4 arms on the shop's list: it counts as the job's own file has it."
    assert told in enter(job, shop).remarks
