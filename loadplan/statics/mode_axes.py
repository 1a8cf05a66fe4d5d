"""What each mode turns about, and which bodies move in it: the names that people read."""

from dataclasses import replace
from math import inf

from loadplan.model.answer import Mode
from loadplan.statics.equilibrium import Frame
from loadplan.statics.lean_figures import ModeFigures
from loadplan.statics.mass import Array
from loadplan.statics.tipping_modes import STILL, margins


def told(frame: Frame, motions: Array) -> tuple[Mode, ...]:
    """Name what each mode turns about, least margin first.

    Args:
        frame: The group.
        motions: Scaled modes (k, 3 q).

    Returns:
        One record a mode.
    """
    reach = margins(frame, motions)
    return tuple(_mode(frame, motions[number], reach[number]) for number in _nearest_first(reach))


def with_lean(
    frame: Frame, motions: Array, modes: tuple[Mode, ...], figures: tuple[ModeFigures, ...]
) -> tuple[Mode, ...]:
    """Say at which floor slope each mode goes, and what it comes to in the worst case.

    Args:
        frame: The group.
        motions: Scaled modes (k, 3 q).
        modes: The same, as told.
        figures: What the lean makes of each of the motions; empty where there is no settled state.

    Returns:
        The modes, as told.
    """
    if not figures:
        return modes
    order = _nearest_first(margins(frame, motions))
    return tuple(_leaning(frame, mode, figures[number]) for mode, number in zip(modes, order, strict=True))


def _leaning(frame: Frame, mode: Mode, figures: ModeFigures) -> Mode:
    """Return a mode with what the lean makes of it."""
    worst = [(name, figures.worst_margins[frame.whole(name)]) for name, _ in mode.margins]
    return replace(mode, tip_angle=figures.tip_angle, worst_margins=tuple(worst), least_work=figures.least_work)


def _nearest_first(reach: Array) -> list[int]:
    return sorted(range(len(reach)), key=lambda number: float(reach[number].min(initial=inf)))


def _mode(frame: Frame, motion: Array, reach: Array) -> Mode:
    """Return a mode in names: what it turns about, what moves, its work [N m] and the margins of what it rotates."""
    return Mode(
        about=still(frame, motion),
        bodies=_moving(frame, motion),
        motions=frame.motions(motion),
        work=float(motion @ frame.load) * frame.weight * frame.span,
        margins=tuple(
            (name, far) for names, far in zip(frame.wholes, reach.tolist(), strict=True) if far < inf for name in names
        ),
    )


def _moving(frame: Frame, motion: Array) -> tuple[str, ...]:
    """Return the bodies that a scaled motion (3 q) moves."""
    # As plain numbers: there are dozens of modes of a few numbers each, and a call for each three would take longer.
    moved = motion.tolist()
    return tuple(
        name
        for whole, names in enumerate(frame.wholes)
        if any(abs(each) > STILL for each in moved[3 * whole : 3 * whole + 3])
        for name in names
    )


def still(frame: Frame, motion: Array) -> tuple[str, ...]:
    """Name what does not move in a motion: supports under the moving bodies, and mounts at them.

    Args:
        frame: The group.
        motion: Scaled motion (3 q).

    Returns:
        Names of supports, then of mounts.
    """
    moves = set(_moving(frame, motion))
    turns = {name: frame.motion(motion, frame.whole(name)) for name in moves}
    # The same bound as for supports: their rows are scaled, motions of bodies are in metres.
    near = STILL * frame.span
    supports = [
        support.name
        for support, up in zip(frame.supports, (frame.up @ motion).tolist(), strict=True)
        # What stands under a body at rest does not move either, and tells nothing of the axis.
        if moves & {support.body, support.on} and abs(up) <= STILL
    ]
    mounts = [
        mount.name
        for mount in frame.mounts
        if (ends := moves & set(mount.between))
        and all(abs(turns[end].up_at(mount.at[0][0], mount.at[0][1])) <= near for end in ends)
    ]
    return (*supports, *mounts)
