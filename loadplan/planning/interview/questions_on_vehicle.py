"""What is asked about a vehicle that is not known yet: its unit by lumps, its ties, what it weighs, its lift pads."""

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

from loadplan.limits import TAPE
from loadplan.model.shop import Shop
from loadplan.planning.interview.answer_distances import place_sample, told_as
from loadplan.planning.interview.odd_answers import apart, box_of, first_odd, outside, under_floor
from loadplan.planning.interview.question import Ask, Edges, Known, Odd, Question, Tie, Value
from loadplan.planning.interview.rear_samples import samples_at_rear, samples_between
from loadplan.planning.interview.unit_kinds import UnitKind, UnitLump, lump_weight
from loadplan.units import System

ALONG_MOST = 6.0
"""Farthest that anything of a vehicle is behind its front axle [m]."""

FROM = "From the front axle line, the centre line and the lift pads, such as"
FRONT_EDGES = "330 front to 120 behind, 40 to 420 right, 610 to 35 above"
"""How edges are written of what is at the front."""

HEIGHT_HINT = (
    "With the vehicle on its wheels, tape from the floor to where the pad touches the sill, such as 180. "
    "All other heights are measured from these places, the vehicle where you like."
)


def unit_questions(kind: UnitKind, known: Known) -> Iterator[Question]:
    """Ask what each lump of the unit weighs, and where its edges are.

    Args:
        kind: The kind of unit.
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    yield pad_height_question()
    for lump in kind.lumps:
        yield from _lump_questions(kind, lump, known)


def pad_height_question() -> Question:
    """Ask how high the lift pads touch, from which all heights are measured.

    Returns:
        The question.
    """
    return Question(
        "pads.height",
        "How high above the floor are the places where the lift pads go?",
        Ask.LENGTH,
        HEIGHT_HINT,
        "200 mm",
        least=0.05,
        most=1.2,
        odd=outside(Ask.LENGTH, 0.12, 0.6, "lift pads of a vehicle on its wheels"),
        group="unit",
    )


def over_floor(known: Known) -> Odd:
    """Find odd what would be under the floor by how high the lift pads were said to be.

    Args:
        known: Value of each question so far.

    Returns:
        What asks about it.
    """
    pads = known(pad_height_question())
    return under_floor(pads if isinstance(pads, float) else None)


def _lump_questions(kind: UnitKind, lump: UnitLump, known: Known) -> Iterator[Question]:
    """Yield a lump's weight, its kind where the weight is left open, and its edges."""
    called = lump.called
    weight = Question(
        f"{lump.key}.weight",
        f"What does the {called} weigh?",
        Ask.WEIGHT,
        "As it comes out, with its oil or coolant and all that is on it. Say where that is from: 48 kg scales (2 % "
        "either way), 48 kg data sheet (10 %), 48 kg guess (20 %), or 48 kg +- 6 kg. Empty: a range for its kind is "
        "taken.",
        "",
        least=3.0,
        most=1500.0,
        odd=outside(Ask.MASS, lump.usual.least, lump.usual.most, f"a {called}"),
        group="unit",
    )
    yield weight
    if known(weight) is None and len(lump.guesses) > 1:
        asks = f"Which kind of {lump.key} is it?"
        kinds = tuple(lump.guesses)
        yield Question(
            f"{lump.key}.kind", asks, Ask.CHOICE, "Its weight is guessed by that.", None, kinds, group="unit"
        )
    others = {key: box for key, box in lump_boxes(kind, known).items() if key != lump.key}
    yield Question(
        f"{lump.key}.box",
        f"The {called}: its edges, front to rear, left to right, top to bottom?",
        Ask.BOX,
        f"{lump.ways} Front and rear from the front axle line, left and right from the centre line as you sit in it, "
        f'top and bottom from the lift pads. Such as "{sample_for(kind, FRONT_EDGES)}".',
        least=-ALONG_MOST,
        most=ALONG_MOST,
        odd=first_odd(over_floor(known), box_of(lump, kind, others)),
        group="unit",
    )


