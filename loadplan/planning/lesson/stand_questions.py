"""Questions about stands: who carries most, what if one goes, what if some are left out, which ones count."""

from dataclasses import dataclass
from itertools import permutations
from math import ceil

from loadplan.checks.piece import pieces
from loadplan.limits import GRAVITY
from loadplan.model.answer import BodyAnswer, Load
from loadplan.model.job import Support
from loadplan.model.verdict import Assessment
from loadplan.planning.lesson.lesson_unit import carried, first_unit, pieces_of, stands_of, the_unit
from loadplan.planning.whatif import Shot, laid_on, without

MOST_STANDS = 8
"""The animation takes no more stands than this away."""

TRIED = 10.0
"""Load laid on a corner [kg] from which it is seen how fast the opposite stand gets light."""

HEAVIEST = 200.0
"""No heavier load [kg] is laid on a corner: two people."""

FULL = 5.0
"""Loads laid on a corner are whole multiples of this [kg]."""

NOTHING = 1e-6
"""A stand that is expected to carry less [N] carries nothing."""


@dataclass(frozen=True, slots=True)
class WhoCarries:
    """Who carries most: (stand, load [N]), the most first."""

    shot: Shot
    bodies: tuple[str, ...]
    weight: float
    loads: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class TakenAway:
    """One stand is taken away.

    Attributes:
        before: With it.
        after: Without it.
        stand: The stand.
        carried: What it carried [N].
        stands: Whether the unit still stands in balance.
        about: What it turns about where it does not.
        others: (other stand, whether the unit stands without it).
    """

    before: Shot
    after: Shot
    stand: Support
    carried: float
    stands: bool
    about: tuple[str, ...]
    others: tuple[tuple[str, bool], ...]


@dataclass(frozen=True, slots=True)
class OneCarrier:
    """Stands under one assembly only, the others hang on their mounts.

    Attributes:
        before: With all stands, or without those others where the job itself has none.
        after: With stands under one assembly only.
        carrier: The assembly, or assemblies bolted into one, that stands on them.
        kept: The stands under it.
        away: The stands that are left out.
        stands: Whether it stands in balance.
    """

    before: Shot
    after: Shot
    carrier: tuple[str, ...]
    kept: tuple[str, ...]
    away: tuple[str, ...]
    stands: bool


@dataclass(frozen=True, slots=True)
class IdleInside:
    """A load on one corner: the centre of gravity stays inside, and yet a stand carries nothing.

    Attributes:
        before: Without the load.
        after: With it.
        mass: The load [kg].
        over: The stand that it lies over.
        idle: The stand that carries nothing.
        idle_before: What that one carried without the load [N].
        answer: The assembly with the load on it.
    """

    before: Shot
    after: Shot
    mass: float
    over: Support
    idle: Support
    idle_before: float
    answer: BodyAnswer


@dataclass(frozen=True, slots=True)
class FourLegs:
    """Four stands or more under one rigid piece: (stand, what it carries and may carry)."""

    shot: Shot
    bodies: tuple[str, ...]
    loads: tuple[tuple[Support, Load], ...]


def ask_who_carries(shot: Shot) -> WhoCarries:
    """Ask who carries most.

    Args:
        shot: A step in which something stands on its own.

    Returns:
        The question with its answer.
    """
    unit = the_unit(shot)
    stands = stands_of(shot, unit.bodies)
    loads = sorted(((each.name, carried(shot, each.name)) for each in stands), key=lambda each: -each[1])
    mass = sum(body.mass for body in shot.stage.statics.bodies if body.name in unit.bodies)
    return WhoCarries(shot, unit.bodies, mass * GRAVITY, tuple(loads))


def ask_taken_away(shot: Shot) -> tuple[TakenAway, ...]:
    """Take each stand of a unit away in turn.

    Args:
        shot: A step in which something stands on its own.

    Returns:
        What comes of it, in the order of the stands; what bears at several places, like a table, is not taken away.
    """
    unit = the_unit(shot)
    lost = {each.support: each for each in unit.lost}
    single = [piece.supports[0].name for piece in pieces(shot.stage.state.supports) if len(piece.supports) == 1]
    stands = tuple(each for each in stands_of(shot, unit.bodies) if each.name in single)[:MOST_STANDS]
    return tuple(
        TakenAway(
            before=shot,
            after=without(shot, (each.name,)),
            stand=each,
            carried=carried(shot, each.name),
            stands=lost[each.name].balanced,
            about=lost[each.name].turns_about,
            others=tuple((other.name, lost[other.name].balanced) for other in stands if other is not each),
        )
        for each in stands
    )


