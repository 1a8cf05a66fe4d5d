"""Stands, places and arms are held to what they carry with each centre of gravity where it is worst, too.

By levers: 300 kg on A, B (400 mm in front of the middle) and C (400 mm behind it), its centre within 80 mm along: C
carries 300·(400 + 80) / 800 = 180 kg. A vehicle of 1600 kg on four arms 2000 mm apart, its centre in the middle within
250 mm: the front pair carries 1600·1250 / 2000 = 1000 kg, 500 kg an arm on an even floor. Made-up jobs.
"""

from pathlib import Path

import pytest

from loadplan.model.verdict import Verdict
from tests.checks.small_jobs import EXACT, STAND, G, Raw, judged, lifted_job, only_stage, part, said, the

WITHIN = "leaning, with its weights and their places at the edge of their tolerance"


def on_three(at_pm: float, limit: float = 20000, rating: float = 20000) -> Raw:
    at = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}
    return {
        "body": [{"name": "unit"}],
        "part": [part("block", "unit", 300, [0, 0, 300]) | {"at_pm": [at_pm, 0, 0]}],
        "point": [{"name": f"q{name}", "body": "unit", "at": there, "limit": limit} for name, there in at.items()],
        "limits": {"floor_slope": 0},
        "equipment": [STAND | {"rating": rating}],
        "support": [{"name": name, "use": "stand", "under": f"q{name}"} for name in at],
        "stage": [{"name": "on stands", "in_place": list(at)}],
    }


@pytest.mark.parametrize(("spare", "verdict"), [(1, Verdict.HOLDS), (-1, Verdict.CAUTION)])
def test_a_place_takes_what_comes_with_the_centre_as_far_off_as_it_may_be(
    spare: float, verdict: Verdict, tmp_path: Path
) -> None:
    finding = the(only_stage(on_three(80, limit=180 * G + spare), tmp_path), "point", "C")
    assert finding.verdict is verdict
    assert (WITHIN in said(finding)) == (verdict is Verdict.CAUTION)
    # Tables show the most on this floor.
    assert finding.value == pytest.approx(150 * G)


@pytest.mark.parametrize(
    ("rating", "verdict"), [(240, Verdict.HOLDS), (181, Verdict.CAUTION), (179, Verdict.CAUTION), (149, Verdict.STOP)]
)
def test_a_stand_carries_what_comes_with_the_centre_as_far_off_as_it_may_be(
    rating: float, verdict: Verdict, tmp_path: Path
) -> None:
    finding = the(only_stage(on_three(80, rating=rating), tmp_path), "rating", "C")
    assert finding.verdict is verdict
    assert (f"{WITHIN} up to 180 kg, too much." in said(finding)) == (rating == 179)


@pytest.mark.parametrize(
    ("rating", "verdict"), [(600, Verdict.HOLDS), (501, Verdict.HOLDS), (499, Verdict.CAUTION), (399, Verdict.STOP)]
)
def test_an_arm_carries_what_comes_with_the_centre_as_far_off_as_it_may_be(
    rating: float, verdict: Verdict, tmp_path: Path
) -> None:
    job = lifted_job(
        part=[part("shell", "shell", 1600, [-1250, 0, 600]) | EXACT | {"at_pm": [250 * 0.75, 0, 0]}],
        body=[{"name": "shell"}],
        joint=[],
        support=[],
        limits={"uneven_touch": 0, "floor_slope": 0, "arm_share": "100 %"},
        stage=[{"name": "up", "lift_locked": True}],
    )
    # The pads of this lift are 1500 mm apart: 1600·(750 + 187.5) / 1500 = 1000 kg on a pair.
    job["lift"]["arm_rating"] = rating
    (stage,) = judged(job, tmp_path).stages
    finding = the(stage, "lift", "FL")
    assert finding.verdict is verdict
    assert ("at most 500 kg" in said(finding)) == (verdict is Verdict.CAUTION)


def test_a_place_takes_what_a_unit_out_of_level_puts_on_it(tmp_path: Path) -> None:
    """Saddles 68 mm lower in front on 800 mm: 4.86 degrees, so 300 kg 700 mm over them lie 59 mm further forward."""
    at = {"A": [400, 0, 200], "C": [-400, 400, 200], "D": [-400, -400, 200]}
    job = on_three(2) | {
        "part": [part("low", "unit", 200, [0, 0, 900]), part("side", "unit", 100, [200, 100, 900])],
        "point": [{"name": f"q{name}", "body": "unit", "at": there, "limit": 1800} for name, there in at.items()],
        "support": [
            {"name": name, "use": "stand", "under": f"q{name}", "height": 350 if name == "A" else 418} for name in at
        ],
        "stage": [{"name": "on stands", "in_place": list(at)}],
    }
    finding = the(only_stage(job, tmp_path), "point", "A")
    # (120000 + 20000 + 300 * 59.3) / 800 = 197 kg, on a place for 184; its own lean on the stands adds to that.
    assert finding.verdict is Verdict.CAUTION
    assert "takes at most 198 kg, leaning" in said(finding)
