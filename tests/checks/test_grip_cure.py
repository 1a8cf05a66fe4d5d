"""What friction holds a unit that a push makes slide, and how much less to push: what is told holds. Made-up jobs."""

import re
from pathlib import Path

import pytest

from loadplan.model.verdict import Verdict
from tests.checks.small_jobs import STAND, Raw, judged, part, said, the, unit_job

PLACES = {"A": [400, 400, 200], "B": [400, -400, 200], "C": [-400, 400, 200], "D": [-400, -400, 200]}


def slippery(friction: float, push: float = 225, mass: float = 300) -> Raw:
    """A low unit that slides long before it tips; of what is light a tenth of its weight is asked, twice over."""
    block = part("block", "unit", mass, [0, 0, 250])
    limits = {"push": push, "margin": 1, "tip_angle": 1}
    return unit_job(PLACES, part=[block], limits=limits, equipment=[STAND | {"friction": friction}])


@pytest.mark.parametrize(("had", "push"), [(0.05, 225), (0.1, 225), (0.05, 120)])
def test_the_friction_that_is_told_holds_and_less_does_not(had: float, push: float, tmp_path: Path) -> None:
    finding = the(judged(slippery(had, push), tmp_path).stages[0], "push")
    assert finding.verdict > Verdict.HOLDS
    told = re.search(r" With a friction of (\d\.\d\d) on the saddles of A, B, C and D it stands that", said(finding))
    assert told, said(finding)
    needed = float(told[1])
    assert the(judged(slippery(needed, push), tmp_path).stages[0], "push").verdict is Verdict.HOLDS
    assert the(judged(slippery(needed - 0.05, push), tmp_path).stages[0], "push").verdict > Verdict.HOLDS


def test_half_of_what_is_stood_is_told_as_a_push(tmp_path: Path) -> None:
    finding = the(judged(slippery(0.1), tmp_path).stages[0], "push")
    assert finding.value is not None
    told = re.search(r"push it there by no more than (\d+) N", said(finding))
    assert told
    assert float(told[1]) == pytest.approx(finding.value / 2, rel=0.01)


def test_where_rubber_is_not_enough_it_is_said(tmp_path: Path) -> None:
    """By hand: pushed 3.1 m over its saddles, 0.4 m to the edge, it tips at 0.13 of its weight before it slides."""
    raw = slippery(0.1, push=800, mass=160)
    raw["part"].append(part("mast", "unit", 1, [0, 0, 3300]))
    finding = the(judged(raw, tmp_path).stages[0], "push")
    assert "it slides" in said(finding)
    assert " Rubber on the saddles of A, B, C and D alone would not do." in said(finding)
