"""Distances and places as people type them: every word for a side, the zero, both units, and what cannot be."""

from collections.abc import Callable

import pytest

from loadplan.planning.interview.answer_distances import (
    SIDES,
    amount,
    box,
    place,
    place_sample,
    seat,
    sided,
    span,
    tie,
    told_as,
    within,
)
from loadplan.planning.interview.question import AnswerError, Ask, Question, Seat, Tie
from loadplan.units import Kind, System

METRIC, US = System.METRIC, System.US
FORWARD, BACK = ("front", "ahead", "forward", "forwards"), ("behind", "back", "rear", "aft")


def question(ask: Ask, least: float = -100.0, most: float = 100.0, words: tuple[str, ...] = ()) -> Question:
    return Question("key", "", ask, least=least, most=most, words=words)


@pytest.mark.parametrize(
    ("ask", "words", "sign"),
    [
        (Ask.ALONG, FORWARD, 1),
        (Ask.ALONG, BACK, -1),
        (Ask.ACROSS, ("left",), 1),
        (Ask.ACROSS, ("right",), -1),
        (Ask.UP, ("above", "over", "up"), 1),
        (Ask.UP, ("below", "under", "down"), -1),
    ],
)
def test_each_word_for_a_side_says_its_side(ask: Ask, words: tuple[str, ...], sign: int) -> None:
    """The vehicle's axes: x to the front, y to the left, z up."""
    for word in words:
        for text in (f"420 {word}", f"420 mm {word.upper()}", f"{word} 42 cm"):
            assert sided(text, ask, METRIC) == pytest.approx(sign * 0.42), text
        assert sided(f"10 {word}", ask, US) == pytest.approx(sign * 0.254)
    assert {word for word, each in SIDES[ask].items() if each * sign > 0} == set(words)


@pytest.mark.parametrize("text", ["0", "00", "0.0", "0 mm", "0in", "0 cm"])
def test_nothing_is_on_no_side(text: str) -> None:
    assert sided(text, Ask.ACROSS, METRIC) == 0.0
    with pytest.raises(AnswerError, match=r"say left or right, too, such as 420 right"):
        sided(text + "1", Ask.ACROSS, METRIC)


def test_in_front_may_be_inches_where_millimetres_count() -> None:
    with pytest.raises(AnswerError, match="may mean inches"):
        sided("420 in front", Ask.ALONG, METRIC)
    assert sided("10 in front", Ask.ALONG, US) == pytest.approx(0.254)
    assert sided('10" in front', Ask.ALONG, METRIC) == pytest.approx(0.254)


@pytest.mark.parametrize(
    ("ask", "value", "metric", "us"),
    [
        (Ask.ALONG, 0.254, "254 mm front", "10 in front"),
        (Ask.ALONG, -0.254, "254 mm behind", "10 in behind"),
        (Ask.ACROSS, 0.0, "0 mm left", "0 in left"),
        (Ask.UP, -0.0254, "25.4 mm below", "1 in below"),
        (Ask.LENGTH, 1.0, "1000 mm", "39.37 in"),
        (Ask.SHARE, 0.5, "50 %", "50 %"),
        (Ask.LENGTH, 0.000123456, "0.1235 mm", "0.00486 in"),
        (Ask.MASS, 100.0, "100 kg", "220.5 lb"),
    ],
)
def test_a_value_is_told_as_one_would_say_it(ask: Ask, value: float, metric: str, us: str) -> None:
    assert (told_as(ask, value, METRIC), told_as(ask, value, US)) == (metric, us)


def test_what_cannot_be_is_told_with_its_ends() -> None:
    asked = question(Ask.LENGTH, 0.1, 0.5)
    assert within(asked, 0.1, METRIC) == 0.1
    assert within(asked, 0.5, METRIC) == 0.5
    with pytest.raises(AnswerError) as told:
        within(asked, 0.6, METRIC)
    assert str(told.value) == "that cannot be: 600 mm. From 100 mm to 500 mm, please"
    with pytest.raises(AnswerError, match=r"From 0 mm to 500 mm"):
        within(question(Ask.LENGTH, 0.0, 0.5), 0.6, METRIC)
    with pytest.raises(AnswerError, match=r"At most 500 mm either way"):
        within(question(Ask.LENGTH, -0.5, 0.5), 0.6, METRIC)
    with pytest.raises(AnswerError, match=r"From 500 mm behind to 500 mm front"):
        within(question(Ask.ALONG, -0.5, 0.5), 0.6, METRIC)


