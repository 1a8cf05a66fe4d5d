"""Undoing: which orders of taking joints off hold, by triangles of what is left to stand on."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from loadplan.model.job import Job, Stage
from loadplan.model.step_change import Severity, Trouble, Undoing
from loadplan.stages import states
from loadplan.statics import stage_sequence
from loadplan.statics.equilibrium import Frame
from loadplan.statics.group import glance_between
from loadplan.statics.resting_state import Settings, Solved
from tests.statics import builders as make

FRONT = ((0.3, 0.4), (0.3, -0.4))
REAR_LEFT, REAR_RIGHT = (-0.25, 0.35), (-0.25, -0.35)
PADS = ((0.9, 0.9), (0.9, -0.9), (-0.9, -0.9), (-0.9, 0.9))


def rear_mounts(
    tail: tuple[float, float], *, names: Sequence[str] = ("left", "right"), mass: float = 200.0, rating: float = 30e3
) -> Job:
    """A unit of 100 kg at (0.1, 0.1) on three stands, C at the rear left, and on mounts to the vehicle on the lift.

    A heavy part at the tail comes off in the stage in which the mounts do.
    """
    places = dict.fromkeys(names, REAR_LEFT) | {"right": REAR_RIGHT}
    joints = [make.mount(name, places[name], ("unit", "shell")) for name in names]
    parts = [
        make.part((0.1, 0.1), 100.0, name="unit"),
        make.part(tail, mass, name="tail"),
        make.part((0.0, 0.0, 0.6), 900.0, name="shell", body="shell"),
    ]
    use = replace(make.STAND, rating=rating)
    return make.job(
        parts,
        make.stands((*FRONT, REAR_LEFT), use=use),
        joints=joints,
        stages=[Stage("down", in_place=tuple("ABC"), lowered=0.001), Stage("off", undone=tuple(names), off=("tail",))],
        lift=make.lift_use(PADS),
        limits=replace(make.NO_LIMITS, drop=0.05),
    )


def told(job: Job, stage: int = -1) -> Undoing:
    undoing = make.solved(job)[stage].change.undoing
    assert undoing is not None
    return undoing


def test_what_holds_the_heavy_side_comes_off_last() -> None:
    """200 kg at the right rear: with the right mount undone first all that is left stands to the left of it."""
    found = told(rear_mounts((-0.2, -0.3)))
    assert found.order == ("left", "right")
    assert not found.every_order
    assert not found.alike
    assert found.worst.severity is Severity.FINE


def test_with_the_weight_in_the_middle_every_order_holds() -> None:
    found = told(rear_mounts((0.1, 0.0)))
    assert found.every_order
    assert found.alike


def test_where_each_mount_alone_leaves_it_no_stand_under_the_tail_no_order_holds() -> None:
    """A tail behind C and either mount: one of them undone, the lines from the front stands to the other pass it."""
    job = rear_mounts((-0.24, 0.0), mass=2000.0)
    sides = make.stands((*FRONT, (0.0, 0.0)), use=make.STAND)
    found = told(replace(job, supports=sides))
    assert not found.every_order
    assert (found.worst.severity, found.worst.trouble) == (Severity.OVER, Trouble.BALANCE)
    assert len(found.worst.undone) == 1
    assert found.worst.subjects == ("unit",)


def test_what_is_free_to_rock_on_the_way_is_named_and_not_what_it_hangs_from() -> None:
    """One stand under the nose and either mount: two places, about which the unit turns; the shell is on the lift."""
    job = rear_mounts((0.1, 0.0))
    nose = replace(job, supports=make.stands((FRONT[0],)), bodies=("shell", "unit"))
    stages = (Stage("down", in_place=("A",), lowered=0.001), *job.stages[1:])
    assert told(replace(nose, stages=stages)).worst.subjects == ("unit",)


def test_one_joint_or_none_has_no_order() -> None:
    job = rear_mounts((0.1, 0.0))
    one = replace(job, stages=(job.stages[0], Stage("off", undone=("left",))))
    assert make.solved(one)[-1].change.undoing is None
    assert make.solved(job)[0].change.undoing is None


def most_with_off(name: str) -> float:
    """Most that a stand carries with one mount off and the tail still on, solved as a stage of its own [N]."""
    job = rear_mounts((-0.1, 0.1))
    alone = make.solved(replace(job, stages=(job.stages[0], Stage("one", undone=(name,)))))[1]
    loads = [alone.load(stand) for stand in "ABC"]
    return max(each.at_most for each in loads if each is not None)


def test_a_state_on_the_way_is_judged_as_a_stage_of_its_own_would_be() -> None:
    """Both sides of a rating, by what a stand carries in the states in between."""
    most = {name: most_with_off(name) for name in ("left", "right")}
    least = min(most.values())
    for rating, severity in ((least * 0.999, Severity.OVER), (least * 1.001, Severity.NEAR), (least / 0.74, None)):
        way = told(rear_mounts((-0.1, 0.1), rating=rating))
        if severity is None:
            assert way.worst.trouble is not Trouble.RATING
            continue
        assert (way.worst.severity, way.worst.trouble) == (severity, Trouble.RATING)
        assert way.worst.undone == way.order[:1]
        assert way.worst.value == pytest.approx(most[way.order[0]] / rating)


def test_on_the_way_what_a_stand_could_ever_carry_counts_as_in_the_check_of_ratings() -> None:
    """With the right mount off first C carries little over half its rating, but on another floor twice that rating."""
    job = rear_mounts((-0.1, 0.1), names=("right", "left"))
    alone = make.solved(replace(job, stages=(job.stages[0], Stage("one", undone=("right",)))))[1].load("C")
    assert alone is not None
    assert alone.range is not None
    assert alone.range.most is not None
    rating = 1.5 * alone.at_most
    assert alone.range.most > rating
    listed = tuple(replace(each, undone_in_order=bool(each.undone)) for each in job.stages)
    way = told(replace(rear_mounts((-0.1, 0.1), names=("right", "left"), rating=rating), stages=listed)).worst
    assert (way.severity, way.trouble, way.undone, way.subjects) == (Severity.NEAR, Trouble.BOUND, ("right",), ("C",))
    assert way.value == pytest.approx(alone.range.most / rating)


def test_a_drop_on_the_way_counts_against_its_limit() -> None:
    """The lift stands high, C is 30 mm low under the left mount: undone last, that lets the unit down at once."""
    job = rear_mounts((0.1, 0.0))
    low = [replace(each, height=0.35 - (0.03 if each.name == "C" else 0.0)) for each in job.supports]
    dropped = told(replace(job, supports=tuple(low), limits=make.NO_LIMITS))
    assert dropped.worst.trouble is Trouble.DROP
    assert dropped.worst.severity is Severity.OVER
    assert dropped.worst.value is not None
    assert dropped.worst.value > 0.02
    wide = told(replace(job, supports=tuple(low), limits=replace(job.limits, drop=dropped.worst.value / 4 * 1.001)))
    assert wide.worst.severity is Severity.NEAR
    wider = told(replace(job, supports=tuple(low), limits=replace(job.limits, drop=dropped.worst.value * 1.001)))
    assert wider.worst.severity is Severity.FINE
    assert wider.every_order


def test_beyond_six_each_alone_undone_and_each_alone_left_are_looked_at() -> None:
    names = ("right", *(f"left {number}" for number in range(7)))
    found = told(rear_mounts((-0.2, -0.3), names=names))
    assert found.order[-1] == "right"
    assert sorted(found.order) == sorted(names)
    assert not found.every_order
    assert found.worst.severity is Severity.FINE


def test_sets_are_looked_at_once_not_orders(monkeypatch: pytest.MonkeyPatch) -> None:
    """Six joints have 720 orders but 62 sets between all done up and all undone; then the parts come off."""
    solve = stage_sequence.solve_in_passing
    seen: list[object] = []

    def counted(frame, settings, asked):  # type: ignore[no-untyped-def]  # noqa: ANN001, ANN202
        seen.append(frame.mounts)
        return solve(frame, settings, asked)

    monkeypatch.setattr(stage_sequence, "solve_in_passing", counted)
    told(rear_mounts((0.1, 0.0), names=("right", *(f"left {number}" for number in range(5)))))
    assert len(seen) == len(set(seen)) == 62 + 1


def test_what_a_stage_has_solved_already_is_not_solved_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """First one mount off in a stage of its own, then on again, then both: the first of these is known."""
    job = rear_mounts((0.1, 0.0))
    stages = (
        job.stages[0],
        Stage("left off", undone=("left",)),
        Stage("left on", done_up=("left",)),
        Stage("both off", undone=("left", "right")),
    )
    solve = stage_sequence.solve_in_passing
    seen: list[tuple[str, ...]] = []

    def counted(frame, settings, asked):  # type: ignore[no-untyped-def]  # noqa: ANN001, ANN202
        seen.append(tuple(each.name for each in frame.mounts))
        return solve(frame, settings, asked)

    monkeypatch.setattr(stage_sequence, "solve_in_passing", counted)
    make.solved(replace(job, stages=stages))
    assert ("left",) in seen


def test_with_too_much_to_look_at_the_order_is_not_judged_and_the_job_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stage_sequence, "MOST_ON_THE_WAY", 1)
    after = make.solved(rear_mounts((0.1, 0.0)))[-1]
    assert after.change.undoing is None
    assert after.change.drops
    assert (after.on_the_way, after.too_many_on_the_way) == ((), True)


def at_a_glance(job: Job) -> Undoing:
    followed = states(job)
    solver = stage_sequence.StageSolver(job, followed, glance_between)
    undoing = tuple(stage_sequence.stages_in_turn(solver))[-1].change.undoing
    assert undoing is not None
    return undoing


@pytest.mark.parametrize("tail", [(-0.2, -0.3), (0.1, 0.0), (-1.0, 0.0)], ids=["one order", "every order", "none"])
def test_at_a_glance_an_order_is_as_bad_as_in_full(tail: tuple[float, float]) -> None:
    job = rear_mounts(tail, names=("left", "right", "third"))
    brief, full = at_a_glance(job), told(job)
    assert brief.worst.severity is full.worst.severity
    assert (brief.every_order, brief.alike) == (full.every_order, full.alike)


def test_at_a_glance_no_more_is_solved_than_shows_that_no_order_holds(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of three joints, 400 kg far behind: over with whichever comes off first, so three of six states are enough."""
    solved: list[object] = []
    whole = stage_sequence.solve_in_passing

    def counted(frame: Frame, settings: Settings, asked: float) -> Solved:
        solved.append(frame)
        return whole(frame, settings, asked)

    monkeypatch.setattr(stage_sequence, "solve_in_passing", counted)
    job = rear_mounts((-1.0, 0.0), names=("left", "right", "third"), mass=400.0)
    assert at_a_glance(job).worst.severity is Severity.OVER
    brief = len(solved)
    assert told(job).worst.severity is Severity.OVER
    assert 0 < 2 * brief <= len(solved) - brief
