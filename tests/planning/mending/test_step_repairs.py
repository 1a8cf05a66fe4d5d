"""Stands raised before another is taken away or a body drops: by steps made up for the purpose."""

from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import pytest

from loadplan.model.job import Job, SetAnew, Stage, StageReading, State
from loadplan.model.step_change import Raising
from loadplan.model.verdict import StageAssessment
from loadplan.planning.mending import step_repairs
from loadplan.planning.mending.plan_change import ChangeKind, MadeChange
from loadplan.planning.mending.step_repairs import clearings, raisings
from loadplan.stages import states
from tests.planning.mending.plans import RATCHET, SCREW, plan, stand
from tests.planning.mending.written import sentence

TURNING = replace(SCREW, count=4, tags=())
JOB = plan(
    stand("A", "front left", TURNING),
    stand("B", "front right", TURNING),
    stand("C", "rear left", TURNING),
    stand("D", "rear right"),
)


def _step(
    index: int, *, load: float | None = None, raised: tuple[Raising, ...] = (), drops: tuple[Raising, ...] = ()
) -> StageAssessment:
    """A step that takes D away while it carries, or in which the unit drops."""
    unloadings = (SimpleNamespace(support="D", load=load, raisings=raised),)
    cures = (SimpleNamespace(body="unit", raises=drops),) if drops else ()
    change = SimpleNamespace(unloadings=unloadings, drop_cures=cures)
    return cast(
        "StageAssessment", SimpleNamespace(state=SimpleNamespace(index=index), statics=SimpleNamespace(change=change))
    )


@pytest.mark.parametrize(("load", "count"), [(None, 0), (100.0, 0), (100.5, 2)])
def test_who_takes_over_what_another_carries_is_raised_before(load: float | None, count: int) -> None:
    """What a hand takes away carries 100 N at most; common practice, no source."""
    step = _step(2, load=load, raised=(Raising("A", 0.0042), Raising("B", 0.002)))
    found = list(raisings((step,), 0))
    assert [(each.kind, each.about) for each in found] == [(ChangeKind.RAISE, "D in 1")] * count
    made = [each.make(JOB) for each in found]
    for each, name, height, says in zip(
        made,
        "AB",
        (0.335, 0.332),
        (
            'Raise A by 0.0050 length to 0.3350 length in step "Intake off", before D is taken away.',
            'Raise B by 0.0020 length to 0.3320 length in step "Intake off", before D is taken away.',
        ),
        strict=False,
    ):
        assert each is not None
        assert (each.support, sentence(each.says)) == (name, says)
        assert each.job.stages[1].set_anew == (SetAnew(name, height),)


def test_all_stands_that_keep_a_body_from_dropping_are_raised_together() -> None:
    (change,) = raisings((_step(1, drops=(Raising("A", 0.003), Raising("C", 0.0101))),), 0)
    assert (change.kind, change.about) == (ChangeKind.RAISE, "unit in 0")
    set_before = (SetAnew("B", 0.4), SetAnew("A", 0.5))
    job = replace(JOB, stages=(replace(JOB.stages[0], set_anew=set_before), *JOB.stages[1:]))
    made = change.make(job)
    assert made is not None
    assert made.support == "A"
    # A is set anew in that step already: it is raised from there, and set once.
    assert made.job.stages[0].set_anew == (SetAnew("B", 0.4), SetAnew("A", 0.503), SetAnew("C", 0.341))
    assert sentence(made.says) == (
        "Raise A by 0.0030 length to 0.5030 length and C by 0.0110 length to 0.3410 length "
        'in step "Set down", so that the unit does not drop.'
    )


def test_in_inches_a_raise_is_whole_eighths() -> None:
    (change,) = raisings((_step(1, drops=(Raising("A", 0.0032),)),), 0)
    made = change.make(replace(JOB, us_units=True))
    assert made is not None
    assert made.job.stages[0].set_anew == (SetAnew("A", pytest.approx(0.33 + 2 * 0.003175)),)  # type: ignore[arg-type]


def test_a_raise_ends_at_a_whole_thousandth_of_a_millimetre() -> None:
    """A height that was written in thirds of an inch is 0.3386666… m."""
    (change,) = raisings((_step(1, drops=(Raising("A", 0.003),)),), 0)
    thirds = replace(JOB, stages=(replace(JOB.stages[0], set_anew=(SetAnew("A", 0.0254 * 40 / 3),)), *JOB.stages[1:]))
    made = change.make(thirds)
    assert made is not None
    assert made.job.stages[0].set_anew == (SetAnew("A", 0.341667),)


