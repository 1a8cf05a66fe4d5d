"""Reading answers: any unit, words for directions, any usual date, and why something is not taken."""

from dataclasses import replace
from datetime import date

import pytest

from loadplan.limits import GRAVITY
from loadplan.planning.interview.answer_days import full_days
from loadplan.planning.interview.answer_parsing import read_answer
from loadplan.planning.interview.question import (
    AnswerError,
    Ask,
    Days,
    Edges,
    Foot,
    HeightRange,
    Mark,
    NamedWeight,
    Owned,
    Question,
    Seat,
    ShimStock,
    Tie,
    Value,
    Weight,
)
from loadplan.planning.interview.questions_on_vehicle import pad_questions
from loadplan.units import System

TITLE = Question("title", "What is the job?", Ask.WORDS)


def read(ask: Ask, text: str, system: System = System.METRIC, words: tuple[str, ...] = ()) -> Value:
    least = 1 if ask in {Ask.OWNED, Ask.PARTS} else -5
    return read_answer(Question("key", "?", ask, words=words, least=least, most=1e6), text, system)


@pytest.mark.parametrize("text", ["a\x00b", "a\u202eb", "x" * 101])
def test_words_are_one_line_that_can_be_shown(text: str) -> None:
    with pytest.raises(AnswerError, match=r"one line of at most [13]00 characters"):
        read_answer(TITLE, text, System.METRIC)


def test_words_of_a_hundred_letters_are_taken() -> None:
    assert read_answer(TITLE, " ".join(["x" * 49, "y" * 50]), System.METRIC) == f"{'x' * 49} {'y' * 50}"


@pytest.mark.parametrize(
    ("ask", "text", "system", "value"),
    [
        (Ask.ALONG, "420 front", System.METRIC, 0.42),
        (Ask.ALONG, "16 1/2 in behind", System.METRIC, -0.4191),
        (Ask.ALONG, "16 1/2 in front", System.US, 0.4191),
        (Ask.ALONG, "16.5 behind", System.US, -0.4191),
        (Ask.ALONG, "behind 420", System.METRIC, -0.42),
        (Ask.ACROSS, "0", System.METRIC, 0.0),
        (Ask.ACROSS, "12 cm RIGHT", System.US, -0.12),
        (Ask.UP, "420mm above", System.METRIC, 0.42),
        (Ask.SHARE, "60", System.METRIC, 0.6),
        (Ask.MASS, "106 lb", System.METRIC, 48.08),
        (Ask.MASS, "1480 scales", System.METRIC, 1480.0),
        (Ask.MASS, "1.48 t from a weighbridge", System.METRIC, 1480.0),
        (Ask.PLACE, "60 below, 420 left, 330 front", System.METRIC, (0.33, 0.42, -0.06)),
        (Ask.PLACE, "100 behind, 0, 20 above", System.METRIC, (-0.1, 0.0, 0.02)),
        (Ask.PLACE, "100 behind 30 left 20 above", System.METRIC, (-0.1, 0.03, 0.02)),
        (Ask.PLACE, "100 behind; 0; 0", System.METRIC, (-0.1, 0.0, 0.0)),
        (Ask.SPAN, "620 behind to 1980 behind", System.METRIC, (-0.62, -1.98)),
        (Ask.SPAN, "1980 to 620 behind", System.METRIC, (-0.62, -1.98)),
        (Ask.LENGTH, "60mm", System.METRIC, 0.06),
    ],
)
def test_an_answer_is_read_in_any_unit(ask: Ask, text: str, system: System, value: object) -> None:
    assert read(ask, text, system) == pytest.approx(value, abs=1e-3)


def test_edges_are_three_spans_in_any_order() -> None:
    box = read(Ask.BOX, "40 to 420 right, 330 front to 120 behind, 610 - 35 above")
    assert isinstance(box, Edges)
    assert (*box.low, *box.high) == pytest.approx((-0.12, -0.42, 0.035, 0.33, -0.04, 0.61))


