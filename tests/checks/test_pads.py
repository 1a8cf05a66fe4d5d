"""Pads in one line across: no front, no rear, whatever rounding makes of their mean."""

from pathlib import Path

import pytest

from loadplan.checks.pads import pads_of
from loadplan.model.verdict import Verdict
from tests.checks.builders import arm
from tests.checks.small_jobs import judged, lifted_job, the


@pytest.mark.parametrize("count", range(1, 13))
def test_pads_in_one_line_have_no_front(count: int) -> None:
    """Of three at −0.885 or 1.541 the mean of floats is not the number itself."""
    for x in (-0.885, 1.541, 0.1, 0.0):
        assert pads_of(tuple(arm(f"pad {number}", (x, 0.0)) for number in range(count))) is None


def test_a_lift_whose_pads_lie_in_one_line_is_a_stop_and_says_what_was_not_checked(tmp_path: Path) -> None:
    job = lifted_job(stage=[{"name": "up"}])
    job["point"] = [
        {"name": name, "body": "shell", "at": [-885, y, 180]} for name, y in zip("LMR", (700, 0, -700), strict=True)
    ]
    job["lift"] |= {"arms": 3, "pads": ["L", "M", "R"]}
    told = judged(job, tmp_path)
    assert the(told.stages[0], "lift", "shell").verdict is Verdict.STOP
    says = (
        "Whether the centre of the load on bay lies well inside its pads: not checked, they all lie in one line across"
    )
    assert (f"{says}.",) in told.not_checked
