"""What each kind of question asks for in words, its example as read from the hint, and when its words are listed."""

import pytest

from loadplan.planning.interview.question import Ask, Question, never_odd
from loadplan.units import System

IN_WORDS = {
    "WORDS": "a line of words",
    "CHOICE": "one of some words",
    "SEVERAL": "some of some words, with commas between",
    "YES_NO": "yes or no",
    "WHOLE": "a whole number",
    "DAYS": "a day, or a first and a last day",
    "LENGTH": "a length",
    "MASS": "a weight",
    "WEIGHT": "a weight, and where it is from",
    "LOAD": "a rating",
    "MARK": "a rating, and whether it is for a pair or for each",
    "SHARE": "a share in per cent",
    "ALONG": "how far in front of or behind the front axle line",
    "ACROSS": "how far left or right of the centre line",
    "UP": "how far above or below the lift pads",
    "SPAN": "two places along: from the one in front to the one behind",
    "PLACE": "a place: along, across and up",
    "BOX": "six edges: front to rear, left to right, top to bottom",
    "SEAT": "what it is under, and a place: along, across and up",
    "TIE": "mount or link, and its place",
    "HEIGHTS": "saddle heights: from, to and step",
    "FOOT": "a width, or two",
    "OWNED": "how many, or their tags",
    "SHIMS": "thicknesses, of what, and how many",
    "PARTS": "names, each with its weight",
    "USES": "what goes where",
}
"""Three of them are told where a distance is missing; the others head the kept answers."""


def test_each_kind_says_in_words_what_it_asks_for() -> None:
    assert {each.name: each.value for each in Ask} == IN_WORDS


@pytest.mark.parametrize(
    ("hint", "example"),
    [
        ("", ""),
        ("By tape.", ""),
        ('By tape, such as "330 front, 420 left". On bosses.', "330 front, 420 left"),
        ("From the floor, such as 1900. Empty: not known.", "1900"),
        ("Its own plate, such as 3.5 tonne; not that of one arm.", "3.5 tonne"),
        ("Such as 20 Nov 2026, or 21 Nov 2026: so long.", "20 Nov 2026, or 21 Nov 2026"),
        ("Such as 8 (of one kind).", "8"),
        ("Such as 1.4 litres.", "1.4 litres"),
        ('such as 1; then such as "2"', "2"),
        ("such as , a ,.", "a"),
    ],
)
def test_its_example_is_what_stands_behind_such_as(hint: str, example: str) -> None:
    assert Question("key", "Asks?", Ask.LENGTH, hint).example == example


def test_words_are_listed_where_a_number_may_choose_one() -> None:
    listed = {ask.name for ask in Ask if Question("key", "Asks?", ask, words=("one", "two")).is_listed}
    assert listed == {"CHOICE", "SEVERAL", "PARTS", "USES"}
    assert not any(Question("key", "Asks?", ask).is_listed for ask in Ask)


def test_of_itself_a_question_has_to_be_answered_and_finds_nothing_odd() -> None:
    plain = Question("key", "Asks?", Ask.LENGTH)
    assert (plain.hint, plain.default, plain.words, plain.group, plain.tells) == ("", None, (), "", "")
    assert (plain.least, plain.most, plain.whole) == (-100.0, 100.0, 0.0)
    assert plain.odd(1e9, System.METRIC) == never_odd(1e9, System.METRIC) == ""
