"""What is asked about the shop, once in its life: its lift, what stands there are, jacks, tables, hoists, shims."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from loadplan.checks.timber import ACROSS_GRAIN
from loadplan.limits import GRAVITY, TOP_FRICTION
from loadplan.planning.interview.answer_distances import told_as
from loadplan.planning.interview.odd_answers import outside
from loadplan.planning.interview.question import Ask, Foot, HeightRange, Known, Odd, Question, Value
from loadplan.units import System

WHATS = ("stand", "jack", "table", "hoist", "beam")
"""What may hold a unit; a beam lies across the wings and hangs it from the vehicle."""

PAIRED = frozenset(("stand",))
"""What is sold in pairs, so that its plate may count for two."""

LEAST_MARK, MOST_MARK = 50.0 * GRAVITY, 50_000.0 * GRAVITY
"""Least and greatest rating of equipment [N]."""

MOST_GEAR = 8
"""Most kinds of equipment that are asked about."""

TALL = 0.9
"""A stand that goes this high [m] is a prop for under a raised vehicle; no source."""


LOCKS_APART = (0.025, 0.2)
"""What lies between two locks of a vehicle lift, least and most [m]: common practice, no source."""

LOW = 0.1
"""What goes no higher than this [m] is asked about; no source."""

NARROW = 0.12
"""A foot narrower than this [m] is asked about; no source."""


@dataclass(frozen=True, slots=True)
class LowProp:
    """What stands under the heavy end while the vehicle hangs just over the unit.

    Attributes:
        height: About how high it has to go there [m], at the least.
        most: The same where the lift stops at its next lock above [m].
        has_stand: Whether a stand that was told goes there, and is left over.
    """

    height: float
    most: float
    has_stand: bool

    def told(self, system: System) -> str:
        """Return its height in whole tens of millimetres, or to half an inch: it is not known better."""
        step = 0.01 if system is System.METRIC else 0.0127
        ends = (told_as(Ask.LENGTH, round(each / step) * step, system) for each in (self.height, self.most))
        return " to ".join(dict.fromkeys(ends))


def lift_questions(known: Known) -> Iterator[Question]:
    """Ask about the lift.

    Args:
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    yield Question(
        "lift.rating",
        "What is the lift rated for?",
        Ask.LOAD,
        "What its own plate says, such as 3.5 tonne; not that of one arm.",
        least=500.0 * GRAVITY,
        most=20_000.0 * GRAVITY,
        odd=outside(Ask.LOAD, 19_600.0, 79_000.0, "a vehicle lift"),
        group="shop",
    )
    yield Question(
        "lift.rise",
        "How high do its pads go?",
        Ask.LENGTH,
        "From the floor to the pad at the top, such as 1900. Empty: not known, and whether it raises the vehicle clear "
        "of the unit is not checked.",
        "",
        least=0.5,
        most=4.0,
        odd=outside(Ask.LENGTH, 1.2, 2.3, "a vehicle lift"),
        group="shop",
    )
    yield Question(
        "lift.ceiling",
        "How high is the room over it, from the floor to the ceiling?",
        Ask.LENGTH,
        "To the lowest lamp, beam or pipe over the vehicle, such as 3900. Empty: not known, and whether the vehicle "
        "meets it on its way up is not checked.",
        "",
        least=2.0,
        most=20.0,
        odd=outside(Ask.LENGTH, 2.4, 8.0, "a room with a vehicle lift"),
        group="shop",
    )
    locks = Question(
        "lift.locks",
        "Can it be set down on mechanical locks?",
        Ask.YES_NO,
        "You hear them click, or it stands on screws. Not sure: no, and it counts as held by oil.",
        "yes",
        group="shop",
    )
    yield locks
    if known(locks) is True:
        yield Question(
            "lift.lock_step",
            "How far is it from one lock to the next?",
            Ask.LENGTH,
            "Let ten locks click past and hold the tape to a pad before and after: a tenth of that, such as 80. On "
            "screws it stands at any height: 0. Empty: not known, and whether it finds a lock where the unit is set "
            "down is not checked.",
            "",
            least=0.0,
            most=0.5,
            odd=_locks_apart,
            group="shop",
        )


