"""The least sideways push on each rigid whole of a group, at its highest part still on.

What a push moves leans further, and so helps it on. Of one rigid whole that is followed on its springs: its weight
moves with the force, and where a saddle comes off on the way the greatest force is sought at which there is still a
state that friction holds. Of linked wholes a share of what friction and weight could stand, the sway, is taken off.
"""

from bisect import bisect_left
from dataclasses import replace
from math import atan2, cos, inf, sin

import numpy as np

from loadplan.model.disturbance import PushAnswer
from loadplan.model.vehicle import Place
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.push_limit import Hold, Limit, overloaded, stands, weakest_pushes
from loadplan.statics.push_tilt import Yielding
from loadplan.statics.resting_state import Settings
from loadplan.statics.sideways_resistance import Resistance
from loadplan.statics.stance import Stance

TWICE = 2.0
"""A push of the limit must be stood with this factor: the limit is an upper bound; common practice, no source."""

LIGHT = 0.1
"""Share of the weight on its supports that is asked of what slides or takes its stands over before it tips, where that
is less than the push: what is light is shoved by any push, and stays upright; common practice, no source."""

STEPS = 8
"""Forces that are tried at once where a saddle comes off under a push."""

ALMOST = 1.0 - 1e-6
"""Share of a limit at which it is asked whether any saddle has come off: at the limit itself the last ones do."""

FINER = 4
"""Rounds of that, each parting the step that is left: what is given away in the end is less than 0.03 %."""


def least_pushes(frame: Frame, settings: Settings, stance: Stance) -> tuple[PushAnswer, ...]:
    """Find the least push on each rigid whole that its group cannot stand.

    Args:
        frame: The group, balanced.
        settings: What it is solved with.
        stance: How it stands.

    Returns:
        One record a whole, least first; none where the lift holds the group.
    """
    if any(support.is_arm for support in frame.supports):
        return ()
    oiled = tuple(grip.oiled for grip in settings.grips)
    dry = Resistance.of(frame, settings.grips)
    slick = dry if oiled == settings.grips else Resistance.of(frame, oiled)
    pushed = tuple(Hold(dry, frame.whole(body), at, frame.load) for body, at in settings.pushed)
    limits = weakest(pushed, stance, inf) if pushed else ()
    found = []
    for (body, at), hold, limit in zip(settings.pushed, pushed, limits, strict=True):
        if limit is None:
            found.append(PushAnswer(inf, 0.0, body, at, "holds", (), inf, 0.0))
            continue
        borne, least = _borne(frame, stance, hold.body), limit.force
        if slick is not dry:
            least = _oiled(replace(hold, resistance=slick), stance, limit, (borne, settings.asked))
        found.append(PushAnswer(limit.force, limit.direction, body, at, limit.first, limit.about, least, borne))
    return tuple(sorted(found, key=lambda each: each.force))


def _borne(frame: Frame, stance: Stance, whole: int) -> float:
    """Return the load [N] on the supports of a rigid whole; of one that has none, on those of its group."""
    own = [support.body in frame.wholes[whole] for support in frame.supports]
    return float(stance.carried[own].sum() if any(own) else stance.carried.sum())


def _oiled(slick: Hold, stance: Stance, limit: Limit, settled: tuple[float, float]) -> float:
    """Return what is stood with oil on the saddles, as far as it matters beside the limit without.

    The direction that was weakest without oil mostly tells enough: one programme instead of a polygon of them.
    """
    borne, asked = settled
    enough = asked if limit.first == "tips" else min(asked, TWICE * LIGHT * borne)
    if limit.force < enough:
        return limit.force
    towards = (cos(limit.direction), sin(limit.direction), 0.0)
    kept = 1.0 if stance.yielding else stance.kept
    there = kept * stands(leant(slick, stance, stance.loads[-1]), towards).force
    if there < min(asked, TWICE * LIGHT * borne):
        return min(there, limit.force)
    (less,) = weakest((slick,), stance, min(limit.force, asked))
    return less.force if less is not None else limit.force if limit.force <= asked else inf


