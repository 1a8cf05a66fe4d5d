"""Loads in between: which sets of parts are looked at, against all that there are. Made-up states, solved by nobody."""

from collections.abc import Mapping
from dataclasses import replace
from itertools import chain, combinations
from types import SimpleNamespace
from typing import cast

import pytest

from loadplan.model.answer import Between, Load, LoadRange, Statics, SupportAnswer
from loadplan.model.job import Job, Stage, State
from loadplan.statics import loads_between as tried
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
    [{"cleared": ("B",)}, {"lowered": 0.001}, {"raised": 0.001}, {"in_place": ("A",)}],
    ids=["cleared", "lowered", "raised", "in place"],
)
def test_where_the_stage_changes_what_it_stands_on_all_parts_on_are_told_too(
    change: Mapping[str, object], looked: list[frozenset[str]]
) -> None:
    assert still_on(between(job("a", "b", **change))) == sets("ab", range(1, 3)) == set(looked)


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
