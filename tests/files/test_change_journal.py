"""The journal of what is not saved: whole lines, a torn last one, two programs, no room beside the job."""

import json
import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.files import change_journal
from loadplan.files.change_journal import ChangeJournal, left_behind, state_folder
from tests.examples import examples

BASE = "a = 1\nb = 2\n"


@pytest.fixture(autouse=True)
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return tmp_path / "state" / "loadplan"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "jobs" / "job.toml"
    path.parent.mkdir()
    path.write_text(BASE, "utf-8")
    return path


def _killed(journal: ChangeJournal) -> Path:
    """Let go of a journal as a killed program does: nothing is written any more, the lock goes."""
    path = journal._path
    assert path is not None
    os.close(journal._file)
    return path


def _kept(job: Path, *texts: str) -> Path:
    journal = ChangeJournal(job, lambda _: None)
    for text in texts:
        journal.note(BASE, text, "")
    return _killed(journal)


def test_the_last_of_all_changes_is_left(job: Path) -> None:
    _kept(job, "a = 1\nb = 3\n", "a = 1\n", "a = 1\nc = 'ä€'\n")
    (left,) = left_behind(job)
    assert (left.base, left.text, left.tried) == (BASE, "a = 1\nc = 'ä€'\n", "")


@pytest.mark.parametrize("torn", [1, 2, 30, 60])
def test_of_a_torn_last_line_the_one_before_counts(job: Path, torn: int) -> None:
    path = _kept(job, "one\n", "two\n", "three\n")
    path.write_bytes(path.read_bytes()[: -torn - 1])
    (left,) = left_behind(job)
    assert left.text == "two\n"


def test_a_line_that_leads_elsewhere_ends_the_reading(job: Path) -> None:
    path = _kept(job, "one\n", "two\n", "three\n")
    path.write_bytes(path.read_bytes().replace(b'"put": "tw', b'"put": "XX'))
    (left,) = left_behind(job)
    assert left.text == "one\n"


@pytest.mark.parametrize(
    "content", [b"", b"{}", b"[]\n", b"\x00" * 500, b"[" * 100_000, b'{"form": 1}\n{"from": {}}\n']
)
def test_what_is_no_journal_leaves_nothing(job: Path, content: bytes) -> None:
    _kept(job, "one\n").write_bytes(content)
    assert left_behind(job) == []


@pytest.mark.parametrize(("key", "put", "left"), [("lineage", [1], 1), ("at", 10**400, 0)])
def test_what_was_written_by_no_program_of_ours_stops_none(job: Path, key: str, put: object, left: int) -> None:
    path = _kept(job, "one\n")
    lines = [json.loads(line) for line in path.read_bytes().splitlines()]
    path.write_text("".join(f"{json.dumps(each | {key: put} if key in each else each)}\n" for each in lines))
    assert len(left_behind(job)) == left


def test_what_a_running_program_holds_is_left_alone(job: Path) -> None:
    journal = ChangeJournal(job, lambda _: None)
    journal.note(BASE, "one\n", "")
    assert left_behind(job) == []
    _killed(journal)
    assert [left.text for left in left_behind(job)] == ["one\n"]


def test_a_link_is_not_followed(job: Path) -> None:
    path = _kept(job, "one\n")
    elsewhere = path.rename(job.with_name("elsewhere"))
    path.symlink_to(elsewhere)
    assert left_behind(job) == []


def test_on_windows_lines_end_as_they_were_written(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # There each end of a line gets a second sign unless a file is opened as bytes; another flag stands in for that one.
    fcntl = pytest.importorskip("fcntl")
    monkeypatch.setattr(os, "O_BINARY", os.O_SYNC, raising=False)
    journal = ChangeJournal(job, lambda _: None)
    journal.note(BASE, BASE + "c = 3\n", "")
    assert fcntl.fcntl(journal._file, fcntl.F_GETFL) & os.O_SYNC
    journal.clear()


def test_of_another_job_nothing_is_taken(job: Path) -> None:
    path = _kept(job, "one\n")
    other = job.with_name("other.toml")
    path.rename(path.with_name(path.name.replace("job", "other")))
    assert left_behind(other) == []


def test_what_is_saved_leaves_nothing(job: Path) -> None:
    journal = ChangeJournal(job, lambda _: None)
    journal.note(BASE, "one\n", "")
    journal.clear()
    assert [each.name for each in job.parent.iterdir()] == ["job.toml"]
    journal.note(BASE, "two\n", "")
    _killed(journal)
    assert [left.text for left in left_behind(job)] == ["two\n"]


def test_where_the_folder_takes_none_the_users_own_does_and_it_is_told(job: Path, own: Path) -> None:
    # A name that leaves no room for another's ending: beside it nothing can be made, whoever asks.
    long = job.rename(job.with_name("x" * 250 + ".toml"))
    told: list[str] = []
    journal = ChangeJournal(long, told.append)
    journal.note(BASE, "one\n", "")
    _killed(journal)
    assert str(own) in told[0]
    assert [left.text for left in left_behind(long)] == ["one\n"]


def test_a_disk_that_fills_up_moves_the_journal_and_tears_no_line(
    job: Path, own: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal = ChangeJournal(job, lambda _: None)
    journal.note(BASE, "one\n", "")
    fails, write = iter([True]), os.write

    def half(file: int, content: bytes) -> int:
        if next(fails, False):
            write(file, bytes(content)[:20])
            raise OSError(28, "No space left on device")
        return write(file, content)

    monkeypatch.setattr(change_journal.os, "write", half)
    journal.note(BASE, "two\n", "")
    assert _killed(journal).parent == own == state_folder()
    assert [left.text for left in left_behind(job)] == ["two\n"]
    assert [each.name for each in job.parent.iterdir()] == ["job.toml"]


def test_where_nothing_can_be_written_it_says_so(job: Path, own: Path) -> None:
    long = job.rename(job.with_name("x" * 250 + ".toml"))
    own.parent.mkdir()
    own.touch()
    with pytest.raises(OSError, match=r"exists|Not a directory"):
        ChangeJournal(long, lambda _: None).note(BASE, "one\n", "")


@examples(60)
@given(texts=st.lists(st.text(alphabet="ab\n=é", max_size=30), min_size=1, max_size=8))
def test_any_changes_come_back(tmp_path_factory: pytest.TempPathFactory, texts: list[str]) -> None:
    job = tmp_path_factory.mktemp("jobs") / "job.toml"
    path = _kept(job, *texts)
    (left,) = left_behind(job)
    assert left.text == texts[-1]
    path.unlink()