@pytest.mark.parametrize("raised", ["D", "nobody"])
def test_what_does_not_turn_or_does_not_stand_there_is_not_raised(raised: str) -> None:
    (change,) = raisings((_step(1, drops=(Raising("A", 0.003), Raising(raised, 0.003))),), 0)
    assert change.make(JOB) is None


def test_what_is_only_brought_up_to_touch_or_stands_by_is_not_raised() -> None:
    (change,) = raisings((_step(1, drops=(Raising("A", 0.003),)),), 0)
    first, *others = JOB.supports
    assert change.make(replace(JOB, supports=(replace(first, height=None), *others))) is None
    assert change.make(replace(JOB, supports=(replace(first, standby=True), *others))) is None
    assert (
        change.make(replace(JOB, supports=(replace(first, equipment=replace(RATCHET, heights=None)), *others)))
        is not None
    )


@pytest.mark.parametrize(("index", "first", "count"), [(0, 0, 0), (1, 0, 1), (1, 1, 0), (2, 1, 1)])
def test_nothing_is_raised_in_a_step_that_is_done(index: int, first: int, count: int) -> None:
    assert len(list(raisings((_step(index, drops=(Raising("A", 0.003),)),), first))) == count


def _on_the_box(*later: Stage) -> object:
    """E stands under the box, which comes off in the second step."""
    job = plan(*JOB.supports, stand("E", "box tail", TURNING, 0.335), off=("box", "intake"))
    job = replace(job, stages=(*job.stages[:2], *later))
    (change, *_) = clearings(job, job.supports[-1], 0)
    assert (change.kind, change.about) == (ChangeKind.CLEAR, "E")
    made = change.make(job)
    assert made is not None
    return [(each.name, each.in_place, each.cleared, each.set_anew) for each in made.job.stages[1:]], sentence(
        made.says
    )


def test_a_stand_goes_with_its_part_and_nobody_takes_it_away_again_or_sets_it() -> None:
    later = (
        Stage("Later", set_anew=(SetAnew("E", 0.3), SetAnew("A", 0.4))),
        Stage("Away", cleared=("A", "E")),
        Stage("Again", in_place=("E",)),
        Stage("Away again", cleared=("E",)),
    )
    assert _on_the_box(*later) == (
        [
            ("Intake off", (), ("E",), ()),
            ("Later", (), (), (SetAnew("A", 0.4),)),
            ("Away", (), ("A",), ()),
            ("Again", ("E",), (), ()),
            ("Away again", (), ("E",), ()),
        ],
        'Take E away in step "Intake off", with box that it stands under.',
    )


def test_it_is_put_back_with_its_part() -> None:
    told = _on_the_box(Stage("Between"), Stage("Box on", on=("box",)), Stage("Away", cleared=("E",)))
    assert told == (
        [
            ("Intake off", (), ("E",), ()),
            ("Between", (), (), ()),
            ("Box on", ("E",), (), ()),
            ("Away", (), ("E",), ()),
        ],
        'Take E away in step "Intake off", with box that it stands under, and put it back in step "Box on".',
    )


def test_a_stand_whose_part_stays_on_or_that_comes_with_the_step_is_not_cleared() -> None:
    job = plan(*JOB.supports, stand("E", "box tail", TURNING, 0.335), off=("intake",))
    assert list(clearings(job, job.supports[-1], 0)) == []
    off = replace(job, stages=(job.stages[0], replace(job.stages[1], off=("box",)), job.stages[2]))
    assert len(list(clearings(off, off.supports[-1], 0))) == 2
    # From the step itself on nothing can be raised before it; behind it nothing is left to do.
    assert len(list(clearings(off, off.supports[-1], 1))) == 1
    assert list(clearings(off, off.supports[-1], 2)) == []
    assert list(clearings(off, off.supports[0], 0)) == []
    # What has been taken away before, whatever else stands there, goes with no part.
    gone = replace(off, stages=(replace(off.stages[0], cleared=("E",)), *off.stages[1:]))
    assert list(clearings(gone, gone.supports[-1], 0)) == []


