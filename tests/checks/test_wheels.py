"""Wheels: castors under a load."""

from dataclasses import replace

from loadplan.checks import wheels
from loadplan.model.answer import Load
from loadplan.model.verdict import Measure, Verdict
from tests.checks.builders import STAGE, STAND, about, case, in_stage, load, support, words

DOLLY = replace(STAND, name="dolly", wheels=True)


def test_castors_that_carry_are_a_caution() -> None:
    judged = case(support("A", DOLLY))
    found = about(wheels.check(judged), "A")
    assert (found.verdict, found.value, found.measure) == (Verdict.CAUTION, 200.0, Measure.LOAD)
    assert words(found.says).endswith("Do not touch A. Take the weight back first.")
    early = words(about(wheels.check(replace(judged, before=None)), "A").says)
    assert early == (
        "A carries up to 200 N, told as mass on castors and may roll away. "
        "Before the weight comes on: lock or chock its wheels, or use a stand without wheels."
    )


def test_castors_that_carry_nothing_hold() -> None:
    found = about(wheels.check(case(support("A", DOLLY), loads={"A": load(0.0)})), "A")
    assert (found.verdict, found.value, found.limit) == (Verdict.HOLDS, 0.0, 0.0)
    assert words(found.says) == "A stands on castors but carries nothing."


def test_castors_that_carry_on_an_uneven_floor_count() -> None:
    judged = case(support("A", DOLLY), loads={"A": load(0.0, 0.0, 10.0)})
    found = about(wheels.check(judged), "A")
    assert (found.verdict, found.value) == (Verdict.CAUTION, 10.0)
    assert words(found.says).startswith("A carries up to 10 N, told as mass on castors and may roll away.")


def test_at_a_glance_castors_are_told_what_they_carry_as_set() -> None:
    """While a stand is dragged no uneven floor is looked at: the load is known, its range is not."""
    found = about(wheels.check(case(support("A", DOLLY), loads={"A": Load(150.0, None)})), "A")
    assert (found.verdict, found.value) == (Verdict.CAUTION, 150.0)
    assert words(found.says).startswith("A carries up to 150 N, told as mass on castors and may roll away.")


def test_without_castors_a_load_or_in_a_stage_that_is_rolled_it_says_nothing() -> None:
    assert wheels.check(case(support("A"))) == []
    assert wheels.check(case(support("A", DOLLY), loads={"A": None})) == []
    assert wheels.check(in_stage(case(support("A", DOLLY)), replace(STAGE, moved=True))) == []
