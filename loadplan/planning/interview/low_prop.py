"""How low a stand under the heavy end has to go, too: said beside the question for the tall one, not after it."""

from collections import Counter
from dataclasses import dataclass

from loadplan.model.shop import Heights
from loadplan.model.vehicle import Vehicle
from loadplan.planning.interview.known_vehicle import KnownVehicle
from loadplan.planning.interview.prop_stands import JUST_OVER, ROUGHLY, level_of
from loadplan.planning.interview.question import Ask, HeightRange, Known, Owned, Question, Seat
from loadplan.planning.interview.questions_on_job import chosen_places, use_questions
from loadplan.planning.interview.questions_on_places import seat_questions
from loadplan.planning.interview.questions_on_shop import WHATS, LowProp, gear_words
from loadplan.planning.interview.questions_on_vehicle import pad_height_question, prop_place_question, stand_letters
from loadplan.planning.interview.unit_kinds import UnitKind


@dataclass(frozen=True, slots=True)
class _Gear:
    """A kind of equipment as far as it was told.

    Attributes:
        what: What it is.
        heights: What it can be set to, None where it hangs.
        count: How many there are.
    """

    what: str
    heights: Heights | None
    count: int


def low_prop(vehicle: Vehicle | None, kind: UnitKind | None, known: Known) -> LowProp | None:
    """Find how high the heavy end hangs just over the unit, and whether something goes there.

    Args:
        vehicle: The vehicle, None where it is asked about.
        kind: The kind of a unit that was not known before.
        known: Value of each question so far: where the stands go and what they are among them.

    Returns:
        What has to stand there; None where nothing tells it yet.
    """
    names = gear_words(known)
    gear = {name: _gear(number, known) for number, name in enumerate(names, 1)}
    places, prop = _of_vehicle(vehicle, known) if vehicle else _of_unit(kind, known) if kind else ({}, None)
    said = known(next(use_questions(names))) if len(names) > 1 else None
    uses = [str(each) for each in said] if isinstance(said, tuple) else [names[0]]
    own = {letter: name for letter, _, name in (each.partition("=") for each in uses[1:])}
    under = {letter: own.get(letter, uses[0]) for letter in places}
    level = level_of([(heights, places[each]) for each in places if (heights := gear[under[each]].heights)])
    if level is None or prop is None:
        return None
    height, used = prop + level + JUST_OVER, Counter(under.values())
    most = height + _lock_step(known)
    free = (each.heights for name, each in gear.items() if each.what == "stand" and each.count > used[name])
    fits = (span for span in free if span and span.lowest <= height - ROUGHLY and most + ROUGHLY <= span.highest)
    return LowProp(height, most, any(fits))


def _lock_step(known: Known) -> float:
    """Return how far the vehicle may be higher than wanted for the lift to stand on a lock [m]."""
    step = known(Question("lift.lock_step", "", Ask.LENGTH, default="", least=0.0, most=0.5))
    return step if isinstance(step, float) else 0.0


def _of_vehicle(vehicle: Vehicle, known: Known) -> tuple[dict[str, float], float | None]:
    """Return how high each stand touches a known vehicle in its file, by its letter, and how high a prop does [m]."""
    at = {each.name: each.at[2] for each in vehicle.points}
    chosen = chosen_places(vehicle, known)
    props = KnownVehicle(vehicle).prop_places
    heights = zip(stand_letters(len(chosen)), (at[each] for each in chosen), strict=True)
    return dict(heights), props[0].at[2] if props else None


def _of_unit(kind: UnitKind, known: Known) -> tuple[dict[str, float], float | None]:
    """Return the same of a unit that was not known before, over the floor."""
    pads, place = known(pad_height_question()), known(prop_place_question(kind.prop))
    if not isinstance(pads, float):
        return {}, None
    asked = (each for each in seat_questions(kind, known) if each.ask is Ask.SEAT)
    seats = {each.key.removeprefix("stand"): seat for each in asked if isinstance(seat := known(each), Seat)}
    prop = pads + float(str(place[2])) if isinstance(place, tuple) and len(place) == 3 else None
    return {letter: pads + each.place[2] for letter, each in seats.items()}, prop


def _gear(number: int, known: Known) -> _Gear:
    """Return a kind of equipment."""
    what = known(Question(f"gear{number}.what", "", Ask.CHOICE, "", "stand", WHATS))
    span = known(Question(f"gear{number}.heights", "", Ask.HEIGHTS, least=0.02, most=3.0))
    owned = known(Question(f"gear{number}.owned", "", Ask.OWNED, least=1, most=500))
    count = owned.count if isinstance(owned, Owned) else 0
    if not isinstance(span, HeightRange) or what in {"hoist", "beam"}:
        return _Gear(str(what), None, count)
    settings: tuple[float, ...] = ()
    if span.step:
        # A millionth of a step, as the reader of the file has it.
        steps = int((span.highest - span.lowest) / span.step + 1e-6)
        settings = tuple(span.lowest + each * span.step for each in range(steps + 1))
    return _Gear(str(what), Heights(span.lowest, span.highest, settings), count)