def gear_questions(known: Known) -> Iterator[Question]:
    """Ask what there is to set a unit on, kind by kind, and what may lie on the saddles.

    Args:
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    for number in range(1, MOST_GEAR + 1):
        yield from _kind_questions(f"gear{number}", number, known)
        more = Question(
            f"gear{number}.more",
            "Is there another kind to set it on, or to hang it from?",
            Ask.YES_NO,
            "Other stands, a jack, a table, a hoist, a beam across the wings.",
            "no",
            group="shop",
        )
        if number < MOST_GEAR:
            yield more
        if known(more) is not True:
            break
    yield Question(
        "shims",
        "What may lie on the saddles?",
        Ask.SHIMS,
        'Plates and blocks, such as "12 mm wood 8, 6 mm steel 4": how thick, of what, how many. Empty: nothing.',
        "",
        ("steel", "rubber", *ACROSS_GRAIN),
        least=0.001,
        most=0.3,
        group="shop",
    )


def prop_use_question(prop: str) -> Question:
    """Ask whether a prop of the shop is set under the heavy end.

    Args:
        prop: Which end.

    Returns:
        The question.
    """
    hint = "The vehicle grows heavy there once the unit is out. It is run up to just touch."
    return Question("prop", f"Does a tall stand go under the {prop}?", Ask.YES_NO, hint, "yes", group="places")


def prop_question(prop: str) -> Question:
    """Ask whether there is a stand for under the heavy end of the raised vehicle.

    Args:
        prop: Which end.

    Returns:
        The question.
    """
    asks = f"Is there a tall stand for under the {prop}? The vehicle grows heavy there once the unit is out."
    hint = "It reaches the raised vehicle, and is run up to just touch."
    return Question("prop", asks, Ask.YES_NO, hint, "yes", group="places")


def prop_gear_questions(prop: str, low: LowProp | None, system: System) -> Iterator[Question]:
    """Ask what that stand is marked with, and to which heights it goes.

    Args:
        prop: Which end.
        low: What has to stand there before, None where nobody can tell.
        system: Units of the reader.

    Yields:
        The questions in their order.
    """
    yield replace(_mark("prop", "the tall stand"), group="places")
    asks = "The tall stand: its lowest and greatest saddle height?"
    if low is not None:
        other = "another free stand goes there" if low.has_stand else "no other free stand that you told goes there"
        asks += (
            f" While the vehicle is only just over the unit one stands under the {prop}, too, at some "
            f"{low.told(system)}: {other}, and the tall one serves for both if it goes so low."
        )
    yield replace(_heights("prop", asks, "1200 to 1980", _reaches(low)), group="places")


def gear_words(known: Known) -> tuple[str, ...]:
    """Name the kinds of equipment that are known so far, as the shop's file will.

    Args:
        known: Value of each question so far.

    Returns:
        A name for each kind, in order.
    """
    names: list[str] = []
    for number in range(1, MOST_GEAR + 1):
        what = known(Question(f"gear{number}.what", "", Ask.CHOICE, "", "stand", WHATS))
        names.append(_free(str(what), names))
        if known(Question(f"gear{number}.more", "", Ask.YES_NO, "", "no")) is not True:
            break
    return tuple(names)


def _free(what: str, names: list[str]) -> str:
    """Return a name for one more kind: the second kind of stand is "stand 2"."""
    others = [each for each in names if each.partition(" ")[0] == what]
    return f"{what} {len(others) + 1}" if others else what


def _kind_questions(key: str, number: int, known: Known) -> Iterator[Question]:
    """Yield what is asked about one kind; its rating first, without which nothing can be judged."""
    asks = "What do you set it on first?" if number == 1 else "What is it?"
    what = Question(
        f"{key}.what",
        asks,
        Ask.CHOICE,
        "A jack hangs on oil, a hoist on its brake: they hold nothing overnight. A table is one piece under several "
        "places. A beam lies across the wings and hangs the unit from the vehicle.",
        "stand",
        WHATS,
        group="shop",
    )
    yield what
    word = str(known(what) or "stand")
    yield _mark(key, "the stand") if word in PAIRED else _mark_of_one(key, f"the {word}")
    if word in {"hoist", "beam"}:
        yield _owned(key, word)
        return
    yield _heights(
        key,
        f"The {word}: its saddle heights, from the lowest to the greatest, and the step?",
        "290 to 430 step 20",
        _stands_up,
    )
    asks = f"The {word}: how wide is its foot?"
    hint = "On the floor, outside to outside, such as 200, or 300 x 200 (along x across). Empty: not checked."
    yield Question(f"{key}.base", asks, Ask.FOOT, hint, "", least=0.03, most=3.0, odd=_stands_wide, group="shop")
    yield _owned(key, word)
    yield Question(
        f"{key}.top",
        f"The {word}: what is on its saddle?",
        Ask.CHOICE,
        "It says how well the unit stays put when somebody leans on it. With oil on it, it is oily steel.",
        "steel",
        tuple(TOP_FRICTION),
        group="shop",
    )


def _mark(key: str, called: str) -> Question:
    """Return what asks for a rating; for a pair of stands it is twice that of one."""
    return Question(
        f"{key}.mark",
        f"What is marked on {called}, for a pair or for each?",
        Ask.MARK,
        "Its own plate, not that of the lift or of the box, such as 3 tonne a pair. Not said which: half is taken.",
        least=LEAST_MARK,
        most=MOST_MARK,
        odd=outside(Ask.MARK, 4_900.0, 118_000.0, called),
        group="shop",
    )


def _mark_of_one(key: str, called: str) -> Question:
    """Return what asks for the rating of equipment that nobody sells in pairs."""
    hint = "Its own plate, not that of the lift or of the box, such as 1 tonne."
    return replace(_mark(key, called), asks=f"What is marked on {called}?", hint=hint)


def _heights(key: str, asks: str, sample: str, odd: Odd) -> Question:
    """Return what asks for saddle heights, of a stand or of a prop."""
    return Question(
        f"{key}.heights",
        asks,
        Ask.HEIGHTS,
        f"From floor to saddle, such as {sample}; without a step it goes to any height (screw, oil).",
        least=0.02,
        most=3.0,
        odd=odd,
        group="shop",
    )


def _locks_apart(value: Value, system: System) -> str:
    """Return what is odd about the spacing of locks; 0 is that of screws."""
    return "" if value == 0 else outside(Ask.LENGTH, *LOCKS_APART, "what lies between two locks")(value, system)


def _stands_up(value: Value, system: System) -> str:
    """Return what is odd about equipment that goes no higher than a hand is wide: a step or a thickness was meant."""
    if isinstance(value, HeightRange) and value.highest < LOW:
        told = told_as(Ask.LENGTH, value.highest, system)
        return f"{told} at the most is odd for what a unit is set on"
    return ""


def _stands_wide(value: Value, system: System) -> str:
    """Return what is odd about a foot that is hardly wider than a saddle: that was measured in its place."""
    if isinstance(value, Foot) and min(value.along, value.across) < NARROW:
        told = told_as(Ask.LENGTH, min(value.along, value.across), system)
        return f"{told} is odd for a foot on the floor: is that its saddle"
    return ""


def _reaches(low: LowProp | None) -> Odd:
    """Return what finds odd a prop that no raised vehicle is low enough for, or without which one is missing before."""

    def odd(value: Value, system: System) -> str:
        if not isinstance(value, HeightRange):
            return ""
        if value.highest < TALL:
            told = told_as(Ask.LENGTH, value.highest, system)
            return f"{told} at the most is odd for a stand under a raised vehicle"
        if low is not None and not low.has_stand and value.lowest > low.height:
            return (
                f"it goes no lower than {told_as(Ask.LENGTH, value.lowest, system)}, and nothing that you told goes "
                f"to some {low.told(system)}, where one has to stand before. Is there such a stand, go back (<) and "
                "tell it as another kind; else nothing is planned there"
            )
        return ""

    return odd


def _owned(key: str, word: str) -> Question:
    """Return what asks how many there are; tags are what bookings go by."""
    return Question(
        f"{key}.owned",
        f"The {word}: how many do you have, or which tags are on them?",
        Ask.OWNED,
        'Such as 8, or "S1 to S8": with tags two jobs cannot book the same one.',
        least=1,
        most=500,
        odd=outside(Ask.WHOLE, 1, 40, "one shop"),
        group="shop",
    )
