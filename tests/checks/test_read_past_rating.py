"""What scales read, against what stand, place, arm and lift may carry: whatever the plan says of it. Made-up jobs."""

from pathlib import Path

import pytest

from loadplan.model.verdict import Finding, Verdict
from tests.checks.small_jobs import STAND, Raw, judged, lifted_job, said, the, unit_job

THREE = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}
"""Three stands carry 100, 100 and 200 kg of 400 kg centred at (0, 0), whatever their stiffness."""

WIDE = {"name": "block", "body": "unit", "mass": 400, "mass_pm": 150, "at": [0, 0, 500], "at_pm": 200}
"""Known so badly that hardly any reading is outside its bounds."""


def read(folder: Path, *readings: Raw, **more: object) -> Finding:
    stage = [{"name": "on stands", "in_place": list(THREE), "readings": list(readings)}]
    job = unit_job(THREE, **({"stage": stage, "part": [WIDE]} | more))  # type: ignore[arg-type]
    return the(judged(job, folder).stages[0], "reading", readings[0]["support"])


@pytest.mark.parametrize(
    ("load", "verdict"), [(298.9, Verdict.STOP), (296, Verdict.CAUTION), (226, Verdict.CAUTION), (222, Verdict.NOTE)]
)
def test_a_scale_that_may_read_more_than_a_stand_may_carry_stops(tmp_path: Path, load: float, verdict: Verdict) -> None:
    """A stand for 300 kg, caution from three quarters of that; the scale may be 2 kg off."""
    kind = [STAND | {"rating": 300, "rated_for": "each"}]
    told = read(tmp_path, {"support": "C", "load": load, "pm": 2}, equipment=kind)
    assert told.verdict is verdict
    assert ("stand may carry" in said(told)) is (verdict > Verdict.NOTE)
    assert ("hold the weight before anything else" in said(told)) is (verdict is Verdict.STOP)


def test_a_place_that_takes_less_than_was_read_stops(tmp_path: Path) -> None:
    points = [{"name": f"under {name}", "body": "unit", "at": at, "limit": 2500} for name, at in THREE.items()]
    supports = [{"name": name, "use": STAND["name"], "under": f"under {name}"} for name in THREE]
    more = {"point": points, "support": supports}
    # 2500 N are 254.9 kg.
    assert read(tmp_path, {"support": "C", "load": 256, "pm": 1}, **more).verdict is Verdict.STOP
    assert "its place at C may take" not in said(read(tmp_path, {"support": "C", "load": 250, "pm": 1}, **more))


def test_scales_under_one_piece_add_up(tmp_path: Path) -> None:
    """A table for 300 kg with A and B on it: 160 kg under each are too much for it, though neither is."""
    supports = [{"name": name, "use": STAND["name"], "body": "unit", "at": at} for name, at in THREE.items()]
    on_one = [{**each, "piece": "table"} if each["name"] != "C" else each for each in supports]
    readings = [{"support": name, "load": 160, "pm": 1} for name in "AB"]
    kind = [STAND | {"rating": 300, "rated_for": "each"}]
    assert read(tmp_path, *readings, equipment=kind, support=on_one).verdict is Verdict.STOP
    assert read(tmp_path, *readings, equipment=kind).verdict < Verdict.STOP


@pytest.mark.parametrize(
    ("support", "load", "says"), [("bay", 4100, "that bay may lift"), ("sill front left", 1001, "one arm may carry")]
)
def test_gauge_and_arm_are_held_against_their_ratings(tmp_path: Path, support: str, load: float, says: str) -> None:
    job = lifted_job()
    pads = job["lift"]["pads"]
    name = pads[0] if support != "bay" else support
    job["stage"][0]["readings"] = [{"support": name, "load": load, "pm": 1}]
    told = the(judged(job, tmp_path).stages[0], "reading")
    assert told.verdict is Verdict.STOP
    assert says in said(told)
