"""How far out stands have to be: the least distance that will do, whatever was guessed, and no further than allowed."""

from dataclasses import replace
from math import ceil
from typing import cast

import pytest

from loadplan.limits import Limits
from loadplan.model.job import Job, Stage, Support
from loadplan.statics import moved_stands
from loadplan.statics.moved_stands import FRICTIONS, STEP, STEPS, MovedGroup, StandMoves, least_friction, least_move
from loadplan.statics.resting_state import Settings, Solved
from loadplan.statics.sideways_push import TWICE
from tests.statics import builders as make

CORNERS = ((0.5, 0.5), (0.5, -0.5), (-0.5, -0.5), (-0.5, 0.5))


def asked(job: Job, guess: float | None = None) -> StandMoves:
    """A and B go ahead and to the left, 3 to 4; nothing is solved."""
    way = (0.6, 0.8)
    moves = StandMoves(job, make.state(job), dict.fromkeys("ABCD", 0.0), None, "unit", (("A", way), ("B", way)))
    return replace(moves, look=lambda _frame, settings: cast("Solved", settings), guess=guess)


def unit(*supports: Support, **of_stage: object) -> Job:
    stands = supports or make.stands(CORNERS)
    stage = replace(Stage("all", in_place=tuple("ABCD")), **of_stage)  # type: ignore[arg-type]
    return make.job([make.part()], stands, stages=[stage], limits=replace(Limits(), push=100.0, bar=300.0))


def out(group: MovedGroup) -> float:
    """How far A is out, as the group has it; B with it, C and D where they were."""
    at = {each.name: each.at for each in group.frame.supports}
    assert at["B"][0] - 0.5 == pytest.approx(at["A"][0] - 0.5)
    assert at["A"][1] - 0.5 == pytest.approx((at["A"][0] - 0.5) * 4 / 3)
    assert (at["C"][:2], at["D"][:2]) == (CORNERS[2], CORNERS[3])
    return (at["A"][0] - 0.5) / 0.6


@pytest.mark.parametrize("guess", [None, 0.0, 0.5 * STEP, 3 * STEP, 7 * STEP, STEPS * STEP, 1.0])
@pytest.mark.parametrize("needed", [1, 2, 3, 7, 15, STEPS - 1, STEPS, STEPS + 1])
def test_the_least_distance_is_told_whatever_was_guessed(needed: int, guess: float | None) -> None:
    looked: list[float] = []

    def is_met(group: MovedGroup) -> bool:
        looked.append(out(group))
        return looked[-1] > (needed - 0.5) * STEP

    told = least_move(asked(unit(), guess), is_met)
    assert told == (None if needed > STEPS else pytest.approx(needed * STEP))
    assert min(looked) >= 0.9 * STEP
    assert max(looked) <= (STEPS + 0.1) * STEP
    assert len(looked) <= 10


@pytest.mark.parametrize("beyond", [0, 4, 9])
def test_up_to_what_is_known_not_to_do_nothing_is_looked_at(beyond: int) -> None:
    looked: list[float] = []

    def is_met(group: MovedGroup) -> bool:
        looked.append(out(group))
        return True

    assert least_move(asked(unit()), is_met, beyond * STEP) == pytest.approx((beyond + 1) * STEP)
    assert min(looked) == pytest.approx((beyond + 1) * STEP)
    assert least_move(asked(unit()), is_met, STEPS * STEP) is None


@pytest.mark.parametrize("ahead", [0.045, 0.6 * (STEPS - 1.5) * STEP, 0.6 * (STEPS - 0.5) * STEP])
def test_no_stand_is_moved_out_from_under_what_it_holds(ahead: float) -> None:
    """The outline ends so far in front of the stands; of each step of 10 mm along (0.6, 0.8) 6 mm go ahead."""
    outline = ((0.5 + ahead, 2.0), (0.5 + ahead, -2.0), (-2.0, -2.0), (-2.0, 2.0))
    inside = tuple(replace(each, outline=outline) for each in make.stands(CORNERS))
    room = int(ahead / 0.6 / STEP)
    for needed in (1, room, room + 1):
        told = least_move(asked(unit(*inside)), lambda group, needed=needed: out(group) > (needed - 0.5) * STEP)  # type: ignore[misc]
        assert told == (None if needed > room else pytest.approx(needed * STEP))


def test_what_stands_beside_what_it_holds_is_not_moved() -> None:
    outline = ((0.4, 2.0), (0.4, -2.0), (-2.0, -2.0), (-2.0, 2.0))
    beside = tuple(replace(each, outline=outline) for each in make.stands(CORNERS))
    assert least_move(asked(unit(*beside)), lambda _: True) is None


def test_what_takes_long_is_not_sought(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(moved_stands, "MOST_WORK", 0)
    assert least_move(asked(unit()), lambda _: True) is None
    assert least_friction(asked(unit()), ("A",), lambda _: True) is None


@pytest.mark.parametrize(("bar", "push"), [(False, 100.0), (True, 300.0)])
def test_the_group_is_pushed_as_the_work_of_its_step_asks(bar: bool, push: float) -> None:  # noqa: FBT001
    seen: list[Settings] = []

    def is_met(group: MovedGroup) -> bool:
        seen.append(cast("Settings", group.solved))
        return True

    least_move(asked(unit(bar=bar)), is_met)
    assert {each.asked for each in seen} == {TWICE * push}
    assert {len(each.grips) for each in seen} == {4}


@pytest.mark.parametrize("needed", [0.05, 0.3, 0.72, 1.0, 1.01])
def test_the_least_friction_is_told_in_steps(needed: float) -> None:
    def is_met(group: MovedGroup) -> bool:
        assert group.holds["C"].friction == pytest.approx(0.15)
        assert group.holds["A"].said
        return group.holds["A"].friction >= needed - 1e-9

    low = tuple(replace(each, friction=0.15 if each.name == "C" else 0.02) for each in make.stands(CORNERS))
    told = least_friction(asked(unit(*low)), ("A", "B"), is_met)
    assert told == (None if needed > 1 else pytest.approx(ceil(needed * FRICTIONS - 1e-9) / FRICTIONS))
