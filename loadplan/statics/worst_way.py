"""The way over that is worst with tolerance, lean and slope: what goes, and the side that a cure has to name."""

from math import inf
from typing import assert_never

from loadplan.model.answer import Balanced, GroupAnswer, Loose, Mode, Motion, Tips

SAME = 1e-9
"""Margins that differ by less [m] are the same; then the one that is nearer as given is named."""

STILL = 1e-9
"""Share of the largest motion in a group below which a body stays where it is: rounding."""


def worst_way(group: GroupAnswer, body: str = "") -> Mode | None:
    """Find the way in which a group, or one of its bodies, comes nearest to going over in the worst case.

    The edge that is nearest with everything as given may be another one: a centre of gravity that is well known along
    the vehicle and poorly across it goes over sideways first.

    Args:
        group: The group.
        body: One of its bodies; "" for any.

    Returns:
        The mode with the least worst margin; with the least margin as given where worst ones are not known; None where
        none rotates the body.
    """
    ways = [mode for mode in group.modes if body in dict(mode.margins)] if body else list(group.modes)
    if not ways:
        return None
    margins = [_margin(mode, body) for mode in ways]
    least = min(margins)
    return next(mode for mode, margin in zip(ways, margins, strict=True) if margin <= least + SAME)


def least_tilt_way(group: GroupAnswer, body: str) -> Mode | None:
    """Find the way in which a body goes over at the least tilt.

    Args:
        group: Its group.
        body: The body.

    Returns:
        The mode; None where no tip angle is known.
    """
    ways = [(mode.tip_angle, mode) for mode in group.modes if body in dict(mode.margins) and mode.tip_angle is not None]
    return min(ways, key=lambda each: each[0])[1] if ways else None


def falling_way(group: GroupAnswer) -> Mode | None:
    """Find the mode by which a group goes over as given.

    Args:
        group: The group.

    Returns:
        The mode; None where there is none.
    """
    # A centre of gravity within a hair of an edge tips though the work is above 0: then the least margin tells.
    return min(group.modes, key=lambda mode: (mode.work > 0, *(margin for _, margin in mode.margins[:1])), default=None)


def what_moves(group: GroupAnswer) -> tuple[str, ...]:
    """Name what goes over or is free to rock in a group: its neighbours that stay where they are are not blamed.

    Args:
        group: The group.

    Returns:
        The assemblies; of a group that stands as given, but not over its whole tolerance, those that may go over; all
        of one that stands, or whose ways to go over are not known.
    """
    match group.proof:
        case Balanced():
            mode = None if group.robust else worst_way(group)
            return mode.bodies if mode else group.bodies
        case Tips(motions=motions):
            mode = falling_way(group)
            return mode.bodies if mode else _moving(motions)
        case Loose(motions=motions):
            return _moving(motions)
        case _:
            assert_never(group.proof)


def _moving(motions: tuple[tuple[str, Motion], ...]) -> tuple[str, ...]:
    sizes = {body: max(abs(motion.w), abs(motion.rx), abs(motion.ry)) for body, motion in motions}
    return tuple(body for body, size in sizes.items() if size > STILL * max(sizes.values()))


def _margin(mode: Mode, body: str) -> float:
    """Return the least margin of a mode [m]; one that rotates nothing has none, and goes where its work may be gone."""
    known = dict(mode.worst_margins or mode.margins)
    if known:
        return known[body] if body else min(known.values())
    return inf if mode.least_work is None or mode.least_work > 0 else -inf
