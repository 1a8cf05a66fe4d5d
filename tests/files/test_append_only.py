"""Files that only grow, on Windows: there a byte is locked, since it has no lock for a whole file. Simulated."""

import errno
import os
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import pytest

from loadplan.files import append_only, change_journal
from loadplan.files.append_only import FAR, append_whole, lock_alone
from loadplan.files.change_journal import ChangeJournal

LK_NBLCK = 2
"""Lock without waiting, as the C library of Windows counts it (Microsoft, _locking)."""


class Locks:
    """What `msvcrt` knows of locks: bytes of files, each had by one descriptor."""

    LK_NBLCK = LK_NBLCK

    def __init__(self) -> None:
        self.had: dict[tuple[int, int], int] = {}
        self.fails: int | None = None

    def locking(self, file: int, mode: int, count: int) -> None:
        assert (mode, count) == (LK_NBLCK, 1)
        if self.fails is not None:
            raise OSError(self.fails, os.strerror(self.fails))
        byte = os.fstat(file).st_ino, os.lseek(file, 0, os.SEEK_CUR)
        if self.had.setdefault(byte, file) != file:
            raise OSError(errno.EACCES, "Permission denied")


@pytest.fixture
def windows(monkeypatch: pytest.MonkeyPatch) -> Locks:
    locks = Locks()
    monkeypatch.setattr(append_only, "fcntl", None)
    monkeypatch.setattr(append_only, "msvcrt", locks)
    return locks


@pytest.fixture
def two(tmp_path: Path) -> Iterator[tuple[int, int]]:
    path = tmp_path / "job-record.toml"
    path.write_bytes(b"kept\n")
    opened = tuple(os.open(path, os.O_RDWR | os.O_APPEND) for _ in range(2))
    yield opened[0], opened[1]
    for each in opened:
        os.close(each)


def test_one_program_has_a_file_alone(windows: Locks, two: tuple[int, int]) -> None:
    one, other = two
    assert lock_alone(one, waits=False)
    assert not lock_alone(other, waits=False)
    assert {byte for _, byte in windows.had} == {FAR}


def test_what_is_locked_is_read_and_written_as_before(windows: Locks, two: tuple[int, int]) -> None:
    one, other = two
    assert lock_alone(one, waits=False)
    assert os.read(one, 100) == b"kept\n"
    append_whole(one, b"more\n", 5)
    assert os.read(other, 100) == b"kept\nmore\n"
    assert windows.had


def test_who_waits_gets_it_once_it_is_let_go(
    windows: Locks, two: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    one, other = two
    assert lock_alone(one, waits=True)
    monkeypatch.setattr(append_only, "time", SimpleNamespace(sleep=lambda _: windows.had.clear()))
    assert lock_alone(other, waits=True)
    assert set(windows.had.values()) == {other}


def test_a_disk_that_knows_no_locks_is_written_to_all_the_same(windows: Locks, two: tuple[int, int]) -> None:
    windows.fails = errno.EINVAL
    assert lock_alone(two[0], waits=True)


def test_the_journal_of_a_running_program_is_not_taken_for_one_left_behind(
    windows: Locks, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    job = tmp_path / "job.toml"
    job.write_text("a = 1\n", "utf-8")
    journal = ChangeJournal(job, lambda _: None)
    journal.note("a = 1\n", "a = 2\n", "")
    assert change_journal.left_behind(job) == []
    windows.had.clear()  # as the system does when a program ends
    assert [left.text for left in change_journal.left_behind(job)] == ["a = 2\n"]
    journal.clear()
