"""How high each saddle stands: set by a height, brought up to touch, or hung from a hoist.

A gap is how much lower a saddle is than the reference, relative to the body; the reference of a stage is
the highest of its set saddles over the floor. What stands on a body is measured from the place of that body under it:
the floor's reference says nothing of it.
"""

from collections.abc import Mapping

from loadplan.limits import Limits
from loadplan.model.answer import Motion
from loadplan.model.job import State, Support
from loadplan.model.shop import EquipmentKind


def reference(state: State) -> float | None:
    """Find what the gaps of a stage are measured from.

    Args:
        state: The state.

    Returns:
        The smallest (point z − height − shim) of the supports that bear on the floor with set heights [m]; None
        without any.
    """
    # The saddle that stands highest against its place is met first: measured from it no gap is below 0.
    over_floor = (_depth(support) for support in state.bearing if not support.on)
    return min((depth for depth in over_floor if depth is not None), default=None)


def set_gap(support: Support, against: float | None) -> float | None:
    """Measure the gap of a support with a set height.

    Args:
        support: The support.
        against: The reference of what stands on the floor [m].

    Returns:
        The gap [m], below 0 where it stands higher than the place that it bears on; None for a support without a set
        height, and on the floor without a reference.
    """
    depth = _depth(support)
    if support.on and depth is not None:
        # Nobody knows on what it stands there: at its height it reaches, or it would not have been planned so.
        return 0.0 if support.foot is None else depth - support.foot
    return None if depth is None or against is None else depth - against


def is_touching(support: Support) -> bool:
    """Tell whether a support is brought up to touch when it is put in place, and stays there.

    Args:
        support: The support.

    Returns:
        False for what has a set height, for arms of the lift and for hoists.
    """
    return support.set_height is None and support.equipment.kind not in {EquipmentKind.ARM, EquipmentKind.HOIST}


def touch_gap(support: Support, motions: Mapping[str, Motion]) -> float:
    """Find the gap at which a saddle just touches its body as it stands.

    Args:
        support: The support.
        motions: How each body stands; one that is not among them stands in the file's attitude.

    Returns:
        The gap [m].
    """
    # In the file's attitude everything touches where it is drawn.
    if support.body not in motions:
        return 0.0
    x, y, _ = support.at
    below = motions[support.on].up_at(x, y) if support.on in motions else 0.0
    return below - motions[support.body].up_at(x, y)


def unevenness(support: Support, limits: Limits) -> float:
    """Say how far a saddle may be off the height at which it was put in place.

    Args:
        support: The support.
        limits: What is asked of the plan.

    Returns:
        Plus or minus [m]: less where it was brought up to touch, as arms, hoists and what stands by are.
    """
    # Bringing a saddle up takes its own error out; a height that was set keeps it.
    return limits.uneven_touch if support.set_height is None else limits.uneven


def _depth(support: Support) -> float | None:
    return None if support.set_height is None else support.at[2] - support.set_height
