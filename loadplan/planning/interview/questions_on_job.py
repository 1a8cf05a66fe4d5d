"""What is asked for every job: what it is and when, and what a known vehicle and a known shop leave to be said."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType

from loadplan.model.shop import Shop
from loadplan.model.vehicle import Vehicle
from loadplan.planning.interview.in_line import in_line_words, lined_up_places
from loadplan.planning.interview.known_vehicle import KnownVehicle
from loadplan.planning.interview.odd_answers import lump_over, near_pad
from loadplan.planning.interview.question import Ask, Days, Known, NamedWeight, Odd, Question, Seat, Value
from loadplan.planning.interview.questions_on_places import MOST_STANDS, seat_questions
from loadplan.planning.interview.questions_on_vehicle import (
    ALONG_MOST,
    lump_boxes,
    over_floor,
    sample_for,
    stand_letters,
)
from loadplan.planning.interview.typical_answers import kind_of, told_as_taken
from loadplan.planning.interview.unit_kinds import UNIT_KINDS, UnitKind
from loadplan.units import System

ANOTHER = "another one"
"""The vehicle is none of those in the folder."""

OWN = "my own measures"
"""No typical unit is taken to begin from."""

UNMEASURED = "not measured"
"""Nobody has held a tape to the vehicle: then the plan is for practice only."""

NOTHING = "nothing"

OFF_SAMPLE = "90 front, 200 right, 400 above"
"""Where something that comes off may have its middle."""


@dataclass(frozen=True, slots=True)
class Beginning:
    """What is known before the first question.

    Attributes:
        typical: Typical units that ship, by the name of their file.
        vehicles: Vehicles that lie in the folder, by the name of their file.
        vehicle: The vehicle, where it was named.
        shop: The shop, where there is one.
        system: Units of bare numbers, None where they are asked for.
        today: The day on which is asked, None where it does not matter.
        is_like: Whether all but title and days is as in another job.
    """

    typical: Mapping[str, Vehicle] = field(default_factory=lambda: MappingProxyType({}))
    vehicles: Mapping[str, Vehicle] = field(default_factory=lambda: MappingProxyType({}))
    vehicle: Vehicle | None = None
    shop: Shop | None = None
    system: System | None = None
    today: date | None = None
    is_like: bool = False

    def typical_of(self, kind: str) -> tuple[str, ...]:
        """Name the typical units of a kind.

        Args:
            kind: Its word.

        Returns:
            The names of their files.
        """
        return tuple(name for name in self.typical if (found := kind_of(name)) and found.word == kind)


def head_questions(begin: Beginning, known: Known) -> Iterator[Question]:
    """Ask about the job as a whole, and which vehicle it is.

    Args:
        begin: What is known before.
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    if begin.system is None:
        hint = "metric: mm and kg; us: in and lb. A number with its unit is taken in any, such as 16 1/2 in or 106 lb."
        asks = "Units of numbers that you write without a unit?"
        yield Question("units", asks, Ask.CHOICE, hint, "metric", ("metric", "us"), group="head")
    hint = "One line; it stands on top of every report, such as: clutch, front unit out from below."
    yield Question("title", "What is the job?", Ask.WORDS, hint, group="head")
    hint = "Such as 20 Nov 2026, or 20 Nov 2026 to 24 Nov 2026: so long the stands are taken. Empty: always today."
    asks = "On which days?"
    yield Question("days", asks, Ask.DAYS, hint, "", odd=_long_ago(begin.today), group="head")
    if begin.vehicle is not None:
        return
    which = own_question(begin)
    if begin.vehicles:
        yield which
    if begin.vehicles and known(which) != ANOTHER:
        return
    what = kind_question()
    yield what
    typical = begin.typical_of(str(known(what)))
    hint = (
        "A typical unit is invented, with wide tolerances: you say what differs on yours. With your own measures "
        "every edge and place is asked for."
    )
    if typical:
        yield Question("start", "What do you begin from?", Ask.CHOICE, hint, typical[0], (*typical, OWN), group="head")
    hint = "One line, such as: blue hatchback, 1.4 petrol. Its file is called by it, for the next job on one like it."
    yield Question("name", "What do you call the vehicle?", Ask.WORDS, hint, group="head")