@pytest.mark.parametrize(("system", "plate"), [(METRIC, "3 tonne"), (US, "3 short ton")])
def test_a_rating_that_is_as_many_tonnes_is_asked_about(system: System, plate: str) -> None:
    """3 kg, or 3 lb, is no rating of a stand; 3 tonnes, or 3 short tons, is one."""
    newtons = 9.80665 * 3.0 * (1.0 if system is METRIC else 0.45359237)
    rating = question(Ask.LOAD, 500.0, 1e5)
    with pytest.raises(AnswerError) as told:
        within(rating, newtons, system)
    assert str(told.value).endswith(f"please; write {plate} if that is what its plate says")
    for far in (newtons / 1000, 2e5):
        with pytest.raises(AnswerError) as told:
            within(rating, far, system)
        assert str(told.value).endswith("please")


@pytest.mark.parametrize(
    "text",
    [
        "330 front, 420 left, 60 below",
        "420 left; 60 below; 330 front",
        "330 front 420 left 60 below",
        "front 330, left 420, below 60",
    ],
)
def test_a_place_is_three_distances_in_any_order(text: str) -> None:
    assert place(question(Ask.PLACE), text, METRIC) == pytest.approx((0.33, 0.42, -0.06))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("330 front, 420 left", "say how far above or below the lift pads, too"),
        ("330 front, 420 left, 60 below, 0", "only three distances, please"),
        ("330 front, 420 left, 60", "60 has no side"),
        ("330 front, 420 behind, 60 below", "three distances with commas"),
    ],
)
def test_a_place_that_is_not_three_distances_is_told(text: str, says: str) -> None:
    with pytest.raises(AnswerError, match=says):
        place(question(Ask.PLACE), text, METRIC)


def test_a_bare_nothing_is_the_distance_that_was_not_said() -> None:
    assert place(question(Ask.PLACE), "330 front, 0, 60 below", METRIC) == pytest.approx((0.33, 0.0, -0.06))
    assert place(question(Ask.PLACE), "0, 0, 60 below", METRIC) == pytest.approx((0.0, 0.0, -0.06))


def test_two_places_along_may_share_their_word() -> None:
    for text in ("620 behind to 1980 behind", "1980 to 620 behind", "1980 - 620 behind", "behind 620 to 1980"):
        assert span(question(Ask.SPAN), text, METRIC) == pytest.approx((-0.62, -1.98)), text
    for text in ("620 behind", "620 behind to 620 behind", "40 left to 420 left"):
        with pytest.raises(AnswerError, match="two places along"):
            span(question(Ask.SPAN), text, METRIC)


def test_six_edges_make_a_box() -> None:
    edges = box(question(Ask.BOX), "330 front to 120 behind, 40 to 420 right, 610 to 35 above", METRIC)
    assert edges.low == pytest.approx((-0.12, -0.42, 0.035))
    assert edges.high == pytest.approx((0.33, -0.04, 0.61))
    for text, says in (
        ("330 front to 120 behind, 40 to 420 right", "say how far above or below the lift pads, too"),
        ("330 front to 120 behind, 40 to 59 right, 610 to 35 above", "leaves nothing between the two edges"),
        ("330 front to 120 behind, 40 to 420 front, 610 to 35 above", "is said twice"),
    ):
        with pytest.raises(AnswerError, match=says):
            box(question(Ask.BOX), text, METRIC)


def test_what_a_stand_is_under_may_be_said_first() -> None:
    asked = question(Ask.SEAT, words=("engine", "gearbox"))
    at = pytest.approx((0.33, 0.42, -0.06))
    for text, lump in (("gear: 330 front, 420 left, 60 below", "gearbox"), ("330 front, 420 left, 60 below", "")):
        told = seat(asked, text, METRIC)
        assert told == Seat(lump, told.place)
        assert told.place == at


