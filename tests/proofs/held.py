"""Never held when it tips: weights drawn inside tolerance, judged by linprog, against our verdict.

python -m tests.proofs.held FROM TO        # seeds of random jobs

Who stands on what comes from the reference computation, which reads the raw job and knows nothing of our statics; so
does every mass, place and set of parts that may be gone. The floor slopes by as much as it may, some way or other.
"""

import sys
import tempfile
from collections.abc import Iterator
from math import cos, pi, sin
from pathlib import Path

import numpy as np
from scipy.optimize import linprog

from loadplan import read_job
from loadplan.assess import assess
from loadplan.errors import InputError
from loadplan.model.verdict import StageAssessment, Verdict
from tests.reference.elastic import Array
from tests.reference.exact import Frame, frame_of
from tests.reference.group import base_of
from tests.reference.random_jobs import Job, random_job, write_job
from tests.reference.scenes import Lump, all_scenes, between, read_plan

DRAWS = 6
"""Draws from the tolerances of each group; the corners of the tolerance are as likely as its inside."""

MM = np.array([1.0, 1e-3, 1e-3])
"""Rows are of mm; balances are of m."""


def wrongly_held(raw: Job, folder: Path, seed: int) -> Iterator[str]:
    """Yield a line for every group that tips somewhere inside tolerance, in a stage whose balance is no stop."""
    draw = np.random.default_rng(seed)
    plan = read_plan(raw)
    stages = assess(read_job(write_job(raw, folder))).stages
    for scene, stage in zip(all_scenes(raw, plan), stages, strict=True):
        for frame in (frame_of(state, wholes) for state in between(scene) or [scene] for wholes in state.groups):
            bodies = {body for whole in frame.wholes for body in frame.scene.wholes[whole]}
            if not any(bodies & stopped for stopped in _stopped(stage)) and not all(
                _stands(frame, drawn) for drawn in _drawn(frame, plan.slope, draw)
            ):
                yield f"{scene.name}: {', '.join(sorted(bodies))}"


def _stopped(stage: StageAssessment) -> list[set[str]]:
    stops = [each for each in stage.findings if each.check == "balance" and each.verdict is Verdict.STOP]
    return [set(each.subject.split(", ")) for each in stops]


def _drawn(frame: Frame, slope: float, draw: np.random.Generator) -> Iterator[Array]:
    """Yield the weights of the group (3 q) with masses, centres, parts and the way of the slope drawn."""
    here = [lump for lump in frame.scene.lumps if frame.scene.whole_of(lump.body) in frame.wholes]
    for _ in range(DRAWS):
        gone, way = frame.scene.subsets[draw.integers(len(frame.scene.subsets))], draw.uniform(0, 2 * pi)
        load = np.zeros((len(frame.wholes), 3))
        for lump in here:
            if not lump.optional or (lump.optional in gone) == (lump.sign < 0):
                whole = frame.scene.whole_of(lump.body)
                mass, x, y, z = _one(lump, draw)
                tilt = slope * (z - (base_of(frame, whole) or z))
                x, y = x + tilt * cos(way), y + tilt * sin(way)
                load[frame.wholes.index(whole)] += lump.sign * mass * np.array([1.0, y, -x]) * MM
        yield load.ravel() / load[:, 0].sum()


def _one(lump: Lump, draw: np.random.Generator) -> tuple[float, ...]:
    """Return mass and place of one lump: at an end of its tolerance, or between."""
    ranges = zip((lump.mass, *lump.at), (lump.mass_pm, *lump.at_pm), strict=True)
    return tuple(
        float(draw.choice([given - pm, given + pm, draw.uniform(given - pm, given + pm)])) for given, pm in ranges
    )


def _stands(frame: Frame, load: Array) -> bool:
    """Return whether any loads and mount forces balance the weights."""
    rows = np.array([*frame.seat_rows, *frame.tie_rows], dtype=float).reshape(-1, frame.size)
    matrix = (rows * np.tile(MM, len(frame.wholes))).T
    if np.linalg.matrix_rank(matrix, tol=1e-9) < len(load):
        return False
    ranges = [(0, None)] * len(frame.seat_rows) + [(None, None)] * len(frame.tie_rows)
    return bool(linprog(np.zeros(matrix.shape[1]), A_eq=matrix, b_eq=load, bounds=ranges).status == 0)


def main() -> None:
    """Print what was held though it tips, what was refused, and how many jobs were judged."""
    first, last = (int(each) for each in sys.argv[1:3])
    refused = wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(first, last):
            try:
                lines = list(wrongly_held(random_job(seed), Path(folder), seed))
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
