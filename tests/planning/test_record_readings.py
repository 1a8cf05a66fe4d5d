"""What was read at the bay, as readings of a job's steps. Made-up records."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from loadplan.limits import GRAVITY
from loadplan.model.job import Stage, StageReading
from loadplan.model.work_record import Deed, FoundAtStand, RecordEntry, WorkRecord
from loadplan.planning.record_readings import (
    read_before_moved,
    readings_at_each_height,
    readings_of,
    with_record_readings,
)
from tests.checks import builders


def read(support: str, load: float | None, step: str = "down", **of_it: object) -> RecordEntry:
    found = FoundAtStand(support, load, **of_it)  # type: ignore[arg-type]
    return RecordEntry(datetime(2026, 11, 20, 8, tzinfo=UTC), "K", "0a1b2c3d", step, Deed.READ, found=found)


def other(deed: Deed, step: str = "down") -> RecordEntry:
    return replace(read("", None, step), deed=deed, found=None)


def record(*entries: RecordEntry) -> WorkRecord:
    return WorkRecord(entries)


def test_what_was_read_last_at_each_place_of_a_step_counts() -> None:
    made = record(read("A", 900.0), read("B", 2000.0), read("A", 1000.0), read("A", 7.0, "up"), other(Deed.TICKED))
    # Of one per cent, or half a kilogram where that is more.
    half = 0.5 * GRAVITY
    assert readings_of(made, "down") == (
        StageReading("A", 1000.0, 10.0),
        StageReading("B", 2000.0, 20.0),
    )
    assert readings_of(made, "up") == (StageReading("A", 7.0, pytest.approx(half)),)
    assert readings_of(made, "later") == ()


def test_what_a_hand_found_is_no_load() -> None:
    made = record(read("A", None, turns=True, lowered=0.01), read("B", None, turns=False))
    assert readings_of(made, "down") == (StageReading("A", None, turns=True), StageReading("B", None, turns=False))


def test_a_reading_at_each_height_counts() -> None:
    made = record(
        read("A", 1000.0, lowered=0.01),
        read("A", 2000.0, lowered=0.02),
        read("A", 3000.0, lowered=0.01),
        read("A", 4000.0),
        read("B", 5000.0, lowered=0.01),
        read("A", 6000.0, "up", lowered=0.01),
    )
    told = readings_at_each_height(made, "down")
    assert [(each.support, each.load, each.lowered) for each in told] == [
        ("A", 3000.0, 0.01),
        ("A", 2000.0, 0.02),
        ("A", 4000.0, None),
        ("B", 5000.0, 0.01),
    ]


def test_what_was_read_before_something_moved_is_told_until_it_is_read_again() -> None:
    first = (read("A", 1.0), read("B", 1.0), read("C", 1.0, "up"), other(Deed.STEP_DONE))
    assert read_before_moved(record(*first), "down") == frozenset()
    assert read_before_moved(record(*first, other(Deed.MOVED)), "down") == {"A", "B"}
    again = (*first, other(Deed.MOVED, "up"), read("A", 2.0), read("B", 2.0, "up"), read("D", 2.0))
    assert read_before_moved(record(*again), "down") == {"B"}
    assert read_before_moved(record(*again, other(Deed.MOVED)), "down") == {"A", "B", "D"}
    assert read_before_moved(record(*again), "up") == {"C"}
    twice = (read("A", 1.0), other(Deed.MOVED), read("B", 1.0), other(Deed.MOVED))
    assert read_before_moved(record(*twice), "down") == {"A", "B"}


def test_the_record_counts_before_the_file_at_the_same_height_of_the_same_step() -> None:
    """X is nothing that the plan has."""
    written = (StageReading("A", 1.0), StageReading("A", 2.0, lowered=0.01), StageReading("B", 3.0))
    job = builders.job()
    stages = (Stage("down", in_place=("A", "B", "C"), readings=written), Stage("up", readings=written[:1]))
    job = replace(job, supports=tuple(map(builders.support, "ABC")), stages=stages)
    told = with_record_readings(job, record(read("A", 9000.0), read("C", 8000.0, "up"), read("X", 7000.0)))
    down, up = ([(each.support, each.load) for each in stage.readings] for stage in told.stages)
    assert down == [("A", 2.0), ("B", 3.0), ("A", 9000.0)]
    assert up == [("A", 1.0), ("C", 8000.0)]
    assert replace(told, stages=job.stages) == job