def test_a_mount_has_one_place_and_a_link_two() -> None:
    here, there = "330 front, 420 left, 60 below", "330 front, 0, 60 below"
    for text, kind, two in (
        (f"mount, {here}", "mount", False),
        (f"Link: {here} to {there}", "link", True),
        (f"{here} to {there}", "link", True),
        (here, "", False),
    ):
        told = tie(question(Ask.TIE), text, METRIC)
        assert (told.kind, told.to is not None) == (kind, two)
        assert isinstance(told, Tie)
        assert told.place == pytest.approx((0.33, 0.42, -0.06))
    with pytest.raises(AnswerError, match="a mount has one place"):
        tie(question(Ask.TIE), f"mount {here} to {there}", METRIC)


SIX = 'six edges, please, such as "330 front to 120 behind, 40 to 420 right, 610 to 35 above"'
TWO = 'two places along, please, such as "620 behind to 1980 behind"'
PLACE, INCHES = '"330 front, 420 left, 60 below"', '"13 front, 16 1/2 left, 2 3/8 below"'
POINT = "; a number takes a point, 12.5, since commas part the distances"
ALONG_TOO = "how far in front of or behind the front axle line"
ACROSS_TOO = "how far left or right of the centre line"
UP_TOO = "how far above or below the lift pads"
ALONG_ENDS = "From 6000 mm behind to 6000 mm front, please"
ACROSS_ENDS = "From 6000 mm right to 6000 mm left, please"
MAY_BE_INCHES = '"in front" may mean inches: write 420 front, 420 mm front or 16.5 inches front'


@pytest.mark.parametrize(
    ("read", "text", "system", "says"),
    [
        (place, "330 front, 420, 60 below", METRIC, f"420 has no side: say three distances, such as {PLACE}{POINT}"),
        (place, "13 front, 16, 2 below", US, f"16 has no side: say three distances, such as {INCHES}{POINT}"),
        (place, "330 front, x, 60 below", METRIC, f"three distances with commas, please, such as {PLACE}{POINT}"),
        (place, "330 front, 40 ahead", METRIC, f"three distances with commas, please, such as {PLACE}{POINT}"),
        (place, "60 below", METRIC, f"say {ALONG_TOO} and {ACROSS_TOO}, too, such as {PLACE}"),
        (place, "60 below, 0", METRIC, f"say {ALONG_TOO} and {ACROSS_TOO}, too, such as {PLACE}"),
        (place, "33 front, 6 below", US, f"say {ACROSS_TOO}, too, such as {INCHES}"),
        (place, "1 front, 2 left, 3 up, 0", METRIC, f"only three distances, please, such as {PLACE}"),
        (place, "9 m front, 2 left, 3 up", METRIC, "that cannot be: 9000 mm. At most 6000 mm either way, please"),
        (span, "620 behind", METRIC, f'"620 behind" is not from one edge to the other; {TWO}'),
        (span, "40 left to 420 left", METRIC, TWO),
        (span, "620 behind to 620 behind", METRIC, TWO),
        (span, "620 behind to 7 m behind", METRIC, f"that cannot be: 7000 mm behind. {ALONG_ENDS}"),
        (box, "330 front to 120 behind", METRIC, f"say {ACROSS_TOO} and {UP_TOO}, too; {SIX}"),
        (box, "330 front to 120 behind; 40 to 90 front", METRIC, f"{ALONG_TOO} is said twice; {SIX}"),
        (box, "330 front to 311 front", METRIC, '"330 front to 311 front" leaves nothing between the two edges'),
        (box, "330 front", METRIC, f'"330 front" is not from one edge to the other; {SIX}'),
        (
            box,
            "330 to 120",
            METRIC,
            f'"330 to 120" does not say to which side: front or behind, left or right, above; {SIX}',
        ),
        (box, "40 right to 7 m right", METRIC, f"that cannot be: 7000 mm right. {ACROSS_ENDS}"),
        (tie, "mount 1 up to 2 up", METRIC, "a mount has one place; a link has two, one on each of what it ties"),
    ],
)  # fmt: skip
def test_what_is_no_place_is_told_with_what_is_missing_and_an_example(
    read: Callable[[Question, str, System], object], text: str, system: System, says: str
) -> None:
    with pytest.raises(AnswerError) as told:
        read(question(Ask.PLACE, -6.0, 6.0), text, system)
    assert str(told.value) == says


