"""How a record goes on after something befell it: what nobody could read again is refused, what is in doubt is told."""

import errno
import os
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from loadplan.files import work_record_file
from loadplan.files.record_chain import HEAD
from loadplan.files.record_length import length_path
from loadplan.files.work_record_file import add_to_record, read_record, record_path
from loadplan.model.work_record import BrokenOff, CountBeside, Deed, FoundAtStand, RecordEntry, WorkRecord

NOON = datetime(2026, 11, 20, 12, tzinfo=UTC)


def entry(number: int) -> RecordEntry:
    return RecordEntry(NOON + timedelta(minutes=number), "K", "0a1b2c3d", "Down", Deed.TICKED, f"box {number}")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Return a job file; what stands in it does not matter here."""
    return tmp_path / "job.toml"


@pytest.mark.parametrize(
    ("spoilt", "says"),
    [
        (replace(entry(2), at=NOON.replace(tzinfo=None)), "needs a zone, and 2026-11-20 12:00:00 has none"),
        (replace(entry(2), at=NOON.astimezone(timezone(timedelta(seconds=90)))), "could not be read again"),
        (replace(entry(2), sheet=""), "could not be read again"),
        (replace(entry(2), found=FoundAtStand("A", float("nan"))), "could not be read again"),
    ],
)
def test_what_could_not_be_read_again_is_refused_and_nothing_is_written(
    job: Path, spoilt: RecordEntry, says: str
) -> None:
    """Else nobody could read what was kept before, either."""
    with pytest.raises(ValueError, match=says):
        add_to_record(job, spoilt)
    assert [*job.parent.iterdir()] == []
    add_to_record(job, entry(1))
    before = record_path(job).read_bytes()
    with pytest.raises(ValueError, match=says):
        add_to_record(job, entry(1), spoilt)
    add_to_record(job)
    assert record_path(job).read_bytes() == before


def test_a_record_that_a_full_disk_did_not_take_is_not_left_empty(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "write", full)
    with pytest.raises(OSError, match=os.strerror(errno.ENOSPC)):
        add_to_record(job, entry(1))
    monkeypatch.undo()
    assert [*job.parent.iterdir()] == [], "an empty one would be in doubt"


def test_a_count_that_a_full_disk_did_not_take_is_not_left_damaged(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    writes = os.write

    def full(file: int, content: bytes) -> int:
        if bytes(content).startswith(b"# How many"):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return writes(file, content)

    monkeypatch.setattr(os, "write", full)
    add_to_record(job, entry(1))
    assert read_record(job) == WorkRecord((entry(1),), count=CountBeside.ABSENT)
    monkeypatch.undo()
    add_to_record(job, entry(2))
    assert read_record(job) == WorkRecord((entry(1), entry(2)))


@pytest.mark.parametrize("cut", [0, 30])
def test_a_record_whose_lines_were_given_other_ends_goes_on_whole(job: Path, cut: int) -> None:
    """As a mail program or an editor does it."""
    add_to_record(job, entry(1), entry(2))
    if cut:
        told = length_path(record_path(job)).read_bytes()
        add_to_record(job, entry(3))
        length_path(record_path(job)).write_bytes(told)
        record_path(job).write_bytes(record_path(job).read_bytes()[:-cut])
    for path in (record_path(job), length_path(record_path(job))):
        path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert read_record(job).entries == (entry(1), entry(2))
    assert (read_record(job).count, read_record(job).is_untold) == (CountBeside.THERE, False)
    add_to_record(job, entry(4))
    add_to_record(job, entry(5))
    assert read_record(job) == WorkRecord((entry(1), entry(2), entry(4), entry(5)))
    assert (b"# not whole" in record_path(job).read_bytes()) is bool(cut)


@pytest.mark.parametrize("content", [b"", b"\n\n", HEAD.encode() + b"# all taken out\n"])
def test_a_record_without_an_entry_and_without_its_count_is_in_doubt(job: Path, content: bytes) -> None:
    record_path(job).write_bytes(content)
    assert (read_record(job).broken_off, read_record(job).tells_nothing) == (BrokenOff.EMPTY, False)
    add_to_record(job, entry(1))
    assert [each.deed for each in read_record(job).entries] == [Deed.UNTOLD, Deed.TICKED]


def test_an_entry_that_is_not_written_as_the_program_does_it_counts_as_edited(job: Path) -> None:
    add_to_record(job, entry(1))
    record_path(job).write_text(record_path(job).read_text("utf-8").replace("[[done]]", "[[ done ]]"), "utf-8")
    assert (len(read_record(job).entries), read_record(job).edited) == (1, True)


def test_what_another_program_writes_just_now_is_not_called_damaged(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    add_to_record(job, entry(1))
    reads = work_record_file.read_length

    def half_written(path: Path) -> object:
        monkeypatch.undo()
        whole = length_path(path).read_bytes()
        length_path(path).write_bytes(whole[:-4])
        told = reads(path)
        length_path(path).write_bytes(whole)
        return told

    monkeypatch.setattr(work_record_file, "read_length", half_written)
    assert read_record(job).count is CountBeside.THERE


def test_where_its_length_cannot_be_written_an_entry_is_kept_all_the_same(job: Path) -> None:
    length_path(record_path(job)).mkdir()
    add_to_record(job, entry(1))
    assert read_record(job) == WorkRecord((entry(1),), count=CountBeside.DAMAGED)


def test_a_record_that_another_program_has_just_made_is_not_taken_for_an_emptied_one(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It lies there empty until that one has written: here while the second one looks for the third time."""
    record_path(job).touch()
    looks: list[float] = []

    def meanwhile(seconds: float) -> None:
        looks.append(seconds)
        if len(looks) == 3:
            record_path(job).unlink()
            add_to_record(job, entry(1))

    monkeypatch.setattr(work_record_file.time, "sleep", meanwhile)
    add_to_record(job, entry(2))
    assert [each.words for each in read_record(job).entries] == ["box 1", "box 2"]
    assert len(looks) == 3
