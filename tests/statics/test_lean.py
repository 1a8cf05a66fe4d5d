"""What a lean takes off the motions of a group, by hand."""

import numpy as np
import pytest

from loadplan.statics.lean import Lean, carried_work


def test_what_stands_on_a_whole_takes_off_each_turn_the_way_that_it_leans() -> None:
    """Tilt along the turn, times what is carried: 0.02 · 0.5 about x, 0.03 · 0.5 about y, and nothing the other way."""
    first, second = (0.0, 0.0, 0.0), (0.0, 1.0, 1.0)
    turns = [(0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0), (1.0, 0.0, 0.0)]
    motions = np.array([(*turn, *first) for turn in turns] + [(*first, *second)])
    lean = Lean(np.array([[[0.02, 0.03], [0.0, 0.0]]]), 1.0)
    # The second whole stands on the first.
    carried = np.array([[0.0, 0.0], [0.5, 0.0]])
    assert carried_work(motions, lean, carried) == pytest.approx([0.010, 0.015, 0.0, 0.0, 0.0])


def test_of_several_tilts_the_one_counts_that_takes_off_most() -> None:
    lean = Lean(np.array([[[0.02, 0.0]], [[-0.01, 0.04]]]), 1.0)
    motions = np.array([(0.0, 1.0, 0.0), (0.0, -1.0, 0.0), (0.0, 1.0, 1.0)])
    assert carried_work(motions, lean, np.array([[1.0]])) == pytest.approx([0.02, 0.01, 0.03])