@pytest.mark.parametrize(
    ("ask", "text", "value"),
    [
        (Ask.WEIGHT, "48 kg scales", Weight(48, 0.96)),
        (Ask.WEIGHT, "48 by data sheet", Weight(48, 4.8)),
        (Ask.WEIGHT, "48 kg on wheel scales", Weight(48, 0.96)),
        (Ask.WEIGHT, "48", Weight(48, 9.6)),
        (Ask.WEIGHT, "172 kg +- 53 kg", Weight(172, 53)),
        (Ask.WEIGHT, "100 ± 20 %", Weight(100, 20)),
        (Ask.MARK, "3 tonne a pair", Mark(3000 * GRAVITY, "pair")),
        (Ask.MARK, "3000 each", Mark(3000 * GRAVITY, "each")),
        (Ask.MARK, "3 t", Mark(3000 * GRAVITY, "")),
        (Ask.HEIGHTS, "290 to 430 step 20", HeightRange(0.29, 0.43, 0.02)),
        (Ask.HEIGHTS, "290-430 mm in steps of 20", HeightRange(0.29, 0.43, 0.02)),
        (Ask.HEIGHTS, "29 to 43 cm step 2", HeightRange(0.29, 0.43, 0.02)),
        (Ask.HEIGHTS, "330 to 620", HeightRange(0.33, 0.62, None)),
        (Ask.FOOT, "60 x 40", Foot(0.06, 0.04)),
        (Ask.FOOT, "60x40 cm", Foot(0.6, 0.4)),
        (Ask.FOOT, "200", Foot(0.2, 0.2)),
        (Ask.OWNED, "8", Owned(8, ())),
        (Ask.OWNED, "8 off", Owned(8, ())),
        (Ask.OWNED, "8 pcs", Owned(8, ())),
        (Ask.SHARE, "60/40", 0.6),
        (Ask.SHARE, "45.5 : 54.5", 0.455),
        (Ask.OWNED, "S1 to S3", Owned(3, ("S1", "S2", "S3"))),
        (Ask.OWNED, "S1, S4", Owned(2, ("S1", "S4"))),
        (Ask.SEAT, "eng, 195 front, 280 right, 40 above", Seat("engine", (0.195, -0.28, 0.04))),
        (Ask.SEAT, "195 front, 0, 40 above", Seat("", (0.195, 0.0, 0.04))),
        (Ask.TIE, "mount, 150 behind, 0, 80 above", Tie("mount", (-0.15, 0.0, 0.08), None)),
        (Ask.TIE, "150 behind, 0, 80 above to 300 behind, 0, 0", Tie("link", (-0.15, 0, 0.08), (-0.3, 0.0, 0.0))),
        (Ask.PARTS, "gear, cylinder head 28 kg", (NamedWeight("gearbox", None), NamedWeight("cylinder head", 28.0))),
        (Ask.PARTS, "nothing", ()),
        (Ask.SHIMS, "none", ()),
        (Ask.USES, "engine, E F = gearbox", ("engine", "E=gearbox", "F=gearbox")),
        (Ask.SEVERAL, "2, eng", ("gearbox", "engine")),
        (Ask.SEVERAL, "1-2", ("engine", "gearbox")),
        (Ask.SEVERAL, "2-1", ("engine", "gearbox")),
        (Ask.SEVERAL, "1 to 2", ("engine", "gearbox")),
        (Ask.SEVERAL, "all", ("engine", "gearbox")),
    ],
)
def test_one_answer_says_what_would_be_several(ask: Ask, text: str, value: object) -> None:
    found = read(ask, text, words=("engine", "gearbox"))
    numbers, expected = _numbers(found), _numbers(value)
    assert numbers == pytest.approx(expected)
    assert _words(found) == _words(value)


@pytest.mark.parametrize(("text", "share"), [("850 kg", 850 / 1480), ("0.74 t", 0.5), ("57", 0.57), ("57 %", 0.57)])
def test_a_share_is_per_cent_or_what_the_weighbridge_reads(text: str, share: float) -> None:
    question = Question("share", "?", Ask.SHARE, least=0.3, most=0.8, whole=1480.0)
    assert read_answer(question, text, System.METRIC) == pytest.approx(share)


def test_a_share_of_nothing_known_is_no_weight() -> None:
    with pytest.raises(AnswerError, match="a share"):
        read_answer(Question("share", "?", Ask.SHARE, least=0.3, most=0.8), "850 kg", System.METRIC)


def test_a_share_that_cannot_be_is_told_without_an_exponent() -> None:
    with pytest.raises(AnswerError, match="cannot be: 2640 %"):
        read_answer(Question("share", "?", Ask.SHARE, least=0.3, most=0.8), "2640", System.METRIC)


