"""The worst way: a cure names the side that goes first in the worst case, not the one that is nearest as given."""

from pathlib import Path
from typing import Any

import pytest

from loadplan.checks.worst_way import worst_way
from loadplan.model.verdict import Verdict
from tests.checks.small_jobs import only_stage, part, said, the, unit_job

CORNERS = {"A": [300, 400, 200], "B": [300, -400, 200], "C": [-300, 400, 200], "D": [-300, -400, 200]}


def poorly_known_across(across: float) -> dict[str, Any]:
    """A block 180 mm behind the front edge and 380 mm from the left one, of which nobody knows well how far left."""
    block = part("block", "unit", 400, [120, 20, 500]) | {"at_pm": [0, across, 0]}
    return unit_job(CORNERS, part=[block], limits={"margin": 100, "floor_slope": 0, "uneven_touch": 0})


def test_the_cure_names_the_worst_side_and_not_the_nearest_as_given(tmp_path: Path) -> None:
    """As given 180 mm to the front and 380 mm to the left; 300 mm off to the left leave 80 mm there, 180 in front.

    The block leans a little towards the front and left, where the stands are pressed more: some tenths of a millimetre.
    """
    stage = only_stage(poorly_known_across(300), tmp_path)
    (group,) = stage.statics.groups
    assert group.modes[0].about == ("A", "B")
    worst = worst_way(group)
    assert worst is not None
    assert worst.about == ("A", "C")
    assert dict(worst.worst_margins)["unit"] == pytest.approx(0.080, abs=0.001)
    found = the(stage, "margin")
    assert found.verdict is Verdict.CAUTION
    assert "to the left, turning about A and C" in said(found)
    assert "front" not in said(found)


def test_a_stop_inside_the_tolerance_names_that_side_too(tmp_path: Path) -> None:
    stop = the(only_stage(poorly_known_across(400), tmp_path), "balance")
    assert stop.verdict is Verdict.STOP
    assert "may tip to the left, turning about A and C," in said(stop)
    assert "under its left end" in said(stop)


def test_known_alike_the_nearest_side_is_the_worst(tmp_path: Path) -> None:
    (group,) = only_stage(poorly_known_across(0), tmp_path).statics.groups
    worst = worst_way(group)
    assert worst is not None
    assert worst.about == ("A", "B")
