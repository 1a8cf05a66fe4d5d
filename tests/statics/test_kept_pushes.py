"""What is left of a push: what of it is asked with oil, what a sway takes off, and how it is followed, all made up."""

from collections.abc import Sequence
from dataclasses import replace
from math import inf, pi
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest

from loadplan.model.disturbance import PushAnswer
from loadplan.statics import sideways_push as push
from loadplan.statics.mass import Array
from loadplan.statics.push_limit import Hold, Limit
from loadplan.statics.push_tilt import Yielding
from loadplan.statics.sideways_push import least_pushes, stood, weakest
from loadplan.statics.sideways_resistance import Grip
from loadplan.statics.stacked_push import StackedGroup
from loadplan.statics.stance import Stance
from tests.statics import builders as make

AT = (0.0, 0.0, 1.2)
ASKED = 450.0
UPRIGHT, LEANT = np.array([1.0, 0.0, 0.0]), np.array([1.0, 0.0, -0.1])
JOB = make.job([make.part()], make.stands(make.SQUARE))
SAID, UNSAID = Grip(0.5, inf), Grip(0.5, inf, said=False)


def stance(*, sway: float = 0.2, borne: float = 1000.0, yields: object = None, stack: object = None) -> Stance:
    """How it stands: with so much of a sway, on stands that carry so much together."""
    loads = np.array([UPRIGHT, LEANT])
    carried = np.full(4, borne / 4)
    return Stance(sway, loads, carried, cast("Yielding | None", yields), cast("StackedGroup | None", stack))


def oiled(
    monkeypatch: pytest.MonkeyPatch,
    limit: Limit,
    *,
    there: float = 1e9,
    less: float | None = None,
    borne: float = 1000.0,
    yields: bool = False,
) -> tuple[float, list[float]]:
    """What is stood with oil, beside a limit without; and up to what the weakest way with oil was looked for."""
    asked: list[float] = []

    def found(holds: tuple[Hold, ...], _: Stance, below: float) -> tuple[Limit | None, ...]:
        if below == inf:
            return (limit,)
        asked.append(below)
        assert {each.friction for each in holds[0].resistance.grips} == {0.05}
        return (None if less is None else Limit(less, 0.0, "slides", ()),)

    def one_way(hold: Hold, towards: Sequence[float]) -> Limit:
        assert hold.load is not None
        assert hold.load[2] == LEANT[2]
        assert tuple(towards) == pytest.approx((0.0, 1.0, 0.0), abs=1e-12)
        return Limit(there, pi / 2, "slides", ())

    monkeypatch.setattr(push, "weakest", found)
    monkeypatch.setattr(push, "stands", one_way)
    frame = make.frame(JOB)
    settings = make.settings(frame, grips=(UNSAID,) * 4, pushed=(("unit", AT),), asked=ASKED)
    stands = stance(borne=borne, yields=SimpleNamespace(gives=None) if yields else None)
    (answer,) = least_pushes(frame, settings, stands)
    assert (answer.force, answer.first, answer.borne) == (limit.force, limit.first, borne)
    return answer.oiled, asked


def tips(force: float) -> Limit:
    return Limit(force, pi / 2, "tips", ("A", "B"))


def slides(force: float) -> Limit:
    return Limit(force, pi / 2, "slides", ())


@pytest.mark.parametrize(
    ("limit", "there", "less", "wanted", "asked"),
    [
        (tips(449.0), 1.0, 1.0, 449.0, []),
        (tips(450.0), 240.0, None, 192.0, []),
        (slides(199.0), 1.0, 1.0, 199.0, []),
        (slides(200.0), 249.0, 1.0, 0.8 * 249.0, []),
        (slides(201.0), 251.0, 190.0, 190.0, [201.0]),
        (slides(300.0), 1e3, None, 300.0, [300.0]),
        (slides(450.0), 1e3, None, 450.0, [450.0]),
        (slides(451.0), 1e3, None, inf, [450.0]),
        (tips(500.0), 1e3, 260.0, 260.0, [450.0]),
    ],
)
def test_with_oil_as_much_is_told_as_matters_beside_the_limit_without(
    monkeypatch: pytest.MonkeyPatch, limit: Limit, there: float, less: float | None, wanted: float, asked: list[float]
) -> None:
    """Asked are 450 N; of what slides a fifth of the 1000 N that it weighs; a sway of 0.2 takes off as much."""
    found, below = oiled(monkeypatch, limit, there=there, less=less)
    assert (found, below) == (pytest.approx(wanted), asked)


