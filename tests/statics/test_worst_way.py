"""The worst way: a cure names the side that goes first in the worst case, not the one that is nearest as given."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loadplan.model.answer import Balanced, GroupAnswer, Loose, Mode, Motion, Tips
from loadplan.model.verdict import Verdict
from loadplan.statics.worst_way import least_tilt_way, what_moves, worst_way
from tests.checks.builders import group
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


def way(name: str, margin: float, worst: float | None = None, tilt: float | None = None, body: str = "unit") -> Mode:
    """A way over that turns a body, by the margins as given and in the worst case [m]."""
    worsts = () if worst is None else ((body, worst),)
    return Mode((name,), (body,), (), 1.0, ((body, margin),), tip_angle=tilt, worst_margins=worsts)


def of_ways(*ways: Mode) -> GroupAnswer:
    return replace(group(("unit", "shell"), ()), modes=ways)


def test_of_a_body_the_way_with_the_least_worst_margin_is_the_worst() -> None:
    near, worst = way("A", 0.1, 0.09), way("B", 0.2, 0.05)
    other = way("C", 0.01, 0.01, body="shell")
    assert worst_way(of_ways(near, worst, other), "unit") is worst
    assert worst_way(of_ways(near, worst, other), "shell") is other
    assert worst_way(of_ways(near, worst, other)) is other
    assert worst_way(of_ways(near, worst), "shell") is None
    assert worst_way(of_ways()) is None


def test_of_ways_that_are_as_bad_the_first_is_named_which_is_nearest_as_given() -> None:
    first, same, less = way("A", 0.1, 0.05), way("B", 0.2, 0.05 - 0.9e-9), way("C", 0.3, 0.05 - 1.1e-9)
    assert worst_way(of_ways(first, same), "unit") is first
    assert worst_way(of_ways(first, less), "unit") is less


def test_where_no_worst_margin_is_known_the_one_as_given_counts() -> None:
    far, near = way("A", 0.2), way("B", 0.1)
    assert worst_way(of_ways(far, near), "unit") is near
    both = replace(way("A", 0.3, 0.2), worst_margins=(("unit", 0.2), ("shell", 0.05)))
    assert worst_way(of_ways(near, both)) is both


@pytest.mark.parametrize(("work", "is_worst"), [(-1.0, "worst"), (0.0, "worst"), (1e-9, "not"), (None, "not")])
def test_what_only_sinks_is_the_worst_where_its_work_may_be_gone(work: float | None, is_worst: str) -> None:
    sinks = Mode(("S",), ("unit",), (), 1.0, (), least_work=work)
    turns = way("A", 0.01, -0.5)
    assert worst_way(of_ways(turns, sinks)) is (sinks if is_worst == "worst" else turns)


def test_the_least_tilt_is_that_of_the_body() -> None:
    steep, flat, unknown = way("A", 0.1, tilt=0.3), way("B", 0.2, tilt=0.1), way("C", 0.01)
    other = way("D", 0.1, tilt=0.05, body="shell")
    assert least_tilt_way(of_ways(steep, unknown, flat, other), "unit") is flat
    assert least_tilt_way(of_ways(unknown, other), "unit") is None
    # Of two that are alike the first.
    assert least_tilt_way(of_ways(flat, replace(flat, about=("E",))), "unit") is flat


NOSE_DOWN, STILL = Motion(0.0, 0.0, 0.1), Motion(0.0, 0.0, 0.0)
BOTH = (("unit", NOSE_DOWN), ("shell", NOSE_DOWN))


def test_what_goes_over_is_named_by_the_way_in_which_it_does() -> None:
    """The proof turns both; the way over that is nearest takes one of them."""
    tips = replace(of_ways(), proof=Tips(BOTH))
    assert what_moves(replace(tips, modes=(way("A", -0.03),))) == ("unit",)
    assert what_moves(tips) == ("unit", "shell")


def test_what_may_go_over_is_named_by_the_worst_way_and_a_whole_group_where_it_stands() -> None:
    near, worst = way("A", 0.1, 0.05), way("B", 0.2, -0.05, body="shell")
    stands = replace(of_ways(near, replace(worst, bodies=("shell",))), proof=Balanced((), ()), robust=True)
    assert what_moves(stands) == ("unit", "shell")
    assert what_moves(replace(stands, robust=False)) == ("shell",)
    assert what_moves(replace(stands, robust=False, modes=())) == ("unit", "shell")


def test_what_is_free_to_rock_is_what_its_motion_moves() -> None:
    assert what_moves(replace(of_ways(), proof=Loose((("unit", NOSE_DOWN), ("shell", STILL))))) == ("unit",)
