"""What was done at the bay, in words."""

from datetime import UTC, datetime

import pytest

from loadplan.model.work_record import BrokenOff, CountBeside, Deed, RecordEntry, WorkRecord
from loadplan.report.words.record_words import DEEDS, SheetNumbers, changed_words, record_doubts

NOON = datetime(2026, 11, 20, 12, tzinfo=UTC)
NOW = SheetNumbers("0a1b2c3d")


def entry(deed: Deed = Deed.TICKED, words: str = "", sheet: str = "0a1b2c3d") -> RecordEntry:
    return RecordEntry(NOON, "K", sheet, "down", deed, words)


@pytest.mark.parametrize(
    ("broken_off", "says"),
    [
        (BrokenOff.STOPPED, "the program was stopped while it was written, before anybody was told that it is kept."),
        (BrokenOff.CUT, "Of an entry that was kept only a piece is there, and is left out: the file was cut since."),
        (BrokenOff.UNTOLD, "the program was stopped while it wrote, or the file was cut since."),
        (BrokenOff.BY_HAND, "is not as the program writes it, and is left out: somebody wrote it by hand."),
    ],
)
def test_what_a_record_breaks_off_with_is_told_for_what_it_is(broken_off: BrokenOff, says: str) -> None:
    (told,) = record_doubts(WorkRecord((entry(),), broken_off=broken_off), NOW)
    assert told.endswith(says)


def test_that_nothing_tells_how_long_a_record_was_is_told_where_there_is_or_was_one() -> None:
    assert record_doubts(WorkRecord((entry(),)), NOW) == ()
    (damaged,) = record_doubts(WorkRecord((entry(),), count=CountBeside.DAMAGED), NOW)
    assert damaged.startswith("JOB-record.count beside this record is damaged, or something else: whether entries")
    assert record_doubts(WorkRecord(count=CountBeside.DAMAGED), NOW) == (damaged,)
    (absent,) = record_doubts(WorkRecord((entry(),), count=CountBeside.ABSENT), NOW)
    assert absent.startswith("JOB-record.count, which says how long this record was, is not beside it: whether entries")
    assert record_doubts(WorkRecord(count=CountBeside.ABSENT), NOW) == ()


def test_a_plan_is_another_unless_only_its_own_record_listed_something() -> None:
    done = (entry(sheet="1"), entry(Deed.FINISHED, sheet="1"), entry(Deed.LISTED, "hose", "1"))
    assert changed_words(WorkRecord(done), SheetNumbers("1")) == ""
    assert "the plan was changed since" in changed_words(WorkRecord(done), SheetNumbers("2"))
    listed = changed_words(WorkRecord((*done, entry(Deed.NOTED, "x", "2"))), SheetNumbers("2", frozenset({"1"})))
    assert listed.startswith(
        "Work was done by sheet 1. What was still on was listed in the vehicle's file since (hose)"
    )
    third = WorkRecord((*done, entry(sheet="3")))
    assert "the plan was changed since" in changed_words(third, SheetNumbers("2", frozenset({"1"})))


def test_every_deed_is_told_in_words_of_its_own() -> None:
    assert set(DEEDS) == set(Deed)
    assert len(set(DEEDS.values())) == len(Deed)
