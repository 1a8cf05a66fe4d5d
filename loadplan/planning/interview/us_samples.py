"""Examples of answers as somebody writes them who measures in inches and weighs in pounds."""

import re
from dataclasses import replace

from loadplan.planning.interview.question import Question
from loadplan.units import Kind, System, from_si

IN_US: tuple[tuple[str, str], ...] = (
    (
        "link, 100 behind, 30 left, 90 above to 240 behind, 30 left, 90 above",
        "link, 4 behind, 1 1/4 left, 3 1/2 above to 9 1/2 behind, 1 1/4 left, 3 1/2 above",
    ),
    (
        "330 front to 120 behind, 40 to 420 right, 610 to 35 above",
        "13 front to 4 3/4 behind, 1 1/2 to 16 1/2 right, 24 to 1 3/8 above",
    ),
    (
        "2560 to 2880 behind, 150 left to 150 right, 260 to 20 above",
        "101 to 113 1/2 behind, 6 left to 6 right, 10 1/4 to 3/4 above",
    ),
    (
        "450 to 2250 behind, 700 left to 700 right, 40 above to 110 below",
        "18 to 88 behind, 27 left to 27 right, 1 1/2 above to 4 3/8 below",
    ),
    ("900 behind, 600 left, 60 below", "35 1/2 behind, 23 1/2 left, 2 3/8 below"),
    ("1300 behind, 100 right, 20 above", "51 behind, 4 right, 3/4 above"),
    ("2480 behind, 420 left, 60 below", "97 1/2 behind, 16 1/2 left, 2 3/8 below"),
    ("mount, 150 behind, 200 right, 80 above", "mount, 6 behind, 8 right, 3 above"),
    (
        "link, 2550 behind, 30 left, 90 above to 2690 behind, 30 left, 90 above",
        "link, 100 behind, 1 1/4 left, 3 1/2 above to 106 behind, 1 1/4 left, 3 1/2 above",
    ),
    ("mount, 2600 behind, 200 right, 80 above", "mount, 102 behind, 8 right, 3 above"),
    ("2610 behind, 100 right, 150 above", "103 behind, 4 right, 6 above"),
    ("330 front, 420 left, 60 below", "13 front, 16 1/2 left, 2 3/8 below"),
    ("90 front, 200 right, 400 above", "3 1/2 front, 8 right, 16 above"),
    ("12 mm wood 8, 6 mm steel 4", "1/2 in wood 8, 1/4 in steel 4"),
    ("620 behind to 1980 behind", "24 1/2 behind to 78 behind"),
    ("200, or 300 x 200", "8, or 12 x 8"),
    ("300 x 200", "12 x 8"),
    ("290 to 430 step 20", "11 1/2 to 17 step 3/4"),
    ("1200 to 1980", "47 to 78"),
    ("3.5 tonne", "7700 lb"),
    ("3 tonne a pair", "6600 lb a pair"),
    ("such as 1 tonne", "such as 2200 lb"),
    ("such as 180", "such as 7"),
    ("such as 1900", "such as 75"),
    ("such as 3900", "such as 154"),
    ("such as 80", "such as 3 1/8"),
    ("such as 170", "such as 6 3/4"),
    ("such as 1480", "such as 58"),
    ("such as 2600", "such as 102"),
    ("such as 700", "such as 27 1/2"),
    ("Within 20 mm", "Within 3/4 in"),
    ("1450 kg", "3200 lb"),
    ("850 kg", "1870 lb"),
    ("28 kg", "62 lb"),
    ("48 kg", "106 lb"),
    ("6 kg", "13 lb"),
)
"""Each example in metric units, and one like it in inches and pounds; a longer one stands before what it holds."""


def samples_in_us(text: str) -> str:
    """Put the examples of a sentence into inches and pounds.

    Args:
        text: A hint, or why an answer was not taken.

    Returns:
        It, with the same examples as somebody writes them there.
    """
    for metric, us in IN_US:
        text = text.replace(metric, us)
    return text


def in_us(question: Question) -> Question:
    """Put the examples of a question into inches and pounds.

    Args:
        question: The question.

    Returns:
        It, with what it asks for unchanged.
    """
    hint = samples_in_us(question.hint)
    # The first question is about the units themselves.
    return question if hint == question.hint or question.key == "units" else replace(question, hint=hint)


def amounts_in_us(text: str) -> str:
    """Tell amounts of millimetres and kilograms in inches and pounds.

    Args:
        text: What a typical unit answers, as it is shown.

    Returns:
        The text with each such amount to a tenth of an inch, or to a pound.

    Example:
        >>> amounts_in_us("400 kg +- 120 kg; 700 mm behind")
        '882 lb +- 265 lb; 27.6 in behind'
    """

    def told(found: re.Match[str]) -> str:
        if found[2] == "kg":
            return f"{from_si(float(found[1]), Kind.MASS, System.US):.0f} lb"
        return f"{from_si(float(found[1]) / 1000, Kind.LENGTH, System.US):.1f} in"

    return re.sub(r"([0-9]+(?:\.[0-9]+)?) (mm|kg)\b", told, text)