def test_what_gives_way_is_followed_and_no_sway_is_taken_off_it(monkeypatch: pytest.MonkeyPatch) -> None:
    assert oiled(monkeypatch, slides(300.0), there=199.0, yields=True) == (199.0, [])
    assert oiled(monkeypatch, slides(300.0), there=350.0, less=280.0, yields=True) == (280.0, [300.0])


def test_what_is_heavy_is_asked_for_no_more_than_the_push(monkeypatch: pytest.MonkeyPatch) -> None:
    """A fifth of 10 kN is more than 450 N."""
    assert oiled(monkeypatch, slides(449.0), borne=1e4) == (449.0, [])
    assert oiled(monkeypatch, slides(460.0), there=0.99 * 450 / 0.8, borne=1e4) == (pytest.approx(0.99 * 450), [])
    assert oiled(monkeypatch, slides(460.0), there=1.01 * 450 / 0.8, borne=1e4) == (inf, [450.0])


def test_where_every_friction_is_said_oil_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """And of two wholes the one that stands less comes first, each with what its own stands carry."""
    job = make.rider((0.3, 0.2), (0.3, -0.2))
    frame = make.frame(job)
    pushed = (("unit", AT), ("cradle", AT))
    settings = make.settings(frame, grips=(SAID,) * 6, pushed=pushed, asked=ASKED)
    limits = {frame.whole("unit"): tips(300.0), frame.whole("cradle"): slides(200.0)}
    monkeypatch.setattr(push, "weakest", lambda holds, *_: tuple(limits[each.body] for each in holds))
    stands = replace(stance(), carried=np.array([10.0, 20.0, 30.0, 40.0, 1.0, 2.0]))
    first, second = least_pushes(frame, settings, stands)
    assert second == PushAnswer(300.0, pi / 2, "unit", AT, "tips", ("A", "B"), 300.0, 3.0)
    assert first == PushAnswer(200.0, pi / 2, "cradle", AT, "slides", (), 200.0, 100.0)


def hold() -> Hold:
    return make.hold(JOB, AT, (SAID,) * 4)