def own_question(begin: Beginning) -> Question:
    """Ask which vehicle of the folder it is.

    Args:
        begin: What is known before.

    Returns:
        The question.
    """
    hint = "Those whose files lie in the folder, or another one, which is asked about."
    words = (*begin.vehicles, ANOTHER)
    return Question("own", "Which vehicle is it?", Ask.CHOICE, hint, None, words, group="head")


def kind_question() -> Question:
    """Ask what comes out.

    Returns:
        The question.
    """
    hint = (
        "Front unit: subframe, engine and gearbox in one. Rear unit: rear subframe with its final drive. Drive unit: "
        "an electric drive. Vehicle on stands: nothing comes out, it is set down itself."
    )
    asks = "What comes out, or is set on stands?"
    return Question("what", asks, Ask.CHOICE, hint, None, tuple(UNIT_KINDS), group="head")


def differs_question(kind: UnitKind, texts: Mapping[str, str]) -> Question:
    """Ask what differs from a typical unit.

    Args:
        kind: Its kind.
        texts: The answers that it gives.

    Returns:
        The question, with what is taken.
    """
    hint = (
        "Hold the tape to yours. Within 20 mm and within its plus or minus it is the same. Several with commas "
        f"between. {NOTHING}: all is measured and fits. {UNMEASURED}: the plan is for practice only."
    )
    words = (*(lump.key for lump in kind.lumps), "vehicle", "pads", "ties", "stands", NOTHING, UNMEASURED)
    words = tuple(each for each in words if each != "ties" or kind.inner or kind.hung)
    tells = f"It is taken that (invented, to begin from):\n{told_as_taken(kind, texts)}"
    asks = "What differs on yours?"
    return Question("differs", asks, Ask.SEVERAL, hint, None, words, group="typical", tells=tells)


def place_questions(vehicle: Vehicle) -> Iterator[Question]:
    """Ask which places of a known vehicle get a stand.

    Args:
        vehicle: The vehicle.

    Yields:
        The questions in their order.
    """
    seen = KnownVehicle(vehicle)
    words = tuple(each.name for each in seen.places)
    hint = "At least three, round the weight. Numbers or words with commas between, or all."
    asks = "Under which places does a stand go?"
    yield Question("places", asks, Ask.SEVERAL, hint, "all", words, odd=_odd_places(seen), group="places")


def use_questions(words: tuple[str, ...]) -> Iterator[Question]:
    """Ask what stands where, and which lift it is.

    Args:
        words: What there is.

    Yields:
        The questions in their order.
    """
    if len(words) > 1:
        hint = 'The one for most, then what differs by letter, such as "1, E F = 2".'
        yield Question("uses", "What goes under it?", Ask.USES, hint, words[0], words, group="places")


def lift_use_questions(shop: Shop | None) -> Iterator[Question]:
    """Ask which of several lifts it is.

    Args:
        shop: The shop, None where it is asked about.

    Yields:
        The question.
    """
    if shop is not None and len(shop.lifts) > 1:
        words = tuple(each.name for each in shop.lifts)
        yield Question("lift.use", "On which lift?", Ask.CHOICE, "", words[0], words, group="places")


