"""How fast `place` proves 6 of 40 points, beside scanning every layout through the margin function.

    python -m tests.bench.bench_place [seeds]

The jobs are made up: one body of six parts, forty points at random. The scan is timed on a sample and
extrapolated to all 3,838,380 layouts.
"""

import resource
import sys
import time
from dataclasses import replace
from math import comb, inf
from random import Random

from loadplan.model.job import Job
from loadplan.planning.placement.largest_margin import Search
from loadplan.planning.placement.layout import TIE
from loadplan.planning.placement.layout_space import space, stand_under
from loadplan.statics.equilibrium import frames
from loadplan.statics.lean import Tilted, upright
from loadplan.statics.mass import lumps
from loadplan.statics.tipping_modes import free_motion, rays
from loadplan.statics.worst_margin import worst
from tests.planning.jobs import STAND, scattered

POINTS, STANDS, SAMPLE = 40, 6, 400


def scan(job: Job, sample: list[list[int]]) -> float:
    """Return the largest worst margin [m] of some layouts, one by one."""
    here = space(job)
    largest = -inf
    for members in sample:
        stands = tuple(stand_under(str(member), here.points[member], STAND, here.job.vehicle) for member in members)
        least = inf
        for state in here.states:
            for frame in frames(replace(state, supports=stands), lumps(here.job, state)):
                if free_motion(frame) is not None:
                    least = -inf
                    continue
                motions = rays(frame)
                if (motions @ frame.load <= 0).any():
                    least = -inf
                    continue
                least = min(
                    least,
                    float(worst(frame, motions, Tilted(job.limits.floor_slope, upright(frame)), ()).margins.min()),
                )
        largest = max(largest, least)
    return largest


def main() -> None:
    """Print the times and their ratio."""
    for seed in range(int(sys.argv[1]) if len(sys.argv) > 1 else 3):
        job = scattered(seed, POINTS)
        start = time.perf_counter()
        found = Search(space(job), lambda _: None).largest(STANDS, lambda layout: not layout.against, TIE)
        ours = time.perf_counter() - start
        draw = Random(seed)
        sample = [draw.sample(range(POINTS), STANDS) for _ in range(SAMPLE)]
        start = time.perf_counter()
        scan(job, sample)
        layouts = comb(POINTS, STANDS)
        theirs = (time.perf_counter() - start) / SAMPLE * layouts
        told = f"{1e3 * found.layouts[0].margin:.1f} mm" if found.layouts else "nothing fits"
        print(  # noqa: T201
            f"seed {seed}: {STANDS} of {POINTS} points, {layouts} layouts: {told}, proven {found.proven}, "
            f"in {ours:.2f} s; "
            f"scanning {theirs:.0f} s (extrapolated): {theirs / ours:.0f} times longer"
        )
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak memory {memory:.0f} MB")  # noqa: T201


if __name__ == "__main__":
    main()
