"""How fast `check` is, as ratios within one run: against a plain loop of linprog, and against importing scipy.

    python -m tests.bench.bench_check [rounds]

The job (made up): a subframe on four stands, a powertrain on one link and two to four stands of its own, 25 parts.
"""

import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random
from statistics import median

import numpy as np
from scipy.optimize import linprog

from loadplan import read_job
from loadplan.assess import assess
from loadplan.model.job import Job
from loadplan.stages import states
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.load_bounds import load_bounds
from loadplan.statics.mass import Array, lumps
from loadplan.statics.tipping_modes import rays
from tests.reference.random_jobs import Job as Raw
from tests.reference.random_jobs import write_job
from tests.reference.scenes import Lump, read_plan

GRAVITY = 9.80665
PARTS = {"subframe": 7, "powertrain": 18}
UNDER_SUBFRAME = [(330, 420), (330, -420), (-300, 400), (-300, -400)]
UNDER_POWERTRAIN = [(60, -330), (80, 300), (-150, -100), (200, 40)]
SCIPY = [sys.executable, "-c", "import numpy, scipy.optimize"]


def two_body_job(supports: int) -> Raw:
    """Return a stage of two bodies on six to eight stands, one at its set height off, every part with tolerance."""
    rng = Random(1)
    places = [("subframe", [x, y, 205]) for x, y in UNDER_SUBFRAME]
    places += [("powertrain", [x, y, 230]) for x, y in UNDER_POWERTRAIN[: supports - 4]]
    return {
        "body": [{"name": name} for name in PARTS],
        "part": [_part(rng, body, number) for body, count in PARTS.items() for number in range(count)],
        "joint": [{"name": "roll link", "kind": "mount", "between": ["powertrain", "subframe"], "at": [-270, 20, 330]}],
        "equipment": [{"name": "stand", "kind": "stand", "rating": 3000, "rated_for": "each"}],
        "support": [
            {"name": letter, "use": "stand", "body": body, "at": at, "height": at[2] + 150 - number % 3}
            for number, (letter, (body, at)) in enumerate(zip("ABCDEFGH", places, strict=False))
        ],
        "stage": [{"name": "on stands", "in_place": list("ABCDEFGH"[:supports])}],
    }


def _part(rng: Random, body: str, number: int) -> Raw:
    low = (-200, -250, 240) if body == "subframe" else (-80, -150, 400)
    high = (250, 250, 380) if body == "subframe" else (150, 150, 650)
    at = [rng.randint(one, other) for one, other in zip(low, high, strict=True)]
    return {"name": f"{body} {number}", "body": body, "mass": round(rng.uniform(4, 30), 1), "at": at, "at_pm": 15}


@dataclass(frozen=True)
class Bounds:
    """The linear programmes of a stage: loads, mount forces, and m, m·x, m·y of each part (m, N, kg)."""

    supports: int
    balance: Array
    limits: Array
    ranges: list[tuple[float | None, float | None]]

    def loop(self) -> list[float]:
        """Solve for every load's least and most, one linprog after the other."""
        found = []
        for number in range(self.supports):
            for sign in (1.0, -1.0):
                cost = np.zeros(self.balance.shape[1])
                cost[number] = sign
                nothing = np.zeros(len(self.limits)), np.zeros(len(self.balance))
                answer = linprog(cost, self.limits, nothing[0], self.balance, nothing[1], self.ranges)
                if answer.status != 0:
                    raise RuntimeError(answer.message)
                found.append(sign * answer.fun)
        return found


def programmes(raw: Raw) -> Bounds:
    """Write down the programmes of a job's only stage."""
    plan = read_plan(raw)
    row = {body: 3 * number for number, body in enumerate(plan.bodies)}
    columns = [[(row[seat.body], seat.at, 1.0)] for seat in plan.seats]
    columns += [[(row[tie.first], tie.places[0], 1.0), (row[tie.second], tie.places[0], -1.0)] for tie in plan.ties]
    parts = list(plan.parts.values())
    balance = np.zeros((3 * len(row), len(columns) + 3 * len(parts)))
    for number, places in enumerate(columns):
        for first, (x, y, _), sign in places:
            balance[first : first + 3, number] = [sign, sign * y / 1000, -sign * x / 1000]
    for number, part in enumerate(parts):
        mass, first = len(columns) + 3 * number, row[part.body]
        balance[first, mass] = balance[first + 1, mass + 2] = -GRAVITY
        balance[first + 2, mass + 1] = GRAVITY
    ranges: list[tuple[float | None, float | None]] = [(0, None)] * len(plan.seats) + [(None, None)] * len(plan.ties)
    for part in parts:
        ranges += [(part.mass - part.mass_pm, part.mass + part.mass_pm), (None, None), (None, None)]
    limits = [row for number, part in enumerate(parts) for row in _box(part, len(columns) + 3 * number, len(ranges))]
    return Bounds(len(plan.seats), balance, np.array(limits), ranges)


