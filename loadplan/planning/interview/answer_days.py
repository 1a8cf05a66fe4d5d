"""Reading days in any usual writing; one that may mean two days is asked about."""

import re
from collections.abc import Iterator
from datetime import date, timedelta
from types import MappingProxyType

from loadplan.planning.interview.question import AnswerError, Days

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")

SAMPLE = "2026-11-20, 20 Nov 2026 or 20.11.2026"

_PART = re.compile(r"\s+(?:to|until|till|through)\s+|\s*[–—]\s*|\s+-\s+")


_IN_A_MONTH = re.compile(
    r"^([0-9]{1,2})(?:st|nd|rd|th)?\.?\s*(?:to|until|till|through|[–—-])\s*([0-9]{1,2})(?:st|nd|rd|th)?\.?"
    r"\s+([^\W\d_]{3,}\.?,?\s+[0-9]{4})$",
    re.IGNORECASE,
)
"""Two days of one month, 1-3 Dec 2026: month and year are said once."""


_SHORT = re.compile(
    r"^([0-9]{1,2})(?:st|nd|rd|th)?\s*(?:to|until|till|[–—-])\s*([0-9]{1,2})(?:st|nd|rd|th)?\s+([a-z]{3,})$"
)
"""The same without a year, 1-3 dec."""

_SHORT_YEAR = re.compile(
    r"^(?P<day>[0-9]{1,2}(?:[./][0-9]{1,2}|(?:st|nd|rd|th)?[ .]*[a-z]{3,})[./, ]+)['’]?(?P<year>[0-9]{2})$"
)
"""A day with two figures of its year behind it, 5.3.26 or 5 mar 26: of this century."""

_SAID = MappingProxyType({"today": 0, "now": 0, "tomorrow": 1})
"""Days that are said by the day on which they are said."""


def read_days(text: str) -> Days:
    """Read a day, or a first and a last one.

    Args:
        text: Such as "20 Nov 2026 to 24 Nov 2026".

    Returns:
        The days.

    Raises:
        AnswerError: If one is no day, may be two, or they stand the wrong way round.
    """
    parts = _PART.split(_IN_A_MONTH.sub(r"\1 \3 to \2 \3", text.strip()))
    if len(parts) > 2:
        raise AnswerError(f"one day, or a first and a last one with 'to' between, such as {SAMPLE}")
    year = re.search(r"\b[0-9]{4}\b", text)
    days = [read_day(_with_year(each, year[0]) if year else each) for each in parts]
    if days[-1] < days[0]:
        raise AnswerError(f"the last day, {days[-1]}, is before the first, {days[0]}")
    return Days(days[0], days[1] if len(days) == 2 else None)


def full_days(text: str, today: date) -> str:
    """Write out days that were said in short: today, tomorrow, 1 dec, 5.3.26.

    Args:
        text: What was typed.
        today: The day on which it was.

    Returns:
        Each day with its month in letters and its year, a day without a year being the next of that name; the text as
        it was where it says the whole year itself, or says no day. A day that may be two gets its year only.

    Example:
        >>> full_days("1-3 dec", date(2026, 11, 20)), full_days("today to 2 jan", date(2026, 11, 20))
        ('1 Dec 2026 to 3 Dec 2026', '20 Nov 2026 to 2 Jan 2027')
        >>> full_days("5.3.26", date(2026, 1, 20)), full_days("5/3/26", date(2026, 1, 20))
        ('5 Mar 2026', '5/3/2026')
    """
    if re.search(r"[0-9]{4}", text):
        return text
    found: list[date] = []
    for part in _PART.split(_SHORT.sub(r"\1 \3 to \2 \3", text.strip().casefold())):
        after = found[-1] if found else today
        if part in _SAID:
            found.append(today + timedelta(days=_SAID[part]))
            continue
        if short := _SHORT_YEAR.match(part):
            said = f"{short['day']}20{short['year']}"
            try:
                found.append(read_day(said))
            except AnswerError:
                return text.replace(text.strip(), said) if part == text.strip().casefold() else text
            continue
        try:
            day = read_day(_with_year(part, str(after.year)))
            found.append(day if day >= after else read_day(_with_year(part, str(after.year + 1))))
        except AnswerError:
            return text
    return " to ".join(f"{each.day} {MONTHS[each.month - 1].capitalize()} {each.year}" for each in found)


def read_day(text: str) -> date:
    """Read a day: year first, or the month in letters, or day.month.year; 3/4/2026 is asked about.

    Args:
        text: What was typed.

    Returns:
        The day.

    Raises:
        AnswerError: If it is no day, or may be two.

    Example:
        >>> read_day("Fri, 20th November 2026").isoformat(), read_day("20.11.2026").isoformat()
        ('2026-11-20', '2026-11-20')
    """
    tokens = [each.casefold() for each in re.findall(r"[0-9]+|[^\W\d_]+", text)]
    months = [MONTHS.index(each[:3]) + 1 for each in tokens if each[:3] in MONTHS and not each.isdecimal()]
    numbers = [int(each) for each in tokens if each.isdecimal() and len(each) <= 4]
    years = [each for each in numbers if each > 31]
    if len(years) != 1 or len(months) > 1 or len(numbers) + len(months) != 3:
        raise AnswerError(f"a day with its year in four figures, please, such as {SAMPLE}")
    found = sorted(set(_readings(text, numbers, months)))
    if not found:
        raise AnswerError(f"there is no such day; write it as {SAMPLE}")
    if len(found) > 1:
        told = (f"{each.day} {MONTHS[each.month - 1].capitalize()} {each.year}" for each in found)
        raise AnswerError(f"that may be {' or '.join(told)}: write the month in letters")
    return found[0]


def _with_year(text: str, year: str) -> str:
    """Return a day with the year that is said of the other one."""
    if re.search(r"[0-9]{4}", text):
        return text
    between = next((sign for sign in "./-" if sign in text), " ")
    return f"{text.strip().rstrip('./-')}{between}{year}"


def _readings(text: str, numbers: list[int], months: list[int]) -> Iterator[date]:
    """Yield each day that may be meant: only numbers with slashes are written in two orders."""
    year = next(each for each in numbers if each > 31)
    others = [each for each in numbers if each != year]
    if months:
        orders = [(months[0], others[0])]
    elif numbers[0] == year:
        orders = [(others[0], others[1])]
    elif "/" in text or "-" in text:
        orders = [(others[0], others[1]), (others[1], others[0])]
    else:
        orders = [(others[1], others[0])]
    for month, day in orders:
        try:
            yield date(year, month, day)
        except ValueError:
            continue
