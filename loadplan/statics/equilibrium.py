"""The equations of one group: S r + M f = b of every rigid whole, scaled to weight 1 and span 1.

Each rigid whole has three motions: heave w, roll rx, pitch ry; its point (x, y) moves up by
w + rx·y − ry·x. Inside a frame lengths are divided by the group's span, measured from its middle,
and forces by its weight, so that one tolerance serves a hatchback and a truck.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import Motion
from loadplan.model.job import State, Support
from loadplan.model.vehicle import Joint, JointKind, Place
from loadplan.statics.mass import Array, Lump

MOUNTS_FOR_A_LINK = 2
"""Mounts that have to tie the same two rigid wholes for a link beside them to count as one."""

LEAST_LEVER = 0.1
"""Lever of a link about the line of two mounts, as a share of how far in plan its place is from it: a link that points
at that line turns about it with what it ties, and holds nothing; common practice, no source."""

ONE_PLACE = 1e-3
"""Distance [m] in plan within which mounts count as at one place."""


@dataclass(frozen=True, slots=True)
class Frame:
    """One group of linked bodies as matrices; n supports, m mounts, p lumps, q rigid wholes.

    Attributes:
        wholes: Bodies of each rigid whole, in the job's order.
        supports: Supports that act between rigid wholes or on the floor.
        idle: Names of supports inside one rigid whole: they stand on what they bear and carry nothing.
        mounts: Mounts between rigid wholes, and links that count as mounts.
        lumps: What the wholes are made of.
        middle: Origin of the scaled axes in plan [m].
        span: Half the group's extent [m].
        weight: Weight of the group as given [N].
        up: Rows (n, 3 q): how far each support's saddle moves up, scaled.
        stretch: Rows (m, 3 q): how far each mount is stretched, scaled.
        load: Vector (3 q): the weights, as given.
        whole_of: Vector (p): whole of each lump.
        base: Vector (q): z [m] of the lowest saddle in place of each whole (with none: of its mounts).
        lowest: Vector (q): z [m] of the lowest of the saddles in place and the mounts of each whole.
        links: Links between rigid wholes that count as no mounts: nothing hangs from them or stands on them.
    """

    wholes: tuple[tuple[str, ...], ...]
    supports: tuple[Support, ...]
    idle: tuple[str, ...]
    mounts: tuple[Joint, ...]
    lumps: tuple[Lump, ...]
    middle: tuple[float, float]
    span: float
    weight: float
    up: Array
    stretch: Array
    load: Array
    whole_of: np.ndarray[tuple[int], np.dtype[np.intp]]
    base: Array
    lowest: Array
    links: tuple[Joint, ...] = ()

    @property
    def bodies(self) -> tuple[str, ...]:
        """Names of all bodies."""
        return tuple(name for whole in self.wholes for name in whole)

    def whole(self, body: str) -> int:
        """Return the number of the rigid whole of a body."""
        return next(number for number, names in enumerate(self.wholes) if body in names)

    def motion(self, scaled: Array | Sequence[float], whole: int) -> Motion:
        """Return a whole's part of a scaled motion (3 q) as a motion about the vehicle's axes."""
        heave, rx, ry = (float(each) for each in scaled[3 * whole : 3 * whole + 3])
        return Motion(self.span * heave - rx * self.middle[1] + ry * self.middle[0], rx, ry)

    def motions(self, scaled: Array | Sequence[float]) -> tuple[tuple[str, Motion], ...]:
        """Return a scaled motion (3 q) as (body, motion) of every body."""
        return tuple((name, self.motion(scaled, number)) for number, names in enumerate(self.wholes) for name in names)


def frames(state: State, lumps: tuple[Lump, ...]) -> tuple[Frame, ...]:
    """Cut a state into its groups and write down the equations of each.

    Args:
        state: The state.
        lumps: What the bodies are made of.

    Returns:
        One frame a group, in the order of its first body.
    """
    # Bolts make bodies one rigid whole; mounts and stacked stands only tie wholes, which then move against each other.
    bolted = [set(joint.between) for joint in state.done_up if joint.kind is JointKind.BOLTED]
    wholes = _united([{name} for name in state.bodies], bolted)
    tied = [set(joint.between) for joint in state.done_up]
    stacked = [{support.body, support.on} for support in state.bearing if support.on]
    groups = _united(wholes, tied + stacked)
    order = {name: number for number, name in enumerate(state.bodies)}
    return tuple(_frame(state, lumps, _sorted_wholes(group, wholes, order)) for group in groups)


def _united(sets: list[set[str]], ties: list[set[str]]) -> list[set[str]]:
    """Return disjoint sets that a tie touches merged, keeping their order."""
    for tie in ties:
        touched = [each for each in sets if each & tie]
        # A tie may bridge sets that were apart: all go where the first of them was, so that the order of the job stays.
        merged = set().union(*touched)
        sets = [merged if each is touched[0] else each for each in sets if each is touched[0] or each not in touched]
    return sets


def _sorted_wholes(group: set[str], wholes: list[set[str]], order: dict[str, int]) -> tuple[tuple[str, ...], ...]:
    """Return the wholes of a group, their bodies and themselves in the order of the job."""
    inside = [tuple(sorted(whole, key=order.__getitem__)) for whole in wholes if whole <= group]
    return tuple(sorted(inside, key=lambda names: order[names[0]]))


def _frame(state: State, lumps: tuple[Lump, ...], wholes: tuple[tuple[str, ...], ...]) -> Frame:
    """Return the frame of one group, scaled to its weight and to half its extent, so that tolerances are shares."""
    whole_of = {name: number for number, names in enumerate(wholes) for name in names}
    under = [each for each in state.bearing if each.body in whole_of]
    # What stands inside one rigid whole moves with it, and no equation tells what it carries.
    supports = tuple(each for each in under if whole_of[each.body] != whole_of.get(each.on))
    ties = tuple(
        joint
        for joint in state.done_up
        if joint.between[0] in whole_of and whole_of[joint.between[0]] != whole_of[joint.between[1]]
    )
    counts = [_counts(joint, ties, whole_of) for joint in ties]
    mounts = tuple(_upright(joint, ties, whole_of) for joint, count in zip(ties, counts, strict=True) if count)
    own = tuple(lump for lump in lumps if lump.body in whole_of)
    # A group that nothing holds falls, and even that is told in metres: its lumps give a size.
    middle, span = _extent(
        [each.at for each in supports] + [place for mount in mounts for place in mount.at] or [lump.at for lump in own]
    )
    rows = _Rows(middle, span, len(wholes))
    weight = GRAVITY * sum(lump.sign * lump.mass for lump in own if lump.counts)
    return Frame(
        wholes=wholes,
        supports=supports,
        idle=tuple(each.name for each in under if each not in supports),
        mounts=mounts,
        lumps=own,
        middle=middle,
        span=span,
        weight=weight,
        up=rows.stacked([rows.between(each.at, whole_of[each.body], whole_of.get(each.on)) for each in supports]),
        stretch=rows.stacked([
            rows.between(joint.at[0], whole_of[joint.between[0]], whole_of[joint.between[1]]) for joint in mounts
        ]),
        # Times a motion this is how far the weights rise: above 0 they resist it.
        load=sum(
            (
                lump.sign * lump.mass * GRAVITY / weight * rows.between(lump.at, whole_of[lump.body], None)
                for lump in own
                if lump.counts
            ),
            start=np.zeros(3 * len(wholes)),
        ),
        whole_of=np.array([whole_of[lump.body] for lump in own], dtype=np.intp),
        base=np.array([_base(names, supports, mounts) for names in wholes]),
        lowest=np.array([min(_heights(names, supports, mounts)) for names in wholes]),
        links=tuple(joint for joint, count in zip(ties, counts, strict=True) if not count),
    )


def without_mount(frame: Frame, number: int) -> Frame:
    """Undo one mount of a group; links that no longer count as mounts without it go, too.

    Args:
        frame: The group.
        number: Number of the mount.

    Returns:
        The group with fewer rows of stretch; its scale stays.
    """
    whole_of = {name: number for number, names in enumerate(frame.wholes) for name in names}
    rest = frame.mounts[:number] + frame.mounts[number + 1 :]
    kept = [each in rest and _counts(each, rest, whole_of) for each in frame.mounts]
    return replace(
        frame,
        mounts=tuple(each for each, keep in zip(frame.mounts, kept, strict=True) if keep),
        stretch=frame.stretch[kept],
        links=frame.links + tuple(each for each in rest if not _counts(each, rest, whole_of)),
    )


def rod_forces(frame: Frame, forces: Sequence[float]) -> dict[str, float]:
    """Find the force along its line of each link that counts as a mount.

    The equations know it as an upright force at its place. Where the mounts beside it lie in one line it holds its
    wholes from turning about that, and what does so is the moment: a rod with less lever about that line than its place
    is from it in plan is pulled harder, by as much.

    Args:
        frame: The group.
        forces: Upright force (m) in each mount [N].

    Returns:
        Force [N] by link, of the sign that the upright one has.
    """
    whole_of = {name: number for number, names in enumerate(frame.wholes) for name in names}
    return {
        joint.name: float(force) / _lever_share(joint, frame.mounts, whole_of)
        for joint, force in zip(frame.mounts, forces, strict=True)
        if joint.kind is JointKind.LINK
    }


def _counts(joint: Joint, ties: tuple[Joint, ...], whole_of: dict[str, int]) -> bool:
    """Return whether a joint between wholes acts as a mount.

    A link does only beside two or more mounts of the same two wholes: alone a rod turns about its joints, and lies
    level while what it ties goes up and down. So it has to keep its wholes from turning about the line of the two that
    are furthest apart.
    """
    return joint.kind is not JointKind.LINK or _lever_share(joint, ties, whole_of) >= LEAST_LEVER


def _lever_share(joint: Joint, ties: tuple[Joint, ...], whole_of: dict[str, int]) -> float:
    """Return the lever of a link about the line of the mounts beside it, as a share of its distance from it in plan.

    Of mounts in no line the two furthest apart count: these hold without it, and what stands on a rod that lies flat
    is nothing. 0 where there are too few of them.
    """
    if joint.to is None:
        return 1.0
    places = [np.array(each.at[0]) for each in _beside(joint, ties, whole_of)]
    if len(places) < MOUNTS_FOR_A_LINK:
        return 0.0
    return _share_about(np.array(joint.at[0]), np.array(joint.to), places)


def _beside(joint: Joint, ties: tuple[Joint, ...], whole_of: dict[str, int]) -> list[Joint]:
    """Return the mounts that tie the same two rigid wholes as a joint."""
    wholes = {whole_of[body] for body in joint.between}
    mounts = (each for each in ties if each.kind is JointKind.MOUNT)
    return [each for each in mounts if {whole_of[body] for body in each.between} == wholes]


def _upright(joint: Joint, ties: tuple[Joint, ...], whole_of: dict[str, int]) -> Joint:
    """Return a link that counts as a mount with the stiffness that it has as one.

    A rod that lies flat holds its wholes from turning about the mounts beside it only by pulling these aside, and with
    its own lever about their line. So of the turn that an upright spring at its place would allow, it allows more: by
    the energy of a pull P along it, the compliance is that of the rod and, across it, of the mounts, which are taken
    as stiff sideways as they are upright; all over the square of its share of lever.
    """
    if joint.to is None:
        return joint
    beside = _beside(joint, ties, whole_of)
    stiff = np.array([each.stiffness for each in beside])
    places = np.array([each.at[0][:2] for each in beside])
    start = np.array(joint.at[0])
    along = (np.array(joint.to) - start) / np.linalg.norm(np.array(joint.to) - start)
    middle = stiff @ places / stiff.sum()
    # The moment about the upright through the mounts' middle: a rod at one end of their line turns them, too.
    arm = float(np.cross([*(start[:2] - middle), 0.0], along)[2])
    turning = float(stiff @ ((places - middle) ** 2).sum(axis=1))
    given = 1.0 / joint.stiffness + float(along[:2] @ along[:2]) / float(stiff.sum()) + arm**2 / turning
    return replace(joint, stiffness=min(joint.stiffness, _lever_share(joint, ties, whole_of) ** 2 / given))


def _share_about(start: Array, end: Array, mounts: list[Array]) -> float:
    """Return how well a rod keeps its wholes from turning about the line of the mounts beside it."""
    first, last = max(combinations(mounts, 2), key=lambda pair: float(np.hypot(*(pair[1] - pair[0])[:2])))
    run = float(np.hypot(*(last - first)[:2]))
    # Several mounts at one place are one.
    if run <= ONE_PLACE:
        return 0.0
    across = np.array([first[1] - last[1], last[0] - first[0]]) / run
    axis = (last - first) / np.linalg.norm(last - first)
    along = (end - start) / np.linalg.norm(end - start)
    lever = abs(float(axis @ np.cross(start - first, along)))
    apart = abs(float(across @ (start - first)[:2]))
    # On that line itself an upright force there turns nothing: there is nothing to compare.
    return lever / apart if apart > 0 else 1.0


def _extent(places: list[Place]) -> tuple[tuple[float, float], float]:
    low = [min(place[axis] for place in places) for axis in (0, 1)]
    high = [max(place[axis] for place in places) for axis in (0, 1)]
    # Places in one spot have no extent; a metre serves then.
    span = max(high[0] - low[0], high[1] - low[1]) / 2
    return ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2), span if span > 1e-6 else 1.0


def _base(names: tuple[str, ...], supports: tuple[Support, ...], mounts: tuple[Joint, ...]) -> float:
    """Return the height of the lowest saddle of a whole [m]; without saddles of its lowest mount."""
    # A slope leans a weight by its height over what it leans on; what only hangs leans about its mounts.
    saddles = [each.at[2] for each in supports if each.body in names]
    return min(saddles or _heights(names, supports, mounts))


def _heights(names: tuple[str, ...], supports: tuple[Support, ...], mounts: tuple[Joint, ...]) -> list[float]:
    saddles = [each.at[2] for each in supports if each.body in names]
    return saddles + [mount.at[0][2] for mount in mounts if set(names) & set(mount.between)] or [0.0]


@dataclass(frozen=True, slots=True)
class _Rows:
    """Writes one row of the vertical displacement between two wholes at one place."""

    middle: tuple[float, float]
    span: float
    wholes: int

    def between(self, at: Place, first: int, second: int | None) -> Array:
        x, y = (at[0] - self.middle[0]) / self.span, (at[1] - self.middle[1]) / self.span
        row = np.zeros(3 * self.wholes)
        row[3 * first : 3 * first + 3] = 1.0, y, -x
        # A support on another body is shortened by the difference: what that body rises is taken off.
        if second is not None:
            row[3 * second : 3 * second + 3] -= 1.0, y, -x
        return row

    def stacked(self, rows: list[Array]) -> Array:
        return np.array(rows) if rows else np.zeros((0, 3 * self.wholes))
