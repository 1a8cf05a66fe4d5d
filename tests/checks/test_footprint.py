"""Footprints: what shares floor, and what only touches."""

import pytest

from loadplan.checks.footprint import area, overlap, room
from loadplan.model.shop import Circle, Footprint, Square


@pytest.mark.parametrize("across", [False, True])
@pytest.mark.parametrize(
    ("first", "second", "touch"),
    [
        (Square(0.5, 0.5), Square(0.5, 0.5), 0.5),
        (Square(0.5, 0.5), Circle(0.5), 0.5),
        (Circle(0.5), Circle(0.25), 0.375),
        (Circle(0.0), Circle(0.5), 0.25),
    ],
)
def test_footprints_that_only_touch_share_no_floor(
    first: Footprint,
    second: Footprint,
    touch: float,
    across: bool,  # noqa: FBT001
) -> None:
    """All by powers of two, so that touching is exact; a quarter of a millimetre either way is not."""
    for by, shares, gap in ((0.0, False, 0.0), (-(2.0**-12), True, 0.0), (2.0**-12, False, 2.0**-12)):
        at = (0.0, touch + by) if across else (touch + by, 0.0)
        one, other = area(first, (0.0, 0.0)), area(second, at)
        assert overlap(one, other) is overlap(other, one) is shares
        assert room(one, other) == room(other, one) == gap