@pytest.mark.parametrize(
    ("ask", "text", "system", "says"),
    [
        (Ask.ALONG, "420", METRIC, "say front or behind, too, such as 420 behind"),
        (Ask.ACROSS, "16", US, "say left or right, too, such as 16 1/2 right"),
        (Ask.UP, "60 front", METRIC, "say above or below, too, such as 420 below"),
        (Ask.ALONG, "420 in front", METRIC, MAY_BE_INCHES),
        (Ask.ALONG, "420in front", METRIC, MAY_BE_INCHES),
        (Ask.ALONG, "-420 front", METRIC, "no sign, please: the question says in which direction it counts"),
        (Ask.ALONG, "−420 front", METRIC, "no sign, please: the question says in which direction it counts"),
        (Ask.ALONG, "+420 front", METRIC, "no sign, please: the question says in which direction it counts"),
    ],
)  # fmt: skip
def test_what_is_no_distance_is_told(ask: Ask, text: str, system: System, says: str) -> None:
    with pytest.raises(AnswerError) as told:
        sided(text, ask, system)
    assert str(told.value) == says


@pytest.mark.parametrize(
    ("text", "kind", "metric", "us"),
    [
        ("420", Kind.LENGTH, 0.42, 420 * 0.0254),
        ("16 1/2", Kind.LENGTH, 0.0165, 16.5 * 0.0254),
        ("12.5", Kind.LENGTH, 0.0125, 12.5 * 0.0254),
        ("42 cm", Kind.LENGTH, 0.42, 0.42),
        ("100", Kind.MASS, 100.0, 45.359237),
        ("60", Kind.SHARE, 0.6, 0.6),
        ("60 %", Kind.SHARE, 0.6, 0.6),
    ],
)
def test_a_bare_number_counts_in_the_units_of_the_user(text: str, kind: Kind, metric: float, us: float) -> None:
    assert amount(text, kind, METRIC) == pytest.approx(metric)
    assert amount(text, kind, US) == pytest.approx(us)
    with pytest.raises(AnswerError, match=r"^it "):
        amount(f"{text} furlongs", kind, METRIC)


def test_edges_20_mm_apart_are_a_lump_and_two_places_are_told_front_first() -> None:
    edges = box(question(Ask.BOX), "330 front to 310 front, 0 to 20 left, 0 to 20 above", METRIC)
    assert edges.low == pytest.approx((0.31, 0.0, 0.0))
    assert span(question(Ask.SPAN), "1980 behind to 620 behind", METRIC) == pytest.approx((-0.62, -1.98))
    assert span(question(Ask.SPAN), "330 front – 620 behind", METRIC) == pytest.approx((0.33, -0.62))


def test_a_word_that_fits_two_lumps_or_is_a_side_is_none() -> None:
    asked = question(Ask.SEAT, words=("gearbox", "generator", "frontend"))
    for text, lump in (("gear 1 front, 2 left, 3 up", "gearbox"), ("FRONTEND; 1 front, 2 left, 3 up", "frontend")):
        assert seat(asked, text, METRIC).lump == lump
    assert seat(asked, "front 1, left 2, up 3", METRIC).lump == ""
    with pytest.raises(AnswerError):
        seat(asked, "ge 1 front, 2 left, 3 up", METRIC)


def test_a_tie_keeps_both_its_places() -> None:
    link = tie(question(Ask.TIE), "link: 1 front, 2 left, 3 up to 4 front, 5 left, 6 up", METRIC)
    assert link.place == pytest.approx((0.001, 0.002, 0.003))
    assert link.to == pytest.approx((0.004, 0.005, 0.006))
    assert tie(question(Ask.TIE), "MOUNT; 1 front, 2 left, 3 up", METRIC).kind == "mount"
    assert tie(question(Ask.TIE), "1 front, 2 left, 3 up", METRIC).to is None
    assert (place_sample(METRIC), place_sample(US)) == (PLACE, INCHES)
