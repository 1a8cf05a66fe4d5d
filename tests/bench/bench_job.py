"""How fast a whole job is judged, beside a plain loop of linprog over its load bounds and 36 push directions.

    python -m tests.bench.bench_job [JOB]

Every stage of the job (the demo's front unit unless another is named) counts, for the loop as for the tool.
"""

import sys
from collections.abc import Callable
from math import cos, pi, sin
from pathlib import Path

import numpy as np
from scipy.optimize import linprog

from loadplan import read_job
from loadplan.assess import assess
from loadplan.model.answer import Balanced
from loadplan.model.job import Job
from loadplan.stages import states
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.mass import Array, lumps
from loadplan.statics.push_limit import Hold, _balances
from loadplan.statics.sideways_resistance import Grip, Resistance
from tests.bench.bench_check import in_turn

DEMO = Path(__file__).parents[2] / "demo" / "front-unit.toml"
DIRECTIONS = 36


def loops(job: Job) -> list[Callable[[], None]]:
    """Return one call a group and stage, each solving its bounds and pushes one linprog after the other."""
    body = job.lift.body if job.lift else ""
    assessment = assess(job)
    calls: list[Callable[[], None]] = []
    for state, stage in zip(states(job), assessment.stages, strict=True):
        for frame, group in zip(frames(state, lumps(job, state)), stage.statics.groups, strict=True):
            if isinstance(group.proof, Balanced) and group.robust:
                calls.append(_bounds(frame))
                if body not in frame.bodies:
                    calls.append(_pushes(frame))
    return calls


def _bounds(frame: Frame) -> Callable[[], None]:
    count, mounts, size = len(frame.up), len(frame.stretch), frame.load.size
    columns = count + mounts + 3 * len(frame.lumps)
    balance, limits = np.zeros((size, columns)), []
    balance[:, :count], balance[:, count : count + mounts] = frame.up.T, frame.stretch.T
    ranges: list[tuple[float | None, float | None]] = [(0, None)] * count + [(None, None)] * mounts
    total = sum(lump.sign * lump.mass for lump in frame.lumps if lump.counts)
    for number, (lump, whole) in enumerate(zip(frame.lumps, frame.whole_of, strict=True)):
        mass = count + mounts + 3 * number
        rows = 3 * whole, 3 * whole + 1, 3 * whole + 2
        balance[rows[0], mass], balance[rows[1], mass + 2], balance[rows[2], mass + 1] = (
            -lump.sign,
            -lump.sign,
            lump.sign,
        )
        for axis in (0, 1):
            for sign in (1.0, -1.0):
                limit = np.zeros(columns)
                edge = (lump.at[axis] + sign * lump.at_pm[axis] - frame.middle[axis]) / frame.span
                limit[mass + 1 + axis], limit[mass] = sign, -sign * edge
                limits.append(limit)
        low = 0.0 if lump.optional else lump.low / total
        ranges += [(low, lump.high / total), (None, None), (None, None)]
    box = np.array(limits)

    def loop() -> None:
        for number in range(count):
            for sign in (1.0, -1.0):
                cost = np.zeros(columns)
                cost[number] = sign
                _solve(cost, (box, np.zeros(len(box))), (balance, np.zeros(size)), ranges)

    return loop


def _pushes(frame: Frame) -> Callable[[], None]:
    grips = tuple(Grip(0.3, 1.0) for _ in frame.supports)
    at = max((lump.at for lump in frame.lumps), key=lambda place: place[2])
    hold = Hold(Resistance.of(frame, grips), 0, at, frame.load)

    def loop() -> None:
        for number in range(DIRECTIONS):
            angle = 2 * pi * number / DIRECTIONS
            programme = _balances((hold,), ((cos(angle), sin(angle), 0.0),)).programme
            cost = np.zeros(len(programme.columns))
            cost[-1] = -1.0
            _solve(cost, None, (programme.columns.T, programme.right), [(0, None)] * len(cost))

    return loop


def _solve(
    cost: Array,
    limits: tuple[Array, Array] | None,
    balance: tuple[Array, Array],
    ranges: list[tuple[float | None, float | None]],
) -> None:
    answer = linprog(cost, *(limits or (None, None)), *balance, ranges)
    if answer.status not in (0, 3):
        raise RuntimeError(answer.message)


def main() -> None:
    """Print the ratio."""
    job = read_job(Path(sys.argv[1]) if len(sys.argv) > 1 else DEMO)
    calls = loops(job)
    times = in_turn(3, tool=lambda: assess(job), loop=lambda: [call() for call in calls])
    print(  # noqa: T201
        f"{job.title}: {len(job.stages)} stages; whole check {1e3 * times['tool']:.0f} ms, linprog loop "
        f"{1e3 * times['loop']:.0f} ms; check / loop {times['tool'] / times['loop']:.2f}"
    )


if __name__ == "__main__":
    main()
