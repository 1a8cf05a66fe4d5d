"""Files are written whole or not at all, and never over an input."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files import safe_write as write
from loadplan.files.safe_write import write_drawings, write_new, write_whole


def names_in(folder: Path) -> list[str]:
    """Return the names in a folder, in order."""
    return sorted(path.name for path in folder.iterdir())


def test_a_file_is_written_whole_and_replaced_whole(tmp_path: Path) -> None:
    path, twin = tmp_path / "plan.svg", tmp_path / "twin.svg"
    write_whole(path, b"first")
    twin.hardlink_to(path)
    write_whole(path, b"second")
    assert path.read_bytes() == b"second"
    assert twin.read_bytes() == b"first", "the old file was written into instead of being replaced"
    assert names_in(tmp_path) == ["plan.svg", "twin.svg"]


def test_when_the_disk_fails_the_old_file_stays_and_nothing_is_left_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "plan.svg"
    path.write_bytes(b"old")

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device", descriptor)

    monkeypatch.setattr(write.os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"
    assert names_in(tmp_path) == ["plan.svg"]


@pytest.mark.parametrize("into", [write_new, partial(write_drawings, keep=Path("job.toml"))])
def test_when_the_disk_fails_no_folder_is_left_behind_but_those_that_were_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, into: Callable[[Path, dict[str, bytes]], object]
) -> None:
    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device", descriptor)

    monkeypatch.setattr(write.os, "fsync", full)
    (tmp_path / "a").mkdir()
    with pytest.raises(OSError, match="No space") as caught:
        into(tmp_path / "a" / "b" / "c", {"plan.svg": b"1"})
    assert caught.value.filename == str(tmp_path / "a" / "b" / "c" / "plan.svg")
    assert names_in(tmp_path) == ["a"]
    assert names_in(tmp_path / "a") == []


def test_new_files_are_all_written_or_none_where_one_is_there(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    write_new(folder, {"one.toml": b"1", "two.toml": b"2"})
    with pytest.raises(InputError) as caught:
        write_new(folder, {"three.toml": b"3", "two.toml": b"other"})
    assert [fault.file for fault in caught.value.faults] == [str(folder / "two.toml")]
    assert names_in(folder) == ["one.toml", "two.toml"]
    assert (folder / "two.toml").read_bytes() == b"2"


def test_a_dangling_link_is_not_written_over(tmp_path: Path) -> None:
    (tmp_path / "one.toml").symlink_to(tmp_path / "nowhere")
    with pytest.raises(InputError):
        write_new(tmp_path, {"one.toml": b"1"})
    assert (tmp_path / "one.toml").is_symlink()


def test_a_drawing_never_takes_the_place_of_the_job(tmp_path: Path) -> None:
    job = tmp_path / "step-01.svg"
    job.write_bytes(b"job")
    with pytest.raises(InputError, match="is the job itself"):
        write_drawings(tmp_path, {"step-02.svg": b"x", "step-01.svg": b"y"}, keep=job)
    assert names_in(tmp_path) == ["step-01.svg"]
    assert job.read_bytes() == b"job"


def test_earlier_drawings_are_replaced(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_bytes(b"job")
    for content in (b"x", b"y"):
        assert write_drawings(tmp_path / "out", {"a.svg": content}, keep=job) == [tmp_path / "out" / "a.svg"]
    assert (tmp_path / "out" / "a.svg").read_bytes() == b"y"
