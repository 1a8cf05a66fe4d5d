"""What statics found is known to the next process, and asked for anew where it may be another."""

from collections.abc import Callable

import pytest

from loadplan.assess import assess_in_short
from loadplan.statics import group, stage_sequence
from loadplan.statics.equilibrium import Frame
from loadplan.statics.resting_state import Settings, Solved
from tests.demo.jobs import job
from tests.mutation.remembered import Remembered, reaches_in

NAME = "weighed-unit"


@pytest.fixture
def solved(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The groups that were solved, and what is put in place of the package's functions taken away again."""
    told: list[str] = []
    whole = group._looked_at

    def looked_at(frame: Frame, settings: Settings, standing: group.Look) -> Solved:
        told.append(frame.bodies[0])
        return whole(frame, settings, standing)

    monkeypatch.setattr(group, "_looked_at", looked_at)
    monkeypatch.setattr(stage_sequence, "solve_in_passing", stage_sequence.solve_in_passing)  # type: ignore[attr-defined]
    monkeypatch.setattr(stage_sequence.StageSolver, "stage", stage_sequence.StageSolver.stage)
    return told


def _new(solved: list[str], ask: Callable[[], object]) -> int:
    before = len(solved)
    ask()
    return len(solved) - before


def test_what_was_found_is_not_computed_again_and_is_the_same(solved: list[str]) -> None:
    whole = assess_in_short(job(NAME))
    remembered = Remembered()
    remembered.is_on = True
    assert _new(solved, lambda: assess_in_short(job(NAME)))
    assert not _new(solved, lambda: assess_in_short(job(NAME)))
    assert assess_in_short(job(NAME)) == whole
    remembered.is_on = False
    assert _new(solved, lambda: assess_in_short(job(NAME)))


def test_only_what_was_kept_is_handed_on(solved: list[str]) -> None:
    first = Remembered()
    first.is_on = True
    assess_in_short(job(NAME))
    assert not first.handed_on()
    first.keep()
    told = first.handed_on()
    first.is_on = False
    second = Remembered()
    second.learn(told)
    second.is_on = True
    assert not _new(solved, lambda: assess_in_short(job(NAME)))


class _Item:
    fixturenames = ("monkeypatch",)

    def __init__(self, function: Callable[[], object]) -> None:
        self.function = function


def test_a_test_that_puts_its_own_into_statics_is_known_by_what_it_names() -> None:
    assert reaches_in(_Item(lambda: stage_sequence))  # type: ignore[arg-type]
    assert not reaches_in(_Item(lambda: NAME))  # type: ignore[arg-type]
