"""How long the largest jobs take that are not refused, and the most memory that they hold.

    python -m tests.bench.bench_sizes

Made-up chains of assemblies, each on one mount to the next and on stands of its own: the largest that the manual
names, and a job of many steps in which one stand after another goes, as far as all steps together are looked at. Each
runs in a process of its own, so that no job counts the memory of another.
"""

import resource
import sys
import time
from itertools import pairwise
from math import cos, sin
from pathlib import Path
from tempfile import TemporaryDirectory

from loadplan import read_job
from loadplan.assess import assess
from loadplan.errors import InputError
from tests.bench.bench_check import peak_memory, told
from tests.reference.random_jobs import Job as Raw
from tests.reference.random_jobs import write_job

SIZES = ((2, 60, 1), (4, 20, 1), (4, 20, 12), (8, 24, 1))
"""Assemblies, stands, and steps of each job; the last one is refused."""


def chain(assemblies: int, stands: int, steps: int) -> Raw:
    """Return a job of assemblies in a row with stands in turn under each; from the second step on a stand goes."""
    names = [f"b{number}" for number in range(assemblies)]
    under = [f"s{number}" for number in range(stands)]
    return {
        "body": [{"name": name} for name in names],
        "part": [
            {"name": f"p{number}", "body": name, "mass": 100, "at": [1000 * number, 0, 500], "at_pm": 5}
            for number, name in enumerate(names)
        ],
        "joint": [
            {"name": f"m{number}", "kind": "mount", "between": list(pair), "at": [1000 * number + 500, 0, 400]}
            for number, pair in enumerate(pairwise(names))
        ],
        "equipment": [{"name": "stand", "kind": "stand", "rating": 3000, "rated_for": "each"}],
        "support": [_stand(name, number, assemblies) for number, name in enumerate(under)],
        "stage": [{"name": "all", "in_place": under}]
        + [{"name": f"less {step}", "cleared": [under[-step]]} for step in range(1, steps)],
    }


def _stand(name: str, number: int, assemblies: int) -> Raw:
    """Return a stand of one of the assemblies, one after another round its middle, no three in line."""
    row, of = divmod(number, assemblies)
    at = [1000 * of + round(350 * cos(2.4 * row)), round(350 * sin(2.4 * row)), 200]
    return {"name": name, "use": "stand", "body": f"b{of}", "at": at}


def main() -> None:
    """Print time and memory of each."""
    with TemporaryDirectory() as folder:
        for assemblies, stands, steps in SIZES:
            path = write_job(chain(assemblies, stands, steps), Path(folder), f"{assemblies}-{stands}-{steps}.toml")
            started = time.perf_counter()
            memory = peak_memory([sys.executable, "-m", "tests.bench.bench_sizes", str(path)])
            told(
                f"{assemblies} assemblies on {stands} stands, {steps} steps: {time.perf_counter() - started:.1f} s "
                f"from a cold start, at most {memory:.0f} MB"
            )


def one(path: Path) -> None:
    """Check one job, and say what it took."""
    started = time.process_time()
    try:
        verdict = assess(read_job(path)).verdict.words
    except InputError as error:
        verdict = error.faults[0].message
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    told(f"{path.stem}: {time.process_time() - started:.1f} s of a processor, {memory:.0f} MB: {verdict}")


if __name__ == "__main__":
    one(Path(sys.argv[1])) if len(sys.argv) > 1 else main()
