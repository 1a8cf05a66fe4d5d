"""Every figure of random jobs, read from real files, against an independent solver."""

from pathlib import Path
from random import Random

import pytest

from tests.proofs.held_as_it_settles import with_tolerance
from tests.reference.compare import differences
from tests.reference.parts_off import parts_off
from tests.reference.random_jobs import FAMILIES, random_job
from tests.validation.six_families import FAMILIES as SIX_FAMILIES

ROUNDS = 2
"""Jobs of each family here; `python -m tests.reference.compare 0 1000` goes on."""


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(ROUNDS * len(FAMILIES)))
def test_every_figure_agrees_with_the_judge(seed: int, tmp_path: Path) -> None:
    """Balance, proofs, modes, margins, tip angles, gaps, loads, bounds, mount forces, holes, snags, set-down."""
    assert differences(random_job(seed), tmp_path) == []


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_what_goes_with_a_part_or_hangs_on_a_link_agrees_with_the_judge(seed: int, tmp_path: Path) -> None:
    """Stands under air, joints that their part takes along, links, heights set anew, every set of parts that is on."""
    assert differences(parts_off(seed), tmp_path) == []


@pytest.mark.slow
@pytest.mark.parametrize("seed", [109664, 117374])
def test_loads_that_settle_only_after_hundreds_of_steps_are_told(seed: int, tmp_path: Path) -> None:
    assert differences(random_job(seed), tmp_path) == []


@pytest.mark.slow
@pytest.mark.parametrize("family", ["tall on soft stands", "unequal heights", "parts off"])
def test_what_gives_way_agrees_with_the_judge(family: str, tmp_path: Path) -> None:
    """A slope brought on in small steps, and the corners of the tolerance: tip angles, worst margins, balance."""
    for seed in (2, 5, 8):
        raw = with_tolerance(SIX_FAMILIES[family](Random(seed)))
        assert differences(raw, tmp_path) == [], seed
