"""What of the work at the bay cannot be told, or was not looked at: a caution that says why. Made-up records."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from loadplan.model.job import Stage
from loadplan.model.verdict import CheckName, Measure, Verdict
from loadplan.model.work_record import LOOKED_AT, BrokenOff, CountBeside, Deed, FoundAtStand, RecordEntry, WorkRecord
from loadplan.planning.record_doubt import moved_words, open_strays, record_doubt, record_findings, worse_by
from tests.checks import builders

EIGHT = datetime(2026, 11, 20, 8, tzinfo=UTC)

JOB = replace(
    builders.job(),
    supports=tuple(map(builders.support, "AB")),
    stages=(Stage("down", in_place=("A", "B")), Stage("up"), Stage("night")),
)


def did(deed: Deed, step: str = "up", words: str = "", minute: int = 0, who: str = "K") -> RecordEntry:
    return RecordEntry(EIGHT + timedelta(minutes=minute), who, "", step, deed, words)


def read(support: str, step: str = "down", minute: int = 0) -> RecordEntry:
    return replace(did(Deed.READ, step, minute=minute), found=FoundAtStand(support, 900.0))


AT_WORK = WorkRecord((did(Deed.BEGUN, ""), read("A"), did(Deed.TICKED, words="box")))
BY_HAND = "somebody has written by hand behind the last entry of its record, and that is left out"
DAMAGED = "JOB-record.count, which says how long its record was, is damaged or something else"
OVER = WorkRecord((*AT_WORK.entries, did(Deed.STEP_DONE, "night"), did(Deed.FINISHED, "")))


def told(record: WorkRecord) -> list[tuple[int, Verdict, str, str]]:
    return [
        (step, each.verdict, each.subject, builders.words(each.says)) for step, each in record_findings(JOB, record)
    ]


@pytest.mark.parametrize(
    "record",
    [
        WorkRecord(),
        WorkRecord(count=CountBeside.ABSENT),
        AT_WORK,
        OVER,
        replace(AT_WORK, broken_off=BrokenOff.STOPPED),
        replace(OVER, broken_off=BrokenOff.STOPPED),
        # As one is that was sent by mail alone.
        replace(AT_WORK, count=CountBeside.ABSENT),
        replace(OVER, count=CountBeside.ABSENT),
        WorkRecord((did(Deed.UNTOLD, ""), *AT_WORK.entries, did(Deed.STEP_DONE))),
        WorkRecord((did(Deed.UNTOLD, ""), did(Deed.FINISHED, ""))),
    ],
)
def test_a_record_that_is_whole_leaves_nothing_in_doubt(record: WorkRecord) -> None:
    assert record_findings(JOB, record) == ()


@pytest.mark.parametrize(
    ("doubted", "says", "step"),
    [
        (WorkRecord(unreadable="x.toml: is no TOML"), "the record of this job cannot be read", 0),
        (
            replace(AT_WORK, missing=3),
            "entries that were kept at the end of its record are not there any more (3)",
            1,
        ),
        (replace(AT_WORK, edited=True), "somebody has edited its record by hand", 1),
        (
            WorkRecord((did(Deed.SHORT, "", "3, which were kept"), *AT_WORK.entries)),
            "entries of its record were missing when work went on",
            1,
        ),
        (
            replace(AT_WORK, broken_off=BrokenOff.UNTOLD),
            "its record breaks off, and nothing tells whether what is left out was kept",
            1,
        ),
        (
            WorkRecord((*AT_WORK.entries, read("A", "weigh it"), read("A", "weigh it"), read("Q"))),
            "the plan has no such place any more as A in weigh it and Q in down",
            1,
        ),
        (replace(OVER, missing=1), "entries that were kept at the end of its record are not there any more (1)", 2),
        (replace(OVER, edited=True), "somebody has edited its record by hand", 2),
        (replace(AT_WORK, broken_off=BrokenOff.BY_HAND), BY_HAND, 1),
        (
            WorkRecord(broken_off=BrokenOff.EMPTY),
            "its record is empty, and nothing tells whether anything was kept in it",
            0,
        ),
        (WorkRecord(count=CountBeside.DAMAGED), DAMAGED, 0),
        (replace(AT_WORK, count=CountBeside.DAMAGED), DAMAGED, 1),
        (replace(OVER, count=CountBeside.DAMAGED), DAMAGED, 2),
        (replace(OVER, broken_off=BrokenOff.BY_HAND), BY_HAND, 2),
        (
            replace(OVER, broken_off=BrokenOff.UNTOLD),
            "its record breaks off, and nothing tells whether what is left out was kept",
            2,
        ),
        (
            WorkRecord((*AT_WORK.entries, did(Deed.STEP_DONE), did(Deed.UNTOLD, ""))),
            "entries of its record may have been missing when work went on",
            1,
        ),
    ],
)
def test_what_was_read_and_cannot_be_told_is_a_caution_where_the_job_stands(
    doubted: WorkRecord, says: str, step: int
) -> None:
    again = "It may have been a stop. Look at what stands, and read it again."
    whole = f"What was read at the bay cannot be told: {says}."
    assert told(doubted) == [(step, Verdict.CAUTION, "the record", f"{whole} {again}")]
    ((_, finding),) = record_findings(JOB, doubted)
    assert (finding.check, finding.measure) == (CheckName.READING, Measure.LOAD)
    assert record_doubt(JOB, doubted) == whole
    assert worse_by(JOB, doubted, Verdict.CAUTION) == "since what was read at the bay cannot be told"
    assert worse_by(JOB, doubted, Verdict.STOP) == "by what was read at the bay"


def test_of_several_reasons_one_caution_tells() -> None:
    both = replace(AT_WORK, missing=2, edited=True)
    ((_, _, _, says),) = told(both)
    assert "are not there any more (2); somebody has edited its record by hand." in says


def test_what_was_read_in_a_step_that_is_called_otherwise_now_counts_once_it_is_read_again() -> None:
    old = read("A", "weigh it", 1)
    assert open_strays(JOB, WorkRecord((read("A"), old))) == (old,)
    assert open_strays(JOB, WorkRecord((old, read("B", minute=2)))) == (old,), "another place tells nothing of it"
    assert open_strays(JOB, WorkRecord((old, read("A", minute=2)))) == ()
    assert record_doubt(JOB, WorkRecord((old, read("A", minute=2)))) == ""
    assert open_strays(JOB, WorkRecord((old, read("A", "set down", 2)))) == (old, read("A", "set down", 2))


def test_once_the_job_is_over_what_was_read_where_the_plan_has_nothing_counts_no_more() -> None:
    assert record_findings(JOB, WorkRecord((read("Q"), *OVER.entries))) == ()
    assert record_findings(JOB, WorkRecord((did(Deed.SHORT, ""), *OVER.entries))) == ()
    moved = WorkRecord((did(Deed.MOVED), did(Deed.FINISHED, "")))
    assert (record_findings(JOB, moved), moved_words(moved)) == ((), "")
    again = WorkRecord((read("Q"), *OVER.entries, did(Deed.TICKED)))
    assert len(record_findings(JOB, again)) == 1, "work went on"


def test_what_moved_is_a_caution_in_its_step_until_it_was_looked_at() -> None:
    moved = did(Deed.MOVED, "night", "C leans", 9)
    record = WorkRecord((*AT_WORK.entries, moved))
    says = (
        "Something moved at the bay 2026-11-20 08:09 (C leans; kept by K), and was not looked at since as the bay asks."
    )
    assert told(record) == [(2, Verdict.CAUTION, "what moved", f"{says} Stop: look, and read again.")]
    assert moved_words(record) == says
    assert worse_by(JOB, record, Verdict.CAUTION) == "since something moved at the bay"
    assert worse_by(JOB, record, Verdict.STOP) == "by what was read at the bay"
    looked = tuple(did(Deed.TICKED, "night", each, 10) for each in LOOKED_AT)
    assert told(WorkRecord((*record.entries, *looked))) == []
    assert told(WorkRecord((*record.entries, did(Deed.STEP_DONE, "night", minute=10)))) == []
    assert told(WorkRecord((*record.entries, read("A", minute=10)))) != [], (
        "at the bay a reading alone sets nothing going"
    )
    wordless = WorkRecord((did(Deed.MOVED, ""),))
    assert "Something moved at the bay 2026-11-20 08:00 (kept by K), and was" in moved_words(wordless)
    nobody = WorkRecord((did(Deed.MOVED, "", who=""),))
    assert "Something moved at the bay 2026-11-20 08:00, and was" in moved_words(nobody)


def test_what_moved_after_the_end_counts() -> None:
    record = WorkRecord((*OVER.entries, did(Deed.MOVED, "a step that is no more")))
    ((step, verdict, subject, _),) = told(record)
    assert (step, verdict, subject) == (2, Verdict.CAUTION, "what moved")
    assert worse_by(JOB, OVER, Verdict.CAUTION) == "by what was read at the bay"
