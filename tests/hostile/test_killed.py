"""Killed in the middle of a save: what was there is there, or what was to come, whole; the next run is not bothered."""

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from itertools import count
from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files import write_journal
from loadplan.files.safe_write import Over, SafeWriter, write_new
from loadplan.files.write_journal import recover
from tests.hostile.commands import WRITERS, Writer, contents

pytestmark = pytest.mark.slow

HOOKS = {
    "half of it is written": (
        "opened = Path.open\n"
        "def hook(path, mode='r', **options):\n"
        "    stream = opened(path, mode, **options)\n"
        "    if mode == 'xb':\n"
        "        stream.write(b'half of')\n"
        "        stream.flush()\n"
        "        die()\n"
        "    return stream\n"
        "Path.open = hook\n"
    ),
    "it is to be sent off": "os.fsync = lambda _: die()\n",
    "it is to take its place": "Path.replace = lambda *_: die()\n",
    "it has taken its place": "put = Path.replace\nPath.replace = lambda *both: (put(*both), die())\n",
}
"""What the process is made to run before the command: it ends itself by a signal that none can catch."""

SETUP = "import os, signal, sys\nfrom pathlib import Path\ndef die():\n    os.kill(os.getpid(), signal.SIGKILL)\n"
RUN = "sys.argv[0] = 'loadplan'\nfrom loadplan.cli import main\nmain()\n"

COMMANDS = ("heights", "weigh", "new", "mend", "swap")

QUICKLY = "from tests.hostile.commands import plan_quickly\nplan_quickly()\n"
"""Is run before mend and swap: what they find is another matter."""


def ran(hook: str, writer: Writer) -> int:
    first = QUICKLY if writer.arguments[0] in {"mend", "swap"} else ""
    command = [sys.executable, "-c", first + SETUP + hook + RUN, *writer.arguments]
    settings = {"PYTHONPATH": str(Path(__file__).parents[2]), "PATH": ""}
    return subprocess.run(command, env=settings, input=b"Clutch\n", capture_output=True, check=False).returncode


@pytest.mark.parametrize("moment", HOOKS)
@pytest.mark.parametrize("command", COMMANDS)
def test_a_process_killed_while_it_saves_loses_nothing(folder: Path, command: str, moment: str) -> None:
    writer = WRITERS[command]
    before = contents(folder)
    assert ran(HOOKS[moment], writer) == -signal.SIGKILL
    after = {name: content for name, content in contents(folder).items() if not name.startswith(".")}
    new = after.pop(writer.target)
    kept = after.pop(f"{writer.target}.before", None)
    assert kept in {None, before[writer.target]}
    old = before.pop(writer.target)
    assert after == before
    if moment == "it has taken its place" and command == "new":
        assert new != old
        assert len(new) > 40
    else:
        assert new == old


def test_the_next_save_takes_its_course(folder: Path) -> None:
    writer = WRITERS["heights"]
    before = contents(folder)
    assert ran(HOOKS["half of it is written"], writer) == -signal.SIGKILL
    assert ran("", writer) == 0
    assert contents(folder)[writer.target] != before[writer.target]
    assert not [name for name in contents(folder) if name.startswith(".")], "what the killed one left is cleared"


STEPS = (
    (Path, "open"), (Path, "mkdir"), (Path, "replace"), (Path, "hardlink_to"), (Path, "unlink"), (Path, "rmdir"),
    (shutil, "rmtree"), (os, "fsync"), (os, "chown"), (os, "unlink"), (os, "rmdir"),
)  # fmt: skip
"""What changes anything on the disk, or sends it there."""

OLD, NEW = ({name: name.encode() * 30 + when for name in ("a.svg", "b.svg", "c.svg")} for when in (b" old", b" new"))


def killed_before(step: int, act: Callable[[], object]) -> bool:
    """Do something in a process of its own, which is killed before one of its steps; return whether it was."""
    child = os.fork()
    if not child:
        left = step
        for owner, name in STEPS:
            real = getattr(owner, name)

            def hook(*arguments: object, real: Callable[..., object] = real, **options: object) -> object:
                nonlocal left
                if not left:
                    os.kill(os.getpid(), signal.SIGKILL)
                left -= 1
                return real(*arguments, **options)

            setattr(owner, name, hook)
        try:
            act()
        finally:
            os._exit(0)
    return os.WIFSIGNALED(os.waitpid(child, 0)[1])


def bare(folder: Path) -> dict[str, bytes]:
    """Return what stands in a folder, less marks."""
    return {name: content.split(b"\n<!-- ")[0].split(b"<!-- ")[0] for name, content in contents(folder).items()}


def test_a_set_is_all_old_or_all_new_whenever_its_writer_was_killed(tmp_path: Path) -> None:
    seen = set()
    for step in count():
        folder = tmp_path / str(step)
        writer = SafeWriter(tuple, Over.OWN)
        writer.write_into(folder, OLD)
        killed = killed_before(step, lambda: writer.write_into(folder, NEW))  # noqa: B023 - called at once
        told = {name: content for name, content in bare(folder).items() if not name.startswith(".")}
        assert all(told[name] in {OLD[name], NEW[name]} for name in OLD)
        recover(folder)
        assert bare(folder) in (OLD, NEW), step
        assert not [path for path in folder.iterdir() if path.name.startswith(".")], step
        seen.add((told == OLD, told == NEW, bare(folder) == NEW))
        if not killed:
            break
    assert {(True, False, False), (False, True, True), (False, False, True)} <= seen
    assert step > 20


