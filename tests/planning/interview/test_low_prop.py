"""How low a stand under the heavy end has to go, too, is said beside the question for the tall one. Made-up answers."""

from collections.abc import Mapping

import pytest

from loadplan.planning.interview.question_flow import with_answer
from tests.planning.interview.test_in_line import asked
from tests.planning.typed import METRIC, US


@pytest.mark.parametrize(
    ("other", "says"),
    [
        ({}, "at some 400 mm: another free stand goes there, and the tall one serves for both if it goes so low."),
        ({"gear1.owned": "S1 to S6"}, "at some 400 mm: no other free stand that you told goes there"),
        ({"gear1.heights": "290 to 390 step 20"}, "at some 400 mm: no other free stand that you told goes there"),
        ({"prop.place": "2900 behind, 0, 110 below"}, "at some 230 mm: no other free stand that you told goes there"),
    ],
)
def test_it_is_said_at_the_question_and_an_answer_without_it_is_asked_about(
    other: Mapping[str, str], says: str
) -> None:
    """The tail is 240 mm high on its wheels, the unit stands 110 mm higher, and the vehicle hangs 50 mm over that."""
    answers, question = asked(METRIC | other, "prop.heights")
    assert says in question.asks
    odd = with_answer(answers, question, "1200 to 1980").says
    assert ("it goes no lower than 1200 mm" in odd) is ("no other" in says)
    assert not with_answer(answers, question, "220 to 1980").says


def test_it_is_said_in_inches() -> None:
    _, question = asked(US, "prop.heights")
    assert "at some 15.5 in" in question.asks or "at some 16 in" in question.asks
