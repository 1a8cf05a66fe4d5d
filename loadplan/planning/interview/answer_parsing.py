"""Reading what somebody answers to a question, by what it asks for."""

import re
from collections.abc import Callable, Mapping, Sequence
from math import isclose
from types import MappingProxyType

from loadplan.planning.interview.answer_days import read_days
from loadplan.planning.interview.answer_distances import (
    KINDS,
    amount,
    box,
    place,
    seat,
    sided,
    span,
    tie,
    within,
)
from loadplan.planning.interview.answer_equipment import (
    read_foot,
    read_heights,
    read_mark,
    read_owned,
    read_parts,
    read_shims,
    read_weight,
    split_source,
)
from loadplan.planning.interview.question import AnswerError, Ask, Days, Owned, Question, Value
from loadplan.units import Kind, System

LONGEST = 100
"""Longest answer in words [characters]."""

MOST_TYPED = 300
"""Longest answer of any kind [characters]."""

_NEEDED: Mapping[Ask, str] = MappingProxyType({
    Ask.WORDS: "a few words will do",
    Ask.CHOICE: "a number or a word of the list",
    Ask.SEVERAL: "numbers or words of the list, with commas between",
})
"""What to answer where no tape helps."""

_HALVES = re.compile(r"([0-9.]+) *%? *[/:-] *([0-9.]+) *%?")
"""Front and rear share as they are spoken, 60/40; it counts where both make a hundred."""

_WEIGHED = re.compile(r"[0-9][0-9./ ]*(?:kg|lbs?|t|tonnes?|pounds?)", re.IGNORECASE)
"""A share as the weighbridge reads it, a weight."""

_RUN = re.compile(r"(?<![^,;\s])([0-9]{1,2})\s*(?:to|[–-])\s*([0-9]{1,2})(?![^,;\s])", re.IGNORECASE)
"""Neighbours of a list by the first and the last number, 1 to 6."""

_ROUGHLY = re.compile(
    r"(?:\b(?:about|around|approx(?:imately)?\.?|circa|ca\.?|roughly)\s*|~\s*)(?=[0-9])"
    r"|(?<=[0-9])[ -]?ish\b|(?<=kg|lb|mm|cm|in)[ -]ish\b",
    re.IGNORECASE,
)
"""What people say around a number that they did not measure: about 65 kg, 65ish."""

_UNKNOWN = re.compile(
    r"(?:i +)?(?:don['’]?t|do not) know(?: yet)?|(?:still |as yet )?unknown|not (?:known|sure|measured)(?: yet)?"
    r"|no idea|dunno|n/a|\?+|[-–—]+",
    re.IGNORECASE,
)
"""What people write where they do not know: it leaves open what may be left open."""

_NOT_AMOUNTS = frozenset((Ask.WORDS, Ask.CHOICE, Ask.SEVERAL, Ask.YES_NO, Ask.DAYS, Ask.OWNED, Ask.USES))

_YES = frozenset(("y", "yes", "yep", "j", "ja", "true"))
_NO = frozenset(("n", "no", "nope", "false"))


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
        raise AnswerError(f"this one is needed; {_NEEDED.get(question.ask, '? says what to measure')}")
    if not tidy:
        return None
    if len(tidy) > MOST_TYPED or not tidy.isprintable():
        raise AnswerError(f"one line of at most {MOST_TYPED} characters, please")
    if question.ask is not Ask.WORDS and tidy.casefold() not in _said_words(question) and is_unknown(tidy):
        _refuse_needed(question)
        return None
    return READERS[question.ask](question, tidy, system)


def is_unknown(text: str) -> bool:
    """Return whether somebody says that he does not know."""
    return _UNKNOWN.fullmatch(" ".join(text.split())) is not None


def _said_words(question: Question) -> frozenset[str]:
    """Return the words of a list, of which "not measured" may be one."""
    return frozenset(each.casefold() for each in question.words)


