"""A stand that goes with a part: where it would have to be planned so that the step holds, solved. Made-up jobs."""

import re
from pathlib import Path

import pytest

from loadplan.model.plan_cure import StandUnder
from loadplan.model.verdict import Verdict
from tests.checks.small_jobs import STAND, Raw, judged, part, said, the

CORNERS = {"A": [400, 400, 200], "B": [400, -400, 200], "C": [-400, 400, 200]}
SQUARE = [{"name": "unit", "outline": [[900, 900], [900, -900], [-900, -900], [-900, 900]]}]


def losing(under: str, *free: tuple[str, list[float]]) -> Raw:
    """Three stands in the corners and D under the pump at the fourth; the pump comes off, and what is left tips."""
    points = {"pump": [-420, -380, 200]} | dict(free)
    return {
        "body": SQUARE,
        "part": [part("block", "unit", 400, [-60, -60, 500]), part("pump", "unit", 5, [-420, -380, 250])],
        "point": [
            {"name": name, "body": "unit", "at": at} | ({"part": "pump"} if name == "pump" else {})
            for name, at in points.items()
        ],
        "equipment": [STAND | {"base": 200}],
        "limits": {"tip_angle": 1},
        "support": [
            *({"name": name, "use": "stand", "body": "unit", "at": at} for name, at in CORNERS.items()),
            {"name": "D", "use": "stand", "under": under},
        ],
        "stage": [{"name": "on stands", "in_place": list("ABCD")}, {"name": "pump off", "off": ["pump"]}],
    }


def told(raw: Raw, folder: Path) -> str:
    finding = the(judged(raw, folder).stages[1], "bearing", "D")
    assert finding.verdict is Verdict.STOP
    return said(finding)


@pytest.mark.parametrize("more", [{}, {"say": "at the seam"}, {"part": "block"}], ids=["plain", "said", "on a part"])
def test_the_plan_is_changed_to_a_stand_under_that_point(more: Raw, tmp_path: Path) -> None:
    """Stands whose base nobody knows are in nobody's way."""
    raw = losing("pump", ("rail", [-400, -200, 200]), ("bracket", [-500, -500, 200]))
    raw["equipment"] = [{key: value for key, value in STAND.items() if key != "base"}]
    raw["point"][2] |= more
    finding = the(judged(raw, tmp_path).stages[1], "bearing", "D")
    assert finding.cure is not None
    assert finding.cure.found.cures == (StandUnder("D", "bracket"),)
    which = "bracket (at the seam)" if "say" in more else "bracket"
    assert f" Planned under {which} from the beginning, D stays," in said(finding)


def test_the_point_that_leaves_most_margin_is_told_and_holds(tmp_path: Path) -> None:
    free = [("rail", [-400, -200, 200]), ("bracket", [-500, -500, 200]), ("beside A", [420, 400, 200])]
    says = told(losing("pump", *free), tmp_path)
    found = re.search(
        r" Planned under bracket from the beginning, D stays, and nothing comes nearer than (\d+) mm", says
    )
    assert found, says
    after = judged(losing("bracket", *free), tmp_path).stages[1]
    assert the(after, "bearing", "D").verdict is Verdict.HOLDS
    margin = after.statics.bodies[0].worst_margin
    assert margin == pytest.approx(int(found[1]) / 1e3, abs=1e-3)


@pytest.mark.parametrize("place", [[380, -390, 200], [-80, 390, 200]], ids=["in the way", "no help"])
def test_a_point_that_is_taken_or_does_not_help_is_not_told(place: list[float], tmp_path: Path) -> None:
    assert "Planned under" not in told(losing("pump", ("spot", place)), tmp_path)


def test_where_the_step_holds_without_it_no_place_is_told(tmp_path: Path) -> None:
    raw = losing("pump", ("bracket", [-500, -500, 200]))
    raw["part"][0]["at"] = [200, 200, 500]
    assert "Planned under" not in told(raw, tmp_path)


def test_a_place_that_leaves_less_margin_than_the_job_wants_is_not_told(tmp_path: Path) -> None:
    raw = losing("pump", ("bracket", [-500, -500, 200]))
    raw["limits"] |= {"margin": 400}
    assert "Planned under" not in told(raw, tmp_path)
