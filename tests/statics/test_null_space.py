"""What a set of rows lets be."""

import numpy as np
import pytest

from loadplan.statics.null_space import null_space, square_to


@pytest.mark.parametrize("rank", range(5))
def test_what_is_left_is_square_to_every_row_and_to_each_other(rank: int) -> None:
    """Rank and nullity make up the unknowns (rank-nullity theorem, any book of linear algebra)."""
    draw = np.random.default_rng(rank)
    rows = draw.normal(size=(6, rank)) @ draw.normal(size=(rank, 5))
    left = null_space(rows, 5)
    assert left.shape == (5 - rank, 5)
    assert rows @ left.T == pytest.approx(np.zeros((6, 5 - rank)), abs=1e-9)
    assert left @ left.T == pytest.approx(np.eye(5 - rank), abs=1e-12)


def test_without_rows_everything_is_left() -> None:
    assert null_space(np.zeros((0, 3)), 3) == pytest.approx(np.eye(3))


def test_of_rows_that_are_one_no_direction_is_told() -> None:
    x, y, z = np.eye(3)
    found = square_to(np.array([[x, y], [x, x], [y, z]]))
    assert np.abs(found) == pytest.approx(np.array([z, x]), abs=1e-12)
