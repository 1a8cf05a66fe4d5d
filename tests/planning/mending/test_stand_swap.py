"""Swapping a stand while a unit stands on it: every state judged, and nothing dropped."""

from dataclasses import replace

import pytest

from loadplan.assess import assess
from loadplan.errors import InputError
from loadplan.model.job import Job, Stage
from loadplan.model.shop import Equipment
from loadplan.model.vehicle import Point
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.mending.stand_swap import StandSwap, swap
from tests.planning.mending.plans import JACK, RATCHET, SCREW, but, plan, stand

SWAPPED = 1
"""Number of the step in which stands are swapped."""

INNER = Point("inner right", "unit", (-0.25, -0.35, 0.2), None, "")
"""A free place beside D, with room for another base."""


def _plan() -> Job:
    """Four stands, and a fifth that turns: no single one is missed."""
    return plan(*but(), stand("E", "middle left", SCREW), shop=(RATCHET, SCREW, JACK))


def _steps(found: StandSwap) -> tuple[Stage, ...]:
    return found.job.stages[SWAPPED + 1 : SWAPPED + 1 + len(found.steps)]


@pytest.mark.slow
def test_the_helper_takes_the_load_the_stand_goes_the_other_comes_and_the_helper_goes() -> None:
    found = swap(_plan(), SWAPPED, "D", RATCHET)
    new, helper = found.job.supports[-1].name, found.job.supports[-2].name
    came, raised, gone, changed, left = _steps(found)
    assert came.in_place == (helper,)
    assert [each.support for each in raised.set_anew] == [helper]
    assert gone.cleared == ("D",)
    assert changed.in_place == (new,)
    assert [each.support for each in changed.set_anew] == [helper]
    assert left.cleared == (helper,)
    assert found.job.supports[-1].equipment == RATCHET
    assert found.job.supports[-1].point == "rear right"


@pytest.mark.slow
def test_the_stand_carries_nothing_as_it_goes_and_so_does_the_helper() -> None:
    found = swap(_plan(), SWAPPED, "D", RATCHET)
    stages = assess(found.job).stages
    for number, name in ((SWAPPED + 2, "D"), (SWAPPED + 4, found.job.supports[-2].name)):
        load = stages[number].statics.load(name)
        assert load is not None
        assert load.expected <= 1.0
    unloaded = [each for stage in stages for each in stage.findings if each.check is CheckName.UNLOADING]
    assert unloaded
    assert all(each.verdict is Verdict.HOLDS for each in unloaded)


@pytest.mark.slow
def test_every_state_on_the_way_is_a_step_of_its_own_and_told_as_check_judges_it() -> None:
    found = swap(_plan(), SWAPPED, "D", RATCHET)
    judged = assess(found.job).stages[SWAPPED + 1 :]
    assert [each.verdict for each in found.steps] == [each.verdict for each in judged[: len(found.steps)]]
    margins = [each.statics.bodies[0].worst_margin for each in judged[: len(found.steps)]]
    assert [each.worst_margin for each in found.steps] == pytest.approx(margins)
    assert found.verdict is max(each.verdict for each in judged)


def test_what_cautions_before_and_stops_on_the_way_is_not_taken_for_known() -> None:
    """A weight laid on the rear right corner tips the unit sooner on the helper, which stands further in than D.

    B is set low and carries nothing, before and on the way: that is known.
    """
    job = _plan()
    beside = tuple(each for each in job.vehicle.points if each.name in {"front left", "front right", "rear left"})
    low = tuple(replace(each, height=0.31) if each.name == "B" else each for each in job.supports)
    vehicle = replace(job.vehicle, points=(*beside, INNER))
    job = replace(job, supports=low, vehicle=vehicle, limits=replace(job.limits, laid_on=4000.0))
    found = swap(job, SWAPPED, "D", RATCHET)
    on_corner = [each.verdict for each in assess(found.job).stages[SWAPPED].findings if each.check is CheckName.LAID_ON]
    assert on_corner == [Verdict.CAUTION]
    stops = {each.check for stage in found.stages for each in stage.findings if each.verdict is Verdict.STOP}
    assert stops == {CheckName.LAID_ON}
    assert not found.clean


