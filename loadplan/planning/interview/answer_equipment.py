"""Reading what is said of equipment: ratings, saddle heights, feet, tags, shims, and what goes where."""

import re

from loadplan.planning.interview.answer_distances import amount, within
from loadplan.planning.interview.question import (
    AnswerError,
    Foot,
    HeightRange,
    Mark,
    NamedWeight,
    Owned,
    Question,
    ShimStock,
    Weight,
)
from loadplan.units import Kind, System

SOURCES = {
    "wheel scales": 0.02, "scales": 0.02, "scale": 0.02, "weighbridge": 0.02, "weighed": 0.02,
    "data sheet": 0.1, "sheet": 0.1, "guess": 0.2, "guessed": 0.2,
}  # fmt: skip
"""Where a weight may be from, with its plus or minus as a share; common practice, no source."""

_COUNT = re.compile(r"([0-9]{1,4})(?: *(?:off|of them|pcs?\.?|pieces?|x))?", re.IGNORECASE)
"""How many, as a storeman writes it."""

_PM = re.compile(r"\s*(?:\+-|\+/-|±|plus or minus)\s*")


def read_weight(question: Question, text: str, system: System) -> Weight:
    """Read a weight, with where it is from or its plus or minus.

    Args:
        question: What was asked.
        text: Such as "48 kg scales", "172 kg +- 40 kg"; nothing behind it means a guess.
        system: Units of bare numbers.

    Returns:
        The weight.

    Raises:
        AnswerError: If it is none, or its plus or minus leaves nothing.
    """
    said, *spread = _PM.split(text, maxsplit=1)
    said, share = split_source(said)
    mass = within(question, amount(said.strip(), Kind.MASS, system), system)
    if not spread:
        return Weight(mass, share * mass)
    pm = share_of(spread[0], mass, system)
    if not 0 <= pm < mass:
        raise AnswerError("its plus or minus has to be less than the weight")
    return Weight(mass, pm)


def split_source(text: str) -> tuple[str, float]:
    """Split a weight from where it is from.

    Args:
        text: Such as "48 kg scales", "1450 kg from a weighbridge", "48 kg".

    Returns:
        The weight as it was written, and its plus or minus as a share; nothing behind it means a guess.

    Example:
        >>> split_source("48 kg by data sheet"), split_source("48 kg")
        (('48 kg', 0.1), ('48 kg', 0.2))
    """
    for words, share in SOURCES.items():
        found = re.fullmatch(rf"(.*?)[ ,]+(?:(?:by|from|on) )?(?:(?:a|the) )?{words}", text, re.IGNORECASE)
        if found:
            return found[1], share
    return text, 0.2


def share_of(text: str, mass: float, system: System) -> float:
    """Read a plus or minus: a weight, or per cent of one.

    Args:
        text: What was typed.
        mass: The weight [kg].
        system: Units of bare numbers.

    Returns:
        Plus or minus [kg].
    """
    if text.rstrip().endswith("%"):
        return mass * amount(text, Kind.SHARE, system)
    return amount(text, Kind.MASS, system)


def read_mark(question: Question, text: str, system: System) -> Mark:
    """Read a rating, with whether it is for a pair or for each.

    Args:
        question: What was asked.
        text: Such as "3 tonne a pair", "5000 kg each", "3 tonne".
        system: Units of bare numbers.

    Returns:
        The rating.
    """
    found = re.fullmatch(r"(.*?)[ ,]+(?:(?:for |per |a |the )*(pair|each|one))", text, re.IGNORECASE)
    said, rated_for = (found[1], found[2].casefold()) if found else (text, "")
    rating = within(question, amount(said.strip(), Kind.LOAD, system), system)
    return Mark(rating, "each" if rated_for == "one" else rated_for)


