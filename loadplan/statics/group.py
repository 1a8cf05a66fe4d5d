"""One group solved: does it stand, how far from tipping, what does each support carry."""

from dataclasses import dataclass
from math import inf

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import (
    Balanced,
    GroupAnswer,
    Load,
    Loose,
    Mode,
    Motion,
    PushAnswer,
    Tips,
)
from loadplan.model.vehicle import Joint, Place
from loadplan.statics.about import told
from loadplan.statics.bounds import Bounds, load_bounds
from loadplan.statics.closure import Needs
from loadplan.statics.contact import Settled, Springs, settle, springs
from loadplan.statics.frame import Frame
from loadplan.statics.mass import Array
from loadplan.statics.mishaps import lost_supports, snags, sunk_supports
from loadplan.statics.modes import Ways, free_motion, margins, over, tip_angles, ways
from loadplan.statics.push import Grip, Hold, weakest_push
from loadplan.statics.sway import sway
from loadplan.statics.uneven import EVERY_CORNER, load_range, mass_levels
from loadplan.statics.worst import worst


@dataclass(frozen=True, slots=True)
class Settings:
    """What a group is solved with besides its equations.

    Attributes:
        gaps: How much lower each support's saddle is (n) [m].
        uneven: How far each saddle may be off (n) [m].
        preload: (mount, force [N]) in the file's attitude.
        slope: Floor slope [rad].
        needs: Pairs of lumps: a removable part, and one that must be off before it.
        undone: Joints undone at bodies of the group.
        held: Bodies rigid with the one on the lift: no snag is looked for at them, and they are not pushed.
        grips: How each support holds sideways (n).
        pushed: Body that is pushed, and where [m].
    """

    gaps: tuple[float, ...]
    uneven: tuple[float, ...]
    preload: tuple[tuple[str, float], ...]
    slope: float
    needs: Needs
    undone: tuple[Joint, ...]
    held: frozenset[str]
    grips: tuple[Grip, ...]
    pushed: tuple[str, Place]


@dataclass(frozen=True, slots=True)
class Solved:
    """One group solved; lists in the frame's order.

    Attributes:
        answer: What reports tell of it.
        margins: Of each rigid whole [m]; None where not balanced or no mode rotates it.
        worst_margins: The same, worst.
        tip_angles: Of each rigid whole [rad].
        motions: Expected motion of each rigid whole; None where not balanced.
        loads: Of each support; None where not balanced.
        forces: Of each mount [N]; None where not balanced.
    """

    answer: GroupAnswer
    margins: tuple[float | None, ...]
    worst_margins: tuple[float | None, ...]
    tip_angles: tuple[float | None, ...]
    motions: tuple[Motion, ...] | None
    loads: tuple[Load, ...] | None
    forces: tuple[float, ...] | None


def solve(frame: Frame, settings: Settings) -> Solved:
    """Solve one group.

    Args:
        frame: Its equations.
        settings: What they are solved with.

    Returns:
        Everything that is told of the group.
    """
    loose = free_motion(frame)
    if loose is not None:
        return _fallen(frame, Loose(frame.motions(loose)), ())
    found = ways(frame)
    modes = told(frame, found.all_there)
    going = over(frame, found.all_there)
    if going is not None:
        return _fallen(frame, Tips(frame.motions(going)), modes)
    return _standing(frame, settings, found, modes)


def _fallen(frame: Frame, proof: Tips | Loose, modes: tuple[Mode, ...]) -> Solved:
    nothing = (None,) * len(frame.wholes)
    answer = GroupAnswer(
        bodies=frame.bodies,
        supports=tuple(support.name for support in frame.supports),
        proof=proof,
        robust=False,
        modes=modes,
        snags=(),
        lost=(),
        sunk=(),
        simplified=False,
        sway=None,
        push=None,
    )
    return Solved(answer, nothing, nothing, nothing, None, None, None)


@dataclass(frozen=True, slots=True)
class _Rest:
    """A group at rest; n supports.

    Attributes:
        held: Its springs.
        gaps: How much lower each saddle is (n), scaled.
        settled: Where it came to rest; one case.
    """

    held: Springs
    gaps: Array
    settled: Settled


