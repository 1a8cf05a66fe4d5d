"""What of a record cannot be told: what it breaks off with, whether anything says how long it was, what moved."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from loadplan.files.record_chain import BEGINS, HEAD
from loadplan.files.record_length import length_path
from loadplan.files.work_record_file import add_to_record, read_record, record_or_why, record_path
from loadplan.model.work_record import LOOKED_AT, BrokenOff, CountBeside, Deed, RecordEntry, WorkRecord

NOON = datetime(2026, 11, 20, 12, tzinfo=UTC)


def entry(number: int = 0, deed: Deed = Deed.TICKED, step: str = "Down", words: str = "") -> RecordEntry:
    words = words or f"box {number}"
    return RecordEntry(NOON + timedelta(minutes=number), "K", "0a1b2c3d", step, deed, words)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Return a job file; what stands in it does not matter here."""
    return tmp_path / "job.toml"


def test_whether_anything_tells_how_long_a_record_was_is_told(job: Path) -> None:
    assert read_record(job).count is CountBeside.ABSENT
    assert read_record(job).tells_nothing
    add_to_record(job, entry(1))
    assert read_record(job).count is CountBeside.THERE
    length_path(record_path(job)).unlink()
    assert read_record(job).count is CountBeside.ABSENT
    record_path(job).unlink()
    length_path(record_path(job)).write_bytes(b"\xff")
    assert read_record(job).count is CountBeside.DAMAGED
    assert not read_record(job).tells_nothing, "once there was something"


@pytest.mark.parametrize(
    ("left", "counted", "broken_off"),
    [
        ("\n[[done]]\nat = 2026-11", 2, BrokenOff.CUT),
        ("\n[[done]]\nat = 2026-11", 1, BrokenOff.STOPPED),
        ("\n[[done]]\nat = 2026-11", None, BrokenOff.UNTOLD),
        ("\n[[do", 2, BrokenOff.CUT),
        ("\n[[do", 1, BrokenOff.STOPPED),
        ('\n[[done]]\nwords = "x"\n', 1, BrokenOff.BY_HAND),
        ('\n[[done]]\nwords = "x"\n', None, BrokenOff.BY_HAND),
        ("\n", 1, BrokenOff.NOTHING),
        ("\n\n\n", None, BrokenOff.NOTHING),
        ("", 2, BrokenOff.NOTHING),
    ],
)
def test_what_stands_behind_the_last_whole_entry_is_told_for_what_it_is(
    job: Path, left: str, counted: int | None, broken_off: BrokenOff
) -> None:
    """Of two entries the first is whole; beside them it is counted that there were two, or one, or nothing is."""
    add_to_record(job, entry(1))
    whole, count = record_path(job).read_bytes(), length_path(record_path(job)).read_bytes()
    add_to_record(job, entry(2))
    record_path(job).write_bytes(whole + left.encode())
    if counted == 1:
        length_path(record_path(job)).write_bytes(count)
    if counted is None:
        length_path(record_path(job)).unlink()
    told = read_record(job)
    assert (told.entries, told.edited) == ((entry(1),), False)
    assert (told.broken_off, told.missing) == (broken_off, 1 if counted == 2 else 0)


def test_of_a_record_cut_in_its_head_no_entry_is_told_to_be_there_in_part(job: Path) -> None:
    add_to_record(job, entry(1))
    record_path(job).write_text(HEAD[:40], "utf-8")
    assert (read_record(job).broken_off, read_record(job).missing) == (BrokenOff.NOTHING, 1)
    length_path(record_path(job)).unlink()
    assert read_record(job).broken_off is BrokenOff.UNTOLD


def test_what_was_written_by_hand_stays_as_a_remark_with_a_blank_line_behind_it(job: Path) -> None:
    add_to_record(job, entry(1))
    with record_path(job).open("a", encoding="utf-8") as stream:
        stream.write(f'{BEGINS}words = "by hand"\n\n')
    add_to_record(job, entry(2))
    assert '# not whole: words = "by hand"' in record_path(job).read_text("utf-8")
    told = read_record(job)
    assert (told.entries[0], told.entries[2:], told.edited) == (entry(1), (entry(2),), False)
    assert (told.entries[1].deed, told.went_on_untold) == (Deed.UNTOLD, True), "it may have been a reading"


def test_a_record_that_cannot_be_read_says_why_to_whoever_goes_on_without_it(job: Path) -> None:
    add_to_record(job, entry(1))
    assert record_or_why(job) == read_record(job)
    record_path(job).write_text("who\n", "utf-8")
    told = record_or_why(job)
    assert told.entries == ()
    assert "job-record.toml" in told.unreadable
    assert not told.tells_nothing
    assert not told.is_over_and_whole


def moved(number: int, step: str = "Down") -> RecordEntry:
    return entry(number, Deed.MOVED, step, "C leans")


def looked(number: int, step: str = "Down", left_out: int = 0) -> tuple[RecordEntry, ...]:
    return tuple(entry(number, step=step, words=words) for words in LOOKED_AT[left_out:])


def test_what_moved_waits_until_all_of_it_was_looked_at_in_a_step_or_one_is_done() -> None:
    assert WorkRecord((entry(1),)).not_looked_at is None
    assert WorkRecord((entry(1), moved(2))).not_looked_at == moved(2)
    assert WorkRecord((moved(1), moved(2), entry(3))).not_looked_at == moved(2), "the last one counts"
    assert WorkRecord((moved(2), *looked(3))).not_looked_at is None
    assert WorkRecord((moved(2), *looked(3, left_out=1))).not_looked_at == moved(2)
    assert WorkRecord((*looked(1), moved(2))).not_looked_at == moved(2)
    apart = (*looked(3, left_out=1), entry(4, step="Up", words=LOOKED_AT[0]))
    assert WorkRecord((moved(2), *apart)).not_looked_at == moved(2)
    back = entry(4, Deed.TAKEN_BACK, "Down", LOOKED_AT[0])
    assert WorkRecord((moved(2), *looked(3), back)).not_looked_at == moved(2)
    assert WorkRecord((moved(2), entry(3, Deed.STEP_DONE))).not_looked_at is None
