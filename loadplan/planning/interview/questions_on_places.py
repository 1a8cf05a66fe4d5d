"""What is asked about the places of stands under a unit that is not known yet, and one more where they are in line."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from loadplan.model.vehicle import PlanPoint
from loadplan.planning.interview.answer_distances import place_sample
from loadplan.planning.interview.in_line import in_line_words, lined_up, tie_places
from loadplan.planning.interview.odd_answers import first_odd, lump_over, outside, seat_on
from loadplan.planning.interview.question import Ask, Edges, Known, Question, Seat, Value
from loadplan.planning.interview.questions_on_vehicle import (
    ALONG_MOST,
    FROM,
    lump_boxes,
    over_floor,
    pad_questions,
    sample_for,
    stand_letters,
    whole_of,
)
from loadplan.planning.interview.unit_kinds import UnitKind
from loadplan.units import System

MOST_STANDS = 12
"""Most stands under one unit."""

MOST_MORE = 1
"""Most stands that are asked for besides those counted: one, beside a line that the others are in."""


def seat_questions(kind: UnitKind, known: Known) -> Iterator[Question]:
    """Ask where stands may go, and under what.

    Args:
        kind: The kind of unit.
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    stands = Question(
        "stands",
        "How many stands go under it?",
        Ask.WHOLE,
        "At least three, round the weight: under each heavy lump on both sides of its middle. Of a table the places at "
        "which the unit bears on it.",
        str(kind.stands),
        least=3,
        most=MOST_STANDS,
        odd=outside(Ask.WHOLE, 3, 8, "stands under one unit"),
        group="places",
    )
    yield stands
    count = whole_of(known, stands)
    taken: dict[str, Seat] = {}
    for letter in stand_letters(count):
        yield from _seat_questions(kind, letter, taken, known)
    lines = _lines(kind, taken, known) if len(taken) == count < MOST_STANDS else {}
    for body, letters in list(lines.items())[:MOST_MORE]:
        yield from _seat_questions(kind, stand_letters(count + MOST_MORE)[-1], taken, known, (body, letters))


def _seat_questions(
    kind: UnitKind, letter: str, taken: dict[str, Seat], known: Known, line: tuple[str, str] = ("", "")
) -> Iterator[Question]:
    """Yield where a stand goes, and under what where that is open, and add it to those that are taken.

    Of one that is to go beside a line there are the assembly and its stands: it may be left out.
    """
    boxes, words = lump_boxes(kind, known), tuple(lump.key for lump in kind.lumps)
    body, letters = line
    told = in_line_words(body, letters)
    asks = f"Stand {letter}: under what, and where does its saddle touch?"
    asked = Question(
        f"stand{letter}",
        f"{told[0].upper()}{told[1:]}. {asks} Beside that line, please." if body else asks,
        Ask.SEAT,
        f"{'First under what (' + ', '.join(words) + '), then the ' if words else 'The '}"
        f"place by tape. {FROM} {_seat_sample(kind)}. On bosses, flanges, rails; never on sheet metal or a pan.",
        "" if body else None,
        words,
        least=-ALONG_MOST,
        most=ALONG_MOST,
        group="places",
    )
    seated = first_odd(over_floor(known), seat_on(boxes, dict(taken), _pad_places(known)))

    def odd(value: Value, system: System) -> str:
        found = seated(value, system)
        if found or not body:
            return found
        more = {letter: _on_lump(value, boxes)} if isinstance(value, Seat) else {}
        still = body in _lines(kind, {**taken, **more}, known)
        return f"{told}: so it stays, and the check will say which way it goes over" if still else ""

    yield replace(asked, odd=odd)
    seat = known(asked)
    if not isinstance(seat, Seat):
        return
    seat = _on_lump(seat, boxes)
    if words and not seat.lump:
        hint, finds = "What its saddle touches.", seat_on(boxes, {}, (), seat)
        under = Question(
            f"stand{letter}.under", f"Stand {letter}: under what?", Ask.CHOICE, hint, None, words, odd=finds,
            group="places",
        )  # fmt: skip
        yield under
        seat = Seat(str(known(under) or ""), seat.place)
    taken[letter] = seat


def _on_lump(seat: Seat, boxes: Mapping[str, Edges]) -> Seat:
    """Return a stand's place with what it is under where that is said, or can be told by its place."""
    return Seat(seat.lump or lump_over(seat, boxes), seat.place)


def _lines(kind: UnitKind, taken: Mapping[str, Seat], known: Known) -> dict[str, str]:
    """Return the assemblies whose stands are all in line, with the letters of these."""
    bodies = {lump.key: lump.body for lump in kind.lumps}
    seats = {letter: (bodies.get(each.lump, "vehicle"), each.place[:2]) for letter, each in taken.items()}
    return lined_up(seats, tie_places(kind, known))


def _pad_places(known: Known) -> tuple[PlanPoint, ...]:
    """Return the middles of the lift pads [m], none where that is not known."""
    along, out = (known(each) for each in pad_questions())
    if not isinstance(along, tuple) or not isinstance(out, float):
        return ()
    return tuple((float(str(x)), y) for x in along for y in (out, -out))


def _seat_sample(kind: UnitKind) -> str:
    """Return how a stand's place is written, with what it is under where there is more than one thing."""
    sample = sample_for(kind, place_sample(System.METRIC).strip('"'))
    return f'"{kind.lumps[-1].key}, {sample}"' if kind.lumps else f'"{sample}"'