def read_heights(question: Question, text: str, system: System) -> HeightRange:
    """Read the saddle heights: from, to, and the step between two settings.

    Args:
        question: What was asked.
        text: Such as "290 to 430 step 20", "330 to 620" (any between), "350" (only that).
        system: Units of bare numbers.

    Returns:
        The heights.

    Raises:
        AnswerError: If the greatest is below the lowest, or the step is none.
    """
    # A hyphen between two heights, but not that of a fraction such as 11-1/2.
    tidy = re.sub(r"\s*[–—]\s*| +- +|(?<=[0-9])-(?=[0-9.]+(?![0-9./]))", " to ", text)
    ends, _, step_text = re.sub(r"[ ,;]+(?:in )?(?:steps?|every|by)(?: of)? ", "|", tidy).partition("|")
    first, _, last = ends.partition(" to ")
    unit = re.fullmatch(r".*?[0-9. /]+([a-z\"]+)", last.strip() or first.strip(), re.IGNORECASE)
    bare = bool(unit) and bool(re.fullmatch(r"[0-9./ -]+", first.strip()))
    said = f"{first.strip()} {unit[1]}" if unit and bare and last else first.strip()
    lowest = within(question, amount(said, Kind.LENGTH, system), system)
    highest = within(question, amount(last.strip(), Kind.LENGTH, system), system) if last else lowest
    if highest < lowest:
        sample = "290 to 430 step 20" if system is System.METRIC else "11 1/2 to 17 step 3/4"
        raise AnswerError(f"the lowest first: from the lowest to the greatest, such as {sample}")
    # A bare step counts in the unit that stands behind the heights: "29 to 43 cm step 2" has steps of 2 cm.
    step_bare = bool(re.fullmatch(r"[0-9./ -]+", step_text.strip()))
    step_said = f"{step_text.strip()} {unit[1]}" if unit and step_bare else step_text.strip()
    step = amount(step_said, Kind.LENGTH, system) if step_text else None
    if step is not None and not 0.002 <= step <= 0.3:
        span = "2 mm to 300 mm" if system is System.METRIC else "1/8 in to 12 in"
        raise AnswerError(f"a step between two settings is {span}; leave it out where it goes to any height")
    return HeightRange(lowest, highest, step)


def read_foot(question: Question, text: str, system: System) -> Foot:
    """Read a footprint: one width, or along and across as "60 x 40".

    Args:
        question: What was asked.
        text: What was typed.
        system: Units of bare numbers.

    Returns:
        The footprint.

    Raises:
        AnswerError: If it has more than two widths.
    """
    sides = [each.strip() for each in re.split(r"\s*(?:[x×*]|\bby\b)\s*", text.strip(), flags=re.IGNORECASE)]
    if len(sides) > 2:
        raise AnswerError("one width, or along and across such as 300 x 200")
    unit = re.search(r"[a-z\"]+$", sides[-1], re.IGNORECASE)
    if unit and re.fullmatch(r"[0-9./ -]+", sides[0]):
        sides[0] = f"{sides[0]} {unit[0]}"
    values = [within(question, amount(each, Kind.LENGTH, system), system) for each in sides]
    return Foot(values[0], values[-1])


_ODD_COUNT = re.compile(r"[-+−] *[0-9].*|[0-9]+[./][0-9]+")
"""A number with a sign, or a part of one: no tag is written so."""


def read_owned(question: Question, text: str) -> Owned:
    """Read how many there are, or their tags.

    Args:
        question: What was asked.
        text: Such as "8", "8 off", "S1 to S8", "S1, S2, S5".

    Returns:
        Number and tags.

    Raises:
        AnswerError: If it is neither, or a tag stands twice.
    """
    if _ODD_COUNT.fullmatch(text):
        raise AnswerError("a whole number of pieces, such as 8, please, or their tags")
    if counted := _COUNT.fullmatch(text):
        text = counted[1]
        if not question.least <= int(text) <= question.most:
            raise AnswerError(f"a whole number from {question.least:.0f} to {question.most:.0f}, please")
        return Owned(int(text), ())
    run = re.fullmatch(r"([^\W\d_]*)([0-9]{1,3}) *(?:to|-|–|\.\.+) *([^\W\d_]*)([0-9]{1,3})", text)
    if run and run[3].casefold() in {"", run[1].casefold()} and int(run[2]) <= int(run[4]):
        tags = tuple(f"{run[1]}{number}" for number in range(int(run[2]), int(run[4]) + 1))
    else:
        tags = tuple(dict.fromkeys(re.findall(r"[^\s,;]+", text)))
        if len(tags) < len(re.findall(r"[^\s,;]+", text)):
            raise AnswerError("one tag stands twice: each piece needs its own")
        # A number beside a word, "2 pair", is no two tags; nor is what stands between the ends of a run.
        is_count = any(tag.isdecimal() for tag in tags) and any(tag.isalpha() for tag in tags)
        if (
            is_count
            or "to" in tags
            or not all(any(each.isdecimal() for each in tag) or (len(tag) <= 4 and len(tags) > 1) for tag in tags)
        ):
            raise AnswerError('how many, such as 8, or their tags, such as "S1 to S8"')
    if not question.least <= len(tags) <= question.most:
        raise AnswerError(f"{question.least:.0f} to {question.most:.0f} of them, please")
    return Owned(len(tags), tags)


