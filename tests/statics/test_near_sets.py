"""Which sets of parts still on are solved, by hand: a unit that goes over its right edge, a head to either side."""

from collections.abc import Mapping
from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import pytest

from loadplan.limits import Limits
from loadplan.model.answer import Balanced, Between, Mode, Motion, Statics
from loadplan.model.disturbance import PullAnswer
from loadplan.model.job import Job, Pull, Stage, State
from loadplan.model.vehicle import PlanPoint
from loadplan.statics import upset_between as upset
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.mass import lumps
from loadplan.statics.passage import Seen
from loadplan.statics.resting_state import bare
from loadplan.statics.upset_between import Looks, with_least_pull, with_states_between
from tests.statics import builders as make

OVER = Motion(0.5, 1.0, 0.0)
"""Over the right edge, at y = -0.5: what lies there stays, what lies to the left of it rises by as much as it does."""

LEFT, RIGHT = make.newton(10.0) * 0.9, -make.newton(10.0) * 0.4
"""Work that heads of 10 kg at y = 0.4 and at y = -0.9 add [J]."""

Sets = set[frozenset[str]]

BOTH = frozenset({"left", "right"})


def two_heads(
    *, rim: tuple[PlanPoint, ...] = (), hose: float | None = None, reach: Mapping[str, float] | None = None
) -> Job:
    """Both come off in any order; a rim that reaches out, a hose at a joint that is undone, outlines of the heads."""
    reach = reach or {}
    parts = [
        make.part(),
        replace(make.part((0.0, 0.4), 10.0, name="left"), outline=outline(reach.get("left"))),
        replace(make.part((0.0, -0.9), 10.0, name="right"), outline=outline(reach.get("right"))),
        make.part((9.0, 9.0), name="f", body="frame"),
    ]
    joints = [] if hose is None else [make.mount("hose", (0.3, hose), ("unit", "frame"))]
    off = Stage("off", tuple("ABCD"), off=("left", "right"), any_order=True, undone=tuple(each.name for each in joints))
    job = make.job(parts, make.stands(make.SQUARE), joints=joints, stages=[off], limits=Limits())
    bodies = tuple(replace(each, outline=rim) if each.name == "unit" else each for each in job.vehicle.bodies)
    return replace(job, vehicle=replace(job.vehicle, bodies=bodies))


def outline(y: float | None) -> tuple[PlanPoint, ...]:
    return () if y is None else ((0.1, 0.0), (0.0, y), (-0.1, 0.0))


def end_of(job: Job, work: float, sway: float | None = 0.03) -> Statics:
    """The end of the stage: one way over, against so much work."""
    frame = unit_of(job)
    mode = Mode(("B", "C"), ("unit",), (("unit", OVER),), work, (("unit", 0.5),))
    group = replace(bare(frame, Balanced((), ()), (mode,)), sway=sway)
    return Statics((group,), (), (), (), (), None, None, None)


def unit_of(job: Job) -> Frame:
    state = make.state(job)
    return next(each for each in upset_frames(job, state) if "unit" in each.bodies)


def upset_frames(job: Job, state: State) -> tuple[Frame, ...]:
    return frames(state, lumps(job, state))


@pytest.fixture
def plain(monkeypatch: pytest.MonkeyPatch) -> dict[str, object]:
    """States in the middle are told with nothing in them; `passing` is what loads find there."""
    found: dict[str, object] = {"passing": ()}
    monkeypatch.setattr(upset, "loads_between", lambda *_: found["passing"])
    monkeypatch.setattr(upset, "with_least_pushes", lambda _job, _state, statics, _look, _others: statics)
    monkeypatch.setattr(upset, "statics_between", lambda *_: None)
    return found


def sets(job: Job, work: float, groups: tuple[Frame, ...] = (), sway: float | None = 0.03) -> Sets:
    """Which sets of parts are looked at, once the loads are."""
    looks = Looks(lambda _: (), lambda _: (), {})
    told = with_states_between(job, make.state(job), (end_of(job, work, sway), {}), groups, looks)
    return {frozenset(each.state.on & BOTH) for each in told.between}


