"""What comes down where in a stack, and what a push does to each of its wholes, by hand."""

from collections.abc import Sequence
from dataclasses import replace
from math import inf
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest

from loadplan.model.job import Job, Support
from loadplan.statics import stacked_push
from loadplan.statics.load_path import Growth, HeldGroup, PathEnd
from loadplan.statics.slope_response import ROCKS, Footing
from loadplan.statics.stacked_push import TIED, TIES, StackedGroup, stack
from tests.statics import builders as make

GROUND = cast(
    Footing,
    SimpleNamespace(
        merged=SimpleNamespace(columns=np.eye(6)),
        overturning=np.zeros(6),
        load=np.zeros(6),
        held=SimpleNamespace(gaps=np.zeros(7)),
    ),
)


def under(name: str, at: tuple[float, float, float], body: str, on: str = "") -> Support:
    return make.support(name, at, body=body, on=on)


def tower(*more: Support) -> Job:
    """A table on four stands of 0.2 m, and on its stands of 0.7 m a box."""
    parts = [
        make.part((0.0, 0.0), 100.0, name="t", body="table"),
        make.part((0.1, 0.0, 1.0), 40.0, name="b", body="box"),
    ]
    seats = [under(f"b{n}", (*at, 0.7), "box", "table") for n, at in enumerate([(0.3, 0.2), (0.3, -0.2), (-0.3, 0.0)])]
    return make.job(parts, [*make.stands(make.SQUARE, body="table"), *seats, *more], bodies=("table", "box"))


def stacked(job: Job, loads: Sequence[float]) -> StackedGroup | None:
    return stack(make.frame(job), GROUND, np.array(loads))


LOADS = (35.0, 35.0, 35.0, 35.0, 15.0, 15.0, 10.0)


def test_all_that_a_whole_carries_comes_down_on_what_its_stands_stand_on() -> None:
    found = stacked(tower(), LOADS)
    assert found is not None
    assert found.saddles == pytest.approx([0.2, 0.7])
    assert found.passed == pytest.approx(np.array([[0.0, 0.0], [1.0, 0.0]]))
    assert [found.kept(whole) for whole in (0, 1)] == [1.0, 1.0]


def test_what_stands_on_the_floor_as_well_ties_both_by_friction() -> None:
    """A quarter of 40 + 10 stands on the floor at 0.1 m: its saddles are at 0.58 m by what they carry."""
    found = stacked(tower(under("F", (0.0, 0.6, 0.1), "box")), (*LOADS, 10.0))
    assert found is not None
    assert found.saddles == pytest.approx([0.2, (40 * 0.7 + 10 * 0.1) / 50])
    assert found.passed == pytest.approx(np.array([[0.0, 0.0], [0.8, 0.0]]))
    assert [found.kept(whole) for whole in (0, 1)] == [TIED, TIES]
    assert found.borne(0, (0.0, 0.0, 0.5), np.array([1.0, 0.0, 0.0]), 0.0) == 0.0
    assert found.borne(0, (0.0, 0.0, 0.5), np.array([1.0, 0.0, 0.0]), inf) == inf


@pytest.mark.parametrize(
    "job",
    [
        make.job([make.part()], make.stands(make.SQUARE)),
        make.rider((0.3, 0.2), (0.3, -0.2)),
        tower(replace(under("H", (0.0, 0.0, 1.4), "box"), equipment=make.HOIST)),
        tower(under("U", (0.0, 0.0, 0.9), "table", "box")),
    ],
    ids=["one whole", "tied by a link", "hung", "round about"],
)
def test_what_is_no_stack_is_left_to_its_sway(job: Job) -> None:
    assert stacked(job, np.ones(len(make.frame(job).supports))) is None


def test_what_nothing_bears_is_no_stack_either() -> None:
    assert stacked(tower(), (*LOADS[:4], 0.0, 0.0, 0.0)) is None


class Followed:
    """What is followed, and how it is said to end."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, share: float, *, rocked: bool = False) -> None:
        self.growths: list[Growth] = []
        self._share, self._rocked = share, rocked
        monkeypatch.setattr(stacked_push, "followed", self)

    def __call__(self, _: HeldGroup, growth: Growth) -> PathEnd:
        self.growths.append(growth)
        return PathEnd(self._share * growth.limit, None, self._rocked)


PUSH = np.array([0.6, 0.8, 0.0])


@pytest.mark.parametrize(
    ("share", "rocked", "kept"), [(1.0, False, 1.0), (0.5, False, 0.5 / ROCKS), (1.0, True, 1.0), (0.5, True, 0.5)]
)
def test_as_much_is_borne_as_it_is_followed_to_less_where_it_rocks(
    monkeypatch: pytest.MonkeyPatch, share: float, kept: float, *, rocked: bool
) -> None:
    seen = Followed(monkeypatch, share, rocked=rocked)
    found = stacked(tower(), LOADS)
    assert found is not None
    assert found.borne(1, (0.0, 0.0, 1.0), PUSH, 100.0) == pytest.approx(100.0 * min(kept, 1.0))
    (growth,) = seen.growths
    assert growth.limit == growth.told == pytest.approx(100.0 / ROCKS / make.newton(140.0))
    assert growth.lowered.tolist() == [0.0] * 7


def test_a_push_turns_each_whole_by_its_height_over_the_saddles_of_that(monkeypatch: pytest.MonkeyPatch) -> None:
    """At 1 m: 0.3 m over the box's saddles, and these 0.5 m over the table's. A pull upward takes weight off."""
    seen = Followed(monkeypatch, 1.0)
    job = tower()
    found, span = stacked(job, LOADS), make.frame(job).span
    assert found is not None
    found.borne(1, (0.2, -0.1, 1.0), PUSH, 100.0)
    found.borne(0, (0.2, -0.1, 1.0), PUSH, 100.0)
    found.borne(1, (0.2, -0.1, 1.0), np.array([0.0, 0.0, 1.0]), 100.0)
    box, table, up = (each.added.reshape(2, 3) * span for each in seen.growths)
    assert box == pytest.approx(np.array([[0.0, -0.8 * 0.5, 0.6 * 0.5], [0.0, -0.8 * 0.3, 0.6 * 0.3]]))
    assert table == pytest.approx(np.array([[0.0, -0.8 * 0.8, 0.6 * 0.8], [0.0, 0.0, 0.0]]))
    assert up == pytest.approx(np.array([[0.0, 0.0, 0.0], [span, -0.1, -0.2]]))
