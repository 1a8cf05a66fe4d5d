"""What a set of rows lets be."""

import numpy as np
import pytest

from loadplan.statics import null_space as room
from loadplan.statics.mass import Array
from loadplan.statics.null_space import SINGULAR, null_space, square_to


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


def drawn_sets(unknowns: int, seed: int) -> Array:
    """Three hundred sets of rows, some of which hang on each other: wholly, almost, or by one far shorter than most."""
    draw = np.random.default_rng(seed)
    sets = draw.normal(size=(300, unknowns - 1, unknowns))
    sets /= np.linalg.norm(sets, axis=2)[:, :, None]
    for number, rows in enumerate(sets[:200]):
        mixed = rows[:-1].T @ draw.normal(size=unknowns - 2)
        almost = mixed + 10.0 ** -(number % 13) * draw.normal(size=unknowns)
        rows[-1] = (mixed, almost, rows[0], 1e-3 * almost)[number % 4]
    return sets


@pytest.mark.parametrize("unknowns", range(3, 11))
def test_the_direction_is_the_one_that_singular_values_give(unknowns: int) -> None:
    """Decomposed one by one, and the same sets left out (Golub and Van Loan, Matrix Computations, 4th ed., 2.4)."""
    chosen = drawn_sets(unknowns, seed=unknowns)
    _, sizes, spaces = np.linalg.svd(chosen)
    wanted = spaces[sizes[:, -1] > SINGULAR, -1]
    found = square_to(chosen)
    assert found.shape == wanted.shape
    senses = np.sign((found * wanted).sum(axis=1))[:, None]
    assert senses * found == pytest.approx(wanted, abs=1e-10)
    assert 100 < len(found) < 300


def test_only_sets_that_rows_leave_in_doubt_are_decomposed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of twenty places by chance, with one mount between two assemblies, all but a few are told by determinants."""
    asked = []
    decomposed = room._by_singular_values
    monkeypatch.setattr(room, "_by_singular_values", lambda sets: asked.append(len(sets)) or decomposed(sets))
    draw = np.random.default_rng(3)
    assert len(square_to(draw.normal(size=(4000, 4, 5)))) == 4000
    x, y, z = np.eye(3)
    square_to(np.array([[x, x]] * 1000 + [[x, y]] * 1000 + [[x, x + 1e-6 * z]]))
    assert sum(asked) < 50


def test_rows_of_very_different_lengths_are_left_to_singular_values() -> None:
    """A row of next to no length is none, whatever way it points: sets of rows of length 1 are judged otherwise."""
    x, y, _ = np.eye(3)
    assert not len(square_to(np.array([[x, 1e-10 * y]])))
    assert len(square_to(np.array([[x, 1e-8 * y]]))) == 1