def _refuse_needed(question: Question) -> None:
    """Make sure that what somebody does not know may be left open.

    Raises:
        AnswerError: If it has to be answered.
    """
    if question.ask is Ask.YES_NO:
        raise AnswerError("yes or no, please; ? says more of it")
    if unmeasured := next((each for each in question.words if each.startswith("not ")), ""):
        raise AnswerError(f'"{unmeasured}" says so')
    if question.default is None:
        raise AnswerError(f"this one is needed; {_NEEDED.get(question.ask, '? says what to measure')}")
    if question.default:
        raise AnswerError("? says more of it; an empty answer takes what is usual")


def plainly(ask: Ask, text: str) -> str:
    """Leave out of an amount that it is a rough one: how rough it is, each question says.

    Args:
        ask: What is asked for.
        text: What was typed.

    Returns:
        The text without such words; words and choices as they were.

    Example:
        >>> plainly(Ask.WEIGHT, "about 65 kg"), plainly(Ask.WEIGHT, "65ish kg"), plainly(Ask.WORDS, "about 65")
        ('65 kg', '65 kg', 'about 65')
    """
    return text if ask in _NOT_AMOUNTS else " ".join(_ROUGHLY.sub("", text).split())


def chosen(words: Sequence[str], text: str) -> str:
    """Find what was chosen, by its number, its word or a beginning of it.

    Args:
        words: What may be chosen, numbered from 1.
        text: What was typed.

    Returns:
        The word.

    Raises:
        AnswerError: If it is none of them, or may be several.

    Example:
        >>> chosen(("pair", "each"), "2"), chosen(("pair", "each"), "p"), chosen(("typical unit", "my own"), "own")
        ('each', 'pair', 'my own')
    """
    exact = [word for word in words if word.casefold() == text.casefold()]
    if not exact and text.isdecimal() and 1 <= int(text) <= len(words):
        return words[int(text) - 1]
    found = exact or [word for word in words if word.casefold().startswith(text.casefold())]
    # Of a choice of several words people type the one that tells it apart, which is seldom the first.
    found = found or [word for word in words if re.search(rf"\b{re.escape(text)}", word, re.IGNORECASE)]
    if not found and text:
        # An axle stand is a stand, and an engine hoist a hoist.
        last = text.casefold().split()[-1].rstrip("s")
        found = [word for word in words if word.casefold() == last]
    if len(found) != 1:
        told = ", ".join(f"{number} {word}" for number, word in enumerate(words, 1))
        raise AnswerError(f"one of these, please: {told}")
    return found[0]


def _amount(question: Question, text: str, system: System) -> float:
    """Return an amount [SI]; a share may be told with its other one or as a weight, a mass with where it is from."""
    if question.ask is Ask.SHARE and (both := _HALVES.fullmatch(text)) and _make_a_hundred(both[1], both[2]):
        text = both[1]
    if question.ask is Ask.MASS:
        # A whole vehicle's tolerance does not hang on where its weight is from, but people say it there as well.
        text = split_source(text)[0]
    if question.side:
        text = re.sub(rf"(?<=\S) +{question.side}$", "", text, flags=re.IGNORECASE)
    if question.whole and _WEIGHED.fullmatch(text):
        return within(question, amount(text, Kind.MASS, system) / question.whole, system)
    return within(question, amount(text, KINDS.get(question.ask, Kind.LENGTH), system), system)


def _make_a_hundred(front: str, rear: str) -> bool:
    """Return whether two shares in per cent make one whole."""
    return all(each.replace(".", "", 1).isdecimal() for each in (front, rear)) and isclose(
        float(front) + float(rear), 100.0, abs_tol=0.01
    )


def _on_axis(question: Question, text: str, system: System) -> float:
    return within(question, sided(text, question.ask, system), system)


def _words(_question: Question, text: str, _system: System) -> str:
    """Return a line of words.

    Raises:
        AnswerError: If it is too long.
    """
    if len(text) > LONGEST:
        raise AnswerError(f"one line of at most {LONGEST} characters, please")
    return text


