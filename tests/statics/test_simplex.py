"""Many programmes side by side, against small ones by hand and HiGHS."""

from math import inf

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import linprog

from loadplan.statics import simplex
from loadplan.statics.mass import Array
from loadplan.statics.simplex import NoAnswerError, Programme, best, spread, start
from tests.examples import examples

SMALL = Programme(
    columns=np.array([[1.0, 3.0], [2.0, 1.0], [1.0, 0.0], [0.0, 1.0]]),
    right=np.array([4.0, 6.0]),
)
"""x + 2y <= 4, 3x + y <= 6, the last two columns being slack."""


def asked(*values: tuple[float, ...]) -> Array:
    return np.array([[*each, 0.0, 0.0] for each in values])


def test_each_programme_finds_its_own_corner() -> None:
    """By hand: corners (2, 0), (1.6, 1.2), (0, 2)."""
    value = asked((1, 1), (1, 0), (0, 1), (-1, -1))
    basis = spread(start(SMALL), 4)
    assert best(SMALL, basis, value) == pytest.approx([2.8, 2.0, 2.0, 0.0])
    assert basis.taken(4)[:3, :2] == pytest.approx(np.array([[1.6, 1.2], [2.0, 0.0], [0.0, 2.0]]))


def test_one_programme_without_end_leaves_the_others_alone() -> None:
    """By hand: x − y = 1, so both can grow for ever, and y has to be at least 0."""
    programme = Programme(np.array([[1.0], [-1.0]]), np.array([1.0]))
    worth = best(programme, spread(start(programme), 3), np.array([[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0]]))
    assert worth.tolist() == pytest.approx([inf, -1.0, inf])


def test_where_nothing_balances_there_is_no_answer() -> None:
    programme = Programme(np.array([[1.0, 0.0], [0.0, 1.0]]), np.array([1.0, -1.0]))
    with pytest.raises(NoAnswerError):
        start(programme)


def test_stand_ins_leave_the_basis_even_where_they_carry_nothing() -> None:
    """The first column alone meets the right side; the second would only add to the stand-in of its row."""
    programme = Programme(np.array([[1.0, 0.0], [0.0, -1.0]]), np.array([1.0, 0.0]))
    basis = start(programme)
    assert sorted(basis.kind[0].tolist()) == [0, 1]
    assert basis.taken(2)[0] == pytest.approx([1.0, 0.0])


def test_columns_come_from_an_oracle_too() -> None:
    """Corners of the unit disc, in shares that make up one: the furthest along (3, 4) is 5 from its middle.

    The given columns take a point of the disc apart into right and up.
    """

    def disc(price: Array) -> Array:
        towards = -price[:, :2] / np.maximum(np.linalg.norm(price[:, :2], axis=1, keepdims=True), 1e-30)
        return np.hstack([towards, np.ones((len(price), 1))])

    columns = np.array([[-1.0, 0, 0], [1, 0, 0], [0, -1, 0], [0, 1, 0]])
    programme = Programme(columns, np.array([0.0, 0.0, 1.0]), disc)
    basis = start(programme, np.array([1.0, 0.0, 1.0]))
    found = best(programme, basis, np.array([[3.0, -3.0, 4.0, -4.0]]))
    assert found[0] == pytest.approx(5.0, abs=1e-9)


@examples(25)
@given(st.integers(0, 99_999))
def test_random_programmes_agree_with_highs(seed: int) -> None:
    rng = np.random.default_rng(seed)
    rows, count = int(rng.integers(2, 6)), int(rng.integers(6, 15))
    columns = rng.integers(-3, 4, (count, rows)).astype(float)
    assume(np.linalg.matrix_rank(columns) == rows)
    programme = Programme(columns, rng.integers(0, 3, count) @ columns)
    value = rng.integers(-5, 3, (4, count)).astype(float)
    found = best(programme, spread(start(programme), 4), value)
    for each, worth in zip(value, found, strict=True):
        answer = linprog(-each, A_eq=columns.T, b_eq=programme.right)
        assert answer.status in (0, 3)
        assert worth == pytest.approx(-answer.fun if answer.status == 0 else inf, abs=1e-9)


def test_a_search_that_does_not_end_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    basis = start(SMALL)
    monkeypatch.setattr(simplex, "ROUNDS", 0)
    with pytest.raises(NoAnswerError):
        best(SMALL, basis, asked((1, 1)))


def test_after_long_waiting_choices_are_drawn_and_lead_to_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(simplex, "PATIENCE", -1)
    assert best(SMALL, start(SMALL), asked((1, 1)))[0] == pytest.approx(2.8)


def test_a_basis_serves_another_right_side_only_where_it_needs_no_less_than_none() -> None:
    """By hand: with x + 2y = a and 3x + y = b, y = (3a − b) / 5, below 0 for a = 1 and b = 6; for 5 and 5 (1, 2)."""
    basis = start(SMALL)
    best(SMALL, basis, asked((1, 1)))
    other = basis.at(np.array([5.0, 5.0]))
    assert other is not None
    assert other.taken(4)[0, :2] == pytest.approx([1.0, 2.0])
    assert basis.at(np.array([1.0, 6.0])) is None