def _going(*later: Stage, first: Stage | None = None, readings: tuple[StageReading, ...] = ()) -> Job:
    """E stands under the box, which comes off in the second step."""
    job = plan(*JOB.supports, stand("E", "box tail", TURNING, 0.335), off=("box",))
    down, off = job.stages[:2]
    return replace(job, stages=(first or down, replace(off, readings=readings), *later))


def _cleared(job: Job) -> MadeChange:
    made = next(iter(clearings(job, job.supports[-1], 0))).make(job)
    assert made is not None
    return made


def test_what_is_read_under_a_stand_that_is_gone_is_read_no_more() -> None:
    read = StageReading("A", 100.0), StageReading("E", 50.0)
    later = Stage("Later", readings=read), Stage("Again", in_place=("E",), readings=read)
    made = _cleared(_going(*later, readings=read))
    assert [each.readings for each in made.job.stages] == [(), read[:1], read[:1], read]


def test_it_is_put_back_in_the_very_next_step_and_not_in_one_before() -> None:
    """The box is put on before it comes off, too."""
    down = Stage("Set down", in_place=tuple("ABCDE"), on=("box",))
    next_on = _cleared(_going(Stage("Box on", on=("box",)), first=down))
    assert [each.in_place for each in next_on.job.stages] == [tuple("ABCDE"), (), ("E",)]
    assert sentence(next_on.says).endswith(', and put it back in step "Box on".')
    never = _cleared(_going(Stage("Later"), first=down))
    assert sentence(never.says) == 'Take E away in step "Intake off", with box that it stands under.'
    # Put in place by its own step, it is not put there twice.
    by_itself = _cleared(_going(Stage("Back", in_place=("E",)), Stage("Box on", on=("box",))))
    assert [each.in_place for each in by_itself.job.stages[2:]] == [("E",), ()]


def _taken_off(monkeypatch: pytest.MonkeyPatch, *unloadings: SimpleNamespace) -> MadeChange | None:
    """E taken away with the box, where it carries as written down just before."""
    job = _going()

    def solved(before: Job, followed: tuple[State, ...]) -> list[SimpleNamespace]:
        assert followed == states(before)
        assert before.stages[:-1] == job.stages[:1]
        assert before.stages[-1] == Stage(before.stages[-1].name, cleared=("E",))
        nothing = SimpleNamespace(change=SimpleNamespace(unloadings=()))
        return [nothing, SimpleNamespace(change=SimpleNamespace(unloadings=unloadings))]

    monkeypatch.setattr(step_repairs, "solve_stages", solved)
    _, raised = clearings(job, job.supports[-1], 0)
    return raised.make(job)


def _unloading(support: str, load: float | None, *raises: Raising) -> SimpleNamespace:
    return SimpleNamespace(support=support, load=load, raisings=raises)


def test_what_it_carries_is_taken_off_it_by_the_first_stand_that_turns(monkeypatch: pytest.MonkeyPatch) -> None:
    """D does not turn."""
    other = _unloading("A", 500.0, Raising("C", 0.009))
    made = _taken_off(monkeypatch, other, _unloading("E", 100.5, Raising("D", 0.002), Raising("B", 0.004)))
    assert made is not None
    assert made.support == "E"
    assert made.job.stages[0].set_anew == (SetAnew("B", 0.334),)
    assert made.job.stages[1].cleared == ("E",)
    assert sentence(made.says) == (
        'Raise B by 0.0040 length to 0.3340 length in step "Set down", before E is taken away. '
        'Take E away in step "Intake off", with box that it stands under.'
    )


@pytest.mark.parametrize(
    "unloadings",
    [
        (),
        (_unloading("A", 500.0, Raising("B", 0.004)),),
        (_unloading("E", None, Raising("B", 0.004)),),
        (_unloading("E", 100.0, Raising("B", 0.004)),),
        (_unloading("E", 500.0),),
        (_unloading("E", 500.0, Raising("D", 0.004)),),
    ],
    ids=["nothing is taken away", "another", "not known", "next to nothing", "nothing takes it", "does not turn"],
)
def test_where_nothing_has_to_or_can_take_it_over_none_is_raised(
    unloadings: tuple[SimpleNamespace, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert _taken_off(monkeypatch, *unloadings) is None
