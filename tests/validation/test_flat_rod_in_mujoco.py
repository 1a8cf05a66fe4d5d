"""A rod that lies nearly flat beside two mounts in one line, in mujoco (Apache licence): how well does it hold?

The upper unit leans on that line, 300 mm over it; the rod keeps it from rolling by pulling both mounts aside.
"""

from math import degrees
from pathlib import Path

import pytest

from loadplan.checks.sway import TOO_MUCH
from loadplan.model.verdict import CheckName, Verdict
from tests.reference.random_jobs import Job
from tests.reference.scenes import all_scenes, read_plan
from tests.validation.cases import lump, solved
from tests.validation.simulated import Simulated

CORNERS = {"A": (400, 400), "B": (400, -400), "C": (-400, 400), "D": (-400, -400)}


def flat_rod(under: int, third: int | None = None) -> Job:
    """Return a unit on mounts and a level rod so far under them [mm]; a third mount so far off their line."""
    at = [[-300, 0, 400], [300, 0, 400]] + ([] if third is None else [[0, third, 400]])
    tie = {"between": ["lower", "upper"], "stiffness": 300}
    mounts = [{"name": f"mount {number}", "kind": "mount", "at": each} | tie for number, each in enumerate(at)]
    rod = {"name": "rod", "kind": "link", "at": [0, 200, 400 - under], "to": [0, 400, 400 - under]} | tie
    stand = {"name": "stand", "kind": "stand", "rating": 9000, "rated_for": "each", "friction": 0.5}
    return {
        "limits": {"uneven": 0, "floor_slope": 0},
        "body": [{"name": "lower"}, {"name": "upper"}],
        "part": [lump("l", 80, [0, 0, 280], "lower"), lump("u", 150, [0, 20, 700], "upper")],
        "joint": [*mounts, rod],
        "equipment": [stand],
        "support": [
            {"name": name, "use": "stand", "body": "lower", "at": [*spot, 200], "height": 350}
            for name, spot in CORNERS.items()
        ],
        "stage": [{"name": "down", "in_place": list(CORNERS)}],
    }


@pytest.mark.parametrize(("under", "falls"), [(60, True), (100, False), (150, False)])
def test_what_a_flat_rod_does_not_hold_is_a_stop(under: int, falls: bool, tmp_path: Path) -> None:  # noqa: FBT001
    raw = flat_rod(under)
    (scene,) = all_scenes(raw, read_plan(raw))
    assert Simulated(scene, {"rod": tuple(raw["joint"][-1]["to"])}).fell is falls
    (stage,) = solved(raw, tmp_path)
    sway = max(group.sway or 0.0 for group in stage.statics.groups)
    assert (stage.verdict is Verdict.STOP, sway > TOO_MUCH) == (falls, falls)


def test_a_third_mount_a_hair_off_the_line_does_not_make_a_rod_hold(tmp_path: Path) -> None:
    """Level with the mounts it has no lever: the simulator lets the unit lean by some 5 degrees."""
    for third in (2, 20):
        (stage,) = solved(flat_rod(0, third), tmp_path)
        assert stage.verdict is Verdict.STOP


@pytest.mark.parametrize(("limit", "verdict"), [(5.0, Verdict.HOLDS), (0.1, Verdict.STOP)])
def test_out_of_level_a_unit_that_needs_a_rod_is_a_stop(limit: float, verdict: Verdict, tmp_path: Path) -> None:
    """Without the rod it goes over, and what a rod holds changes as the unit leans; common practice, no source."""
    raw = flat_rod(150)
    raw["limits"]["level"] = limit
    (stage,) = solved(raw, tmp_path)
    found = next(each for each in stage.findings if each.check is CheckName.LEVEL and each.subject == "upper")
    assert found.value is not None
    assert 0.1 < degrees(found.value) < 0.5
    assert found.verdict is verdict


def slanted(right_lower: float) -> Job:
    """Return the unit with a rod that slants: its lever about the mounts is 88 of 200 mm, a share of 0.44."""
    raw = flat_rod(0)
    raw["joint"][-1]["to"] = [0, 400, 302]
    raw["part"][1]["at"][1] = -20
    for each in raw["support"]:
        each["height"] -= right_lower * (each["at"][1] < 0)
    return raw


def test_a_slanted_rod_four_degrees_out_of_level_is_a_stop_where_a_corner_of_the_tolerance_falls(
    tmp_path: Path,
) -> None:
    """56 mm in 800: 4 degrees. 30 kg heavier, its centre 40 mm further to the low side and up, it goes over."""
    raw = slanted(56)
    raw["part"][1] |= {"mass_pm": 30, "at_pm": 40}
    (stage,) = solved(raw, tmp_path)
    stops = [each.subject for each in stage.findings if each.check is CheckName.LEVEL and each.verdict is Verdict.STOP]
    assert "upper" in stops
    corner = slanted(56)
    corner["part"][1] |= {"mass": 180, "at": [0, -60, 740]}
    (scene,) = all_scenes(corner, read_plan(corner))
    assert Simulated(scene, {"rod": tuple(corner["joint"][-1]["to"])}).fell
