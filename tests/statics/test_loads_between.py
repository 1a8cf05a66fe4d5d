"""Loads in between: which sets of parts are looked at, against all that there are. Made-up states, solved by nobody."""

from collections.abc import Mapping
from dataclasses import replace
from itertools import chain, combinations
from types import SimpleNamespace
from typing import cast

import pytest

from loadplan.model.answer import Between, Load, LoadRange, Statics, SupportAnswer
from loadplan.model.job import Job, SetAnew, Stage, State
from loadplan.statics import loads_between as tried
from loadplan.statics.equilibrium import frames
from loadplan.statics.group import solve
from loadplan.statics.mass import lumps
from loadplan.statics.passage import Seen
from tests.statics import builders as make

END = 100.0
ADDS = {"a": {"A": 1.0, "B": -1.0}, "b": {"A": 2.0, "B": 3.0}, "c": {"A": -4.0, "B": 5.0}, "d": {"A": -8.0, "B": -9.0}}
"""What each part adds to a load of A and B [N]."""


def job(*names: str, **of_stage: object) -> Job:
    """A unit on A and B, from which parts come off in any order in a stage after the first."""
    stage = Stage("off", off=names, any_order=True)
    return make.job(
        [make.part(), *(make.part(name=name, mass=1.0) for name in names)],
        make.stands(((0.5, 0.0), (-0.5, 0.0))),
        stages=[Stage("down", in_place=("A", "B")), replace(stage, **of_stage)],  # type: ignore[arg-type]
    )


def load(newtons: float) -> Load:
    return Load(newtons, LoadRange(newtons, newtons, newtons, newtons))


def statics(on: frozenset[str]) -> Statics:
    loads = {name: END + sum(ADDS[part][name] for part in on if part in ADDS) for name in "AB"}
    return Statics(
        (),
        (),
        tuple(SupportAnswer(name, 0.0, load(each)) for name, each in loads.items()),
        (),
        (),
        None,
        None,
        None,
        (),
    )


@pytest.fixture
def looked(monkeypatch: pytest.MonkeyPatch) -> list[frozenset[str]]:
    """The sets of parts still on that were looked at."""
    seen: list[frozenset[str]] = []

    def made(_job: Job, there: State, *_: object) -> Statics:
        seen.append(there.on - {"lump"})
        return statics(there.on - {"lump"})

    monkeypatch.setattr(tried, "statics_between", made)
    return seen


def between(made: Job) -> tuple[Between, ...]:
    end: tuple[Statics, Mapping[str, float]] = statics(frozenset()), {}
    return tried.loads_between(made, make.state(made), end, lambda _: cast("tuple[()]", SimpleNamespace()))


def still_on(told: tuple[Between, ...]) -> set[frozenset[str]]:
    return {each.state.on - {"lump"} for each in told}


def sets(names: str, sizes: range) -> set[frozenset[str]]:
    return {frozenset(each) for each in chain.from_iterable(combinations(names, size) for size in sizes)}


def test_a_single_part_has_nothing_in_between(looked: list[frozenset[str]]) -> None:
    assert between(job("a")) == ()
    assert looked == []


@pytest.mark.parametrize("names", ["ab", "abc"])
def test_of_up_to_three_parts_every_set_is_told_but_that_with_which_the_stage_begins(
    names: str, looked: list[frozenset[str]]
) -> None:
    told = between(job(*names))
    assert still_on(told) == sets(names, range(1, len(names)))
    assert len(looked) == len(set(looked)) == 2 ** len(names) - 1


@pytest.mark.parametrize(
    "change",
    [
        {"cleared": ("B",)},
        {"lowered": 0.0},
        {"raised": 0.0},
        {"in_place": ("A",)},
        {"undone": ("bolts",)},
        {"done_up": ("bolts",)},
        {"on": ("lump",)},
        {"set_anew": (SetAnew("A", 0.3),)},
    ],
    ids=lambda change: next(iter(change)),
)
def test_where_the_stage_changes_what_it_stands_on_all_parts_on_are_told_too(
    change: Mapping[str, object], looked: list[frozenset[str]]
) -> None:
    assert still_on(between(job("a", "b", **change))) == sets("ab", range(1, 3)) == set(looked)


