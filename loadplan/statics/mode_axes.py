"""What each mode turns about, and which bodies move in it: the names that people read."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import inf
from typing import NamedTuple

from loadplan.model.answer import Mode, Motion
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
    # All products at once, then plain numbers: of dozens of modes of a few numbers each, a call for each takes longer.
    lifted, works = (motions @ frame.up.T).tolist(), (motions @ frame.load).tolist()
    rows, far = motions.tolist(), reach.tolist()
    return tuple(
        _mode(frame, _Moved(rows[number], lifted[number], works[number]), far[number])
        for number in _nearest_first(reach)
    )


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


class _Moved(NamedTuple):
    """A scaled motion as plain numbers.

    Attributes:
        motion: Its 3 q numbers.
        lifted: How much it lifts each support (n).
        work: How much it raises the weights.
    """

    motion: list[float]
    lifted: list[float]
    work: float


def _mode(frame: Frame, moved: _Moved, reach: list[float]) -> Mode:
    """Return a mode in names: what it turns about, what moves, its work [N m] and the margins of what it rotates."""
    motions = frame.motions(moved.motion)
    bodies = _moving(frame, moved.motion)
    return Mode(
        about=_still(frame, moved.lifted, {name: motion for name, motion in motions if name in bodies}),
        bodies=bodies,
        motions=motions,
        work=moved.work * frame.weight * frame.span,
        margins=tuple(
            (name, far) for names, far in zip(frame.wholes, reach, strict=True) if far < inf for name in names
        ),
    )


def _moving(frame: Frame, motion: Sequence[float]) -> tuple[str, ...]:
    """Return the bodies that a scaled motion (3 q) moves."""
    return tuple(
        name
        for whole, names in enumerate(frame.wholes)
        if any(abs(each) > STILL for each in motion[3 * whole : 3 * whole + 3])
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
    numbers = motion.tolist()
    bodies = _moving(frame, numbers)
    turns = {name: turn for name, turn in frame.motions(numbers) if name in bodies}
    return _still(frame, (frame.up @ motion).tolist(), turns)


def _still(frame: Frame, lifted: Sequence[float], turns: Mapping[str, Motion]) -> tuple[str, ...]:
    """Return what does not move: supports by how much each is lifted (n), mounts by how the moving bodies turn."""
    moves = turns.keys()
    # The same bound as for supports: their rows are scaled, motions of bodies are in metres.
    near = STILL * frame.span
    supports = [
        support.name
        for support, up in zip(frame.supports, lifted, strict=True)
        # What stands under a body at rest does not move either, and tells nothing of the axis.
        if abs(up) <= STILL and (support.body in moves or support.on in moves)
    ]
    mounts = [
        mount.name
        for mount in frame.mounts
        if (ends := [each for each in mount.between if each in moves])
        and all(abs(turns[end].up_at(mount.at[0][0], mount.at[0][1])) <= near for end in ends)
    ]
    return (*supports, *mounts)
