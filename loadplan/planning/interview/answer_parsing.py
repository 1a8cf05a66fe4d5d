"""Reading what somebody answers to a question: amounts with units, directions in words, never signs."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import Enum
from types import MappingProxyType
from typing import TypeAlias

from loadplan.model.vehicle import Place
from loadplan.units import Kind, QuantityError, System, bare_unit, from_si, to_si

LONGEST = 100
"""Longest answer in words [characters]."""


class AnswerError(ValueError):
    """An answer that does not answer its question; its text says why, and what would."""


class Ask(Enum):
    """What a question asks for."""

    WORDS = "words"
    CHOICE = "one of some words"
    YES_NO = "yes or no"
    WHOLE = "a whole number"
    DAY = "a day"
    LENGTH = "a length"
    MASS = "a weight"
    LOAD = "a rating"
    SHARE = "a share in per cent"
    ALONG = "how far in front of or behind the axle line"
    ACROSS = "how far left or right of the centre line"
    UP = "how far above or below the lift pads"
    PLACE = "a place: along, across and up"


@dataclass(frozen=True, slots=True)
class Question:
    """One question.

    Attributes:
        key: Under which its answer is kept.
        asks: The question.
        ask: What it asks for.
        hint: What helps to answer it.
        default: What an empty answer means: "" leaves the thing open; None: it has to be answered.
        words: What may be chosen.
        least: Least value [SI].
        most: Greatest value [SI].
    """

    key: str
    asks: str
    ask: Ask
    hint: str = ""
    default: str | None = None
    words: tuple[str, ...] = ()
    least: float = -100.0
    most: float = 100.0


Value: TypeAlias = str | bool | int | float | date | Place | None
"""What an answer means, in SI; None where the thing is left open."""

Known: TypeAlias = Callable[[Question], Value]
"""What the answer to a question means, or its default where there is none yet."""

_AMOUNTS: Mapping[Ask, Kind] = MappingProxyType({
    Ask.LENGTH: Kind.LENGTH,
    Ask.MASS: Kind.MASS,
    Ask.LOAD: Kind.LOAD,
    Ask.SHARE: Kind.SHARE,
})
_SIDES: Mapping[Ask, Mapping[str, int]] = MappingProxyType({
    Ask.ALONG: MappingProxyType({"front": 1, "ahead": 1, "forward": 1, "behind": -1, "back": -1, "rear": -1}),
    Ask.ACROSS: MappingProxyType({"left": 1, "right": -1}),
    Ask.UP: MappingProxyType({"above": 1, "over": 1, "below": -1, "under": -1}),
})
_SAMPLES: Mapping[Ask, str] = MappingProxyType({
    Ask.ALONG: "front or behind",
    Ask.ACROSS: "left or right",
    Ask.UP: "above or below",
})


def read_answer(question: Question, text: str, system: System) -> Value:
    """Read an answer.

    Args:
        question: The question.
        text: What was answered; nothing means the question's default.
        system: Units of bare numbers.

    Returns:
        What it means, in SI.

    Raises:
        AnswerError: If it does not answer the question.

    Example:
        >>> read_answer(Question("front", "Front edge?", Ask.ALONG), "16 1/2 in behind", System.METRIC)
        -0.4191
    """
    tidy = " ".join(text.split()) or question.default
    if tidy is None:
        raise AnswerError("this one is needed")
    if not tidy:
        return None
    match question.ask:
        case Ask.LENGTH | Ask.MASS | Ask.LOAD | Ask.SHARE:
            return _within(question, _amount(tidy, _AMOUNTS[question.ask], system), system)
        case Ask.ALONG | Ask.ACROSS | Ask.UP:
            return _within(question, _sided(tidy, question.ask, system), system)
        case Ask.PLACE:
            return _place(question, tidy, system)
        case _:
            return _without_unit(question, tidy)


def _without_unit(question: Question, text: str) -> Value:
    """Return an answer that has no unit: a word, yes or no, a number, a day, or a line of text.

    Raises:
        AnswerError: If it is not what was asked for.
    """
    match question.ask:
        case Ask.CHOICE:
            return _choice(question, text)
        case Ask.YES_NO:
            return _yes(text)
        case Ask.DAY:
            return _day(text)
        case Ask.WHOLE:
            if not re.fullmatch(r"[0-9]{1,4}", text) or not question.least <= int(text) <= question.most:
                raise AnswerError(f"a whole number from {question.least:.0f} to {question.most:.0f}, please")
            return int(text)
        case _:
            if len(text) > LONGEST or not text.isprintable():
                raise AnswerError(f"one line of at most {LONGEST} characters, please")
            return text


def _choice(question: Question, text: str) -> str:
    fitting = [word for word in question.words if word.casefold().startswith(text.casefold())]
    exact = [word for word in fitting if word.casefold() == text.casefold()]
    if len(exact or fitting) != 1:
        raise AnswerError(f"one of these, please: {', '.join(question.words)}")
    return (exact or fitting)[0]


def _yes(text: str) -> bool:
    if text.casefold() in {"y", "yes"}:
        return True
    if text.casefold() in {"n", "no"}:
        return False
    raise AnswerError("yes or no, please")


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise AnswerError("a day such as 2026-11-20, please") from None


def _amount(text: str, kind: Kind, system: System) -> float:
    """Return an amount in SI; a bare number counts in the units of the user.

    Raises:
        AnswerError: If it has a sign, or is no such amount.
    """
    if text.startswith(("-", "−", "+")):
        raise AnswerError("no sign, please: the question says in which direction it counts")
    bare = bool(re.fullmatch(r"[0-9./ -]+", text))
    unit = "%" if kind is Kind.SHARE else bare_unit(kind, system)
    try:
        return to_si(f"{text} {unit}" if bare else text, kind, system)
    except QuantityError as error:
        raise AnswerError(f"it {error}") from None


def _within(question: Question, value: float, system: System) -> float:
    if not question.least <= value <= question.most:
        told, least, most = (_told(question, each, system) for each in (value, question.least, question.most))
        raise AnswerError(f"that cannot be: {told}. From {least} to {most}, please")
    return value


def _told(question: Question, value: float, system: System) -> str:
    """Return a value as the user would write it, with the side in words instead of a sign."""
    sides = _SIDES.get(question.ask)
    kind = _AMOUNTS.get(question.ask, Kind.LENGTH)
    if kind is Kind.SHARE:
        return f"{100 * value:.3g} %"
    # Four figures, and never an exponent.
    number = round(float(f"{from_si(abs(value), kind, system):.4g}"), 6)
    amount = f"{number:.6f}".rstrip("0").rstrip(".") + f" {bare_unit(kind, system)}"
    if sides is None:
        return amount
    word = next(word for word, sign in sides.items() if (sign > 0) == (value >= 0))
    return f"{amount} {word}"


def _sided(text: str, ask: Ask, system: System) -> float:
    """Return a signed distance [m] from an amount and the word behind it.

    A bare 0 needs no word: it lies on neither side.

    Raises:
        AnswerError: If no side is said, or "in" may be the unit as well as a part of "in front".
    """
    sides = _SIDES[ask]
    amount, _, word = text.rpartition(" ")
    sign = sides.get(word.casefold())
    if sign is None:
        if re.fullmatch(r"0+(\.0*)?", text):
            return 0.0
        sample = f"{'420' if system is System.METRIC else '16 1/2'} {_SAMPLES[ask].rpartition(' ')[2]}"
        raise AnswerError(f"say {_SAMPLES[ask]}, too, such as {sample}")
    if system is System.METRIC and re.search(r"[0-9] ?in front$", text.casefold()):
        raise AnswerError('"in front" may mean inches: write 420 front, 420 mm front or 16.5 inches front')
    return sign * _amount(amount.removesuffix(" in") if system is System.US else amount, Kind.LENGTH, system)


def _place(question: Question, text: str, system: System) -> Place:
    """Return a place [m] from three distances in any order; the word of each says which axis it is.

    Raises:
        AnswerError: If one is missing, said twice or no such distance.
    """
    found: dict[Ask, float] = {}
    for part in (each.strip() for each in text.split(",")):
        ask = next((ask for ask, sides in _SIDES.items() if part.rpartition(" ")[2].casefold() in sides), None)
        if ask is None or ask in found:
            raise AnswerError(f"three distances with commas, please, such as {place_sample(system)}")
        found[ask] = _within(question, _sided(part, ask, system), system)
    missing = [ask for ask in _SIDES if ask not in found]
    if missing:
        raise AnswerError(f"say {' and '.join(ask.value for ask in missing)}, too, such as {place_sample(system)}")
    return found[Ask.ALONG], found[Ask.ACROSS], found[Ask.UP]


def place_sample(system: System) -> str:
    """Return how a place is written.

    Args:
        system: Units of bare numbers.

    Returns:
        An example.
    """
    if system is System.METRIC:
        return '"330 front, 420 left, 60 below"'
    return '"13 front, 16 1/2 left, 2 3/8 below"'