def test_what_the_first_step_takes_off_was_never_judged_with_all_of_it_on(looked: list[frozenset[str]]) -> None:
    made = job("a", "b", in_place=("A", "B"))
    assert still_on(between(replace(made, stages=made.stages[1:]))) == sets("ab", range(1, 3)) == set(looked)
    plain = job("a", "b")
    alone = replace(plain, stages=plain.stages[1:])
    assert still_on(between(alone)) == sets("ab", range(1, 3))


def test_a_part_of_an_assembly_that_is_gone_counts_no_more(looked: list[frozenset[str]]) -> None:
    made = job("a", "b")
    parts = tuple(replace(each, body="other") if each.name == "b" else each for each in made.vehicle.parts)
    assert between(replace(made, vehicle=replace(made.vehicle, parts=parts))) == ()
    assert looked == []


def test_a_support_of_which_no_load_is_known_asks_for_no_set_of_parts(
    looked: list[frozenset[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of B nothing is known once b is off: what a and c add to it alone is not told, what b and d do is."""
    seen = tried.statics_between

    def made(*told: object) -> Statics:
        there = seen(*told)  # type: ignore[arg-type]
        if "b" in looked[-1] or "d" in looked[-1]:
            return there
        return replace(there, supports=(there.supports[0], replace(there.supports[1], load=None)))

    monkeypatch.setattr(tried, "statics_between", made)
    four = sets("abcd", range(1, 2)) | {frozenset(each) for each in ("ab", "cd")}
    assert still_on(between(job(*"abcd"))) == four


def test_what_is_told_of_a_state_in_between_is_what_holds_with_those_parts_on() -> None:
    """On four like arms, a tank under it on three mounts: with the block on over the front left pad, and without."""
    parts = [
        make.part((0.1, 0.0, 0.6), 900.0, name="shell", body="shell"),
        make.part((0.7, 0.7), 60.0, name="block", body="shell", mass_pm=6.0),
        make.part((-0.7, -0.7), 40.0, name="box", body="shell"),
        make.part(mass=30.0, name="tank", body="tank"),
    ]
    corners = ((0.7, 0.7), (0.7, -0.7), (-0.7, 0.7), (-0.7, -0.7))
    ties = [make.mount(f"m{n}", at, ("tank", "shell")) for n, at in enumerate([(0.2, 0.1), (0.2, -0.1), (-0.4, 0.0)])]
    stages = [Stage("up"), Stage("off", off=("block", "box"), any_order=True)]
    made = make.job(parts, joints=ties, stages=stages, lift=make.lift_use(corners))

    def look(there: State) -> Seen:
        return tuple((each, solve(each, make.settings(each))) for each in frames(there, lumps(made, there)))

    end = cast(Statics, SimpleNamespace(gaps={f"pad {n}": 0.001 * n for n in range(1, 5)}, floor=0.35))
    found = tried.loads_between(made, make.state(made), (end, {"m0": 12.0, "m1": 34.0}), look)
    assert [sorted(each.state.on) for each in found] == [["block", "shell", "tank"], ["box", "shell", "tank"]]
    for each, (mass, x, y) in zip(found, [(60.0, 0.7, 0.7), (40.0, -0.7, -0.7)], strict=True):
        told = each.statics
        assert [support.name for support in told.supports] == [f"pad {n}" for n in range(1, 5)]
        assert [support.gap for support in told.supports] == [0.001, 0.002, 0.003, 0.004]
        weights = ((900.0, 0.1, 0.0), (30.0, 0.0, 0.0), (mass, x, y))
        wanted = [sum(make.newton(m) / 4 * (1 + (a * u + b * v) / 0.49) for m, u, v in weights) for a, b in corners]
        assert [support.load.expected for support in told.supports if support.load] == pytest.approx(wanted)
        assert [(body.name, body.mass) for body in told.bodies] == [("shell", 900.0 + mass), ("tank", 30.0)]
        assert [joint.force for joint in told.joints] == pytest.approx([make.newton(10.0)] * 3)
        assert [joint.whole for joint in told.joints] == [12.0, 34.0, None]
        assert told.lift is not None
        assert told.lift.mass == pytest.approx(930.0 + mass)
        assert told.lift.cg[0] == pytest.approx((90.0 + mass * x) / (930.0 + mass))
        assert [grip.support for grip in told.grips] == [f"pad {n}" for n in range(1, 5)]
        assert told.groups[0].bodies == ("shell", "tank")
        assert (told.misses, told.set_down, told.pull, told.floor) == ((), None, None, 0.35)


def test_of_four_parts_each_alone_is_told_and_for_each_stand_what_loads_it_and_what_relieves_it(
    looked: list[frozenset[str]],
) -> None:
    """A is loaded by a and b and relieved by c and d, B by b and c and by a and d."""
    four = sets("abcd", range(1, 2)) | {frozenset(each) for each in ("ab", "cd", "bc", "ad")}
    assert still_on(between(job(*"abcd"))) == four == set(looked)


def test_what_a_part_comes_off_after_is_still_on_with_it(looked: list[frozenset[str]]) -> None:
    made = job("a", "b")
    parts = tuple(replace(each, after=("a",)) if each.name == "b" else each for each in made.vehicle.parts)
    told = between(replace(made, vehicle=replace(made.vehicle, parts=parts)))
    assert still_on(told) == {frozenset("b")}
    assert len(looked) == 2
    assert set(looked) == {frozenset("b"), frozenset("ab")}


def test_what_stands_inside_one_whole_carries_nothing_and_what_stands_on_the_vehicle_is_on_the_lift() -> None:
    """A plate bolted under the shell with a stand between; a crate of 20 kg on three stands on the shell."""
    parts = [
        make.part(mass=900.0, name="shell", body="shell"),
        make.part((0.5, 0.5), 10.0, name="block", body="shell"),
        make.part((-0.5, -0.5), 10.0, name="box", body="shell"),
        make.part(mass=5.0, name="plate", body="plate"),
        make.part((0.0, 0.0, 0.9), 20.0, name="crate", body="crate"),
    ]
    seats = [
        make.support(f"c{n}", (*at, 0.7), body="crate", on="shell")
        for n, at in enumerate([(0.2, 0.1), (0.2, -0.1), (-0.4, 0.0)])
    ]
    seats.append(make.support("inside", (0.0, 0.0), body="shell", on="plate"))
    names = tuple(each.name for each in seats)
    off = Stage("off", off=("block", "box"), any_order=True)
    made = make.job(
        parts,
        seats,
        joints=[make.bolts("bolts", ("shell", "plate"))],
        stages=[Stage("up", names), off],
        lift=make.lift_use(((0.7, 0.7), (0.7, -0.7), (-0.7, 0.7), (-0.7, -0.7))),
    )

    def look(there: State) -> Seen:
        return tuple((each, solve(each, make.settings(each))) for each in frames(there, lumps(made, there)))

    gaps = dict.fromkeys((*names, *(f"pad {n}" for n in range(1, 5))), 0.0)
    end = cast(Statics, SimpleNamespace(gaps=gaps, floor=None))
    for each in tried.loads_between(made, make.state(made), (end, {}), look):
        loads = {one.name: one.load for one in each.statics.supports}
        assert loads["inside"] == load(0.0)
        assert [loads[name].expected for name in names[:3] if loads[name]] == pytest.approx([make.newton(20.0) / 3] * 3)
        assert each.statics.lift is not None
        assert each.statics.lift.mass == pytest.approx(935.0)
