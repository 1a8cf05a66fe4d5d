"""Point: the place on the vehicle, arms too."""

from dataclasses import replace
from math import nextafter

import pytest

from loadplan.checks import point
from loadplan.model.verdict import CheckName, Measure, Verdict
from tests.checks.builders import ARMS, about, case, findings, lifted, load, support, words


@pytest.mark.parametrize(("high", "verdict"), [(500.0, Verdict.HOLDS), (nextafter(500.0, 1e9), Verdict.STOP)])
def test_the_highest_load_is_held_against_the_limit_of_the_place(high: float, verdict: Verdict) -> None:
    found = about(point.check(case(support("A"), loads={"A": load(200.0, 100.0, high)})), "A")
    assert (found.verdict, found.value, found.limit) == (verdict, high, 500.0)
    assert words(found.says).startswith("place A (A) takes at most")


def test_a_place_without_limit_is_a_note_with_or_without_a_load() -> None:
    bare = replace(support("A"), limit=None, point="")
    for carried in (load(1e6), None):
        found = about(point.check(case(bare, loads={"A": carried})), "A")
        assert found.verdict is Verdict.NOTE
        assert words(found.says).startswith("What the place at A may take is not given")


def test_without_a_load_it_says_nothing() -> None:
    assert point.check(case(support("A"), loads={"A": None})) == []


def test_the_pads_of_the_lift_are_looked_at_too() -> None:
    judged = lifted(loads={ARMS[0].name: load(5001.0)})
    assert [each.verdict for each in findings(point.check(judged))] == [Verdict.STOP] + [Verdict.HOLDS] * 3
    assert words(about(point.check(judged), "pad 1").says).endswith("Before lifting: set that pad on a stronger place.")


def test_the_cure_waits_until_the_weight_is_taken() -> None:
    judged = case(support("A"), loads={"A": load(501.0)})
    assert words(about(point.check(judged), "A").says).endswith("Do not touch A. Take the weight back first.")
    early = about(point.check(replace(judged, before=None)), "A")
    assert words(early.says).endswith("move A to a stronger place, or set one more beside it.")


def test_a_place_is_told_with_its_stand_unless_both_have_one_name() -> None:
    alike = replace(support("A"), point="A")
    assert words(about(point.check(case(alike)), "A").says).startswith("A takes at most")


PRESSES = "place A (A) takes at most {} N, told as mass of the 500 N, told as mass that it may take"


def test_what_presses_on_a_place_is_told_beside_what_it_may_take() -> None:
    hung = lifted(support("A"), loads={"A": load(501.0)})
    act = "Before unbolting: move A to a stronger place, or set one more beside it."
    for judged, says in (
        (case(support("A"), loads={"A": load(499.0)}), f"{PRESSES.format(499)}."),
        (hung, f"{PRESSES.format(501)}: too much. {act}"),
    ):
        found = about(point.check(judged), "A")
        assert (found.check, found.measure) == (CheckName.POINT, Measure.LOAD)
        assert words(found.says) == says


def test_a_place_of_which_nothing_is_given_is_told_so() -> None:
    for name, place in (("place A", "place A (A)"), ("", "the place at A")):
        found = about(point.check(case(replace(support("A"), limit=None, point=name))), "A")
        assert (found.check, found.verdict, found.value, found.limit, found.measure) == (
            *(CheckName.POINT, Verdict.NOTE),
            *(None, None, Measure.LOAD),
        )
        assert words(found.says) == f"What {place} may take is not given, so the load on it is not checked."
