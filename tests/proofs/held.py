"""Never held when it tips: masses and centres drawn inside tolerance, judged by linprog, against our verdict.

python -m tests.proofs.held FROM TO        # seeds of random jobs
"""

import sys
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
from scipy.optimize import linprog

from loadplan import read_job
from loadplan.assess import assess
from loadplan.errors import InputError
from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from loadplan.stages import states
from loadplan.statics.frame import Frame, frames
from loadplan.statics.mass import Lump, lumps
from tests.reference.maker import write_job
from tests.reference.random_jobs import random_job

DRAWS = 6
"""Draws from the tolerances of each group; the corners of the tolerance are as likely as its inside."""


def wrongly_held(job: Job, seed: int) -> Iterator[str]:
    """Yield a line for every group that tips somewhere inside tolerance, in a stage whose balance is no stop."""
    draw = np.random.default_rng(seed)
    assessment = assess(job)
    for state, stage in zip(states(job), assessment.stages, strict=True):
        stopped = {
            finding.subject
            for finding in stage.findings
            if finding.check == "balance" and finding.verdict is Verdict.STOP
        }
        for frame in frames(state, lumps(job, state)):
            held = not any(set(frame.bodies) == set(subject.split(", ")) for subject in stopped)
            if held and not all(_stands(drawn) for drawn in _drawn(frame, draw)):
                yield f"{state.name}: {', '.join(frame.bodies)}"


def _drawn(frame: Frame, draw: np.random.Generator) -> Iterator[Frame]:
    """Yield the group with masses, centres and removable parts drawn from what tolerance leaves open."""
    for _ in range(DRAWS):
        drawn = [_one(lump, draw) for lump in frame.lumps if lump.counts or draw.random() < 0.5]
        load = np.zeros_like(frame.load)
        for lump in drawn:
            whole = frame.whole(lump.body)
            x, y = ((lump.at[axis] - frame.middle[axis]) / frame.span for axis in (0, 1))
            load[3 * whole : 3 * whole + 3] += lump.sign * lump.mass * np.array([1.0, y, -x])
        yield replace(frame, load=load / load[::3].sum())


def _one(lump: Lump, draw: np.random.Generator) -> Lump:
    def within(low: float, high: float) -> float:
        return float(draw.choice([low, high, draw.uniform(low, high)]))

    at = tuple(within(place - pm, place + pm) for place, pm in zip(lump.at, lump.at_pm, strict=True))
    return replace(lump, mass=within(lump.low, lump.high), at=(at[0], at[1], at[2]))


def _stands(frame: Frame) -> bool:
    """Return whether any loads and mount forces balance the weights."""
    matrix = np.hstack([frame.up.T, frame.stretch.T])
    if np.linalg.matrix_rank(matrix, tol=1e-9) < len(frame.load):
        return False
    ranges = [(0, None)] * len(frame.up) + [(None, None)] * len(frame.stretch)
    return bool(linprog(np.zeros(matrix.shape[1]), A_eq=matrix, b_eq=frame.load, bounds=ranges).status == 0)


def main() -> None:
    """Print what was held though it tips, what was refused, and how many jobs were judged."""
    first, last = (int(each) for each in sys.argv[1:3])
    refused = wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(first, last):
            job = read_job(write_job(random_job(seed), Path(folder)))
            try:
                lines = list(wrongly_held(job, seed))
            except InputError as error:
                refused += 1
                print(f"seed {seed} refused: {error}", flush=True)  # noqa: T201
                continue
            wrong += bool(lines)
            for line in lines:
                print(f"seed {seed}: {line}", flush=True)  # noqa: T201
    print(f"{last - first} jobs tried: {wrong} held though they tip, {refused} refused")  # noqa: T201
    sys.exit(wrong > 0)


if __name__ == "__main__":
    main()
