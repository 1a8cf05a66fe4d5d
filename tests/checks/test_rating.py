"""Rating, on each of its thresholds."""

from dataclasses import replace
from math import nextafter

import pytest

from loadplan.checks import rating
from loadplan.checks.case import Case
from loadplan.model.answer import Load
from loadplan.model.shop import RatedFor
from loadplan.model.verdict import Finding, Verdict
from tests.checks.builders import (
    ARMS,
    STAND,
    about,
    case,
    findings,
    lifted,
    load,
    support,
    with_group,
    words,
)

UP = 1e9


def judge(carried: Load) -> Finding:
    return about(rating.check(case(support("A"), loads={"A": carried})), "A")


@pytest.mark.parametrize(
    ("high", "verdict"),
    [
        (750.0, Verdict.HOLDS),
        (nextafter(750.0, UP), Verdict.CAUTION),
        (1000.0, Verdict.CAUTION),
        (nextafter(1000.0, UP), Verdict.STOP),
    ],
)
def test_the_highest_load_is_held_against_the_rating_and_its_share(high: float, verdict: Verdict) -> None:
    found = judge(load(300.0, 100.0, high))
    assert (found.verdict, found.value, found.limit) == (verdict, high, 1000.0)


@pytest.mark.parametrize(
    ("most", "verdict"), [(1000.0, Verdict.HOLDS), (nextafter(1000.0, UP), Verdict.CAUTION), (None, Verdict.CAUTION)]
)
def test_the_most_it_could_ever_carry_is_a_caution_above_the_rating(most: float | None, verdict: Verdict) -> None:
    assert judge(replace(load(300.0), most=most)).verdict is verdict


def test_a_bound_unknown_because_tolerance_may_tip_it_says_nothing() -> None:
    judged = case(support("A"), loads={"A": Load(300.0, 300.0, 300.0, None, None)})
    shaky = with_group(judged, replace(judged.statics.groups[0], robust=False))
    assert about(rating.check(shaky), "A").verdict is Verdict.HOLDS


def test_a_rating_for_a_pair_is_halved() -> None:
    pair = replace(STAND, rated_for=RatedFor.PAIR)
    found = about(rating.check(case(support("A", pair), loads={"A": load(501.0)})), "A")
    assert (found.verdict, found.limit) == (Verdict.STOP, 500.0)


def test_a_rating_not_said_to_be_for_one_is_noted_once_and_halved() -> None:
    unsaid = replace(STAND, rated_for=RatedFor.UNSAID)
    told = rating.check(case(support("A", unsaid), support("B", unsaid)))
    assert about(told, "stand").verdict is Verdict.NOTE
    assert about(told, "A").limit == 500.0


def test_a_marked_rating_is_not_noted() -> None:
    assert [each.subject for each in findings(rating.check(case(support("A"))))] == ["A"]


def test_supports_of_one_piece_add_up_against_one_rating() -> None:
    table = [replace(support(name), piece="table 1") for name in ("A", "B")]
    loads = {"A": load(400.0, 400.0, 600.0), "B": load(300.0, 300.0, 401.0)}
    told = rating.check(case(*table, support("C"), loads=loads))
    found = about(told, "table 1")
    assert (found.verdict, found.value) == (Verdict.STOP, 1001.0)
    assert words(found.says).startswith("table 1 (A and B) carries 700 N, told as mass, most on this floor 1001 N")
    assert about(told, "C").verdict is Verdict.HOLDS


def test_a_piece_with_one_support_that_nothing_limits_is_a_caution() -> None:
    table = [replace(support(name), piece="table 1") for name in ("A", "B")]
    loads = {"A": load(100.0), "B": replace(load(100.0), most=None)}
    assert about(rating.check(case(*table, loads=loads)), "table 1").verdict is Verdict.CAUTION


def test_a_piece_under_the_vehicle_never_carries_more_than_all_there_is() -> None:
    table = [replace(support(name, replace(STAND, rating=2100.0)), piece="table 1") for name in ("A", "B")]
    loads = {each.name: replace(load(100.0), most=1500.0) for each in table}
    assert about(rating.check(lifted(*table, loads=loads)), "table 1").verdict is Verdict.HOLDS
    assert about(rating.check(lifted(*table, loads=loads, hung=False)), "table 1").verdict is Verdict.CAUTION
    wings = [replace(each, on="shell") for each in table]
    assert about(rating.check(lifted(*wings, loads=loads)), "table 1").verdict is Verdict.CAUTION


def test_arms_belong_to_the_lift() -> None:
    judged = lifted(support("A"), loads={each.name: load(9000.0) for each in ARMS})
    assert [each.subject for each in findings(rating.check(judged))] == ["A"]


def test_without_loads_it_says_nothing() -> None:
    assert rating.check(case(support("A"), loads={"A": None})) == []


def test_the_cure_waits_until_the_weight_is_taken() -> None:
    judged = case(support("A"), loads={"A": load(800.0)})

    def told(judged: Case) -> str:
        return words(about(rating.check(judged), "A").says)

    assert told(judged).endswith("Do not touch A. Take the weight back first.")
    assert told(replace(judged, before=None)).endswith("use a stronger stand than A, or set one more beside it.")