@pytest.mark.parametrize("text", ["C D", "c, d", "3 4", "C D,"])
def test_letters_of_stands_want_no_commas(text: str) -> None:
    question = Question("with_it", "?", Ask.SEVERAL, words=tuple("ABCD"))
    assert read_answer(question, text, System.METRIC) == ("C", "D")


def _flat(value: object) -> list[object]:
    if isinstance(value, tuple):
        return [each for one in value for each in _flat(one)]
    slots = getattr(value, "__slots__", ())
    return [each for name in slots for each in _flat(getattr(value, name))] if slots else [value]


def _numbers(value: object) -> list[float]:
    return [float(each) for each in _flat(value) if isinstance(each, int | float)]


def _words(value: object) -> list[object]:
    return [each for each in _flat(value) if not isinstance(each, int | float)]


def test_shims_are_told_by_thickness_stuff_and_number() -> None:
    found = read(Ask.SHIMS, "12 mm wood 8, 6 mm steel, 25 douglas fir-larch 4", words=("steel", "douglas fir-larch"))
    assert found == (ShimStock(0.012, "", 8), ShimStock(0.006, "steel", None), ShimStock(0.025, "douglas fir-larch", 4))


def test_what_a_shim_is_of_is_named_where_it_is_not_known() -> None:
    with pytest.raises(AnswerError, match=r'^"plywood" is not known; such as "12 mm wood 8'):
        read(Ask.SHIMS, "12 mm wood 8, 12 mm plywood 4", words=("steel",))


@pytest.mark.parametrize(
    "text",
    ["2026-11-20", "20 Nov 2026", "20. November 2026", "Nov 20, 2026", "20.11.2026", "20/11/2026", "11/20/2026",
     "2026/11/20", "Fri 20th november 2026", "20-11-2026"],
)  # fmt: skip
def test_days_are_read_in_any_usual_writing(text: str) -> None:
    assert read(Ask.DAYS, text) == Days(date(2026, 11, 20), None)


@pytest.mark.parametrize(
    "text",
    [
        "20 Nov 2026 to 24 Nov 2026",
        "2026-11-20 until 2026-11-24",
        "20.11.2026 - 24.11.2026",
        "20.11. - 24.11.2026",
        "20 Nov 2026 to 24 Nov",
        "20-24 Nov 2026",
        "20th to 24th Nov 2026",
        "20.–24. November 2026",
    ],
)
def test_a_first_and_a_last_day_are_one_answer(text: str) -> None:
    assert read(Ask.DAYS, text) == Days(date(2026, 11, 20), date(2026, 11, 24))


