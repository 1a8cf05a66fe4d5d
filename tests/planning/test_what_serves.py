"""What reaches a point with the unit at a level, to the setting and what it may be off."""

from dataclasses import replace

import pytest

from loadplan.model.job import Stage
from loadplan.model.shop import Heights
from loadplan.model.vehicle import Point
from loadplan.planning.placement.common_level import reaches
from loadplan.planning.placement.layout_space import Space, movable, serves, space
from tests.checks.builders import HOIST, JACK, STAND, job, support

SCREW = replace(STAND, heights=Heights(0.30, 0.40, ()))
STEPS = replace(STAND, heights=Heights(0.30, 0.40, (0.30, 0.35, 0.40)))
BARE = replace(STAND, heights=None)
SLACK = 0.003


def at(height: float) -> Point:
    """A point that needs a saddle that high with the unit 100 mm up."""
    return Point("p", "unit", (0.0, 0.0, height - 0.1), None, "")


@pytest.mark.parametrize(
    ("need", "screw", "steps"),
    [
        (0.296, False, False),
        (0.298, True, True),
        (0.312, True, False),
        (0.348, True, True),
        (0.356, True, False),
        (0.402, True, True),
        (0.404, False, False),
    ],
)
def test_it_reaches_up_to_what_it_may_be_off(need: float, *, screw: bool, steps: bool) -> None:
    assert serves(SCREW, at(need), 0.1, SLACK) is screw
    assert serves(STEPS, at(need), 0.1, SLACK) is steps
    assert serves(BARE, at(need), 0.1, SLACK)


def test_what_oil_holds_is_not_planned_where_it_is_left_alone() -> None:
    shop = replace(job().shop, equipment=(JACK, HOIST, STAND))
    attended, alone = (
        replace(job(), shop=shop, stages=(Stage("work"), Stage("night", unattended=night))) for night in (False, True)
    )
    assert movable(attended) == (JACK, STAND)
    assert movable(alone) == (STAND,)


def test_equipment_of_which_none_is_left_reaches_nothing() -> None:
    """Of one, one is out of use."""
    for count, there in ((6, {"high", "low"}), (1, {"low"})):
        high = replace(STAND, name="high", count=count, out_of_use=("S4",))
        shop = replace(job().shop, equipment=(replace(STAND, name="low"), high))
        found = reaches(Space(replace(job(), shop=shop), 0, (at(0.30), at(0.35))))
        assert {piece.name for reach in found for piece, _ in reach.pieces} == there


def test_what_is_set_aside_vanishes_from_the_steps() -> None:
    stays, goes = replace(support("K"), keep=True), support("A")
    stages = (Stage("in", in_place=("A", "K")), Stage("out", cleared=("K", "A")))
    left = space(replace(job(), supports=(goes, stays), stages=stages)).job
    assert left.supports == (stays,)
    assert [(each.in_place, each.cleared) for each in left.stages] == [(("K",), ()), ((), ("K",))]
