"""Snag: what a hose left on may do."""

from dataclasses import replace
from math import nextafter

from loadplan.checks import snag
from loadplan.model.answer import Tips
from loadplan.model.disturbance import Snag
from loadplan.model.verdict import Finding, Measure, NotChecked, Verdict
from tests.checks.builders import about, case, lifted, support, with_group, words


def told_of(*snags: Snag) -> list[Finding | NotChecked]:
    judged = case(support("A"))
    return snag.check(with_group(judged, replace(judged.statics.groups[0], snags=snags)))


def test_on_the_limit_it_is_a_note_and_below_a_caution() -> None:
    enough, little = (
        about(told_of(Snag("j", "unit", 200.0)), "j"),
        about(told_of(Snag("j", "unit", nextafter(200, 0))), "j"),
    )
    assert (enough.verdict, enough.value, enough.limit, enough.measure) == (Verdict.NOTE, 200.0, 200.0, Measure.LOAD)
    assert little.verdict is Verdict.CAUTION
    assert words(enough.says) == "A hose left on at j tips the unit when it pulls up with 200 N, told as mass."
    assert "Before raising: look at all that crosses there" in words(little.says)


def test_only_the_least_one_is_noted() -> None:
    told = told_of(Snag("j", "unit", 900.0), Snag("k", "unit", 400.0), Snag("l", "unit", None))
    assert [about(told, name).verdict for name in "jkl"] == [Verdict.HOLDS, Verdict.NOTE, Verdict.HOLDS]


def test_every_one_below_the_limit_is_a_caution() -> None:
    told = told_of(Snag("j", "unit", 0.0), Snag("k", "unit", 100.0), Snag("l", "unit", 300.0))
    assert [about(told, name).verdict for name in "jkl"] == [Verdict.CAUTION, Verdict.CAUTION, Verdict.HOLDS]


def test_where_no_pull_tips_it_that_holds() -> None:
    found = about(told_of(Snag("j", "unit", None)), "j")
    assert (found.verdict, found.value) == (Verdict.HOLDS, None)


def test_what_hangs_on_the_lift_or_does_not_stand_is_not_looked_at() -> None:
    hung = lifted(support("A"))
    tied = replace(hung.statics.groups[0], snags=(Snag("j", "shell", 100.0),))
    assert snag.check(with_group(hung, tied)) == []
    free = case(support("A"))
    tipping = replace(free.statics.groups[0], snags=(Snag("j", "unit", 100.0),), proof=Tips(()))
    assert snag.check(with_group(free, tipping)) == []


def test_where_little_does_it_what_to_look_at_and_when_is_told() -> None:
    assert words(about(told_of(Snag("j", "unit", 50.0)), "j").says) == (
        "A hose left on at j tips the unit when it pulls up with 50 N, told as mass, which is little. "
        "Before raising: look at all that crosses there, and again 0.05 m up."
    )
    assert words(about(told_of(Snag("j", "unit", None)), "j").says) == "No upward pull at j tips the unit."
