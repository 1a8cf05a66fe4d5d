"""Whatever the disk does, the bay tells it, loses nothing of the record, and shows nothing as kept that is not."""

import errno
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files import append_only, work_record_file
from loadplan.files.work_record_file import add_to_record, read_record, record_path
from loadplan.model.work_record import Deed, RecordEntry
from tests.board.at_the_bay import AtTheBay
from tests.board.desk import Page
from tests.files.test_work_record import NOON, entry
from tests.hostile.test_killed import at_once

KEPT, LOST = "Before: maker's procedure read", "Before: fuel pressure, coolant, oil, refrigerant dealt with"
Disturb = Callable[[pytest.MonkeyPatch, Path], None]


def refusing(number: int) -> Callable[..., int]:
    def refuse(*_: object) -> int:
        raise OSError(number, os.strerror(number), "something inside")

    return refuse


def read_only_folder(patch: pytest.MonkeyPatch, _: Path) -> None:
    real = os.open

    def open_to_read(path: object, flags: int, *more: int) -> int:
        if flags & (os.O_RDWR | os.O_WRONLY):
            raise OSError(errno.EROFS, os.strerror(errno.EROFS), path)
        return real(path, flags, *more)  # type: ignore[arg-type]

    patch.setattr(work_record_file.os, "open", open_to_read)


def fault_when_sent_off(patch: pytest.MonkeyPatch, _: Path) -> None:
    patch.setattr(append_only.os, "fsync", refusing(errno.EIO))


def short_write_and_fault(patch: pytest.MonkeyPatch, _: Path) -> None:
    real, calls = os.write, [0]

    def write(file: int, content: bytes) -> int:
        calls[0] += 1
        if calls[0] == 3:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        return real(file, content[:7])

    patch.setattr(append_only.os, "write", write)


def a_disk_that_takes_nothing(patch: pytest.MonkeyPatch, _: Path) -> None:
    patch.setattr(append_only.os, "write", lambda *_: 0)


def taken_away_while_written(patch: pytest.MonkeyPatch, path: Path) -> None:
    real = os.fsync

    def fsync(file: int) -> None:
        real(file)
        if path.exists():
            path.rename(path.with_suffix(".away"))

    patch.setattr(append_only.os, "fsync", fsync)


def replaced_while_written(patch: pytest.MonkeyPatch, path: Path) -> None:
    real, before = os.fsync, path.read_bytes()

    def fsync(file: int) -> None:
        real(file)
        other = path.with_suffix(".other")
        other.write_bytes(before)
        other.replace(path)

    patch.setattr(append_only.os, "fsync", fsync)


FAULTS: dict[str, tuple[Disturb, str]] = {
    "read-only": (read_only_folder, "Read-only file system"),
    "fault when sent off": (fault_when_sent_off, "Input/output error"),
    "short write": (short_write_and_fault, "Input/output error"),
    "takes nothing": (a_disk_that_takes_nothing, "Input/output error"),
    "taken away": (taken_away_while_written, "taken away or replaced"),
    "replaced": (replaced_while_written, "taken away or replaced"),
}


@pytest.fixture
def bay(page: Page) -> AtTheBay:
    bay = AtTheBay(page)
    bay.say(what="tick", line=KEPT)
    return bay


@pytest.mark.parametrize(("disturb", "says"), FAULTS.values(), ids=FAULTS)
def test_a_fault_of_the_disk_is_told_and_nothing_is_shown_as_kept(
    bay: AtTheBay, monkeypatch: pytest.MonkeyPatch, disturb: Disturb, says: str
) -> None:
    path = record_path(bay.page.path)
    before = path.read_bytes()
    disturb(monkeypatch, path)
    answer = bay.say(what="tick", line=LOST)
    monkeypatch.undo()
    assert answer.status_code == 422
    assert "Cannot be written" in answer.text
    assert says in answer.text
    assert "something inside" not in answer.text
    if path.exists():
        assert path.read_bytes() == before
        assert (KEPT, True, True) in bay.lines(0)
    assert (LOST, False, True) in bay.lines(0)
    away = path.with_suffix(".away")
    if away.exists():
        # What came meanwhile stands in the file that was taken away, and is told to nobody.
        away.write_bytes(before)
        away.rename(path)
    assert bay.say(what="tick", line=LOST).status_code == 303
    assert {(KEPT, True, True), (LOST, True, True)} <= set(bay.lines(0))
    assert not read_record(bay.page.path).edited


def test_a_first_entry_whose_name_does_not_reach_the_disk_is_not_kept(
    page: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    bay, real = AtTheBay(page), os.fsync

    def no_folder(file: int) -> None:
        if Path(f"/proc/self/fd/{file}").is_dir():
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        real(file)

    monkeypatch.setattr(append_only.os, "fsync", no_folder)
    assert "Input/output error" in bay.say(what="tick", line=KEPT).text
    assert not record_path(page.path).exists()
    assert (KEPT, False, True) in bay.lines(0)


@pytest.mark.parametrize("kind", ["folder", "pipe", "link", "device"])
def test_what_is_no_file_in_the_place_of_the_record_is_told_and_left_as_it_is(bay: AtTheBay, kind: str) -> None:
    path = record_path(bay.page.path)
    kept = path.rename(path.with_suffix(".kept"))
    match kind:
        case "folder":
            (path / "mine").mkdir(parents=True)
        case "pipe":
            os.mkfifo(path)
        case "link":
            path.symlink_to(path.with_name("nowhere.toml"))
        case _:
            path.symlink_to("/dev/zero")
    answer = bay.say(what="tick", line=LOST)
    assert answer.status_code == 422
    assert path.name in answer.text or "Cannot be written" in answer.text
    assert not path.with_name("nowhere.toml").exists()
    assert not path.is_file()
    with pytest.raises((InputError, OSError)):
        add_to_record(bay.page.path, entry(1))
    shutil.rmtree(path) if kind == "folder" else path.unlink()
    kept.rename(path)
    assert (KEPT, True, True) in bay.lines(0)


def test_a_folder_that_is_gone_is_told(bay: AtTheBay, tmp_path: Path) -> None:
    away = tmp_path.with_name(f"{tmp_path.name}-away")
    tmp_path.rename(away)
    answer = bay.say(what="tick", line=LOST)
    assert answer.status_code == 422
    assert "changed on the disk" in answer.text
    away.rename(tmp_path)
    assert (KEPT, True, True) in bay.lines(0)
    assert (LOST, False, True) in bay.lines(0)


def test_of_several_that_write_at_once_none_loses_an_entry(tmp_path: Path) -> None:
    """Tablet and office on one job: every entry is there whole, whichever came first."""
    for turn in range(6):
        job = tmp_path / str(turn) / "job.toml"
        job.parent.mkdir()

        def write(number: int, job: Path = job) -> None:
            for count in range(5):
                add_to_record(job, RecordEntry(NOON, str(number), "0", "step", Deed.NOTED, f"note {count}"))

        at_once(4, write)
        told = read_record(job)
        assert not told.edited
        assert sorted((each.who, each.words) for each in told.entries) == [
            (str(number), f"note {count}") for number in range(4) for count in range(5)
        ]