def weight_questions(kind: UnitKind, known: Known) -> Iterator[Question]:
    """Ask what the whole vehicle weighs, and where its lift pads go.

    Args:
        kind: The kind of unit.
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    unit = sum(_weight_of(lump, known) for lump in kind.lumps)
    weight = Question(
        "weight",
        "What does the whole vehicle weigh, with everything on?",
        Ask.MASS,
        "From a weighbridge, wheel scales or its papers, such as 1450 kg.",
        # In whole tens: it is told where an answer is less.
        least=max(10.0 * ceil(0.15 * unit), 300.0),
        most=10_000.0,
        odd=outside(Ask.MASS, 700.0, 4000.0, "a whole vehicle"),
        group="vehicle",
    )
    yield weight
    whole = known(weight)
    yield Question(
        "share",
        "How much of that is on the front axle?",
        Ask.SHARE,
        "The front wheels on the weighbridge: by the whole, such as 60 %; or as it reads, 850 kg. Electric: some 50 %.",
        "60 %",
        least=0.3,
        most=0.8,
        group="vehicle",
        whole=whole if isinstance(whole, float) else 0.0,
    )
    yield Question(
        "wheelbase",
        "How far is the rear axle behind the front axle?",
        Ask.LENGTH,
        "Hub to hub with the tape, such as 2600.",
        least=1.5,
        most=6.0,
        odd=outside(Ask.LENGTH, 2.0, 4.5, "a wheelbase"),
        group="vehicle",
    )


def pad_questions() -> Iterator[Question]:
    """Ask where the lift pads go.

    Yields:
        The questions in their order.
    """
    yield Question(
        "pads.along",
        "The lift pads: from the front ones to the rear ones, how far from the front axle line?",
        Ask.SPAN,
        'To the middle of each pad, such as "620 behind to 1980 behind".',
        least=-6.0,
        most=2.0,
        odd=apart(0.8, 2.6, "front and rear pads apart"),
        group="vehicle",
    )
    yield Question(
        "pads.out",
        "How far are the pads from the centre line, to either side?",
        Ask.LENGTH,
        "Half of the tape from pad to pad across, such as 700.",
        "700 mm",
        least=0.2,
        most=1.5,
        odd=outside(Ask.LENGTH, 0.45, 0.95, "half of the tape from pad to pad"),
        group="vehicle",
        side="out",
    )


def height_questions(kind: UnitKind, shop: Shop | None, known: Known) -> Iterator[Question]:
    """Ask how low and how high the vehicle itself is: what it has to clear, and what the ceiling leaves it.

    Args:
        kind: The kind of unit; one that is set down itself is raised over nothing.
        shop: The shop, None where it is asked about; where it has no figure for a height none is held against it.
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    lifts = shop.lifts if shop else ()
    has_ceiling = not shop or any(each.ceiling is not None for each in lifts)
    has_end = has_ceiling or any(each.rise is not None for each in lifts)
    if not kind.lumps or not has_end:
        return
    pads = known(pad_height_question())
    yield Question(
        "shell.bottom",
        f"How high over the floor is the lowest edge of the vehicle that goes up over the {kind.word}?",
        Ask.LENGTH,
        "With the vehicle on its wheels, the lowest of the bumper, sill or exhaust that passes over it on the way up, "
        "such as 170. Empty: not known, and whether the vehicle clears the unit is not checked.",
        "",
        least=0.03,
        most=0.9,
        odd=_over_pads(pads if isinstance(pads, float) else None),
        group="vehicle",
    )
    if not has_ceiling:
        return
    yield Question(
        "shell.top",
        "How high is the vehicle, on its wheels?",
        Ask.LENGTH,
        "Its papers say it, or the tape from the floor to the roof, with all that is on it, such as 1480. Empty: not "
        "known, and whether it meets the ceiling is not checked.",
        "",
        least=1.0,
        most=4.5,
        odd=outside(Ask.LENGTH, 1.2, 2.9, "a vehicle on its wheels"),
        group="vehicle",
    )


def _over_pads(pads: float | None) -> Odd:
    """Return what finds odd a lowest edge over what the lift pads touch, which belongs to it, or one far below."""
    usual = outside(Ask.LENGTH, 0.08, 0.6, "the lowest edge of a vehicle on its wheels")

    def odd(value: Value, system: System) -> str:
        if pads is not None and isinstance(value, float) and value > pads + TAPE:
            touch, edge = (told_as(Ask.LENGTH, each, system) for each in (pads, value))
            return f"the lift pads touch the vehicle at {touch}, so {edge} is not its lowest edge"
        return usual(value, system)

    return odd


