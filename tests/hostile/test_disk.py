"""Whatever the disk does, a file is there as it was or whole, and the message names the file that was asked for.

Nothing here needs a disk of its own, nor rights to mount one: a limit on the size of files lets the kernel itself
break off in the middle of a file, the rest is said by functions in the system's place.
"""

import errno
import os
import resource
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from loadplan.files import write_journal as write
from loadplan.files.shipped import shipped_folder
from loadplan.planning.placement import proposal
from loadplan.statics import weighed_shares
from tests.hostile.commands import WRITERS, Run, Writer, contents

Disturb = Callable[[pytest.MonkeyPatch, Path], None]

ALL = pytest.mark.parametrize("writer", WRITERS.values(), ids=WRITERS)
REPLACING = pytest.mark.parametrize(
    "writer", [each for each in WRITERS.values() if each.there], ids=[k for k, each in WRITERS.items() if each.there]
)


@contextmanager
def files_of_at_most(size: int) -> Iterator[None]:
    """Let no process of ours write behind a place in a file: the kernel writes up to there and then fails."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def failing(number: int) -> Callable[..., object]:
    def fail(*_: object) -> object:
        raise OSError(number, os.strerror(number), "something inside")

    return fail


def assert_told_and_nothing_changed(run: Run, folder: Path, writer: Writer, before: dict[str, bytes]) -> None:
    ran = run(*writer.arguments)
    assert ran.code == 2
    assert writer.target in ran.err.splitlines()[-1] or writer.target.replace("two", "one") in ran.err
    assert "Traceback" not in ran.err
    assert ".part:" not in ran.err.replace("first.toml.part:", "")
    assert "something inside" not in ran.err
    assert contents(folder) == before


@ALL
def test_without_a_fault_each_of_them_writes(run: Run, folder: Path, writer: Writer) -> None:
    before = contents(folder)
    ran = run(*writer.arguments)
    assert ran.code in {0, 1} or (writer.arguments[0] == "new" and "goes on" in ran.err), ran.err
    assert contents(folder).get(writer.target) != before.get(writer.target)
    assert not [name for name in contents(folder) if Path(name).name.startswith(".")]


@ALL
def test_a_disk_that_is_full_in_the_middle_of_a_file(run: Run, folder: Path, writer: Writer) -> None:
    before = contents(folder)
    with files_of_at_most(40):
        ran = run(*writer.arguments)
    assert ran.code == 2
    assert "File too large" in ran.err
    assert contents(folder) == before
    with files_of_at_most(40):
        if writer.arguments[0] != "demo":
            assert_told_and_nothing_changed(run, folder, writer, before)


@ALL
def test_a_disk_that_is_full_when_the_file_is_sent_off(
    run: Run, folder: Path, writer: Writer, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = contents(folder)
    monkeypatch.setattr(write.os, "fsync", failing(errno.ENOSPC))
    ran = run(*writer.arguments)
    assert (ran.code, ran.err.count("No space left on device")) == (2, 1)
    assert contents(folder) == before


@pytest.mark.parametrize("fits", [0, 1])
def test_the_second_of_two_pictures_that_does_not_fit_keeps_the_first_as_it_was(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch, fits: int
) -> None:
    before = contents(folder)
    calls: list[int] = []

    def fsync(descriptor: int) -> None:
        calls.append(descriptor)
        if len(calls) > fits:
            raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(write.os, "fsync", fsync)
    for command in ("draw", "lesson"):
        calls.clear()
        assert run(*WRITERS[command].arguments).code == 2
        assert contents(folder) == before


def test_a_demo_that_does_not_fit_leaves_none_of_its_files(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = contents(folder)
    calls: list[int] = []

    def fsync(descriptor: int) -> None:
        calls.append(descriptor)
        if len(calls) == 5:
            raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(write.os, "fsync", fsync)
    assert run("demo", "new").code == 2
    assert contents(folder) == before
    assert run("demo", "new").code == 0


@ALL
def test_a_folder_that_may_only_be_read(
    run: Run, folder: Path, writer: Writer, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = contents(folder)
    opened = Path.open

    def open_to_read(path: Path, mode: str = "r", **options: str) -> object:
        return opened(path, mode, **options) if mode == "rb" else failing(errno.EROFS)()

    monkeypatch.setattr(Path, "open", open_to_read)
    ran = run(*writer.arguments)
    assert (ran.code, ran.err.count("Read-only file system")) == (2, 1)
    assert "something inside" not in ran.err
    assert contents(folder) == before


@REPLACING
def test_a_file_that_may_only_be_read(run: Run, folder: Path, writer: Writer, monkeypatch: pytest.MonkeyPatch) -> None:
    before = contents(folder)
    may = os.access
    monkeypatch.setattr(write.os, "access", lambda path, mode: mode != os.W_OK and may(path, mode))
    assert_told_and_nothing_changed(run, folder, writer, before)


@REPLACING
def test_a_folder_in_the_place_of_the_file(run: Run, folder: Path, writer: Writer) -> None:
    target = folder / writer.target
    target.unlink()
    (target / "mine").mkdir(parents=True)
    assert_told_and_nothing_changed(run, folder, writer, contents(folder))
    assert (target / "mine").is_dir()


@ALL
def test_a_place_that_is_taken_at_the_last_moment(
    run: Run, folder: Path, writer: Writer, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = contents(folder)
    monkeypatch.setattr(Path, "replace", failing(errno.EACCES))
    ran = run(*writer.arguments)
    assert (ran.code, ran.err.count("Permission denied")) == (2, 1)
    assert "something inside" not in ran.err
    assert contents(folder) == before


@REPLACING
def test_a_folder_that_is_gone_when_it_is_written_into(run: Run, folder: Path, writer: Writer) -> None:
    elsewhere = folder / "gone" / "out"
    target = Path(writer.target).name
    arguments = [
        str(elsewhere / target) if each in {writer.target, "first.toml"} else each for each in writer.arguments
    ]
    if writer.arguments[0] in {"draw", "lesson"}:
        (folder / "gone").write_bytes(b"in the way")
        arguments = [str(elsewhere) if each == "out" else each for each in writer.arguments]
    before = contents(folder)
    ran = run(*arguments)
    assert ran.code == 2
    assert str(elsewhere) in ran.err
    assert contents(folder) == before


@pytest.mark.parametrize(
    ("command", "gone", "reader"),
    [
        ("heights", "job.toml", "loadplan.planning.settings.set_heights.plan_heights"),
        ("place", "job.toml", "loadplan.report.text.placement_page.SearchProgress"),
        ("weigh", "readings.toml", "loadplan.statics.weighing.weigh"),
        ("weigh", WRITERS["weigh"].target, "loadplan.statics.weighing.weigh"),
        ("shop", "shop.toml", "loadplan.files.find_jobs.find_jobs"),
        ("sheet", "job.toml", "loadplan.assess.assess"),
        ("draw", "job.toml", "loadplan.assess.assess"),
    ],
)
def test_an_input_that_vanishes_after_it_was_read(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch, command: str, gone: str, reader: str
) -> None:
    room, _, name = reader.rpartition(".")
    module = __import__(room, fromlist=[name])
    real = getattr(module, name)

    def after(*arguments: object) -> object:
        (folder / gone).unlink(missing_ok=True)
        return real(*arguments)

    before = contents(folder)
    monkeypatch.setattr(module, name, after)
    writer = WRITERS[command]
    ran = run(*writer.arguments)
    left = contents(folder)
    if ran.code == 2:
        assert gone in ran.err
        assert left == {name: content for name, content in before.items() if name != gone}
    else:
        # What was read is enough: then all of it is written.
        assert left[writer.target] not in (before[writer.target], b"")


def test_a_link_stays_a_link_and_what_it_leads_to_is_written(run: Run, folder: Path) -> None:
    (folder / "far").mkdir()
    shutil.move(folder / "job.toml", folder / "far" / "job.toml")
    (folder / "job.toml").symlink_to("far/job.toml")
    before = (folder / "far" / "job.toml").read_bytes()
    assert run("heights", "job.toml", "--write", "job.toml").code == 0
    assert (folder / "job.toml").is_symlink()
    assert (folder / "far" / "job.toml").read_bytes() != before


@pytest.mark.parametrize("link", ["loop.toml", "/dev/null", "/dev/full"])
def test_a_link_to_itself_and_a_device_are_told(run: Run, folder: Path, link: str) -> None:
    (folder / "loop.toml").symlink_to("loop.toml")
    ran = run("heights", "job.toml", "--write", link)
    assert (ran.code, len(ran.err.splitlines())) == (2, 1)
    assert ran.err.startswith(link)
    assert Path("/dev/null").is_char_device()


@pytest.mark.parametrize("mode", [0o600, 0o664, 0o640])
def test_who_may_read_a_file_stays_as_it_was(run: Run, folder: Path, mode: int) -> None:
    (folder / "job.toml").chmod(mode)
    assert run("heights", "job.toml", "--write", "job.toml").code == 0
    assert (folder / "job.toml").stat().st_mode & 0o777 == mode


@pytest.mark.parametrize(
    "left", [b'half = "\n', b"# \xff\n", b"# mine\n", b""], ids=["broken", "no text", "note", "empty"]
)
def test_a_job_that_is_changed_while_a_layout_is_sought_is_left_as_it_is(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch, left: bytes
) -> None:
    job = folder / "job.toml"
    changed = job.read_bytes() + left if left else b""
    found = proposal.propose

    def meanwhile(*arguments: object) -> object:
        job.write_bytes(changed)
        return found(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(proposal, "propose", meanwhile)
    ran = run("place", "job.toml", "--write", "job.toml")
    assert ran.code == 2
    assert "was changed meanwhile" in ran.err
    assert job.read_bytes() == changed
    assert not (folder / "job.toml.before").exists()


def test_a_vehicle_that_is_changed_while_weights_are_shared_out_is_left_as_it_is(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    vehicle = folder / "van.toml"
    vehicle.write_bytes((shipped_folder("vehicles") / "van-longitudinal-diesel-rwd.toml").read_bytes())
    changed = vehicle.read_bytes() + b"# mine\n"
    shared = weighed_shares.weighed_shares

    def meanwhile(*arguments: object) -> object:
        vehicle.write_bytes(changed)
        return shared(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(weighed_shares, "weighed_shares", meanwhile)
    readings = shipped_folder("demo") / "readings.toml"
    ran = run("weigh", str(readings), "--write", "van.toml", "--body", "powertrain")
    assert ran.code == 2
    assert "was changed meanwhile" in ran.err
    assert vehicle.read_bytes() == changed
    assert not (folder / "van.toml.before").exists()


def test_a_layout_keeps_line_ends_and_byte_order_mark(run: Run, folder: Path) -> None:
    job = folder / "job.toml"
    job.write_bytes(b"\xef\xbb\xbf" + job.read_bytes().replace(b"\n", b"\r\n"))
    assert run("place", "job.toml", "--write", "job.toml").code == 0
    content = job.read_bytes()
    assert content.startswith(b"\xef\xbb\xbf#")
    assert content.count(b"\n") == content.count(b"\r\n") > 50
    assert (folder / "job.toml.before").exists()