def test_what_somebody_changed_after_the_kill_stays_as_he_left_it(tmp_path: Path) -> None:
    writer = SafeWriter(tuple, Over.OWN)
    for step in count():
        folder = tmp_path / str(step)
        writer.write_into(folder, OLD)
        killed = killed_before(step, lambda: writer.write_into(folder, NEW))  # noqa: B023 - called at once
        (folder / "c.svg").write_bytes(b"mine")
        recover(folder)
        assert (folder / "c.svg").read_bytes() == b"mine", step
        if not killed:
            break


@pytest.mark.parametrize("into", [write_new, SafeWriter(tuple, Over.OWN).write_into])
def test_a_new_folder_has_all_of_a_set_or_is_not_there(
    tmp_path: Path, into: Callable[[Path, dict[str, bytes]], object]
) -> None:
    for step in count():
        folder = tmp_path / str(step) / "set"
        folder.parent.mkdir()
        killed = killed_before(step, lambda: into(folder, NEW))  # noqa: B023 - called at once
        assert not folder.exists() or bare(folder) == NEW, step
        if not killed:
            break
    assert step > 10
    assert bare(folder) == NEW


def test_a_running_writer_is_not_cleared_away_by_another(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    writer = SafeWriter(tuple, Over.OWN)
    put = Path.replace

    def meanwhile(path: Path, target: Path) -> Path:
        recover(tmp_path)
        return put(path, target)

    monkeypatch.setattr(Path, "replace", meanwhile)
    for contents_of in (OLD, NEW):
        writer.write_into(tmp_path, contents_of)
    assert bare(tmp_path) == NEW


@pytest.mark.parametrize("kind", ["folder", "pipe", "link"])
def test_what_is_no_file_now_does_not_hold_up_the_others(tmp_path: Path, kind: str) -> None:
    beside = tmp_path / ".loadplan-0123456789abcdef.part"
    beside.mkdir()
    for number in range(2):
        (beside / str(number)).write_bytes(b"new")
    (beside / "set.json").write_text('[{"name": "a", "before": "1"}, {"name": "b", "before": null}]', "utf-8")
    place = tmp_path / "a"
    match kind:
        case "folder":
            place.mkdir()
        case "pipe":
            os.mkfifo(place)
        case _:
            place.symlink_to("/dev/zero")
    recover(tmp_path)
    assert not place.is_file()
    assert (tmp_path / "b").read_bytes() == b"new"
    assert not beside.exists()


def at_once(count: int, act: Callable[[int], object]) -> None:
    """Let several processes do the same, all from the same moment."""
    gate, opener = os.pipe()
    children = []
    for number in range(count):
        child = os.fork()
        if not child:
            os.close(opener)
            os.read(gate, 1)
            with suppress(InputError):
                act(number)
            os._exit(0)
        children.append(child)
    os.close(gate)
    os.close(opener)
    for child in children:
        os.waitpid(child, 0)


def test_of_several_that_write_a_job_back_at_once_none_loses_the_old_text(tmp_path: Path) -> None:
    for turn in range(15):
        job = tmp_path / str(turn) / "job.toml"
        job.parent.mkdir()
        job.write_bytes(b"mine")
        writer = SafeWriter(tuple, Over.OWN)
        at_once(4, lambda number: writer.write_back(job, str(number).encode(), job))  # noqa: B023 - called at once
        assert sorted(contents(job.parent).values())[-1] == b"mine"
        assert len(contents(job.parent)) == 5, "each text that was there is kept beside"


def test_of_several_that_make_a_file_at_once_one_does(tmp_path: Path) -> None:
    for turn in range(15):
        folder = tmp_path / str(turn)
        folder.mkdir()

        def make(number: int, folder: Path = folder) -> None:
            write_new(folder, {"job.toml": b"mine"})
            (folder / f"{number} made it").touch()

        at_once(4, make)
        assert len(contents(folder)) == 2


def test_of_several_sets_written_at_once_one_is_there(tmp_path: Path) -> None:
    writer = SafeWriter(tuple, Over.OWN)
    writer.write_into(tmp_path, OLD)
    for _ in range(10):
        at_once(4, lambda number: writer.write_into(tmp_path, dict.fromkeys(OLD, b"%d" % number)))
        assert len(set(bare(tmp_path).values())) == 1
        assert set(contents(tmp_path)) == set(OLD)


def test_a_folder_that_another_program_keeps_locked_is_not_waited_for_for_ever(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fcntl = pytest.importorskip("fcntl")
    monkeypatch.setattr(write_journal, "PATIENCE", 0.05)
    descriptor = os.open(tmp_path, os.O_RDONLY)
    fcntl.flock(descriptor, fcntl.LOCK_EX)
    write_new(tmp_path, {"job.toml": b"mine"})
    os.close(descriptor)
    assert contents(tmp_path) == {"job.toml": b"mine"}


def test_a_journal_that_leads_out_of_its_folder_is_not_followed(tmp_path: Path) -> None:
    beside = tmp_path / "out" / ".loadplan-0123456789abcdef.part"
    beside.mkdir(parents=True)
    (beside / "0").write_bytes(b"bad")
    (beside / "set.json").write_text('[{"name": "../victim", "before": null}]', "utf-8")
    recover(tmp_path / "out")
    assert not (tmp_path / "victim").exists()
    assert not beside.exists()
