"""Every benchmark in one run: our time beside the obvious way's.

python -m tests.bench
"""

import platform

from tests.bench import bench_board, bench_check, bench_cliffs, bench_job, bench_many, bench_place, bench_sizes
from tests.bench.bench_check import told


def main() -> None:
    """Print every benchmark."""
    told(f"Python {platform.python_version()} on {platform.machine()}, {platform.system()}")
    bench_check.main(7)
    bench_job.main()
    bench_many.main()
    bench_place.main()
    bench_sizes.main()
    bench_board.main()
    bench_cliffs.main()


if __name__ == "__main__":
    main()
