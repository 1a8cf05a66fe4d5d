"""How many of a kind a shop owns, or their tags, as people type them."""

import pytest

from loadplan.planning.interview.answer_equipment import read_owned
from loadplan.planning.interview.question import AnswerError, Ask, Question

OWNED = Question("owned", "", Ask.OWNED, least=2, most=12)


@pytest.mark.parametrize("text", ["2", "2 off", "2 pcs", "2 pc.", "2x", "2 of them", "2 pieces", "2 OFF"])
def test_a_number_is_how_many(text: str) -> None:
    told = read_owned(OWNED, text)
    assert (told.count, told.tags) == (2, ())


def test_twelve_are_as_many_as_are_taken() -> None:
    assert read_owned(OWNED, "12").count == 12
    for text in ("1", "13"):
        with pytest.raises(AnswerError, match="a whole number from 2 to 12, please"):
            read_owned(OWNED, text)


@pytest.mark.parametrize("text", ["-4", "+4", "- 4", "4.5", "1/2"])
def test_a_sign_or_a_part_of_a_number_is_no_tag(text: str) -> None:
    with pytest.raises(AnswerError, match="a whole number of pieces, such as 8, please, or their tags"):
        read_owned(OWNED, text)


@pytest.mark.parametrize(
    ("text", "tags"),
    [
        ("S1 to S3", "S1 S2 S3"),
        ("S1 - 3", "S1 S2 S3"),
        ("s1-S3", "s1 s2 s3"),
        ("9–11", "9 10 11"),
        ("S9..S10", "S9 S10"),
        ("S1, S2; S5", "S1 S2 S5"),
        ("S1 S2", "S1 S2"),
        ("RED, BLUE", "RED BLUE"),
        ("long-1, long-2", "long-1 long-2"),
    ],
)
def test_tags_are_told_one_by_one_or_from_the_first_to_the_last(text: str, tags: str) -> None:
    told = read_owned(OWNED, text)
    assert told.tags == tuple(tags.split())
    assert told.count == len(told.tags)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("S1, S2, S1", "one tag stands twice"),
        ("S3 to S1", "how many, such as 8, or their tags"),
        ("S1 to T3", "how many, such as 8, or their tags"),
        ("2 pair", "how many, such as 8, or their tags"),
        ("GREEN, WHITE", "how many, such as 8, or their tags"),
        ("RED", "how many, such as 8, or their tags"),
        ("S1", "2 to 12 of them, please"),
        ("S1 to S13", "2 to 12 of them, please"),
    ],
)
def test_what_is_neither_is_told(text: str, says: str) -> None:
    with pytest.raises(AnswerError, match=says):
        read_owned(OWNED, text)
