"""A group on the way between two stages: what each support comes to carry at most, held against the whole look."""

from dataclasses import replace
from math import inf

import pytest

from loadplan.statics.group import solve
from loadplan.statics.passage import solve_in_passing
from tests.statics import builders as make

SOFT = replace(make.STAND, stiffness=5e4)
FRAME = make.frame(make.job([make.part((0.1, 0.05), mass_pm=5.0)], make.stands(make.SQUARE, use=SOFT)))
SETTINGS = make.settings(FRAME, uneven=(0.002,) * 4)
"""100 kg, known to 5 kg, on four soft stands that may each be 2 mm off."""


def ranges(asked: float) -> list[tuple[float, ...]]:
    found = solve_in_passing(FRAME, SETTINGS, asked)
    assert found.loads is not None
    told = [load.range for load in found.loads]
    return [(each.low, each.high, each.least, each.most or inf) for each in told if each and each.least is not None]


def whole() -> list[tuple[float, ...]]:
    found = solve(FRAME, SETTINGS)
    assert found.loads is not None
    told = [load.range for load in found.loads]
    return [(each.low, each.high, each.least, each.most or inf) for each in told if each and each.least is not None]


def test_near_its_rating_every_load_has_the_range_of_the_whole_look() -> None:
    assert len(whole()) == 4
    for told, known in zip(ranges(0.0), whole(), strict=True):
        assert told == pytest.approx(known)


@pytest.mark.parametrize("asked", [0.0, 1e9], ids=["near its rating", "far from it"])
def test_the_first_stand_carries_more_and_less_by_hand(asked: float) -> None:
    """W (1/4 + cx / 4 b + cy / 4 b) = 0.325 W there, b = 0.5 m; one saddle h higher takes k h / 4, and so may all four.

    So from least to most: 2 k h, and what 5 kg more or less put there.
    """
    low, high, least, most = ranges(asked)[0]
    assert high - low == pytest.approx(2 * 5e4 * 0.002 + 2 * 0.325 * make.newton(5.0))
    assert least <= low < 0.325 * make.newton(100.0) < high <= most