def ask_one_carrier(shot: Shot) -> OneCarrier | None:
    """Leave out all stands but those under the assembly with most of them.

    Args:
        shot: A step in which something stands on its own.

    Returns:
        The question with its answer; None where only one assembly stands on stands.
    """
    unit = the_unit(shot)
    pieces = sorted(pieces_of(shot, unit), key=lambda piece: -len(stands_of(shot, piece)))
    kept = stands_of(shot, pieces[0])
    away = tuple(each.name for piece in pieces[1:] for each in stands_of(shot, piece))
    if not away:
        return None
    after = without(shot, away)
    stands = all(after.group_of(name).balanced for name in unit.bodies)
    return OneCarrier(shot, after, pieces[0], tuple(each.name for each in kept), away, stands)


def ask_one_carrier_as_planned(assessment: Assessment) -> OneCarrier | None:
    """Ask about a job that itself has stands under one assembly only, and does not stand.

    Args:
        assessment: The job, judged.

    Returns:
        The question with its answer; None where it is not such a job.
    """
    shot = first_unit(assessment, balanced=False)
    if shot is None:
        return None
    unit = the_unit(shot)
    under = [piece for piece in pieces_of(shot, unit) if stands_of(shot, piece)]
    if len(under) != 1 or len(unit.bodies) == len(under[0]):
        return None
    return OneCarrier(shot, shot, under[0], tuple(each.name for each in stands_of(shot, under[0])), (), stands=False)


def ask_idle_inside(shot: Shot) -> IdleInside | None:
    """Lay the least load on a corner under which the opposite stand carries nothing.

    Args:
        shot: A step in which something stands on its own.

    Returns:
        The question with its answer; None where no load up to `HEAVIEST` does it and leaves the unit in balance.
    """
    unit = the_unit(shot)
    found = [
        (mass, over, idle)
        for piece in pieces_of(shot, unit)
        if len(stands_of(shot, piece)) > 3
        for mass, over, idle in _relieved(shot, stands_of(shot, piece))
    ]
    for mass, over, idle in sorted(found, key=lambda each: each[0]):
        after = laid_on(shot, over, mass)
        if after is None or not after.group_of(over.body).balanced or carried(after, idle.name) > NOTHING:
            continue
        answer = next(body for body in after.stage.statics.bodies if body.name == over.body)
        return IdleInside(shot, after, mass, over, idle, carried(shot, idle.name), answer)
    return None


def ask_four_legs(shot: Shot) -> FourLegs | None:
    """Ask how many of four stands count.

    Args:
        shot: A step in which something stands on its own.

    Returns:
        The question with its answer; None where no rigid piece stands on four stands.
    """
    for piece in pieces_of(shot, the_unit(shot)):
        loads = [(each, shot.load(each.name)) for each in stands_of(shot, piece)]
        told = tuple((each, load) for each, load in loads if load is not None)
        if len(told) > 3:
            return FourLegs(shot, piece, told)
    return None


def _relieved(shot: Shot, stands: tuple[Support, ...]) -> list[tuple[float, Support, Support]]:
    """Return loads over one stand [kg] under which another should come idle: as it gets lighter, so it goes on."""
    tried = {each.name: laid_on(shot, each, TRIED) for each in stands}
    found = []
    for over, idle in permutations(stands, 2):
        with_load = tried[over.name]
        if with_load is None:
            continue
        before, less = carried(shot, idle.name), carried(shot, idle.name) - carried(with_load, idle.name)
        if before > NOTHING and less > NOTHING and TRIED * before / less <= HEAVIEST:
            found.append((FULL * ceil(TRIED * before / less / FULL + NOTHING), over, idle))
    return found