def weakest(holds: tuple[Hold, ...], stance: Stance, below: float) -> tuple[Limit | None, ...]:
    """Find the least level push that a group cannot stand at each of some places, upright or with its lean.

    Args:
        holds: The group, pushed at one place and another.
        stance: How it stands.
        below: Force [N] of which a greater one is not asked about.

    Returns:
        Force, direction and what happens at each; None where every push up to `below` is stood.
    """
    kept = 1.0 if stance.yielding else stance.kept
    if kept <= 0 or any(overloaded(replace(holds[0], load=load)) for load in stance.loads):
        return tuple(Limit(0.0, 0.0, "tips", ()) for _ in holds)
    leaning = tuple(replace(leant(each, stance, stance.loads[-1]), others=stance.loads[:-1]) for each in holds)
    found = weakest_pushes(leaning, below / kept)
    return tuple(_kept(hold, stance, least) for hold, least in zip(holds, found, strict=True))


def _kept(hold: Hold, stance: Stance, limit: Limit | None) -> Limit | None:
    """Return what is left of a limit once what is pushed leans further."""
    if limit is None:
        return None
    towards = (cos(limit.direction), sin(limit.direction), 0.0)
    if stance.yielding is None:
        return _swayed(hold, stance, towards, limit)
    return _followed(hold, stance.yielding, towards, limit)


def _swayed(hold: Hold, stance: Stance, towards: Place, limit: Limit) -> Limit:
    """Return a limit of linked wholes less the sway, and no more than leaves them a settled state."""
    force = limit.force * max(stance.kept, 0.0)
    if stance.stack is not None:
        force = stance.stack.borne(hold.body, hold.at, np.array(towards), force)
    return replace(limit, force=force)


def stood(hold: Hold, stance: Stance, towards: Place) -> Limit:
    """Find the largest force in one direction that a group can stand, upright and with its lean.

    Args:
        hold: The group, and where it is pushed.
        stance: How it stands.
        towards: Direction, unit vector; it need not be level.

    Returns:
        Force (infinite where nothing limits it), direction and what happens.
    """
    kept = 1.0 if stance.yielding else stance.kept
    if any(overloaded(leant(hold, stance, load)) for load in stance.loads):
        return Limit(0.0, atan2(towards[1], towards[0]), "tips", ())
    least = min((stands(leant(hold, stance, load), towards) for load in stance.loads), key=lambda each: each.force)
    if least.force == inf:
        return replace(least, force=inf if kept > 0 else 0.0)
    if stance.yielding is None:
        return _swayed(hold, stance, towards, least)
    return _followed(hold, stance.yielding, towards, least)


def leant(hold: Hold, stance: Stance, load: Array) -> Hold:
    """Put other weights into a group, which gives way to what pushes it where that is followed.

    Args:
        hold: The group.
        stance: How it stands.
        load: One of its weights.

    Returns:
        The group.
    """
    gives = stance.yielding.gives if stance.yielding else None
    return replace(hold, load=load, gives=gives)


def _followed(hold: Hold, yielding: Yielding, towards: Place, limit: Limit) -> Limit:
    """Return a limit, lowered to what is still stood where saddles come off or touch on the way to it."""
    each = yielding.pressed(hold.at) @ np.array(towards) / hold.frame.weight
    almost = yielding.leant_under(limit.force * ALMOST * each[None, :])
    if almost.found[0]:
        in_touch_as_before = bool((almost.touching[0] == yielding.touching).all())
        if in_touch_as_before or _stood_of(hold, towards, np.array([limit.force * ALMOST]), almost.loads):
            return limit

    low, step = 0.0, limit.force
    for _ in range(FINER):
        step /= STEPS
        forces = low + step * np.arange(1.0, STEPS + 1)
        states = yielding.leant_under(forces[:, None] * each)
        count = int(np.argmin(np.append(states.found, [False])))
        low += step * _stood_of(hold, towards, forces[:count], states.loads)
    return replace(limit, force=low)


def _stood_of(hold: Hold, towards: Place, forces: Array, loads: Array) -> int:
    """Return how many of some rising forces (c) are stood, each with the weights where it leans them (c, 3)."""

    def falls(number: int) -> bool:
        leaning = replace(hold, load=loads[number])
        return bool(stands(leaning, towards).force < forces[number])

    return bisect_left(range(len(forces)), x=True, key=falls)
