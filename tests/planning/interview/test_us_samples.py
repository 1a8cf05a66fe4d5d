"""Examples in inches and pounds: each is about as much as the metric one, and none is left in a hint."""

import re
from fractions import Fraction

import pytest

from loadplan.planning.interview.question import Ask, Question
from loadplan.planning.interview.us_samples import IN_US, amounts_in_us, in_us, samples_in_us

KEPT = {
    "12 mm wood 8, 6 mm steel 4": "1/2 in wood 8, 1/4 in steel 4",
    "330 front, 420 left, 60 below": "13 front, 16 1/2 left, 2 3/8 below",
    "620 behind to 1980 behind": "24 1/2 behind to 78 behind",
    "290 to 430 step 20": "11 1/2 to 17 step 3/4",
    "1200 to 1980": "47 to 78",
    "200, or 300 x 200": "8, or 12 x 8",
    "3 tonne a pair": "6600 lb a pair",
    "such as 180": "such as 7",
    "Within 20 mm": "Within 3/4 in",
    "48 kg scales": "106 lb scales",
    "48 kg +- 6 kg": "106 lb +- 13 lb",
    "1450 kg": "3200 lb",
    "850 kg": "1870 lb",
    "3.5 tonne": "7700 lb",
}


@pytest.mark.parametrize("metric", KEPT)
def test_an_example_is_put_into_inches_and_pounds(metric: str) -> None:
    assert samples_in_us(f"By tape, {metric}.") == f"By tape, {KEPT[metric]}."


def _amounts(text: str) -> list[float]:
    found = re.findall(r"([0-9]+) ([0-9]+)/([0-9]+)|([0-9]+)/([0-9]+)|([0-9.]*[0-9])", text)
    return [
        float(int(whole) + Fraction(int(over), int(under)))
        if whole
        else float(Fraction(int(top), int(bottom)))
        if top
        else float(plain)
        for whole, over, under, top, bottom, plain in found
    ]


@pytest.mark.parametrize(("metric", "us"), IN_US)
def test_both_are_about_as_much(metric: str, us: str) -> None:
    """Within a seventh: somebody who measures in inches writes round figures of his own. Counts stay as they are."""
    pairs = list(zip(_amounts(metric), _amounts(us), strict=True))
    scale = 2204.6 if "tonne" in metric else 2.2046 if "kg" in metric else 1 / 25.4
    for one, other in pairs:
        assert other == one or other == pytest.approx(one * scale, rel=1 / 7)
    assert (
        re.sub(r"[0-9./ ]+", " ", re.sub(r"mm|kg|tonne", "", metric)).split()
        == re.sub(r"[0-9./ ]+", " ", re.sub(r"\bin\b|lb", "", us)).split()
    )


def test_a_longer_example_stands_before_what_it_holds() -> None:
    whole = [metric for metric, _ in IN_US]
    assert not [(short, long) for number, short in enumerate(whole) for long in whole[number + 1 :] if short in long]


def test_only_the_hint_of_a_question_changes_and_not_that_of_the_first() -> None:
    asked = Question("pads.height", "How high?", Ask.LENGTH, "By tape, such as 180.", "200 mm")
    assert in_us(asked).hint == "By tape, such as 7."
    assert (in_us(asked).asks, in_us(asked).default) == ("How high?", "200 mm")
    first = Question("units", "Units?", Ask.CHOICE, "Such as 48 kg.")
    assert in_us(first) is first
    other = Question("title", "Title?", Ask.WORDS, "One line.")
    assert in_us(other) is other


def test_amounts_are_told_to_a_tenth_of_an_inch_or_a_pound() -> None:
    assert amounts_in_us("400 kg +- 120 kg; 700.5 mm behind, 3 mounts, 60 %") == (
        "882 lb +- 265 lb; 27.6 in behind, 3 mounts, 60 %"
    )
