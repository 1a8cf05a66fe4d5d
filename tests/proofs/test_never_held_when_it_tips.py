"""Wherever any mass and centre inside tolerance is not balanced, the verdict on balance is a stop."""

from pathlib import Path

from tests.proofs.held import wrongly_held
from tests.reference.random_jobs import random_job


def test_what_tips_anywhere_inside_tolerance_is_a_stop(tmp_path: Path) -> None:
    for seed in range(5000, 5250):
        assert not list(wrongly_held(random_job(seed), tmp_path, seed)), seed
