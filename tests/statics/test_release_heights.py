"""Heights at which bolts let go without a drop, by hand: one rigid whole comes down from four arms on as many stands.

Arms and stands are at the same corners, so that what a stand takes the arm over it gives: at a corner where the stand
has to carry R the whole goes up by R / ka against the arms, and the stand's saddle is pressed down by R / ks. So the
saddle has to be R (1 / ka + 1 / ks) past first touch, each corner with its own R.
"""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from loadplan.model.job import Job, Stage, Support
from loadplan.model.shop import Equipment
from loadplan.stages import states
from loadplan.statics import release_heights as release
from loadplan.statics.contact_loads import NoEquilibriumError
from loadplan.statics.release_heights import Release, release_heights
from loadplan.statics.stage_sequence import solve_stages
from tests.statics import builders as make

IN = tuple("ABCD")

SLACK = 1 / 4e5 + 1 / 1e6
"""What a corner gives to a unit of force [m/N], arm and stand together."""

AHEAD = 0.1
"""The unit's centre is so far in front of the middle, the shell's so far behind that the arms sink evenly [m]."""

FRONT, REAR = (make.newton(300.0) / 4 * (1 + way * 4 * 0.5 * AHEAD) for way in (1, -1))


DOWN = Stage("down", IN, lowered=0.001)


def let_down(standing: Sequence[Support], *more: Stage, down: Stage = DOWN) -> Job:
    parts = [make.part((AHEAD, 0.0), 300.0), make.part((-AHEAD / 3, 0.0), 900.0, name="s", body="shell")]
    bolts = [make.bolts("bolts", ("unit", "shell"))]
    stages = [down, *(more or (Stage("parted", undone=("bolts",)),))]
    return make.job(parts, standing, joints=bolts, stages=stages, lift=make.lift_use(make.SQUARE))


def stands(*heights: float | None, use: Equipment = make.STAND) -> list[Support]:
    pairs = zip(IN, make.SQUARE, heights, strict=True)
    return [make.support(name, at, height=height, use=use) for name, at, height in pairs]


def found(job: Job) -> tuple[Release, ...]:
    followed = states(job)
    return release_heights(job, followed, solve_stages(job, followed))


def raises(told: Release) -> list[float]:
    assert [each.support for each in told.raises] == [*IN]
    return [each.by for each in told.raises]


def test_front_stands_stay_rear_ones_go_down_and_the_lift_comes_down_until_all_of_the_unit_is_on_them() -> None:
    (told,) = found(let_down(stands(0.2, 0.2, 0.2, 0.2)))
    assert (told.stage, told.body) == ("parted", "unit")
    lower = (REAR - FRONT) * SLACK
    assert raises(told) == pytest.approx([0.0, 0.0, lower, lower], abs=2e-5)
    assert told.lowered == pytest.approx(FRONT * SLACK, abs=2e-5)


@pytest.mark.parametrize("down", [0.0, 0.002, 0.004])
def test_however_far_the_plan_has_it_down_the_answer_is_the_same(down: float) -> None:
    (told,) = found(let_down(stands(0.2, 0.2, 0.2, 0.2), down=Stage("down", IN, lowered=down)))
    assert told.lowered == pytest.approx(FRONT * SLACK, abs=2e-5)
    assert raises(told)[0] == pytest.approx(0.0, abs=2e-5)


def test_stands_that_are_all_set_lower_are_set_so_for_themselves() -> None:
    """A rear pair set 3 mm too low goes up by what is too much."""
    (told,) = found(let_down(stands(0.2, 0.2, 0.197, 0.197)))
    lower = (REAR - FRONT) * SLACK + 0.003
    assert raises(told) == pytest.approx([0.0, 0.0, lower, lower], abs=2e-5)
    assert told.lowered == pytest.approx(FRONT * SLACK, abs=2e-5)


def test_beside_another_set_stand_each_goes_up_where_it_is() -> None:
    """A prop under the shell is set besides: then stands move, one by one, and the lift as the plan has it."""
    prop = make.support("P", (-3.0, 0.0), body="shell", height=0.1)
    job = let_down([*stands(0.2, 0.2, 0.2, 0.2), prop], down=Stage("down", (*IN, "P"), lowered=0.001))
    (told,) = found(job)
    assert raises(told) == pytest.approx([FRONT * SLACK - 0.001] * 2 + [REAR * SLACK - 0.001] * 2, abs=2e-5)


def test_what_is_brought_up_only_when_it_is_parted_takes_nothing() -> None:
    middle = make.support("M", (0.0, 0.0))
    job = let_down([*stands(0.2, 0.2, 0.2, 0.2), middle], Stage("parted", ("M",), undone=("bolts",)))
    (told,) = found(job)
    lower = (REAR - FRONT) * SLACK
    assert raises(told) == pytest.approx([0.0, 0.0, lower, lower], abs=2e-5)


@pytest.mark.parametrize(
    "changed",
    [
        Stage("parted", undone=("bolts",), moved=True),
        Stage("parted", ("H",), undone=("bolts",)),
        Stage("nothing"),
    ],
    ids=["rolled away", "measured from another stand", "not parted"],
)
def test_what_cannot_be_set_beside_what_was_has_no_heights(changed: Stage) -> None:
    high = make.support("H", (2.0, 0.0), body="shell", height=0.4)
    assert found(let_down([*stands(0.2, 0.2, 0.2, 0.2), high], changed)) == ()


@pytest.mark.parametrize(("stiffness", "known"), [(9.5e3, True), (8.5e3, False)])
def test_stands_that_would_have_to_move_too_far_are_not_meant_so(stiffness: float, *, known: bool) -> None:
    """Under the front 882 N and 1 mm: 94 mm on the one, 105 mm on the other."""
    soft = replace(make.STAND, stiffness=stiffness)
    assert bool(found(let_down(stands(0.2, 0.2, 0.2, 0.2, use=soft)))) is known


def test_a_unit_on_stands_that_only_wait_or_hang_has_none_to_set() -> None:
    waiting = [replace(each, standby=True) for each in stands(None, None, None, None)]
    assert found(let_down(waiting)) == ()


def test_what_cannot_be_computed_has_no_heights(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> None:
        raise NoEquilibriumError

    job = let_down(stands(0.2, 0.2, 0.2, 0.2))
    followed = states(job)
    solved = solve_stages(job, followed)
    monkeypatch.setattr(release, "settle", fails)
    assert release_heights(job, followed, solved) == ()


def test_where_no_height_was_ever_set_stands_go_up_by_themselves_and_the_lift_stays() -> None:
    (told,) = found(let_down(stands(None, None, None, None)))
    assert raises(told) == pytest.approx([FRONT * SLACK - 0.001] * 2 + [REAR * SLACK - 0.001] * 2, abs=2e-5)
    assert told.lowered == pytest.approx(0.001)