def _box(part: Lump, mass: int, size: int) -> Iterator[Array]:
    """Yield the rows m·xlo <= s <= m·xhi of a part, of x and of y."""
    for axis in (0, 1):
        for sign in (1.0, -1.0):
            limit = np.zeros(size)
            limit[mass + 1 + axis] = sign
            limit[mass] = -sign * (part.at[axis] + sign * part.at_pm[axis]) / 1000
            yield limit


def only_frame(job: Job) -> Frame:
    """Return the equations of the job's only group."""
    state = states(job)[0]
    return frames(state, lumps(job, state))[0]


def in_turn(rounds: int, **called: Callable[[], object]) -> dict[str, float]:
    """Call several things in turn, and return the median time of each [s].

    Each turn is a call that warms up and one that counts: threads of the call before may still spin.
    """
    spent: dict[str, list[float]] = {name: [] for name in called}
    for _ in range(rounds):
        for name, call in called.items():
            call()
            started = time.perf_counter()
            call()
            spent[name].append(time.perf_counter() - started)
    return {name: median(times) for name, times in spent.items()}


MEASURE = """
import os, subprocess, sys
process = subprocess.Popen(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
print(os.wait4(process.pid, 0)[2].ru_maxrss)
"""


def peak_memory(command: list[str]) -> float:
    """Run a command and return the most memory that it held [MB].

    A small process in between starts it: what starts a process counts as the memory that it begins with.
    """
    small = [sys.executable, "-S", "-c", MEASURE, *command]
    return int(subprocess.run(small, capture_output=True, text=True, check=True).stdout) / 1024


def told(text: str) -> None:
    """Print a line at once."""
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def main(rounds: int) -> None:
    """Print every ratio."""
    with tempfile.TemporaryDirectory() as folder:
        for supports in (6, 7, 8):
            raw = two_body_job(supports)
            path = write_job(raw, Path(folder), f"job-{supports}.toml")
            _in_process(raw, path, supports, rounds)
        _cold(str(path), rounds)


def _in_process(raw: Raw, path: Path, supports: int, rounds: int) -> None:
    job = read_job(path)
    frame = only_frame(job)
    motions = rays(frame)
    bounds = programmes(raw)
    spent = in_turn(
        rounds,
        loop=bounds.loop,
        bounds=lambda: load_bounds(frame, motions),
        with_modes=lambda: load_bounds(frame, rays(frame)),
        check=lambda: assess(job),
    )
    told(
        f"{supports} supports, 25 parts: linprog loop {1000 * spent['loop']:.1f} ms; "
        f"loop / our bounds {spent['loop'] / spent['bounds']:.1f} "
        f"(modes counted in {spent['loop'] / spent['with_modes']:.1f}); "
        f"whole check / loop {spent['check'] / spent['loop']:.2f}; "
        f"bounds differ by {_difference(job, bounds):.0e} of the weight"
    )


def _difference(job: Job, bounds: Bounds) -> float:
    loads = [each.load for each in assess(job).stages[0].statics.supports]
    ours = [end for load in loads if load and load.range for end in (load.range.least, load.range.most)]
    weight = GRAVITY * sum(part.mass for part in job.vehicle.parts)
    return max(abs((one or 0.0) - other) / weight for one, other in zip(ours, bounds.loop(), strict=True))


def _cold(path: str, rounds: int) -> None:
    check = [sys.executable, "-m", "loadplan", "check", path, "--json"]
    usage = [sys.executable, "-m", "loadplan", "--help"]
    commands = {"scipy": SCIPY, "check": check, "usage": usage}
    calls = {
        name: lambda c=command: subprocess.run(c, capture_output=True, check=False)
        for name, command in commands.items()
    }
    spent = in_turn(rounds, **calls)
    told(f"cold `check --json` / importing numpy and scipy.optimize {spent['check'] / spent['scipy']:.2f}")
    told(f"cold `--help` / importing numpy and scipy.optimize {spent['usage'] / spent['scipy']:.2f}")
    told(f"(importing them {1000 * spent['scipy']:.0f} ms, check {1000 * spent['check']:.0f} ms)")
    told(f"peak memory of check {peak_memory(check):.0f} MB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 9)