@pytest.mark.slow
def test_a_stand_that_turns_is_lowered_itself_where_nothing_is_to_come() -> None:
    found = swap(_plan(), SWAPPED, "E", None)
    assert len(found.steps) == 2
    assert found.clean
    lowered, away = _steps(found)
    assert [each.support for each in lowered.set_anew] == ["E"]
    assert away.cleared == ("E",)


def test_without_a_stand_that_is_needed_there_is_no_way_and_nothing_is_changed() -> None:
    job = plan(*but(), shop=(RATCHET, SCREW))
    found = swap(job, SWAPPED, "D", None)
    assert found.steps == ()
    assert found.verdict is Verdict.STOP
    assert found.job == job


def test_without_a_free_piece_that_turns_there_is_no_way() -> None:
    job = plan(*but(), shop=(RATCHET,))
    assert swap(job, SWAPPED, "D", RATCHET).steps == ()


@pytest.mark.slow
def test_what_comes_stands_for_what_went_in_every_later_step() -> None:
    job = _plan()
    job = replace(job, stages=(*job.stages, Stage("Away", cleared=("A", "B", "C", "D", "E"))))
    new = swap(job, SWAPPED, "D", RATCHET).job
    assert new.stages[-1].cleared == ("A", "B", "C", new.supports[-1].name, "E")


@pytest.mark.slow
def test_another_piece_comes_than_the_one_that_goes() -> None:
    found = swap(_plan(), SWAPPED, "D", RATCHET)
    old = next(each for each in found.job.supports if each.name == "D")
    assert found.job.supports[-1].tag not in {each.tag for each in found.job.supports[:-1]}
    assert found.job.supports[-1].tag not in old.equipment.out_of_use


@pytest.mark.parametrize("name", ["Z", "box tail"])
def test_a_stand_that_does_not_stand_there_is_refused_and_those_that_do_are_named(name: str) -> None:
    with pytest.raises(InputError, match='"A", "B", "C", "D"') as told:
        swap(plan(), SWAPPED, name, RATCHET)
    assert {(each.table, each.key) for each in told.value.faults} == {("--stand", "")}


def test_where_nothing_stands_none_is_named() -> None:
    with pytest.raises(InputError, match=r'is in place in step ".*": none$'):
        swap(replace(plan(), stages=(Stage("up"),)), 0, "A", RATCHET)


def test_one_saddle_of_several_is_not_swapped() -> None:
    tops = tuple(replace(each, piece="table") if each.name in {"C", "D"} else each for each in plan().supports)
    with pytest.raises(InputError, match='"D" is an arm, a hoist, or one saddle of several') as told:
        swap(replace(plan(), supports=tops), SWAPPED, "D", RATCHET)
    assert {(each.table, each.key) for each in told.value.faults} == {("--stand", "")}


def _touching(equipment: Equipment) -> Job:
    stands = tuple(replace(each, height=None, equipment=equipment, tag="") for each in but())
    return plan(*stands, shop=(SCREW,))


def test_where_no_height_is_set_nobody_can_say_how_far_to_raise() -> None:
    with pytest.raises(InputError, match=r"is left out at every stand.* run `loadplan heights`") as told:
        swap(_touching(replace(RATCHET, tags=(), out_of_use=())), 1, "D", RATCHET)
    assert {(each.table, each.key) for each in told.value.faults} == {('support "D"', "height")}


@pytest.mark.slow
def test_helper_and_what_comes_are_two_pieces_even_of_one_kind() -> None:
    job = plan(*but(), stand("E", "middle left"), shop=(RATCHET, SCREW))
    found = swap(job, SWAPPED, "D", SCREW)
    assert found.steps
    helper, new = found.job.supports[-2:]
    assert helper.equipment == new.equipment == SCREW
    assert helper.tag != new.tag
