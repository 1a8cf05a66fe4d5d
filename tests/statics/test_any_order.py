"""Parts that come off in any order: which states there are between, and what the worst of them is. Made-up states."""

from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import pytest

from loadplan.model.answer import Balanced, Loose, Mode, Motion, Proof, Statics, Tips
from loadplan.model.job import Job, Stage, State
from loadplan.statics.any_order import MOST_HOLDING, over_every_set, states_between, with_parts
from loadplan.statics.equilibrium import Frame
from loadplan.statics.resting_state import Solved
from tests.checks import builders
from tests.statics import builders as make

STILL = Motion(0.0, 0.0, 0.0)


def job(*names: str, carriers: Sequence[str] = (), after: dict[str, tuple[str, ...]] | None = None) -> Job:
    """A unit from which parts come off in any order; under some of them is a stand."""
    parts = [make.part(name=name, mass=1.0, after=(after or {}).get(name, ())) for name in names]
    seats = [replace(make.support(f"under {name}", (0.1, 0.0)), part=name) for name in carriers]
    return make.job(
        [make.part(), *parts],
        [make.support("A", (0.5, 0.0)), *seats],
        stages=[
            Stage("down", in_place=("A", *(each.name for each in seats))),
            Stage("off", off=names, any_order=True),
        ],
    )


def on_and_open(states: Sequence[State]) -> set[tuple[frozenset[str], frozenset[str]]]:
    """Which parts are on in each state, and which may be."""
    return {(each.on - {"lump"}, frozenset(each.may_be_on)) for each in states}


def between(made: Job) -> tuple[State, ...]:
    return states_between(made, make.state(made))


def sets(*pairs: tuple[str, str]) -> set[tuple[frozenset[str], frozenset[str]]]:
    return {(frozenset(on), frozenset(may)) for on, may in pairs}


def test_where_nothing_stands_under_them_there_is_no_state_of_its_own() -> None:
    assert between(job("a", "b")) == ()


def test_each_set_of_parts_with_a_stand_under_them_is_a_state_and_the_others_may_be_either_way() -> None:
    assert on_and_open(between(job("a", "b", carriers="a"))) == sets(("a", "b"), ("", "b"))
    assert on_and_open(between(job("a", "b", "c", carriers="ab"))) == sets(
        ("ab", "c"), ("a", "c"), ("b", "c"), ("", "c")
    )


def test_what_comes_off_after_another_part_goes_with_it() -> None:
    """The part b comes off only after a: with a on b is on as well, and with b off a is off."""
    assert on_and_open(between(job("a", "b", carriers="a", after={"b": ("a",)}))) == sets(("ab", ""), ("", "b"))
    assert on_and_open(between(job("a", "b", carriers="b", after={"b": ("a",)}))) == sets(("b", "a"), ("", ""))
    assert len(between(job("a", "b", carriers="ab", after={"b": ("a",)}))) == 3


def test_of_more_than_so_many_all_are_judged_without() -> None:
    names = "abcdef"
    assert len(between(job(*names, carriers=names[:MOST_HOLDING]))) == 2**MOST_HOLDING
    assert between(job(*names, carriers=names[: MOST_HOLDING + 1])) == ()


def test_with_some_parts_on_all_others_are_off_but_what_comes_off_after_them() -> None:
    made = job("a", "b", "c", after={"b": ("a",)})
    state = make.state(made)
    for on, wanted in (("", ""), ("a", "ab"), ("b", "b"), ("c", "c"), ("abc", "abc")):
        there = with_parts(made, state, frozenset(on))
        assert there is not None
        assert (there.on - {"lump"}, there.may_be_on) == (frozenset(wanted), ())


def solved(
    margin: float | None, *, robust: bool = True, proof: Proof | None = None, modes: Sequence[Mode] = ()
) -> Solved:
    """The unit beside another whole that stands by far."""
    answer = SimpleNamespace(balanced=proof is None, robust=robust, proof=proof or Balanced((), ()), modes=tuple(modes))
    return cast("Solved", SimpleNamespace(answer=answer, worst_margins=(9.0, margin)))


