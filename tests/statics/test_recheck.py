"""The second solution: it agrees with the first on every demo, and notices a number that is bent."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.files.shipped import shipped_folder
from loadplan.model.answer import Statics
from loadplan.model.job import Job, Stage
from loadplan.report.text.recheck_page import agrees, recheck_page
from loadplan.stages import states
from loadplan.statics import group, uneven_floor
from loadplan.statics.contact_loads import Settled, Springs, settle
from loadplan.statics.load_bounds import Bounds, load_bounds
from loadplan.statics.recheck import APART, Compared, recheck
from tests.statics import builders as make

DEMO = shipped_folder("demo")
JOBS = ("us-units", "rocking-on-two-stands", "battery-pack-table", "drive-unit-on-oil")
KINDS = {"load", "least here", "most here", "least ever", "most ever"}


def told_of(job: Job) -> tuple[Statics, ...]:
    return tuple(stage.statics for stage in assess(job).stages)


@pytest.mark.parametrize("name", JOBS)
def test_both_solutions_agree_on_every_number(name: str) -> None:
    job = read_job(DEMO / f"{name}.toml")
    told = told_of(job)
    found = recheck(job, states(job), told)
    assert max(each.apart for each in found) < 1e-8
    assert {each.what for each in found} >= KINDS
    assert agrees(found)
    assert "DO NOT USE" not in recheck_page(job, found)


def test_the_force_of_a_mount_is_solved_again_too_and_named_with_its_step() -> None:
    made = make.rider((0.2, 0.3), (0.2, -0.3))
    first, second = made.stages[0], Stage("later")
    job = replace(made, stages=(first, second))
    found = [each for each in recheck(job, states(job), make.solved(job)) if each.what == "force"]
    assert {each.subject for each in found} == {"link"}
    assert [each.stage for each in found] == sorted({each.stage for each in found})
    assert found[0].stage == 0
    assert all(each.told is not None and abs(each.told) > 1 and each.apart < 1e-8 for each in found)


@pytest.mark.parametrize("kind", ["expected", "low", "high", "least", "most"])
def test_one_number_that_is_told_wrong_is_noticed(kind: str) -> None:
    job = read_job(DEMO / "us-units.toml")
    first, *rest = told_of(job)
    support, *others = first.supports
    assert support.load is not None
    span = support.load.range
    assert span is not None
    if kind == "expected":
        bent = replace(support.load, expected=support.load.expected + 0.01)
    else:
        bent = replace(support.load, range=replace(span, **{kind: getattr(span, kind) + 0.01}))
    wrong = replace(first, supports=(replace(support, load=bent), *others))
    found = recheck(job, states(job), (wrong, *rest))
    assert [each.subject for each in found if each.apart > APART] == [support.name]
    assert not agrees(found)
    page = recheck_page(job, found)
    assert "DO NOT USE THIS PLAN: 1 are more than 1e-06 of the weight apart" in page
    assert support.name in page


def test_springs_that_are_solved_wrong_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    def soft(held: Springs, load: np.ndarray, gaps: np.ndarray) -> Settled:
        return settle(replace(held, stiffness=held.stiffness * np.linspace(1, 1.1, len(held.stiffness))), load, gaps)

    monkeypatch.setattr("loadplan.statics.resting_state.settle", soft)
    _assert_noticed("load")


def test_bounds_that_are_solved_wrong_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    def wide(*of: object) -> Bounds:
        found = load_bounds(*of)  # type: ignore[arg-type]
        return Bounds(found.least, found.most * 1.0001)

    monkeypatch.setattr(group, "load_bounds", wide)
    _assert_noticed("most ever")


def test_a_range_that_forgets_the_floor_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    whole: Callable[..., uneven_floor.LoadRange] = uneven_floor.load_range
    monkeypatch.setattr(group, "load_range", lambda *of: whole(*of[:3], of[3] * 0.9))
    _assert_noticed("most here", "battery-pack-stands")


def _assert_noticed(what: str, name: str = "us-units") -> None:
    job = read_job(DEMO / f"{name}.toml")
    wrong = {each.what for each in recheck(job, states(job), told_of(job)) if each.apart > APART}
    assert what in wrong


def test_an_end_that_only_one_of_them_finds_is_infinitely_far_off() -> None:
    assert Compared(0, "A", "most ever", None, 5.0, 100.0).apart == float("inf")
    assert Compared(0, "A", "most ever", None, None, 100.0).apart == 0.0
