"""Stands raised before a unit comes free, by hand: from four arms on as many stands, all about one middle."""

from dataclasses import replace

import pytest

from loadplan.model.answer import Statics
from loadplan.model.job import Job, Stage, Support
from loadplan.model.step_change import DropCure, Raising
from loadplan.stages import states
from loadplan.statics import drop_raise
from loadplan.statics import stage_sequence as sequence
from loadplan.statics.contact_loads import NoEquilibriumError
from loadplan.statics.group import glance_between
from tests.statics import builders as make

IN = tuple("ABCD")

WEIGHT, KS, KA = make.newton(300.0), 4e6, 1.6e6


def falls(lowered: float) -> float:
    """By hand: so far past first touch the stands have taken d / (1 / ks + 1 / ka); the rest comes on them at once."""
    return (WEIGHT - lowered / (1 / KS + 1 / KA)) / KS


def let_go(drop: float, *more: Support, limit: float | None = None, seats: tuple[Support, ...] = ()) -> Job:
    """Lowered by 1 mm past first touch, then parted; a drop of so much is allowed."""
    parts = [make.part(mass=300.0), make.part(mass=900.0, name="s", body="shell")]
    bolts = [make.bolts("bolts", ("unit", "shell"), ((0.0, 0.0, 0.4),))]
    standing = [*(seats or (replace(each, limit=limit) for each in make.stands(make.SQUARE))), *more]
    down = Stage("down", tuple(each.name for each in standing), lowered=0.001)
    stages = [down, Stage("parted", undone=("bolts",))]
    limits = replace(make.NO_LIMITS, drop=drop)
    return make.job(parts, standing, joints=bolts, stages=stages, lift=make.lift_use(make.SQUARE), limits=limits)


def told(job: Job) -> Statics:
    return sequence.solve_stages_by(glance_between, job, states(job), lambda _: None)[-1]


def cures(job: Job) -> tuple[DropCure, ...]:
    return told(job).change.drop_cures


def alike(by: float) -> tuple[DropCure, ...]:
    return (DropCure("unit", tuple(Raising(name, pytest.approx(by)) for name in IN)),)


def test_what_drops_no_further_than_is_allowed_needs_no_cure() -> None:
    assert cures(let_go(falls(0.001) + 1e-6)) == ()
    assert max(each.fall for each in told(let_go(1.0)).change.drops) == pytest.approx(falls(0.001))


def test_as_many_millimetres_at_all_stands_alike_as_it_takes() -> None:
    """One stand alone tilts it: then another place sinks. 1 mm more leaves 0.16 mm, 2 mm nothing."""
    assert falls(0.002) == pytest.approx(0.00016, abs=1e-5)
    assert cures(let_go(falls(0.002) + 1e-6)) == alike(0.001)
    assert cures(let_go(falls(0.002) - 1e-6)) == alike(0.002)


def test_one_stand_in_the_middle_takes_it_alone() -> None:
    """By hand: raised by h it takes what four and it had not, as long as these keep some of their load."""
    middle = make.support("M", (0.0, 0.0), use=replace(make.STAND, stiffness=1e6))
    before = max(each.fall for each in told(let_go(1.0, middle)).change.drops)
    found = cures(let_go(0.9 * before, middle))
    assert found == (DropCure("unit", (Raising("M", pytest.approx(0.001)),)),)


def test_a_raise_that_would_overload_a_place_is_none() -> None:
    """All alike: each then bears a quarter of it, parted, whatever they were raised by."""
    tight = falls(0.002) + 1e-6
    assert cures(let_go(tight, limit=WEIGHT / 4 - 1.0)) == alike(0.001)
    middle = make.support("M", (0.0, 0.0))
    before = max(each.fall for each in told(let_go(1.0, middle)).change.drops)
    assert cures(let_go(0.9 * before, middle))[0].raises[0].support == "M"
    weak = replace(middle, limit=WEIGHT / 5 + 1.0)
    assert [each.support for each in cures(let_go(0.9 * before, weak))[0].raises] != ["M"]
    rated = replace(middle, equipment=replace(make.STAND, rating=WEIGHT / 5 + 1.0))
    assert [each.support for each in cures(let_go(0.9 * before, rated))[0].raises] != ["M"]


def test_only_stands_that_are_set_by_hand_before_and_after_are_raised() -> None:
    hoists = tuple(replace(each, equipment=make.HOIST) for each in make.stands(make.SQUARE))
    assert cures(let_go(1e-5, seats=hoists)) == ()


def test_no_raise_beyond_what_anybody_would_set_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(drop_raise, "REACH", 1)
    assert cures(let_go(falls(0.002) + 1e-6)) == alike(0.001)
    assert cures(let_go(falls(0.002) - 1e-6)) == ()


def test_a_drop_that_is_not_found_again_or_cannot_be_computed_has_no_cure(monkeypatch: pytest.MonkeyPatch) -> None:
    job = let_go(falls(0.002) + 1e-6)
    real = drop_raise._ups
    monkeypatch.setattr(drop_raise, "_ups", lambda frame, *more: real(frame, *more) * (1 + 3e-3))
    assert cures(job) == ()
    monkeypatch.setattr(drop_raise, "_ups", real)
    assert cures(job) == alike(0.001)

    def fails(*_: object) -> None:
        raise NoEquilibriumError

    monkeypatch.setattr(drop_raise, "settle", fails)
    assert cures(job) == ()
