"""One more support where the group leans: which places are judged together, and when a place is solved by itself."""

from types import SimpleNamespace

import numpy as np
import pytest

from loadplan.statics.mass import Array
from loadplan.statics.one_more_support import COARSE, _Leaning
from loadplan.statics.worst_margin import Flags

ASKED = 0.05
"""Margin that is asked for [m]."""


def _leaning() -> _Leaning:
    leaning = _Leaning.__new__(_Leaning)
    leaning._asked = SimpleNamespace(margin=ASKED, support=SimpleNamespace(body="unit"))  # type: ignore[assignment]
    return leaning


def test_every_place_is_judged_with_the_lean_of_its_own_square(monkeypatch: pytest.MonkeyPatch) -> None:
    """A place is no further than half a square's side from the middle of its own, and counted once, in its order."""
    seen: list[tuple[float, float]] = []

    def of_square(_: _Leaning, places: Array, middle: Array) -> Flags:
        seen.extend((float(x), float(y)) for x, y in places)
        assert np.abs(places - middle).max() <= COARSE / 2 + 1e-9
        front: Flags = places[:, 0] > 0
        return front

    monkeypatch.setattr(_Leaning, "_of_square", of_square)
    places = np.array([(x, y) for x in (-0.3, 0.01, 0.2, 0.22) for y in (-0.16, 0.0, 0.31)])
    assert list(_leaning().held(places)) == [x > 0 for x, _ in places]
    assert sorted(seen) == sorted((float(x), float(y)) for x, y in places)


@pytest.mark.parametrize(
    ("margin", "robust", "holds"),
    [
        (ASKED, True, True),
        (ASKED + 1e-6, True, True),
        (ASKED - 1e-6, True, False),
        (None, True, True),
        (ASKED + 1.0, False, False),
    ],
)
def test_a_place_solved_by_itself_holds_with_the_margin_asked_for(
    margin: float | None, *, robust: bool, holds: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The margin is that of the whole of the body: the other whole tips sooner, and is not asked about."""
    frame = SimpleNamespace(whole={"frame": 0, "unit": 1}.__getitem__)
    solved = SimpleNamespace(worst_margins=(-1.0, margin), answer=SimpleNamespace(robust=robust))
    monkeypatch.setattr(_Leaning, "_solved", lambda *_: (frame, solved))
    assert _leaning()._holds(np.array([0.1, 0.2])) is holds
