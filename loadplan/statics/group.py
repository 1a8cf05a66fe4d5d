"""One group solved: does it stand, how far from tipping, what does each support carry."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import inf
from typing import TypeAlias

import numpy as np

from loadplan.model.answer import Balanced, Load, LoadRange, Loose, Mode, Tips
from loadplan.statics.contact_loads import settle
from loadplan.statics.edge_of_tolerance import LeanAndSlope, most_at_edge
from loadplan.statics.equilibrium import Frame
from loadplan.statics.jack_sinking import sunk_supports
from loadplan.statics.laid_on_weight import weights_laid_on
from loadplan.statics.lean import Tilted, tilt_prices, upright
from loadplan.statics.lean_figures import LeanFigures, leaning, worst_leaning
from loadplan.statics.load_bounds import Bounds, load_bounds
from loadplan.statics.mass import Array
from loadplan.statics.mode_axes import told, with_lean
from loadplan.statics.mount_failure import needed_links, needed_mounts
from loadplan.statics.resting_state import Rest, Settings, Solved, at_rest, bare, fallen, finite, stance
from loadplan.statics.sideways_push import least_pushes
from loadplan.statics.snag_pull import snags
from loadplan.statics.support_failure import lost_supports
from loadplan.statics.tipping_modes import Ways, free_motion, margins, over, rays, ways
from loadplan.statics.uneven_floor import EVERY_CORNER, LoadEnds, load_range, mass_levels, tilting_corners
from loadplan.statics.worst_margin import worst

MOST_IN_FULL = 8
"""Up to so many supports every corner of an uneven floor is looked at in a search over many places."""

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


def lean_in_full(frame: Frame, settings: Settings) -> Solved:
    """Find the margins of one group as `solve` does, with every corner of an uneven floor, and nothing else of it.

    Args:
        frame: Its equations.
        settings: What they are solved with.

    Returns:
        What `glance` gives; its worst margins are those of `solve`, where not too many supports are in the group.
    """
    return _looked_at(frame, settings, _leant_in_full)


def upright_in_full(frame: Frame, settings: Settings) -> Solved:
    """Find margins, tip angles and sway of one group as `solve` does; the rest only where that is as quick.

    Args:
        frame: Its equations.
        settings: What they are solved with.

    Returns:
        What `lean_in_full` gives, or `solve` where that would leave out corners of an uneven floor.
    """
    return solve(frame, settings) if len(frame.supports) > MOST_IN_FULL else lean_in_full(frame, settings)


def margins_in_full(frame: Frame, settings: Settings) -> tuple[float, ...] | None:
    """Find the worst margins of one group, those of `lean_in_full`, and nothing else of it.

    Args:
        frame: The group.
        settings: What it is solved with.

    Returns:
        Worst margin of each rigid whole (q) [m], infinite where no mode rotates it; None where the group does not
        stand over the whole tolerance.
    """
    if free_motion(frame) is not None:
        return None
    motions = rays(frame)
    if over(frame, motions) is not None:
        return None
    rest = at_rest(frame, settings, motions)
    if rest.leaning is None:
        return None
    if len(frame.supports) > MOST_IN_FULL:
        tilts: tuple[Array, ...] = (_tilts(frame, settings, rest, motions),)
    else:
        tilts = tuple(each.tilts for each in _ranged(frame, settings, rest, motions))
    found = worst_leaning(frame, settings, rest, (motions, tilts))
    return tuple(found.margins.tolist()) if found is not None and found.robust else None


def glance_between(frame: Frame, settings: Settings) -> Solved:
    """Look at one group in passing, where what happens between two stages is wanted: drops, orders, what is raised.

    It does what `glance` does. That it is this one tells who solves the stages that they are to be compared, too.

    Args:
        frame: Its equations.
        settings: What they are solved with.

    Returns:
        What `glance` gives.
    """
    return glance(frame, settings)


BRIEF = frozenset((glance, glance_between))
"""Looks that tell nothing of how far the lift comes down but where it stands."""


def _looked_at(frame: Frame, settings: Settings, standing: Look) -> Solved:
    """Return the proof where the group does not stand, else what `standing` makes of it."""
    # In this order: with a motion free there is no finite list of modes, and without balance there are no loads.
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
    rest = at_rest(frame, settings, motions)
    ranged = _ranged(frame, settings, rest, motions)
    lean = leaning(frame, settings, rest, (motions, tuple(each.tilts for each in ranged)))
    solved = _told(frame, rest, (motions, modes), _loads(frame, settings, (rest, ranged[0]), motions), lean)
    stands = stance(frame, rest, motions)
    answer = replace(
        solved.answer,
        snags=snags(settings.undone, frozenset(frame.bodies) - settings.held, modes),
        lost=lost_supports(frame, found.without(), settings),
        sunk=sunk_supports(frame, rest.held, rest.gaps),
        simplified=len(frame.supports) > EVERY_CORNER,
        pushes=() if stands is None else least_pushes(frame, settings, stands),
        laid_on=() if stands is None else weights_laid_on(frame, motions, stands, settings.corners),
        needed_mounts=needed_mounts(frame),
        needed_links=needed_links(frame),
    )
    return replace(solved, answer=answer, stance=stands)


def _glanced(frame: Frame, settings: Settings, found: Ways, modes: tuple[Mode, ...]) -> Solved:
    motions = found.all_there
    rest = at_rest(frame, settings, motions)
    expected = [frame.weight * float(share) for share in rest.expected.loads[0]]
    loads = tuple(Load(load, range=None) for load in expected)
    tilts = () if rest.leaning is None else (_tilts(frame, settings, rest, motions),)
    return _told(frame, rest, (motions, modes), loads, leaning(frame, settings, rest, (motions, tilts)))


def _leant_in_full(frame: Frame, settings: Settings, found: Ways, modes: tuple[Mode, ...]) -> Solved:
    if len(frame.supports) > MOST_IN_FULL:
        return _glanced(frame, settings, found, modes)
    motions = found.all_there
    rest = at_rest(frame, settings, motions)
    loads = tuple(Load(frame.weight * float(share), range=None) for share in rest.expected.loads[0])
    tilts = tuple(each.tilts for each in _ranged(frame, settings, rest, motions))
    return _told(frame, rest, (motions, modes), loads, leaning(frame, settings, rest, (motions, tilts)))


def _tilts(frame: Frame, settings: Settings, rest: Rest, motions: Array) -> Array:
    """Return tilts (c, q, 2) on an uneven floor: of all the corners those that are likely to cost a mode most."""
    touching = rest.expected.loads[0] > 0
    held, uneven = rest.held.only(touching), np.array(settings.uneven) / frame.span
    telling = tilting_corners(held, uneven[touching], tilt_prices(frame, motions))
    off = np.tile(rest.gaps, (len(telling), 1))
    off[:, touching] += telling
    levels = np.vstack([mass_levels(frame, motions), *([] if rest.before is None else [rest.before])])
    settled = settle(rest.held, np.repeat(levels, len(off), axis=0), np.tile(off, (len(levels), 1)))
    tilts: Array = settled.motions.reshape(len(settled.motions), -1, 3)[:, :, 1:]
    return tilts


def _told(
    frame: Frame, rest: Rest, over_it: tuple[Array, tuple[Mode, ...]], loads: tuple[Load, ...], lean: LeanFigures
) -> Solved:
    """Return what both looks tell of a group that stands."""
    motions, modes = over_it
    modes = with_lean(frame, motions, modes, lean.by_mode)
    forces = tuple(float(each) * frame.weight for each in rest.expected.forces[0])
    proof = Balanced(
        tuple((support.name, load.expected) for support, load in zip(frame.supports, loads, strict=True)),
        tuple((mount.name, force) for mount, force in zip(frame.mounts, forces, strict=True)),
    )
    return Solved(
        answer=replace(bare(frame, proof, modes), robust=lean.robust, sway=lean.sway, worst_tilts=lean.worst_tilts),
        margins=finite(margins(frame, motions).min(axis=0, initial=inf)),
        worst_margins=lean.worst_margins,
        tip_angles=lean.tip_angles,
        motions=tuple(frame.motion(rest.expected.motions[0], whole) for whole in range(len(frame.wholes))),
        settled=lean.settled,
        loads=loads,
        forces=forces,
    )


def _ranged(frame: Frame, settings: Settings, rest: Rest, motions: Array) -> tuple[LoadEnds, ...]:
    """Return the loads on an uneven floor, and where the stage takes parts off those with the parts on as well."""
    uneven = np.array(settings.uneven) / frame.span
    levels = [mass_levels(frame, motions)] + ([] if rest.before is None else [rest.before[None, :]])
    return tuple(load_range(rest.held, each, rest.gaps, uneven) for each in levels)


def _loads(frame: Frame, settings: Settings, rested: tuple[Rest, LoadEnds], motions: Array) -> tuple[Load, ...]:
    """Return the load of each support; bounded only where the group, without lean, stands over its whole tolerance."""
    rest, ranged = rested
    flat = Tilted(settings.slope, upright(frame))
    bounds = load_bounds(frame, motions) if worst(frame, motions, flat, settings.needs).robust else None
    # What may tip inside its tolerance is told as that; how much it presses where then is asked of what stands.
    if bounds is None or not len(rest.tilts):
        edge = ranged.high
    else:
        edge = most_at_edge(frame, rest.held, ranged, LeanAndSlope(rest.tilts[0], settings.slope))
    shares = np.column_stack([rest.expected.loads[0], ranged.low, ranged.high, edge]).tolist()
    return tuple(_load(frame.weight, row, bounds, number) for number, row in enumerate(shares))


def _load(weight: float, shares: Sequence[float], bounds: Bounds | None, number: int) -> Load:
    """Return the load of one support [N]; rounding must not put the range inside what it is to hold."""
    expected, low, high, edge = (weight * share for share in shares)
    # The expected load comes of another solution, and may lie a rounding outside its own range.
    low, high = min(low, expected), max(high, expected)
    if bounds is None:
        return Load(expected, LoadRange(low, high, None, None, edge))
    least, most = weight * float(bounds.least[number]), weight * float(bounds.most[number])
    return Load(expected, LoadRange(low, high, min(least, low), None if most == inf else max(most, high), edge))
