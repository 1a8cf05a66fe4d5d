"""Days as people write them: each usual writing, what is said in short, and what may be two days."""

from datetime import date

import pytest

from loadplan.planning.interview.answer_days import MONTHS, SAMPLE, full_days, read_day, read_days
from loadplan.planning.interview.question import AnswerError, Days

TODAY = date(2026, 11, 20)
FIRST, LAST = date(2026, 12, 1), date(2026, 12, 3)


@pytest.mark.parametrize(
    "text",
    [
        "2026-11-20", "2026/11/20", "20.11.2026", "20 11 2026", "20/11/2026", "11/20/2026", "20-11-2026",
        "20 Nov 2026", "20 november 2026", "Nov 20, 2026", "Fri, 20th NOVEMBER 2026", "2026 Nov 20", "20. Nov. 2026",
    ],
)  # fmt: skip
def test_a_day_is_read_in_any_usual_writing(text: str) -> None:
    assert read_day(text) == TODAY
    assert read_days(f" {text} ") == Days(TODAY, None)


def test_each_month_is_known_by_its_first_letters() -> None:
    found = [read_day(f"5 {month} 2026") for month in MONTHS]
    assert found == [date(2026, number, 5) for number in range(1, 13)]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("20 Nov", f"a day with its year in four figures, please, such as {SAMPLE}"),
        ("20 Nov 26", f"a day with its year in four figures, please, such as {SAMPLE}"),
        ("2026", f"a day with its year in four figures, please, such as {SAMPLE}"),
        ("20 Nov Dec 2026", f"a day with its year in four figures, please, such as {SAMPLE}"),
        ("20 11 12 2026", f"a day with its year in four figures, please, such as {SAMPLE}"),
        ("20 Nov 20261", f"a day with its year in four figures, please, such as {SAMPLE}"),
        ("2025 Nov 2026", f"a day with its year in four figures, please, such as {SAMPLE}"),
        ("31 Nov 2026", f"there is no such day; write it as {SAMPLE}"),
        ("31/11/2026", f"there is no such day; write it as {SAMPLE}"),
        ("2026-13-01", f"there is no such day; write it as {SAMPLE}"),
        ("3/4/2026", "that may be 4 Mar 2026 or 3 Apr 2026: write the month in letters"),
        ("3-4-2026", "that may be 4 Mar 2026 or 3 Apr 2026: write the month in letters"),
    ],
)
def test_what_is_no_day_or_may_be_two_is_told(text: str, says: str) -> None:
    with pytest.raises(AnswerError) as told:
        read_day(text)
    assert str(told.value) == says


def test_written_with_points_the_day_comes_first_and_twice_the_same_is_no_doubt() -> None:
    assert read_day("3.4.2026") == date(2026, 4, 3)
    assert read_day("4/4/2026") == date(2026, 4, 4)
    assert read_day("31 1 2026") == date(2026, 1, 31)


@pytest.mark.parametrize(
    "text",
    [
        "1 Dec 2026 to 3 Dec 2026", "1 Dec 2026 until 3 Dec 2026", "1 Dec 2026 till 3 Dec 2026",
        "1 Dec 2026 through 3 Dec 2026", "1 Dec 2026 – 3 Dec 2026", "1 Dec 2026—3 Dec 2026", "1 Dec 2026 - 3 Dec 2026",
        "1 Dec to 3 Dec 2026", "1 Dec 2026 to 3 Dec", "1-3 Dec 2026", "1 to 3 December 2026", "1st–3rd DEC, 2026",
        "1. - 3. Dec. 2026", "1 until 3 dec 2026", "1 till 3 dec 2026", "1 through 3 dec 2026", "1—3 Dec 2026",
        "2026-12-01 to 2026-12-03", "1.12. to 3.12.2026", "1.12.2026 to 3.12",
    ],
)  # fmt: skip
def test_a_first_and_a_last_day_may_share_month_and_year(text: str) -> None:
    assert read_days(text) == Days(FIRST, LAST)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            "1 Dec 2026 to 2 Dec 2026 to 3 Dec 2026",
            f"one day, or a first and a last one with 'to' between, such as {SAMPLE}",
        ),
        ("3 Dec 2026 to 1 Dec 2026", "the last day, 2026-12-01, is before the first, 2026-12-03"),
        ("1 Dec", f"a day with its year in four figures, please, such as {SAMPLE}"),
    ],
)
def test_what_is_no_first_and_last_day_is_told(text: str, says: str) -> None:
    with pytest.raises(AnswerError) as told:
        read_days(text)
    assert str(told.value) == says


def test_one_day_alone_may_be_first_and_last() -> None:
    assert read_days("1 Dec 2026 to 1 Dec 2026") == Days(FIRST, FIRST)


@pytest.mark.parametrize(
    ("text", "full"),
    [
        ("today", "20 Nov 2026"),
        ("NOW", "20 Nov 2026"),
        ("tomorrow", "21 Nov 2026"),
        ("today to tomorrow", "20 Nov 2026 to 21 Nov 2026"),
        ("20 nov", "20 Nov 2026"),
        ("19 nov", "19 Nov 2027"),
        ("1 dec", "1 Dec 2026"),
        ("1.12.", "1 Dec 2026"),
        ("1.12", "1 Dec 2026"),
        ("1-3 dec", "1 Dec 2026 to 3 Dec 2026"),
        ("1st to 3rd December", "1 Dec 2026 to 3 Dec 2026"),
        ("1 until 3 dec", "1 Dec 2026 to 3 Dec 2026"),
        ("1 till 3 dec", "1 Dec 2026 to 3 Dec 2026"),
        ("1–3 dec", "1 Dec 2026 to 3 Dec 2026"),
        ("30 dec to 2 jan", "30 Dec 2026 to 2 Jan 2027"),
        ("1 mar to 1 feb", "1 Mar 2027 to 1 Feb 2028"),
        ("5.3.26", "5 Mar 2026"),
        ("5 mar 26", "5 Mar 2026"),
        ("5th march '26", "5 Mar 2026"),
        ("5 mar ’26", "5 Mar 2026"),
        ("5/3/26", "5/3/2026"),
        (" 5/3/26 ", " 5/3/2026 "),
        ("1 dec to 5/3/26", "1 dec to 5/3/26"),
        ("25/3/26", "25 Mar 2026"),
        ("20 Nov 2026", "20 Nov 2026"),
        ("1 dec 2026 to 3 dec", "1 dec 2026 to 3 dec"),
        ("soon", "soon"),
        ("31 nov", "31 nov"),
        ("", ""),
    ],
)
def test_what_is_said_in_short_is_written_out_the_next_day_of_that_name(text: str, full: str) -> None:
    assert full_days(text, TODAY) == full
