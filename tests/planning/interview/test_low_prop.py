"""How low a stand under the heavy end has to go, too, is said beside the question for the tall one. Made-up answers."""

from collections.abc import Mapping

import pytest

from loadplan.planning.interview.low_prop import low_prop
from loadplan.planning.interview.question import Known
from loadplan.planning.interview.question_flow import Answers, QuestionCourse, with_answer
from loadplan.planning.interview.questions_on_job import Beginning
from loadplan.planning.interview.questions_on_shop import LowProp
from loadplan.planning.interview.typical_answers import typical_units
from loadplan.planning.interview.unit_kinds import UNIT_KINDS
from tests.planning.interview.test_in_line import asked
from tests.planning.typed import EMPTY, METRIC, US

FRONT = UNIT_KINDS["front unit"]
PACK, UNIT = (typical_units()[each] for each in ("typical-battery-pack", "typical-front-unit"))

TWO_KINDS: Mapping[str, str] = METRIC | {
    "gear1.owned": "4", "gear1.more": "yes", "gear2.what": "stand", "gear2.heights": "200 to 420",
    "gear2.owned": "2", "gear2.more": "no", "uses": "1, E F = 2",
}  # fmt: skip
"""Four stands of a kind under A to D, and two of another under E and F: all are taken."""


def known(texts: Mapping[str, str], begin: Beginning = EMPTY) -> Known:
    return QuestionCourse(Answers(texts, begin), {}, frozenset()).value


def low(height: float, *, has_stand: bool) -> LowProp:
    return LowProp(pytest.approx(height), pytest.approx(height), has_stand)


@pytest.mark.parametrize(
    ("other", "told"),
    [
        ({}, low(0.4, has_stand=True)),
        # As many as stand under the unit are not free.
        ({"gear1.owned": "6"}, low(0.4, has_stand=False)),
        ({"gear1.owned": "7"}, low(0.4, has_stand=True)),
        ({"gear1.owned": ""}, low(0.4, has_stand=False)),
        ({"gear1.what": ""}, low(0.4, has_stand=True)),
        ({"gear1.what": "jack"}, low(0.4, has_stand=False)),
        # A centimetre past what is wanted there on either side, since its height is known no better.
        ({"gear1.heights": "290 to 411"}, low(0.4, has_stand=True)),
        ({"gear1.heights": "290 to 409"}, low(0.4, has_stand=False)),
        ({"prop.place": "2900 behind, 0, 38 below"}, low(0.302, has_stand=True)),
        ({"prop.place": "2900 behind, 0, 42 below"}, low(0.298, has_stand=False)),
        ({"pads.height": "200"}, low(0.4, has_stand=True)),
        # Nobody knows yet where it is, or on what the unit stands.
        ({"prop.place": ""}, None),
        ({"pads.height": "high"}, None),
        ({"gear1.heights": ""}, None),
    ],
)
def test_it_has_to_be_as_high_as_the_vehicle_hangs_just_over_the_unit(
    other: Mapping[str, str], told: LowProp | None
) -> None:
    """The tail is 240 mm high on its wheels, the unit stands 110 mm higher: 50 mm more are 400 mm."""
    assert low_prop(None, FRONT, known(METRIC | other)) == told


def test_settings_are_steps_from_the_lowest_as_far_as_the_highest() -> None:
    """By hand: to 390 mm in steps of 50. E and F, at 320 mm, are 70 mm up at 390, and the others 40 mm above theirs."""
    seats = {"standE": "engine, 215 front, 280 right, 140 above", "standF": "gearbox, 215 front, 280 left, 140 above"}
    steps = {"gear1.heights": "290 to 430 step 50"}
    assert low_prop(None, FRONT, known(METRIC | seats | steps)) == low(0.36, has_stand=True)
    to_the_last = {"gear1.heights": "290 to 440 step 50"}
    assert low_prop(None, FRONT, known(METRIC | seats | to_the_last)) == low(0.4, has_stand=True)


@pytest.mark.parametrize(
    ("other", "told"),
    [
        ({}, low(0.4, has_stand=False)),
        ({"gear2.owned": "3"}, low(0.4, has_stand=True)),
        ({"gear1.owned": "5"}, low(0.4, has_stand=True)),
        ({"gear2.owned": "3", "gear2.what": "jack"}, low(0.4, has_stand=False)),
        ({"uses": "1", "gear1.owned": "6"}, low(0.4, has_stand=True)),
        # At 200 mm under A to D, and at 240 under E and F: 20 mm up.
        ({"uses": "2", "gear2.owned": "6"}, low(0.31, has_stand=True)),
        # What hangs stands on nothing.
        ({"uses": "2", "gear2.what": "hoist"}, None),
        ({"uses": "2", "gear2.what": "beam"}, None),
        ({"uses": "2", "gear2.what": "table"}, low(0.31, has_stand=True)),
    ],
)
def test_of_several_kinds_each_stands_where_it_is_said_to(other: Mapping[str, str], told: LowProp | None) -> None:
    assert low_prop(None, FRONT, known(TWO_KINDS | other)) == told


@pytest.mark.parametrize(
    ("other", "has_stand"),
    [({}, True), ({"gear1.owned": "6"}, False), ({"places": "6, 5, 1", "gear1.owned": "4"}, True),
     ({"places": "6, 5, 1", "gear1.owned": "3"}, False)],
)  # fmt: skip
def test_under_a_known_vehicle_it_follows_from_the_places_in_its_file(
    other: Mapping[str, str],
    has_stand: bool,  # noqa: FBT001 - a row
) -> None:
    """Its tail is at 250 mm; places at 190 and at 230 mm stand at 290 and at 330, 100 mm up."""
    gear = {each: METRIC[each] for each in ("gear1.what", "gear1.heights", "gear1.owned", "gear1.more")}
    texts = known(gear | other, Beginning(vehicle=UNIT))
    assert low_prop(UNIT, None, texts) == low(0.4, has_stand=has_stand)


def test_where_nothing_grows_heavy_there_is_none() -> None:
    assert low_prop(PACK, None, known(METRIC, Beginning(vehicle=PACK))) is None
    assert low_prop(None, None, known(METRIC)) is None


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