@pytest.mark.usefixtures("plain")
@pytest.mark.parametrize(("hose", "rise"), [(0.5, 1.0), (0.1, 0.6), (-0.5, 0.0), (-0.8, -0.3)])
def test_a_hose_at_which_little_more_than_a_little_takes_it_over_is_looked_at_with_what_sinks_on(
    hose: float, rise: float
) -> None:
    """220 N over what its place rises by; the right head sinks, and is on."""
    job, bound = two_heads(hose=hose), 220.0 * rise - RIGHT
    assert sets(job, bound - 0.1) == ({frozenset({"right"})} if rise > 0 else set())
    assert sets(job, bound + 0.1) == set()


@pytest.mark.usefixtures("plain")
def test_a_corner_of_the_unit_beyond_the_edge_is_leant_on_with_what_sinks_on() -> None:
    """Three times 225 N on a corner that is 0.1 m beyond the edge."""
    job, bound = two_heads(rim=((0.0, 0.5), (0.4, -0.6), (-0.4, -0.55))), 675 * 0.1 - RIGHT
    assert sets(job, bound - 0.1) == {frozenset({"right"})}
    assert sets(job, bound + 0.1) == set()
    inside = two_heads(rim=((0.0, 0.5), (0.4, -0.5), (-0.4, -0.4)))
    assert sets(inside, -RIGHT) == set()


@pytest.mark.usefixtures("plain")
def test_a_part_that_sticks_out_is_leant_on_while_it_is_on_and_weighs_what_it_weighs() -> None:
    """The right head, which is on, 0.5 m beyond the edge; the left one 0.2 m, and it holds down with its own weight."""
    job, bound = two_heads(reach={"right": -1.0}), 675 * 0.5 - RIGHT
    assert sets(job, bound - 0.1) == {frozenset({"right"})}
    assert sets(job, bound + 0.1) == set()
    job, bound = two_heads(reach={"left": -0.7}), 675 * 0.2 - RIGHT - LEFT
    assert sets(job, bound - 0.1) == {BOTH}
    assert sets(job, bound + 0.1) == set()


@pytest.mark.parametrize(("more", "tried"), [(0.009, False), (0.011, True)])
@pytest.mark.parametrize("sway", [0.03, None])
def test_sets_with_which_it_sways_more_are_tried_as_they_are(
    plain: dict[str, object], more: float, *, tried: bool, sway: float | None
) -> None:
    """With the left head on, which holds it down: it is looked at only because it sways more."""
    job = two_heads(reach={"left": -0.7})
    state = make.state(job)
    there = replace(state, on=state.on | {"left"}, may_be_on=())
    group = SimpleNamespace(bodies=("unit",), sway=(sway or 0.0) + more)
    gone = SimpleNamespace(bodies=("gone",), sway=0.9)
    loose = SimpleNamespace(bodies=("unit",), sway=None)
    found = cast(Statics, SimpleNamespace(groups=(gone, loose, group)))
    plain["passing"] = (Between(there, found),)
    bound = 675 * 0.2 - LEFT
    assert (frozenset({"left"}) in in_full(job, bound - 0.1, sway)) is tried
    assert frozenset({"left"}) not in in_full(job, bound + 0.1, sway)


def in_full(job: Job, work: float, sway: float | None) -> Sets:
    """Which sets are solved in full because something comes near to what is asked for."""
    solved: list[frozenset[str]] = []

    def full(there: State) -> Seen:
        solved.append(frozenset(there.on & BOTH))
        return ()

    looks = Looks(full, lambda _: (), {})
    with_states_between(job, make.state(job), (end_of(job, work, sway), {}), (), looks)
    return set(solved)


@pytest.mark.usefixtures("plain")
@pytest.mark.parametrize(("heavy", "tried"), [(124.0, True), (123.0, False)])
def test_a_mount_without_which_it_would_go_over_with_a_part_on_is_looked_at(heavy: float, *, tried: bool) -> None:
    """By hand: 100 kg hold by 0.5 m, a head 0.4 m beyond the edge takes all but a hundredth of that at 123.75 kg."""
    parts = [
        make.part(),
        make.part((0.0, 0.9), heavy, name="left"),
        make.part((0.0, 0.0), 1.0, name="right"),
        make.part((3.0, 0.0), 900.0, name="f", body="frame"),
    ]
    far = [make.support(f"f{n}", at, body="frame") for n, at in enumerate([(2, 1), (2, -1), (4, 0)])]
    off = Stage("off", (*"ABCD", "f0", "f1", "f2"), off=("left", "right"), any_order=True)
    ties = [make.mount("tie", (1.2, 0.0), ("unit", "frame"))]
    job = make.job(parts, [*make.stands(make.SQUARE), *far], joints=ties, stages=[off], limits=Limits())
    found = sets(job, 1e6, upset_frames(job, make.state(job)))
    assert found == ({frozenset({"left"})} if tried else set())


