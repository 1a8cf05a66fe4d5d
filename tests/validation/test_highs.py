"""Load bounds against HiGHS, the linear programming solver in scipy (Huangfu and Hall, 2018), one programme an end.

Each part's mass m and moments m·x, m·y are unknowns of their own inside tolerance, each load is not negative, mounts
pull either way; the least and the most of each load. Random jobs of one and two bodies, read and assessed as users'
files are; the programmes are written from the raw file.
"""

from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from loadplan import read_job
from loadplan.assess import assess
from tests.bench.bench_check import GRAVITY, programmes
from tests.reference.random_jobs import Job as Raw
from tests.reference.random_jobs import one_body, two_bodies, write_job

AGREES = 1e-9
"""Share of the weight by which bounds may differ."""


def _set_at_once(raw: Raw) -> Raw:
    """Return a job's first stage with all its supports in place, and nothing else done."""
    names = [support["name"] for support in raw["support"]]
    return {**raw, "stage": [{"name": "all set", "in_place": names}]}


def _bounds(raw: Raw, folder: Path) -> list[float] | None:
    """Return every load's least and most [N]; None where it may tip inside tolerance, and has none."""
    job = read_job(write_job(raw, folder))
    loads = [each.load for each in assess(job).stages[0].statics.supports]
    ends = [(load.range.least, load.range.most) for load in loads if load and load.range]
    found = [end for pair in ends for end in pair if end is not None]
    return found if len(found) == 2 * len(loads) else None


@pytest.mark.parametrize("make", [one_body, two_bodies])
def test_bounds_of_random_jobs(make: Callable[[Random], Raw], tmp_path: Path) -> None:
    compared = 0
    for seed in range(40):
        raw = _set_at_once(make(Random(seed)))
        ours = _bounds(raw, tmp_path)
        if ours is not None:
            weight = GRAVITY * sum(part["mass"] for part in raw["part"])
            assert ours == pytest.approx(programmes(raw).loop(), abs=AGREES * weight), seed
            compared += 1
    assert compared >= 12
