"""Mount failure: which mounts a group would not stand without, each in turn."""

from loadplan.model.vehicle import JointKind
from loadplan.statics.equilibrium import Frame, without_mount
from loadplan.statics.tipping_modes import stands, subset_count

MOST_SUBSETS = 40_000
"""Most subsets of supports that are looked at for one mount; with more it is taken to be needed, the careful answer."""


def needed_mounts(frame: Frame) -> tuple[str, ...]:
    """Find the mounts on which balance hangs though stands hold what they tie.

    A body that hangs in its mounts alone, as on the vehicle, is left out: there is no other way to hold it. So is a
    group that the lift holds, and a mount of which the file says what it may carry.

    Args:
        frame: The group, balanced as given.

    Returns:
        Their names, in the frame's order.
    """
    return tuple(frame.mounts[number].name for number in _asked_about(frame) if _is_needed(frame, number))


def less_each_mount(frame: Frame) -> tuple[Frame, ...]:
    """Take away each mount without which a group still stands, and on which its balance might hang with more on it.

    Args:
        frame: The group, balanced as given.

    Returns:
        The group without each of them.
    """
    return tuple(without_mount(frame, number) for number in _asked_about(frame) if not _is_needed(frame, number))


def _asked_about(frame: Frame) -> tuple[int, ...]:
    """Return the numbers of the mounts of which it is asked whether the group would stand without them."""
    if any(support.is_arm for support in frame.supports):
        return ()
    borne = {frame.whole(support.body) for support in frame.supports}
    return tuple(
        number
        for number, mount in enumerate(frame.mounts)
        if mount.limit is None and {frame.whole(body) for body in mount.between} <= borne
    )


def needed_links(frame: Frame) -> tuple[str, ...]:
    """Find the links on which balance hangs in a group that stands on the floor.

    A link holds along its line only, so what it holds changes as a body leans: more than a mount's.

    Args:
        frame: The group, balanced as given.

    Returns:
        Their names, in the frame's order; none where the lift holds the group.
    """
    if any(support.is_arm for support in frame.supports):
        return ()
    links = [number for number, mount in enumerate(frame.mounts) if mount.kind is JointKind.LINK]
    return tuple(frame.mounts[number].name for number in links if _is_needed(frame, number))


def _is_needed(frame: Frame, number: int) -> bool:
    """Return whether a group stands only with one of its mounts; one too large to look at counts as such."""
    less = without_mount(frame, number)
    return subset_count(less) > MOST_SUBSETS or not stands(less)