PULL = Pull("unit", (0.0, 0.0, 0.7), 100.0, (0.0, -1.0, 0.0), None, 0.0)


def pulled_with(
    monkeypatch: pytest.MonkeyPatch, work: float, factors: Mapping[frozenset[str], float | None], pull: Pull = PULL
) -> tuple[PullAnswer | None, Sets]:
    """The least pull, and the sets with which it is tried; 3 at the end of the stage."""
    job = two_heads()
    job = replace(job, stages=(replace(job.stages[0], pull=pull),))
    tried: list[frozenset[str]] = []

    def answer(_pull: Pull, _frames: object, solved: tuple[object, ...], _holds: object) -> PullAnswer | None:
        on = cast("frozenset[str]", solved[0])
        return None if on not in factors else told(factors[on])

    def full(there: State) -> Seen:
        tried.append(frozenset(there.on & BOTH))
        return cast(Seen, ((None, tried[-1]),))

    monkeypatch.setattr(upset, "pulled", answer)
    end = replace(end_of(job, work), pull=told(3.0))
    found = with_least_pull(job, make.state(job), (end, ()), Looks(full, lambda _: (), {}))
    assert replace(found, pull=end.pull) == end
    return found.pull, set(tried)


def told(factor: float | None) -> PullAnswer:
    return PullAnswer("unit", factor, 100.0, (0.0, -1.0, 0.0), "tips", (), factor)


@pytest.mark.parametrize(
    ("pull", "lever"),
    [
        (PULL, 0.5 + 0.5),
        (replace(PULL, at=(0.0, 0.2, 0.2)), 0.7),
        (replace(PULL, at=(0.0, -0.8, 0.1)), 0.3),
        (replace(PULL, bar=0.4), 0.5 + 0.5 + 0.4),
        (replace(PULL, force=50.0), 0.5),
    ],
    ids=["its height", "to the left", "low and beyond the edge", "a bar", "half the force"],
)
def test_a_pull_is_tried_with_what_sinks_on_where_three_times_of_it_would_do_and_always_with_all(
    monkeypatch: pytest.MonkeyPatch, pull: Pull, lever: float
) -> None:
    bound = 300 * lever - RIGHT
    assert pulled_with(monkeypatch, bound - 0.1, {}, pull)[1] == {frozenset({"right"}), BOTH}
    assert pulled_with(monkeypatch, bound + 0.1, {}, pull)[1] == {BOTH}


def test_the_least_pull_is_told_with_the_parts_with_which_it_is_stood(monkeypatch: pytest.MonkeyPatch) -> None:
    right = frozenset({"right"})
    found, _ = pulled_with(monkeypatch, 0.0, {right: 2.0, BOTH: 2.5})
    assert found == replace(told(2.0), still_on=("right",))
    found, _ = pulled_with(monkeypatch, 0.0, {right: 2.5, BOTH: 1.5})
    assert found == replace(told(1.5), still_on=("left", "right"))
    assert pulled_with(monkeypatch, 0.0, {right: None, BOTH: 3.0})[0] == told(3.0)
    assert pulled_with(monkeypatch, 0.0, {})[0] == told(3.0)


def test_a_pull_on_another_assembly_is_tried_with_all_parts_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    assert pulled_with(monkeypatch, 0.0, {}, replace(PULL, body="frame"))[1] == {BOTH}


def test_without_a_pull_or_an_answer_at_the_end_there_is_none() -> None:
    job = two_heads()
    state, looks = make.state(job), Looks(lambda _: (), lambda _: (), {})
    end = end_of(job, 0.0)
    assert with_least_pull(job, state, (replace(end, pull=told(3.0)), ()), looks).pull == told(3.0)
    pulling = replace(state, stage=replace(state.stage, pull=PULL))
    assert with_least_pull(job, pulling, (end, ()), looks).pull is None
