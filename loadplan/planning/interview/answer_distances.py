"""Reading distances and places: amounts with units, directions in words, never signs."""

import re
from collections.abc import Mapping
from types import MappingProxyType

from loadplan.model.vehicle import Place
from loadplan.planning.interview.question import AnswerError, Ask, Edges, Question, Seat, Tie
from loadplan.units import Kind, QuantityError, System, bare_unit, from_si, to_si

KINDS: Mapping[Ask, Kind] = MappingProxyType({
    Ask.MASS: Kind.MASS,
    Ask.WEIGHT: Kind.MASS,
    Ask.LOAD: Kind.LOAD,
    Ask.MARK: Kind.LOAD,
    Ask.SHARE: Kind.SHARE,
})
"""What an amount is; a length where nothing else is said."""

SIDES: Mapping[Ask, Mapping[str, int]] = MappingProxyType({
    Ask.ALONG: MappingProxyType({
        "front": 1, "ahead": 1, "forward": 1, "forwards": 1, "behind": -1, "back": -1, "rear": -1, "aft": -1,
    }),
    Ask.ACROSS: MappingProxyType({"left": 1, "right": -1}),
    Ask.UP: MappingProxyType({"above": 1, "over": 1, "up": 1, "below": -1, "under": -1, "down": -1}),
})  # fmt: skip
"""Words for the two sides of each axis."""

OTHER_UNITS: Mapping[System, Mapping[Kind, tuple[tuple[str, float], ...]]] = MappingProxyType({
    System.METRIC: MappingProxyType({
        Kind.LENGTH: (("cm", 10.0), ("m", 1000.0)),
        Kind.MASS: (("tonne", 1000.0),),
        Kind.LOAD: (("tonne", 1000.0),),
        Kind.SHARE: (("%", 100.0),),
    }),
    System.US: MappingProxyType({
        Kind.LENGTH: (("ft", 12.0), ("mm", 1 / 25.4)),
        Kind.MASS: (("kg", 2.20462262),),
        Kind.LOAD: (("short ton", 2000.0), ("kg", 2.20462262)),
        Kind.SHARE: (("%", 100.0),),
    }),
})
"""Units in which a bare number may have been read, and how many of the usual ones each is, by what it is."""

_AXIS_OF = {word: ask for ask, sides in SIDES.items() for word in sides}
_SAMPLES: Mapping[Ask, str] = MappingProxyType({
    Ask.ALONG: "front or behind",
    Ask.ACROSS: "left or right",
    Ask.UP: "above or below",
})
_ZERO = re.compile(r"0+(\.0*)? *(mm|in|cm)?")
_NEXT = re.compile(rf"(?<=[0-9a-z\"] )({'|'.join(_AXIS_OF)})\s+(?=[0-9.])", re.IGNORECASE)
"""A side word behind its distance and before the next one, where somebody leaves the comma out."""


def amount(text: str, kind: Kind, system: System) -> float:
    """Read an amount; a bare number counts in the units of the user.

    Args:
        text: What was typed.
        kind: What it is.
        system: Units of bare numbers.

    Returns:
        The amount in SI.

    Raises:
        AnswerError: If it has a sign, or is no such amount.
    """
    if text.startswith(("-", "−", "+")):
        way = ": the question says in which direction it counts" if kind is Kind.LENGTH else ""
        raise AnswerError(f"no sign, please{way}")
    if not re.search(r"[0-9]", text):
        where = f' in "{text}"' if text else ""
        raise AnswerError(f"there is no number{where}; ? says what to measure")
    bare = bool(re.fullmatch(r"[0-9./ -]+", text))
    unit = "%" if kind is Kind.SHARE else bare_unit(kind, system)
    try:
        return to_si(f"{text} {unit}" if bare else text, kind, system)
    except QuantityError as error:
        raise AnswerError(f"it {error}") from None


def within(question: Question, value: float, system: System) -> float:
    """Make sure that a value can be.

    Args:
        question: What was asked.
        value: The value [SI].
        system: Units of the message.

    Returns:
        The value.

    Raises:
        AnswerError: If it cannot be.
    """
    if not question.least <= value <= question.most:
        told = told_as(question.ask, value, system)
        is_either = question.least < 0 and question.ask not in SIDES
        told_end = told_as if is_either else _bound
        least, most = (told_end(question.ask, each, system) for each in (question.least, question.most))
        ends = f"At most {most} either way" if is_either else f"From {least} to {most}"
        raise AnswerError(f"that cannot be: {told}. {ends}, please{_meant(question, value, system)}")
    return value


def _bound(ask: Ask, value: float, system: System) -> str:
    """Return a bound as people say it: round in metric units, and told to two figures in inches and pounds."""
    told = told_as(ask, value, system)
    return told if system is System.METRIC or ask in SIDES else as_said(told)