def group(*bodies: str) -> Frame:
    wholes = (("other",), bodies)
    return cast(
        "Frame",
        SimpleNamespace(wholes=wholes, whole=lambda body: next(n for n, names in enumerate(wholes) if body in names)),
    )


def statics() -> Statics:
    return builders.case(builders.support("A")).statics


def worst(*states: Solved) -> tuple[float | None, bool]:
    """The unit's worst margin over all of them, and whether its group stands over the whole tolerance in each."""
    told = over_every_set(statics(), tuple(((group("unit"), each),) for each in states))
    return told.bodies[0].worst_margin, told.groups[0].robust


TIPS = Tips((("unit", STILL),))


def mode(**margins: float) -> Mode:
    return Mode((), tuple(margins), tuple((name, STILL) for name in margins), 0.0, tuple(margins.items()))


@pytest.mark.parametrize(
    ("states", "margin", "robust"),
    [
        ((solved(0.3),), 0.3, True),
        ((solved(0.3), solved(0.1), solved(0.2)), 0.1, True),
        ((solved(0.3), solved(None)), 0.3, True),
        ((solved(None),), None, True),
        ((solved(0.3), solved(-0.1, robust=False)), -0.1, False),
        ((solved(0.3), solved(None, robust=False, proof=Loose((("unit", STILL),)))), 0.0, False),
        ((solved(0.3), solved(None, robust=False, proof=TIPS)), 0.3, False),
        ((solved(0.3), solved(None, robust=False, proof=TIPS, modes=[mode(other=-9.0)])), 0.3, False),
        (
            (solved(0.3), solved(None, robust=False, proof=TIPS, modes=[mode(unit=-0.1, other=-9.0), mode(unit=-0.2)])),
            -0.2,
            False,
        ),
    ],
)
def test_the_worst_of_all_states_counts(states: Sequence[Solved], margin: float | None, robust: bool) -> None:  # noqa: FBT001
    assert worst(*states) == (margin, robust)


def test_without_a_state_between_nothing_is_changed() -> None:
    assert over_every_set(statics(), ()) == statics()


def test_what_is_not_balanced_at_the_end_is_told_as_it_is() -> None:
    end = statics()
    tips = replace(
        end,
        bodies=(replace(end.bodies[0], balanced=False, worst_margin=-1.0),),
        groups=(replace(end.groups[0], proof=TIPS),),
    )
    told = over_every_set(tips, (((group("unit"), solved(0.3)),),))
    assert told.bodies == tips.bodies
    assert not told.groups[0].robust


def test_a_body_that_is_gone_in_some_states_counts_where_it_is_there() -> None:
    told = over_every_set(statics(), (((group("another"), solved(-5.0)),), ((group("unit"), solved(0.2)),)))
    assert told.bodies[0].worst_margin == 0.2


def test_what_holds_on_a_part_is_done_up_while_that_is_on_and_undone_once_it_is_off() -> None:
    bracket = replace(make.mount("bracket", (0.3, 0.0)), part="a")
    made = make.job(
        [make.part(), make.part(name="a", mass=1.0), make.part(name="b", mass=1.0), make.part(name="c", body="cradle")],
        [make.support("A", (0.5, 0.0)), make.support("C", (0.0, 0.0), body="cradle")],
        joints=[bracket, make.mount("other", (0.0, 0.0))],
        stages=[Stage("down", in_place=("A", "C")), Stage("off", off=("a", "b"), any_order=True)],
    )
    told = {"a" in each.on: each for each in between(made)}
    names = {
        on: ([each.name for each in there.done_up], [each.name for each in there.undone]) for on, there in told.items()
    }
    assert names == {True: (["bracket", "other"], []), False: (["other"], ["bracket"])}
    assert {each.gone_with_parts for each in told.values()} == {()}
