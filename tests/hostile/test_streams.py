"""Streams that are closed or full: an exit code that means what it always means, and no traceback."""

import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from loadplan.files import shipped_folder

DEMO = shipped_folder("demo")
HOLDS = DEMO / "us-units.toml"


def shell(arguments: str, streams: str, folder: Path) -> subprocess.CompletedProcess[str]:
    command = f"{shlex.quote(sys.executable)} -m loadplan {arguments} {streams}"
    settings = {"PYTHONPATH": str(Path(__file__).parents[2]), "PATH": ""}
    return subprocess.run(
        command, shell=True, cwd=folder, env=settings, input="", capture_output=True, text=True, check=False
    )


@pytest.mark.parametrize(
    ("arguments", "streams", "code"),
    [
        (f"check {shlex.quote(str(HOLDS))}", ">&-", 0),
        ("check nowhere.toml", "2>&-", 2),
        ("chekc", "2>&-", 2),
        ("new job.toml", "<&-", 2),
        (f"check {shlex.quote(str(HOLDS))}", ">/dev/full", 2),
        ("vehicles --json", ">/dev/full", 2),
        ("check nowhere.toml", "2>/dev/full", 2),
        ("chekc", "2>/dev/full", 2),
        ("--help", "<&- >&- 2>&-", 0),
    ],
)
def test_a_stream_that_is_closed_or_full(tmp_path: Path, arguments: str, streams: str, code: int) -> None:
    if "/dev/full" in streams and not Path("/dev/full").exists():
        pytest.skip("there is no such device here")
    done = shell(arguments, streams, tmp_path)
    assert done.returncode == code
    assert "Traceback" not in done.stdout + done.stderr
    assert "Exception ignored" not in done.stderr
    if streams == ">/dev/full":
        told = "what is printed: No space left on device: free some room there, or name another place\n"
        assert done.stderr == told
