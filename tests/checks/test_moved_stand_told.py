"""Stands further out, by small records: which go, which way, what is told, and when nothing is."""

from collections.abc import Callable
from dataclasses import replace
from math import cos, pi, sin, sqrt
from types import SimpleNamespace

import pytest

from loadplan.checks import moved_stand_cure
from loadplan.checks.case import Case
from loadplan.checks.moved_stand_cure import (
    FurtherOut,
    crowded,
    further_out_cure,
    least_distance,
    may_move,
    moved_out,
    nearest_eighth,
)
from loadplan.model.job import Support
from loadplan.model.plan_cure import StandMove, StandsMoved
from loadplan.model.shop import Square
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import FoundCure
from loadplan.statics.group import upright_in_full
from loadplan.statics.moved_stands import StandMoves
from tests.checks.builders import (
    ARMS,
    HOIST,
    STAND,
    body_answer,
    case,
    lifted,
    load,
    support,
    with_body,
    words,
)

PLACES = {"A": (0.3, 0.4), "B": (-0.3, 0.4), "C": (0.0, -0.4)}
MADE = case(*(support(name, at=at) for name, at in PLACES.items()))
LEFT = FurtherOut(MADE, "unit", ("A", "B", "mount"), (0.0, 1.0))


def met(_: object) -> bool:
    return True


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[tuple[StandMoves, Callable[[object], bool], float]]:
    """What is asked of the solver, which says that 123 mm will do."""
    told: list[tuple[StandMoves, Callable[[object], bool], float]] = []
    monkeypatch.setattr(moved_stand_cure, "least_move", lambda *of: told.append(of) or 0.123)
    return told


Asked = list[tuple[StandMoves, Callable[[object], bool], float]]


def test_what_it_turns_about_goes_out_where_it_can_be_moved(asked: Asked) -> None:
    found = further_out_cure(LEFT, met, "it stands that").found
    assert words(found.says) == " With A and B each 0.123 m further out to the left it stands that."
    ((moves, _, beyond),) = asked
    assert (moves.job, moves.state, moves.gaps, moves.floor) == (
        *(MADE.job, MADE.state),
        *(MADE.statics.gaps, MADE.statics.floor),
    )
    assert (moves.body, moves.guess, beyond) == ("unit", None, 0.0)
    ways = dict(moves.ways)
    assert set(ways) == {"A", "B"}
    assert ways["A"] == ways["B"] == pytest.approx((0.0, 1.0))
    # Up to the next mark of a tape and one more: 130 mm.
    ((to,),) = [found.cures]
    assert isinstance(to, StandsMoved)
    assert to.by == pytest.approx(0.13)
    assert [(each.support, each.to) for each in to.moves] == [
        ("A", pytest.approx((0.3, 0.53))),
        ("B", pytest.approx((-0.3, 0.53))),
    ]


def test_one_by_itself_is_told_without_each_and_is_looked_for_as_asked(asked: Asked) -> None:
    out = replace(LEFT, about=("C",), way=(1.0, -0.9), look=upright_in_full, guess=0.05)
    found = further_out_cure(out, met, "it does").found
    assert words(found.says) == " With C 0.123 m further out to the front right it does."
    ((moves, _, _),) = asked
    assert (moves.look, moves.guess) == (upright_in_full, 0.05)
    assert moves.ways == (("C", pytest.approx((1 / sqrt(2), -1 / sqrt(2)))),)
    assert least_distance(out, met, 0.07) == 0.123
    assert asked[1][2] == 0.07


def test_without_a_way_each_goes_away_from_the_middle_of_them_all(asked: Asked) -> None:
    """The middle of the three is at (0, 0.4 / 3)."""
    out = replace(LEFT, about=("A", "B", "C"), way=None)
    found = further_out_cure(out, met, "it sways less").found
    assert words(found.says) == " With A, B and C each 0.123 m further out from their middle it sways less."
    aside = 0.4 - 0.4 / 3
    long = sqrt(0.3**2 + aside**2)
    assert asked[0][0].ways == (
        ("A", pytest.approx((0.3 / long, aside / long))),
        ("B", pytest.approx((-0.3 / long, aside / long))),
        ("C", pytest.approx((0.0, -1.0))),
    )
    # One by itself stands in their middle, and has no way.
    assert further_out_cure(replace(out, about=("A",)), met, "it sways less").found == FoundCure()
    assert len(asked) == 1


def test_where_no_distance_does_nothing_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(moved_stand_cure, "least_move", lambda *_: None)
    assert further_out_cure(LEFT, met, "it stands that").found == FoundCure()
    assert least_distance(replace(LEFT, about=("mount",)), met) is None
    assert moved_out(replace(LEFT, about=("mount",)), 0.1) == ()


def test_where_a_base_would_stand_in_the_way_nothing_is_told(asked: Asked) -> None:
    """A and B go 123 mm to the left; D stands beside A, with bases of 200 mm."""
    for y, told in ((0.724, True), (0.722, False)):
        made = case(*MADE.stands, support("D", at=(0.3, y)))
        assert bool(further_out_cure(replace(LEFT, case=made), met, "it does").found.says) is told
    assert asked