def as_said(told: str) -> str:
    """Round what is shown to two figures, as people say a bound.

    Args:
        told: A number and its unit.

    Returns:
        It, rounded.

    Example:
        >>> as_said("47.24 in"), as_said("35")
        ('47 in', '35')
    """
    number, blank, unit = told.partition(" ")
    rounded = f"{float(f'{float(number):.2g}'):.6f}".rstrip("0").rstrip(".")
    return f"{rounded}{blank}{unit}"


def _meant(question: Question, value: float, system: System) -> str:
    """Return how to write a number that cannot be where it may have been read in other units."""
    kind = KINDS.get(question.ask, Kind.LENGTH)
    if question.least < 0 or value <= 0:
        return ""
    number = from_si(value, kind, system) * (100 if kind is Kind.SHARE else 1)
    for unit, times in OTHER_UNITS[system].get(kind, ()):
        if question.least <= times * value <= question.most:
            what = "its plate says" if kind is Kind.LOAD else "is meant"
            shown = number * (times if kind is Kind.SHARE else 1)
            return f"; write {shown:.4g} {unit} if that is what {what}"
    return ""


def told_as(ask: Ask, value: float, system: System) -> str:
    """Write a value as the user would, with the side in words instead of a sign.

    Args:
        ask: What was asked for.
        value: The value [SI].
        system: Units of the reader.

    Returns:
        Such as "420 mm left".
    """
    kind = KINDS.get(ask, Kind.LENGTH)
    is_share = kind is Kind.SHARE
    # Four figures, and never an exponent.
    number = round(float(f"{100 * value if is_share else from_si(abs(value), kind, system):.4g}"), 6)
    told = f"{number:.6f}".rstrip("0").rstrip(".") + f" {'%' if is_share else bare_unit(kind, system)}"
    sides = SIDES.get(ask)
    if sides is None:
        return told
    return f"{told} {next(word for word, sign in sides.items() if (sign > 0) == (value >= 0))}"


def sided(text: str, ask: Ask, system: System) -> float:
    """Read a signed distance from an amount and the word beside it; a bare 0 needs no word.

    Args:
        text: What was typed.
        ask: Along which axis.
        system: Units of bare numbers.

    Returns:
        The distance [m].

    Raises:
        AnswerError: If no side is said, or "in" may be the unit as well as a part of "in front".
    """
    first, _, rest = text.partition(" ")
    if first.casefold() in SIDES[ask] and rest:
        text = f"{rest} {first}"
    distance, _, word = text.rpartition(" ")
    sign = SIDES[ask].get(word.casefold())
    if sign is None:
        if _ZERO.fullmatch(text):
            return 0.0
        sample = f"{'420' if system is System.METRIC else '16 1/2'} {_SAMPLES[ask].rpartition(' ')[2]}"
        raise AnswerError(f"say {_SAMPLES[ask]}, too, such as {sample}")
    if system is System.METRIC and re.search(r"[0-9] ?in front$", text.casefold()):
        raise AnswerError('"in front" may mean inches: write 420 front, 420 mm front or 16.5 inches front')
    if system is System.US or re.search(r"[a-z\"] in$", distance, re.IGNORECASE):
        distance = distance.removesuffix(" in")
    return sign * amount(distance, Kind.LENGTH, system)


def place(question: Question, text: str, system: System) -> Place:
    """Read a place from three distances in any order; the word of each says which axis it is, a bare 0 is any.

    Args:
        question: What was asked.
        text: What was typed.
        system: Units of bare numbers.

    Returns:
        Along, across and up [m].

    Raises:
        AnswerError: If one is missing, said twice or no such distance.
    """
    found: dict[Ask, float] = {}
    zeros = 0
    for part in _parts(text):
        if _ZERO.fullmatch(part):
            zeros += 1
            continue
        ask = _axis(part)
        if ask is None and re.fullmatch(r"[0-9]+", part):
            raise AnswerError(f"{part} has no side: say three distances, such as {place_sample(system)}{_POINT}")
        if ask is None or ask in found or not re.search(r"[0-9]", part):
            raise AnswerError(f"three distances with commas, please, such as {place_sample(system)}{_POINT}")
        found[ask] = within(question, sided(part, ask, system), system)
    missing = [ask for ask in SIDES if ask not in found]
    if len(missing) != zeros:
        told = " and ".join(ask.value for ask in missing)
        wanted = f"say {told}, too" if told else "only three distances, please"
        raise AnswerError(f"{wanted}, such as {place_sample(system)}")
    found |= dict.fromkeys(missing, 0.0)
    return found[Ask.ALONG], found[Ask.ACROSS], found[Ask.UP]


_POINT = "; a number takes a point, 12.5, since commas part the distances"