def work_questions(begin: Beginning, kind: UnitKind | None, known: Known) -> Iterator[Question]:
    """Ask how the unit is worked on: what comes off, which stands go with it, whether somebody pulls hard.

    Args:
        begin: What is known before.
        kind: The kind of a unit that was not known before.
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    vehicle = vehicle_of(begin, known)
    if vehicle is None and kind is not None:
        yield from _new_parts(kind, known)
    elif vehicle is not None:
        words = tuple(each.name for each in KnownVehicle(vehicle).unit_parts)
        hint = (
            "Numbers or words with commas between. What is not listed: give it a line of its own in the vehicle's file."
        )
        asks = "What comes off while it stands there?"
        yield (off := Question("off", asks, Ask.SEVERAL, hint, NOTHING, words, odd=_too_soon(vehicle), group="work"))
        if names := known(off):
            assert isinstance(names, tuple)
            chosen = chosen_places(vehicle, known)
            places = dict(zip(stand_letters(len(chosen)), chosen, strict=True))
            yield _stands_question(_under(vehicle, names, places), places)
    hint = "A breaker bar on a tight bolt, half a metre or longer."
    asks = "Do you pull hard on a long bar while the unit stands there?"
    yield Question("bar", asks, Ask.YES_NO, hint, "no", group="work")


def vehicle_of(begin: Beginning, known: Known) -> Vehicle | None:
    """Find the vehicle that is known.

    Args:
        begin: What is known before.
        known: Value of each question so far.

    Returns:
        The vehicle, None where it is asked about.
    """
    if begin.vehicle is not None or not begin.vehicles:
        return begin.vehicle
    return begin.vehicles.get(str(known(own_question(begin))))


def chosen_places(vehicle: Vehicle, known: Known) -> tuple[str, ...]:
    """Find the places of a known vehicle that get a stand.

    Args:
        vehicle: The vehicle.
        known: Value of each question so far.

    Returns:
        Their names in the file's order, in whichever they were typed: so the stands have the letters that the plan has.
    """
    value = known(next(place_questions(vehicle)))
    chosen = value if isinstance(value, tuple) else ()
    return tuple(each.name for each in KnownVehicle(vehicle).places if each.name in chosen)[:MOST_STANDS]


def _under(vehicle: Vehicle, names: tuple[object, ...], places: Mapping[str, str]) -> str:
    """Return the letters of the stands at parts that come off, and under assemblies of which all parts do."""
    points = {each.name: each for each in vehicle.points}
    left = {each.body for each in vehicle.parts if each.name not in names}
    gone = {letter for letter, place in places.items() if points[place].part in names or points[place].body not in left}
    return ", ".join(letter for letter in places if letter in gone) or NOTHING


def _too_soon(vehicle: Vehicle) -> Odd:
    """Return what finds odd a part that comes off only after one that stays on."""
    after = {each.name: each.after for each in vehicle.parts}

    def odd(value: Value, _system: System) -> str:
        chosen = tuple(map(str, value)) if isinstance(value, tuple) else ()
        early = ((each, other) for each in chosen for other in after.get(each, ()) if other not in chosen)
        return next((f"{each} comes off only after {other}: choose that, too" for each, other in early), "")

    return odd


def _new_parts(kind: UnitKind, known: Known) -> Iterator[Question]:
    """Yield what comes off of a new unit, where each part is, and which stands go with it."""
    words = tuple(lump.key for lump in kind.lumps) if len(kind.lumps) > 1 else ()
    hint = 'Such as "gearbox, cylinder head 28 kg": a lump by its word, another part with its weight. Empty: nothing.'
    asks = "What comes off while it stands there?"
    off = Question("off", asks, Ask.PARTS, hint, NOTHING, words, least=0.5, most=400.0, group="work")
    yield off
    named = known(off)
    parts = [each for each in named if isinstance(each, NamedWeight)] if isinstance(named, tuple) else []
    for number, part in enumerate((each for each in parts if each.mass is not None), 1):
        keys = tuple(lump.key for lump in kind.lumps)
        sample = f"{keys[0]}, {OFF_SAMPLE}" if keys else OFF_SAMPLE
        sample = sample_for(kind, sample)
        # Of a vehicle that is set down itself there is nothing else to come off.
        off_what, what = (
            ("off what, and ", f"What it comes off ({', '.join(keys)}), and where") if keys else ("", "Where")
        )
        yield Question(
            f"off{number}", f"The {part.name}: {off_what}where is its middle?", Ask.SEAT,
            f"{what} its own middle is, such as {sample}.", words=keys,
            least=-ALONG_MOST, most=ALONG_MOST, odd=over_floor(known), group="work",
        )  # fmt: skip
    if parts:
        gone = {each.name for each in parts}
        asked = (each for each in seat_questions(kind, known) if each.ask is Ask.SEAT)
        # One that is asked for beside a line may be left out.
        letters = [each.key.removeprefix("stand") for each in asked if each.default is None or known(each)]
        seats = {letter: seat_lump(kind, letter, known) for letter in letters}
        yield _stands_question(", ".join(letter for letter, lump in seats.items() if lump in gone) or NOTHING, seats)


def seat_lump(kind: UnitKind, letter: str, known: Known) -> str:
    """Find what a stand of a new unit is under, as said, asked, or by its place.

    Args:
        kind: The kind of unit.
        letter: The stand.
        known: Value of each question so far.

    Returns:
        The lump's word, "" where there is none.
    """
    words = tuple(lump.key for lump in kind.lumps)
    seat = known(Question(f"stand{letter}", "", Ask.SEAT, words=words, default="", least=-ALONG_MOST, most=ALONG_MOST))
    if not isinstance(seat, Seat) or not words:
        return ""
    asked = known(Question(f"stand{letter}.under", "", Ask.CHOICE, "", "", words))
    return seat.lump or lump_over(seat, lump_boxes(kind, known)) or str(asked or words[-1])


def _stands_question(default: str, over: Mapping[str, str]) -> Question:
    """Ask which stands go with what comes off.

    Args:
        default: Letters of those that are under it.
        over: What each stand is under, by its letter.

    Returns:
        The question.
    """
    hint = "They go when it is off, and come back before it goes on again. Letters with commas between, or nothing."
    asks = "Which stands stand under what comes off?"
    meant = {each.strip() for each in default.split(",")}

    def odd(value: Value, _system: System) -> str:
        said = [str(each) for each in value] if isinstance(value, tuple) else []
        wrong = [each for each in said if each not in meant]
        if wrong:
            what = f"the {over[wrong[0]]}" if over.get(wrong[0]) else "what stays on"
            return f"{wrong[0]} is under {what}, which does not come off: if it goes, nothing holds it there"
        left = [each for each in over if each in meant and each not in said]
        return f"{left[0]} is under the {over[left[0]]}, which comes off: if it stays, it holds nothing" if left else ""

    return Question("off.stands", asks, Ask.SEVERAL, hint, default, tuple(over), odd=odd, group="work")


def _odd_places(seen: KnownVehicle) -> Odd:
    """Return what finds odd too many places, those in line, and those so near a lift pad that it is in the way."""
    pads = tuple(each.at[:2] for each in seen.pad_like)

    def odd(value: Value, system: System) -> str:
        chosen = tuple(map(str, value)) if isinstance(value, tuple) else ()
        if len(chosen) > MOST_STANDS:
            return f"{len(chosen)} places are chosen, and no more than {MOST_STANDS} stands are planned: choose fewer"
        for body, names in lined_up_places(seen.vehicle, seen.unit, chosen):
            return f"{in_line_words(body, names)}: choose one more, beside that line"
        near = {each.name: near_pad(each.at[:2], pads, system) for each in seen.places if each.name in chosen}
        return "; ".join(f"{name} {told}" for name, told in near.items() if told)

    return odd


def _long_ago(today: date | None) -> Odd:
    """Return what finds odd a day that is past, or more than a year off."""

    def odd(value: Value, _system: System) -> str:
        if today is None or not isinstance(value, Days):
            return ""
        last = value.last or value.first
        if last < today:
            return f"{last} is past"
        if (last - today).days > 400:
            return f"{last} is more than a year off"
        return ""

    return odd
