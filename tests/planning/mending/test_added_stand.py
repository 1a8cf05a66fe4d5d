"""One more stand: at which places, of what kind, how high, and in which steps. Small made-up plans."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job, Stage
from loadplan.model.shop import Equipment, EquipmentKind, Heights
from loadplan.model.vehicle import Place
from loadplan.planning.mending.added_stand import StepsLeft, additions
from loadplan.planning.mending.plan_change import ChangeKind, MadeChange, PlanChange
from tests.checks.builders import words
from tests.planning.mending.plans import CORNERS, JACK, RATCHET, SCREW, but, plan, stand
from tests.statics.builders import lift_use

ALL = StepsLeft(0, (0, 2))
CELL = (0.25, -0.1, 0.2)
FREE = ["middle left", "middle right", "beside rear right", "box tail", "bracket", "hose clip"]
"""The points of the vehicle under which nothing stands."""


def with_shop(job: Job, *equipment: Equipment) -> Job:
    return replace(job, shop=replace(job.shop, equipment=equipment))


JOB = with_shop(plan(), RATCHET, SCREW)


def made(change: PlanChange, job: Job = JOB) -> MadeChange:
    found = change.make(job)
    assert found is not None
    return found


def changes(job: Job = JOB, *cells: Place, left: StepsLeft = ALL) -> list[PlanChange]:
    return list(additions(job, "unit", cells, left))


def places(job: Job = JOB, *cells: Place, left: StepsLeft = ALL) -> list[str]:
    """Where one more may stand, each place once."""
    return list(dict.fromkeys(each.about for each in changes(job, *cells, left=left)))


def kinds(job: Job, *cells: Place) -> list[str]:
    """What may stand at the first place."""
    every = changes(job, *cells)
    return [made(each, job).job.supports[-1].equipment.name for each in every if each.about == every[0].about]


def test_each_free_point_of_the_body_and_each_cell_is_a_place() -> None:
    assert places(JOB, CELL) == [*FREE, str(CELL)]
    found = changes(JOB, CELL)
    assert {each.kind for each in found} == {ChangeKind.ADD}
    assert {each.at_cell for each in found if each.about in FREE} == {False}
    assert {each.at_cell for each in found if each.about == str(CELL)} == {True}
    assert list(additions(JOB, "cradle", (), ALL)) == []


def test_a_pad_of_the_lift_takes_its_point() -> None:
    use = lift_use([(0.6, 0.4)])
    arms = tuple(replace(each, point="middle left") for each in use.arms)
    held = replace(JOB, lift=replace(use, body="shell", arms=arms))
    assert places(held) == FREE[1:]


def test_one_more_is_set_as_high_as_the_others_hold_the_unit_and_stands_while_they_do() -> None:
    first = made(changes()[0])
    new = first.job.supports[-1]
    assert (new.name, new.equipment, new.tag, new.point, new.body) == ("E", RATCHET, "S5", "middle left", "unit")
    assert (new.height, new.shim, new.standby, new.outline) == (pytest.approx(0.33), None, False, CORNERS[0].outline)
    assert first.job.stages[0].in_place == ("A", "B", "C", "D", "E")
    assert first.job.stages[1:] == JOB.stages[1:]
    assert first.support == "E"
    assert words(first.says) == (
        "Set one more stand, E: ratchet stand S5 under middle left, set to 0.33 m with no shim, "
        'from step "Set down" on.'
    )


def test_at_a_place_that_is_no_point_it_is_brought_up_to_touch() -> None:
    """Only what turns can be; a shop that has nothing that turns takes the nearest setting."""
    (cell,) = [each for each in changes(JOB, CELL) if each.at_cell]
    found = made(cell)
    assert (found.job.supports[-1].equipment, found.job.supports[-1].height) == (SCREW, None)
    assert found.job.supports[-1].at == CELL
    assert words(found.says) == (
        "Set one more stand, E: screw stand N1 under the unit, 0.25 m in front of the axle line and 0.1 m right of the "
        'centre line, brought up to just touch, from step "Set down" on: find a hard place there, only where the maker '
        "gives a bearing place."
    )
    steps = with_shop(plan(), RATCHET)
    assert [each.about for each in changes(steps, CELL) if each.at_cell] == [str(CELL)]


def test_what_can_stand_there_is_in_stock_and_reaches() -> None:
    hoist = replace(JACK, name="hoist", kind=EquipmentKind.HOIST)
    low = replace(SCREW, name="low stand", heights=Heights(0.1, 0.2, ()))
    gone = replace(SCREW, name="none left", count=1, out_of_use=("N1",))
    every = with_shop(plan(), RATCHET, SCREW, JACK, hoist, low, gone)
    assert kinds(every) == ["ratchet stand", "screw stand", "jack"]


def test_where_the_others_are_brought_up_to_touch_so_is_one_more() -> None:
    """Where one of them is set, its height tells; one that only stands by does not."""
    touching = tuple(replace(each, height=None, equipment=SCREW, tag="") for each in CORNERS)
    job = with_shop(plan(*touching), RATCHET, SCREW)
    found = made(changes(job)[0], job).job.supports[-1]
    assert (found.equipment, found.height, found.tag) == (SCREW, None, "")
    one_set = with_shop(plan(touching[0], touching[1], touching[2], stand("D", "rear right")), RATCHET, SCREW)
    assert made(changes(one_set)[0], one_set).job.supports[-1].height == pytest.approx(0.33)
    by_hand = tuple(replace(each, standby=True) for each in touching)
    waiting = with_shop(plan(*by_hand), RATCHET, SCREW)
    other = replace(stand("E", "middle right"), body="cradle")
    told = replace(waiting, supports=(*by_hand, other))
    assert made(changes(told)[0], told).job.supports[-1].height is not None


def test_where_one_stands_already_none_is_set() -> None:
    first = changes()[0]
    there = replace(JOB, supports=(*JOB.supports, stand("E", "middle left")))
    assert first.make(there) is None
    # Two cells are two places.
    cell = next(each for each in changes(JOB, CELL) if each.at_cell)
    assert cell.make(made(cell).job) is not None


def test_it_never_stands_without_its_part() -> None:
    """The box comes off in the second step, and on again in the fourth."""
    first, second, third = JOB.stages
    stages = (first, replace(second, off=("box",)), third, Stage("Box on", on=("box",)), Stage("Box off", off=("box",)))
    job = replace(JOB, stages=stages)
    tail = next(each for each in changes(job) if each.about == "box tail")
    found = made(tail, job)
    assert [each.in_place for each in found.job.stages] == [("A", "B", "C", "D", "E"), (), (), ("E",), ()]
    assert [each.cleared for each in found.job.stages] == [(), ("E",), (), (), ("E",)]
    assert words(found.says).endswith('from step "Set down" on, away in step "Box off".')
    never = replace(job, stages=(replace(first, off=("box",)), second))
    assert "box tail" not in places(never)


def test_it_comes_and_goes_with_the_others_from_the_first_step_that_is_not_done() -> None:
    clear = Stage("Away", cleared=("A", "B", "C", "D"))
    job = replace(JOB, stages=(*JOB.stages, clear))
    found = made(changes(job, left=StepsLeft(1, (2, 2)))[0], job)
    assert [each.in_place for each in found.job.stages] == [("A", "B", "C", "D"), ("E",), (), ()]
    assert found.job.stages[3].cleared == ("A", "B", "C", "D", "E")
    # What only stands by is no company: then it comes where there is trouble.
    waits = tuple(replace(each, height=None, standby=True) for each in but())
    alone = replace(JOB, supports=waits)
    found = made(changes(alone, left=StepsLeft(0, (1, 1)))[0], alone)
    assert [each.in_place[-1:] for each in found.job.stages] == [("D",), ("E",), ()]
    assert all(each.cleared == () for each in found.job.stages)


def test_a_name_and_a_tag_are_given_as_the_others_have_them() -> None:
    bare = tuple(replace(each, tag="") for each in CORNERS)
    job = replace(JOB, supports=bare)
    assert made(changes(job)[0], job).job.supports[-1].tag == ""
