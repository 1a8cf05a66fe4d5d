"""What a group is solved with, where it comes to rest, and what is told of it: shared by a whole look and a glance."""

from dataclasses import dataclass, replace
from math import inf

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import GroupAnswer, Load, Loose, Mode, Motion, Proof, Tips
from loadplan.model.vehicle import Joint, Part, Place
from loadplan.statics.contact_loads import Settled, Springs, settle, springs
from loadplan.statics.equilibrium import Frame
from loadplan.statics.lean import carried_moments, leaning_loads
from loadplan.statics.mass import Array, Lump
from loadplan.statics.minimum_cut import Needs
from loadplan.statics.outline_corners import Corner
from loadplan.statics.push_tilt import Yielding
from loadplan.statics.second_order import levers
from loadplan.statics.settled_state import Leaning, Standing, settled_state
from loadplan.statics.sideways_resistance import Grip
from loadplan.statics.slope_response import footing
from loadplan.statics.stacked_push import stack
from loadplan.statics.stance import Stance
from loadplan.statics.tipping_modes import holds


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
        pushed: Of each rigid whole (q) the body that is pushed, and where [m].
        asked: The push that the stage asks for, twice over [N]: so far is searched where no friction is said.
        corners: Of each rigid whole (q) the corners of the outlines of what is on it.
        came_off: Parts that the stage takes off bodies of the group: with them on it may have leant further.
    """

    gaps: tuple[float, ...]
    uneven: tuple[float, ...]
    preload: tuple[tuple[str, float], ...]
    slope: float
    needs: Needs
    undone: tuple[Joint, ...]
    held: frozenset[str]
    grips: tuple[Grip, ...]
    pushed: tuple[tuple[str, Place], ...]
    asked: float
    corners: tuple[tuple[Corner, ...], ...]
    came_off: tuple[Part, ...] = ()


@dataclass(frozen=True, slots=True)
class Solved:
    """One group solved; lists in the frame's order.

    Attributes:
        answer: What reports tell of it.
        margins: Of each rigid whole [m]; None where not balanced or no mode rotates it.
        worst_margins: The same, worst.
        tip_angles: Of each rigid whole [rad].
        motions: Expected motion of each rigid whole; None where not balanced.
        settled: The same with the weights' own overturning; None where there is no such state.
        loads: Of each support; None where not balanced.
        forces: Of each mount [N]; None where not balanced.
        stance: How it stands; None where not balanced, or at a glance.
    """

    answer: GroupAnswer
    margins: tuple[float | None, ...]
    worst_margins: tuple[float | None, ...]
    tip_angles: tuple[float | None, ...]
    motions: tuple[Motion, ...] | None
    settled: tuple[Motion, ...] | None
    loads: tuple[Load, ...] | None
    forces: tuple[float, ...] | None
    stance: Stance | None = None


def bare(frame: Frame, proof: Proof, modes: tuple[Mode, ...]) -> GroupAnswer:
    """Tell no more of a group than whether it stands, and how it could go over.

    Args:
        frame: The group.
        proof: The evidence.
        modes: Every way to go over, as told.

    Returns:
        The answer, not robust, and with nothing else in it.
    """
    return GroupAnswer(
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
        pushes=(),
        laid_on=(),
    )


def fallen(frame: Frame, proof: Tips | Loose, modes: tuple[Mode, ...]) -> Solved:
    """Tell of a group that does not stand.

    Args:
        frame: The group.
        proof: How it goes.
        modes: Every way to go over, as told.

    Returns:
        Nothing but that.
    """
    # None, not 0: of what falls there is no margin at all.
    nothing = (None,) * len(frame.wholes)
    return Solved(bare(frame, proof, modes), nothing, nothing, nothing, None, None, None, None)


@dataclass(frozen=True, slots=True)
class Rest:
    """A group at rest; n supports, q rigid wholes.

    Attributes:
        held: Its springs.
        gaps: How much lower each saddle is (n), scaled.
        expected: Where it comes to rest in first order; one case.
        leaning: Its settled state; None where it goes over by its own lean.
        before: Weights (3 q), scaled, with the parts on that the stage takes off; None where it takes none off, or the
            group would not stand with them.
        tilts: Tilts (1 or 2, q, 2) in the settled state, and in that with those parts on [rad].
    """

    held: Springs
    gaps: Array
    expected: Settled
    leaning: Leaning | None
    before: Array | None
    tilts: Array


def at_rest(frame: Frame, settings: Settings, motions: Array) -> Rest:
    """Let a group come to rest as it is set.

    Args:
        frame: The group, balanced.
        settings: What it is solved with.
        motions: Its scaled modes (k, 3 q).

    Returns:
        Its springs, and where they hold it.
    """
    held = springs(frame, dict(settings.preload))
    # The floor as it is taken to be; by how much it may be off is looked at apart, for the ranges.
    gaps = np.array(settings.gaps) / frame.span
    expected, leaning = _settled(frame, held, gaps)
    tilts = [] if leaning is None else [leaning.tilts]
    # It leans with those parts on, too, before they come off: both leans count.
    with_parts = _with_parts_on(frame, settings.came_off)
    before = with_parts.load if settings.came_off and holds(with_parts, motions) else None
    if before is not None and (leant := _settled(with_parts, held, gaps)[1]) is not None:
        tilts.append(leant.tilts)
    return Rest(held, gaps, expected, leaning, before, np.array(tilts).reshape(-1, len(frame.wholes), 2))


def _settled(frame: Frame, held: Springs, gaps: Array) -> tuple[Settled, Leaning | None]:
    expected = settle(held, frame.load[None, :], gaps[None, :])
    return expected, settled_state(Standing(held, gaps, frame.load, expected, levers(frame, expected)))


def _with_parts_on(frame: Frame, parts: tuple[Part, ...]) -> Frame:
    """Return a group with parts on it that the stage takes off; forces stay shares of the weight without them."""
    exact = (0.0, 0.0, 0.0)
    added = tuple(
        Lump(part.body, part.name, 1, part.mass, part.mass, part.mass, part.at, exact, counts=True, optional=False)
        for part in parts
    )
    load = frame.load.copy()
    for lump in added:
        x, y = ((lump.at[axis] - frame.middle[axis]) / frame.span for axis in (0, 1))
        whole = frame.whole(lump.body)
        load[3 * whole : 3 * whole + 3] += lump.mass * GRAVITY / frame.weight * np.array([1.0, y, -x])
    whole_of = np.array([*frame.whole_of, *(frame.whole(lump.body) for lump in added)], dtype=np.intp)
    return replace(frame, lumps=(*frame.lumps, *added), load=load, whole_of=whole_of)


def stance(frame: Frame, rest: Rest, motions: Array) -> Stance | None:
    """Tell how a group stands, as far as it tells how hard it is to upset.

    Args:
        frame: The group, balanced.
        rest: Where it rests.
        motions: Its scaled modes (k, 3 q).

    Returns:
        Its sway, its weights upright and with its lean, and how it gives way; None where it goes over by its own lean.
    """
    if rest.leaning is None:
        return None
    yielding, stacked, carried = None, None, rest.expected.loads[0]
    if any(support.on in frame.bodies for support in frame.supports):
        standing = Standing(rest.held, rest.gaps, frame.load, rest.expected, levers(frame, rest.expected))
        stacked = stack(frame, footing(standing, rest.leaning), carried)
    if len(frame.wholes) == 1:
        yielding = Yielding(
            frame=frame,
            held=rest.held,
            gaps=rest.gaps,
            touching=rest.leaning.touching,
            motions=motions,
            overturning=max(float(levers(frame, rest.expected)[0]), 0.0),
            saddles=float(carried @ np.array([each.at[2] for each in frame.supports]) / carried.sum()),
        )
    return Stance(
        rest.leaning.sway,
        np.vstack([frame.load, leaning_loads(frame, rest.tilts[::-1], carried_moments(frame, carried))]),
        carried * frame.weight,
        yielding,
        stacked,
    )


def finite(values: Array) -> tuple[float | None, ...]:
    """Put None where there is no end.

    Args:
        values: Any numbers.

    Returns:
        The same, with None for what is infinite.
    """
    return tuple(None if value == inf else float(value) for value in values)
