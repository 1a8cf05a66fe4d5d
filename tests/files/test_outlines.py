"""Outlines: a corner near a slanting side is not on it."""

import pytest

from loadplan.files.outline import trouble
from loadplan.model.vehicle import PlanPoint

Corners = tuple[PlanPoint, ...]

SLANTING: Corners = ((0, 0), (3, 1), (4, 0), (4, 4))


@pytest.mark.parametrize("turn", range(4))
def test_a_corner_beside_a_slanting_side_is_no_crossing(turn: int) -> None:
    """The side from (4, 4) to (0, 0) passes (3, 1) at a distance."""
    assert trouble((*SLANTING[turn:], *SLANTING[:turn])) is None


@pytest.mark.parametrize("corner", [(3, 3), (2, 3)])
def test_a_corner_on_or_beyond_it_is_one(corner: PlanPoint) -> None:
    wrong = trouble(((0, 0), corner, (4, 0), (4, 4)))
    assert wrong is not None
    assert wrong.startswith("crosses itself between corners")
