"""Killed in the middle of a save: what was there is there, or what was to come, whole; the next run is not bothered."""

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.hostile.commands import WRITERS, Writer, contents

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

COMMANDS = ("heights", "weigh", "new")


def ran(hook: str, writer: Writer) -> int:
    command = [sys.executable, "-c", SETUP + hook + RUN, *writer.arguments]
    settings = {"PYTHONPATH": str(Path(__file__).parents[2]), "PATH": ""}
    return subprocess.run(command, env=settings, input=b"Clutch\n", capture_output=True, check=False).returncode


@pytest.mark.parametrize("moment", HOOKS)
@pytest.mark.parametrize("command", COMMANDS)
def test_a_process_killed_while_it_saves_loses_nothing(folder: Path, command: str, moment: str) -> None:
    writer = WRITERS[command]
    before = contents(folder)
    assert ran(HOOKS[moment], writer) == -signal.SIGKILL
    after = {name: content for name, content in contents(folder).items() if not Path(name).name.startswith(".")}
    new = after.pop(writer.target)
    old = before.pop(writer.target)
    assert after == before
    if moment == "it has taken its place":
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
