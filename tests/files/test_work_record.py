"""The record of a job: it only grows, and holds whole what was told to be kept."""

import errno
import os
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Thread

import pytest
from hypothesis import given
from hypothesis import strategies as some

from loadplan.errors import InputError
from loadplan.files import append_only, work_record_file
from loadplan.files.record_length import length_path
from loadplan.files.work_record_file import add_to_record, read_record, record_path
from loadplan.model.work_record import (
    BrokenOff,
    CountBeside,
    Deed,
    FoundAtStand,
    JobStanding,
    RecordEntry,
    WorkRecord,
)
from loadplan.report.words.record_words import standing_words

NOON = datetime(2026, 11, 20, 12, tzinfo=UTC)
WORDS = some.text(max_size=40)


def entry(number: int = 0, deed: Deed = Deed.TICKED, step: str = "Down on the stands", words: str = "") -> RecordEntry:
    words = words or f"box {number}"
    return RecordEntry(NOON + timedelta(minutes=number), "K", "0a1b2c3d", step, deed, words)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Return a job file; what stands in it does not matter here."""
    return tmp_path / "job.toml"


def test_a_job_without_a_record_has_an_empty_one(job: Path) -> None:
    assert read_record(job) == WorkRecord(count=CountBeside.ABSENT)
    assert WorkRecord().standing is None


def test_what_is_added_is_read_again_in_order(job: Path) -> None:
    found = RecordEntry(NOON, "K", "0a1b2c3d", "Down", Deed.READ, found=FoundAtStand("D", 1863.3, None, 1700.0, 1900.0))
    felt = RecordEntry(NOON, "K", "0a1b2c3d", "Down", Deed.READ, found=FoundAtStand("A", turns=True))
    for each in (entry(1), found, felt, entry(2, Deed.NOTED, words='a "quoted" \\ word')):
        add_to_record(job, each)
    assert read_record(job) == WorkRecord((entry(1), found, felt, entry(2, Deed.NOTED, words='a "quoted" \\ word')))


@given(who=WORDS, words=WORDS)
def test_no_words_can_make_an_entry_of_their_own(
    tmp_path_factory: pytest.TempPathFactory, who: str, words: str
) -> None:
    job = tmp_path_factory.mktemp("any") / "job.toml"
    for number in range(2):
        add_to_record(job, RecordEntry(NOON, who, "0a1b2c3d", words or "x", Deed.NOTED, f"{words}\n[[done]]\n{number}"))
    told = read_record(job)
    assert len(told.entries) == 2
    assert not told.edited
    assert told.broken_off is BrokenOff.NOTHING


def test_cut_anywhere_the_record_keeps_every_entry_before(job: Path) -> None:
    whole = [entry(1), entry(2), entry(3)]
    ends = []
    for each in whole:
        add_to_record(job, each)
        ends.append(record_path(job).stat().st_size)
    content = record_path(job).read_bytes()
    for length in range(len(content) + 1):
        record_path(job).write_bytes(content[:length])
        length_path(record_path(job)).unlink()  # as after a power cut: nothing that was kept is missing
        told = read_record(job)
        there = sum(length >= end for end in ends)
        assert told.entries == tuple(whole[:there]), length
        assert not told.edited, length
        add_to_record(job, entry(9))
        again = read_record(job)
        assert (again.entries[:there], again.entries[-1]) == (tuple(whole[:there]), entry(9)), length
        in_doubt = told.broken_off is not BrokenOff.NOTHING
        assert [each.deed for each in again.entries[there:-1]] == [Deed.UNTOLD] * in_doubt, length
        assert (again.edited, again.broken_off) == (False, BrokenOff.NOTHING), length


def test_a_piece_of_an_entry_stays_as_a_remark(job: Path) -> None:
    add_to_record(job, entry(1))
    with record_path(job).open("a", encoding="utf-8") as stream:
        stream.write('\n[[done]]\nwords = "by hand"\n')
    assert read_record(job).broken_off is BrokenOff.BY_HAND
    add_to_record(job, entry(2))
    assert '# not whole: words = "by hand"' in record_path(job).read_text("utf-8")


@pytest.mark.parametrize(("was", "put"), [("box 1", "box 7"), ("2026-11-20T12:01", "2026-11-20T11:01"), ("sum", "son")])
def test_a_record_that_somebody_edited_is_told(job: Path, was: str, put: str) -> None:
    add_to_record(job, entry(1), entry(2))
    text = record_path(job).read_text("utf-8")
    record_path(job).write_text(text.replace(was, put, 1), "utf-8")
    if put == "son":
        with pytest.raises(InputError, match="son"):
            read_record(job)
    else:
        assert read_record(job).edited


def test_an_entry_taken_out_of_the_middle_is_told(job: Path) -> None:
    add_to_record(job, entry(1), entry(2), entry(3))
    head, first, _, last = record_path(job).read_text("utf-8").split("\n[[done]]\n")
    record_path(job).write_text("\n[[done]]\n".join([head, first, last]), "utf-8")
    assert read_record(job).edited


def test_another_file_at_its_place_is_left_as_it_is(job: Path) -> None:
    record_path(job).write_text('schema = "loadplan-shop-1"\nunits = "metric"\n', "utf-8")
    before = record_path(job).read_bytes()
    with pytest.raises(InputError, match="loadplan-record-1"):
        add_to_record(job, entry(1))
    assert record_path(job).read_bytes() == before


def test_a_link_at_its_place_is_not_followed(job: Path, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere.txt"
    record_path(job).symlink_to(elsewhere)
    with pytest.raises((OSError, InputError)):
        add_to_record(job, entry(1))
    assert not elsewhere.exists()


def test_on_a_full_disk_nothing_is_added(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    add_to_record(job, entry(1))
    before = record_path(job).read_bytes()
    real = os.write

    def half(file: int, content: bytes) -> int:
        if len(content) < 30:
            raise OSError(28, "No space left on device")
        return real(file, content[: len(content) // 2])

    monkeypatch.setattr(append_only.os, "write", half)
    with pytest.raises(OSError, match="No space"):
        add_to_record(job, entry(2))
    monkeypatch.undo()
    assert record_path(job).read_bytes() == before


def test_what_another_program_adds_meanwhile_counts_too(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(work_record_file, "MOST_ENTRIES", 2)
    add_to_record(job, entry(1))
    locks = work_record_file.lock_alone

    def locked(file: int, *, waits: bool) -> bool:
        monkeypatch.undo()
        monkeypatch.setattr(work_record_file, "MOST_ENTRIES", 2)
        add_to_record(job, entry(2))
        return locks(file, waits=waits)

    monkeypatch.setattr(work_record_file, "lock_alone", locked)
    with pytest.raises(InputError, match="2 are the most"):
        add_to_record(job, entry(3))
    # One entry more, and nobody could read what was kept before.
    assert read_record(job).entries == (entry(1), entry(2))


def test_a_full_record_says_so(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(work_record_file, "MOST_ENTRIES", 2)
    add_to_record(job, entry(1), entry(2))
    with pytest.raises(InputError, match="2 are the most"):
        add_to_record(job, entry(3))
    assert len(read_record(job).entries) == 2


def test_that_entries_are_missing_counts_among_the_most(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    add_to_record(job, entry(1))
    whole = record_path(job).read_bytes()
    add_to_record(job, entry(2))
    record_path(job).write_bytes(whole)
    monkeypatch.setattr(work_record_file, "MOST_ENTRIES", 2)
    with pytest.raises(InputError, match="2 are the most"):
        add_to_record(job, entry(3))
    # With the entry that says so it would have one more than anybody reads.
    assert read_record(job).entries == (entry(1),)


def test_a_record_never_gets_too_large_to_be_read(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    add_to_record(job, entry(1))
    before = record_path(job).read_bytes()
    monkeypatch.setattr(work_record_file, "LARGEST", len(before) + 20)
    with pytest.raises(InputError, match="is full"):
        add_to_record(job, entry(2))
    assert record_path(job).read_bytes() == before


def test_where_a_job_stands() -> None:
    begun = entry(0, Deed.BEGUN, "")
    assert WorkRecord((begun,)).standing == JobStanding("", done=False, since=begun.at, finished=False)
    one = WorkRecord((begun, entry(1, step="Up"), entry(2, Deed.STEP_DONE, "Up"), entry(3, step="Down")))
    told = one.standing
    assert told is not None
    assert (told.step, told.done, told.since, told.finished) == ("Down", False, entry(3).at, False)
    done = WorkRecord((*one.entries, entry(4, Deed.STEP_DONE, "Down"), entry(5, Deed.NOTED, ""))).standing
    assert done is not None
    assert (done.step, done.done, done.since) == ("Down", True, entry(4).at)
    end = WorkRecord((*one.entries, entry(6, Deed.FINISHED, ""))).standing
    assert end is not None
    assert (end.finished, end.since) == (True, entry(6).at)


def test_a_tick_taken_back_is_no_tick() -> None:
    record = WorkRecord((entry(1), entry(2), entry(3, Deed.TAKEN_BACK, words="box 1")))
    assert record.ticked("Down on the stands") == {"box 2"}
    assert record.ticked("another") == frozenset()


def test_a_plan_that_changed_after_work_began_is_told() -> None:
    assert not WorkRecord().changed_to("ffffffff")
    assert not WorkRecord((entry(1),)).changed_to("0a1b2c3d")
    assert WorkRecord((entry(1),)).changed_to("ffffffff")


def test_a_note_in_a_later_step_does_not_move_the_job_there() -> None:
    done = (entry(1, step="Up"), entry(2, Deed.STEP_DONE, "Up"))
    told = WorkRecord((*done, entry(3, Deed.NOTED, "Away"), entry(4, Deed.READ, "Away"))).standing
    assert told is not None
    assert (told.step, told.done, told.since) == ("Up", True, entry(2).at)


def test_what_moved_after_the_end_is_told_still() -> None:
    record = WorkRecord((entry(1), entry(2, Deed.STEP_DONE), entry(3, Deed.FINISHED, ""), entry(4, Deed.MOVED)))
    assert record.standing is not None
    told = standing_words(record.standing, ["Down on the stands"])
    assert told == "finished 2026-11-20 12:03; something moved, and no step is done since"


@pytest.mark.parametrize(
    ("after", "told"),
    [
        ((), "finished 2026-11-20 12:03"),
        ((Deed.NOTED, Deed.LISTED), "finished 2026-11-20 12:03"),
        ((Deed.READ,), "step 1 of 1, Down on the stands: done 2026-11-20 12:02"),
        ((Deed.READ, Deed.FINISHED), "finished 2026-11-20 12:05"),
        ((Deed.TICKED, Deed.NOTED), "step 1 of 1, Down on the stands: done 2026-11-20 12:02"),
        ((Deed.TAKEN_BACK,), "step 1 of 1, Down on the stands: done 2026-11-20 12:02"),
    ],
)
def test_a_job_that_is_worked_on_after_its_end_is_not_finished(after: tuple[Deed, ...], told: str) -> None:
    end = (entry(1), entry(2, Deed.STEP_DONE), entry(3, Deed.FINISHED, ""))
    standing = WorkRecord((*end, *(entry(number, deed) for number, deed in enumerate(after, 4)))).standing
    assert standing is not None
    assert standing_words(standing, ["Down on the stands"]) == told


@pytest.mark.parametrize("left", range(3))
def test_entries_taken_away_whole_from_the_end_show_and_go_on_showing(job: Path, left: int) -> None:
    add_to_record(job, entry(1))
    add_to_record(job, entry(2), entry(3))
    pieces = record_path(job).read_text("utf-8").split("\n[[done]]\n")
    record_path(job).write_text("\n[[done]]\n".join(pieces[: left + 1]), "utf-8")
    told = read_record(job)
    assert (len(told.entries), told.missing, told.edited) == (left, 3 - left, False)
    assert told.standing is not None
    assert f"{3 - left} entries at the end of its record are missing" in standing_words(told.standing, [])
    add_to_record(job, entry(9))
    again = read_record(job)
    assert [each.deed for each in again.entries[left:]] == [Deed.SHORT, Deed.TICKED]
    assert again.entries[left].words.startswith(f"{3 - left}, which were kept")
    assert (again.missing, again.edited) == (0, False), "what lies there now is whole again, and tells it"


def test_a_record_taken_away_whole_shows(job: Path) -> None:
    add_to_record(job, entry(1), entry(2))
    record_path(job).unlink()
    told = read_record(job)
    assert (told.entries, told.missing) == ((), 2)
    assert told.standing is not None
    words = standing_words(told.standing, [])
    assert words.startswith("its record was last written to 2026-11-20 12:02")


def test_another_record_in_its_place_counts_as_edited(job: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.toml"
    add_to_record(other, entry(5), entry(6))
    add_to_record(job, entry(1), entry(2))
    record_path(job).write_bytes(record_path(other).read_bytes())
    assert read_record(job).edited
    add_to_record(job, entry(7))
    again = read_record(job)
    assert [each.deed for each in again.entries[2:]] == [Deed.SHORT, Deed.TICKED], "it goes on showing"
    assert "another record lies here" in again.entries[2].words


@pytest.mark.parametrize(
    "content", [b"entries = 9", b"\xff\x00", b'entries = 9\nsum = "no"\nat = 2026\n', b'entries = 0\nsum = "0"\n']
)
def test_what_is_not_whole_beside_a_record_says_nothing(job: Path, content: bytes) -> None:
    add_to_record(job, entry(1))
    length_path(record_path(job)).write_bytes(content)
    assert (read_record(job).missing, read_record(job).count) == (0, CountBeside.DAMAGED)
    add_to_record(job, entry(2))
    assert read_record(job) == WorkRecord((entry(1), entry(2)), count=CountBeside.DAMAGED)


@pytest.mark.parametrize(
    "content",
    [b"", bytes(190), b"# How many entries the record beside", b"\xef\xbb\xbf# How many entries the record"],
)
def test_that_nothing_told_its_length_goes_on_showing_once_work_goes_on(job: Path, content: bytes) -> None:
    add_to_record(job, entry(1))
    length_path(record_path(job)).write_bytes(content)
    assert read_record(job).count is CountBeside.DAMAGED
    add_to_record(job, entry(2))
    told = read_record(job)
    assert [each.deed for each in told.entries] == [Deed.TICKED, Deed.UNTOLD, Deed.TICKED]
    assert told.entries[1].words.endswith("how long this record was, was damaged")
    assert (told.count, told.went_on_untold, told.missing, told.edited) == (CountBeside.THERE, True, 0, False)
    add_to_record(job, entry(3, Deed.STEP_DONE))
    assert not read_record(job).went_on_untold, "all of that step was looked at since"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_a_pipe_in_the_place_of_its_length_is_not_waited_for(job: Path) -> None:
    os.mkfifo(length_path(record_path(job)))
    worker = Thread(target=lambda: (add_to_record(job, entry(1)), read_record(job)), daemon=True)
    worker.start()
    worker.join(30)
    waits = worker.is_alive()
    length_path(record_path(job)).unlink()
    assert not waits
    assert read_record(job).entries == (entry(1),)


@pytest.mark.parametrize("content", [b"bolts = 9\n", b"\xff\x00"])
def test_what_somebody_else_keeps_beside_a_record_is_left_as_it_is(job: Path, content: bytes) -> None:
    length_path(record_path(job)).write_bytes(content)
    add_to_record(job, entry(1))
    assert length_path(record_path(job)).read_bytes() == content
    assert read_record(job) == WorkRecord((entry(1),), count=CountBeside.DAMAGED), "which goes on showing by itself"


@pytest.mark.parametrize("content", [b"", bytes(190)])
def test_what_a_power_cut_left_of_its_length_is_written_anew(job: Path, content: bytes) -> None:
    length_path(record_path(job)).write_bytes(content)
    add_to_record(job, entry(1), entry(2))
    record_path(job).unlink()
    assert read_record(job).missing == 3, "with the entry that says so"


def test_where_a_full_disk_takes_no_new_length_the_old_one_still_tells(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    add_to_record(job, entry(1), entry(2))
    writes = os.write

    def full(file: int, content: bytes) -> int:
        if bytes(content).startswith(b"# How many"):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return writes(file, content)

    monkeypatch.setattr(os, "write", full)
    add_to_record(job, entry(3))
    record_path(job).unlink()
    assert read_record(job).missing == 2


def test_a_record_whose_name_the_disk_does_not_take_leaves_no_length(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Else the next one would be told to lack entries that nobody was told are kept."""

    def broken(folder: Path) -> None:
        raise OSError(errno.EIO, os.strerror(errno.EIO), str(folder))

    monkeypatch.setattr(work_record_file, "flush_names_surely", broken)
    with pytest.raises(OSError, match=os.strerror(errno.EIO)):
        add_to_record(job, entry(1))
    assert read_record(job) == WorkRecord(count=CountBeside.ABSENT)


def test_what_another_program_adds_while_it_is_read_is_not_missed(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The length is read before the record: a program that adds to both in between leaves no gap."""
    add_to_record(job, entry(1))
    reads = work_record_file.read_length

    def then_added(path: Path) -> object:
        told = reads(path)
        monkeypatch.undo()
        add_to_record(job, entry(2))
        return told

    monkeypatch.setattr(work_record_file, "read_length", then_added)
    assert (len(read_record(job).entries), read_record(job).missing) == (2, 0)