def read_shims(question: Question, text: str, system: System) -> tuple[ShimStock, ...]:
    """Read what may lie on the saddles.

    Args:
        question: What was asked; its words are the materials.
        text: Such as "12 mm wood 8, 6 mm steel"; "none".
        system: Units of bare numbers.

    Returns:
        Each kind.

    Raises:
        AnswerError: If one is no thickness, or of something unknown.
    """
    if text.casefold() in {"none", "no", "0"}:
        return ()
    return tuple(_shim(question, each, system) for each in re.split(r"\s*[,;]\s*", text) if each)


def _shim(question: Question, text: str, system: System) -> ShimStock:
    """Return one kind of shim: how thick, of what, and how many where that is said.

    Raises:
        AnswerError: If it is no such thing.
    """
    found = re.fullmatch(r"(?P<height>[0-9][0-9./ ]*(?:mm|cm|in|\")?) *(?P<of>[^\d]*?) *(?P<count>[0-9]*)", text)
    of = found["of"].strip().casefold() if found else ""
    if not found or (of and of != "wood" and of not in question.words):
        known = ", ".join(("wood", *question.words))
        unknown = f'"{found["of"].strip()}" is not known; ' if found else ""
        raise AnswerError(f'{unknown}such as "12 mm wood 8, 6 mm steel 4": thickness, of what ({known}), how many')
    height = within(question, amount(found["height"].strip(), Kind.LENGTH, system), system)
    return ShimStock(height, "" if of == "wood" else of, int(found["count"]) if found["count"] else None)


def read_parts(question: Question, text: str, system: System) -> tuple[NamedWeight, ...]:
    """Read what comes off: what was named before, or names each with a weight.

    Args:
        question: What was asked; its words are what was named before.
        text: Such as "gearbox, cylinder head 28 kg"; "nothing".
        system: Units of bare numbers.

    Returns:
        Each of them.

    Raises:
        AnswerError: If a new one has no weight, or one stands twice.
    """
    if text.casefold() in {"nothing", "none", "no", "0"}:
        return ()
    found = tuple(_part(question, each, system) for each in re.split(r"\s*[,;]\s*", text) if each)
    names = [each.name.casefold() for each in found]
    if twice := [name for name in names if names.count(name) > 1]:
        raise AnswerError(f'"{twice[0]}" stands twice')
    return found


def _part(question: Question, text: str, system: System) -> NamedWeight:
    """Return one that comes off; a number, a word or its beginning names what is known.

    Raises:
        AnswerError: If it is new and has no weight, or cannot be.
    """
    if text.isdecimal() and 1 <= int(text) <= len(question.words):
        return NamedWeight(question.words[int(text) - 1], None)
    known = [each for each in question.words if each.casefold().startswith(text.casefold())]
    if len(known) == 1 or text in known:
        return NamedWeight(text if text in known else known[0], None)
    said = re.fullmatch(r"(?P<name>.*?[^\W\d].*?)[ :=]+(?P<mass>[0-9][0-9./ ]*[a-z]*)", text, re.IGNORECASE)
    if not said:
        told = f" ({', '.join(question.words)} need none)" if question.words else ""
        raise AnswerError(f'"{text}" needs its weight at the end, such as "cylinder head 28 kg"{told}')
    mass = amount(said["mass"].strip(), Kind.MASS, system)
    if not question.least <= mass <= question.most:
        raise AnswerError(f"that cannot be: {text}")
    return NamedWeight(said["name"].strip(), mass)