class Asked:
    """What weakest ways are looked for with."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, *found: Limit | None) -> None:
        self.below, self.found = 0.0, found
        self.holds: tuple[Hold, ...] = ()
        monkeypatch.setattr(push, "weakest_pushes", self)

    def __call__(self, holds: tuple[Hold, ...], below: float) -> tuple[Limit | None, ...]:
        self.holds, self.below = holds, below
        return self.found


def test_a_sway_takes_its_share_off_and_more_is_looked_for_first(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = Asked(monkeypatch, slides(100.0), None)
    found = weakest((hold(), hold()), stance(), 200.0)
    assert found == (slides(80.0), None)
    assert asked.below == pytest.approx(250.0)
    for each in asked.holds:
        assert each.load.tolist() == LEANT.tolist()
        assert [one.tolist() for one in each.others] == [UPRIGHT.tolist()]


def test_what_has_nothing_left_or_is_overloaded_stands_no_push(monkeypatch: pytest.MonkeyPatch) -> None:
    Asked(monkeypatch, slides(100.0))
    nothing = (Limit(0.0, 0.0, "tips", ()),) * 2
    assert weakest((hold(), hold()), stance(sway=1.0), inf) == nothing
    assert weakest((hold(),), stance(sway=0.999), inf)[0] == slides(pytest.approx(0.1))  # type: ignore[arg-type]
    for bad in (UPRIGHT, LEANT):
        monkeypatch.setattr(push, "overloaded", lambda each, bad=bad: each.load.tolist() == bad.tolist())
        assert weakest((hold(), hold()), stance(), inf) == nothing


def test_what_stands_on_another_bears_what_that_leaves(monkeypatch: pytest.MonkeyPatch) -> None:
    Asked(monkeypatch, slides(100.0))
    seen: list[tuple[object, ...]] = []

    def borne(body: int, at: object, towards: Array, force: float) -> float:
        seen.append((body, at, towards.tolist(), force))
        return 0.5 * force

    assert weakest((hold(),), stance(stack=SimpleNamespace(borne=borne)), inf) == (slides(40.0),)
    ((body, at, towards, force),) = seen
    assert (body, at, force) == (0, AT, pytest.approx(80.0))
    assert towards == pytest.approx([0.0, 1.0, 0.0], abs=1e-12)


class Gives:
    """A whole that gives way: what touches changes beyond some force, and beyond another it has no rest."""

    touching = np.array([True, True])
    gives = None

    def __init__(self, changes: float, ends: float) -> None:
        self._changes, self._ends = changes, ends

    def pressed(self, at: object) -> Array:
        assert at == AT
        return np.diag([7.0, make.newton(100.0), 7.0])

    def leant_under(self, each: Array) -> SimpleNamespace:
        """Pushed to the left, each force comes as a share of the weight."""
        assert not each[:, [0, 2]].round(9).any()
        forces = each[:, 1]
        return SimpleNamespace(
            found=forces <= self._ends,
            touching=np.column_stack([forces <= self._changes, np.ones(len(forces), dtype=bool)]),
            loads=np.column_stack([forces, 0 * forces, 0 * forces]),
        )


@pytest.mark.parametrize(
    ("limit", "changes", "ends", "falls", "left"),
    [
        (100.0, 200.0, 200.0, 1.0, 100.0),
        (100.0, 50.0, 200.0, 100.0, 100.0),
        (100.0, 50.0, 200.0, 60.0, 60.0),
        (100.0, 200.0, 80.0, 90.0, 80.0),
        (100.0, 50.0, 80.0, 60.0, 60.0),
        (100.0, 50.0, 80.0, 1.0, 1.0),
        (800.0, 50.0, 80.0, 70.0, 70.0),
    ],
    ids=["touch stays", "stood at its end", "falls before", "no rest before", "both", "next to nothing", "far below"],
)
def test_a_limit_is_followed_to_where_it_is_still_stood(
    monkeypatch: pytest.MonkeyPatch, limit: float, changes: float, ends: float, falls: float, left: float
) -> None:
    """With the weights where a force leans them, so much is stood; told less by a four-thousandth at the most."""
    Asked(monkeypatch, slides(limit))
    monkeypatch.setattr(push, "stands", lambda each, _: slides(falls if each.load[0] else 1e9))
    (found,) = weakest((hold(),), stance(yields=Gives(changes, ends)), inf)
    assert found is not None
    assert left - limit / 8**4 * 1.001 <= found.force <= left
    assert replace(found, force=limit) == slides(limit)


@pytest.mark.parametrize(("sway", "left"), [(0.2, 48.0), (0.0, 60.0), (1.0, 0.0), (1.2, 0.0)])
def test_one_way_the_least_of_upright_and_leant_counts(
    monkeypatch: pytest.MonkeyPatch, sway: float, left: float
) -> None:
    monkeypatch.setattr(push, "stands", lambda each, _: slides(60.0 if each.load[2] else 90.0))
    assert stood(hold(), stance(sway=sway), (0.0, 1.0, 0.0)).force == pytest.approx(left)
    monkeypatch.setattr(push, "stands", lambda _, __: slides(inf))
    assert stood(hold(), stance(sway=sway), (0.0, 1.0, 0.0)).force == (inf if sway < 1 else 0.0)
    giving = stance(sway=sway, yields=Gives(1e9, 1e9))
    assert stood(hold(), giving, (0.0, 1.0, 0.0)).force == inf
    monkeypatch.setattr(push, "stands", lambda each, _: slides(60.0 if each.load[2] else 90.0))
    assert stood(hold(), giving, (0.0, 1.0, 0.0)).force == 60.0
