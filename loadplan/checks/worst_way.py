"""The way over that is worst with tolerance, lean and slope: the side that a cure has to name."""

from math import inf

from loadplan.model.answer import GroupAnswer, Mode

SAME = 1e-9
"""Margins that differ by less [m] are the same; then the one that is nearer as given is named."""


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


def _margin(mode: Mode, body: str) -> float:
    """Return the least margin of a mode [m]; one that rotates nothing has none, and goes where its work may be gone."""
    known = dict(mode.worst_margins or mode.margins)
    if known:
        return known[body] if body else min(known.values())
    return inf if mode.least_work is None or mode.least_work > 0 else -inf