@pytest.mark.parametrize(
    ("ask", "text", "told"),
    [
        (Ask.ALONG, "420", "say front or behind"),
        (Ask.ALONG, "7.5 in front", "may mean inches"),
        (Ask.ALONG, "-420 front", "no sign"),
        (Ask.ACROSS, "420 front", "say left or right"),
        (Ask.PLACE, "330 front, 420 left", "how far above or below the lift pads"),
        (Ask.PLACE, "330 front, 420 behind, 3 above", "three distances"),
        (Ask.PLACE, "330 front, 12,5 left, 3 above", "a number takes a point, 12.5"),
        (Ask.BOX, "330 front to 120 behind, 40 to 420 right", "how far above or below the lift pads, too"),
        (Ask.BOX, "330 front, 120 behind, 3 above", "not from one edge to the other"),
        (Ask.SPAN, "620 behind", "two places along, please"),
        (Ask.MASS, "3 ton", "ambiguous"),
        (Ask.LENGTH, "12,5", "comma"),
        (Ask.LENGTH, "", "needed; . says what to measure"),
        (Ask.CHOICE, "", "needed; a number or a word of the list"),
        (Ask.WORDS, "", "needed; a few words"),
        (Ask.YES_NO, "maybe", "yes or no"),
        (Ask.WHOLE, "2.5", "whole number"),
        (Ask.CHOICE, "3", "1 engine, 2 gearbox"),
        (Ask.CHOICE, "box", "1 engine, 2 gearbox"),
        (Ask.DAYS, "3/4/2026", "may be 4 Mar 2026 or 3 Apr 2026"),
        (Ask.DAYS, "20.11.26", "year in four figures"),
        (Ask.DAYS, "31 Feb 2026", "no such day"),
        (Ask.DAYS, "24 Nov 2026 to 20 Nov 2026", "is before the first"),
        (Ask.HEIGHTS, "430 to 290", "lowest first"),
        (Ask.FOOT, "60 x 40 x 20", "one width, or along and across"),
        (Ask.OWNED, "S1, S1", "stands twice"),
        (Ask.OWNED, "y", "how many, such as 8"),
        (Ask.OWNED, "2 pair", "how many, such as 8"),
        (Ask.OWNED, "0", "a whole number from 1"),
        (Ask.WEIGHT, "48 kg +- 50 kg", "less than the weight"),
        (Ask.HEIGHTS, "290 to 430 step 900", "a step between two settings"),
        (Ask.SHIMS, "12 mm cheese 8", "thickness, of what"),
        (Ask.PARTS, "engine, 1", "stands twice"),
        (Ask.PARTS, "head 9000 t", "that cannot be"),
        (Ask.SPAN, "620 behind to 620 behind", "two places along"),
        (Ask.BOX, "350 front to 350 behind, 450 to 450, 120 above to 0", "does not say to which side"),
        (Ask.BOX, "1 front to 300 front, 5 to 9 right, 1 to 300 above", "nothing between the two edges"),
        (Ask.BOX, "1 front to 300 front, 1 to 300 behind, 1 to 300 above", "is said twice"),
        (Ask.DAYS, "1 May 2026 to 2 May 2026 to 3 May 2026", "one day, or a first and a last one"),
        (Ask.PARTS, "²", "needs its weight"),
        (Ask.SEVERAL, "²", "one of these"),
        (Ask.SEVERAL, "1-3", "one of these"),
        (Ask.DAYS, "² Nov 2026", "a day with its year"),
        (Ask.WEIGHT, "4" * 301, "at most 300"),
        (Ask.PARTS, "cylinder head", "needs its weight"),
        (Ask.TIE, "mount, 1 front, 1 left, 1 above to 2 front, 1 left, 1 above", "a mount has one place"),
        (Ask.USES, "engine, jack", "the first for all"),
    ],
)
def test_an_answer_that_is_none_says_what_would_be(ask: Ask, text: str, told: str) -> None:
    with pytest.raises(AnswerError, match=told):
        read(ask, text, words=("engine", "gearbox"))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("today", "20 Nov 2026"),
        ("Tomorrow", "21 Nov 2026"),
        ("1 dec", "1 Dec 2026"),
        ("Dec 1st", "1 Dec 2026"),
        ("1.12.", "1 Dec 2026"),
        ("19 nov", "19 Nov 2027"),
        ("1-3 Dec", "1 Dec 2026 to 3 Dec 2026"),
        ("29 dec to 2 jan", "29 Dec 2026 to 2 Jan 2027"),
        ("1 Dec 2026", "1 Dec 2026"),
        ("5.3.26", "5 Mar 2026"),
        ("5 mar '26 to 7 mar 26", "5 Mar 2026 to 7 Mar 2026"),
        ("25/3/27", "25 Mar 2027"),
        ("5/3/26", "5/3/2026"),
        ("some day", "some day"),
        ("30 feb", "30 feb"),
        ("3/4", "3/4"),
    ],
)
def test_a_day_without_its_year_is_the_next_of_that_name_and_written_out(text: str, told: str) -> None:
    assert full_days(text, date(2026, 11, 20)) == told


@pytest.mark.parametrize(
    ("typed", "taken"), [("own", "my own measures"), ("MEASURES", "my own measures"), ("m", "my own measures")]
)
def test_a_choice_of_several_words_is_taken_by_any_of_them(typed: str, taken: str) -> None:
    assert read(Ask.CHOICE, typed, words=("typical-front-unit", "my own measures")) == taken


def test_a_word_that_stands_in_two_choices_is_not_guessed() -> None:
    with pytest.raises(AnswerError, match="one of these"):
        read(Ask.CHOICE, "petrol", words=("four-cylinder petrol", "V6 petrol"))


@pytest.mark.parametrize(("text", "metres"), [("730 out", 0.73), ("740 mm Out", 0.74), ("28 in out", 0.7112)])
def test_out_is_a_side_where_it_has_only_one_sense(text: str, metres: float) -> None:
    """The pads are as far out on either side; a place is left or right, which out does not tell."""
    out = next(each for each in pad_questions() if each.key == "pads.out")
    assert read_answer(out, text, System.METRIC) == pytest.approx(metres)
    for question, told in ((out, "out"), (replace(out, side=""), text), (Question("x", "", Ask.ACROSS), text)):
        with pytest.raises(AnswerError):
            read_answer(question, told, System.METRIC)
