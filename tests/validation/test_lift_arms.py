"""A four-arm lift carries a quarter of its rating an arm.

Common practice, no source; the loads by moments: a 10 000 lb lift allows 2 500 lb an arm. A vehicle of 9 000 lb with
3 000 lb on the front and 6 000 lb on the rear axle puts 3 000 lb on each rear arm: not allowed, though 9 000 < 10 000.
A 12 000 lb lift, 3 000 lb an arm, just does it. The rear axle's load is W x (distance of the centre of gravity to the
front axle) / wheelbase.
"""

from pathlib import Path

import pytest

from loadplan.model.verdict import StageAssessment, Verdict
from tests.reference.random_jobs import Job
from tests.validation.cases import G, expected, lump, solved

POUND = 0.45359237
PADS = {
    "front left": [0, 30, 8],
    "front right": [0, -30, 8],
    "rear left": [-120, 30, 8],
    "rear right": [-120, -30, 8],
}


def vehicle_on(rating: int, folder: Path) -> StageAssessment:
    """Return the vehicle on a lift of a rating [lb], pads under its axles 120 in apart, in US units, nothing uneven."""
    job: Job = {
        "units": "us",
        "body": [{"name": "vehicle"}],
        "part": [lump("vehicle", 9000.0, [-80, 0, 25], body="vehicle")],
        "point": [{"name": name, "body": "vehicle", "at": at} for name, at in PADS.items()],
        "lift": {"name": "bay", "rating": rating, "arms": 4, "use": "bay", "body": "vehicle", "pads": list(PADS)},
        "limits": {"uneven": 0, "uneven_touch": 0},
        "stage": [{"name": "up"}],
    }
    return solved(job, folder)[0]


def test_each_rear_arm_carries_3000_lb(tmp_path: Path) -> None:
    """Wheelbase 120 in, centre of gravity 80 in behind the front axle: 9 000·80/120 = 6 000 lb behind."""
    loads = expected(vehicle_on(10000, tmp_path))
    pounds = {name: load / G / POUND for name, load in loads.items()}
    assert pounds == pytest.approx(dict(zip(PADS, (1500, 1500, 3000, 3000), strict=True)), abs=1e-6)


@pytest.mark.parametrize(("rating", "verdict"), [(10000, Verdict.STOP), (12001, Verdict.CAUTION), (16000, None)])
def test_rating_of_an_arm_decides(rating: int, verdict: Verdict | None, tmp_path: Path) -> None:
    """10 000 lb: stop; 12 000 lb just does it (a pound more, for rounding), above 90 %: caution; 16 000 lb: well."""
    findings = vehicle_on(rating, tmp_path).findings
    arms = [each.verdict for each in findings if each.check == "lift" and each.subject.startswith("rear")]
    assert (max(arms, default=Verdict.HOLDS)) == (verdict or Verdict.HOLDS)