def span(question: Question, text: str, system: System) -> tuple[float, float]:
    """Read two places along.

    Args:
        question: What was asked.
        text: What was typed.
        system: Units of bare numbers.

    Returns:
        The one in front, and the one behind [m].

    Raises:
        AnswerError: If they are no two such places.
    """
    try:
        ask, (one, other) = _span(text, system, Ask.ALONG)
    except AnswerError as error:
        raise AnswerError(str(error).replace(_SIX, _TWO)) from None
    if ask is not Ask.ALONG or one == other:
        raise AnswerError(_TWO)
    for each in (one, other):
        within(Question("", "", Ask.ALONG, least=question.least, most=question.most), each, system)
    return max(one, other), min(one, other)


def box(question: Question, text: str, system: System) -> Edges:
    """Read six edges, as three spans with commas between.

    Args:
        question: What was asked.
        text: What was typed.
        system: Units of bare numbers.

    Returns:
        The edges.

    Raises:
        AnswerError: If one is missing, or two are nearly the same.
    """
    found: dict[Ask, tuple[float, float]] = {}
    for part in re.split(r"\s*[,;]\s*", text):
        ask, pair = _span(part, system, None)
        if ask in found:
            raise AnswerError(f"{ask.value} is said twice; {_SIX}")
        found[ask] = (min(pair), max(pair))
        if found[ask][1] - found[ask][0] < THINNEST:
            raise AnswerError(f'"{part}" leaves nothing between the two edges')
        for each in pair:
            within(Question("", "", ask, least=question.least, most=question.most), each, system)
    missing = [ask.value for ask in SIDES if ask not in found]
    if missing:
        raise AnswerError(f"say {' and '.join(missing)}, too; {_SIX}")
    low, high = (tuple(found[ask][end] for ask in SIDES) for end in (0, 1))
    return Edges((low[0], low[1], low[2]), (high[0], high[1], high[2]))


THINNEST = 0.02
"""Least length, width and height of a lump [m]."""

_TWO = 'two places along, please, such as "620 behind to 1980 behind"'
_SIX = 'six edges, please, such as "330 front to 120 behind, 40 to 420 right, 610 to 35 above"'


def seat(question: Question, text: str, system: System) -> Seat:
    """Read what a stand is under, where that is said, and its place.

    Args:
        question: What was asked; its words are the lumps.
        text: What was typed.
        system: Units of bare numbers.

    Returns:
        The seat.
    """
    first, _, rest = text.partition(" ")
    word = first.rstrip(",;:").casefold()
    fitting = [each for each in question.words if word.isalpha() and each.casefold().startswith(word)]
    if len(fitting) == 1 and word not in _AXIS_OF:
        return Seat(fitting[0], place(question, rest, system))
    return Seat("", place(question, text, system))


def tie(question: Question, text: str, system: System) -> Tie:
    """Read a mount or a link; of a link both ends may be said, with "to" between.

    Args:
        question: What was asked.
        text: What was typed.
        system: Units of bare numbers.

    Returns:
        The tie.

    Raises:
        AnswerError: If a mount has two places.
    """
    first, _, rest = text.partition(" ")
    kind = next((each for each in ("mount", "link") if first.rstrip(",;:").casefold() == each), "")
    one, _, other = (rest if kind else text).partition(" to ")
    if other and kind == "mount":
        raise AnswerError("a mount has one place; a link has two, one on each of what it ties")
    end = place(question, other, system) if other else None
    return Tie(kind or ("link" if other else ""), place(question, one, system), end)


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


def _parts(text: str) -> list[str]:
    """Return the distances of a place, parted by commas, or by the word of a side where commas are left out."""
    return [each for each in re.split(r"\s*[,;]\s*", _NEXT.sub(r"\1, ", text).strip()) if each]


def _axis(part: str) -> Ask | None:
    words = part.casefold().split()
    return next((_AXIS_OF[word] for word in (*words[-1:], *words[:1]) if word in _AXIS_OF), None)


def _span(text: str, system: System, axis: Ask | None) -> tuple[Ask, tuple[float, float]]:
    """Return two distances along one axis; "40 to 420 right" has both on the right.

    Raises:
        AnswerError: If they are not from one edge to the other.
    """
    one, parted, other = re.sub(r"\s*[–—]\s*| +- +", " to ", text.strip()).partition(" to ")
    ask = _axis(other) or _axis(one) or axis
    if not parted:
        raise AnswerError(f'"{text.strip()}" is not from one edge to the other; {_SIX}')
    if ask is None:
        raise AnswerError(f'"{text.strip()}" does not say to which side: front or behind, left or right, above; {_SIX}')
    first, last = (one if _axis(one) else f"{one} {_side(other)}"), (other if _axis(other) else f"{other} {_side(one)}")
    return ask, (sided(first.strip(), ask, system), sided(last.strip(), ask, system))


def _side(text: str) -> str:
    return next((word for word in text.split() if word.casefold() in _AXIS_OF), "")
