"""Files are written whole or not at all, never over an input, and never over what is somebody's own."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files import safe_write, write_journal
from loadplan.files.file_mark import is_ours, marked
from loadplan.files.safe_write import Over, SafeWriter, files_of, rewrite, write_new
from loadplan.files.shipped import shipped_folder
from tests.files.test_file_mark import drawn

CAREFUL = SafeWriter(tuple, Over.OWN)
FORCED = SafeWriter(tuple, Over.ANYTHING)


def names_in(folder: Path) -> list[str]:
    """Return the names in a folder, in order."""
    return sorted(path.name for path in folder.iterdir())


def test_what_this_program_wrote_is_written_over_until_somebody_changes_it(tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    CAREFUL.write(path, drawn("pdf"))
    CAREFUL.write(path, b"%PDF-1.4 another\n%%EOF\n")
    path.write_bytes(path.read_bytes() + b"% signed by somebody\n")
    before = path.read_bytes()
    with pytest.raises(InputError, match=r"is there already and is not written over: .* --force"):
        CAREFUL.write(path, drawn("pdf"))
    assert path.read_bytes() == before
    FORCED.write(path, drawn("pdf"))
    assert is_ours(path.read_bytes(), ".pdf")


@pytest.mark.parametrize("name", ["mine.pdf", "mine.svg", "mine.toml", "mine"])
def test_what_is_somebody_elses_is_left_alone_whatever_its_ending(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_bytes(b"%PDF-1.4 mine")
    with pytest.raises(InputError, match="is there already") as caught:
        CAREFUL.write_into(tmp_path, {"new.pdf": b"%PDF-1.4", name: b"%PDF-1.4 new"})
    assert [fault.file for fault in caught.value.faults] == [str(tmp_path / name)]
    assert names_in(tmp_path) == [name]
    assert (tmp_path / name).read_bytes() == b"%PDF-1.4 mine"


@pytest.mark.parametrize("over", Over)
def test_what_the_command_reads_is_never_written_over_by_its_other_files(tmp_path: Path, over: Over) -> None:
    for name in ("front-unit.toml", "shop.toml"):
        (tmp_path / name).write_bytes(marked((shipped_folder("demo") / name).read_bytes(), ".toml"))
    job = tmp_path / "front-unit.toml"
    (tmp_path / "link.svg").symlink_to(tmp_path / "shop.toml")
    writer = SafeWriter(lambda: files_of([job]), over)
    before = {name: (tmp_path / name).read_bytes() for name in names_in(tmp_path)}
    for name in before:
        with pytest.raises(InputError, match="is read by this command"):
            writer.write(tmp_path / name, b"new")
        with pytest.raises(InputError, match="is read by this command"):
            writer.write_into(tmp_path, {"a.svg": b"a", name: b"new"})
    with pytest.raises(InputError, match="is read by this command"):
        writer.write_back(tmp_path / "shop.toml", b"new", job)
    assert {name: (tmp_path / name).read_bytes() for name in names_in(tmp_path)} == before


def test_the_old_text_of_a_job_is_kept_beside_each_time(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_bytes(b"a = 1\n")
    for content in (b"a = 2\n", marked(b"a = 3\n", ".toml")):
        CAREFUL.write_back(job, content, job)
    assert names_in(tmp_path) == ["job.toml", "job.toml.before", "job.toml.before-2"]
    assert (tmp_path / "job.toml.before").read_bytes() == b"a = 1\n"
    assert (tmp_path / "job.toml.before-2").read_bytes() == b"a = 2\n"
    assert job.read_bytes() == b"a = 3\n", "a job written back is its owner's: with a mark it could be written over"


def test_a_job_written_elsewhere_is_known_again_and_the_first_stays(tmp_path: Path) -> None:
    job, other = tmp_path / "job.toml", tmp_path / "other.toml"
    job.write_bytes(b"a = 1\n")
    for content in (b"a = 2\n", b"a = 3\n"):
        CAREFUL.write_back(other, content, job)
    assert names_in(tmp_path) == ["job.toml", "other.toml"]
    assert is_ours(other.read_bytes(), ".toml")
    other.write_bytes(other.read_bytes().replace(b"3", b"4"))
    with pytest.raises(InputError, match="is there already"):
        CAREFUL.write_back(other, b"a = 5\n", job)


def test_a_copy_that_says_the_same_already_is_no_obstacle(tmp_path: Path) -> None:
    CAREFUL.copy_into(tmp_path / "demo", {"a.toml": b"a", "b.toml": b"b"})
    CAREFUL.copy_into(tmp_path / "demo", {"a.toml": b"a", "b.toml": b"b"})
    assert (tmp_path / "demo" / "a.toml").read_bytes() == b"a"
    (tmp_path / "demo" / "a.toml").write_bytes(b"mine")
    with pytest.raises(InputError):
        CAREFUL.copy_into(tmp_path / "demo", {"a.toml": b"a", "b.toml": b"c"})
    assert (tmp_path / "demo" / "b.toml").read_bytes() == b"b"


def test_a_file_is_replaced_whole_not_written_into(tmp_path: Path) -> None:
    path, twin = tmp_path / "plan.svg", tmp_path / "twin.svg"
    rewrite(path, b"first")
    twin.hardlink_to(path)
    rewrite(path, b"second")
    assert path.read_bytes() == b"second"
    assert twin.read_bytes() == b"first", "the old file was written into instead of being replaced"
    assert names_in(tmp_path) == ["plan.svg", "twin.svg"]


def full(*_: object) -> None:
    raise OSError(28, "No space left on device", "something inside")


def test_when_the_disk_fails_the_old_file_stays_and_nothing_is_left_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "plan.svg"
    path.write_bytes(b"old")
    monkeypatch.setattr(write_journal.os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        rewrite(path, b"new")
    assert path.read_bytes() == b"old"
    assert names_in(tmp_path) == ["plan.svg"]


@pytest.mark.parametrize("into", [write_new, CAREFUL.write_into, FORCED.copy_into])
def test_when_the_disk_fails_no_folder_is_left_behind_but_those_that_were_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, into: Callable[[Path, dict[str, bytes]], object]
) -> None:
    monkeypatch.setattr(write_journal.os, "fsync", full)
    (tmp_path / "a").mkdir()
    with pytest.raises(OSError, match="No space") as caught:
        into(tmp_path / "a" / "b" / "c", {"plan.svg": b"1"})
    assert caught.value.filename == str(tmp_path / "a" / "b" / "c" / "plan.svg")
    assert names_in(tmp_path) == ["a"]
    assert names_in(tmp_path / "a") == []


def test_where_one_place_refuses_its_file_those_before_it_are_put_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "b.svg").write_bytes(b"old")
    put = Path.replace

    def replace(path: Path, target: Path) -> Path:
        if target == tmp_path / "c.svg":
            full()
        return put(path, target)

    monkeypatch.setattr(Path, "replace", replace)
    with pytest.raises(OSError, match="No space"):
        FORCED.write_into(tmp_path, {"a.svg": b"1", "b.svg": b"2", "c.svg": b"3"})
    assert names_in(tmp_path) == ["b.svg"]
    assert (tmp_path / "b.svg").read_bytes() == b"old"


def test_where_a_place_in_another_folder_refuses_its_file_all_are_put_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "far").mkdir()
    (tmp_path / "far" / "c.svg").write_bytes(b"old")
    (tmp_path / "out" / "b.svg").write_bytes(b"old")
    (tmp_path / "out" / "c.svg").symlink_to("../far/c.svg")
    put = Path.replace

    def replace(path: Path, target: Path) -> Path:
        if target == tmp_path / "far" / "c.svg":
            full()
        return put(path, target)

    monkeypatch.setattr(Path, "replace", replace)
    with pytest.raises(OSError, match="No space"):
        FORCED.write_into(tmp_path / "out", {"a.svg": b"1", "b.svg": b"2", "c.svg": b"3"})
    assert names_in(tmp_path / "out") == ["b.svg", "c.svg"]
    assert names_in(tmp_path / "far") == ["c.svg"]
    assert (tmp_path / "out" / "b.svg").read_bytes() == (tmp_path / "far" / "c.svg").read_bytes() == b"old"


@pytest.mark.parametrize("count", [1, 2, 3])
def test_stopped_by_the_keyboard_between_two_files_a_set_is_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, count: int
) -> None:
    (tmp_path / "b.svg").write_bytes(b"old")
    put, done = Path.replace, []

    def replace(path: Path, target: Path) -> Path:
        there = put(path, target)
        if target.suffix == ".svg":
            done.append(target)
            if len(done) == count:
                raise KeyboardInterrupt
        return there

    monkeypatch.setattr(Path, "replace", replace)
    with pytest.raises(KeyboardInterrupt):
        FORCED.write_into(tmp_path, {"a.svg": b"1", "b.svg": b"2", "c.svg": b"3"})
    assert names_in(tmp_path) == ["b.svg"]
    assert (tmp_path / "b.svg").read_bytes() == b"old"


def test_stopped_by_the_keyboard_behind_the_only_file_nothing_is_lost(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put = Path.replace

    def replace(path: Path, target: Path) -> Path:
        put(path, target)
        raise KeyboardInterrupt

    (tmp_path / "a.toml").write_bytes(b"old")
    monkeypatch.setattr(Path, "replace", replace)
    with pytest.raises(KeyboardInterrupt):
        rewrite(tmp_path / "a.toml", b"new")
    assert names_in(tmp_path) == ["a.toml"]
    assert (tmp_path / "a.toml").read_bytes() == b"new"


def test_new_files_are_all_written_or_none_where_one_is_there(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    write_new(folder, {"one.toml": b"1", "two.toml": b"2"})
    with pytest.raises(InputError) as caught:
        write_new(folder, {"three.toml": b"3", "two.toml": b"2"})
    assert [fault.file for fault in caught.value.faults] == [str(folder / "two.toml")]
    assert names_in(folder) == ["one.toml", "two.toml"]
    assert (folder / "two.toml").read_bytes() == b"2"


@pytest.mark.parametrize("into", [write_new, CAREFUL.write_into])
def test_a_folder_in_the_way_is_told(tmp_path: Path, into: Callable[[Path, dict[str, bytes]], object]) -> None:
    (tmp_path / "file").write_bytes(b"in the way")
    for folder in (tmp_path / "file", tmp_path / "file" / "deep"):
        with pytest.raises(InputError, match="is no folder, or in none"):
            into(folder, {"a.svg": b"a"})


def test_a_dangling_link_is_not_written_over_by_what_is_new(tmp_path: Path) -> None:
    (tmp_path / "one.toml").symlink_to(tmp_path / "nowhere")
    with pytest.raises(InputError):
        write_new(tmp_path, {"one.toml": b"1"})
    assert (tmp_path / "one.toml").is_symlink()


def test_links_in_a_set_stay_links_and_what_they_lead_to_is_written(tmp_path: Path) -> None:
    (tmp_path / "far").mkdir()
    (tmp_path / "out").mkdir()
    CAREFUL.write(tmp_path / "far" / "b.svg", b"<svg/>")
    (tmp_path / "out" / "b.svg").symlink_to("../far/b.svg")
    CAREFUL.write_into(tmp_path / "out", {"a.svg": b"<a/>", "b.svg": b"<b/>"})
    assert (tmp_path / "out" / "b.svg").is_symlink()
    assert (tmp_path / "far" / "b.svg").read_bytes() == marked(b"<b/>", ".svg")
    assert names_in(tmp_path / "out") == ["a.svg", "b.svg"]
    assert names_in(tmp_path / "far") == ["b.svg"]


def test_owner_and_rights_stay(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"a = 1\n")
    path.chmod(0o640)
    given: list[tuple[int, int]] = []
    there = path.stat()
    stat = Path.stat

    def belongs_to_another(asked: Path, *, follow_symlinks: bool = True) -> os.stat_result:
        found = stat(asked, follow_symlinks=follow_symlinks)
        if asked != path:
            return found
        return os.stat_result((*found[:4], there.st_uid + 7, there.st_gid + 7, *found[6:]))

    monkeypatch.setattr(Path, "stat", belongs_to_another)
    monkeypatch.setattr(write_journal.os, "chown", lambda _, owner, group: given.append((owner, group)))
    rewrite(path, b"a = 2\n")
    assert given == [(there.st_uid + 7, there.st_gid + 7)]
    assert stat(path).st_mode & 0o777 == 0o640


def test_a_file_that_would_change_hands_is_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"a = 1\n")
    stat = Path.stat

    def belongs_to_another(asked: Path, *, follow_symlinks: bool = True) -> os.stat_result:
        found = stat(asked, follow_symlinks=follow_symlinks)
        return os.stat_result((*found[:4], 77, 77, *found[6:])) if asked == path else found

    def may_not(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "stat", belongs_to_another)
    monkeypatch.setattr(write_journal.os, "chown", may_not)
    with pytest.raises(PermissionError) as caught:
        rewrite(path, b"a = 2\n")
    assert caught.value.filename == str(path)
    assert path.read_bytes() == b"a = 1\n"
    assert names_in(tmp_path) == ["job.toml"]


def test_a_file_that_another_program_holds_open_stays_as_on_windows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"a = 1\n")
    real = Path.replace

    def held_open(source: Path, target: Path) -> Path:
        if Path(target) == path:
            raise PermissionError(13, "The process cannot access the file because it is being used by another process")
        return real(source, target)

    monkeypatch.setattr(Path, "replace", held_open)
    with pytest.raises(PermissionError) as caught:
        rewrite(path, b"a = 2\n")
    assert caught.value.filename == str(path)
    assert path.read_bytes() == b"a = 1\n"
    assert [name for name in names_in(tmp_path) if not name.endswith(".before")] == ["job.toml"]


@pytest.mark.parametrize(
    "write", [CAREFUL.write, FORCED.write, rewrite, lambda path, content: write_new(path.parent, {path.name: content})]
)
def test_a_way_through_a_folder_that_is_missing_leads_to_nobodys_file(
    tmp_path: Path, write: Callable[[Path, bytes], object]
) -> None:
    (tmp_path / "job.toml").write_bytes(b"mine")
    with pytest.raises(OSError, match=r"job\.toml|missing"):
        write(tmp_path / "missing" / ".." / "job.toml", b"new")
    assert names_in(tmp_path) == ["job.toml"]
    assert (tmp_path / "job.toml").read_bytes() == b"mine"


def test_names_that_a_terminal_would_obey_are_cleaned_in_errors(tmp_path: Path) -> None:
    path = tmp_path / "a\x1b[2Jb.toml"
    path.write_bytes(b"mine")
    with pytest.raises(InputError) as caught:
        CAREFUL.write(path, b"new")
    assert "\x1b" not in str(caught.value)
    assert "a [2Jb.toml: is there already" in str(caught.value)


def test_every_file_of_the_package_is_written_through_the_door() -> None:
    ways = (
        "write_bytes(",
        "write_text(",
        '.open("w',
        '.open("x',
        '.open("a',
        "os.replace(",
        "os.rename(",
        ".replace(put",
    )
    package = Path(safe_write.__file__).parents[1]
    found = {
        str(path.relative_to(package))
        for path in package.rglob("*.py")
        if any(way in path.read_text("utf-8") for way in ways)
    }
    # A certificate, which the standard library reads from a file, lies for a moment in a folder of its own.
    assert found == {"files/write_journal.py", "board/certificate.py"}
