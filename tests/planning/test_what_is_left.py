"""How many pieces are left to place beside those that stay."""

from dataclasses import replace

import pytest

from loadplan.planning.placement.layout_space import usable
from tests.checks.builders import STAND, support


def test_a_piece_that_stays_is_taken_once_however_many_supports_it_makes() -> None:
    """Of six, one is out of use, the table T makes two supports, and a stand happens to be called T as well."""
    table = [replace(support(name), piece="T") for name in "AB"]
    assert usable(STAND, (*table, support("T"))) == 3
    assert usable(STAND, ()) == 5


@pytest.mark.parametrize(("count", "left"), [(None, None), (1, 0), (2, 0), (3, 1)])
def test_there_are_never_fewer_than_none(count: int | None, left: int | None) -> None:
    assert usable(replace(STAND, count=count), (support("A"),)) == left


def test_other_equipment_takes_none_of_them() -> None:
    assert usable(STAND, (support("A", replace(STAND, name="other")),)) == 5
