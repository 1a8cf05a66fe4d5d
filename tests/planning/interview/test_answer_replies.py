"""What comes of one answer, without asking for all before it: taken, asked about, told back, or refused."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

import pytest

from loadplan.planning.interview.question import Ask, Days, Question, Value
from loadplan.planning.interview.question_flow import (
    Answers,
    Reply,
    course,
    is_for_practice,
    next_question,
    one_back,
    values,
    with_answer,
)
from loadplan.planning.interview.questions_on_job import NOTHING, OWN, UNMEASURED, Beginning
from loadplan.planning.interview.typical_answers import typical_units
from loadplan.units import System

UNITS = typical_units()
TODAY = date(2026, 11, 20)
LIKE = Beginning(UNITS, vehicle=UNITS["typical-axle"], is_like=True, today=TODAY)
"""Asks for units, title and days alone."""

HEAD = {"units": "metric", "title": "Clutch", "days": "20 Nov 2026"}
TYPICAL = {"units": "metric", "title": "Clutch", "days": "", "what": "front unit", "start": "typical-front-unit"}


def head(begin: Beginning = LIKE, **texts: str) -> Answers:
    return Answers(HEAD | texts, begin)


def asked(ask: Ask, *words: str, key: str = "key", default: str | None = None) -> Question:
    return Question(key, "Asks?", ask, words=words, default=default)


def odd_above_five(value: Value, _system: System) -> str:
    return "more than five" if isinstance(value, int) and value > 5 else ""


@pytest.mark.parametrize(
    ("text", "system"),
    [
        ("", System.METRIC),
        ("metric", System.METRIC),
        ("1", System.METRIC),
        ("2", System.US),
        (" 2 ", System.US),
        ("us", System.US),
        (" U", System.US),
        ("12", System.METRIC),
    ],
)
def test_units_are_those_that_were_chosen_unless_they_were_known(text: str, system: System) -> None:
    assert Answers({"units": text}).system is system
    assert Answers({"units": text}, Beginning(system=System.US)).system is System.US
    assert Answers({}).system is System.METRIC


def test_a_kind_is_known_once_it_is_said_and_only_of_a_vehicle_that_is_not() -> None:
    said = Answers({"what": "rear unit"}, Beginning(UNITS))
    assert said.kind is not None
    assert said.kind.word == "rear unit"
    assert replace(said, begin=LIKE).kind is None
    assert Answers({}, Beginning(UNITS)).kind is None
    assert Answers({"what": "no such unit"}, Beginning(UNITS)).kind is None


def test_a_typical_unit_answers_where_one_is_begun_from() -> None:
    given = Answers(TYPICAL, Beginning(UNITS)).given
    assert {"engine.box", "gearbox.box", "stands", "standA", "pads.along"} <= given.keys()
    assert Answers(TYPICAL | {"start": ""}, Beginning(UNITS)).given == given, "by default"
    for other in (TYPICAL | {"start": OWN}, {}, TYPICAL | {"what": "vehicle on stands"}):
        assert Answers(other, Beginning(UNITS)).given == {}
    assert Answers(TYPICAL).given == {}, "none ships"


def test_the_first_question_comes_that_has_no_answer_that_counts() -> None:
    assert [each.key for each in course(head()).questions()] == ["units", "title", "days"]
    for texts, key in (({}, "units"), ({"units": "metric"}, "title"), ({"units": "x", "title": "Clutch"}, "units")):
        coming = next_question(Answers(texts, LIKE))
        assert coming is not None
        assert coming.key == key
    assert next_question(head()) is None
    assert next_question(head(days="")) is None, "left open is answered"
    assert values(head()) == {"units": "metric", "title": "Clutch", "days": Days(TODAY, None)}


def test_a_question_that_was_gone_back_to_comes_with_what_was_answered() -> None:
    back = next_question(replace(head(), opened="title"))
    assert back is not None
    assert (back.key, back.default) == ("title", "Clutch")
    empty = next_question(replace(head(units=""), opened="units"))
    assert empty is not None
    assert (empty.key, empty.default) == ("units", "metric")
    assert next_question(replace(head(), opened="no such question")) is None


@pytest.mark.parametrize(
    ("differs", "asked_still", "taken"),
    [
        (NOTHING, ["weight"], ["engine.box", "stands", "standA", "pads.along", "wheelbase", "inner1", "hung", "share"]),
        ("engine", ["weight", "engine.box", "engine.weight"], ["gearbox.box", "stands", "pads.along"]),
        ("stands", ["weight", "stands", "standA", "prop.place"], ["engine.box", "inner1", "pads.out"]),
        ("ties", ["weight", "inner", "inner1", "hung", "hung1"], ["engine.box", "stands", "share"]),
        ("vehicle", ["weight", "share", "wheelbase"], ["pads.along", "engine.box", "hung"]),
        ("pads", ["weight", "pads.along", "pads.out", "pads.height"], ["wheelbase", "standA", "inner1"]),
    ],
)
def test_what_differs_from_a_typical_unit_is_asked_and_nothing_else(
    differs: str, asked_still: list[str], taken: list[str]
) -> None:
    known = course(Answers(TYPICAL | {"differs": differs}, Beginning(UNITS)))
    answered = {key: known.answered(asked(Ask.WORDS, key=key)) for key in (*asked_still, *taken) if key in known.given}
    assert [key for key in asked_still if answered.get(key, False)] == []
    assert [key for key in taken if not answered.get(key, True)] == []
    assert len(answered) > 4


def test_what_is_odd_is_asked_about_and_taken_when_it_comes_again_or_yes_does() -> None:
    question = replace(asked(Ask.WHOLE), odd=odd_above_five)
    first = with_answer(head(), question, " 7 ")
    assert first == Reply(replace(head(), doubted="7"), "more than five")
    for again in ("7", " 7", "y", "YES", "", " "):
        kept = again if "7" in again else "7"
        assert with_answer(first.answers, question, again) == Reply(head(key=kept))
    for no in ("n", "No "):
        assert with_answer(first.answers, question, no) == Reply(head(), "then once more")
    assert with_answer(first.answers, question, "8") == Reply(replace(head(), doubted="8"), "more than five")
    assert with_answer(first.answers, question, "4") == Reply(head(key="4"))


def test_what_cannot_be_read_is_refused_and_nothing_is_kept_of_it() -> None:
    question = asked(Ask.WHOLE)
    reply = with_answer(replace(head(), doubted="7"), question, "some")
    assert reply.answers == head()
    assert reply.says
    assert not reply.is_told_back
    refused = with_answer(head(), asked(Ask.PLACE), "330 front")
    assert '"330 front, 420 left, 60 below"' in refused.says
    in_inches = with_answer(head(units="us"), asked(Ask.PLACE), "13 front")
    assert '"13 front, 16 1/2 left, 2 3/8 below"' in in_inches.says


def test_a_day_in_short_is_told_back_before_it_is_taken() -> None:
    days = next(each for each in course(head()).questions() if each.key == "days")
    told = with_answer(head(), days, "24 Nov")
    assert told.is_told_back
    assert told.says == told.answers.doubted
    assert "2026" in told.says
    assert with_answer(told.answers, days, "y").answers.texts["days"] == told.says
    nobody_knows = replace(LIKE, today=None)
    assert not with_answer(head(nobody_knows), days, "20 Nov 2026").says


def test_nothing_typed_keeps_what_was_answered_and_else_the_default() -> None:
    title = next(each for each in course(head()).questions() if each.key == "title")
    assert with_answer(head(), replace(title, default="Clutch"), "").answers.texts["title"] == "Clutch"
    units = next(each for each in course(head()).questions() if each.key == "units")
    assert with_answer(Answers({}, LIKE), units, "").answers.texts == {"units": ""}
    assert with_answer(replace(head(), opened="title"), title, "Sills").answers == head(title="Sills")


@pytest.mark.parametrize(
    ("question", "text", "kept"),
    [
        (asked(Ask.CHOICE, "one", "two"), "2", "two"),
        (asked(Ask.CHOICE, "one", "two"), "tw", "tw"),
        (asked(Ask.SEVERAL, "one", "two", "three"), "1, 3", "one, three"),
        (asked(Ask.SEVERAL, "one", "two"), "one, two", "one, two"),
        (asked(Ask.PARTS, "engine", "gearbox"), "2, cylinder head 28 kg", "gearbox, cylinder head 28 kg"),
        (asked(Ask.PARTS, "engine", "gearbox"), "1; 2", "engine, gearbox"),
        (asked(Ask.USES, "stand", "jack"), "1, E F = 2", "stand, E F = jack"),
        (asked(Ask.USES, "stand", "jack"), "stand", "stand"),
        (asked(Ask.WHOLE), "2", "2"),
        (asked(Ask.WORDS, "one", "two"), "2", "2"),
    ],
)
def test_a_number_of_a_list_is_kept_by_its_word(question: Question, text: str, kept: str) -> None:
    reply = with_answer(head(), question, text)
    assert (reply.says, reply.answers.texts["key"]) == ("", kept)


def test_a_name_that_would_be_read_otherwise_stays_a_number() -> None:
    question = asked(Ask.PARTS, "front, left", "rear")
    assert with_answer(head(), question, "1").answers.texts["key"] == "1"


def test_what_was_said_of_another_piece_goes_with_it() -> None:
    texts = {
        "gear1.what": "stand",
        "gear1.mark": "3 tonne",
        "gear1.more": "yes",
        "gear2.mark": "1 tonne",
        "differs": "x",
    }
    what = asked(Ask.CHOICE, "stand", "jack", key="gear1.what", default="stand")

    def kept(question: Question, text: str) -> Mapping[str, str]:
        return with_answer(head(**texts), question, text).answers.texts

    assert kept(what, "jack") == HEAD | {k: v for k, v in texts.items() if k != "gear1.mark"} | {"gear1.what": "jack"}
    assert kept(what, "stand") == HEAD | texts
    for key in ("what", "start"):
        other = asked(Ask.CHOICE, "one", "two", key=key)
        texts[key] = "one"
        assert "differs" not in kept(other, "two")
        assert "differs" in kept(other, "one")
        del texts[key]
        assert "differs" in kept(other, "two"), "nothing was said before"
    assert kept(asked(Ask.WORDS, key="title"), "Sills") == HEAD | texts | {"title": "Sills"}


def test_one_goes_back_to_what_was_asked_before() -> None:
    title, days = (each for each in course(head()).questions() if each.key != "units")
    assert one_back(replace(head(), doubted="7"), days) == replace(head(), opened="title")
    assert one_back(head(), title).opened == "units"
    begun = Answers({"units": "metric"}, LIKE)
    assert one_back(begun, title).opened == "units"
    assert one_back(Answers({}, LIKE), next(course(head()).questions())).opened == "units"
    assert one_back(Answers({"units": "metric", "days": ""}, LIKE), days).opened == "units", "what was not asked is not"


@pytest.mark.parametrize(
    ("differs", "practice"),
    [((UNMEASURED,), True), (("engine", UNMEASURED), True), (("engine",), False), (None, False)],
)
def test_a_unit_that_nobody_measured_is_for_practice(differs: Value, practice: bool) -> None:  # noqa: FBT001 - a row
    assert is_for_practice({"differs": differs}) is practice
    assert not is_for_practice({})