def _at_rest(frame: Frame, settings: Settings) -> _Rest:
    held = springs(frame, dict(settings.preload))
    gaps = np.array(settings.gaps) / frame.span
    return _Rest(held, gaps, settle(held, frame.load[None, :], gaps[None, :]))


def _standing(frame: Frame, settings: Settings, found: Ways, modes: tuple[Mode, ...]) -> Solved:
    motions = found.all_there
    rest = _at_rest(frame, settings)
    worst_margin = worst(frame, motions, settings.slope, settings.needs)
    loads = _loads(frame, settings, rest, (motions, worst_margin.robust))
    forces = tuple(float(each) * frame.weight for each in rest.settled.forces[0])
    proof = Balanced(
        tuple((support.name, load.expected) for support, load in zip(frame.supports, loads, strict=True)),
        tuple((mount.name, force) for mount, force in zip(frame.mounts, forces, strict=True)),
    )
    answer = GroupAnswer(
        bodies=frame.bodies,
        supports=tuple(support.name for support in frame.supports),
        proof=proof,
        robust=worst_margin.robust,
        modes=modes,
        snags=snags(settings.undone, frozenset(frame.bodies) - settings.held, modes),
        lost=lost_supports(frame, found.without),
        sunk=sunk_supports(frame, rest.held, rest.gaps),
        simplified=len(frame.supports) > EVERY_CORNER,
        sway=sway(rest.held, rest.settled.loads[0], frame.load[::3] * _heights(frame) / frame.span),
        push=_push(frame, settings),
    )
    return Solved(
        answer=answer,
        margins=_finite(margins(frame, motions).min(axis=0, initial=inf)),
        worst_margins=_finite(worst_margin.margins),
        tip_angles=tip_angles(frame, motions, _heights(frame)),
        motions=tuple(frame.motion(rest.settled.motions[0], whole) for whole in range(len(frame.wholes))),
        loads=loads,
        forces=forces,
    )


def _loads(frame: Frame, settings: Settings, rest: _Rest, ways_over: tuple[Array, bool]) -> tuple[Load, ...]:
    """Return the load of each support; bounded only where the group stands over its whole tolerance."""
    motions, robust = ways_over
    uneven = np.array(settings.uneven) / frame.span
    ranged = load_range(rest.held, mass_levels(frame, motions), rest.gaps, uneven)
    bounds = load_bounds(frame, motions) if robust else None
    shares = np.column_stack([rest.settled.loads[0], ranged.low, ranged.high]).tolist()
    return tuple(
        _load(frame.weight, (expected, low, high), bounds, number)
        for number, (expected, low, high) in enumerate(shares)
    )


def _finite(values: Array) -> tuple[float | None, ...]:
    return tuple(None if value == inf else float(value) for value in values)


def _load(weight: float, shares: tuple[float, float, float], bounds: Bounds | None, number: int) -> Load:
    """Return the load of one support [N]; rounding must not put the range inside what it is to hold."""
    expected, low, high = (weight * share for share in shares)
    low, high = min(low, expected), max(high, expected)
    if bounds is None:
        return Load(expected, low, high, None, None)
    least, most = weight * float(bounds.least[number]), weight * float(bounds.most[number])
    return Load(expected, low, high, min(least, low), None if most == inf else max(most, high))


def _heights(frame: Frame) -> Array:
    """Return the height (q) of each whole's centre of gravity over its lowest saddle [m]."""
    moments = np.zeros(len(frame.wholes))
    for lump, whole in zip(frame.lumps, frame.whole_of, strict=True):
        if lump.counts:
            moments[whole] += lump.sign * lump.mass * (lump.at[2] - frame.base[whole])
    heights: Array = moments * GRAVITY / (frame.load[::3] * frame.weight)
    return heights


def _push(frame: Frame, settings: Settings) -> PushAnswer | None:
    if settings.held & set(frame.bodies):
        return None
    body, at = settings.pushed
    limit = weakest_push(Hold(frame, settings.grips, frame.whole(body), at))
    return PushAnswer(limit.force, limit.direction, body, at, limit.first, limit.about)