@pytest.mark.parametrize(("distance", "by"), [(0.1, 0.105), (0.1001, 0.11), (0.104, 0.11), (0.123, 0.13)])
def test_the_distance_is_rounded_up_to_a_mark_and_one_more(distance: float, by: float) -> None:
    (found,) = moved_out(LEFT, distance)
    assert found.by == pytest.approx(by)
    assert found.moves[0] == StandMove("A", (pytest.approx(0.3), pytest.approx(0.4 + by)))


@pytest.mark.parametrize(
    ("way", "eighth"),
    [
        ((2.0, 0.0), (1.0, 0.0)),
        ((1.0, 0.4), (1.0, 0.0)),
        ((1.0, 0.45), (cos(pi / 4), sin(pi / 4))),
        ((-3.0, 0.1), (-1.0, 0.0)),
        ((0.1, -1.0), (0.0, -1.0)),
    ],
)
def test_a_way_is_rounded_to_one_of_eight(way: PlanPoint, eighth: PlanPoint) -> None:
    assert nearest_eighth(way) == pytest.approx(eighth)


@pytest.mark.parametrize(
    ("stand", "moves"),
    [
        (support("A"), "moves"),
        (replace(support("A"), body="shell"), "stays"),
        (replace(support("A"), on="shell"), "stays"),
        (replace(support("A"), piece="table"), "stays"),
        (support("A", HOIST), "stays"),
    ],
)
def test_what_stands_by_itself_on_the_floor_may_be_moved(stand: Support, moves: str) -> None:
    assert may_move(stand, MADE, "unit") is (moves == "moves")


def test_a_stand_under_what_is_bolted_to_it_may_be_moved_and_a_pad_is_no_stand() -> None:
    tied = with_body(lifted(support("A")), replace(body_answer("unit"), rigid_with=("shell",)))
    assert may_move(replace(support("B"), body="shell"), tied, "unit")
    assert FurtherOut(tied, "unit", ("A", ARMS[0].name), None).stands == ("A",)


def test_bases_that_would_share_floor_are_crowded() -> None:
    """Bases of 200 mm; two that have not moved, and one that is not known, are in nobody's way."""
    near, far = support("B", at=(0.199, 0.0)), support("B", at=(0.2, 0.0))
    assert crowded((support("A"), near), ("A",))
    assert crowded((support("A"), near), ("B",))
    assert not crowded((support("A"), near), ("C",))
    assert not crowded((support("A"), far), ("A",))
    assert not crowded((support("A"), replace(near, equipment=replace(STAND, base=None))), ("A",))
    assert crowded((support("A"), replace(far, equipment=replace(STAND, base=Square(0.21, 0.2)))), ("A",))


def moved(*margins: float | None, balanced: bool = True, robust: bool = True) -> SimpleNamespace:
    """The group of unit and shell with stands elsewhere."""
    answer = SimpleNamespace(balanced=balanced, robust=robust)
    return SimpleNamespace(
        frame=SimpleNamespace(wholes=(("unit",), ("shell",))),
        solved=SimpleNamespace(answer=answer, worst_margins=margins),
    )


def before(**margins: float | None) -> Case:
    judged = lifted(support("A", at=(0.1, 0.1)), support("B", at=(-0.1, -0.1)), loads={"A": load(1.0)})
    for name, worst in margins.items():
        judged = with_body(judged, replace(body_answer(name), worst_margin=worst))
    return judged


@pytest.mark.parametrize(
    ("was", "group", "does"),
    [
        ({"unit": 0.2, "shell": 0.2}, moved(0.05, 0.05), "does"),
        ({"unit": 0.2, "shell": 0.2}, moved(0.05, 0.0499), "not"),
        ({"unit": 0.2, "shell": 0.2}, moved(0.0499, 0.2), "not"),
        ({"unit": 0.02, "shell": 0.2}, moved(0.02, 0.05), "does"),
        ({"unit": 0.02, "shell": 0.2}, moved(0.0199, 0.05), "not"),
        ({"unit": None, "shell": None}, moved(0.05, None), "does"),
        ({"unit": None, "shell": None}, moved(0.0499, None), "not"),
        ({"unit": 0.2, "shell": 0.2}, moved(0.3, 0.3, balanced=False), "not"),
        ({"unit": 0.2, "shell": 0.2}, moved(0.3, 0.3, robust=False), "not"),
    ],
)
def test_nothing_else_may_come_nearer_to_tipping_than_is_asked_or_it_was(
    was: dict[str, float | None], group: SimpleNamespace, does: str, asked: Asked
) -> None:
    out = FurtherOut(before(**was), "unit", ("A", "B"), None)
    assert least_distance(out, met) == 0.123
    assert asked[0][1](group) is (does == "does")
    least_distance(out, lambda _: False)
    assert not asked[1][1](group)
