"""One group solved: does it stand, how far from tipping, what does each support carry."""

from collections.abc import Callable
from dataclasses import replace
from math import inf
from typing import TypeAlias

import numpy as np

from loadplan.model.answer import Balanced, Load, LoadRange, Loose, Mode, Tips
from loadplan.statics.equilibrium import Frame
from loadplan.statics.jack_sinking import sunk_supports
from loadplan.statics.laid_on_weight import weights_laid_on
from loadplan.statics.load_bounds import Bounds, load_bounds
from loadplan.statics.mass import Array
from loadplan.statics.mode_axes import told
from loadplan.statics.push_tilt import Yielding
from loadplan.statics.resting_state import Rest, Settings, Solved, at_rest, bare, fallen, finite, heights
from loadplan.statics.second_order import sway
from loadplan.statics.sideways_push import least_pushes
from loadplan.statics.snag_pull import snags
from loadplan.statics.stance import Stance
from loadplan.statics.support_failure import lost_supports
from loadplan.statics.tipping_modes import Ways, free_motion, margins, over, tip_angles, ways
from loadplan.statics.uneven_floor import EVERY_CORNER, load_range, mass_levels
from loadplan.statics.worst_margin import Worst, worst

Look: TypeAlias = Callable[[Frame, Settings, Ways, tuple[Mode, ...]], Solved]
"""What is told of a group that stands, from its ways to go over, scaled and as told."""


def solve(frame: Frame, settings: Settings) -> Solved:
    """Solve one group.

    Args:
        frame: Its equations.
        settings: What they are solved with.

    Returns:
        Everything that is told of the group.
    """
    return _looked_at(frame, settings, _standing)


def glance(frame: Frame, settings: Settings) -> Solved:
    """Look at one group in passing, while a stand is being moved: what takes longest is left for `solve`.

    Args:
        frame: Its equations.
        settings: What they are solved with.

    Returns:
        Proof, ways over, margins and expected loads as `solve` gives them. Loads have no range, and snags, lost and
        sunk supports, sway, pushes and what may be laid on are left out.
    """
    return _looked_at(frame, settings, _glanced)


def _looked_at(frame: Frame, settings: Settings, standing: Look) -> Solved:
    """Return the proof where the group does not stand, else what `standing` makes of it."""
    loose = free_motion(frame)
    if loose is not None:
        return fallen(frame, Loose(frame.motions(loose)), ())
    found = ways(frame)
    modes = told(frame, found.all_there)
    going = over(frame, found.all_there)
    if going is not None:
        return fallen(frame, Tips(frame.motions(going)), modes)
    return standing(frame, settings, found, modes)


def _standing(frame: Frame, settings: Settings, found: Ways, modes: tuple[Mode, ...]) -> Solved:
    """Return everything that is asked about a group that stands as given."""
    motions = found.all_there
    rest = at_rest(frame, settings)
    worst_margin = worst(frame, motions, settings.slope, settings.needs)
    loads = _loads(frame, settings, rest, (motions, worst_margin.robust))
    solved = _told(frame, rest, (motions, modes), worst_margin, loads)
    swayed = sway(rest.held, rest.settled.loads[0], frame.load[::3] * heights(frame) / frame.span)
    yielding = Yielding.of(frame, (rest.held, rest.gaps), rest.settled, motions)
    stance = Stance(min(swayed, 1.0), _upright_and_leant(frame, yielding), yielding)
    answer = replace(
        solved.answer,
        snags=snags(settings.undone, frozenset(frame.bodies) - settings.held, modes),
        lost=lost_supports(frame, found.without),
        sunk=sunk_supports(frame, rest.held, rest.gaps),
        simplified=len(frame.supports) > EVERY_CORNER,
        sway=swayed,
        pushes=least_pushes(frame, settings, stance),
        laid_on=weights_laid_on(frame, motions, stance, settings.corners),
    )
    return replace(solved, answer=answer, stance=stance)


def _upright_and_leant(frame: Frame, yielding: Yielding | None) -> Array:
    leant = None if yielding is None else yielding.leant_under(np.zeros((1, 3)))
    return np.vstack([frame.load, *([] if leant is None or not leant.found[0] else leant.loads)])


def _glanced(frame: Frame, settings: Settings, found: Ways, modes: tuple[Mode, ...]) -> Solved:
    rest = at_rest(frame, settings)
    expected = [frame.weight * float(share) for share in rest.settled.loads[0]]
    loads = tuple(Load(load, range=None) for load in expected)
    worst_margin = worst(frame, found.all_there, settings.slope, settings.needs)
    return _told(frame, rest, (found.all_there, modes), worst_margin, loads)


def _told(
    frame: Frame, rest: Rest, over_it: tuple[Array, tuple[Mode, ...]], worst_margin: Worst, loads: tuple[Load, ...]
) -> Solved:
    """Return what both looks tell of a group that stands."""
    motions, modes = over_it
    forces = tuple(float(each) * frame.weight for each in rest.settled.forces[0])
    proof = Balanced(
        tuple((support.name, load.expected) for support, load in zip(frame.supports, loads, strict=True)),
        tuple((mount.name, force) for mount, force in zip(frame.mounts, forces, strict=True)),
    )
    return Solved(
        answer=replace(bare(frame, proof, modes), robust=worst_margin.robust),
        margins=finite(margins(frame, motions).min(axis=0, initial=inf)),
        worst_margins=finite(worst_margin.margins),
        tip_angles=tip_angles(frame, motions, heights(frame)),
        motions=tuple(frame.motion(rest.settled.motions[0], whole) for whole in range(len(frame.wholes))),
        loads=loads,
        forces=forces,
    )


def _loads(frame: Frame, settings: Settings, rest: Rest, ways_over: tuple[Array, bool]) -> tuple[Load, ...]:
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


def _load(weight: float, shares: tuple[float, float, float], bounds: Bounds | None, number: int) -> Load:
    """Return the load of one support [N]; rounding must not put the range inside what it is to hold."""
    expected, low, high = (weight * share for share in shares)
    low, high = min(low, expected), max(high, expected)
    if bounds is None:
        return Load(expected, LoadRange(low, high, None, None))
    least, most = weight * float(bounds.least[number]), weight * float(bounds.most[number])
    return Load(expected, LoadRange(low, high, min(least, low), None if most == inf else max(most, high)))
