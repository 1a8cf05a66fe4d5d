"""What becomes of every kind of answer, taken or not, in both units, held against kept tables."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from datetime import date
from pathlib import Path

import pytest

from loadplan.planning.interview.answer_days import full_days
from loadplan.planning.interview.answer_parsing import plainly, read_answer
from loadplan.planning.interview.question import AnswerError, Ask, Question
from loadplan.planning.interview.us_samples import amounts_in_us, samples_in_us
from loadplan.units import System
from tests.kept_text import assert_kept
from tests.planning.interview.many_answers import ANSWERS, QUESTIONS

KEPT = Path(__file__).parent / "kept"


def _told(value: object) -> str:
    """Write what an answer means, as told to a tenth of a millimetre or a gram."""
    if is_dataclass(value):
        return f"{type(value).__name__}({', '.join(_told(getattr(value, each.name)) for each in fields(value))})"
    if isinstance(value, tuple):
        return f"({', '.join(_told(each) for each in value)})"
    return f"{value + 0.0:.6g}" if isinstance(value, float) else str(value) if isinstance(value, date) else repr(value)


def _reply(question: Question, text: str, system: System) -> str:
    try:
        return _told(read_answer(question, text, system))
    except AnswerError as error:
        why = str(error)
        return f"Not taken: {samples_in_us(why) if system is System.US else why}"


def _replies(system: System) -> Iterator[str]:
    for question in QUESTIONS:
        yield f"[{question.key}] {question.ask.name}: {question.ask.value}"
        for text in ANSWERS[question.ask]:
            yield f"    {ascii(text)[:60]}: {_reply(question, text, system)}"


@pytest.mark.parametrize("system", System)
def test_every_kind_of_answer_is_taken_or_not_as_it_is_kept(system: System) -> None:
    assert_kept(KEPT / f"answers-{system.name.casefold()}.txt", "\n".join([*_replies(system), ""]))


def test_every_kind_of_question_is_among_them() -> None:
    assert {each.ask for each in QUESTIONS} == set(Ask) == set(ANSWERS)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("today", "20 Nov 2026"),
        ("now", "20 Nov 2026"),
        ("tomorrow", "21 Nov 2026"),
        ("today to tomorrow", "20 Nov 2026 to 21 Nov 2026"),
        ("1 dec", "1 Dec 2026"),
        ("20 nov", "20 Nov 2026"),
        ("19 nov", "19 Nov 2027"),
        ("1-3 dec", "1 Dec 2026 to 3 Dec 2026"),
        ("1st till 3rd dec", "1 Dec 2026 to 3 Dec 2026"),
        ("30 dec to 2 jan", "30 Dec 2026 to 2 Jan 2027"),
        ("5.12.26", "5 Dec 2026"),
        ("5/12/26", "5/12/2026"),
        ("5 mar 27", "5 Mar 2027"),
        ("5 mar '27", "5 Mar 2027"),
        ("5.12.", "5 Dec 2026"),
        ("31 feb", "31 feb"),
        ("soon", "soon"),
        ("1 Dec 2026", "1 Dec 2026"),
        ("1 dec until 5/3/26", "1 dec until 5/3/26"),
    ],
)
def test_a_day_said_in_short_is_written_out(typed: str, meant: str) -> None:
    assert full_days(typed, date(2026, 11, 20)) == meant


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("about 65 kg", "65 kg"),
        ("around 65", "65"),
        ("approx. 65", "65"),
        ("approximately 65", "65"),
        ("circa 65", "65"),
        ("ca. 65", "65"),
        ("roughly 65", "65"),
        ("~ 65 kg", "65 kg"),
        ("65-ish kg", "65 kg"),
        ("65 kg-ish", "65 kg"),
        ("65 lb ish", "65 lb"),
        ("about a pump", "about a pump"),
    ],
)
def test_what_is_said_around_a_number_is_left_out_of_amounts_alone(typed: str, meant: str) -> None:
    for ask in Ask:
        in_words = ask in {Ask.WORDS, Ask.CHOICE, Ask.SEVERAL, Ask.YES_NO, Ask.DAYS, Ask.OWNED, Ask.USES}
        assert plainly(ask, typed) == (typed if in_words else meant)


def test_amounts_of_a_typical_unit_are_told_in_inches_and_pounds() -> None:
    assert (
        amounts_in_us("172.5 kg +- 40 kg; 25.4 mm to 2540 mm, 3 mounts")
        == "380 lb +- 88 lb; 1.0 in to 100.0 in, 3 mounts"
    )
