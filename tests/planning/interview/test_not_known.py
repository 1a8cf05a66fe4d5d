"""What people type who do not know, in other units, or in their own words: left open, or refused with what is right."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from loadplan.planning.interview.answer_parsing import chosen, read_answer
from loadplan.planning.interview.first_job import Named
from loadplan.planning.interview.first_shop import shop_text
from loadplan.planning.interview.low_prop import low_prop
from loadplan.planning.interview.new_files import Beside, files_of_answers
from loadplan.planning.interview.question import AnswerError, Ask, Question
from loadplan.planning.interview.question_flow import Answers, course, next_question, questions, values, with_answer
from loadplan.planning.interview.questions_on_shop import WHATS, gear_words
from loadplan.planning.interview.unit_kinds import UNIT_KINDS
from loadplan.units import System
from tests.planning.typed import EMPTY, METRIC, ON_A_BEAM, ON_STANDS, all_typed

OPEN = Question("rise", "", Ask.LENGTH, default="", least=0.5, most=4.0)
NEEDED = Question("weight", "", Ask.MASS, least=300.0, most=10_000.0)
USUAL = Question("pads", "", Ask.LENGTH, default="200 mm", least=0.05, most=1.2)


@pytest.mark.parametrize(
    "text",
    ["don't know", "I don’t know yet", "do not know", "unknown", "Not known", "not sure", "dunno", "no idea", "n/a",
     "-", "??", "not measured yet"],
)  # fmt: skip
def test_who_does_not_know_leaves_open_what_may_be(text: str) -> None:
    assert read_answer(OPEN, text, System.METRIC) is None
    with pytest.raises(AnswerError, match=r"^this one is needed; \? says what to measure$"):
        read_answer(NEEDED, text, System.METRIC)
    with pytest.raises(AnswerError, match=r"^\? says more of it; an empty answer takes what is usual$"):
        read_answer(USUAL, text, System.METRIC)


def test_a_title_is_whatever_somebody_writes_and_a_word_of_a_list_is_that() -> None:
    assert read_answer(Question("title", "", Ask.WORDS), "unknown", System.METRIC) == "unknown"
    differs = Question("differs", "", Ask.SEVERAL, words=("engine", "nothing", "not measured"))
    assert read_answer(differs, "not measured", System.METRIC) == ("not measured",)
    with pytest.raises(AnswerError, match=r'"not measured" says so'):
        read_answer(differs, "don't know", System.METRIC)
    with pytest.raises(AnswerError, match=r"^yes or no, please"):
        read_answer(Question("locks", "", Ask.YES_NO, default="yes"), "don't know", System.METRIC)


def test_what_was_left_open_so_is_not_asked_again() -> None:
    answers = Answers({key: text for key, text in METRIC.items() if key != "shell.bottom"}, EMPTY)
    question = next_question(answers)
    assert question is not None
    assert question.key == "shell.bottom"
    after = with_answer(answers, question, "don't know")
    assert after.says == ""
    assert next_question(after.answers) is None
    assert values(after.answers)["shell.bottom"] is None
    # Who goes back to it leaves it open once more by an empty answer, and by saying so.
    back = next_question(replace(after.answers, opened="shell.bottom"))
    assert back is not None
    assert back.default == ""
    for said in ("", "don't know"):
        assert with_answer(replace(after.answers, opened="shell.bottom"), back, said).says == ""


@pytest.mark.parametrize(
    ("question", "text", "system", "told"),
    [
        (OPEN, "190", System.METRIC, "; write 190 cm if that is what is meant"),
        (OPEN, "1.9", System.METRIC, "; write 1.9 m if that is what is meant"),
        (OPEN, "19", System.METRIC, ", please"),
        (OPEN, "6", System.US, "; write 6 ft if that is what is meant"),
        (OPEN, "1900", System.US, "; write 1900 mm if that is what is meant"),
        (NEEDED, "1.32", System.METRIC, "; write 1.32 tonne if that is what is meant"),
        (Question("share", "", Ask.SHARE, least=0.3, most=0.8), "0.62", System.METRIC, "; write 62 % "
         "if that is what is meant"),
        (Question("mark", "", Ask.LOAD, least=5e3, most=2e5), "4", System.US, "; write 4 short ton if that is what its "
         "plate says"),
    ],
)  # fmt: skip
def test_a_number_read_in_other_units_is_refused_with_how_to_write_it(
    question: Question, text: str, system: System, told: str
) -> None:
    with pytest.raises(AnswerError) as caught:
        read_answer(question, text, system)
    assert str(caught.value).endswith(told)


def test_what_has_no_number_is_not_told_to_be_a_wrong_length() -> None:
    for text, told in (("high", 'there is no number in "high"; ? says what to measure'),):
        with pytest.raises(AnswerError) as caught:
            read_answer(OPEN, text, System.METRIC)
        assert str(caught.value) == told
    place = Question("place", "", Ask.PLACE, least=-6.0, most=6.0)
    with pytest.raises(AnswerError, match=r'^three distances with commas, please, such as "330 front'):
        read_answer(place, "left front, 300 left, 0", System.METRIC)


@pytest.mark.parametrize(
    ("text", "word"),
    [("axle stands", "stand"), ("Jack stand", "stand"), ("trolley jack", "jack"), ("lift table", "table"),
     ("engine hoist", "hoist")],
)  # fmt: skip
def test_equipment_is_known_by_the_last_word_of_its_name(text: str, word: str) -> None:
    assert chosen(WHATS, text) == word
    with pytest.raises(AnswerError, match="one of these"):
        chosen(WHATS, f"{text} or so")


def test_only_stands_are_asked_for_a_pair_and_the_plate_of_anything_else_counts_for_one() -> None:
    kept = all_typed(ON_A_BEAM)[1]
    asks = {each.key: each.asks for each in questions(kept)}
    assert [asks[f"gear{number}.mark"] for number in (1, 2, 3)] == [
        "What is marked on the table?",
        "What is marked on the beam?",
        "What is marked on the stand, for a pair or for each?",
    ]
    text = shop_text(values(kept), gear_words(course(kept).value), System.METRIC)
    table, beam, stand, _, lift = text.split("[[")[1:6]
    assert 'rated_for = "each"' in table
    assert 'rated_for = "each"' in beam
    assert "rated_for" not in stand
    assert lift.startswith("lift]]")


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("start", [{"what": "battery pack", "start": "my own measures"}, ON_STANDS])
def test_what_lies_between_the_axles_has_its_examples_there(start: Mapping[str, str], system: str) -> None:
    answers = Answers({**start, "units": system, "off": "lid 5 kg"}, EMPTY)
    asked = [each for each in questions(answers) if each.ask in {Ask.BOX, Ask.SEAT}]
    assert asked
    assert all("behind" in each.example for each in asked)
    refused = with_answer(answers, asked[-1], "here").says
    assert "behind" in refused
    assert "front," not in refused


def test_a_lift_that_locks_in_steps_stops_at_the_next_lock_and_the_low_stand_goes_so_high() -> None:
    def low(step: str) -> str:
        kept = Answers(METRIC | {"lift.lock_step": step}, EMPTY)
        found = low_prop(None, UNIT_KINDS["front unit"], course(kept).value)
        assert found is not None
        return f"{found.told(System.METRIC)} {found.has_stand}"

    assert (low("0"), low(""), low("20"), low("80")) == (
        "400 mm True", "400 mm True", "400 mm to 420 mm True", "400 mm to 480 mm False",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("step", "up", "down"),
    [
        ("0", "vehicle up 50 mm, lift on its locks", "vehicle down to 50 mm over the unit"),
        ("80", "vehicle up 50 mm, then on to the next lock, lift on its locks",
         "vehicle down to the last lock 50 mm or more over the unit"),
        ("", "vehicle up 50 mm, then on to the next lock, lift on its locks",
         "vehicle down to the last lock 50 mm or more over the unit"),
    ],
)  # fmt: skip
def test_no_box_asks_for_a_lock_at_just_one_height_where_none_need_be(step: str, up: str, down: str) -> None:
    kept = all_typed(METRIC | {"lift.lock_step": step})[1]
    text = files_of_answers(kept, Beside("job.toml", Named("", ""), lambda _: False))["job.toml"].decode()
    assert f'"{up}"' in text
    assert f'"{down}"' in text
    if step == "80":
        assert "one is needed that goes from 390 mm or less to 490 mm or more" in text