def _whole(question: Question, text: str, _system: System) -> int:
    """Return a whole number.

    Raises:
        AnswerError: If it is none, or cannot be.
    """
    if not re.fullmatch(r"[0-9]{1,4}", text) or not question.least <= int(text) <= question.most:
        raise AnswerError(f"a whole number from {question.least:.0f} to {question.most:.0f}, please")
    return int(text)


def _choice(question: Question, text: str, _system: System) -> str:
    """Return what was chosen, as every reader is asked for it."""
    return chosen(question.words, text)


def _several(question: Question, text: str, _system: System) -> tuple[str, ...]:
    """Return what was chosen of several; all of it, or nothing, may be said so."""
    if text.casefold() == "all":
        return question.words
    if text.casefold() in {"nothing", "none"}:
        return ("nothing",) if "nothing" in question.words else ()
    several = _RUN.sub(_written_out, text)
    letters = re.findall(r"[^\s,;]+", several)
    if all(len(each) == 1 for each in (*question.words, *letters)):
        # Letters of stands, "C D": nothing else can be meant.
        several = ",".join(letters)
    return tuple(dict.fromkeys(chosen(question.words, each) for each in re.split(r"\s*[,;]\s*", several) if each))


def _written_out(run: re.Match[str]) -> str:
    """Return the numbers from one to another, whichever is told first."""
    first, last = sorted((int(run[1]), int(run[2])))
    return ",".join(str(number) for number in range(first, last + 1))


def _yes(_question: Question, text: str, _system: System) -> bool:
    """Return whether it says yes.

    Raises:
        AnswerError: If it says neither yes nor no.
    """
    if text.casefold() in _YES | _NO:
        return text.casefold() in _YES
    raise AnswerError("yes or no, please")


def _days(_question: Question, text: str, _system: System) -> Days:
    """Return days, which no unit changes."""
    return read_days(text)


def _owned(question: Question, text: str, _system: System) -> Owned:
    """Return a number or tags, which no unit changes."""
    return read_owned(question, text)


def _uses(question: Question, text: str, _system: System) -> tuple[str, ...]:
    """Return what is used for all, and for each letter that differs "letter=what".

    Raises:
        AnswerError: If something is none of the shop's.
    """
    first, *others = re.split(r"\s*[,;]\s*", text)
    found = [chosen(question.words, first)]
    for each in others:
        letters, _, what = each.partition("=") if "=" in each else each.rpartition(" ")
        named = letters.upper().split()
        if not named or not all(len(letter) == 1 and letter.isalpha() for letter in named):
            raise AnswerError('the first for all, then what differs, such as "1, E F = 2"')
        found += [f"{letter}={chosen(question.words, what.strip())}" for letter in named]
    return tuple(found)


READERS: Mapping[Ask, Callable[[Question, str, System], Value]] = MappingProxyType({
    Ask.WORDS: _words,
    Ask.CHOICE: _choice,
    Ask.SEVERAL: _several,
    Ask.YES_NO: _yes,
    Ask.WHOLE: _whole,
    Ask.DAYS: _days,
    Ask.LENGTH: _amount,
    Ask.MASS: _amount,
    Ask.WEIGHT: read_weight,
    Ask.LOAD: _amount,
    Ask.MARK: read_mark,
    Ask.SHARE: _amount,
    Ask.ALONG: _on_axis,
    Ask.ACROSS: _on_axis,
    Ask.UP: _on_axis,
    Ask.SPAN: span,
    Ask.PLACE: place,
    Ask.BOX: box,
    Ask.SEAT: seat,
    Ask.TIE: tie,
    Ask.HEIGHTS: read_heights,
    Ask.FOOT: read_foot,
    Ask.OWNED: _owned,
    Ask.SHIMS: read_shims,
    Ask.PARTS: read_parts,
    Ask.USES: _uses,
})
"""What reads each kind of answer."""
