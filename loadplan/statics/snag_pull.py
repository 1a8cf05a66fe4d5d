"""Snag pull: what a hose or a bolt that was left on has to pull upwards before a group goes over.

Work against weight: along a mode the weights do the work W, the snag takes its force times the rise at its place. The
group goes over by the mode for which W / rise is least; by a mode that does not lift its place it cannot be pulled.
"""

from loadplan.model.answer import Mode
from loadplan.model.disturbance import Snag
from loadplan.model.vehicle import Joint
from loadplan.statics.tipping_modes import EDGE

LITTLE = 200.0
"""Upward pull [N] that a hose or strap left on may give unseen; common practice, no source."""


def snags(undone: tuple[Joint, ...], free: frozenset[str], modes: tuple[Mode, ...]) -> tuple[Snag, ...]:
    """Find the least upward pull at each undone joint that takes a body out of balance.

    Args:
        undone: Joints undone at bodies of a group.
        free: Bodies of the group at which one is looked for.
        modes: The modes of the group.

    Returns:
        One record for each joint with places and each of its free bodies.
    """
    return tuple(
        Snag(joint.name, body, _least_pull(joint, body, modes))
        for joint in undone
        for body in joint.between
        if body in free and joint.at
    )


def _least_pull(joint: Joint, body: str, modes: tuple[Mode, ...]) -> float | None:
    """Return the least upward force [N] on a body at a joint that takes a mode's work away."""
    pulls = [
        mode.work / rise
        for mode in modes
        for x, y, _ in joint.at
        # A rise of nothing would make the pull endless or negative: such a mode is not pulled at all.
        if (rise := dict(mode.motions)[body].up_at(x, y)) > EDGE
    ]
    return min(pulls, default=None)
