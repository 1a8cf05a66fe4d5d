"""How high each saddle stands."""

from dataclasses import replace

import pytest

from loadplan.model.answer import Motion
from loadplan.model.job import Stack, Support
from loadplan.statics.gaps import is_touching, reference, set_gap, touch_gap
from tests.statics import builders as make

SET = make.support("A", (0, 0, 0.5), height=0.30)


def reference_of(*supports: Support) -> float | None:
    return reference(make.state(make.job([make.part()], supports)))


def test_the_reference_is_the_highest_saddle_against_its_place() -> None:
    """By hand, z less height less shim: 0.20, 0.15 and, with a shim of 0.08, 0.12."""
    lower = make.support("B", (1, 0, 0.5), height=0.35)
    shimmed = replace(make.support("C", (1, 1, 0.5), height=0.30), shim=Stack(0.08, "", crib=False))
    assert reference_of(SET, lower, shimmed) == pytest.approx(0.12)
    assert set_gap(SET, reference_of(SET, lower, shimmed)) == pytest.approx(0.08)
    assert set_gap(shimmed, reference_of(SET, lower, shimmed)) == pytest.approx(0.0)


@pytest.mark.parametrize(
    "support",
    [
        make.support("A", (0, 0)),
        make.support("A", (0, 0), height=0.3, standby=True),
        make.support("A", (0, 0), height=0.3, use=make.HOIST),
    ],
    ids=["no height", "standby", "hoist"],
)
def test_what_is_brought_up_to_touch_or_hangs_sets_no_reference(support: Support) -> None:
    assert reference_of(support) is None
    assert set_gap(support, 0.1) is None


def test_what_stands_on_a_body_is_measured_from_the_place_under_it() -> None:
    """By hand: a point at 0.9 over a foot at 0.58, a saddle at 0.30: 20 mm short; the floor's 0.20 does not count."""
    stacked = replace(make.support("B", (0, 0, 0.9), height=0.30, on="cradle"), foot=0.58)
    assert reference_of(SET, stacked) == pytest.approx(0.20)
    assert set_gap(stacked, 0.20) == pytest.approx(0.02)
    assert set_gap(replace(stacked, foot=None), 0.20) == 0.0


def test_without_a_reference_there_is_no_set_gap() -> None:
    assert set_gap(SET, None) is None


def test_stands_without_a_set_height_are_brought_up_to_touch() -> None:
    assert is_touching(make.support("A", (0, 0)))
    assert is_touching(make.support("A", (0, 0), height=0.3, standby=True))
    assert not is_touching(SET)
    assert not is_touching(make.support("A", (0, 0), use=make.ARM))
    assert not is_touching(make.support("A", (0, 0), use=make.HOIST))


def test_a_saddle_touches_where_its_body_is() -> None:
    """The body 5 mm down and tilted by 0.01 nose down: at x = 1 another 10 mm down."""
    motions = {"unit": Motion(-0.005, 0.0, 0.01), "cradle": Motion(-0.002, 0.0, 0.0)}
    assert touch_gap(make.support("A", (1, 0)), motions) == pytest.approx(0.015)
    assert touch_gap(make.support("A", (1, 0), on="cradle"), motions) == pytest.approx(0.013)
    assert touch_gap(make.support("A", (1, 0), on="elsewhere"), motions) == pytest.approx(0.015)
    assert touch_gap(make.support("A", (1, 0), body="unknown"), motions) == 0.0
