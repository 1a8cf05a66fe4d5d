"""Numbers are read as people write them, not as a programming language would, and a plan takes the day that it is."""

from datetime import date

import pytest

from loadplan.board import draft, undo_history
from loadplan.board.refusals import RefusedError
from loadplan.board.stand_changes import quantity
from loadplan.units import Kind
from tests.board.desk import Page


@pytest.mark.parametrize(("text", "metres"), [("390", 0.39), (" 390.5 ", 0.3905), ("+3.9e2", 0.39), ("15 in", 0.381)])
def test_a_number_is_in_the_jobs_units_or_says_its_own(page: Page, text: str, metres: float) -> None:
    assert quantity(text, Kind.LENGTH, page.draft) == pytest.approx(metres)


@pytest.mark.parametrize("text", ["1_000", "٣٩٠", "３９０", "nan", "inf", "1,000", "0x10", "", "1__0", "1e"])
def test_what_nobody_writes_is_no_number(page: Page, text: str) -> None:
    with pytest.raises(RefusedError, match="Not taken"):
        quantity(text, Kind.LENGTH, page.draft)


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("150,5", 0.1505),
        ("-150,5", -0.1505),
        ("1500,25 ", 1.50025),
        ("1,5000", 0.0015),
        ("0,500", 0.0005),
        (",5", 0.0005),
        ("2,5 in", 0.0635),
    ],
)
def test_one_comma_is_a_point_where_it_cannot_part_thousands(page: Page, text: str, metres: float) -> None:
    assert quantity(text, Kind.LENGTH, page.draft) == pytest.approx(metres)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        *((each, "1,500 could be 1500 or 1.5. Type 1500, or 1.5.") for each in ("1,500", "-1,500", "1,500 mm")),
        ("20,000", "20,000 could be 20000 or 20. Type 20000, or 20."),
        ("1,234", "1,234 could be 1234 or 1.234. Type 1234, or 1.234, on keys without a point 1,2340."),
    ],
)
def test_a_comma_that_may_part_thousands_is_refused_and_both_are_told(page: Page, text: str, told: str) -> None:
    with pytest.raises(RefusedError) as refused:
        quantity(text, Kind.LENGTH, page.draft)
    assert str(refused.value) == f"Not taken: {told}"


@pytest.mark.parametrize("text", ["1,5,5", "1,500,000", "1.500,5", "1,500.5", "150,", ",", "1,5,"])
def test_more_than_one_comma_or_one_without_digits_is_no_number(page: Page, text: str) -> None:
    with pytest.raises(RefusedError, match="Not taken: it "):
        quantity(text, Kind.LENGTH, page.draft)


@pytest.mark.parametrize("text", ["1e400", "-1e400", "1e400 mm"])
def test_a_number_that_is_too_large_is_told_so(page: Page, text: str) -> None:
    with pytest.raises(RefusedError, match="too large"):
        quantity(text, Kind.LENGTH, page.draft)


def test_a_page_left_open_overnight_takes_the_new_day(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    text = page.path.read_text("utf-8")
    page.path.write_text("\n".join(line for line in text.splitlines() if not line.startswith(("date ", "until "))))
    page.seen = page.post("reread").json()
    for module in (draft, undo_history):
        monkeypatch.setattr(module, "today", lambda: date(2031, 5, 6))
    before = page.seen["revision"]
    page.show()
    assert page.seen["revision"] == before + 1
    assert page.draft.given.date == date(2031, 5, 6)


def test_a_job_that_gives_its_day_keeps_it(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(undo_history, "today", lambda: date(2031, 5, 6))
    before = page.seen["revision"]
    assert page.show()["revision"] == before
