"""A weighed body whose listed parts all come off: these may come to more than it, as far as tolerance goes."""

from pathlib import Path

import pytest

from tests.files.builders import faults, small


@pytest.mark.parametrize(
    ("block", "fits"),
    [(75, True), (82, True), (90, False)],
    ids=["less than it", "more, inside tolerance", "more, whatever the tolerance"],
)
def test_they_may_outweigh_it_inside_tolerance(tmp_path: Path, block: float, *, fits: bool) -> None:
    """Weighed as 100 ± 1 kg; the head of 20 ± 2 kg and the block ± 3 kg come off, at least block + 15 kg in all."""
    job = small(support=None, stage=[{"name": "apart", "off": ["head", "block"]}], lift=None)
    job["body"][1]["weighed"] = {"mass": 100, "mass_pm": 1, "cg": [0, 0, 500]}
    job["part"][1] |= {"mass_pm": 2}
    job["part"][2] |= {"mass": block, "mass_pm": 3}
    found = [each.message for each in faults(tmp_path, job)]
    assert (found == []) is fits
    assert fits or "takes off more than" in found[0]
