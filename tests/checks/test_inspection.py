"""Inspection: overdue, due soon, in order, and not known."""

from dataclasses import replace
from datetime import date

import pytest

from loadplan.checks import inspection
from loadplan.checks.case import Case
from loadplan.model.shop import Equipment
from loadplan.model.verdict import Finding, Verdict
from tests.checks.builders import STAND, about, case, findings, lifted, not_checked, support, words


def on_day(day: date, equipment: Equipment = STAND, tag: str = "", until: date | None = None) -> Case:
    judged = case(replace(support("A", equipment), tag=tag))
    return replace(judged, job=replace(judged.job, date=day, until=until))


def judge(day: date, until: date | None = None) -> Finding:
    """The stand was inspected on 2 June 2026 and is due on 2 June 2027."""
    return about(inspection.check(on_day(day, until=until)), "stand")


@pytest.mark.parametrize(
    ("day", "verdict", "left"),
    [
        (date(2027, 5, 1), Verdict.HOLDS, 32.0),
        (date(2027, 5, 2), Verdict.NOTE, 31.0),
        (date(2027, 6, 2), Verdict.NOTE, 0.0),
        (date(2027, 6, 3), Verdict.STOP, -1.0),
    ],
)
def test_due_within_a_month_is_a_note_and_overdue_a_stop(day: date, verdict: Verdict, left: float) -> None:
    found = judge(day)
    assert (found.verdict, found.value) == (verdict, left)
    assert "2027-06-02" in words(found.says)


def test_what_falls_due_while_it_is_in_use_is_a_note() -> None:
    assert judge(date(2027, 3, 1), until=date(2027, 6, 1)).verdict is Verdict.HOLDS
    assert judge(date(2027, 3, 1), until=date(2027, 6, 2)).verdict is Verdict.NOTE


def test_a_month_that_is_too_short_ends_on_its_last_day() -> None:
    monthly = replace(STAND, inspected=(("", date(2027, 1, 31)),), inspect_months=1)
    assert about(inspection.check(on_day(date(2027, 2, 28), monthly)), "stand").verdict is Verdict.NOTE
    assert about(inspection.check(on_day(date(2027, 3, 1), monthly)), "stand").verdict is Verdict.STOP


DATED = replace(STAND, inspected=(("S1", date(2026, 6, 2)), ("S2", date(2025, 1, 15)), ("S4", date(2020, 1, 1))))


def test_a_tag_is_judged_by_its_own_date() -> None:
    day = date(2026, 11, 20)
    assert about(inspection.check(on_day(day, DATED, "S1")), "S1").verdict is Verdict.HOLDS
    assert about(inspection.check(on_day(day, DATED, "S2")), "S2").verdict is Verdict.STOP


def test_without_a_tag_the_worst_of_those_that_may_be_used_counts() -> None:
    told = inspection.check(on_day(date(2025, 12, 1), DATED))
    assert about(told, "stand").verdict is Verdict.HOLDS
    assert about(told, "stand").value == 45.0
    assert not_checked(told) == [
        "Inspection of S3 (stand): not checked, the shop file does not say when it was inspected."
    ]


def test_dates_by_tag_count_where_no_tags_are_listed() -> None:
    bare = replace(DATED, tags=(), out_of_use=())
    assert about(inspection.check(on_day(date(2026, 11, 20), bare)), "stand").verdict is Verdict.STOP


def test_a_date_for_all_stands_in_for_a_tag_without_one() -> None:
    assert about(inspection.check(on_day(date(2026, 11, 20), STAND, "S3")), "S3").verdict is Verdict.HOLDS


@pytest.mark.parametrize(
    ("equipment", "missing"),
    [
        (replace(STAND, inspect_months=None), "how often"),
        (replace(STAND, inspected=(), tags=()), "when it was inspected"),
    ],
)
def test_without_a_date_or_an_interval_it_is_not_checked(equipment: Equipment, missing: str) -> None:
    told = inspection.check(on_day(date(2026, 11, 20), equipment))
    assert not_checked(told) == [f"Inspection of stand: not checked, the shop file does not say {missing}."]


def test_an_interval_of_many_lives_is_no_error() -> None:
    judged = on_day(date(2026, 11, 20), replace(STAND, inspect_months=10**6))
    assert about(inspection.check(judged), "stand").verdict is Verdict.HOLDS


def test_each_piece_is_told_once_and_arms_not_at_all() -> None:
    told = findings(inspection.check(lifted(support("A"), support("B"), replace(support("C"), tag="S1"))))
    assert [each.subject for each in told] == ["stand", "S1"]