def tie_questions(kind: UnitKind, known: Known) -> Iterator[Question]:
    """Ask where mounts and links are, and which of the two each is.

    Args:
        kind: The kind of unit.
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    if kind.inner:
        asks = f"How many mounts and links tie the {kind.inner[0]} to the {kind.inner[1]}?"
        many = _count("inner", asks, "They stay tight. A link is a rod with a joint at each end.", kind.inner_ties)
        yield many
        for number in range(1, whole_of(known, many) + 1):
            yield from _tie_questions(kind, f"inner{number}", number, known)
    if kind.hung:
        asks = f"How many mounts tie the {kind.hung} to the vehicle?"
        many = _count("hung", asks, "They come off, with the bolts.", 2)
        yield many
        for number in range(1, whole_of(known, many) + 1):
            asks = f"Mount {number} to the vehicle: where is it?"
            yield replace(_place(f"hung{number}", asks, "ties", at_rear=kind.is_rear), odd=over_floor(known))


def _tie_questions(kind: UnitKind, key: str, number: int, known: Known) -> Iterator[Question]:
    """Yield where a tie is; a link holds along its line only, so both its ends are asked for."""
    tie = Question(
        key,
        f"Mount or link {number} that stays tight: which is it, and where?",
        Ask.TIE,
        sample_for(
            kind,
            'Such as "mount, 150 behind, 200 right, 80 above"; of a link both ends, '
            '"link, 100 behind, 30 left, 90 above to 240 behind, 30 left, 90 above".',
        ),
        least=-ALONG_MOST,
        most=ALONG_MOST,
        odd=over_floor(known),
        group="ties",
    )
    yield tie
    value = known(tie)
    if not isinstance(value, Tie):
        return
    which = Question(
        f"{key}.kind",
        f"Is {number} a mount or a link?",
        Ask.CHOICE,
        "A mount holds up and down at its place. A link, a rod with a joint at each end, holds along its line only.",
        None,
        ("mount", "link"),
        group="ties",
    )
    if not value.kind:
        yield which
    if "link" in {value.kind, known(which) if not value.kind else ""} and value.to is None:
        other = _place(f"{key}.to", f"Link {number}: where is its other end?", "ties", at_rear=kind.is_rear)
        yield replace(other, odd=over_floor(known))


def prop_place_question(prop: str) -> Question:
    """Ask where a prop under the vehicle's heavy end touches.

    Args:
        prop: Which end.

    Returns:
        The question.
    """
    asks = f"Where does a prop under the {prop} touch the vehicle?"
    return _place("prop.place", asks, "places", at_rear=prop == "tail")


def stand_letters(count: int) -> str:
    """Name stands by letters.

    Args:
        count: How many.

    Returns:
        Their letters.
    """
    return "ABCDEFGHIJKL"[:count]


def lump_boxes(kind: UnitKind, known: Known) -> dict[str, Edges]:
    """Collect the edges of the lumps, as far as they are known.

    Args:
        kind: The kind of unit.
        known: Value of each question so far.

    Returns:
        Edges by the lump's word.
    """
    found = {}
    for lump in kind.lumps:
        box = known(Question(f"{lump.key}.box", "", Ask.BOX, least=-ALONG_MOST, most=ALONG_MOST))
        if isinstance(box, Edges):
            found[lump.key] = box
    return found


def sample_for(kind: UnitKind, front: str) -> str:
    """Return how something is written, at the rear axle where the unit is there.

    Args:
        kind: The kind of unit.
        front: How it is written at the front.

    Returns:
        It, at the right end, or in the middle.
    """
    if kind.is_between:
        return samples_between(front)
    return samples_at_rear(front) if kind.is_rear else front


def _weight_of(lump: UnitLump, known: Known) -> float:
    """Return what a lump weighs [kg], as far as that is known."""
    said = known(Question(f"{lump.key}.weight", "", Ask.WEIGHT, "", "", least=3.0, most=1500.0))
    kind = known(Question(f"{lump.key}.kind", "", Ask.CHOICE, "", "", tuple(lump.guesses)))
    return lump_weight(lump, said, kind).mass


def _count(key: str, asks: str, hint: str, usual: int) -> Question:
    return Question(key, asks, Ask.WHOLE, hint, str(usual), least=0, most=6, group="ties")


def whole_of(known: Known, question: Question) -> int:
    """Return the whole number that was answered, else what an empty answer means.

    Args:
        known: Value of each question so far.
        question: The question.

    Returns:
        The number.
    """
    value = known(question)
    return value if isinstance(value, int) else int(question.default or 0)


def _place(key: str, asks: str, group: str, *, at_rear: bool) -> Question:
    sample = place_sample(System.METRIC)
    hint = f"{FROM} {samples_at_rear(sample) if at_rear else sample}. A bare 0 is on the line."
    return Question(key, asks, Ask.PLACE, hint, least=-ALONG_MOST, most=ALONG_MOST, group=group)
