"""That the benchmarks still run: nobody looks at them for weeks, and what they measure goes on changing."""

import re
import sys
from collections.abc import Callable
from functools import partial

import pytest

from tests.bench import bench_check, bench_job, bench_many


@pytest.mark.slow
@pytest.mark.parametrize(
    "measure", [partial(bench_check.main, 1), bench_job.main, bench_many.main], ids=["check", "job", "many"]
)
def test_a_benchmark_tells_its_ratios(
    measure: Callable[[], None], capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "argv", ["bench"])
    measure()
    told = capfd.readouterr().out
    assert re.search(r"loop|times longer", told)
    assert all(float(each) < 1e-9 for each in re.findall(r"differ by ([0-9.e-]+)", told))
