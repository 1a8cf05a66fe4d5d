"""An hour's work replayed on a live plan, and how much memory it leaves taken.

    python -m tests.board.soak [CHANGES]

An hour is 5,000 changes: one in 0.7 s. Each is asked as the page asks it, judged and drawn in a process of its own.
"""

import gc
import random
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from loadplan.board.worker_process import WorkerProcess
from tests.board.desk import Page, opened

HOUR = 5000
"""Changes."""

WARM = 50
"""Changes after which memory is first looked at: what is loaded and kept once is there by then."""

JOB = """\
schema = "loadplan-job-1"
title = "Gearbox on four stands"
units = "metric"
date = 2026-11-20

[[body]]
name = "gearbox"
outline = [[400, 300], [400, -300], [-400, -300], [-400, 300]]
bottom = 300
top = 700

[[part]]
name = "gearbox"
body = "gearbox"
mass = 90
at = [0, 0, 450]

[[equipment]]
name = "stand"
kind = "stand"
rating = "2 tonne"
rated_for = "each"
heights = { from = 200, to = 500, step = 10 }
base = 200
saddle = 90
count = 8

"""


def job_text() -> str:
    """Return the job: a small one, so that what is kept of a change and not what it costs is seen."""
    places = {"A": (300, 200), "B": (300, -200), "C": (-300, -200), "D": (-300, 200)}
    stands = "".join(
        f'[[support]]\nname = "{name}"\nuse = "stand"\nbody = "gearbox"\nat = [{x}, {y}, 300]\nheight = 300\n\n'
        for name, (x, y) in places.items()
    )
    return f'{JOB}{stands}[[stage]]\nname = "On the stands"\nin_place = ["A", "B", "C", "D"]\n'


@dataclass(frozen=True, slots=True)
class Memory:
    """What is taken [MB].

    Attributes:
        server: By the process that serves.
        worker: By the one that judges and draws.
    """

    server: float
    worker: float


def replayed(folder: Path, changes: int) -> tuple[Memory, Memory]:
    """Replay changes in a folder, and return what is taken after the first fifty and at the end."""
    path = folder / "soak.toml"
    path.write_text(job_text(), "utf-8")
    worker = WorkerProcess(600.0)
    try:
        page = opened(folder, path)
        page.desk.plans[0].do = page.desk.plans[0].plan._do = worker.do
        page.client.post("/plan/0/reread", json={"revision": 0, "step": 0}, headers=page.headers)
        page.show()
        dice, first = random.Random(20261129), None
        for number in range(WARM + changes):
            if number == WARM:
                first = _taken(worker)
            _change(page, dice, number)
        assert first is not None
        return first, _taken(worker)
    finally:
        worker.end()


def _change(page: Page, dice: random.Random, number: int) -> None:
    """Do what somebody does at the page: move (with looks in passing), nudge, set, take back, save now and then."""
    stand = dice.randrange(4)
    at = {"x": dice.uniform(-0.38, 0.38), "y": dice.uniform(-0.28, 0.28)}
    for _ in range(1):
        assert page.post("glance", stand=stand, snap=0.02, **at).status_code == 200
    match number % 10:
        case 7:
            page.seen = page.post("undo").json()
        case 8:
            page.seen = page.post("redo").json()
        case 9:
            page.change("mass", part=0, text=f"{dice.uniform(60, 120):.1f} kg")
        case 0:
            page.change("as_given")
        case _:
            page.change("move", stand=stand, snap=0.0, **at)
    if number % 100 == 99:
        page.client.get("/")
        page.change("as_given")
        answer = page.post("save", name="", sure=True)
        assert answer.status_code == 200, answer.text
        page.seen = answer.json()["screen"]


def _taken(worker: WorkerProcess) -> Memory:
    gc.collect()
    return Memory(_resident(Path("/proc/self/statm")), _resident(Path(f"/proc/{worker.do(_number)}/statm")))


def _number() -> int:
    gc.collect()
    return int(Path("/proc/self/stat").read_text("ascii").split()[0])


def _resident(path: Path) -> float:
    """Return the memory that a process holds [MB]: pages of 4 kB, as Linux lists them (proc(5), statm)."""
    return int(path.read_text("ascii").split()[1]) * 4096 / 1e6


def main() -> None:
    """Replay, and tell."""
    changes = int(sys.argv[1]) if len(sys.argv) > 1 else HOUR
    with tempfile.TemporaryDirectory() as folder:
        before, after = replayed(Path(folder), changes)
    sys.stdout.write(f"{changes} changes: the server grew from {before.server:.0f} to {after.server:.0f} MB,\n")
    sys.stdout.write(f"what judges and draws from {before.worker:.0f} to {after.worker:.0f} MB\n")


if __name__ == "__main__":
    main()
